namespace DropSim.Model;

/// <summary>One cut of a stem that is taken down piece by piece, ready to compute.</summary>
/// <param name="Number">Number from the tip down, from 1.</param>
/// <param name="Cases">The same piece with each catch.</param>
/// <param name="Wraps">Wraps on the device and how far they may be off.</param>
/// <param name="Rope">Rope between piece and device before the cut, and on the hand side.</param>
public sealed record PlannedCut(int Number, IReadOnlyList<DropCase> Cases, WrapsBand Wraps, RopeInUse Rope);

/// <summary>Wraps, and the band within which the stated uncertainties put them.</summary>
/// <param name="Planned">Turns the plan was computed with.</param>
/// <param name="Given">True where the file gives them; false where they follow from the piece.</param>
/// <param name="Low">Fewest turns, in quarters, at which a light hand holds the hanging piece still: light piece, much friction.</param>
/// <param name="High">Most turns, in quarters: heavy piece, little friction.</param>
/// <param name="Tested">True where a hold test stands behind the friction.</param>
public sealed record WrapsBand(double Planned, bool Given, double Low, double High, bool Tested);

/// <summary>Where the rope is before the cut.</summary>
/// <param name="LoadLeg">Rope from the hitch to the rigging point, slack included, m.</param>
/// <param name="GroundLeg">Rope from the rigging point to the device, m.</param>
/// <param name="Left">Rope left on the hand side, m; not a number where the length of the rope is not known.</param>
/// <param name="LeftWhenDown">Rope left once the piece lies on the ground below the rigging point, m; below 0 the rope is too short to lower it.</param>
public sealed record RopeInUse(double LoadLeg, double GroundLeg, double Left, double LeftWhenDown)
{
    /// <summary>Rope between hitch and device, m: what stretches when the piece is caught.</summary>
    public double InSystem => LoadLeg + GroundLeg;

    /// <summary>The rope of a drop.</summary>
    /// <param name="input">The drop.</param>
    /// <remarks>As the simulation counts it, the rope that lies on the device left out. On the ground: both legs hang straight, the hitch at
    /// the ground, which is the longest way.</remarks>
    public static RopeInUse Of(DropInput input)
    {
        ArgumentNullException.ThrowIfNull(input);

        // At the start the spar is straight, so its modes do not matter.
        var straight = input with { Spar = input.Spar with { Rigid = true, MeasuredSwayFrequency = null } };
        var state = new DropSystem(straight, new ModalSpar(straight.Spar, straight.Computation.Modes, straight.Computation.Elements, straight.Computation.Gravity)).InitialState();
        var (load, ground) = (state[StateLayout.LoadLength], state[StateLayout.GroundLength]);
        var left = input.Rope.RopeLeftAtDevice ?? (input.Rope.TotalLength - load - ground) ?? double.NaN;
        var ring = input.Spar.Height - input.RiggingPoint.BelowCut;
        return new(load, ground, left, left - Math.Max(0, ring - load));
    }
}
