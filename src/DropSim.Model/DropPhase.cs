namespace DropSim.Model;

/// <summary>State of one place of contact.</summary>
internal enum ContactState
{
    /// <summary>Not yet below the cut and clear of the spar (or gone above it again): it cannot strike.</summary>
    Disarmed,

    /// <summary>Clear; it strikes when it meets the spar.</summary>
    Armed,

    /// <summary>Pressing.</summary>
    Pressing,
}

/// <summary>The discrete state of a drop: what the rope, the hand, the hinge and the contacts remember. Only events change it.</summary>
internal sealed class DropPhase
{
    private HandMemory _hand = Model.Hand.Start;
    private NetworkBranch _network;

    public DropPhase(int contacts)
    {
        Contacts = new ContactState[contacts];
    }

    /// <summary>Both legs pull.</summary>
    public bool Pulls => Network.LoadTaut && Network.GroundTaut;

    /// <summary>Rope runs past the device through the hand.</summary>
    public bool Runs => Network.DeviceGives && !WrapsGive;

    /// <summary>Rope is drawn out of the tightening wraps.</summary>
    public bool TightensWraps => Network.DeviceGives && WrapsGive;

    /// <summary>A place of contact presses.</summary>
    public bool Presses => Contacts.AsSpan().Contains(ContactState.Pressing);

    /// <summary>A copy that later events do not change.</summary>
    public DropPhase Copy()
    {
        var copy = (DropPhase)MemberwiseClone();
        copy.Contacts = [.. Contacts];
        return copy;
    }

    /// <summary>Branch of the friction network.</summary>
    public NetworkBranch Network
    {
        get => _network;
        set => _network = value;
    }

    /// <summary>True where the device's flow comes out of its tightening wraps, not out of the hand.</summary>
    public bool WrapsGive { get; set; }

    /// <summary>No hand needed: locked off, or snagged.</summary>
    public bool Locked { get; set; }

    /// <summary>The piece still stands on its hinge (or edge).</summary>
    public bool Hinged { get; set; } = true;

    /// <summary>Sign of pi minus the angle between the legs.</summary>
    public int WrapSign { get; set; } = 1;

    /// <summary>The block's bearing, not its seized sheave, sets the ratio.</summary>
    public bool BearingTurns { get; set; } = true;

    /// <summary>Wraps on the device now.</summary>
    public double Wraps { get; set; }

    /// <summary>Hold ratio of the device with these wraps, exp(2 pi N mu).</summary>
    public double DeviceRatio { get; set; } = 1;

    /// <summary>What the hand remembers.</summary>
    public HandMemory Hand
    {
        get => _hand;
        set => _hand = value;
    }

    /// <summary>The same, without a copy.</summary>
    public ref readonly HandMemory HandNow => ref _hand;

    /// <summary>The same, without a copy.</summary>
    public ref readonly NetworkBranch NetworkNow => ref _network;

    /// <summary>Next instant fixed in time, s from the start; infinite for none.</summary>
    public double NextInstant { get; set; } = double.PositiveInfinity;

    /// <summary>State of each place of contact.</summary>
    public ContactState[] Contacts { get; private set; }

    /// <summary>The knot at the hitch has tightened as far as it can.</summary>
    public bool HitchSpent { get; set; }

    /// <summary>The wraps have tightened as far as they can.</summary>
    public bool WrapsSpent { get; set; }

    /// <summary>While before this time the network is solved anew in every evaluation.</summary>
    public double PhaselessUntil { get; set; } = double.NegativeInfinity;

    /// <summary>True while the network is solved anew in every evaluation.</summary>
    public bool Phaseless { get; set; }
}
