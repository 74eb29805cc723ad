namespace DropSim.Model;

/// <summary>What can happen in a drop.</summary>
public enum EventKind
{
    /// <summary>The hinge breaks.</summary>
    HingeBreaks,

    /// <summary>The load leg comes taut.</summary>
    LoadLegTaut,

    /// <summary>The load leg goes slack.</summary>
    LoadLegSlack,

    /// <summary>Rope begins to run through the device.</summary>
    DeviceRuns,

    /// <summary>Rope stops running through the device.</summary>
    DeviceHolds,

    /// <summary>The knot at the hitch draws tight.</summary>
    HitchTightens,

    /// <summary>The knot at the hitch has drawn as tight as it can.</summary>
    HitchHasTightened,

    /// <summary>The wraps on the device draw tight.</summary>
    WrapsTighten,

    /// <summary>The wraps on the device have drawn as tight as they can.</summary>
    WrapsHaveTightened,

    /// <summary>The number of wraps changes.</summary>
    WrapsChange,

    /// <summary>The hand begins to react.</summary>
    HandReacts,

    /// <summary>The hand does something else.</summary>
    HandChanges,

    /// <summary>The hand has lost the rope.</summary>
    HandLost,

    /// <summary>The hand side snags.</summary>
    HandSideSnags,

    /// <summary>The rope passes from one side of the rigging point to the other.</summary>
    RopePassesOver,

    /// <summary>The rope slips over the rigging point toward the piece.</summary>
    RopeSlipsToPiece,

    /// <summary>The rope slips over the rigging point toward the device.</summary>
    RopeSlipsToDevice,

    /// <summary>The rope sticks at the rigging point.</summary>
    RopeSticks,

    /// <summary>The piece hits the spar.</summary>
    Strike,

    /// <summary>The piece touches the spar with less than a hundredth of the energy that fell.</summary>
    Touch,

    /// <summary>The run ends.</summary>
    End,
}

/// <summary>Something that happened.</summary>
/// <param name="Time">When, s from hinge break.</param>
/// <param name="Kind">What.</param>
/// <param name="Detail">More, for people; may be empty. Nothing may read it back.</param>
/// <param name="Marked">True where a chart should mark it (first of its kind, strikes, ends); false for repeats.</param>
public sealed record RunEvent(double Time, EventKind Kind, string Detail, bool Marked)
{
    /// <summary>
    /// Energy of what began or ended with it, J: lost while the rope slipped, ran or was drawn out of a knot; along the normal in a strike.
    /// Null where it has none of its own (hinge, taut and slack, hand, end; a slip without friction).
    /// </summary>
    public double? Energy { get; init; }

    /// <summary>What happened, in words.</summary>
    public string Name => EventWords.Of(Kind);
}

/// <summary>The words of events.</summary>
public static class EventWords
{
    /// <summary>The short name of a kind of event.</summary>
    /// <param name="kind">The kind.</param>
    public static string Of(EventKind kind) => kind switch
    {
        EventKind.HingeBreaks => "hinge breaks",
        EventKind.LoadLegTaut => "load leg taut",
        EventKind.LoadLegSlack => "load leg slack",
        EventKind.DeviceRuns => "device runs",
        EventKind.DeviceHolds => "device holds",
        EventKind.HitchTightens => "hitch tightens",
        EventKind.HitchHasTightened => "hitch has tightened",
        EventKind.WrapsTighten => "wraps tighten",
        EventKind.WrapsHaveTightened => "wraps have tightened",
        EventKind.WrapsChange => "wraps change",
        EventKind.HandReacts => "hand reacts",
        EventKind.HandChanges => "hand changes",
        EventKind.HandLost => "hand lost",
        EventKind.HandSideSnags => "hand side snags",
        EventKind.RopePassesOver => "rope passes over the rigging point",
        EventKind.RopeSlipsToPiece => "rope slips toward the piece",
        EventKind.RopeSlipsToDevice => "rope slips toward the device",
        EventKind.RopeSticks => "rope sticks at the rigging point",
        EventKind.Strike => "strike",
        EventKind.Touch => "touch",
        EventKind.End => "end",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };
}
