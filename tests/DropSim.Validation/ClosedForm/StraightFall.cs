using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// A drop of which everything is known in closed form, as an ordinary input for the whole program: a piece without a lever arm falls
/// straight past a rigging point right below it, onto a rope whose other leg hangs straight down beside it.
/// The centre of gravity is at the hitch, right over the spar's edge, the rigging point at the same x; the piece is pushed off with
/// a lean of a ten-millionth of a radian; the spar is rigid, thickens upward so that the butt is clear of it, and is soft to touch.
/// </summary>
internal sealed record StraightFall
{
    /// <summary>Half the piece's length: distance from cut to hitch and centre of gravity, m.</summary>
    private const double Half = 0.2;

    /// <summary>Radius of the spar at the cut, and so x of piece, rigging point and device, m.</summary>
    private const double X = 0.2;

    /// <summary>Height of the cut, m: nothing here falls so far.</summary>
    private const double Cut = 60;

    public double Mass { get; init; } = 80;

    /// <summary>EA, N.</summary>
    public double Stiffness { get; init; } = 20_000;

    public double RelaxingRatio { get; init; }

    public double RelaxationTime { get; init; } = 0.3;

    public double ViscousTime { get; init; } = 1e-4;

    public double Gravity { get; init; } = 9.81;

    /// <summary>Height of the hitch above the rigging point at the start, more than 0.2, m. Without slack the load leg is as long.</summary>
    public double Above { get; init; } = 2;

    public double Slack { get; init; }

    /// <summary>Length of the ground leg, m.</summary>
    public double GroundLeg { get; init; } = 8;

    public double Friction { get; init; }

    /// <summary>Turns on the device.</summary>
    public double Wraps { get; init; } = 1;

    public double DeviceFriction { get; init; } = 0.175;

    public double DragArea { get; init; }

    public CatchInput Catch { get; init; } = new() { Kind = CatchKind.HardStop };

    public TakeUpInput HitchTakeUp { get; init; } = TakeUpInput.None;

    /// <summary>Computed after the fall, s.</summary>
    public double Afterwards { get; init; } = 1;

    public double Tolerance { get; init; } = 1e-9;

    /// <summary>Drop until the rope is straight, m: down to the rigging point and a load leg farther.</summary>
    public double Drop => (2 * Above) + Slack;

    /// <summary>Natural length of both legs, m.</summary>
    public double RopeLength => Above + Slack + GroundLeg;

    public double Weight => Mass * Gravity;

    /// <summary>Speed at which the rope comes straight, m/s.</summary>
    public double Speed => Math.Sqrt(2 * Gravity * Drop);

    /// <summary>Time of the free fall, s.</summary>
    public double FallTime => Math.Sqrt(2 * Drop / Gravity);

    public DropRun Run() => DropSimulator.Run(Input());

    public DropInput Input() => new()
    {
        Piece = new()
        {
            Mass = Mass,
            Length = 2 * Half,
            ButtDiameter = 0.2,
            TipDiameter = 0.2,
            CentreOfGravity = Half,
            SidewaysOffset = 0.1,
            Inertia = Mass * 0.02,
            HitchHeight = Half,
            BareLength = 2 * Half,
            DragArea = DragArea,
        },

        // The push is so slow, and its lean so small, that the piece has moved by 1e-7 m when it leaves the edge.
        Start = new() { Kind = StartKind.PushedOff, LeanPastBalance = 1e-7, ReleaseAngle = 2e-7, PushSpeed = 1e-6 * Half },
        Spar = new()
        {
            Height = Cut,
            Diameters = [new(0, X), new(Cut, 2 * X)],
            Density = 900,
            Modulus = 9e9,
            Rigid = true,
            ClimberMass = 0,
        },
        RiggingPoint = new() { BelowCut = Above - Half, StandOff = X - Radius(Cut - (Above - Half)), Friction = Friction },
        Rope = new()
        {
            Diameter = 0.012,
            Stiffness = Stiffness,
            RelaxingStiffnessRatio = RelaxingRatio,
            RelaxationTime = RelaxationTime,
            ViscousTime = ViscousTime,
            Slack = Slack,
            HitchTakeUp = HitchTakeUp,
        },
        Device = new() { Wraps = Wraps, Friction = DeviceFriction, X = X, Z = Cut - (Above - Half) - GroundLeg, OnSpar = false },
        Catch = Catch,
        Computation = new()
        {
            Gravity = Gravity,
            ContactStiffness = 1e-9,
            StopWhenSettled = false,
            RelativeTolerance = Tolerance,
            EndTime = FallTime + Afterwards,
        },
    };

    private static double Radius(double z) => (X / 2) + (X / 2 * z / Cut);
}
