using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Four drops that the tests of the model share: ordinary pieces with ordinary settings (common practice, no source),
/// without take-up, so that a hard stop is as hard as the model makes it.
/// </summary>
internal static class SampleDrops
{
    private const double LogDensity = 950;
    private const double Degrees = Math.PI / 180;

    /// <summary>50 kg, 1.15 m, from 10 m up.</summary>
    public static DropInput LightLog { get; } = Log(
        length: 1.15, diameter: 0.24, cut: 10, baseDiameter: 0.40, belowCut: 0.3, standOff: 0.06, hitch: 0.25, release: 50,
        stiffness: 150e3, ropeDiameter: 0.012, wraps: 1.5);

    /// <summary>150 kg, 1.25 m, from 9 m up.</summary>
    public static DropInput MediumLog { get; } = Log(
        length: 1.25, diameter: 0.40, cut: 9, baseDiameter: 0.55, belowCut: 0.4, standOff: 0.08, hitch: 0.30, release: 55,
        stiffness: 220e3, ropeDiameter: 0.014, wraps: 2.5);

    /// <summary>500 kg, 1.6 m, from 7 m up.</summary>
    public static DropInput HeavyLog { get; } = Log(
        length: 1.6, diameter: 0.65, cut: 7, baseDiameter: 0.85, belowCut: 0.5, standOff: 0.10, hitch: 0.40, release: 55,
        stiffness: 380e3, ropeDiameter: 0.020, wraps: 3.5);

    /// <summary>150 kg, 6 m long, from 12 m up.</summary>
    public static DropInput Top { get; } = MediumLog with
    {
        Piece = new()
        {
            Kind = PieceKind.Top,
            Mass = 150,
            Length = 6,
            ButtDiameter = 0.22,
            TipDiameter = 0.03,
            CentreOfGravity = 2.4,
            Inertia = 386,
            HitchHeight = 0.35,
            BareLength = 2,
            CrownHalfWidth = 1,
            DragArea = 0,
        },
        Start = new() { ReleaseAngle = 75 * Degrees },
        Spar = MediumLog.Spar with { Height = 12, Diameters = [new(0, 0.45), new(12, 0.22)] },
        RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },
        Device = new() { Wraps = 2.5, X = 0.225 + 0.15, Z = 1 },
    };

    /// <summary>The same drop locked off.</summary>
    public static DropInput HardStop(this DropInput drop) => drop with { Catch = new() { Kind = CatchKind.HardStop } };

    /// <summary>The same drop with another rope.</summary>
    public static DropInput WithRope(this DropInput drop, Func<RopeInput, RopeInput> change) => drop with { Rope = change(drop.Rope) };

    /// <summary>The same drop with another rigging point.</summary>
    public static DropInput WithRiggingPoint(this DropInput drop, Func<RiggingPointInput, RiggingPointInput> change) =>
        drop with { RiggingPoint = change(drop.RiggingPoint) };

    /// <summary>The same drop with another spar.</summary>
    public static DropInput WithSpar(this DropInput drop, Func<SparInput, SparInput> change) => drop with { Spar = change(drop.Spar) };

    private static DropInput Log(
        double length, double diameter, double cut, double baseDiameter, double belowCut, double standOff, double hitch, double release,
        double stiffness, double ropeDiameter, double wraps)
    {
        // An even cylinder: V = pi d2 L / 4, I = m (L2 / 12 + d2 / 16).
        var mass = LogDensity * Math.PI * diameter * diameter * length / 4;
        return new()
        {
            Piece = new()
            {
                Mass = mass,
                Length = length,
                ButtDiameter = diameter,
                TipDiameter = diameter,
                CentreOfGravity = length / 2,
                Inertia = mass * ((length * length / 12) + (diameter * diameter / 16)),
                HitchHeight = hitch,
                BareLength = length,
            },
            Start = new() { ReleaseAngle = release * Degrees },
            Spar = new() { Height = cut, Diameters = [new(0, baseDiameter), new(cut, diameter)], Density = 900, Modulus = 9e9 },
            RiggingPoint = new() { BelowCut = belowCut, StandOff = standOff },
            Rope = new() { Diameter = ropeDiameter, Stiffness = stiffness },
            Device = new() { Wraps = wraps, X = (baseDiameter / 2) + 0.15, Z = 1 },
            Catch = new() { Kind = CatchKind.LetRun },
        };
    }
}
