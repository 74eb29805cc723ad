using DropSim.Model;

namespace DropSim.Studies;

/// <summary>What the outcomes of a scenario's drops hang on, as far as they were computed.</summary>
public enum Deciding
{
    /// <summary>Nothing that can be told: all come out alike, or they differ within set-ups and catches alike.</summary>
    Neither,

    /// <summary>The catch: each catch comes out the same way in every set-up.</summary>
    Catch,

    /// <summary>The set-up: each set-up comes out the same way with every catch.</summary>
    Setup,
}

/// <summary>How the drops of a scenario end, side by side: which explanation, set-up or catch, goes with which end.</summary>
/// <param name="Cases">The cases, hardest landing first, held drops last; among those by the room left.</param>
/// <param name="Deciding">What the outcomes hang on.</param>
public sealed record EndOverview(IReadOnlyList<CaseResult> Cases, Deciding Deciding)
{
    /// <summary>Looks at the ends of a scenario's drops.</summary>
    /// <param name="result">What was computed.</param>
    public static EndOverview Of(ScenarioResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new(
            [.. result.Cases.OrderBy(c => Rank(DropComparison.Of(c.Run.End))).ThenByDescending(c => c.Run.End.Lands ? c.Run.End.Speed : 0).ThenBy(c => c.Run[MeasureIds.Room].Value)],
            Settles(result.Cases, c => c.Case.CatchName) ? Deciding.Catch : Settles(result.Cases, c => c.Case.Setup) ? Deciding.Setup : Deciding.Neither);
    }

    /// <summary>True where every group comes out one way, but not all of them the same way, and each has more than one drop.</summary>
    private static bool Settles(IReadOnlyList<CaseResult> cases, Func<CaseResult, string> by)
    {
        var groups = cases.GroupBy(by, c => DropComparison.Of(c.Run.End)).Select(g => (Count: g.Count(), Outcomes: g.Distinct().ToArray())).ToArray();
        return groups.All(g => g.Count > 1 && g.Outcomes.Length == 1 && g.Outcomes[0] != Outcome.Unknown) && groups.Select(g => g.Outcomes[0]).Distinct().Count() > 1;
    }

    private static int Rank(Outcome outcome) => outcome switch
    {
        Outcome.Lands => 0,
        Outcome.RopeBreaks => 1,
        Outcome.RopeRunsOut => 2,
        Outcome.HitchDrawnUp => 3,
        Outcome.NotOver => 4,
        Outcome.Unknown => 5,
        _ => 6,
    };
}
