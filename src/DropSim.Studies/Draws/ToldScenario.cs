using DropSim.Model;

namespace DropSim.Studies.Draws;

/// <summary>What set-ups like one case say: facts, from which words are made where they are shown.</summary>
/// <param name="Case">The case.</param>
/// <param name="Run">This drop: the inputs as written or by default.</param>
/// <param name="Drawn">Number of draws.</param>
/// <param name="Caught">Each told measure over the draws that are caught.</param>
/// <param name="Missed">The draws that are not, by how they end, most frequent first.</param>
/// <param name="Stress">Everything bad at once, or the worst drawn, for each judged measure.</param>
/// <param name="Moving">The inputs that move the force on the rigging point most, at most three.</param>
/// <param name="FootBeyond">Draws in which the stem's foot turns beyond its root's straight range.</param>
public sealed record ToldCase(
    DropCase Case, DropRun Run, int Drawn, IReadOnlyList<Caught> Caught, IReadOnlyList<Missed> Missed, IReadOnlyList<StressCase> Stress,
    IReadOnlyList<Mover> Moving, int FootBeyond)
{
    /// <summary>Number of draws that are caught.</summary>
    public int CaughtCount => Drawn - Missed.Sum(m => m.Count);

    /// <summary>How this drop ends, as draws count it.</summary>
    public DrawEnding Ending => DrawnDrop.EndingOf(Run.End);

    /// <summary>The first stress case that ends worse than caught, and otherwise than this drop; null where none does.</summary>
    public StressCase? OtherwiseEnding => Stress.FirstOrDefault(s => s.Ending is not (DrawEnding.NotComputed or DrawEnding.Caught) && s.Ending != Ending);

    /// <summary>Reads the answers of one case off its draws.</summary>
    /// <param name="drawn">The draws, with all of <see cref="DrawStudy.Told"/>.</param>
    /// <param name="which">Index of the case.</param>
    /// <param name="run">This drop.</param>
    /// <param name="stress">Its stress cases.</param>
    internal static ToldCase Of(DrawnScenario drawn, int which, DropRun run, IReadOnlyList<StressCase> stress)
    {
        var turn = drawn.PlaceOf(MeasureIds.FootTurn);
        return new(
            drawn.Cases[which].Case, run, drawn.Count, [.. drawn.Plan.Measures.Select(id => Draws.Caught.Of(drawn, which, id))], Draws.Missed.Of(drawn, which),
            stress, Movers.Of(drawn, which, MeasureIds.RiggingPointForce),
            drawn.Cases[which].Drops.Take(drawn.Count).Count(d => d.Values[turn] > RootLaw.StraightTurn));
    }

    /// <summary>A measure over the draws that are caught.</summary>
    /// <param name="measure">Its id.</param>
    public Caught this[string measure] => Caught.First(c => c.Measure == measure);

    /// <summary>The stress case of a measure; null where it has none.</summary>
    /// <param name="measure">Its id.</param>
    public StressCase? StressOf(string measure) => Stress.FirstOrDefault(s => s.Measure == measure);
}

/// <summary>How much more of something one case takes than the other, over the draws in which both are caught: the price of the gentler one.</summary>
/// <param name="Measure">Id of the measure.</param>
/// <param name="Low">5 % point of first less second, SI; not a number with fewer than 20 pairs.</param>
/// <param name="Typical">Median.</param>
/// <param name="High">95 % point.</param>
public sealed record PairDifference(string Measure, double Low, double Typical, double High);

/// <summary>Two cases compared draw by draw.</summary>
/// <param name="First">Index of the first case (the one changed to).</param>
/// <param name="Second">Index of the second case (the one compared with).</param>
/// <param name="Answers">Force on the rigging point, movement at the climber's feet, that before the first hit, room, hand, rope run.</param>
/// <param name="Differences">Room and rope run.</param>
/// <param name="ForceDecider">The input that decides which pulls less, where that is open and one does.</param>
/// <param name="MovementDecider">The input that decides which moves the feet less, where that is open and one does.</param>
public sealed record ToldPair(
    int First, int Second, IReadOnlyList<PairAnswer> Answers, IReadOnlyList<PairDifference> Differences, Decider? ForceDecider, Decider? MovementDecider)
{
    /// <summary>The answer for a measure.</summary>
    /// <param name="measure">Its id.</param>
    public PairAnswer this[string measure] => Answers.First(a => a.Measure == measure);

    /// <summary>The difference in a measure.</summary>
    /// <param name="measure">Its id.</param>
    public PairDifference Difference(string measure) => Differences.First(d => d.Measure == measure);
}

/// <summary>What set-ups like those of a scenario say.</summary>
/// <param name="Drawn">The draws.</param>
/// <param name="Cases">One per case.</param>
/// <param name="Pairs">One per comparison, in its order.</param>
public sealed record ToldScenario(DrawnScenario Drawn, IReadOnlyList<ToldCase> Cases, IReadOnlyList<ToldPair> Pairs)
{
    private static readonly string[] _compared =
    [
        MeasureIds.RiggingPointForce, MeasureIds.ClimberMovement, MeasureIds.ClimberMovementBeforeHit, MeasureIds.Room, MeasureIds.HandForce, MeasureIds.RopeRun,
    ];

    /// <summary>Reads the answers off the draws.</summary>
    /// <param name="drawn">The draws, with all of <see cref="DrawStudy.Told"/>.</param>
    /// <param name="runs">This drop of each case.</param>
    /// <param name="pairs">Which cases are compared.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    public static ToldScenario Of(DrawnScenario drawn, IReadOnlyList<DropRun> runs, IEnumerable<(int First, int Second)> pairs, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(drawn);
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(pairs);
        return new(drawn, [.. runs.Select((run, i) => ToldCase.Of(drawn, i, run, StressCase.Of(drawn, i, cancellation)))], [.. pairs.Select(p => Pair(drawn, p.First, p.Second))]);
    }

    /// <summary>One comparison.</summary>
    /// <param name="drawn">The draws.</param>
    /// <param name="first">Index of the first case.</param>
    /// <param name="second">Index of the second case.</param>
    public static ToldPair Pair(DrawnScenario drawn, int first, int second)
    {
        ArgumentNullException.ThrowIfNull(drawn);
        PairAnswer[] answers = [.. _compared.Select(id => PairAnswer.Of(drawn, first, second, id))];
        Decider? Deciding(string id) => answers.First(a => a.Measure == id).Verdict == PairVerdict.Open ? Decider.Of(drawn, first, second, id) : null;
        return new(first, second, answers, [Difference(drawn, first, second, MeasureIds.Room), Difference(drawn, first, second, MeasureIds.RopeRun)],
            Deciding(MeasureIds.RiggingPointForce), Deciding(MeasureIds.ClimberMovement));
    }

    private static PairDifference Difference(DrawnScenario drawn, int first, int second, string measure)
    {
        var place = drawn.PlaceOf(measure);
        var (a, b) = (drawn.Cases[first].Drops, drawn.Cases[second].Drops);
        var points = Draws.Caught.Points(
            Enumerable.Range(0, drawn.Count).Where(k => a[k].IsCaught && b[k].IsCaught).Select(k => a[k].Values[place] - b[k].Values[place]), PairAnswer.FewestPairs);
        return new(measure, points.Low, points.Typical, points.High);
    }
}
