using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>The words of a comparison, computed from the two runs: what changed, by how much, where the energy went, what got worse, how certain it is.</summary>
public static class ComparisonText
{
    /// <summary>A share of the energy that fell below this is not worth a word.</summary>
    private const double WorthNaming = 0.05;

    /// <summary>Fills title and paragraph of every comparison.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="units">Units of the text.</param>
    public static ScenarioResult WithTexts(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        return result with
        {
            Comparisons = [.. result.Comparisons.Select(c => WithText(c, result, units))],
        };
    }

    private static Comparison WithText(Comparison comparison, ScenarioResult result, UnitSystem units)
    {
        var (a, b) = (result.Cases[comparison.First], result.Cases[comparison.Second]);
        var parts = Parts(a, b, result.HasSeveralSetups, units);
        return comparison with { Title = Title(a, b, units), Parts = parts, Paragraph = Whole(parts) };
    }

    private static string Whole(IReadOnlyList<ComparisonPart> parts) => string.Join(" ", parts);

    /// <summary>What a case is called next to another one: the part of its name in which they differ.</summary>
    /// <param name="one">The case.</param>
    /// <param name="other">The other one.</param>
    internal static string Name(CaseResult one, CaseResult other)
    {
        var text = one.Case.Setup == other.Case.Setup ? one.Case.CatchName
            : one.Case.CatchName == other.Case.CatchName ? one.Case.Setup
            : one.Case.Name;
        return text.Replace('-', ' ');
    }

    /// <summary>The words for two cases that have names of their own: the same drop before and after a change, say.</summary>
    /// <param name="a">The case changed to.</param>
    /// <param name="b">The case compared with.</param>
    /// <param name="names">What the two are called.</param>
    /// <param name="phrases">The same as it stands after "with".</param>
    /// <param name="whatChanged">What tells them apart, without a full stop.</param>
    /// <param name="units">Units of the text.</param>
    internal static Comparison Between(CaseResult a, CaseResult b, IReadOnlyList<string> names, IReadOnlyList<string> phrases, string whatChanged, UnitSystem units)
    {
        var parts = Parts(a, b, phrases[0], phrases[1], whatChanged, units);
        return new(0, 1, Title(a, b, names[0], names[1], units), Whole(parts)) { Parts = parts };
    }

    private static string Title(CaseResult a, CaseResult b, UnitSystem units) => Title(a, b, Name(a, b), Name(b, a), units);

    private static string Title(CaseResult a, CaseResult b, string nameA, string nameB, UnitSystem units)
    {
        var text = $"{nameA}: {Finding(a.Run, " at the rigging point", units)}; {nameB}: {Finding(b.Run, "", units)}";
        return Wording.Capital(text);
    }

    /// <summary>The force on the rigging point; where the run ended in a mishap that comes first, lest a small force look gentle.</summary>
    private static string Finding(DropRun run, string where, UnitSystem units)
    {
        var force = Format.Value(run[MeasureIds.RiggingPointForce], units) + where;
        return !IsMishap(run.End) ? force : $"{Format.Ending(run.End, units)}, {force}{(run.End.CutsShort ? " before that" : "")}";
    }

    private static bool IsMishap(RunEnd end) => end.CutsShort || DropComparison.IsBad(end);

    private static List<ComparisonPart> Parts(CaseResult a, CaseResult b, bool severalSetups, UnitSystem units)
    {
        var (nameA, nameB) = (Name(a, b), Name(b, a));
        var shared = !severalSetups ? "" : a.Case.Setup == b.Case.Setup ? $" (set-up {a.Case.Setup.Replace('-', ' ')})" : $" (catch {a.Case.CatchName.Replace('-', ' ')})";
        return Parts(a, b, nameA, nameB, $"{nameA} instead of {nameB}{shared}", units);
    }

    private static List<ComparisonPart> Parts(CaseResult a, CaseResult b, string nameA, string nameB, string whatChanged, UnitSystem units)
    {
        var parts = new List<ComparisonPart>();
        foreach (var (c, n) in new[] { (a, nameA), (b, nameB) })
        {
            if (c.Run.End.CutsShort)
            {
                parts.Add(new(ComparisonPartKind.Ending, "", c.Run.End.Kind == EndKind.EndTime
                    ? $"With {n} the drop was not over ({Format.Ending(c.Run.End, units)}), and every peak below reads 'at least'."
                    : $"With {n} {Format.Ending(c.Run.End, units)}: the drop was not caught, and every peak below reads 'at least'."));
            }
            else if (IsMishap(c.Run.End))
            {
                parts.Add(new(ComparisonPartKind.Ending, "", $"With {n} {Format.Ending(c.Run.End, units)}."));
            }
        }

        var found = DropComparison.Of(a.Run, b.Run);
        if (found.BothLand)
        {
            parts.Add(new(ComparisonPartKind.Ending, "", EndComparisonText.Landings(found, nameA, nameB, units)));
        }

        parts.Add(new(ComparisonPartKind.Changed, "What changed", whatChanged + "."));
        parts.Add(new(ComparisonPartKind.Amounts, "By how much", $"{Changed(a, b, MeasureIds.RiggingPointForce, "at the rigging point", units)}, {Changed(a, b, MeasureIds.LoadLegTension, "in the load leg", units)}, {Changed(a, b, MeasureIds.ClimberMovement, "of movement at the climber's feet", units)}."));
        parts.Add(new(ComparisonPartKind.Energy, "Where the energy went", Energy(a, b, nameA, nameB)));
        parts.AddRange(EndComparisonText.Price(found, a.Run, b.Run, nameA, nameB, units));
        parts.Add(Certainty(a, b, nameA, nameB, units));
        parts.Add(new(ComparisonPartKind.NotModelled, Cautions.NotModelledHeading, Cautions.NotModelledList + ". This informs; it permits nothing."));
        return parts;
    }

    private static string Changed(CaseResult a, CaseResult b, string id, string where, UnitSystem units)
    {
        var (x, y) = (a.Run[id], b.Run[id]);
        var values = $"{Format.Value(x, units)} instead of {Format.Value(y, units)} {where}";
        if (!(x.Value > 0) || !(y.Value > 0) || x.State != MeasureState.Exact || y.State != MeasureState.Exact)
        {
            return values;
        }

        var ratio = x.Value / y.Value;
        return Math.Abs(ratio - 1) < DropComparison.Noticeable ? values + " (about the same)"
            : ratio < 1 ? $"{values} ({Format.Number(1 / ratio)} times less)"
            : $"{values} ({Format.Number(ratio)} times more)";
    }

    private static string Energy(CaseResult a, CaseResult b, string nameA, string nameB) =>
        $"with {nameA} {Shares(a.Run)}; with {nameB} {Shares(b.Run)} (shares of the energy that fell by the end of each run, the rest is still in motion, stretch and sway or was there at the start).";

    private static string Shares(DropRun run)
    {
        var parts = run.Ledger.Places
            .Where(p => p.Lost)
            .Select(p => (p.Label, Share: p.Energy / run.Ledger.Fallen))
            .Where(p => p.Share >= WorthNaming)
            .OrderByDescending(p => p.Share)
            .Select(p => $"{Format.Percent(p.Share)} into {p.Label}")
            .ToArray();
        return parts.Length == 0 ? "no place took a share worth naming" : string.Join(", ", parts);
    }

    private static ComparisonPart Certainty(CaseResult a, CaseResult b, string nameA, string nameB, UnitSystem units)
    {
        var (x, y) = (a.Run[MeasureIds.RiggingPointForce], b.Run[MeasureIds.RiggingPointForce]);
        if (x.Low is not { } lowX || x.High is not { } highX || y.Low is not { } lowY || y.High is not { } highY)
        {
            return new(ComparisonPartKind.NoRanges, "How certain", "no ranges were computed.");
        }

        string Span(double low, double high, bool cut) =>
            $"{Format.Quantity(low, "N", units)} to {(cut ? "at least " : "")}{Format.Quantity(high, "N", units)}";

        // A run that was cut short may have met any larger force: only the range that lies lower can then reach the other one.
        var overlap = lowX <= highY && lowY <= highX;
        return new(ComparisonPartKind.Certainty, "How certain", $"over the stated ranges of the inputs the force on the rigging point is {Span(lowX, highX, x.RangeCutShort)} with {nameA} and {Span(lowY, highY, y.RangeCutShort)} with {nameB}; "
            + (overlap ? "the ranges overlap, so which of the two is lower is not certain: inputs nobody knows exactly can matter as much as this choice."
                : (lowX < lowY ? x : y).RangeCutShort ? "some runs in the lower range were cut short, so whether the ranges overlap, and which of the two is lower, cannot be told."
                : "the ranges do not overlap."));
    }
}
