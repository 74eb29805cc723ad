using System.Globalization;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>One row of a table for people.</summary>
/// <param name="Label">What.</param>
/// <param name="Central">Central value with unit and state.</param>
/// <param name="Worst">Worst of the range, or the range where neither end is worse.</param>
/// <param name="WorstInputs">What gave the worst; may be empty.</param>
public sealed record MeasureRow(string Label, string Central, string Worst, string WorstInputs)
{
    /// <summary>How far the value moved at a tenth of the tolerance; empty where that was not asked for.</summary>
    public string Moved { get; init; } = "";
}

/// <summary>A case for the console: headline measures first, then the facts that go with them.</summary>
/// <param name="Name">Set-up and catch in words.</param>
/// <param name="Headline">The five headline measures, in order.</param>
/// <param name="Others">All other measures.</param>
/// <param name="Facts">How it ended, times, multiples of weight, strikes, weakest link.</param>
/// <param name="Warnings">Warnings of case and run.</param>
public sealed record CaseTable(
    string Name, IReadOnlyList<MeasureRow> Headline, IReadOnlyList<MeasureRow> Others, IReadOnlyList<string> Facts, IReadOnlyList<string> Warnings);

/// <summary>Turns results into tables of text.</summary>
public static class HeadlineTable
{
    /// <summary>One table a case.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="units">Units wanted.</param>
    public static IReadOnlyList<CaseTable> Build(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        return [.. result.Cases.Select(c => Case(c, units))];
    }

    /// <summary>The table of one case.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="units">Units wanted.</param>
    internal static CaseTable Case(CaseResult result, UnitSystem units)
    {
        var run = result.Run;
        MeasureRow Row(Measure m) => new(m.Label, Format.Value(m, units), Format.Worst(m, units), m.WorstInputs ?? "")
        {
            Moved = result.Verification is { } verification ? Format.Moved(verification.Moved.Single(v => v.Id == m.Id).Relative) : "",
        };
        return new(
            $"{result.Case.Setup.Replace('-', ' ')}, {result.Case.CatchName.Replace('-', ' ')}",
            [.. run.Measures.Where(m => m.Headline).Select(Row)],
            [.. run.Measures.Where(m => !m.Headline).Select(Row)],
            Facts(result, units),
            [.. Format.Warnings(result.Case, units), .. Format.Warnings(run, units)]);
    }

    private static List<string> Facts(CaseResult result, UnitSystem units)
    {
        var run = result.Run;
        var facts = new List<string> { "End: " + Format.Ending(run.End, units) + "." };
        var load = run[MeasureIds.LoadLegTension];
        facts.Add($"Load leg: {Format.Value(load, units)}, {Format.Value(run[MeasureIds.LoadLegTimesWeight], units)} times the piece's weight{(load.High is null ? "" : $"; worst of the range {Format.Worst(load, units)}")}.");
        var taut = run[MeasureIds.TimeToTaut];
        if (double.IsFinite(taut.Value))
        {
            facts.Add($"From hinge break to taut {Format.Time(taut.Value)}, to the {(run.End.CutsShort ? "largest pull before the end" : "peak")} {Format.Time(run[MeasureIds.TimeToPeak].Value)}: a surprised person needs about a second (from memory).");
        }

        var mass = result.Case.Input.Piece.Mass;
        var weighed = result.Case.Notes.Any(n => n.Given && n.Path == "piece.weighed");
        facts.Add($"Piece: {Format.Quantity(mass, "kg", units)}, {(weighed ? "weighed" : "estimated or set, not weighed")}.");
        if (run.Strikes.Count > 0)
        {
            var worst = run.Strikes.MaxBy(s => s.Energy)!;
            facts.Add(string.Create(CultureInfo.InvariantCulture,
                $"Strikes on the spar: {run.Strikes.Count}; strongest {Format.Quantity(worst.Energy, "J", units)} ({worst.Place}, {Format.Quantity(worst.Height, "m", units)} up)."));
        }

        var link = run[MeasureIds.WeakestLink];
        facts.Add(link.State == MeasureState.Unknown
            ? "Load chain: no strength is known."
            : $"Weakest known link: {Percent(link.Value, link.State == MeasureState.AtLeast)} of breaking strength, new and dry ({link.HowFound}){(link.High is { } high ? $"; worst of the range {Percent(high, link.RangeCutShort)}" : "")}.");
        return facts;
    }

    private static string Percent(double fraction, bool bound) =>
        double.IsNaN(fraction) ? "unknown" : (bound ? "at least " : "") + Format.Percent(fraction);
}
