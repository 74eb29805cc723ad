namespace DropSim.Validation.Measured;

/// <summary>
/// The standard falls of climbing ropes (EN 892) and of low-stretch ropes (EN 1891), computed with the climbing rope of the measured fall
/// and with the impact formula.
/// </summary>
internal static class StandardFall
{
    /// <summary>80 kg, 4.6 m of fall on 2.6 m of rope (secondary: an encyclopaedia's account of EN 892).</summary>
    public const double Mass = 80;

    public const double Fall = 4.6;

    public const double Length = 2.6;

    /// <summary>Rope between the fixed end and the edge: half the difference between fall and twice the length leaves 0.3 m (4.6 / 2 = 2.3 m above the edge).</summary>
    private const double BehindEdge = Length - (Fall / 2);

    /// <summary>Ratio over the test's edge in common climbing usage, 1 / 0.66 (secondary).</summary>
    public const double Ratio = 1 / 0.66;

    private const double Gravity = 9.81;

    /// <summary>Largest force and dynamic elongation of a single rope that EN 892:2004 accepts (read in a summary of the standard).</summary>
    public const double MostForce = 12_000;

    public const double MostElongation = 0.40;

    /// <summary>Dynamic elongation of modern ropes (secondary).</summary>
    public static Reading Elongation { get; } = new(0.28, 0.35);

    public static RopeTrace Run() => new FallOnRope(
        new(Mass, Math.Sqrt(2 * Gravity * Fall), Length - BehindEdge, BehindEdge, Ratio), RopeFall.Rope).Run(2, true);

    /// <summary>Stretch under 80 kg hung for long, as a share (a hanging weight takes out the relaxing branch).</summary>
    public static double StaticElongation => Mass * Gravity / RopeFall.Rope.Lasting;

    /// <summary>The impact formula with a modulus.</summary>
    public static double Formula(double mass, double modulus, double fallFactor)
    {
        var weight = mass * Gravity;
        return weight + Math.Sqrt((weight * weight) + (2 * weight * modulus * fallFactor));
    }

    /// <summary>
    /// EN 1891 type A (secondary): at most 5 % between 50 and 150 kg, and at most 6 kN for 100 kg at fall factor 0.3. The largest
    /// ratio of dynamic to static stiffness that a rope of exactly 5 % may have and still keep 6 kN.
    /// </summary>
    public static double LowStretchDynamicRatio
    {
        get
        {
            const double Force = 6_000, Factor = 0.3, Weight = 100 * Gravity;
            var fixedModulus = Force * (Force - (2 * Weight)) / (2 * Weight * Factor);
            return fixedModulus / (Weight / 0.05);
        }
    }
}
