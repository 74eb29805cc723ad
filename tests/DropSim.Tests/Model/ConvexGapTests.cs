using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>The gap between a piece and an obstacle against distances worked by hand and by brute force.</summary>
public sealed class ConvexGapTests
{
    private static readonly ObstacleInput _shed = new("shed", 1, 3, 0.5, 2);

    [Theory]
    [InlineData(0.2, 1, 0.7)]
    [InlineData(3.9, 1, 0.8)]
    [InlineData(2, 0.1, 0.3)]
    [InlineData(2, 2.6, 0.5)]
    [InlineData(0.95, 1, -0.05)]
    [InlineData(2.97, 1, -0.13)]
    [InlineData(2, 0.47, -0.07)]
    [InlineData(2, 2.08, -0.02)]
    public void Of_an_upright_square_it_is_the_gap_to_the_side_it_faces(double x, double z, double gap)
    {
        // A square of 0.2 m: 0.1 m on either side of its middle.
        double[] xs = [x - 0.1, x - 0.1, x + 0.1, x + 0.1];
        double[] zs = [z - 0.1, z + 0.1, z + 0.1, z - 0.1];

        ConvexGap.ToRectangle(xs, zs, _shed).Should().BeApproximately(gap, 1e-12);
    }

    [Theory]
    [InlineData(0, 3, 0.5, 1.4142135623730951)]
    [InlineData(4, 3, 0.5, 1.4142135623730951)]
    [InlineData(0, -0.5, 0.5, 1.4142135623730951)]
    [InlineData(4, -0.5, 0.5, 1.4142135623730951)]
    [InlineData(0.7, 2.3, 0.5, 0.4242640687119285)]
    public void Of_a_square_on_its_corner_it_is_the_distance_of_the_obstacles_corner_from_its_edge(double x, double z, double apothem, double toCorner)
    {
        // The middle lies on the diagonal through the nearest corner of the shed: the distance to it, less the square's half width.
        var half = apothem * Math.Sqrt(2);
        double[] xs = [x - half, x, x + half, x];
        double[] zs = [z, z + half, z, z - half];

        ConvexGap.ToRectangle(xs, zs, _shed).Should().BeApproximately(toCorner - apothem, 1e-12);
    }

    [Fact]
    public void A_corner_given_twice_and_the_order_of_the_corners_do_not_matter()
    {
        double[] xs = [0, 0.5, 0.5, 0.5 - 1e-10];
        double[] zs = [2, 3, 3, 3];

        // A line from (0, 2) to (0.5, 3), 2 x - z = -2; the shed's corner (1, 2) stands 2/sqrt 5 from it.
        var gap = ConvexGap.ToRectangle(xs, zs, _shed);
        gap.Should().BeApproximately(2 / Math.Sqrt(5), 1e-9);
        ConvexGap.ToRectangle([.. xs.Reverse()], [.. zs.Reverse()], _shed).Should().BeApproximately(gap, 1e-12);
    }

    [Fact]
    public void It_is_never_more_than_the_distance_and_the_same_where_a_corner_faces_an_edge()
    {
        var faced = 0;
        Gen.Select(Gen.Double[0, 2 * Math.PI], Gen.Double[-2, 6], Gen.Double[-2, 5], Gen.Double[0.05, 0.4], Gen.Double[0.2, 1.5], Gen.Int[3, 8]).Sample((turn, x, z, wide, high, count) =>
        {
            var (xs, zs) = Ellipse(turn, x, z, wide, high, count);
            var (distance, facesEdge) = Distance(xs, zs);
            var gap = ConvexGap.ToRectangle(xs, zs, _shed);
            if (distance > 0)
            {
                gap.Should().BeLessThanOrEqualTo(distance + 1e-12);
                if (facesEdge)
                {
                    gap.Should().BeApproximately(distance, 1e-9);
                    faced++;
                }
            }
            else
            {
                gap.Should().BeLessThanOrEqualTo(0);
            }
        }, iter: 1_000, threads: 1);
        faced.Should().BeGreaterThan(300);
    }

    [Fact]
    public void Where_they_overlap_its_depth_is_the_shortest_way_out_over_all_directions() =>
        Gen.Select(Gen.Double[0, 2 * Math.PI], Gen.Double[1, 3], Gen.Double[0.5, 2], Gen.Double[0.05, 0.4], Gen.Double[0.2, 1.5], Gen.Int[3, 8]).Sample((turn, x, z, wide, high, count) =>
        {
            // The middle of the outline lies in the shed. 3600 directions: between two of them the strip changes by less than 4 m x 0.0009.
            var (xs, zs) = Ellipse(turn, x, z, wide, high, count);
            var least = double.PositiveInfinity;
            for (var k = 0; k < 3600; k++)
            {
                var (sin, cos) = Math.SinCos(k * Math.PI / 1800);
                var farthest = Enumerable.Range(0, count).Max(i => (xs[i] * sin) + (zs[i] * cos));
                var nearest = (from ox in new[] { _shed.XFrom, _shed.XTo } from oz in new[] { _shed.ZFrom, _shed.ZTo } select (ox * sin) + (oz * cos)).Min();
                least = Math.Min(least, farthest - nearest);
            }

            ConvexGap.ToRectangle(xs, zs, _shed).Should().BeInRange(-least - 1e-12, -least + 0.004);
        }, iter: 100, threads: 1);

    // Corners on an ellipse: convex, and every edge in another direction.
    private static (double[] X, double[] Z) Ellipse(double turn, double x, double z, double wide, double high, int count)
    {
        var (sin, cos) = Math.SinCos(turn);
        var corners = Enumerable.Range(0, count).Select(i => (A: wide * Math.Cos(2 * Math.PI * i / count), B: high * Math.Sin(2 * Math.PI * i / count))).ToArray();
        return ([.. corners.Select(c => x + (c.A * cos) + (c.B * sin))], [.. corners.Select(c => z + (c.B * cos) - (c.A * sin))]);
    }

    // Shortest from a corner of one to an edge of the other, and whether it ends within that edge; 0 where they overlap.
    private static (double Distance, bool FacesEdge) Distance(double[] x, double[] z)
    {
        double[] sx = [_shed.XFrom, _shed.XFrom, _shed.XTo, _shed.XTo];
        double[] sz = [_shed.ZFrom, _shed.ZTo, _shed.ZTo, _shed.ZFrom];
        if (Overlap(x, z, sx, sz))
        {
            return (0, false);
        }

        var nearest = (Distance: double.PositiveInfinity, FacesEdge: false);
        foreach (var (px, pz, ox, oz) in new[] { (x, z, sx, sz), (sx, sz, x, z) })
        {
            for (var k = 0; k < px.Length; k++)
            {
                for (var i = 0; i < ox.Length; i++)
                {
                    var j = (i + 1) % ox.Length;
                    var (ex, ez) = (ox[j] - ox[i], oz[j] - oz[i]);
                    var (dx, dz) = (px[k] - ox[i], pz[k] - oz[i]);
                    var along = ((dx * ex) + (dz * ez)) / ((ex * ex) + (ez * ez));
                    var held = Math.Clamp(along, 0, 1);
                    var distance = Math.Sqrt(Math.Pow(dx - (held * ex), 2) + Math.Pow(dz - (held * ez), 2));
                    if (distance < nearest.Distance)
                    {
                        nearest = (distance, along is > 0 and < 1);
                    }
                }
            }
        }

        return nearest;
    }

    // Two edges cross, or a corner of one lies on the same side of all the other's edges.
    private static bool Overlap(double[] ax, double[] az, double[] bx, double[] bz)
    {
        static double Side(double px, double pz, double qx, double qz, double x, double z) => ((qx - px) * (z - pz)) - ((qz - pz) * (x - px));
        static bool Inside(double[] x, double[] z, double px, double pz) =>
            Enumerable.Range(0, x.Length).Select(i => Side(x[i], z[i], x[(i + 1) % x.Length], z[(i + 1) % x.Length], px, pz) > 0).Distinct().Count() == 1;
        bool Cross(int i, int j)
        {
            var (k, l) = ((i + 1) % ax.Length, (j + 1) % bx.Length);
            return Side(ax[i], az[i], ax[k], az[k], bx[j], bz[j]) > 0 != Side(ax[i], az[i], ax[k], az[k], bx[l], bz[l]) > 0
                && Side(bx[j], bz[j], bx[l], bz[l], ax[i], az[i]) > 0 != Side(bx[j], bz[j], bx[l], bz[l], ax[k], az[k]) > 0;
        }

        return Inside(ax, az, bx[0], bz[0]) || Inside(bx, bz, ax[0], az[0])
            || Enumerable.Range(0, ax.Length).Any(i => Enumerable.Range(0, bx.Length).Any(j => Cross(i, j)));
    }
}
