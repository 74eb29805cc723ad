namespace DropSim.Model;

/// <summary>
/// Everything that one drop is computed from, in SI units, central values. Planar: x horizontal in the direction of fall,
/// z up, the spar's axis x = 0, the ground z = 0. One set-up with one catch.
/// </summary>
public sealed record DropInput
{
    /// <summary>The piece that is cut off.</summary>
    public required PieceInput Piece { get; init; }

    /// <summary>How the piece leaves the spar.</summary>
    public required StartInput Start { get; init; }

    /// <summary>The standing stem.</summary>
    public required SparInput Spar { get; init; }

    /// <summary>Where the rope turns on the spar.</summary>
    public required RiggingPointInput RiggingPoint { get; init; }

    /// <summary>The rigging rope.</summary>
    public required RopeInput Rope { get; init; }

    /// <summary>The friction device.</summary>
    public required DeviceInput Device { get; init; }

    /// <summary>What is done with the rope.</summary>
    public required CatchInput Catch { get; init; }

    /// <summary>Ground and obstacles.</summary>
    public SiteInput Site { get; init; } = new();

    /// <summary>Strengths, as far as they are known.</summary>
    public StrengthInput Strength { get; init; } = new();

    /// <summary>How the drop is computed.</summary>
    public ComputationInput Computation { get; init; } = new();
}

/// <summary>Log (plain stem section) or top (stem tip with branches).</summary>
public enum PieceKind
{
    /// <summary>A plain stem section.</summary>
    Log,

    /// <summary>A stem tip with branches.</summary>
    Top,
}

/// <summary>The piece as a planar rigid body.</summary>
public sealed record PieceInput
{
    /// <summary>Log or top.</summary>
    public PieceKind Kind { get; init; }

    /// <summary>Mass, kg.</summary>
    public required double Mass { get; init; }

    /// <summary>Length along the stem, butt to tip, m.</summary>
    public required double Length { get; init; }

    /// <summary>Diameter at the butt (at the cut), m.</summary>
    public required double ButtDiameter { get; init; }

    /// <summary>Diameter at the tip of the stem, m.</summary>
    public required double TipDiameter { get; init; }

    /// <summary>Distance from the butt to the centre of gravity along the axis, m.</summary>
    public required double CentreOfGravity { get; init; }

    /// <summary>Offset of the centre of gravity from the axis toward the face side, m.</summary>
    public double SidewaysOffset { get; init; }

    /// <summary>Moment of inertia about the centre of gravity, axis out of the plane, kg m2.</summary>
    public required double Inertia { get; init; }

    /// <summary>Height of the hitch above the cut, on the face side, m.</summary>
    public required double HitchHeight { get; init; }

    /// <summary>Length of bare stem from the butt, m: for a log its length; above it a top's outline is widened by its crown.</summary>
    public required double BareLength { get; init; }

    /// <summary>Half width of the crown, m; 0 for a log. The outline against the ground is widened to it above the bare stem.</summary>
    public double CrownHalfWidth { get; init; }

    /// <summary>Drag coefficient times area, m2; 0 for a log.</summary>
    public double DragArea { get; init; }
}

/// <summary>Hinged over a face cut, or pushed off without one.</summary>
public enum StartKind
{
    /// <summary>A face cut leaves a hinge; the piece tips over it.</summary>
    FaceCut,

    /// <summary>No face cut: the piece is slid out over the spar's front edge and tips off.</summary>
    PushedOff,
}

/// <summary>How the piece leaves the spar.</summary>
public sealed record StartInput
{
    /// <summary>Hinged or pushed off.</summary>
    public StartKind Kind { get; init; }

    /// <summary>Depth of the face cut as a fraction of the diameter at the cut, 0 to 0.5.</summary>
    public double FaceCutDepth { get; init; } = 0.25;

    /// <summary>Lean at which the face cut closes and the hinge breaks, relative to the spar's slope, rad. Pushed off: lean at which the piece leaves the edge.</summary>
    public double ReleaseAngle { get; init; } = 60 * Math.PI / 180;

    /// <summary>Hinge force at which the hinge breaks early, N; infinite where not given.</summary>
    public double HingeStrength { get; init; } = double.PositiveInfinity;

    /// <summary>Lean past balance at the start, rad.</summary>
    public double LeanPastBalance { get; init; } = 0.05;

    /// <summary>Rate of lean at the start, rad/s.</summary>
    public double InitialRate { get; init; } = 0.05;

    /// <summary>Pushed off: speed of the push at the centre of gravity, m/s.</summary>
    public double PushSpeed { get; init; } = 0.1;
}

/// <summary>A measured diameter of the spar.</summary>
/// <param name="Height">Height above the ground, m.</param>
/// <param name="Diameter">Diameter, m.</param>
public readonly record struct DiameterAtHeight(double Height, double Diameter);

/// <summary>Condition of the stem; anything but sound withholds the strength margin.</summary>
public enum StemCondition
{
    /// <summary>Not stated.</summary>
    Unknown,

    /// <summary>Judged sound by somebody who looked.</summary>
    Sound,

    /// <summary>Dead.</summary>
    Dead,

    /// <summary>Decayed.</summary>
    Decayed,

    /// <summary>Cracked.</summary>
    Cracked,
}

/// <summary>The standing stem with the climber on it.</summary>
public sealed record SparInput
{
    /// <summary>Height of the cut, the top of the spar, m.</summary>
    public required double Height { get; init; }

    /// <summary>Diameters from the ground (height 0) to the cut, increasing in height; at least two; linear between.</summary>
    public required IReadOnlyList<DiameterAtHeight> Diameters { get; init; }

    /// <summary>Green density, kg/m3.</summary>
    public required double Density { get; init; }

    /// <summary>Green modulus of elasticity, Pa.</summary>
    public required double Modulus { get; init; }

    /// <summary>Green bending strength (modulus of rupture), Pa; null where unknown.</summary>
    public double? BendingStrength { get; init; }

    /// <summary>Rotational stiffness of the root, N m/rad; infinite for rigid.</summary>
    public double RootStiffness { get; init; } = double.PositiveInfinity;

    /// <summary>Damping ratio of every mode, 0 to 0.5.</summary>
    public double DampingRatio { get; init; } = 0.02;

    /// <summary>Sway frequency measured in the yard, Hz, to which the modulus or the root is fitted; null where not tested.</summary>
    public double? MeasuredSwayFrequency { get; init; }

    /// <summary>Condition of the stem.</summary>
    public StemCondition Condition { get; init; }

    /// <summary>Mass of the climber with gear, kg; 0 for nobody on the spar.</summary>
    public double ClimberMass { get; init; } = 90;

    /// <summary>Height of the climber's feet below the cut, m.</summary>
    public double ClimberBelowCut { get; init; } = 1.2;

    /// <summary>True to hold the spar rigid (no modes).</summary>
    public bool Rigid { get; init; }
}

/// <summary>What turns the rope.</summary>
public enum RiggingPointKind
{
    /// <summary>A ring: rope slides on it.</summary>
    Ring,

    /// <summary>A block: rope turns a sheave.</summary>
    Block,

    /// <summary>A natural union: rope slides in a crotch.</summary>
    NaturalUnion,
}

/// <summary>Where the rope turns on the spar.</summary>
public sealed record RiggingPointInput
{
    /// <summary>Ring, block or natural union.</summary>
    public RiggingPointKind Kind { get; init; }

    /// <summary>Distance from the cut down to the ring or sheave when loaded, m.</summary>
    public required double BelowCut { get; init; }

    /// <summary>Distance of the rope's turning point from the bark, toward the fall, m.</summary>
    public required double StandOff { get; init; }

    /// <summary>Friction coefficient of a ring or union, or of a block's seized sheave.</summary>
    public double Friction { get; init; } = 0.20;

    /// <summary>Efficiency of a block's sheave at half a turn under shock, 0 to 1 (T out / T in).</summary>
    public double Efficiency { get; init; } = 0.90;

    /// <summary>Diameter over which the rope bends, m; null where unknown.</summary>
    public double? BendDiameter { get; init; }
}

/// <summary>A point of the rope's stretch curve.</summary>
/// <param name="Strain">Strain, dimensionless.</param>
/// <param name="Tension">Tension, N.</param>
public readonly record struct StretchPoint(double Strain, double Tension);

/// <summary>The rigging rope.</summary>
public sealed record RopeInput
{
    /// <summary>Diameter, m.</summary>
    public required double Diameter { get; init; }

    /// <summary>Secant stiffness EA at 10 % of breaking strength, N per unit strain.</summary>
    public required double Stiffness { get; init; }

    /// <summary>Points of the elongation curve beyond (0, 0); empty for a straight line of slope <see cref="Stiffness"/>.</summary>
    public IReadOnlyList<StretchPoint> StretchCurve { get; init; } = [];

    /// <summary>Stiffness E_m of the relaxing (Maxwell) branch as a multiple of <see cref="Stiffness"/>.</summary>
    public double RelaxingStiffnessRatio { get; init; } = 1.9;

    /// <summary>Time constant of the relaxing branch, s.</summary>
    public double RelaxationTime { get; init; } = 0.3;

    /// <summary>Viscous time tau_v: C = EA tau_v, s; above 0 and at most 0.003.</summary>
    public double ViscousTime { get; init; } = 0.002;

    /// <summary>Rope given or taken: slack in the load leg at the start, m.</summary>
    public double Slack { get; init; } = 0.2;

    /// <summary>Total length of the rope, m; null where <see cref="RopeLeftAtDevice"/> is given, or neither.</summary>
    public double? TotalLength { get; init; }

    /// <summary>Rope left on the hand side that can still pass the device, m; null to take it from the total length.</summary>
    public double? RopeLeftAtDevice { get; init; }

    /// <summary>Take-up of the knot at the hitch.</summary>
    public TakeUpInput HitchTakeUp { get; init; } = TakeUpInput.None;

    /// <summary>Take-up of the wraps of a locked or holding device.</summary>
    public TakeUpInput WrapsTakeUp { get; init; } = TakeUpInput.None;

    /// <summary>Weight of rope per metre, kg/m; used for reports only; null where unknown.</summary>
    public double? MassPerLength { get; init; }
}

/// <summary>Rope that a tightening knot or wraps give, once.</summary>
/// <param name="Length">Largest length given, m; 0 for none.</param>
/// <param name="ForceFrom">Tension at which it begins, N.</param>
/// <param name="ForceTo">Tension at which it is used up, N.</param>
public sealed record TakeUpInput(double Length, double ForceFrom, double ForceTo)
{
    /// <summary>No take-up.</summary>
    public static TakeUpInput None { get; } = new(0, 0, 0);
}

/// <summary>The friction device.</summary>
public sealed record DeviceInput
{
    /// <summary>Turns of rope on the device (quarters as 0.25).</summary>
    public required double Wraps { get; init; }

    /// <summary>Friction coefficient of rope on the device.</summary>
    public double Friction { get; init; } = 0.22;

    /// <summary>Horizontal position of the device, m from the spar's axis toward the fall.</summary>
    public required double X { get; init; }

    /// <summary>Height of the device, m.</summary>
    public required double Z { get; init; }

    /// <summary>True where the device is fixed to the spar; false on another tree or a truck.</summary>
    public bool OnSpar { get; init; } = true;

    /// <summary>Diameter of the bollard, m; null where unknown.</summary>
    public double? BollardDiameter { get; init; }
}

/// <summary>What is done with the rope.</summary>
public enum CatchKind
{
    /// <summary>Locked off.</summary>
    HardStop,

    /// <summary>Full hand from the start.</summary>
    Held,

    /// <summary>Rope given, then braked.</summary>
    LetRun,
}

/// <summary>When the hand's reaction begins.</summary>
public enum Cue
{
    /// <summary>The hinge breaks.</summary>
    HingeBreaks,

    /// <summary>The load leg comes taut.</summary>
    LoadLegTaut,

    /// <summary>The device first runs.</summary>
    DeviceRuns,
}

/// <summary>A point of the braking plan.</summary>
/// <param name="Run">Rope run since braking began, m.</param>
/// <param name="Force">Hand force, N.</param>
public readonly record struct BrakePoint(double Run, double Force);

/// <summary>What is done with the rope, mishaps included.</summary>
public sealed record CatchInput
{
    /// <summary>Hard stop, held or let run.</summary>
    public required CatchKind Kind { get; init; }

    /// <summary>Hand force before the hand reacts, N.</summary>
    public double LightForce { get; init; } = 30;

    /// <summary>Largest force the hand can hold, N.</summary>
    public double GripForce { get; init; } = 250;

    /// <summary>Braking plan; constant outside its points; at least one point.</summary>
    public IReadOnlyList<BrakePoint> Brake { get; init; } = [new(0, 30), new(0.5, 30), new(2, 250)];

    /// <summary>Rope run at which braking is meant to begin, m.</summary>
    public double BrakeFrom { get; init; }

    /// <summary>Fastest rise of the hand's force, N/s.</summary>
    public double ForceRate { get; init; } = 500;

    /// <summary>Cue for the hand.</summary>
    public Cue Cue { get; init; } = Cue.HingeBreaks;

    /// <summary>Reaction time after the cue, s; 0 where the catch is set beforehand.</summary>
    public double ReactionTime { get; init; }

    /// <summary>Weight of the rope that hangs on the hand side, N; the hand force never falls below it.</summary>
    public double HangingRopeWeight { get; init; } = 10;

    /// <summary>Mishap: the hand side snags after this much rope run, m; null for none.</summary>
    public double? SnagAfterRun { get; init; }

    /// <summary>Mishap: wraps on the device change (one jumps off) at this time after hinge break, s; null for none.</summary>
    public double? WrapsChangeTime { get; init; }

    /// <summary>Mishap: wraps after <see cref="WrapsChangeTime"/>.</summary>
    public double WrapsAfterChange { get; init; }

    /// <summary>Mishap: the hand is lost at this time after hinge break, s; null for none.</summary>
    public double? HandLostTime { get; init; }

    /// <summary>Mishap: the hand grips in full at this time after hinge break, s; null for none.</summary>
    public double? GripEarlyTime { get; init; }

    /// <summary>True where something goes wrong in this catch.</summary>
    public bool HasMishap => SnagAfterRun is not null || WrapsChangeTime is not null || HandLostTime is not null || GripEarlyTime is not null;
}

/// <summary>An obstacle: an upright rectangle in the plane of the fall.</summary>
/// <param name="Name">What it is.</param>
/// <param name="XFrom">Near side, m from the spar's axis.</param>
/// <param name="XTo">Far side, m.</param>
/// <param name="ZFrom">Lower edge, m.</param>
/// <param name="ZTo">Upper edge, m.</param>
public sealed record ObstacleInput(string Name, double XFrom, double XTo, double ZFrom, double ZTo);

/// <summary>Ground and obstacles.</summary>
public sealed record SiteInput
{
    /// <summary>Obstacles; the ground is always there at z = 0.</summary>
    public IReadOnlyList<ObstacleInput> Obstacles { get; init; } = [];
}

/// <summary>Strengths, new and dry, as far as they are known; null stays "unknown".</summary>
public sealed record StrengthInput
{
    /// <summary>Breaking strength of the rope, N.</summary>
    public double? Rope { get; init; }

    /// <summary>Strength left at the hitch's knot, 0 to 1.</summary>
    public double? KnotEfficiency { get; init; }

    /// <summary>Strength left over the ring or sheave's bend, 0 to 1.</summary>
    public double? RingBendEfficiency { get; init; }

    /// <summary>Strength left over the bollard's bend, 0 to 1.</summary>
    public double? BollardBendEfficiency { get; init; }

    /// <summary>Factor for wet rope, 0 to 1.</summary>
    public double WetFactor { get; init; } = 1;

    /// <summary>Factor for age and use, 0 to 1.</summary>
    public double AgeFactor { get; init; } = 1;

    /// <summary>Breaking strength of the sling as configured, N.</summary>
    public double? Sling { get; init; }

    /// <summary>Breaking strength of the ring or block, N.</summary>
    public double? RingOrBlock { get; init; }

    /// <summary>Breaking strength of the device or its strap, N.</summary>
    public double? Device { get; init; }

    /// <summary>The user's own design factor (breaking strength / allowed force); null where none is stated.</summary>
    public double? DesignFactor { get; init; }

    /// <summary>True to end the run where a tension exceeds the rope's breaking strength at its worst place.</summary>
    public bool BreakRope { get; init; } = true;
}

/// <summary>How the drop is computed.</summary>
public sealed record ComputationInput
{
    /// <summary>Spar modes kept, 1 to 8.</summary>
    public int Modes { get; init; } = 3;

    /// <summary>Beam elements, 4 to 200.</summary>
    public int Elements { get; init; } = 24;

    /// <summary>Longest time simulated, s from the start.</summary>
    public double EndTime { get; init; } = 8;

    /// <summary>True to end the run once settled.</summary>
    public bool StopWhenSettled { get; init; } = true;

    /// <summary>Relative tolerance of the integrator.</summary>
    public double RelativeTolerance { get; init; } = 1e-6;

    /// <summary>Contact stiffness k, N/m^1.5.</summary>
    public double ContactStiffness { get; init; } = 1e6;

    /// <summary>Contact damping d, s/m: 0.7 gives a restitution of about 0.4 at 3 m/s (from memory, no source).</summary>
    public double ContactDamping { get; init; } = 0.7;

    /// <summary>Friction coefficient where piece and spar touch, 0 or more (from memory, no source).</summary>
    public double ContactFriction { get; init; } = 0.3;

    /// <summary>Speed along the touching sides at which that friction has 0.71 of its full value, m/s: below it the touch counts as still. Choice of this model.</summary>
    public double ContactStillSpeed { get; init; } = 0.05;

    /// <summary>Gravity, m/s2.</summary>
    public double Gravity { get; init; } = 9.80665;

    /// <summary>Density of air, kg/m3.</summary>
    public double AirDensity { get; init; } = 1.2;
}
