using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// A fall to the other side is the same fall seen in a mirror. The model's x points in the direction of fall by definition, whichever side
/// that is, so its drops have no other side. Here the parts that carry a sign of x are mirrored, each by itself; whole drops are in the second
/// formulation (WholeDropMirrorTests).
/// </summary>
public sealed class MirrorTests
{
    /// <summary>Seen from the other end of the rope, slip toward the piece is slip toward the device.</summary>
    [Fact]
    public void The_friction_network_is_the_same_from_either_end_of_the_rope()
    {
        var force = Gen.Double[-2_000, 20_000];
        var damping = Gen.Double[10, 500];
        Gen.Select(force, damping, force, damping, Gen.Double[1, 4]).Sample((a1, b1, a2, b2, rho) =>
        {
            var here = new NetworkNumbers(a1, b1, a2, b2, rho, double.PositiveInfinity, double.PositiveInfinity);
            var there = new NetworkNumbers(a2, b2, a1, b1, rho, double.PositiveInfinity, double.PositiveInfinity);
            var branch = FrictionNetwork.Choose(true, true, here, 1_000, null, out _);
            var mirrored = branch with { Ring = branch.Ring == RingState.Out ? RingState.Back : branch.Ring == RingState.Back ? RingState.Out : RingState.Stick };
            var (one, other) = (FrictionNetwork.Flow(branch, here), FrictionNetwork.Flow(mirrored, there));

            // Round-off of forces up to 20 kN.
            other.T1.Should().BeApproximately(one.T2, 1e-8);
            other.T2.Should().BeApproximately(one.T1, 1e-8);
            other.Slip.Should().BeApproximately(-one.Slip, 1e-9);
        }, iter: 2_000, threads: 1);
    }

    [Fact]
    public void A_spar_that_sways_the_other_way_under_mirrored_loads_has_the_opposite_moment_and_the_same_stress()
    {
        var drop = SampleDrops.MediumLog;
        var spar = new ModalSpar(drop.Spar, 3, 24, drop.Computation.Gravity);
        var sections = new SparSections(spar);
        var number = Gen.Double[-1, 1];
        Gen.Select(number.Array[3], number.Array[3], Gen.Double[-1e4, 1e4], Gen.Double[-2e4, 0], Gen.Double[0.1, 0.5]).Sample((q, acceleration, fx, fz, arm) =>
        {
            static double[] Minus(double[] v) => [.. v.Select(x => -x)];
            SparLoad[] loads = [new(8, arm, fx, fz), new(1, -arm, fx / 3, -fz / 2)];
            SparLoad[] mirrored = [new(8, -arm, -fx, fz), new(1, arm, -fx / 3, -fz / 2)];
            var moment = sections.BaseMoment(q, acceleration, loads);
            sections.BaseMoment(Minus(q), Minus(acceleration), mirrored).Should().BeApproximately(-moment, 1e-9 * (1e4 + Math.Abs(moment)));
            var (stress, height) = sections.WorstStress(q, acceleration, loads);
            var (other, at) = sections.WorstStress(Minus(q), Minus(acceleration), mirrored);
            other.Should().BeApproximately(stress, 1e-9 * stress);
            at.Should().BeApproximately(height, 1e-9);
        }, iter: 200, threads: 1);
    }

    [Fact]
    public void The_gap_between_a_piece_and_an_obstacle_is_the_same_in_a_mirror()
    {
        Gen.Select(Gen.Double[0, Math.PI], Gen.Double[-2, 4], Gen.Double[0, 4], Gen.Double[0.1, 2], Gen.Double[0.1, 2]).Sample((lean, x, z, wide, high) =>
        {
            var (sin, cos) = Math.SinCos(lean);
            (double X, double Z)[] corners = [(-0.2, -0.6), (-0.2, 0.6), (0.2, 0.6), (0.2, -0.6)];
            double[] xs = [.. corners.Select(c => x + (c.Z * sin) + (c.X * cos))];
            double[] zs = [.. corners.Select(c => z + (c.Z * cos) - (c.X * sin))];
            var here = ConvexGap.ToRectangle(xs, zs, new("shed", 1, 1 + wide, 0, high));

            // Mirrored corners run round the other way: taken in the opposite order they run as before.
            double[] mirroredX = [.. xs.Select(v => -v).Reverse()];
            double[] mirroredZ = [.. zs.Reverse()];
            ConvexGap.ToRectangle(mirroredX, mirroredZ, new("shed", -1 - wide, -1, 0, high)).Should().BeApproximately(here, 1e-12);
        }, iter: 500, threads: 1);
    }
}
