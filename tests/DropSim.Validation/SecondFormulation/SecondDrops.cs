using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>Drops that both formulations compute.</summary>
internal static class SecondDrops
{
    /// <summary>150 kg, 1.25 m long, from 9 m up, locked off (an ordinary piece with ordinary settings: common practice, no source).</summary>
    public static DropInput MediumLog { get; } = Log();

    public static DropInput On(this DropInput drop, bool rigid) => drop with { Spar = drop.Spar with { Rigid = rigid } };

    /// <summary>250 N on the hand side from the start, over two and a half turns.</summary>
    public static DropInput Held(this DropInput drop) => drop with { Catch = new() { Kind = CatchKind.Held, GripForce = 250 } };

    /// <summary>More friction at the device: 250 N then hold all that comes.</summary>
    public static DropInput Gripping(this DropInput drop) => drop with { Device = drop.Device with { Friction = 0.22 } };

    /// <summary>A knot that gives 150 mm between 2 and 9 kN.</summary>
    public static DropInput Knotted(this DropInput drop) => drop with { Rope = drop.Rope with { HitchTakeUp = new(0.15, 2_000, 9_000) } };

    /// <summary>No face cut: slid out over the edge, let go at a lean of so many degrees or where the edge would have to pull; a little more slack.</summary>
    public static DropInput Pushed(this DropInput drop, double release) => drop with
    {
        Start = drop.Start with { Kind = StartKind.PushedOff, ReleaseAngle = release * Math.PI / 180 },
        Rope = drop.Rope with { Slack = 0.5 },
    };

    /// <summary>A rigging point farther below the cut, more slack, another angle of release: other corners hit first.</summary>
    public static DropInput Far(this DropInput drop, double below, double slack, double release = 55) => drop with
    {
        RiggingPoint = drop.RiggingPoint with { BelowCut = below },
        Rope = drop.Rope with { Slack = slack },
        Start = drop.Start with { ReleaseAngle = release * Math.PI / 180 },
    };

    private static DropInput Log()
    {
        // An even cylinder: V = pi d2 L / 4, I = m (L2 / 12 + d2 / 16).
        const double Length = 1.25, Diameter = 0.40, Cut = 9, Foot = 0.55;
        var mass = 950 * Math.PI * Diameter * Diameter * Length / 4;
        return new()
        {
            Piece = new()
            {
                Mass = mass,
                Length = Length,
                ButtDiameter = Diameter,
                TipDiameter = Diameter,
                CentreOfGravity = Length / 2,
                Inertia = mass * ((Length * Length / 12) + (Diameter * Diameter / 16)),
                HitchHeight = 0.3,
                BareLength = Length,
            },
            Start = new() { ReleaseAngle = 55 * Math.PI / 180 },
            Spar = new() { Height = Cut, Diameters = [new(0, Foot), new(Cut, Diameter)], Density = 900, Modulus = 9e9 },
            RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },
            Rope = new() { Diameter = 0.014, Stiffness = 220e3 },

            // So little friction that a hand of 250 N lets it run.
            Device = new() { Wraps = 2.5, Friction = 0.175, X = (Foot / 2) + 0.15, Z = 1 },
            Catch = new() { Kind = CatchKind.HardStop },
        };
    }
}
