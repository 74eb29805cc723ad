using DropSim.Model;
using MathNet.Numerics.RootFinding;

namespace DropSim.Validation.Measured;

/// <summary>
/// A mass dropped on a short textile link that is fast at its other end (M. Gibbs (2005), Daisy chains and other lanyards; whole table read as it
/// stands in a public repository, some rows of the report are not in it). The program's rope law, one set of constants for a material, is fitted to
/// fall factors up to 1 and asked for the others.
/// </summary>
internal static class LanyardDrops
{
    public const double Gravity = 9.81;

    /// <summary>Program's defaults, s; so is the ratio of the relaxing branch.</summary>
    private const double RelaxationTime = ClimbingRopeSection.DefaultTime, ViscousTime = ClimbingRopes.ViscousTime;

    /// <summary>A link that ends longer than this share tore its stitches: another thing than a rope that stretches. Choice of this comparison.</summary>
    private const double TornStitches = 0.25;

    /// <summary>The material whose fall factors span most, and so the one that tells how the curve bends.</summary>
    public const string Spanning = "11/16 x 55 - Nylon - sewn";

    public static IReadOnlyList<LanyardDrop> All { get; } =
    [
        .. MeasuredTable.Read("lanyard-drops-2005.csv").Select(r => new LanyardDrop(
            r["material"], r.Number("length_cm") / 100, r.Number("mass_kg"), r.Number("drop_height_cm") / 100, r.Number("fall_factor"),
            r.Number("slide_cm") / 100, r.Number("final_length_cm") / 100, r.Number("peak_force_N"), r["failed_or_parted"].Length > 0)),
    ];

    /// <summary>Sewn links of one material that held, with drops up to fall factor 1 and beyond it.</summary>
    public static IReadOnlyList<LanyardFit> Fits { get; } =
    [
        .. All.Where(d => d.Material.EndsWith("sewn", StringComparison.Ordinal) && !d.Parted && d.Longer < TornStitches && d.FallFactor > 0)
            .Concat(All.Where(d => d.Material.StartsWith("70 x 1", StringComparison.Ordinal)))
            .GroupBy(d => d.Material)
            .Where(g => g.Any(d => d.FallFactor <= 1) && g.Any(d => d.FallFactor > 1))
            .Select(g => new LanyardFit(g.Key, [.. g])),
    ];

    /// <summary>S(e) = EA e (1 + e/b): the strain b at which a rope pulls twice what its first slope says, found from the spanning material.</summary>
    public static double Bend { get; } = FindBend();

    public static double Peak(LanyardDrop drop, RopeLaw law) =>
        new FallOnRope(new(drop.Mass, Math.Sqrt(2 * Gravity * drop.Height), drop.Length, 0, 1), law) { Gravity = Gravity }.Run(1, true).Peak.T1;

    /// <summary>The law with the program's defaults, straight or bent.</summary>
    /// <param name="lasting">EA, N.</param>
    /// <param name="bend">b; infinite for a straight rope.</param>
    public static RopeLaw Law(double lasting, double bend) => new(lasting, ClimbingRopeSection.Default.Value * lasting, RelaxationTime, ViscousTime)
    {
        Curve = double.IsInfinity(bend) ? [] : [.. Enumerable.Range(1, 12).Select(k => 0.05 * k).Select(e => new StretchPoint(e, lasting * e * (1 + (e / bend))))],
    };

    /// <summary>EA at which the computed peaks of some drops are right in the geometric mean, N.</summary>
    public static double FitLasting(IReadOnlyCollection<LanyardDrop> drops, double bend) => Math.Exp(Brent.FindRoot(
        x => drops.Average(d => Math.Log(Peak(d, Law(Math.Exp(x), bend)) / d.Peak)), Math.Log(500), Math.Log(1e6), 1e-5));

    /// <summary>Secant stiffness by the impact formula: F = W + sqrt(W^2 + 2 W EA f), N.</summary>
    public static double Secant(LanyardDrop drop, double force)
    {
        var weight = drop.Mass * Gravity;
        return force * (force - (2 * weight)) / (2 * weight * drop.Height / drop.Length);
    }

    /// <summary>How far identical drops lie apart: same material, mass and fall factor, lengths within 2 %; ln of the ratio of the peaks.</summary>
    public static IReadOnlyList<double> Repeats { get; } =
    [
        .. All.SelectMany((a, i) => All.Skip(i + 1)
            .Where(b => a.Material == b.Material && !a.Material.EndsWith("tied", StringComparison.Ordinal) && a.Mass == b.Mass && a.FallFactor == b.FallFactor && Math.Abs(a.Length - b.Length) < 0.02 * a.Length)
            .Select(b => Math.Abs(Math.Log(a.Peak / b.Peak)))),
    ];

    /// <summary>Tied loops with a friction hitch: how much longer they end, as a length plus a share of the hitch's slide; least squares.</summary>
    public static (int Rows, double Length, double PerSlide, double Deviation) Knots()
    {
        var rows = All.Where(d => d.Material.EndsWith("tied", StringComparison.Ordinal) && double.IsFinite(d.Slide) && double.IsFinite(d.Final)).ToArray();
        var (slide, longer) = (rows.Average(d => d.Slide), rows.Average(d => d.Final - d.Length));
        var per = rows.Sum(d => (d.Slide - slide) * (d.Final - d.Length - longer)) / rows.Sum(d => (d.Slide - slide) * (d.Slide - slide));
        var length = longer - (per * slide);
        return (rows.Length, length, per, Math.Sqrt(rows.Sum(d => Math.Pow(d.Final - d.Length - length - (per * d.Slide), 2)) / (rows.Length - 2)));
    }

    private static double FindBend()
    {
        LanyardDrop[] drops = [.. All.Where(d => d.Material == Spanning && d.FallFactor <= 1)];
        double Misfit(double logBend)
        {
            var bend = Math.Exp(logBend);
            var lasting = FitLasting(drops, bend);
            return drops.Sum(d => Math.Pow(Math.Log(Peak(d, Law(lasting, bend)) / d.Peak), 2));
        }

        // Golden section from a bend of 2 % to one that is none.
        var (low, high) = (Math.Log(0.02), Math.Log(5));
        var golden = (Math.Sqrt(5) - 1) / 2;
        var (a, b) = (high - (golden * (high - low)), low + (golden * (high - low)));
        var (fa, fb) = (Misfit(a), Misfit(b));
        while (high - low > 0.01)
        {
            if (fa < fb)
            {
                (high, b, fb) = (b, a, fa);
                a = high - (golden * (high - low));
                fa = Misfit(a);
            }
            else
            {
                (low, a, fa) = (a, b, fb);
                b = low + (golden * (high - low));
                fb = Misfit(b);
            }
        }

        return Math.Exp((low + high) / 2);
    }
}

/// <summary>One drop.</summary>
/// <param name="Material">What the link was, without its maker.</param>
/// <param name="Length">m.</param>
/// <param name="Mass">kg.</param>
/// <param name="Height">Of free fall, m.</param>
/// <param name="FallFactor">Height over length.</param>
/// <param name="Slide">Of a friction hitch, m; NaN without one.</param>
/// <param name="Final">Length afterwards, m; NaN where not given.</param>
/// <param name="Peak">Largest force, N.</param>
/// <param name="Parted">It failed or parted.</param>
internal sealed record LanyardDrop(
    string Material, double Length, double Mass, double Height, double FallFactor, double Slide, double Final, double Peak, bool Parted)
{
    /// <summary>How much longer it ended, as a share; 0 where not given.</summary>
    public double Longer => double.IsFinite(Final) ? (Final / Length) - 1 : 0;
}

/// <summary>A material fitted to its drops up to fall factor 1.</summary>
internal sealed class LanyardFit
{
    private readonly Lazy<(double Straight, double Bent)> _lasting;

    public LanyardFit(string material, IReadOnlyList<LanyardDrop> drops)
    {
        (Material, Drops) = (material, drops);
        LanyardDrop[] low = [.. drops.Where(d => d.FallFactor <= 1)];
        _lasting = new(() => (LanyardDrops.FitLasting(low, double.PositiveInfinity), LanyardDrops.FitLasting(low, LanyardDrops.Bend)));
    }

    public string Material { get; }

    public IReadOnlyList<LanyardDrop> Drops { get; }

    /// <summary>EA of the straight law and of the bent one, N.</summary>
    public (double Straight, double Bent) Lasting => _lasting.Value;

    /// <summary>Peaks by both laws, N.</summary>
    public (double Straight, double Bent) Predict(LanyardDrop drop) => (
        LanyardDrops.Peak(drop, LanyardDrops.Law(Lasting.Straight, double.PositiveInfinity)), LanyardDrops.Peak(drop, LanyardDrops.Law(Lasting.Bent, LanyardDrops.Bend)));
}
