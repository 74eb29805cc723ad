using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>
/// The first line of a comparison: which is gentler at the rigging point and at the climber's feet, in how many of 20, typically how much,
/// what it costs in rope and room, and what is not caught. Every sentence has one thought.
/// </summary>
internal static class PairWords
{
    /// <summary>The sentences, the ones about how drops end first where more than the odd one is not caught.</summary>
    /// <param name="result">The scenario, drawn.</param>
    /// <param name="pair">The comparison.</param>
    /// <param name="units">Units of the text.</param>
    public static IReadOnlyList<string> Of(ScenarioResult result, ToldPair pair, UnitSystem units)
    {
        var (a, b) = (result.Cases[pair.First], result.Cases[pair.Second]);
        return Of(result.Told!.Cases[pair.First], result.Told.Cases[pair.Second], pair, ComparisonText.Name(a, b), ComparisonText.Name(b, a), units);
    }

    /// <summary>The same for two cases with names of their own.</summary>
    public static IReadOnlyList<string> Of(ToldCase a, ToldCase b, ToldPair pair, string nameA, string nameB, UnitSystem units)
    {
        List<string> told = [];
        List<string> endings = [.. new[] { Endings(a, nameA, units), Endings(b, nameB, units) }.OfType<string>()];
        var force = pair[MeasureIds.RiggingPointForce];
        if (force.Verdict == PairVerdict.Endings)
        {
            told.AddRange(endings);
            told.Add("Forces are compared only where both are caught, and that is in fewer than half.");
            return told;
        }

        told.Add(Compared(force, nameA, nameB, "pulls", "at the rigging point", pair.ForceDecider, a));
        told.Add(Compared(pair[MeasureIds.ClimberMovement], nameA, nameB, "moves", "the feet", pair.MovementDecider, a));
        if (Costs(pair, nameA, units) is { } costs)
        {
            told.Add(costs);
        }

        told.AddRange(endings);
        return told;
    }

    /// <summary>How many draws of a case are not caught, and how they end; null where all are.</summary>
    public static string? Endings(ToldCase told, string name, UnitSystem units)
    {
        if (told.Missed.Count == 0)
        {
            return null;
        }

        var obstacles = told.Case.Input.Site.Obstacles;
        return Wording.Capital(told.Missed.Count == 1
            ? $"{name} {CountWords.Ends(told.Missed[0], obstacles, units)} in {CountWords.Of(told.Missed[0].Count, told.Drawn)}."
            : $"{name} is not caught in {CountWords.Of(told.Missed.Sum(m => m.Count), told.Drawn)}: {string.Join(", ", told.Missed.Take(2).Select(m => $"{CountWords.Ends(m, obstacles, units)} in {CountWords.Of(m.Count, told.Drawn)}"))}.");
    }

    private static string Compared(PairAnswer answer, string nameA, string nameB, string verb, string what, Decider? decider, ToldCase a)
    {
        string Of(int count) => CountWords.Of(count, answer.Both);
        var where = verb == "pulls" ? what : "";
        var whom = verb == "pulls" ? "" : what + " ";
        var sentence = answer.Verdict switch
        {
            PairVerdict.FirstLower => $"{nameA} {verb} {whom}less than {nameB} {where} in {Of(answer.FirstLower)}{CountWords.Typically(answer)}.",
            PairVerdict.FirstMoreOftenLower => $"{nameA} more often {verb} {whom}less than {nameB} {where}: in {Of(answer.FirstLower)}{CountWords.Typically(answer)}.",
            PairVerdict.SecondLower => $"{nameA} {verb} {whom}more than {nameB} {where} in {Of(answer.SecondLower)}{CountWords.Typically(answer)}.",
            PairVerdict.SecondMoreOftenLower => $"{nameA} more often {verb} {whom}more than {nameB} {where}: in {Of(answer.SecondLower)}{CountWords.Typically(answer)}.",
            PairVerdict.Level => $"{nameA} and {nameB} {(verb == "pulls" ? "pull" : "move")} {whom}alike {where} in {Of(answer.Level)}.",
            _ => $"Open which {verb} {whom}less {where}: {nameA} in {Of(answer.FirstLower)}, {nameB} in {Of(answer.SecondLower)}{Decides(decider, a)}.",
        };
        return Wording.Capital(string.Join(' ', sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Replace(" .", ".", StringComparison.Ordinal).Replace(" :", ":", StringComparison.Ordinal));
    }

    private static string Decides(Decider? decider, ToldCase a) => decider is null
        ? "; no single input decides"
        : $"; {a.Case.Uncertain[decider.Input].Range.Name} decides";

    /// <summary>What the first takes more of; null where neither rope run nor room differs.</summary>
    private static string? Costs(ToldPair pair, string nameA, UnitSystem units)
    {
        var (run, room) = (pair.Difference(MeasureIds.RopeRun), pair.Difference(MeasureIds.Room));
        List<string> parts = [];
        void Add(PairDifference difference, string what)
        {
            if (double.IsFinite(difference.Typical) && Math.Abs(difference.Typical) >= Shown)
            {
                parts.Add($"{Format.Quantity(Math.Abs(difference.Typical), "m", units)} {(difference.Typical > 0 ? "more" : "less")} {what}");
            }
        }

        Add(run, "rope run");
        Add(room, "room");
        return parts.Count == 0 ? null : Wording.Capital($"{nameA} takes {string.Join(" and leaves ", parts)}.");
    }

    /// <summary>A difference smaller than this is not told, m.</summary>
    private const double Shown = 0.05;
}
