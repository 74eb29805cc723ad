using System.Runtime.CompilerServices;
namespace DropSim.Model;

/// <summary>Whether rope slips over the rigging point.</summary>
public enum RingState
{
    /// <summary>It sticks.</summary>
    Stick,

    /// <summary>It slips toward the piece: T1 = rho T2.</summary>
    Out,

    /// <summary>It slips toward the device: T2 = rho T1.</summary>
    Back,
}

/// <summary>One consistent set of choices in the friction network.</summary>
/// <param name="LoadTaut">The load leg pulls, or is straight and runs free.</param>
/// <param name="GroundTaut">The ground leg pulls, or is straight and runs free.</param>
/// <param name="Ring">Stick or slip at the rigging point.</param>
/// <param name="HitchDraws">Rope is drawn out of the tightening knot.</param>
/// <param name="DeviceGives">Rope passes the device, or is drawn out of its tightening wraps.</param>
public readonly record struct NetworkBranch(bool LoadTaut, bool GroundTaut, RingState Ring, bool HitchDraws, bool DeviceGives)
{
    /// <summary>Whether all choices are the same.</summary>
    /// <param name="other">Another branch.</param>
    public bool Equals(NetworkBranch other) =>
        LoadTaut == other.LoadTaut && GroundTaut == other.GroundTaut && Ring == other.Ring && HitchDraws == other.HitchDraws && DeviceGives == other.DeviceGives;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(LoadTaut, GroundTaut, Ring, HitchDraws, DeviceGives);
}

/// <summary>
/// The numbers of the friction network at one instant. Forces in N, slips in m/s. Set number by number where they lie: a copy would cost
/// an evaluation as much as the network itself.
/// </summary>
/// <param name="A1">Load-leg tension without slip.</param>
/// <param name="B1">Fall of the load-leg tension per slip into it, N s/m, positive.</param>
/// <param name="A2">Ground-leg tension without slip.</param>
/// <param name="B2">Rise of the ground-leg tension per slip out of it, N s/m, positive.</param>
/// <param name="Rho">Ratio of tensions at which rope slips over the rigging point, 1 or more.</param>
/// <param name="HitchCapacity">Tension at which the hitch draws; infinite where it is solid.</param>
/// <param name="DeviceCapacity">Tension at which the device gives rope; infinite where it is locked.</param>
public record struct NetworkNumbers(
    double A1, double B1, double A2, double B2, double Rho, double HitchCapacity, double DeviceCapacity)
{
    /// <summary>Rise of <see cref="HitchCapacity"/> per rope drawn out of the knot, N/m.</summary>
    public double HitchSlope { get; set; }

    /// <summary>Rise of <see cref="DeviceCapacity"/> per rope given, N/m.</summary>
    public double DeviceSlope { get; set; }

    /// <summary>Rise of <see cref="DeviceCapacity"/> in time by itself, N/s.</summary>
    public double DeviceRate { get; set; }

    /// <summary>Rise of <see cref="Rho"/> in time, 1/s.</summary>
    public double RhoRate { get; set; }
}

/// <summary>Tensions and slips of the friction network.</summary>
/// <param name="T1">Load-leg tension, N.</param>
/// <param name="T2">Ground-leg tension, N.</param>
/// <param name="Slip">v_r, rope over the rigging point toward the piece, m/s.</param>
/// <param name="Hitch">v_h, rope out of the hitch's knot, m/s.</param>
/// <param name="Device">v_d, rope past the device or out of its wraps, m/s.</param>
public readonly record struct NetworkFlow(double T1, double T2, double Slip, double Hitch, double Device);

/// <summary>
/// Two rope legs joined by a place where rope sticks or slips, with a knot at one end and a friction device at the other.
/// Equations (docs/theory/friction-network.md): T1 = A1 - B1 (v_r + v_h), T2 = A2 + B2 (v_r - v_d);
/// slip out at T1 = rho T2, back at T2 = rho T1; v_h > 0 only at T1 = T_h; v_d > 0 only at T2 = capacity.
/// Where rope slips and both ends give at once, T_h = rho x capacity: the two ends share the rope so that this stays true.
/// Because B1, B2 > 0, tensions follow from a straight line: no penalty stiffness, holding is exact holding.
/// </summary>
public static class FrictionNetwork
{
    /// <summary>Slips in one branch, its laws continued past where they hold.</summary>
    /// <param name="branch">The branch.</param>
    /// <param name="n">The numbers.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static NetworkFlow Flow(in NetworkBranch branch, in NetworkNumbers n)
    {
        if (!branch.LoadTaut)
        {
            // A slack load leg pulls nothing, and friction passes nothing of nothing: a straight ground leg runs free.
            return branch.GroundTaut ? new(0, 0, -n.A2 / n.B2, 0, 0) : default;
        }

        if (!branch.GroundTaut)
        {
            return new(0, 0, n.A1 / n.B1, 0, 0);
        }

        switch (branch.Ring)
        {
            case RingState.Stick:
                {
                    var (t1, hitch) = branch.HitchDraws ? (n.HitchCapacity, (n.A1 - n.HitchCapacity) / n.B1) : (n.A1, 0);
                    var (t2, device) = branch.DeviceGives ? (n.DeviceCapacity, (n.A2 - n.DeviceCapacity) / n.B2) : (n.A2, 0);
                    return new(t1, t2, 0, hitch, device);
                }

            case RingState.Out:
                return Slipping(branch, n, n.Rho, n.RhoRate);

            default:
                return Slipping(branch, n, 1 / n.Rho, -n.RhoRate / (n.Rho * n.Rho));
        }
    }

    /// <summary>
    /// How badly a branch breaks its own laws: 0 where it is consistent; forces are measured against <paramref name="forceScale"/>, slips against 1 m/s.
    /// The legs' own conditions (stretch) are not part of it, their pull is.
    /// </summary>
    /// <param name="branch">The branch.</param>
    /// <param name="n">The numbers.</param>
    /// <param name="flow">Its flow.</param>
    /// <param name="forceScale">A force that matters, N.</param>
    public static double Violation(in NetworkBranch branch, in NetworkNumbers n, in NetworkFlow flow, double forceScale)
    {
        // What is not a number is not above 0: it must not pass for consistent.
        static double Below(double value, double scale) => value >= 0 ? 0 : -value / scale;

        if (!branch.LoadTaut || !branch.GroundTaut)
        {
            var odd = branch.HitchDraws || branch.DeviceGives || branch.Ring != RingState.Stick ? double.PositiveInfinity : 0;
            return Whole(odd
                + (branch.LoadTaut ? Below(n.A1, forceScale) : 0)
                + (branch.GroundTaut ? Below(n.A2, forceScale) : 0));
        }

        double sum = 0;
        if (branch.Ring != RingState.Stick && branch.HitchDraws && branch.DeviceGives)
        {
            var ratio = branch.Ring == RingState.Out ? n.Rho : 1 / n.Rho;
            sum = Math.Abs(n.HitchCapacity - (ratio * n.DeviceCapacity)) / forceScale;
        }

        sum += Below(flow.T1, forceScale) + Below(flow.T2, forceScale);
        sum += branch.Ring switch
        {
            RingState.Stick => Below((n.Rho * flow.T2) - flow.T1, forceScale) + Below((n.Rho * flow.T1) - flow.T2, forceScale),
            RingState.Out => Below(flow.Slip, 1),
            _ => Below(-flow.Slip, 1),
        };
        sum += branch.HitchDraws ? Below(flow.Hitch, 1) : Below(n.HitchCapacity - flow.T1, forceScale);
        sum += branch.DeviceGives ? Below(flow.Device, 1) : Below(n.DeviceCapacity - flow.T2, forceScale);
        return Whole(sum);

        static double Whole(double sum) => double.IsFinite(sum) ? sum : double.PositiveInfinity;
    }

    /// <summary>
    /// The branch that breaks its laws least for given taut legs; where two are equal, the one with the smallest |v_r|, then the smallest v_d.
    /// </summary>
    /// <param name="loadTaut">The load leg is straight.</param>
    /// <param name="groundTaut">The ground leg is straight.</param>
    /// <param name="n">The numbers.</param>
    /// <param name="forceScale">A force that matters, N.</param>
    /// <param name="avoid">A branch that has just ended: taken only where every other is clearly worse.</param>
    /// <param name="violation">How badly the chosen branch breaks its laws.</param>
    public static NetworkBranch Choose(
        bool loadTaut, bool groundTaut, in NetworkNumbers n, double forceScale, in NetworkBranch? avoid, out double violation)
    {
        var best = new NetworkBranch(loadTaut, groundTaut, RingState.Stick, false, false);
        var bestFlow = Flow(best, n);
        violation = Violation(best, n, bestFlow, forceScale) + Penalty(best, avoid);
        if (!loadTaut || !groundTaut)
        {
            return best;
        }

        for (var code = 1; code < 12; code++)
        {
            var branch = new NetworkBranch(true, true, (RingState)(code / 4), (code & 1) != 0, (code & 2) != 0);
            if ((branch.HitchDraws && double.IsPositiveInfinity(n.HitchCapacity))
                || (branch.DeviceGives && double.IsPositiveInfinity(n.DeviceCapacity)))
            {
                continue;
            }

            var flow = Flow(branch, n);
            var v = Violation(branch, n, flow, forceScale) + Penalty(branch, avoid) + Penalty(branch, n, forceScale);

            // Both ends giving is one point between the two single ones: where it is consistent the others hold for no time.
            if (branch.Ring != RingState.Stick && branch.HitchDraws && branch.DeviceGives && v < BothWidth)
            {
                violation = v;
                return branch;
            }

            var better = v < violation - TieWidth
                || (v < violation + TieWidth && (Math.Abs(flow.Slip) < Math.Abs(bestFlow.Slip) - TieWidth
                    || (Math.Abs(flow.Slip) < Math.Abs(bestFlow.Slip) + TieWidth && flow.Device < bestFlow.Device - TieWidth)));
            if (better)
            {
                best = branch;
                bestFlow = flow;
                violation = v;
            }
        }

        return best;
    }

    /// <summary>Two violations closer than this are equal: round-off of sums of forces over forces.</summary>
    private const double TieWidth = 1e-12;

    /// <summary>What it costs to name again the branch that has just ended: above round-off at a root, below any real violation.</summary>
    private const double AvoidPenalty = 1e-7;

    /// <summary>Both ends give where this much (of the force scale) or less parts them: what locating an event leaves.</summary>
    internal const double BothWidth = 1e-7;

    /// <summary>Rate at which a gap between the two ends' limits is closed while both give, 1/s: as fast as the rope's own damping.</summary>
    private const double GapClosing = 500;

    internal static double Penalty(in NetworkBranch branch, in NetworkBranch? avoid) => branch == avoid ? AvoidPenalty : 0;

    /// <summary>
    /// Where the two ends' limits tie, tensions do not tell which end gives: hitch, device and both are then equally consistent.
    /// The flows that would keep the tie do: an end that would have to take rope back gives none, the other goes on alone; and where
    /// the rope would have to slip the other way and both ends can give without slip, it sticks.
    /// </summary>
    /// <param name="branch">A branch in which rope slips.</param>
    /// <param name="n">The numbers.</param>
    /// <param name="forceScale">A force that matters, N.</param>
    internal static double Penalty(in NetworkBranch branch, in NetworkNumbers n, double forceScale)
    {
        if (branch.Ring == RingState.Stick)
        {
            return branch.HitchDraws && branch.DeviceGives && (SlipsOn(RingState.Out, n, forceScale) || SlipsOn(RingState.Back, n, forceScale)) ? AvoidPenalty : 0;
        }

        if (!(branch.HitchDraws || branch.DeviceGives) || !Tie(branch.Ring, n, forceScale))
        {
            return 0;
        }

        var both = Flow(branch with { HitchDraws = true, DeviceGives = true }, n);
        var stuck = Flow(new(true, true, RingState.Stick, true, true), n);
        var sticks = !Along(branch.Ring, both.Slip) && stuck.Hitch >= 0 && stuck.Device >= 0;
        return sticks || (branch.HitchDraws && both.Hitch <= 0) || (branch.DeviceGives && both.Device <= 0) ? AvoidPenalty : 0;
    }

    /// <summary>At a tie the rope would go on slipping this way.</summary>
    private static bool SlipsOn(RingState ring, in NetworkNumbers n, double forceScale) =>
        Tie(ring, n, forceScale) && Along(ring, Flow(new(true, true, ring, true, true), n).Slip);

    private static bool Along(RingState ring, double slip) => ring == RingState.Out ? slip > 0 : slip < 0;

    /// <summary>The limits of hitch and device are reached together, to what locating an event leaves.</summary>
    /// <param name="ring">Which way rope slips.</param>
    /// <param name="n">The numbers.</param>
    /// <param name="forceScale">A force that matters, N.</param>
    internal static bool Tie(RingState ring, in NetworkNumbers n, double forceScale) =>
        Math.Abs(n.HitchCapacity - (Ratio(ring, n) * n.DeviceCapacity)) < BothWidth * forceScale;

    /// <summary>T1 / T2 while rope slips.</summary>
    /// <param name="ring">Which way.</param>
    /// <param name="n">The numbers.</param>
    internal static double Ratio(RingState ring, in NetworkNumbers n) => ring == RingState.Out ? n.Rho : 1 / n.Rho;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static NetworkFlow Slipping(in NetworkBranch branch, in NetworkNumbers n, double ratio, double ratioRate)
    {
        // T1 = ratio T2 throughout.
        if (branch.HitchDraws && branch.DeviceGives)
        {
            // d/dt T_h = d/dt (ratio x capacity): the hitch's slope times v_h, and the device's times v_d, differ by what moves by itself.
            var (th, tc) = (n.HitchCapacity, n.DeviceCapacity);
            var hitchFlow = (n.A1 - th) / n.B1;
            var deviceFlow = (n.A2 - tc) / n.B2;
            var itself = (ratioRate * tc) + (ratio * n.DeviceRate) - (GapClosing * (th - (ratio * tc)));
            var slip = ((n.HitchSlope * hitchFlow) - (ratio * n.DeviceSlope * deviceFlow) - itself) / (n.HitchSlope + (ratio * n.DeviceSlope));
            return new(th, tc, slip, hitchFlow - slip, deviceFlow + slip);
        }

        if (branch.HitchDraws)
        {
            var t1 = n.HitchCapacity;
            var t2 = t1 / ratio;
            var slip = (t2 - n.A2) / n.B2;
            return new(t1, t2, slip, ((n.A1 - t1) / n.B1) - slip, 0);
        }

        if (branch.DeviceGives)
        {
            var t2 = n.DeviceCapacity;
            var t1 = ratio * t2;
            var slip = (n.A1 - t1) / n.B1;
            return new(t1, t2, slip, 0, slip - ((t2 - n.A2) / n.B2));
        }

        var v = (n.A1 - (ratio * n.A2)) / (n.B1 + (ratio * n.B2));
        return new(n.A1 - (n.B1 * v), n.A2 + (n.B2 * v), v, 0, 0);
    }
}
