using DropSim.Model;

namespace DropSim.Studies;

/// <summary>One way in which drops of a cut did not end with the piece hanging on the rope: a fact, told before any force.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Obstacle">What was touched, where it was an obstacle; else null.</param>
/// <param name="Speed">Speed then, of several drops the fastest, m/s.</param>
/// <param name="Runs">Drops that ended so, 1 or more.</param>
public sealed record BadEnd(EndKind Kind, TouchedObstacle? Obstacle, double Speed, int Runs)
{
    /// <summary>True where the piece touched the ground or an obstacle, however gently.</summary>
    public bool Hits => Kind is EndKind.Ground or EndKind.Obstacle;

    /// <summary>True where the other is the same happening: the same kind, and of obstacles the same one.</summary>
    /// <param name="other">The other; may be null.</param>
    public bool IsLike(BadEnd? other) => other is not null && other.Kind == Kind && other.Obstacle?.Index == Obstacle?.Index;
}

/// <summary>How one cut with one catch can end badly.</summary>
/// <param name="Catch">Name of the catch as in the file.</param>
/// <param name="AsPlanned">What came of the drop with the values of the plan; null where the rope held the piece.</param>
/// <param name="Varied">What came of the drops with other values of what is uncertain, the worst kind first; empty where the rope held them all.</param>
/// <param name="Runs">Number of those drops.</param>
public sealed record CatchReach(string Catch, BadEnd? AsPlanned, IReadOnlyList<BadEnd> Varied, int Runs)
{
    /// <summary>True where the planned drop's forces are only what was seen before it hit, or before the rope let it go: no number to show.</summary>
    public bool ForcesUnknown { get; init; }

    /// <summary>All that can happen, the planned drop's first, each once.</summary>
    public IReadOnlyList<BadEnd> All => AsPlanned is null ? Varied : [AsPlanned, .. Varied.Where(v => !v.IsLike(AsPlanned))];
}

/// <summary>How one cut can end badly.</summary>
/// <param name="Number">Number of the cut from the tip down.</param>
/// <param name="Piece">Log or top.</param>
/// <param name="Catches">One for each catch, in the order of the file.</param>
public sealed record CutReach(int Number, PieceKind Piece, IReadOnlyList<CatchReach> Catches)
{
    /// <summary>True where something happens with the values of the plan.</summary>
    public bool AsPlanned => Catches.Any(c => c.AsPlanned is not null);

    /// <summary>True where something happens at all.</summary>
    public bool Any => Catches.Any(c => c.All.Count > 0);
}

/// <summary>What is hit, and what else ends badly, cut by cut: read off the ends of the runs.</summary>
public static class PlanReach
{
    /// <summary>The facts of a whole plan, in the order of the cuts.</summary>
    /// <param name="cuts">The computed cuts.</param>
    public static IReadOnlyList<CutReach> Of(IReadOnlyList<CutResult> cuts)
    {
        ArgumentNullException.ThrowIfNull(cuts);
        return [.. cuts.Select(c => new CutReach(c.Plan.Number, c.Input.Piece.Kind, [.. c.Cases.Select(k => Of(k.Case.CatchName, k.Run.End, k.RangeEnds))]))];
    }

    /// <summary>The facts of one cut and catch, from the ends of its drops wherever they were computed.</summary>
    /// <param name="catchName">Name of the catch.</param>
    /// <param name="planned">End of the drop with the values of the plan.</param>
    /// <param name="varied">Ends of the drops with other values.</param>
    public static CatchReach Of(string catchName, RunEnd planned, IReadOnlyList<RunEnd> varied)
    {
        ArgumentNullException.ThrowIfNull(planned);
        ArgumentNullException.ThrowIfNull(varied);
        return new(catchName, Bad(planned), Group(varied), varied.Count)
        {
            // A rope that broke bore its strength; every other drop that was cut short may have borne nothing yet.
            ForcesUnknown = planned.CutsShort && planned.Kind != EndKind.RopeBroke,
        };
    }

    /// <summary>The worst first: what meets other things, then what hits the ground, then what breaks or runs out. Smaller is told earlier.</summary>
    /// <param name="kind">How a drop ended.</param>
    public static int Rank(EndKind kind) => kind switch
    {
        EndKind.Obstacle => 0,
        EndKind.Ground => 1,
        EndKind.RopeBroke => 2,
        EndKind.RopeEnd => 3,
        EndKind.HitchAtRiggingPoint => 4,
        _ => 5,
    };

    private static IReadOnlyList<BadEnd> Group(IEnumerable<RunEnd> ends) =>
    [
        .. ends.Select(Bad).OfType<BadEnd>()
            .GroupBy(b => (b.Kind, b.Obstacle?.Index))
            .Select(g => g.First() with { Speed = g.Max(b => b.Speed), Runs = g.Count() })
            .OrderBy(b => Rank(b.Kind)).ThenByDescending(b => b.Speed),
    ];

    /// <summary>Null where the rope held the piece to the end.</summary>
    private static BadEnd? Bad(RunEnd end) =>
        end.Kind == EndKind.Settled || (end.Kind == EndKind.EndTime && !end.CutsShort) ? null : new(end.Kind, end.Obstacle, end.Speed, 1);
}
