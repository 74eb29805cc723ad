using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Where hitch and device reach their limits together (T_h = ratio x capacity), hitch alone, device alone and both have the same tensions:
/// only what happens next tells them apart. The branch that is chosen must still hold a moment later.
/// </summary>
public sealed class FrictionTieTests
{
    private static Gen<(NetworkNumbers Numbers, RingState Ring)> Tie { get; } =
        from ring in Gen.Bool.Select(toPiece => toPiece ? RingState.Out : RingState.Back)
        from rho in Gen.Double[1.01, 4]
        from hitch in Gen.Double[500, 10_000]
        from b1 in Gen.Double[50, 500]
        from b2 in Gen.Double[20, 200]
        from drawn in Gen.Double[-1, 3]
        from given in Gen.Double[-1, 3]
        from hitchSlope in Gen.Double[1e3, 1e5]
        from deviceSlope in Gen.Frequency((1, Gen.Const(0.0)), (1, Gen.Double[10, 1e5]))
        from deviceRate in Gen.Frequency((1, Gen.Const(0.0)), (1, Gen.Double[0, 1e5]))
        from rhoRate in Gen.Double[-3, 3]
        let device = hitch / (ring == RingState.Out ? rho : 1 / rho)
        select (new NetworkNumbers(hitch + (b1 * drawn), b1, device + (b2 * given), b2, rho, hitch, device)
        {
            HitchSlope = hitchSlope,
            DeviceSlope = deviceSlope,
            DeviceRate = deviceRate,
            RhoRate = rhoRate,
        }, ring);

    [Theory]
    [InlineData(3_000)]
    [InlineData(20_000)]
    public void At_a_tie_of_hitch_and_device_the_branch_that_is_chosen_still_holds_a_moment_later(int count)
    {
        var (hitchAlone, deviceAlone, both, stuck) = (0, 0, 0, 0);
        Tie.Sample(tie =>
        {
            var (n, ring) = tie;
            var branch = FrictionNetwork.Choose(true, true, n, 1_000, null, out var violation);

            // Both ends may be named together where one of them would give by less than what locating an event leaves (BothWidth, in m/s
            // and in shares of the force scale): A1 a ten-thousandth of a newton below the hitch's limit is such a case.
            violation.Should().BeLessThan(FrictionNetwork.BothWidth);
            if (!branch.HitchDraws && !branch.DeviceGives)
            {
                return;
            }

            var flow = FrictionNetwork.Flow(branch, n);
            flow.Hitch.Should().BeGreaterThanOrEqualTo(-FrictionNetwork.BothWidth);
            flow.Device.Should().BeGreaterThanOrEqualTo(-FrictionNetwork.BothWidth);

            // How T_h - ratio x capacity goes on: d/dt T_h = slope v_h, d/dt capacity = slope v_d + what it rises by itself.
            var (ratio, ratioRate) = ring == RingState.Out ? (n.Rho, n.RhoRate) : (1 / n.Rho, -n.RhoRate / (n.Rho * n.Rho));
            var opens = (n.HitchSlope * flow.Hitch) - (ratioRate * n.DeviceCapacity) - (ratio * ((n.DeviceSlope * flow.Device) + n.DeviceRate));
            var rounding = 1e-9 * (n.HitchSlope + (ratio * n.DeviceSlope) + n.HitchCapacity + n.DeviceRate);
            switch (branch)
            {
                case { Ring: RingState.Stick, HitchDraws: true, DeviceGives: true }:
                    // Stuck with both giving: T1 / T2 = T_h / capacity must not pass the ratio of slipping on.
                    (ring == RingState.Out ? opens : -opens).Should().BeLessThanOrEqualTo(rounding);
                    stuck++;
                    break;
                case var other when other.Ring != ring:
                    // One end gives while the rope sticks or slips the other way: no tie there.
                    break;
                case { HitchDraws: true, DeviceGives: true }:
                    opens.Should().BeApproximately(0, rounding);
                    (ring == RingState.Out ? flow.Slip : -flow.Slip).Should().BeGreaterThanOrEqualTo(-FrictionNetwork.BothWidth);
                    both++;
                    break;
                case { DeviceGives: true }:
                    // T1 = ratio x capacity stays at or below the hitch's limit.
                    opens.Should().BeGreaterThanOrEqualTo(-rounding);
                    deviceAlone++;
                    break;
                default:
                    opens.Should().BeLessThanOrEqualTo(rounding);
                    hitchAlone++;
                    break;
            }
        }, iter: count, threads: 1);

        new[] { hitchAlone, deviceAlone, both, stuck }.Should().OnlyContain(seen => seen > count / 200, "all four ways on are tried");
    }
}
