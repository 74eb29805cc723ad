using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Studies.Draws;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

/// <summary>Short real drops for the tests of the pictures: computed once. Their ranges are invented: from 0.8 to 1.6 times the value.</summary>
internal static class ChartsExamples
{
    private static readonly Lazy<ScenarioResult> LazyCaught = new(() => Compute(""));
    private static readonly Lazy<ScenarioResult> LazyGround = new(() => Compute("one-wrap"));
    private static readonly Lazy<ScenarioResult> LazyDrawn = new(() => Told(Caught, DrawStudy.Compute([.. Caught.Cases.Select(c => c.Case)], new DrawPlan(3) { Count = 64, Threads = 2 })));
    private static readonly Lazy<ScenarioResult> LazyMixed = new(() => Told(Caught, WithEndings(Drawn.Told!.Drawn)));

    /// <summary>A hard stop and a let run that both end in the air.</summary>
    internal static ScenarioResult Caught => LazyCaught.Value;

    /// <summary>The same with half a wrap: the let run ends on the ground.</summary>
    internal static ScenarioResult Ground => LazyGround.Value;

    /// <summary>The first with 64 draws of set-ups like it, all of them computed.</summary>
    internal static ScenarioResult Drawn => LazyDrawn.Value;

    /// <summary>The same draws with invented endings: some hit the ground, some break their rope, one runs out of rope; in three neither is caught.</summary>
    internal static ScenarioResult Mixed => LazyMixed.Value;

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

    private static ScenarioResult Told(ScenarioResult result, DrawnScenario drawn) =>
        result with { Told = ToldScenario.Of(drawn, [.. result.Cases.Select(c => c.Run)], result.Comparisons.Select(c => (c.First, c.Second))) };

    private static DrawnScenario WithEndings(DrawnScenario drawn)
    {
        static DrawEnding Ending(int which, int draw) => (which, draw) switch
        {
            (1, 40) => DrawEnding.RopeEnd,
            (1, _) when draw % 5 == 0 => DrawEnding.Ground,
            (0, _) when draw % 20 == 0 => DrawEnding.RopeBroke,
            _ => DrawEnding.Caught,
        };
        return drawn with
        {
            Cases = [.. drawn.Cases.Select((c, which) => c with { Drops = [.. c.Drops.Select((d, k) => d with { Ending = Ending(which, k), Speed = 5 + (k / 64.0) })] })],
        };
    }

    /// <summary>Three seconds hold the whole story and keep the tests quick.</summary>
    private static DropCase Short(DropCase dropCase) =>
        dropCase with { Input = dropCase.Input with { Computation = dropCase.Input.Computation with { EndTime = 3 } } };

    private static DropRun WithRanges(DropRun run) =>
        run with { Measures = [.. run.Measures.Select(m => double.IsFinite(m.Value) ? m with { Low = 0.8 * m.Value, High = 1.6 * m.Value } : m)] };
}
