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
    /// <param name="endings">False where how they end stands elsewhere.</param>
    public static IReadOnlyList<string> Of(ScenarioResult result, ToldPair pair, UnitSystem units, bool endings = true)
    {
        var (a, b) = (result.Cases[pair.First], result.Cases[pair.Second]);
        return Of(result.Told!.Cases[pair.First], result.Told.Cases[pair.Second], pair, ComparisonText.Name(a, b), ComparisonText.Name(b, a), units, endings);
    }

    /// <summary>The same for two cases with names of their own.</summary>
    public static IReadOnlyList<string> Of(ToldCase a, ToldCase b, ToldPair pair, string nameA, string nameB, UnitSystem units, bool withEndings = true)
    {
        List<string> told = [];
        List<string> endings = withEndings ? [.. new[] { Endings(a, nameA, units), Endings(b, nameB, units) }.OfType<string>()] : [];
        var force = pair[MeasureIds.RiggingPointForce];
        if (force.Verdict == PairVerdict.Endings)
        {
            told.AddRange(endings);
            told.Add("Forces are compared only where both are caught, and that is in fewer than half.");
            return told;
        }

        var movement = pair[MeasureIds.ClimberMovement];
        var alsoFirst = Direction(force.Verdict) * Direction(movement.Verdict) != 0;
        told.Add(Compared(force, nameA, nameB, new("pulls", "pull", "at the rigging point", ""), $"of {nameB}", " set-ups like this", pair.ForceDecider, a));
        told.Add(Compared(movement, alsoFirst ? "it" : nameA, nameB, new("moves", "move", "", "the feet "), alsoFirst ? "" : $"of {nameB}", "", pair.MovementDecider, a));
        if (Costs(pair, alsoFirst ? "it" : nameA, units) is { } costs)
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

    /// <summary>How a comparison is said.</summary>
    /// <param name="Verb">What one does.</param>
    /// <param name="Both">What both do.</param>
    /// <param name="Where">Where; after less or more.</param>
    /// <param name="Whom">What; before less or more.</param>
    private sealed record Doing(string Verb, string Both, string Where, string Whom);

    /// <summary>-1 where the first is less, 1 where it is more, 0 where neither.</summary>
    private static int Direction(PairVerdict verdict) => verdict switch
    {
        PairVerdict.FirstLower or PairVerdict.FirstMoreOftenLower => -1,
        PairVerdict.SecondLower or PairVerdict.SecondMoreOftenLower => 1,
        _ => 0,
    };

    private static string Compared(PairAnswer answer, string nameA, string nameB, Doing doing, string ofB, string setups, Decider? decider, ToldCase a)
    {
        string Of(int count) => CountWords.Of(count, answer.Both);
        setups = setups.Length > 0 && answer.Both < answer.Drawn ? " set-ups that both catch" : setups;
        var direction = Direction(answer.Verdict);
        var count = direction < 0 ? answer.FirstLower : answer.SecondLower;
        var often = answer.Verdict is PairVerdict.FirstMoreOftenLower or PairVerdict.SecondMoreOftenLower ? "more often " : "";
        var sentence = direction != 0
            ? $"{nameA} {often}{doing.Verb} {doing.Whom}{(direction < 0 ? "less" : "more")} {doing.Where} in {Of(count)}{setups}{CountWords.Typically(answer, ofB)}."
            : answer.Verdict == PairVerdict.Level
                ? $"{nameA} and {nameB} {doing.Both} {doing.Whom}alike {doing.Where} in {Of(answer.Level)}{setups}."
                : $"Open which {doing.Verb} {doing.Whom}less {doing.Where}: {nameA} in {Of(answer.FirstLower)}, {nameB} in {Of(answer.SecondLower)}{setups}{Decides(decider, a)}.";
        return Wording.Capital(string.Join(' ', sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Replace(" :", ":", StringComparison.Ordinal));
    }

    private static string Decides(Decider? decider, ToldCase a) => decider is null
        ? "; no single input decides"
        : $"; {a.Case.Uncertain[decider.Input].Range.Name} decides";

    /// <summary>What the first takes more of; null where neither rope run nor room differs.</summary>
    private static string? Costs(ToldPair pair, string nameA, UnitSystem units)
    {
        var (run, room) = (pair.Difference(MeasureIds.RopeRun), pair.Difference(MeasureIds.Room));
        List<string> parts = [];
        void Add(PairDifference difference, string verb, string what)
        {
            if (double.IsFinite(difference.Typical) && Math.Abs(difference.Typical) >= Shown)
            {
                parts.Add($"{verb} {Format.Quantity(Math.Abs(difference.Typical), "m", units)} {(difference.Typical > 0 ? "more" : "less")} {what}");
            }
        }

        Add(run, "takes", "rope run");
        Add(room, "leaves", "room");
        return parts.Count == 0 ? null : Wording.Capital($"{nameA} {string.Join(" and ", parts)}.");
    }

    /// <summary>A difference smaller than this is not told, m.</summary>
    private const double Shown = 0.05;
}
