using System.Text.Json;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Uncertainty;
using DropSim.Scenarios;
using DropSim.Studies.Uncertainty;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

public sealed class UncertaintyFiguresTests
{
    private static readonly Lazy<UncertaintyScenario> Computed = new(() =>
    {
        var scenario = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), "studies", "how-sure.toml")).Scenario!;
        var options = new UncertaintyOptions { Samples = 64, IndexRows = 0, Threads = 2 };
        return new UncertaintyScenario(scenario.Name, scenario.Title, scenario.SourceHash, [UncertaintyStudy.Compute(scenario.Cases.First(c => c.CatchName == "let-run"), options)], 1);
    });

    private static readonly string[] Forbidden = ["safe", "pass", "ok", "good", "permitted", "allowed"];

    [Fact]
    public void Every_picture_carries_the_cautions_what_is_not_in_the_spread_and_no_word_that_permits()
    {
        var document = UncertaintyDocument.Build(Computed.Value, new ReportOptions());
        document.Figures.Should().HaveCount(4, "without rows there is no picture of influence");
        foreach (var figure in document.Figures)
        {
            figure.Footer.Should().Contain(UncertaintyWords.NotInIt).And.Contain(line => line.StartsWith("Not modelled", StringComparison.Ordinal));
            var words = string.Join(' ', [figure.Title, figure.Subtitle, .. figure.Panels.SelectMany(p => p.Texts.Select(t => t.Words).Append(p.Heading))])
                .ToLowerInvariant().Split([' ', ',', '.', ':', ';', '(', ')'], StringSplitOptions.RemoveEmptyEntries);
            words.Should().NotContain(Forbidden);
            FigureRenderer.Png(figure).Length.Should().BeGreaterThan(20_000);
        }
    }

    [Fact]
    public void The_band_of_nine_of_ten_drops_holds_that_of_half_of_them_and_the_highest_of_it_lies_below_the_line_of_the_peaks()
    {
        var figure = UncertaintyDocument.Build(Computed.Value, new ReportOptions()).Figures.First(f => f.FileName.EndsWith("-bands.png", StringComparison.Ordinal));
        var panel = figure.Panels[0];
        var (wide, narrow) = (panel.Areas[0], panel.Areas[1]);
        for (var k = 0; k < wide.X.Length; k++)
        {
            wide.Lower[k].Should().BeLessThanOrEqualTo(narrow.Lower[k]);
            wide.Upper[k].Should().BeGreaterThanOrEqualTo(narrow.Upper[k]);
        }

        panel.Levels.Single().At.Should().BeGreaterThanOrEqualTo(wide.Upper.Max());
    }

    [Fact]
    public void A_quantile_among_drops_that_were_cut_short_reads_at_least()
    {
        var words = new UncertaintyWords(Computed.Value, new ReportOptions());
        var force = Computed.Value.Cases[0][MeasureIds.RiggingPointForce];
        words.Quantile(force, new QuantileBounds(0.95, 12_000, double.PositiveInfinity, 0, 0)).Should().Be("at least 12 kN");
        words.Quantile(force, new QuantileBounds(0.95, 12_000, 12_000, 0, 0)).Should().Be("12 kN");
        words.Quantile(force, new QuantileBounds(0.5, 4_000, 4_300, 0, 0)).Should().Be("4.0 to 4.3 kN");
        words.Quantile(force, new QuantileBounds(0.5, double.NegativeInfinity, double.PositiveInfinity, 0, 0)).Should().Be("unknown");
        var room = Computed.Value.Cases[0][MeasureIds.Room];
        words.Quantile(room, new QuantileBounds(0.05, 0, 0, 0, 0)).Should().Be("none");
        words.Quantile(room, new QuantileBounds(0.05, 0, 0.4, 0, 0)).Should().Be("at most 0.40 m");
    }

    [Fact]
    public void A_share_of_none_says_how_many_were_computed()
    {
        UncertaintyWords.Share(new ShareBounds(0, 0, 0, 0.0036), 1024).Should().Be("none of 1024");
        UncertaintyWords.Share(new ShareBounds(0.023, 0.09, 0.01, 0.1), 1024).Should().Be("2.3 to 9.0 %");
        UncertaintyWords.Share(new ShareBounds(0.999, 0.999, 0.9, 1), 1024).Should().Be("99.9 %", "not all");
    }

    [Theory]
    [InlineData(16)]
    [InlineData(31)]
    [InlineData(33)]
    public void A_study_interrupted_after_a_few_drops_is_shown_without_the_pictures_that_need_more(int finished)
    {
        using var stop = new CancellationTokenSource();
        var runs = 0;
        var (dropCase, options) = (Computed.Value.Cases[0].Case, new UncertaintyOptions { Samples = 1024, IndexRows = 0, Threads = 1 });
        var before = UncertaintyStudy.RunsOf(dropCase, options) - options.Samples;

        var result = UncertaintyStudy.Compute(
            dropCase, options,
            () =>
            {
                if (++runs == before + finished)
                {
                    stop.Cancel();
                }
            },
            stop.Token);

        result.Samples.Should().HaveCount(finished);
        var document = UncertaintyDocument.Build(Computed.Value with { Cases = [result], Asked = 2 }, new ReportOptions());
        document.Figures.Should().HaveCount(finished < 32 ? 3 : 4);
    }

    [Fact]
    public void An_interrupted_study_is_marked_as_not_complete_and_keeps_what_is_finished()
    {
        var whole = Computed.Value.Cases[0];
        var part = whole with { Options = whole.Options with { Samples = 1024 } };
        var document = UncertaintyDocument.Build(Computed.Value with { Cases = [part], Asked = 2 }, new ReportOptions());
        document.CutShort.Should().Contain("64 of 1024 drops").And.Contain("1 of 2 cases");
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            StudyReport.Write(document, folder.FullName, new ReportOptions());
            using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder.FullName, "how-sure-uncertainty", "study.json")));
            json.RootElement.GetProperty("complete").GetBoolean().Should().BeFalse();
            File.ReadAllLines(Path.Combine(folder.FullName, "how-sure-uncertainty", "base-let-run-samples.csv")).Should().HaveCount(65);
        }
        finally
        {
            folder.Delete(true);
        }
    }
}
