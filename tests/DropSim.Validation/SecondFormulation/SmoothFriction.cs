using MathNet.Numerics.RootFinding;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// Friction as a steep smooth function of the slip speed: nothing ever sticks, it creeps at a fraction of a small speed.
///   over the rigging point   T1 = T2 rho^tanh(v / eps)
///   at the device            T2 = K tanh(v_d / eps), v_d of 0 or more
///   at the hitch             T1 = T_h tanh(v_h / eps), v_h of 0 or more
/// No branches: one monotone equation for v, solved by MathNet's Brent.
/// </summary>
internal static class SmoothFriction
{
    /// <summary>A leg: its pull falls by <see cref="PerSpeed"/> for each m/s of rope that enters it; a slack one has neither.</summary>
    internal readonly record struct Leg(double Pull, double PerSpeed);

    internal readonly record struct Result(double T1, double T2, double Slip, double Hitch, double Device);

    /// <summary>Tensions and speeds of slip.</summary>
    /// <param name="load">Load leg.</param>
    /// <param name="ground">Ground leg.</param>
    /// <param name="logRatio">ln rho at the rigging point.</param>
    /// <param name="hitch">T_h; infinite where the hitch is solid.</param>
    /// <param name="device">K; infinite where it is locked.</param>
    /// <param name="eps">Speed over which friction turns round, m/s.</param>
    public static Result Solve(Leg load, Leg ground, double logRatio, double hitch, double device, double eps)
    {
        var low = ground.PerSpeed > 0 ? -ground.Pull / ground.PerSpeed : 0;
        var high = load.PerSpeed > 0 ? load.Pull / load.PerSpeed : 0;
        if (load.PerSpeed == 0 || ground.PerSpeed == 0 || low >= high)
        {
            // One leg pulls nothing: a stretched one runs free, an unstretched one stays where it is.
            var free = load.PerSpeed == 0 ? Math.Min(low, 0) : ground.PerSpeed == 0 ? Math.Max(high, 0) : low > 0 ? low : Math.Min(high, 0);
            return new(0, 0, free, 0, 0);
        }

        double Excess(double v) => End(load, v, hitch, eps).Tension - (End(ground, -v, device, eps).Tension * Math.Exp(logRatio * Math.Tanh(v / eps)));
        if (!Brent.TryFindRoot(Excess, low, high, SpeedAccuracy, MostIterations, out var slip))
        {
            throw new InvalidOperationException("The friction law has no answer between a slack load leg and a slack ground leg.");
        }

        var (t1, given) = End(load, slip, hitch, eps);
        var (t2, run) = End(ground, -slip, device, eps);
        return new(t1, t2, slip, given, run);
    }

    /// <summary>Tension of a leg and rope given at its end, where so much enters over the rigging point: pull - b (v + x) = limit tanh(x / eps).</summary>
    private static (double Tension, double Given) End(Leg leg, double entering, double limit, double eps)
    {
        var held = leg.Pull - (leg.PerSpeed * entering);
        if (held <= 0 || double.IsPositiveInfinity(limit))
        {
            return (Math.Max(0, held), 0);
        }

        // Rising in x on both sides: Newton from the left of a concave law would overshoot, so it is kept between bounds.
        double low = 0;
        var high = held / leg.PerSpeed;
        var x = Math.Max(low, Math.Min(high, (held - limit) / leg.PerSpeed));
        for (var i = 0; i < MostIterations; i++)
        {
            var tanh = Math.Tanh(x / eps);
            var gap = held - (leg.PerSpeed * x) - (limit * tanh);
            if (gap > 0)
            {
                low = x;
            }
            else
            {
                high = x;
            }

            var next = x + (gap / (leg.PerSpeed + (limit * (1 - (tanh * tanh)) / eps)));
            next = next > low && next < high ? next : (low + high) / 2;
            if (Math.Abs(next - x) <= 1e-14 * (1 + x))
            {
                break;
            }

            x = next;
        }

        return (held - (leg.PerSpeed * x), x);
    }

    private const int MostIterations = 200;

    /// <summary>m/s: in a ten-millionth of the steepest law below.</summary>
    private const double SpeedAccuracy = 1e-11;
}
