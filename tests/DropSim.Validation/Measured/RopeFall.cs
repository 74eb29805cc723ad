namespace DropSim.Validation.Measured;

/// <summary>
/// A measured fall over a deflection point with friction (German Alpine Club safety research, in U. Leuthaeusser, "Physics of climbing
/// ropes - part 3", 2012, p. 24, eq. 7.1; first page read, these numbers from a page-referenced digest).
/// </summary>
internal static class RopeFall
{
    // Rope on the belayer's and on the faller's side of the deflection point, m; speed at tightening, m/s; ratio of the tensions.
    private const double Belayer = 6.95;
    private const double Faller = 3.40;
    private const double Speed = 9.185;
    public const double Ratio = 1.46;

    // The whole rope as a standard linear solid, fitted by the source: N/m, N/m, N s/m.
    private const double K1 = 1_800;
    private const double K2 = 3_200;
    private const double Eta = 800;

    /// <summary>Readings of the measured curves' peaks, N: without slip at the belayer.</summary>
    public static Reading AtFaller { get; } = new(4_400, 4_500);

    /// <summary>"About 3.0 kN": taken as half a reading either way.</summary>
    public static Reading AtBelayer { get; } = new(2_950, 3_050);

    public static Reading AtDeflection { get; } = new(7_400, 7_500);

    public static RopeLaw Rope { get; } = RopeLaw.StandardLinear(K1, K2, Eta, Belayer + Faller);

    /// <summary>The fall, forces and speeds scaled down by a share so that strains are small; 1 for the fall itself.</summary>
    public static RopeTrace Run(double share, double until, bool stopAtTurn) =>
        new FallOnRope(new(82, Speed * share, Faller, Belayer, Ratio), Rope) { Gravity = 9.81 * share }.Run(until, stopAtTurn);
}

/// <summary>A value read off a measured curve, between two bounds.</summary>
internal readonly record struct Reading(double Low, double High)
{
    /// <summary>How far a value lies outside, as a share of the nearer bound; 0 inside.</summary>
    public double Outside(double value) => value < Low ? (value / Low) - 1 : value > High ? (value / High) - 1 : 0;
}
