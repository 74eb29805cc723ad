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
        from gap in Gen.Double[-3e-4, 3e-4]
        from hitchSlope in _slope
        from deviceSlope in _slope
        select new NetworkNumbers(
            a1, b1, a2, b2, rho,
            tie is 1 or 3 && double.IsFinite(device) ? (rho * device) + (tie == 3 ? gap : 0) : hitch,
            tie is 2 or 4 && double.IsFinite(hitch) ? (rho * hitch) + (tie == 4 ? gap : 0) : device)
        {
            HitchSlope = hitchSlope,
            DeviceSlope = deviceSlope,
        };

    /// <summary>
    /// What laws hold to, N: round-off of forces of up to 20 kN, and where the ends' limits are nearer to each other than what counts as tied, that
    /// width. (By chance alone one in some ten million samples comes that near: this test failed once and could not be made to do so again.)
    /// </summary>
    private static double Exactness(NetworkNumbers n) =>
        FrictionNetwork.Tie(RingState.Out, n, ForceScale * 1.1) || FrictionNetwork.Tie(RingState.Back, n, ForceScale * 1.1) ? n.Rho * TieWidth * ForceScale : 1e-6;

    private static Gen<double> _slope => Gen.Double[100, 50_000];

    [Theory]
    [InlineData(1_000)]
    [InlineData(20_000)]
    public void The_chosen_branch_obeys_every_law_to_round_off(int count) => _numbers.Sample(n =>
    {
        var branch = FrictionNetwork.Choose(true, true, n, ForceScale, null, out var violation);
        var flow = FrictionNetwork.Flow(branch, n);

        violation.Should().BeLessThan(TieWidth);
        var (t1, t2, slip, hitch, device) = flow;

        var force = Exactness(n);
        t1.Should().BeApproximately(n.A1 - (n.B1 * (slip + hitch)), 1e-6);
        t2.Should().BeApproximately(n.A2 + (n.B2 * (slip - device)), 1e-6);
        t1.Should().BeInRange(-force, n.HitchCapacity + force);
        t2.Should().BeInRange(-force, n.DeviceCapacity + force);
        t1.Should().BeLessThanOrEqualTo((n.Rho * t2) + force);
        t2.Should().BeLessThanOrEqualTo((n.Rho * t1) + force);
        hitch.Should().BeGreaterThanOrEqualTo(-1e-9);
        device.Should().BeGreaterThanOrEqualTo(-1e-9);
        (slip * (t1 - t2)).Should().BeGreaterThanOrEqualTo(-1e-6, "friction takes energy, it never gives any");
        if (slip > 1e-6)
        {
            t1.Should().BeApproximately(n.Rho * t2, force);
        }
        else if (slip < -1e-6)
        {
            t2.Should().BeApproximately(n.Rho * t1, force);
        }

        if (hitch > 1e-6)
        {
            t1.Should().BeApproximately(n.HitchCapacity, force);
        }

        if (device > 1e-6)
        {
            t2.Should().BeApproximately(n.DeviceCapacity, force);
        }
    }, iter: count);

    [Theory]
    [InlineData(1_000)]
    [InlineData(20_000)]
    public void Tensions_equal_those_of_a_nested_bisection_on_the_slip(int count) => _numbers.Sample(n =>
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

        var force = Math.Max(1e-5, Exactness(n));
        flow.T1.Should().BeApproximately(T1(slip), force);
        flow.T2.Should().BeApproximately(T2(slip), force);
    }, iter: count);

    [Fact]
    public void A_hand_without_force_lets_both_tensions_fall_to_nothing_without_looking_for_another_answer()
    {
        var n = new NetworkNumbers(1_000, 100, 1_000, 100, 2, double.PositiveInfinity, 0);
        var flow = FrictionNetwork.Flow(FrictionNetwork.Choose(true, true, n, ForceScale, null, out var violation), n);

        violation.Should().BeLessThan(1e-9);
        flow.T1.Should().BeApproximately(0, 1e-9);
        flow.T2.Should().BeApproximately(0, 1e-9);
    }

    /// <summary>What is not a number obeys no law.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_number_that_is_none_breaks_every_branch(int which)
    {
        double Or(int k, double value) => which == k ? double.NaN : value;
        NetworkNumbers n = new(Or(0, 5_000), Or(1, 100), Or(2, 1_000), Or(3, 100), Or(4, 2), 3_000, 900);
        foreach (var ring in Enum.GetValues<RingState>())
        {
            NetworkBranch branch = new(true, true, ring, false, true);
            var flow = FrictionNetwork.Flow(branch, n);
            if (double.IsNaN(flow.T1 + flow.T2 + flow.Slip + flow.Hitch + flow.Device) || which == 4)
            {
                FrictionNetwork.Violation(branch, n, flow, ForceScale).Should().Be(double.PositiveInfinity);
            }
        }

        FrictionNetwork.Violation(new(true, false, RingState.Stick, false, false), n with { A1 = double.NaN }, default, ForceScale).Should().Be(double.PositiveInfinity);
        FrictionNetwork.Violation(new(false, true, RingState.Stick, false, false), n with { A2 = double.NaN }, default, ForceScale).Should().Be(double.PositiveInfinity);
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

    [Fact]
    public void What_breaks_a_law_counts_by_how_much_forces_against_the_scale_and_slips_against_a_metre_a_second()
    {
        // Rho 1.5, the hitch draws at 900 N, the device gives at 700 N; forces count against 100 N.
        NetworkNumbers n = new(-50, 100, -30, 200, 1.5, 900, 700);
        double Of(NetworkBranch branch, NetworkFlow flow) => FrictionNetwork.Violation(branch, n, flow, 100);
        NetworkBranch stuck = new(true, true, RingState.Stick, false, false);

        // A leg that is taut must pull; one that is slack has no say.
        Of(stuck with { GroundTaut = false }, default).Should().BeApproximately(0.5, 1e-12);
        Of(stuck with { LoadTaut = false }, default).Should().BeApproximately(0.3, 1e-12);
        Of(stuck with { LoadTaut = false, GroundTaut = false }, default).Should().Be(0);
        Of(stuck with { GroundTaut = false, DeviceGives = true }, default).Should().Be(double.PositiveInfinity, "the device gives to a slack leg");
        Of(stuck with { GroundTaut = false, HitchDraws = true }, default).Should().Be(double.PositiveInfinity);
        Of(stuck with { GroundTaut = false, Ring = RingState.Out }, default).Should().Be(double.PositiveInfinity);

        // Stuck: 600 over 500 N is within 1.5; 800 over 500 is 50 N beyond; 400 against 650 is 50 N beyond the other way.
        Of(stuck, new(600, 500, 0, 0, 0)).Should().Be(0);
        Of(stuck, new(800, 500, 0, 0, 0)).Should().BeApproximately(0.5, 1e-12);
        Of(stuck, new(400, 650, 0, 0, 0)).Should().BeApproximately(0.5, 1e-12);

        // Beyond what hitch and device hold, by 60 and 40 N.
        Of(stuck, new(960, 690, 0, 0, 0)).Should().BeApproximately(0.6, 1e-12);
        Of(stuck, new(800, 740, 0, 0, 0)).Should().BeApproximately(0.4, 1e-12);

        // Slip the wrong way, rope taken back by hitch or device, a leg that pushes.
        Of(stuck with { Ring = RingState.Out }, new(600, 400, -0.2, 0, 0)).Should().BeApproximately(0.2, 1e-12);
        Of(stuck with { Ring = RingState.Out }, new(600, 400, 0.2, 0, 0)).Should().Be(0);
        Of(stuck with { Ring = RingState.Back }, new(400, 600, 0.3, 0, 0)).Should().BeApproximately(0.3, 1e-12);
        Of(stuck with { Ring = RingState.Back }, new(400, 600, -0.3, 0, 0)).Should().Be(0);
        Of(stuck with { HitchDraws = true }, new(900, 690, 0, -0.1, 0)).Should().BeApproximately(0.1, 1e-12);
        Of(stuck with { DeviceGives = true }, new(800, 700, 0, 0, -0.1)).Should().BeApproximately(0.1, 1e-12);
        Of(stuck with { Ring = RingState.Out }, new(-20, 10, 0.1, 0, 0)).Should().BeApproximately(0.2, 1e-12);
        Of(stuck with { Ring = RingState.Back }, new(10, -20, -0.1, 0, 0)).Should().BeApproximately(0.2, 1e-12);

        // Both ends give while rope slips: only where 900 N are 1.5 x 700 N, or 700 / 1.5, which they miss by 150 and 433 N.
        Of(new(true, true, RingState.Out, true, true), new(900, 700, 0.1, 0.1, 0.1)).Should().BeApproximately(1.5, 1e-12);
        Of(new(true, true, RingState.Back, true, true), new(900, 700, -0.1, 0.1, 0.1)).Should().BeApproximately((900 - (700 / 1.5)) / 100, 1e-12);
    }
}
