using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

/// <summary>Short real drops for the tests of the pictures: computed once. Their ranges are invented: from 0.8 to 1.6 times the value.</summary>
internal static class ChartsExamples
{
    private static readonly Lazy<ScenarioResult> LazyCaught = new(() => Compute(""));
    private static readonly Lazy<ScenarioResult> LazyGround = new(() => Compute("one-wrap"));

    /// <summary>A hard stop and a let run that both end in the air.</summary>
    internal static ScenarioResult Caught => LazyCaught.Value;

    /// <summary>The same with half a wrap: the let run ends on the ground.</summary>
    internal static ScenarioResult Ground => LazyGround.Value;

    internal static ReportOptions Options(UnitSystem units = UnitSystem.Si) => new() { ProgramVersion = "9.8.7", Units = units };

    internal static Figure Named(ScenarioResult result, string fileName, UnitSystem units = UnitSystem.Si) =>
        FigureSet.Build(result, Options(units)).Single(f => f.FileName == fileName);

    /// <summary>Every word of a figure that is not its footer.</summary>
    internal static IEnumerable<string> Texts(Figure figure) =>
    [
        figure.Title, figure.Subtitle,
        .. figure.Panels.SelectMany(p => (IEnumerable<string>)
        [
            p.Heading, p.X.Title, p.X.Unit, p.Y.Title, p.Y.Unit, p.Right?.Title ?? "",
            .. p.Labels.Select(l => l.Words), .. p.Texts.Select(t => t.Words), .. p.Levels.Select(l => l.Words),
            .. p.Ticks.Select(t => t.Name), .. p.Bands.Select(b => b.Name), .. p.Areas.Select(a => a.Name),
        ]),
    ];

    private static ScenarioResult Compute(string kind)
    {
        var text = kind.Length == 0 ? MinimalFileTests.Minimal : MinimalFileTests.Minimal.Replace("wraps = 2.5", "wraps = 0.5", StringComparison.Ordinal);
        var read = MinimalFileTests.Read(text);
        read.Problems.Should().BeEmpty();
        var cases = read.Scenario!.Cases.Select(Short).ToArray();
        var results = cases.Select(c => new CaseResult(c, WithRanges(DropSimulator.Run(c.Input)), 1, "invented ranges")).ToArray();
        return new ScenarioResult("example", "An example", "", "0123456789ab", results, ScenarioStudy.Pairs(cases));
    }

    /// <summary>Three seconds hold the whole story and keep the tests quick.</summary>
    private static DropCase Short(DropCase dropCase) =>
        dropCase with { Input = dropCase.Input with { Computation = dropCase.Input.Computation with { EndTime = 3 } } };

    private static DropRun WithRanges(DropRun run) =>
        run with { Measures = [.. run.Measures.Select(m => double.IsFinite(m.Value) ? m with { Low = 0.8 * m.Value, High = 1.6 * m.Value } : m)] };
}
