using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>The words of a comparison, computed from the two runs: what changed, by how much, where the energy went, what got worse, how certain it is.</summary>
public static class ComparisonText
{
    /// <summary>A change smaller than this counts as none in words.</summary>
    private const double Noticeable = 0.05;

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
            Comparisons = [.. result.Comparisons.Select(c => c with
            {
                Title = Title(result.Cases[c.First], result.Cases[c.Second], units),
                Paragraph = Paragraph(result.Cases[c.First], result.Cases[c.Second], result.HasSeveralSetups, units),
            })],
        };
    }

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
    internal static (string Title, string Paragraph) Between(
        CaseResult a, CaseResult b, IReadOnlyList<string> names, IReadOnlyList<string> phrases, string whatChanged, UnitSystem units) =>
        (Title(a, b, names[0], names[1], units), Paragraph(a, b, phrases[0], phrases[1], whatChanged, units));

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

    private static bool IsMishap(RunEnd end) => end.CutsShort
        || end.Kind is EndKind.Ground or EndKind.Obstacle or EndKind.RopeEnd or EndKind.RopeBroke or EndKind.HitchAtRiggingPoint;

    private static string Paragraph(CaseResult a, CaseResult b, bool severalSetups, UnitSystem units)
    {
        var (nameA, nameB) = (Name(a, b), Name(b, a));
        var shared = !severalSetups ? "" : a.Case.Setup == b.Case.Setup ? $" (set-up {a.Case.Setup.Replace('-', ' ')})" : $" (catch {a.Case.CatchName.Replace('-', ' ')})";
        return Paragraph(a, b, nameA, nameB, $"{nameA} instead of {nameB}{shared}", units);
    }

    private static string Paragraph(CaseResult a, CaseResult b, string nameA, string nameB, string whatChanged, UnitSystem units)
    {
        var text = new List<string>();
        foreach (var (c, n) in new[] { (a, nameA), (b, nameB) })
        {
            if (c.Run.End.CutsShort)
            {
                text.Add(c.Run.End.Kind == EndKind.EndTime
                    ? $"With {n} the drop was not over ({Format.Ending(c.Run.End, units)}), and every peak below reads 'at least'."
                    : $"With {n} {Format.Ending(c.Run.End, units)}: the drop was not caught, and every peak below reads 'at least'.");
            }
            else if (IsMishap(c.Run.End))
            {
                text.Add($"With {n} {Format.Ending(c.Run.End, units)}.");
            }
        }

        text.Add($"What changed: {whatChanged}.");
        text.Add($"By how much: {Changed(a, b, MeasureIds.RiggingPointForce, "at the rigging point", units)}, {Changed(a, b, MeasureIds.LoadLegTension, "in the load leg", units)}, {Changed(a, b, MeasureIds.ClimberMovement, "of movement at the climber's feet", units)}.");
        text.Add(Energy(a, b, nameA, nameB));
        text.Add(Price(a, b, nameA, nameB, units));
        text.Add(Certainty(a, b, nameA, nameB, units));
        text.Add(Cautions.NotModelledSentence + " This informs; it permits nothing.");
        return string.Join(" ", text.Where(t => t.Length > 0));
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
        return Math.Abs(ratio - 1) < Noticeable ? values + " (about the same)"
            : ratio < 1 ? $"{values} ({Format.Number(1 / ratio)} times less)"
            : $"{values} ({Format.Number(ratio)} times more)";
    }

    private static string Energy(CaseResult a, CaseResult b, string nameA, string nameB) =>
        $"Where the energy went: with {nameA} {Shares(a.Run)}; with {nameB} {Shares(b.Run)} (shares of the energy that fell by the end of each run, the rest is still in motion, stretch and sway or was there at the start).";

    private static string Shares(DropRun run)
    {
        var parts = run.Ledger.Places
            .Where(p => p.Column.StartsWith("lost_", StringComparison.Ordinal))
            .Select(p => (p.Label, Share: p.Energy / run.Ledger.Fallen))
            .Where(p => p.Share >= WorthNaming)
            .OrderByDescending(p => p.Share)
            .Select(p => $"{Format.Percent(p.Share)} into {p.Label}")
            .ToArray();
        return parts.Length == 0 ? "no place took a share worth naming" : string.Join(", ", parts);
    }

    private static string Price(CaseResult a, CaseResult b, string nameA, string nameB, UnitSystem units)
    {
        var worse = new List<string>();
        var untold = new List<string>();
        foreach (var (id, label) in new[]
        {
            (MeasureIds.RopeRun, "rope run"), (MeasureIds.Room, "room left"), (MeasureIds.RopeSpeed, "speed of rope through the device"),
            (MeasureIds.RopeHeat, "heat in the rope at the device"), (MeasureIds.HandForce, "force the hand must hold"), (MeasureIds.StrikeEnergy, "strongest strike on the spar"),
            (MeasureIds.RiggingPointForce, "force on the rigging point"), (MeasureIds.ClimberMovement, "movement at the climber's feet"),
        })
        {
            var (x, y) = (a.Run[id], b.Run[id]);
            switch (IsWorse(x, y))
            {
                case true:
                    worse.Add($"{label} {Format.Value(x, units)} against {Format.Value(y, units)}");
                    break;
                case null when IsOpen(x) || IsOpen(y):
                    untold.Add(label);
                    break;
                default:
                    break;
            }
        }

        var price = worse.Count > 0 ? $"What got worse with {nameA} than with {nameB}: {string.Join("; ", worse)}."
            : untold.Count > 0 ? $"What got worse with {nameA}: nothing that these numbers can show."
            : $"What got worse with {nameA}: none of the measures looked at by more than {Noticeable * 100:0} %.";
        return untold.Count == 0 ? price : $"{price} Which of the two is worse cannot be told, because a run was cut short, for: {string.Join("; ", untold)}.";
    }

    /// <summary>Whether one measure is worse than another; null where a bound leaves it open.</summary>
    /// <param name="x">The one.</param>
    /// <param name="y">The other.</param>
    internal static bool? IsWorse(Measure x, Measure y)
    {
        if (double.IsNaN(x.Value) || double.IsNaN(y.Value))
        {
            return null;
        }

        if (x.Worse == Worse.Smaller)
        {
            return x.State == MeasureState.AtLeast || y.State == MeasureState.AtLeast ? null : x.Value < y.Value * (1 - Noticeable);
        }

        // "At least 2" may be 3, so 3 is not worse than it, and it is not better than 3.
        var larger = x.Value > (y.Value * (1 + Noticeable)) + double.Epsilon;
        var bound = larger ? y.State : x.State;
        return bound == MeasureState.AtLeast ? null : larger;
    }

    /// <summary>True where only the end of the run kept the value from being known.</summary>
    private static bool IsOpen(Measure measure) => measure.State is MeasureState.AtLeast or MeasureState.NotReached;

    private static string Certainty(CaseResult a, CaseResult b, string nameA, string nameB, UnitSystem units)
    {
        var (x, y) = (a.Run[MeasureIds.RiggingPointForce], b.Run[MeasureIds.RiggingPointForce]);
        if (x.Low is not { } lowX || x.High is not { } highX || y.Low is not { } lowY || y.High is not { } highY)
        {
            return "How certain: no ranges were computed.";
        }

        string Span(double low, double high, bool cut) =>
            $"{Format.Quantity(low, "N", units)} to {(cut ? "at least " : "")}{Format.Quantity(high, "N", units)}";

        // A run that was cut short may have met any larger force: only the range that lies lower can then reach the other one.
        var overlap = lowX <= highY && lowY <= highX;
        return $"How certain: over the stated ranges of the inputs the force on the rigging point is {Span(lowX, highX, x.RangeCutShort)} with {nameA} and {Span(lowY, highY, y.RangeCutShort)} with {nameB}; "
            + (overlap ? "the ranges overlap, so which of the two is lower is not certain: inputs nobody knows exactly can matter as much as this choice."
                : (lowX < lowY ? x : y).RangeCutShort ? "some runs in the lower range were cut short, so whether the ranges overlap, and which of the two is lower, cannot be told."
                : "the ranges do not overlap.");
    }
}
