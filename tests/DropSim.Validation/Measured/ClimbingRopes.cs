using MathNet.Numerics.RootFinding;

namespace DropSim.Validation.Measured;

/// <summary>
/// The model's rope law run through the standard fall of climbing ropes (EN 892: 80 kg fall 4.8 m on 2.8 m of rope, 0.3 m of it behind
/// the edge), with the values that makers declared for 101 ropes of a 2011 catalogue (data set `ropes` of the R package plsdepot; whole table
/// read). EA is taken from the declared static stretch; the relaxing part is what the declared impact force then asks for.
/// </summary>
internal static class ClimbingRopes
{
    public const double Mass = 80, Height = 4.8, Free = 2.5, Behind = 0.3, Gravity = 9.81;

    /// <summary>Thinner ropes (two of them) are tested as half ropes are: left out, m.</summary>
    private const double Thinnest = 9.1e-3;

    /// <summary>The program's default, which no scenario need change: s.</summary>
    public const double ViscousTime = 2e-3;

    public static IReadOnlyList<ClimbingRope> Declared { get; } =
    [
        .. MeasuredTable.Read("climbing-ropes-2011.csv").Select(r => new ClimbingRope(
            r.Number("diameter_mm") / 1000, r.Number("impact_force_kN") * 1000, r.Number("static_elongation_percent") / 100, r.Number("dynamic_elongation_percent") / 100))
            .Where(r => r.Diameter >= Thinnest - 1e-9),
    ];

    private static readonly Dictionary<double, IReadOnlyList<FittedRope>> s_fits = new() { [0.1] = Fit(0.1), [0.3] = Fit(0.3), [1] = Fit(1) };

    /// <summary>Every rope with the relaxing part that its declared impact force asks for at a relaxation time (0.1, 0.3 or 1 s).</summary>
    public static IReadOnlyList<FittedRope> Fitted(double relaxationTime) => s_fits[relaxationTime];

    /// <summary>The standard fall on a rope.</summary>
    public static RopeTrace Fall(double lasting, double relaxing, double relaxationTime) => new FallOnRope(
        new(Mass, Math.Sqrt(2 * Gravity * Height), Free, Behind, StandardFall.Ratio), new(lasting, relaxing, relaxationTime, ViscousTime)).Run(1, true);

    private static IReadOnlyList<FittedRope> Fit(double relaxationTime) => [.. Declared.AsParallel().AsOrdered().Select(rope =>
    {
        double Excess(double relaxing) => Fall(rope.Lasting, relaxing, relaxationTime).Peak.T1 - rope.ImpactForce;

        // From no relaxing part to one of 200 kN; a fit to 1 N, where forces are declared to 100 N.
        var relaxing = Brent.FindRoot(Excess, 0, 200e3, 1);
        return new FittedRope(rope, relaxing, Fall(rope.Lasting, relaxing, relaxationTime).Travel / (Free + Behind));
    })];
}

/// <summary>A rope's declared values.</summary>
/// <param name="Diameter">m.</param>
/// <param name="ImpactForce">Of the first standard fall, N.</param>
/// <param name="StaticStretch">Under 80 kg, a share.</param>
/// <param name="DynamicStretch">Largest in the first standard fall, a share.</param>
internal sealed record ClimbingRope(double Diameter, double ImpactForce, double StaticStretch, double DynamicStretch)
{
    /// <summary>Lasting stiffness EA, N.</summary>
    public double Lasting => ClimbingRopes.Mass * ClimbingRopes.Gravity / StaticStretch;
}

/// <summary>A rope fitted to its impact force.</summary>
/// <param name="Rope">As declared.</param>
/// <param name="Relaxing">E_m, N.</param>
/// <param name="Stretch">Largest in the computed fall, a share of all rope.</param>
internal sealed record FittedRope(ClimbingRope Rope, double Relaxing, double Stretch)
{
    /// <summary>E_m / EA.</summary>
    public double Ratio => Relaxing / Rope.Lasting;

    /// <summary>Stiffness in a jerk EA + E_m, N.</summary>
    public double InAJerk => Rope.Lasting + Relaxing;

    /// <summary>E_m / (EA + E_m).</summary>
    public double Share => Relaxing / InAJerk;

    /// <summary>Computed over declared stretch.</summary>
    public double StretchOverDeclared => Stretch / Rope.DynamicStretch;
}
