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
        [sheet.Title, .. sheet.Headline, .. sheet.Parts.SelectMany(Words)]);

    private static IEnumerable<string> Words(SheetPart part) => part switch
    {
        SheetText text => [text.Words],
        SheetTable table => [table.Heading, .. table.Columns.Select(c => c.Heading), .. table.Rows.SelectMany(r => r.Cells)],
        SheetSketch sketch => sketch.Words.Select(w => w.Words),
        SheetLists lists => lists.Blocks.SelectMany(b => b.Lines.Select(l => l.Words).Prepend(b.Heading)),
        _ => throw new InvalidOperationException("an unknown part"),
    };

    [Theory]
    [InlineData("No wraps added once the saw runs")]
    [InlineData("Ring threaded before the knot")]
    [InlineData("Rope clear of the cut, of the saw, and of the climbing line")]
    [InlineData("clear of the rigging and below the rigging point")]
    [InlineData("nobody in the bight")]
    [InlineData("1.5 to 2 piece lengths beyond where a piece can come down, to every side, more for a top")]
    [InlineData("Holds the rope")]
    [InlineData("Site, address for the ambulance")]
    [InlineData("Date:")]
    [InlineData("Calls")]
    [InlineData("Stop and come down")]
    [InlineData("assumed: test-load first")]
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
    public void The_cut_list_has_a_row_a_cut_with_mass_and_wraps()
    {
        var rows = Sheet().Tables.First().Rows;

        rows.Should().HaveCount(3);

        // 2 m of 125.66 kg a metre: 251 kg, +-15 %: 214 to 289 kg.
        rows[0].Cells.Should().Contain("250\n(210-290)").And.Contain("8.00");
        rows[2].Cells.Should().Contain("5.00");
    }

    [Theory]
    [InlineData(UnitSystem.Si, 3)]
    [InlineData(UnitSystem.Us, 20)]
    [InlineData(UnitSystem.Si, 60)]
    public void The_sheet_takes_the_pages_it_needs_on_either_paper_and_is_the_same_every_time(UnitSystem units, int cuts)
    {
        var sheet = WithCuts(Sheet(units), cuts);
        foreach (var paper in new[] { PaperSize.A4, PaperSize.Letter })
        {
            var pages = CrewSheetPdf.Pages(sheet, paper);
            pages.Should().BeInRange(2, 4 + (cuts / 4));
            var pdf = CrewSheetPdf.Bytes(sheet, paper);
            Encoding.Latin1.GetString(pdf).Should().StartWith("%PDF-").And.Contain(FormattableString.Invariant($"/Count {pages}")).And.Contain("Inter");
            CrewSheetPdf.Bytes(sheet, paper).Should().Equal(pdf);
        }
    }

    private static CrewSheet WithCuts(CrewSheet sheet, int cuts) => sheet with
    {
        Parts = [.. sheet.Parts.Select(p => p is SheetTable table ? table with { Rows = [.. Enumerable.Range(0, cuts).Select(i => table.Rows[i % table.Rows.Count])] } : p)],
    };

    [Fact]
    public void Titles_and_names_of_any_length_are_printed_on_more_pages_not_refused()
    {
        var sheet = Sheet();
        var hostile = WithCuts(sheet, 20) with
        {
            Title = new string('W', 4000) + " " + string.Concat(Enumerable.Repeat("a word ", 2000)),
            Headline = [new string('M', 900)],
            Parts = [.. sheet.Parts.Select(p => p is SheetTable t ? t with { Rows = [.. t.Rows.Select(r => r with { Cells = [.. r.Cells.Select(c => c + new string('x', 700))] })] } : p)],
        };

        CrewSheetPdf.Pages(hostile, PaperSize.Letter).Should().BeGreaterThan(6);
        CrewSheetPdf.Bytes(hostile, PaperSize.A4).Length.Should().BeGreaterThan(1000);
    }

    [Fact]
    public void Every_letter_has_at_least_eleven_points() => SheetPaper.Letters.Should().BeGreaterThanOrEqualTo(11);

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
        var figures = DismantleCharts.Build(new DismantleWords(SparFiles.Result, Options));

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
