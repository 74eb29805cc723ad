using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>The friction network against brute force: random numbers, every law to round-off, tensions equal to an independent solver's.</summary>
public sealed class FrictionNetworkTests
{
    private const double ForceScale = 1_000;

    private static readonly Gen<double> _capacity = Gen.Frequency(
        (1, Gen.Const(double.PositiveInfinity)), (1, Gen.Const(10.0)), (4, Gen.Double[0.1, 20_000]));

    /// <summary>
    /// Limits that tie make the tensions no less certain, only the slips; the solver then takes a branch that would be wrong by up to the
    /// width within which it calls them tied, 1e-7 of the force scale.
    /// </summary>
    private const double TieWidth = 1.1e-7;

    private static readonly Gen<NetworkNumbers> _numbers =
        from a1 in Gen.Double[0, 20_000]
        from a2 in Gen.Double[0, 20_000]
        from b1 in Gen.Double[1, 2_000]
        from b2 in Gen.Double[1, 2_000]
        from rho in Gen.Frequency((1, Gen.Const(1.0001)), (4, Gen.Double[1.01, 8]))
        from hitch in _capacity
        from device in _capacity
        from tie in Gen.Int[0, 9]
        from hitchSlope in _slope
        from deviceSlope in _slope
        select new NetworkNumbers(
            a1, b1, a2, b2, rho, tie == 1 && double.IsFinite(device) ? rho * device : hitch, tie == 2 && double.IsFinite(hitch) ? rho * hitch : device)
        {
            HitchSlope = hitchSlope,
            DeviceSlope = deviceSlope,
        };

    private static Gen<double> _slope => Gen.Double[100, 50_000];

    [Fact]
    public void The_chosen_branch_obeys_every_law_to_round_off() => _numbers.Sample(n =>
    {
        var branch = FrictionNetwork.Choose(true, true, n, ForceScale, null, out var violation);
        var flow = FrictionNetwork.Flow(branch, n);

        violation.Should().BeLessThan(TieWidth);
        var (t1, t2, slip, hitch, device) = flow;

        // Forces of up to 20 kN, so round-off of some 1e-11 kN.
        const double Force = 1e-6;
        t1.Should().BeApproximately(n.A1 - (n.B1 * (slip + hitch)), Force);
        t2.Should().BeApproximately(n.A2 + (n.B2 * (slip - device)), Force);
        t1.Should().BeInRange(-Force, n.HitchCapacity + Force);
        t2.Should().BeInRange(-Force, n.DeviceCapacity + Force);
        t1.Should().BeLessThanOrEqualTo((n.Rho * t2) + Force);
        t2.Should().BeLessThanOrEqualTo((n.Rho * t1) + Force);
        hitch.Should().BeGreaterThanOrEqualTo(-1e-9);
        device.Should().BeGreaterThanOrEqualTo(-1e-9);
        (slip * (t1 - t2)).Should().BeGreaterThanOrEqualTo(-1e-6, "friction takes energy, it never gives any");
        if (slip > 1e-6)
        {
            t1.Should().BeApproximately(n.Rho * t2, Force);
        }
        else if (slip < -1e-6)
        {
            t2.Should().BeApproximately(n.Rho * t1, Force);
        }

        if (hitch > 1e-6)
        {
            t1.Should().BeApproximately(n.HitchCapacity, Force);
        }

        if (device > 1e-6)
        {
            t2.Should().BeApproximately(n.DeviceCapacity, Force);
        }
    }, iter: 20_000);

    [Fact]
    public void Tensions_equal_those_of_a_nested_bisection_on_the_slip() => _numbers.Sample(n =>
    {
        var flow = FrictionNetwork.Flow(FrictionNetwork.Choose(true, true, n, ForceScale, null, out _), n);

        // For a given slip each end alone: T1 = min(T_h, A1 - B1 v), T2 = min(cap, A2 + B2 v). T1 falls and T2 rises with v, so the
        // slip is where T1 - rho T2 (out) or rho T1 - T2 (back) changes sign, or 0 between them.
        double T1(double v) => Math.Min(n.HitchCapacity, n.A1 - (n.B1 * v));
        double T2(double v) => Math.Min(n.DeviceCapacity, n.A2 + (n.B2 * v));
        double Root(Func<double, double> falling, double from, double to)
        {
            for (var i = 0; i < 200; i++)
            {
                var middle = (from + to) / 2;
                (from, to) = falling(middle) > 0 ? (middle, to) : (from, middle);
            }

            return (from + to) / 2;
        }

        double slip = 0;
        if (T1(0) > n.Rho * T2(0))
        {
            slip = Root(v => T1(v) - (n.Rho * T2(v)), 0, 1e5);
        }
        else if (T2(0) > n.Rho * T1(0))
        {
            slip = Root(v => (n.Rho * T1(v)) - T2(v), -1e5, 0);
        }

        flow.T1.Should().BeApproximately(T1(slip), 1e-5);
        flow.T2.Should().BeApproximately(T2(slip), 1e-5);
    }, iter: 20_000);

    [Fact]
    public void A_hand_without_force_lets_both_tensions_fall_to_nothing_without_looking_for_another_answer()
    {
        var n = new NetworkNumbers(1_000, 100, 1_000, 100, 2, double.PositiveInfinity, 0);
        var flow = FrictionNetwork.Flow(FrictionNetwork.Choose(true, true, n, ForceScale, null, out var violation), n);

        violation.Should().BeLessThan(1e-9);
        flow.T1.Should().BeApproximately(0, 1e-9);
        flow.T2.Should().BeApproximately(0, 1e-9);
    }

    [Fact]
    public void A_worked_slip_toward_the_piece()
    {
        // T1 = 5000 - 100 v, T2 = 1000 + 100 v, T1 = 2 T2: 5000 - 100 v = 2000 + 200 v, v = 10 m/s, T1 = 4 kN, T2 = 2 kN.
        var n = new NetworkNumbers(5_000, 100, 1_000, 100, 2, double.PositiveInfinity, double.PositiveInfinity);
        var branch = FrictionNetwork.Choose(true, true, n, ForceScale, null, out _);

        branch.Ring.Should().Be(RingState.Out);
        FrictionNetwork.Flow(branch, n).Should().Be(new NetworkFlow(4_000, 2_000, 10, 0, 0));
    }
}
