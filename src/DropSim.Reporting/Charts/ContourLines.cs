namespace DropSim.Reporting.Charts;

/// <summary>Lines of equal value on a rectangular grid: marching squares, the pieces joined end to end.</summary>
internal static class ContourLines
{
    /// <summary>The lines where a field is zero.</summary>
    /// <param name="x">Places of the columns, rising.</param>
    /// <param name="y">Places of the rows, rising.</param>
    /// <param name="value">The field at a column and row; a cell with a corner that is not a number has no line.</param>
    /// <returns>One polyline each.</returns>
    internal static IReadOnlyList<IReadOnlyList<(double X, double Y)>> Zero(IReadOnlyList<double> x, IReadOnlyList<double> y, Func<int, int, double> value)
    {
        // An edge is named by its lower left node and direction, so that two cells agree on the point they share.
        var next = new Dictionary<(int, int, bool), List<(int, int, bool)>>();
        var points = new Dictionary<(int, int, bool), (double X, double Y)>();
        for (var i = 0; i + 1 < x.Count; i++)
        {
            for (var j = 0; j + 1 < y.Count; j++)
            {
                Cell(i, j);
            }
        }

        return Joined(next, points);

        void Cell(int i, int j)
        {
            double[] v = [value(i, j), value(i + 1, j), value(i + 1, j + 1), value(i, j + 1)];
            if (v.Any(d => !double.IsFinite(d)))
            {
                return;
            }

            var crossed = new List<(int, int, bool)>();
            Edge((i, j, true), v[0], v[1], x[i], y[j], x[i + 1], y[j]);
            Edge((i + 1, j, false), v[1], v[2], x[i + 1], y[j], x[i + 1], y[j + 1]);
            Edge((i, j + 1, true), v[3], v[2], x[i], y[j + 1], x[i + 1], y[j + 1]);
            Edge((i, j, false), v[0], v[3], x[i], y[j], x[i], y[j + 1]);
            for (var k = 0; k + 1 < crossed.Count; k += 2)
            {
                Link(crossed[k], crossed[k + 1]);
                Link(crossed[k + 1], crossed[k]);
            }

            void Edge((int, int, bool) name, double a, double b, double ax, double ay, double bx, double by)
            {
                if (a < 0 == b < 0)
                {
                    return;
                }

                var share = a / (a - b);
                points[name] = (ax + (share * (bx - ax)), ay + (share * (by - ay)));
                crossed.Add(name);
            }
        }

        void Link((int, int, bool) from, (int, int, bool) to)
        {
            if (!next.TryGetValue(from, out var list))
            {
                next[from] = list = [];
            }

            list.Add(to);
        }
    }

    private static List<IReadOnlyList<(double X, double Y)>> Joined(
        Dictionary<(int, int, bool), List<(int, int, bool)>> next, Dictionary<(int, int, bool), (double X, double Y)> points)
    {
        var lines = new List<IReadOnlyList<(double X, double Y)>>();
        var used = new HashSet<(int, int, bool)>();

        // Open lines from their ends first, then what is left: closed ones.
        foreach (var start in next.Keys.Where(k => next[k].Count == 1).Concat(next.Keys).ToArray())
        {
            if (used.Contains(start))
            {
                continue;
            }

            var line = new List<(double X, double Y)>();
            (int, int, bool)? at = start;
            while (at is { } here && used.Add(here))
            {
                line.Add(points[here]);
                at = next[here].Where(n => !used.Contains(n)).Cast<(int, int, bool)?>().FirstOrDefault();
            }

            if (next[start].Count > 1 && line.Count > 2)
            {
                line.Add(line[0]);
            }

            lines.Add(line);
        }

        return lines;
    }
}
