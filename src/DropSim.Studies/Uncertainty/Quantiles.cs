using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace DropSim.Studies.Uncertainty;

/// <summary>
/// A quantile of values of which some are bounds only. Where a drop was cut short the true value is not known, only from where to where it
/// can lie: the quantile of the lower ends and that of the upper ends then hold the true one between them.
/// </summary>
/// <param name="Share">Share of the drops below it.</param>
/// <param name="Low">Quantile of the lower ends: the true one is not below it.</param>
/// <param name="High">Quantile of the upper ends; +infinity where nothing bounds it.</param>
/// <param name="SampleLow">Lower end of the 95 % interval for the number of drops computed, of <paramref name="Low"/>.</param>
/// <param name="SampleHigh">Upper end of it, of <paramref name="High"/>.</param>
public readonly record struct QuantileBounds(double Share, double Low, double High, double SampleLow, double SampleHigh)
{
    /// <summary>True where no bound takes part in it.</summary>
    public bool IsExact => Low.Equals(High);
}

/// <summary>How many drops of a hundred go past a limit.</summary>
/// <param name="Low">Share of the drops that surely do.</param>
/// <param name="High">Share of the drops that may: those that were cut short before their peak are among them.</param>
/// <param name="SampleLow">Lower end of the 95 % interval for the number of drops computed.</param>
/// <param name="SampleHigh">Upper end of it.</param>
public readonly record struct ShareBounds(double Low, double High, double SampleLow, double SampleHigh);

/// <summary>Quantiles and shares of a sample.</summary>
internal static class Quantiles
{
    /// <summary>What an interval leaves out on each side.</summary>
    private const double Tail = 0.025;

    /// <summary>Quantile of sorted values, linear between the order statistics (Hyndman and Fan's definition 7); infinite values are kept, not averaged into nonsense.</summary>
    /// <param name="sorted">Values in rising order; at least one.</param>
    /// <param name="share">Share, 0 to 1.</param>
    public static double Sorted(double[] sorted, double share)
    {
        if (double.IsFinite(sorted[0]) && double.IsFinite(sorted[^1]))
        {
            return SortedArrayStatistics.QuantileCustom(sorted, share, QuantileDefinition.R7);
        }

        var at = share * (sorted.Length - 1);
        var below = sorted[(int)Math.Floor(at)];
        var above = sorted[(int)Math.Ceiling(at)];
        return below.Equals(above) ? below
            : double.IsFinite(below) && double.IsFinite(above) ? below + ((at - Math.Floor(at)) * (above - below))
            : double.IsFinite(below) ? above : below;
    }

    /// <summary>Quantile of values known between two ends each.</summary>
    /// <param name="lows">Lower ends, sorted.</param>
    /// <param name="highs">Upper ends, sorted.</param>
    /// <param name="share">Share, 0 to 1.</param>
    public static QuantileBounds Of(double[] lows, double[] highs, double share)
    {
        // The number of drops below a quantile is binomial: the order statistics that hold it in 95 of 100 samples.
        var n = lows.Length;
        var (from, to) = Ranks(n, share);
        return new(share, Sorted(lows, share), Sorted(highs, share),
            from < 0 ? double.NegativeInfinity : lows[from], to >= n ? double.PositiveInfinity : highs[to]);
    }

    /// <summary>Share of the values above a limit (or at or below it).</summary>
    /// <param name="lows">Lower ends.</param>
    /// <param name="highs">Upper ends.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="atOrBelow">True to count values at or below the limit.</param>
    public static ShareBounds Past(double[] lows, double[] highs, double limit, bool atOrBelow)
    {
        var surely = atOrBelow ? highs.Count(v => v <= limit) : lows.Count(v => v > limit);
        var maybe = atOrBelow ? lows.Count(v => v <= limit) : highs.Count(v => v > limit);
        return Share(surely, maybe, lows.Length);
    }

    /// <summary>A share with the interval of Clopper and Pearson.</summary>
    /// <param name="surely">Number that surely counts.</param>
    /// <param name="maybe">Number that may count.</param>
    /// <param name="count">Number of all.</param>
    public static ShareBounds Share(int surely, int maybe, int count) => new(
        (double)surely / count,
        (double)maybe / count,
        surely == 0 ? 0 : Beta.InvCDF(surely, count - surely + 1, Tail),
        maybe == count ? 1 : Beta.InvCDF(maybe + 1, count - maybe, 1 - Tail));

    /// <summary>Order statistics (from 0) that hold a quantile in 95 of 100 samples; -1 and n where the sample is too small for one.</summary>
    private static (int From, int To) Ranks(int n, double share)
    {
        int FirstAbove(double level)
        {
            var (low, high) = (0, n);
            while (low < high)
            {
                var middle = (low + high) / 2;
                (low, high) = Binomial.CDF(share, n, middle) > level ? (low, middle) : (middle + 1, high);
            }

            return low;
        }

        return (FirstAbove(Tail) - 1, FirstAbove(1 - Tail));
    }
}
