using DropSim.Model;

namespace DropSim.Studies;

/// <summary>How a drop came out, as far as it can be held against another.</summary>
public enum Outcome
{
    /// <summary>The rope holds the piece.</summary>
    Held,

    /// <summary>The piece came down on the ground or on an obstacle.</summary>
    Lands,

    /// <summary>The rope broke.</summary>
    RopeBreaks,

    /// <summary>The end of the rope passed the device.</summary>
    RopeRunsOut,

    /// <summary>The hitch was drawn up to the rigging point.</summary>
    HitchDrawnUp,

    /// <summary>Time was up before anything held the piece.</summary>
    NotOver,

    /// <summary>The computation failed.</summary>
    Unknown,
}

/// <summary>With which of two drops something is worse.</summary>
public enum WorseSide
{
    /// <summary>It is about the same.</summary>
    Neither,

    /// <summary>With the first.</summary>
    First,

    /// <summary>With the second.</summary>
    Second,
}

/// <summary>
/// Two drops held against each other. Their ends come first, and can be compared however badly both ended: what is hit, how fast, with what
/// energy, what broke, what was never stopped. Of the forces only those are compared that a bound does not leave open.
/// </summary>
public sealed record DropComparison
{
    /// <summary>A difference smaller than this part counts as none.</summary>
    public const double Noticeable = 0.05;

    /// <summary>The measures that are looked at, in the order in which they are told.</summary>
    public static IReadOnlyList<string> Looked { get; } =
    [
        MeasureIds.RopeRun, MeasureIds.Room, MeasureIds.RopeSpeed, MeasureIds.RopeHeat, MeasureIds.HandForce, MeasureIds.StrikeEnergy,
        MeasureIds.RiggingPointForce, MeasureIds.ClimberMovement,
    ];

    private DropComparison()
    {
    }

    /// <summary>How the first ended.</summary>
    public required RunEnd First { get; init; }

    /// <summary>How the second ended.</summary>
    public required RunEnd Second { get; init; }

    /// <summary>Measures that are worse with the first.</summary>
    public required IReadOnlyList<string> WorseWithFirst { get; init; }

    /// <summary>Measures of which the end of a run keeps it open which is worse.</summary>
    public required IReadOnlyList<string> Open { get; init; }

    /// <summary>True where both came down.</summary>
    public bool BothLand => First.Lands && Second.Lands;

    /// <summary>True where they came out differently.</summary>
    public bool OutcomesDiffer => Of(First) != Of(Second);

    /// <summary>True where both came down, but not on the same thing.</summary>
    public bool LandOnDifferentThings => BothLand && (First.Kind, First.Obstacle?.Index) != (Second.Kind, Second.Obstacle?.Index);

    /// <summary>Which came down faster, where both did.</summary>
    public WorseSide Speed => BothLand ? Larger(First.Speed, Second.Speed) : WorseSide.Neither;

    /// <summary>Which came down with more energy, where both did.</summary>
    public WorseSide Energy => BothLand ? Larger(First.Energy, Second.Energy) : WorseSide.Neither;

    /// <summary>True where the end of the first is worse in some way: it came down, broke or ran on and the other did not, or it came down harder.</summary>
    public bool EndIsWorseWithFirst => OutcomesDiffer ? IsBad(First) : Speed == WorseSide.First || Energy == WorseSide.First;

    /// <summary>The same of the second.</summary>
    public bool EndIsWorseWithSecond => OutcomesDiffer ? IsBad(Second) : Speed == WorseSide.Second || Energy == WorseSide.Second;

    /// <summary>True where the ends tell the two drops apart.</summary>
    public bool EndsDiffer => OutcomesDiffer || LandOnDifferentThings || EndIsWorseWithFirst || EndIsWorseWithSecond;

    /// <summary>Holds two drops against each other.</summary>
    /// <param name="first">The one looked at.</param>
    /// <param name="second">The one it is held against.</param>
    public static DropComparison Of(DropRun first, DropRun second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        var looked = Looked.Select(id => (Id: id, One: first[id], Other: second[id])).Select(m => (m.Id, m.One, m.Other, Worse: IsWorse(m.One, m.Other))).ToArray();
        return new()
        {
            First = first.End,
            Second = second.End,
            WorseWithFirst = [.. looked.Where(m => m.Worse == true).Select(m => m.Id)],
            Open = [.. looked.Where(m => m.Worse is null && (IsOpen(m.One) || IsOpen(m.Other))).Select(m => m.Id)],
        };
    }

    /// <summary>How a drop came out.</summary>
    /// <param name="end">Its end.</param>
    public static Outcome Of(RunEnd end)
    {
        ArgumentNullException.ThrowIfNull(end);
        return end.Kind switch
        {
            EndKind.Settled => Outcome.Held,
            EndKind.EndTime => end.CutsShort ? Outcome.NotOver : Outcome.Held,
            EndKind.Ground or EndKind.Obstacle => Outcome.Lands,
            EndKind.RopeBroke => Outcome.RopeBreaks,
            EndKind.RopeEnd => Outcome.RopeRunsOut,
            EndKind.HitchAtRiggingPoint => Outcome.HitchDrawnUp,
            _ => Outcome.Unknown,
        };
    }

    /// <summary>True where the drop is known to have come out as nobody wants it.</summary>
    /// <param name="end">Its end.</param>
    public static bool IsBad(RunEnd end) => Of(end) is not (Outcome.Held or Outcome.Unknown);

    /// <summary>Whether one measure is worse than another; null where a bound leaves it open.</summary>
    /// <param name="x">The one.</param>
    /// <param name="y">The other.</param>
    public static bool? IsWorse(Measure x, Measure y)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        if (double.IsNaN(x.Value) || double.IsNaN(y.Value) || !IsReached(x) || !IsReached(y))
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

    /// <summary>A quantity that had not come about may have a number all the same: the least room seen before the run was cut short.</summary>
    private static bool IsReached(Measure measure) => measure.State is not (MeasureState.NotReached or MeasureState.Unknown);

    /// <summary>True where only the end of the run kept the value from being known.</summary>
    private static bool IsOpen(Measure measure) => measure.State is MeasureState.AtLeast or MeasureState.NotReached;

    private static WorseSide Larger(double first, double second) =>
        first > second * (1 + Noticeable) ? WorseSide.First : second > first * (1 + Noticeable) ? WorseSide.Second : WorseSide.Neither;
}
