using MathNet.Numerics.Random;

namespace DropSim.Studies.Uncertainty;

/// <summary>An estimate with the interval that holds it in 95 of 100 repeats.</summary>
/// <param name="Value">The estimate.</param>
/// <param name="Low">2.5 % point.</param>
/// <param name="High">97.5 % point.</param>
public readonly record struct Estimate(double Value, double Low, double High);

/// <summary>
/// Shares of the variance of a result (I.M. Sobol, Math. Comput. Simul. 55 (2001) 271-280; by name): what an input does alone (first
/// order) and together with the others (total). First order after A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259-270, table 2
/// row b; total after M.J.W. Jansen, Comput. Phys. Commun. 117 (1999) 35-43 (both by name; tested on Ishigami's function).
/// </summary>
internal static class SobolIndices
{
    /// <summary>Repeats behind an interval (bootstrap over the rows).</summary>
    private const int Repeats = 400;

    /// <summary>Estimates both indices of one input.</summary>
    /// <param name="a">Result in each row of the first set of points.</param>
    /// <param name="b">Result in each row of the second set.</param>
    /// <param name="mixed">Result in each row of the first set with this input's column taken from the second.</param>
    /// <param name="seed">Seed of the repeats.</param>
    public static (Estimate First, Estimate Total) Of(ReadOnlySpan<double> a, ReadOnlySpan<double> b, ReadOnlySpan<double> mixed, int seed)
    {
        var n = a.Length;
        var rows = Enumerable.Range(0, n).ToArray();
        var (first, total) = Shares(a, b, mixed, rows);
        var random = new MersenneTwister(seed, false);
        var firsts = new double[Repeats];
        var totals = new double[Repeats];
        for (var k = 0; k < Repeats; k++)
        {
            for (var i = 0; i < n; i++)
            {
                rows[i] = random.Next(n);
            }

            (firsts[k], totals[k]) = Shares(a, b, mixed, rows);
        }

        return (Interval(first, firsts), Interval(total, totals));
    }

    private static Estimate Interval(double value, double[] repeats)
    {
        Array.Sort(repeats);
        return new(value, Quantiles.Sorted(repeats, 0.025), Quantiles.Sorted(repeats, 0.975));
    }

    private static (double First, double Total) Shares(ReadOnlySpan<double> a, ReadOnlySpan<double> b, ReadOnlySpan<double> mixed, int[] rows)
    {
        double mean = 0;
        foreach (var r in rows)
        {
            mean += a[r] + b[r];
        }

        mean /= 2 * rows.Length;
        double variance = 0;
        double first = 0;
        double total = 0;
        foreach (var r in rows)
        {
            variance += ((a[r] - mean) * (a[r] - mean)) + ((b[r] - mean) * (b[r] - mean));

            // With the mean taken off the estimate scatters less and means the same.
            first += (b[r] - mean) * (mixed[r] - a[r]);
            total += (a[r] - mixed[r]) * (a[r] - mixed[r]) / 2;
        }

        variance /= 2;
        return variance > 0 ? (first / variance, total / variance) : (double.NaN, double.NaN);
    }
}
