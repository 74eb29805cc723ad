using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>How far the rope is wrapped round the rigging point, wherever the friction device stands.</summary>
public sealed class WrapAngleTests
{
    private const double Degrees = Math.PI / 180;

    /// <summary>
    /// The piece stands above the ring: the load leg goes up, so the rope turns by 180 degrees less the angle between the legs,
    /// whichever side the device stands on. The angle between two directions comes from their scalar product, without a sign.
    /// </summary>
    [Theory]
    [InlineData(0.425)]
    [InlineData(5)]
    [InlineData(20)]
    [InlineData(-5)]
    [InlineData(-12)]
    [InlineData(-20)]
    [InlineData(-60)]
    public void At_the_start_the_rope_turns_by_less_than_a_right_angle_wherever_the_device_stands(double deviceX)
    {
        var at = AtStart(deviceX);

        var between = Math.Acos(((at.U1X * at.U2X) + (at.U1Z * at.U2Z)) / (double.Hypot(at.U1X, at.U1Z) * double.Hypot(at.U2X, at.U2Z)));
        at.Wrap.Should().BeApproximately(Math.PI - between, 1e-9);
        at.Wrap.Should().BeLessThan(95 * Degrees);
    }

    /// <summary>
    /// Device 12 m behind the spar, ring 7.6 m above it: the ground leg points to 180 + atan(7.6 / 12.28) = 211.8 degrees, the load leg
    /// to 92.0, so the rope turns by 180 - 119.8 = 60.2 degrees and holds exp(0.2 x 1.051) = 1.234.
    /// </summary>
    [Fact]
    public void A_device_far_behind_the_spar_does_not_wrap_the_rope_nearly_once_round_the_ring()
    {
        var at = AtStart(-12);

        (at.Wrap / Degrees).Should().BeApproximately(60.2, 0.2);
        at.Numbers.Rho.Should().BeApproximately(1.234, 0.001);
    }

    private static Instant AtStart(double deviceX)
    {
        var drop = SampleDrops.MediumLog.HardStop();
        var system = TestBench.System(drop with { Device = drop.Device with { X = deviceX, Z = 1, OnSpar = false } });
        var state = system.InitialState();
        system.Begin(0, state);
        Instant at = default;
        system.Solve(0, state, ref at, []);
        return at;
    }
}
