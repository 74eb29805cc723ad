using DropSim.Model;

namespace DropSim.Benchmarks;

/// <summary>The reference drop: a log of 150 kg cut 9 m up, three spar modes, 8 s, no take-up, never stopped early.</summary>
internal static class MediumLog
{
    public static DropInput With(CatchKind kind) => new()
    {
        // A cylinder of 0.40 m x 1.25 m: I = m (3 r^2 + L^2) / 12.
        Piece = new()
        {
            Mass = 150,
            Length = 1.25,
            ButtDiameter = 0.40,
            TipDiameter = 0.40,
            CentreOfGravity = 0.625,
            Inertia = 150 * ((3 * 0.2 * 0.2) + (1.25 * 1.25)) / 12,
            HitchHeight = 0.30,
            BareLength = 1.25,
        },
        Start = new(),
        Spar = new() { Height = 9, Diameters = [new(0, 0.55), new(9, 0.40)], Density = 900, Modulus = 9e9 },
        RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },
        Rope = new() { Diameter = 0.014, Stiffness = 220e3, TotalLength = 45 },
        Device = new() { Wraps = 2.5, X = 0.425, Z = 1 },
        Catch = new() { Kind = kind },
        Computation = new() { StopWhenSettled = false },
    };
}
