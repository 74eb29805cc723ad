using OxyPlot;

namespace DropSim.Drawing;

/// <summary>Fewer points, the same picture: of all points that fall into one pixel column the first, lowest, highest and last are kept.</summary>
internal static class Thinning
{
    /// <summary>Thins a curve.</summary>
    /// <param name="x">Increasing.</param>
    /// <param name="y">NaN breaks the curve and is kept.</param>
    /// <param name="from">Left end of the axis.</param>
    /// <param name="to">Right end of the axis.</param>
    /// <param name="columns">Pixel columns.</param>
    internal static List<DataPoint> Thin(double[] x, double[] y, double from, double to, double columns)
    {
        var result = new List<DataPoint>(x.Length < 4 * columns ? x.Length : (int)(4 * columns));
        var perColumn = columns / (to - from);
        for (var i = 0; i < x.Length;)
        {
            var column = Math.Floor((x[i] - from) * perColumn);
            int first = i, low = i, high = i, last = i;
            for (; i < x.Length && Math.Floor((x[i] - from) * perColumn) == column && !double.IsNaN(y[i]); i++)
            {
                low = y[i] < y[low] ? i : low;
                high = y[i] > y[high] ? i : high;
                last = i;
            }

            if (i == first)
            {
                // A break, or an x that is no number.
                result.Add(DataPoint.Undefined);
                i++;
                continue;
            }

            Span<int> kept = [first, Math.Min(low, high), Math.Max(low, high), last];
            var before = -1;
            foreach (var k in kept)
            {
                if (k > before)
                {
                    result.Add(new DataPoint(x[k], y[k]));
                    before = k;
                }
            }
        }

        return result;
    }
}
