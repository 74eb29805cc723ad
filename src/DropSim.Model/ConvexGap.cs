namespace DropSim.Model;

/// <summary>Gap between a convex outline and an upright rectangle by separating strips.</summary>
internal static class ConvexGap
{
    /// <summary>
    /// Widest strip that separates the two over the directions of all their edges, m; negative when they overlap (depth).
    /// A lower bound of the distance, exact where a corner of one faces an edge of the other.
    /// </summary>
    /// <param name="x">Corners of the outline in order, m.</param>
    /// <param name="z">Corners of the outline in order, m.</param>
    /// <param name="obstacle">The rectangle.</param>
    public static double ToRectangle(ReadOnlySpan<double> x, ReadOnlySpan<double> z, ObstacleInput obstacle)
    {
        double minX = double.PositiveInfinity, maxX = double.NegativeInfinity;
        double minZ = double.PositiveInfinity, maxZ = double.NegativeInfinity;
        for (var i = 0; i < x.Length; i++)
        {
            minX = Math.Min(minX, x[i]);
            maxX = Math.Max(maxX, x[i]);
            minZ = Math.Min(minZ, z[i]);
            maxZ = Math.Max(maxZ, z[i]);
        }

        var gap = Math.Max(
            Math.Max(obstacle.XFrom - maxX, minX - obstacle.XTo),
            Math.Max(obstacle.ZFrom - maxZ, minZ - obstacle.ZTo));
        for (var i = 0; i < x.Length; i++)
        {
            var j = i + 1 == x.Length ? 0 : i + 1;
            var ex = x[j] - x[i];
            var ez = z[j] - z[i];
            var length = Math.Sqrt((ex * ex) + (ez * ez));
            if (length < 1e-9)
            {
                continue;
            }

            // Both normals are tried, so that the order of the corners does not matter.
            var nx = ez / length;
            var nz = -ex / length;
            gap = Math.Max(gap, Math.Max(Strip(x, z, obstacle, nx, nz), Strip(x, z, obstacle, -nx, -nz)));
        }

        return gap;
    }

    private static double Strip(ReadOnlySpan<double> x, ReadOnlySpan<double> z, ObstacleInput o, double nx, double nz)
    {
        var farthest = double.NegativeInfinity;
        for (var k = 0; k < x.Length; k++)
        {
            farthest = Math.Max(farthest, (x[k] * nx) + (z[k] * nz));
        }

        var nearest = (nx > 0 ? o.XFrom * nx : o.XTo * nx) + (nz > 0 ? o.ZFrom * nz : o.ZTo * nz);
        return nearest - farthest;
    }
}
