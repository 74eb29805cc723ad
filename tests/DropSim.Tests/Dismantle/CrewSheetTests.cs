using System.Text;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Studies;
using DropSim.Tests.Cli;

namespace DropSim.Tests.Dismantle;

/// <summary>What a crew is given, on paper and as numbers.</summary>
public sealed class CrewSheetTests
{
    private static readonly ReportOptions Options = new() { ProgramVersion = "1.2.3" };

    private static CrewSheet Sheet(UnitSystem units = UnitSystem.Si) => CrewSheetText.Build(SparFiles.Result, Options with { Units = units });

    private static string Words(CrewSheet sheet) => string.Join("\n",
        [sheet.Title, .. sheet.Head, .. sheet.Columns.SelectMany(c => c.Heading), .. sheet.Rows.SelectMany(r => r), .. sheet.Notes, .. sheet.Blocks.SelectMany(b => b.Lines.Select(l => l.Words).Prepend(b.Heading)), .. sheet.Foot]);

    [Theory]
    [InlineData("No wraps added once the saw runs")]
    [InlineData("Ring threaded before the knot")]
    [InlineData("Rope clear of the cut, of the saw, and of the climbing line")]
    [InlineData("clear of the rigging and below the rigging point")]
    [InlineData("nobody in the bight")]
    [InlineData("1.5 to 2 piece lengths round the landing line, more for a top")]
    [InlineData("A local rule wins")]
    [InlineData("Stop word")]
    [InlineData("Commands, one voice only")]
    [InlineData("Wind limit")]
    [InlineData("Rescue plan")]
    [InlineData("escape path")]
    [InlineData("Smallest drop first")]
    [InlineData("Weigh the first piece")]
    [InlineData("Not modelled: ")]
    [InlineData("permits nothing")]
    public void The_sheet_holds_what_a_crew_must_talk_over(string words) => Words(Sheet()).Should().Contain(words);

    [Fact]
    public void The_sheet_judges_no_margin()
    {
        foreach (var word in new[] { "OK", "safe", "pass ", "recommend", "permitted", "allowed" })
        {
            Words(Sheet()).Should().NotContain(word);
        }
    }

    [Fact]
    public void The_cut_list_has_a_row_a_cut_with_mass_wraps_and_zone()
    {
        var rows = Sheet().Rows;

        rows.Should().HaveCount(3);

        // 2 m of 125.66 kg a metre: 251 kg, +-15 %: 214 to 289 kg; the zone 1.5 x 2 to 2 x 2 m.
        rows[0].Should().Contain("250 (210-290)").And.Contain("3.0-4.0").And.Contain("8.00");
        rows[2].Should().Contain("5.00");
    }

    [Theory]
    [InlineData(UnitSystem.Si, 20)]
    [InlineData(UnitSystem.Us, 20)]
    [InlineData(UnitSystem.Si, 3)]
    public void The_sheet_is_one_page_of_either_paper_in_letters_that_can_be_read(UnitSystem units, int cuts)
    {
        var sheet = Sheet(units);
        var longest = sheet with { Rows = [.. Enumerable.Range(0, cuts).Select(i => sheet.Rows[i % sheet.Rows.Count])] };
        foreach (var paper in new[] { PaperSize.A4, PaperSize.Letter })
        {
            CrewSheetPdf.TextSize(longest, paper).Should().BeGreaterThanOrEqualTo(CrewSheetPdf.SmallestText);
            var pdf = CrewSheetPdf.Bytes(longest, paper);
            var text = Encoding.Latin1.GetString(pdf);
            text.Should().StartWith("%PDF-").And.Contain("/Count 1").And.Contain("Inter");
            CrewSheetPdf.Bytes(longest, paper).Should().Equal(pdf);
        }
    }

    [Fact]
    public void Forty_cuts_do_not_fit_a_page_and_are_not_shrunk_until_they_do()
    {
        var sheet = Sheet();
        var tooLong = sheet with { Rows = [.. Enumerable.Range(0, 40).Select(i => sheet.Rows[i % sheet.Rows.Count])] };

        var draw = () => CrewSheetPdf.Bytes(tooLong, PaperSize.Letter);
        draw.Should().Throw<InvalidOperationException>();
    }

    [Fact]
    public void Each_cut_is_what_a_range_study_of_its_drop_gives()
    {
        var cut = SparFiles.Result.Cuts[2];
        var alone = RangeStudy.Compute(cut.Plan.Cases[1], 1);

        cut.Cases[1].Run[MeasureIds.RiggingPointForce].Should().Be(alone.Run[MeasureIds.RiggingPointForce]);
    }

    [Fact]
    public void The_numbers_have_a_row_for_each_cut_and_catch()
    {
        var table = DismantleTable.Numbers(SparFiles.Result);

        table.Rows.Should().HaveCount(6).And.OnlyContain(r => r.Count == table.Columns.Count);
        var mass = table.Columns.ToList().FindIndex(c => c.Name == "piece_mass_kg");
        table.Rows[0][mass].Number.Should().BeApproximately(2 * 125.66, 0.01);
        var force = table.Columns.ToList().FindIndex(c => c.Name == "rigging_point_force_N");
        table.Rows[0][force].Number.Should().Be(SparFiles.Result.Cuts[0].Cases[0].Run[MeasureIds.RiggingPointForce].Value);
    }

    [Fact]
    public void Pictures_name_every_piece_and_say_their_finding_with_its_worst()
    {
        var figures = DismantleCharts.Build(SparFiles.Result, Options);

        figures.Select(f => f.FileName).Should().Equal("forces-down-the-stem.png", "sway-down-the-stem.png", "room-down-the-stem.png");
        figures.Should().OnlyContain(f => f.Title.Contains("worst of the ranges", StringComparison.Ordinal) && f.Panels[0].Texts.Count == 3);
        figures.Should().OnlyContain(f => FigureRenderer.Png(f).Length > 20_000);
    }

    [Fact]
    public void Warnings_that_differ_in_numbers_alone_are_told_once_with_the_largest()
    {
        DismantleWords.Cuts([1, 2, 3, 5]).Should().Be("Cuts 1 to 3, 5");
        DismantleWords.Cuts([4]).Should().Be("Cut 4");
        var warnings = new DismantleWords(SparFiles.Result, Options).Warnings();
        warnings.Count(w => w.Contains("hits the spar", StringComparison.Ordinal)).Should().BeLessThanOrEqualTo(1);
        warnings.Should().Contain(w => w.Contains("Nobody has stated the condition of the stem", StringComparison.Ordinal));
    }

    [Fact]
    public void The_command_writes_a_folder_with_sheets_pictures_and_numbers()
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "straight.toml");
        File.WriteAllText(file, SparFiles.Straight.Replace("lowest-cut = \"5 m\"", "lowest-cut = \"8 m\"", StringComparison.Ordinal));

        var (code, output, error) = CommandLine.Run("dismantle", file, "--out", folder.Path);

        error.Should().BeEmpty();
        code.Should().Be(0);
        Directory.GetFiles(Path.Combine(folder.Path, "straight-dismantle")).Select(Path.GetFileName).Should().BeEquivalentTo(
            "crew-sheet-a4.pdf", "crew-sheet-letter.pdf", "cuts.csv", "forces-down-the-stem.png", "sway-down-the-stem.png", "room-down-the-stem.png", "study.json");
        output.Should().Contain("Hard stop: central value and worst of the range").And.Contain("This informs and permits nothing");
    }

    [Fact]
    public void The_command_refuses_a_file_with_problems_and_writes_nothing()
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "bad.toml");
        File.WriteAllText(file, SparFiles.Straight.Replace("diameter = \"14 mm\"", "diameter = \"14,0 mm\"", StringComparison.Ordinal));

        var (code, _, error) = CommandLine.Run("dismantle", file, "--out", folder.Path);

        code.Should().Be(2);
        error.Should().Contain("rope.diameter").And.Contain("Nothing was computed");
        Directory.GetDirectories(folder.Path).Should().BeEmpty();
    }
}
