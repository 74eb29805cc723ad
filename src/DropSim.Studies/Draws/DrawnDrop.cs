using DropSim.Model;

namespace DropSim.Studies.Draws;

/// <summary>How one drop of a set-up like this one ends.</summary>
public enum DrawEnding
{
    /// <summary>The rope catches the piece; it may be set down at up to 1 m/s.</summary>
    Caught,

    /// <summary>It lands on the ground.</summary>
    Ground,

    /// <summary>It hits an obstacle.</summary>
    Obstacle,

    /// <summary>The rope breaks.</summary>
    RopeBroke,

    /// <summary>The rope's end passes the device.</summary>
    RopeEnd,

    /// <summary>The hitch is drawn up to the rigging point.</summary>
    HitchAtRiggingPoint,

    /// <summary>The rope still runs, or has not come taut, when time is up.</summary>
    StillRunning,

    /// <summary>The inputs contradict each other: no drop.</summary>
    NotComputed,
}

/// <summary>One drop of a set-up like this one. A drop that was not caught has no peak to compare.</summary>
/// <param name="Ending">How it ends.</param>
/// <param name="Speed">Speed of what touches, or of the piece, at the end, m/s.</param>
/// <param name="Obstacle">Which obstacle is hit; -1 for none.</param>
/// <param name="Values">The measures asked for, SI, in their order; not a number where there is none.</param>
public readonly record struct DrawnDrop(DrawEnding Ending, double Speed, int Obstacle, IReadOnlyList<double> Values)
{
    /// <summary>True where the rope catches the piece.</summary>
    public bool IsCaught => Ending == DrawEnding.Caught;

    /// <summary>What is kept of a run.</summary>
    /// <param name="outcome">The run, or why there is none.</param>
    /// <param name="measures">Ids of the measures kept.</param>
    public static DrawnDrop Of(DropOutcome outcome, IReadOnlyList<string> measures)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        ArgumentNullException.ThrowIfNull(measures);
        var values = new double[measures.Count];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = outcome.Run?[measures[i]].Value ?? double.NaN;
        }

        return outcome.Run is { End: var end }
            ? new(EndingOf(end), end.Speed, end.Obstacle?.Index ?? -1, values)
            : new(DrawEnding.NotComputed, double.NaN, -1, values);
    }

    /// <summary>How a run ended, as draws count it.</summary>
    /// <param name="end">The end.</param>
    public static DrawEnding EndingOf(RunEnd end)
    {
        ArgumentNullException.ThrowIfNull(end);
        return end switch
        {
            { Kind: EndKind.Failed } => DrawEnding.NotComputed,
            { CutsShort: false } => DrawEnding.Caught,
            { Kind: EndKind.Ground } => DrawEnding.Ground,
            { Kind: EndKind.Obstacle } => DrawEnding.Obstacle,
            { Kind: EndKind.RopeBroke } => DrawEnding.RopeBroke,
            { Kind: EndKind.RopeEnd } => DrawEnding.RopeEnd,
            { Kind: EndKind.HitchAtRiggingPoint } => DrawEnding.HitchAtRiggingPoint,
            _ => DrawEnding.StillRunning,
        };
    }
}
