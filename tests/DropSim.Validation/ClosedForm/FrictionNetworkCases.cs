using CsCheck;
using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// The friction network against a solver that knows no branches. For a slip v over the rigging point each end answers alone:
/// T1(v) = min(T_h, A1 - B1 v), because the hitch gives just what keeps it at T_h; T2(v) = min(K, A2 + B2 v) in the same way. T1 falls with
/// v and T2 rises, so T1 - rho T2 falls: slip out is its root if it is positive at v = 0, slip back the root of rho T1 - T2,
/// and in between nothing slips. Tensions are unique, with one limit at each end as with none, and where both are reached together too; only
/// the slips are then open, and follow from how the limits move (V-705).
/// </summary>
internal static class FrictionNetworkCases
{
    private const string Page = "theory/friction-network.md";
    private const double ForceScale = 1_000;
    private const int Samples = 20_000;

    private static readonly Gen<double> _capacity = Gen.Frequency(
        (1, Gen.Const(double.PositiveInfinity)), (1, Gen.Const(10.0)), (5, Gen.Double[0.1, 20_000]));

    private static readonly Gen<NetworkNumbers> _numbers =
        from a1 in Gen.Double[0, 20_000]
        from a2 in Gen.Double[0, 20_000]
        from b1 in Gen.Double[1, 2_000]
        from b2 in Gen.Double[1, 2_000]
        from rho in Gen.Frequency((1, Gen.Const(1.0001)), (4, Gen.Double[1.01, 8]))
        from hitch in _capacity
        from device in _capacity
        from tie in Gen.Int[0, 9]
        from hitchSlope in Gen.Double[100, 50_000]
        from deviceSlope in Gen.Double[100, 50_000]
        select new NetworkNumbers(
            a1, b1, a2, b2, rho, tie == 1 && double.IsFinite(device) ? rho * device : hitch, tie == 2 && double.IsFinite(hitch) ? rho * hitch : device)
        {
            HitchSlope = hitchSlope,
            DeviceSlope = deviceSlope,
        };

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-701", Page = Page, What = "Slip toward the piece worked by hand: A1 = 5000 N, A2 = 1000 N, B1 = B2 = 100 N s/m, rho = 2",
            Formula = "5000 - 100 v = 2 (1000 + 100 v)", Source = "Derived here", Absolute = 1e-9, Why = "round-off",
            Compute = () =>
            {
                var flow = Flow(new(5_000, 100, 1_000, 100, 2, double.PositiveInfinity, double.PositiveInfinity));
                return [new("v, m/s", 10, flow.Slip), new("T1, N", 4_000, flow.T1), new("T2, N", 2_000, flow.T2)];
            },
        },
        new()
        {
            Id = "V-702", Page = Page, What = "Largest difference of a tension in 20,000 random networks, by which ends have a limit",
            Formula = "T1(v) = min(T_h, A1 - B1 v), T2(v) = min(K, A2 + B2 v), v the root of T1 - rho T2 (out), of rho T1 - T2 (back), or 0",
            Source = "Derived here (remark of `FrictionNetworkCases`): halving on one monotone function, no branches", Unit = "N", Absolute = 1e-6, Why = "round-off of 20 kN",
            Compute = () => Kinds(n => { var (t1, t2, _) = ByHalving(n); var flow = Flow(n); return Math.Max(Math.Abs(flow.T1 - t1), Math.Abs(flow.T2 - t2)); }),
        },
        new()
        {
            Id = "V-703", Page = Page, What = "Largest difference of the slip over the rigging point in the same networks",
            Formula = "v as in V-702", Source = "Derived here (remark of `FrictionNetworkCases`)", Unit = "m/s", Absolute = 1e-8, Why = "round-off of 20 kN over 1 N s/m",
            Compute = () => Kinds(n => Math.Abs(Flow(n).Slip - ByHalving(n).Slip), tied: false),
        },
        new()
        {
            Id = "V-704", Page = Page, What = "Energy that friction gives back in the same networks, at most",
            Formula = "0: v_r (T1 - T2) >= 0, v_h >= 0, v_d >= 0", Source = "The second law", Unit = "W", Absolute = 1e-6, Why = "round-off",
            Compute = () => Kinds(n => { var f = Flow(n); return Math.Max(0, Math.Max(-f.Slip * (f.T1 - f.T2), Math.Max(-f.Hitch, -f.Device))); }),
        },
        new()
        {
            Id = "V-705", Page = Page, What = "Rope slips and both ends give: how fast T_h - rho K opens, from the flow",
            Formula = "0: h v_h = rho k v_d + rho K' + rho' K, h and k the slopes of both limits, so that the two ends share the rope",
            Source = "Derived here: time derivative of T_h = rho K", Unit = "N/s", Absolute = 1e-5, Why = "round-off of slopes of 1e5 N/m", Compute = Shared,
        },
    ];

    private static NetworkFlow Flow(in NetworkNumbers n) => FrictionNetwork.Flow(FrictionNetwork.Choose(true, true, n, ForceScale, null, out _), n);

    /// <summary>The worst over the samples, apart for networks without a limit, with one, with two, and with two that tie (where slips are not unique).</summary>
    private static IEnumerable<VerificationPoint> Kinds(Func<NetworkNumbers, double> worst, bool tied = true)
    {
        string[] names = ["neither end limited", "one end limited", "both ends limited", "both limits reached together"];
        var most = new double[4];
        var count = new int[4];
        var pcg = new PCG(7, 2026);
        for (var i = 0; i < Samples; i++)
        {
            var n = _numbers.Generate(pcg, null, out _);
            var kind = (double.IsFinite(n.HitchCapacity) ? 1 : 0) + (double.IsFinite(n.DeviceCapacity) ? 1 : 0);
            kind += kind == 2 && (n.HitchCapacity == n.Rho * n.DeviceCapacity || n.DeviceCapacity == n.Rho * n.HitchCapacity) ? 1 : 0;
            most[kind] = Math.Max(most[kind], kind == 3 && !tied ? 0 : worst(n));
            count[kind]++;
        }

        return [.. names.Take(tied ? 4 : 3).Select((name, kind) => new VerificationPoint(Say.Number(name + ", ", count[kind], " networks"), 0, most[kind]))];
    }

    private static (double T1, double T2, double Slip) ByHalving(NetworkNumbers n)
    {
        double T1(double v) => Math.Min(n.HitchCapacity, n.A1 - (n.B1 * v));
        double T2(double v) => Math.Min(n.DeviceCapacity, n.A2 + (n.B2 * v));
        double slip = 0;
        if (T1(0) > n.Rho * T2(0))
        {
            slip = Bisection.Root(v => T1(v) - (n.Rho * T2(v)), 0, 1e5);
        }
        else if (T2(0) > n.Rho * T1(0))
        {
            slip = Bisection.Root(v => (n.Rho * T1(v)) - T2(v), -1e5, 0);
        }

        return (T1(slip), T2(slip), slip);
    }

    private static IEnumerable<VerificationPoint> Shared()
    {
        foreach (var (rho, rhoRate, deviceRate) in new[] { (1.5, 0.0, 0.0), (2.0, 3.0, 0.0), (1.8, -2.0, 400.0) })
        {
            const double K = 2_000;
            var n = new NetworkNumbers(9_000, 300, 500, 300, rho, rho * K, K)
            {
                HitchSlope = 20_000,
                DeviceSlope = 15_000,
                DeviceRate = deviceRate,
                RhoRate = rhoRate,
            };
            var flow = FrictionNetwork.Flow(new(true, true, RingState.Out, true, true), n);
            var opening = (n.HitchSlope * flow.Hitch) - (rho * ((n.DeviceSlope * flow.Device) + deviceRate)) - (rhoRate * K);
            yield return new(Say.Number("rho = ", rho, Say.Number(", rho' = ", rhoRate, Say.Number(" /s, K' = ", deviceRate, " N/s"))), 0, opening);
        }
    }
}
