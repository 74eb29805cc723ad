namespace DropSim.Model;

/// <summary>Why the drop ended.</summary>
public enum EndKind
{
    /// <summary>The piece hangs still.</summary>
    Settled,

    /// <summary>The longest time was reached.</summary>
    EndTime,

    /// <summary>The piece touched the ground.</summary>
    Ground,

    /// <summary>The piece touched an obstacle.</summary>
    Obstacle,

    /// <summary>The end of the rope passed the device.</summary>
    RopeEnd,

    /// <summary>The hitch was drawn up to the rigging point.</summary>
    HitchAtRiggingPoint,

    /// <summary>The rope's breaking strength was exceeded.</summary>
    RopeBroke,

    /// <summary>The computation could not be completed.</summary>
    Failed,
}

/// <summary>How a drop ended: a fact, from which words are made where they are shown.</summary>
/// <param name="Kind">Why.</param>
/// <param name="Time">When, s from hinge break.</param>
/// <param name="Speed">Speed of the touching point or of the piece, m/s.</param>
/// <param name="CutsShort">True where the end came with more than 1 m/s, or before hinge break or before the rope came taut, so that every peak reads "at least" and every margin "not reached".</param>
public sealed record RunEnd(EndKind Kind, double Time, double Speed, bool CutsShort)
{
    /// <summary>What was touched, where the end is <see cref="EndKind.Obstacle"/>; else null. The ground is no obstacle.</summary>
    public TouchedObstacle? Obstacle { get; init; }

    /// <summary>The point of the piece that touched, where it touched something; else its centre of gravity. Null where the computation failed.</summary>
    public PlanePoint? Where { get; init; }

    /// <summary>Energy of the piece's motion at the end, J; not a number where nobody knows.</summary>
    public double Energy { get; init; } = double.NaN;

    /// <summary>How long was computed, s from the start of the computation.</summary>
    public double Computed { get; init; } = double.NaN;

    /// <summary>Where the computation stopped, where the end is <see cref="EndKind.Failed"/>; else null.</summary>
    public FailurePlace? Failure { get; init; }

    /// <summary>True where the piece came down on the ground or on an obstacle, however gently.</summary>
    public bool Lands => Kind is EndKind.Ground or EndKind.Obstacle;

    /// <summary>True where the rope holds the piece: it hangs still, or it moved on without anything running or slack when time was up.</summary>
    public bool IsHeld => Kind == EndKind.Settled || (Kind == EndKind.EndTime && !CutsShort);

    /// <summary>In words, SI. Nothing may read it back: what it says stands in the other members.</summary>
    public string Description => EndWords.Of(this).ToString();
}

/// <summary>The obstacle that a piece touched.</summary>
/// <param name="Index">Its place among the site's obstacles.</param>
/// <param name="Name">Its name as the scenario has it.</param>
public sealed record TouchedObstacle(int Index, string Name);

/// <summary>Where a computation stopped before its end, for whoever looks for the cause.</summary>
/// <param name="Stop">Why the integrator stopped.</param>
/// <param name="Guard">Guard at which it stopped; -1 for none.</param>
/// <param name="Component">Component of the state; -1 for none.</param>
/// <param name="Phase">The discrete state.</param>
public sealed record FailurePlace(string Stop, int Guard, int Component, string Phase);
