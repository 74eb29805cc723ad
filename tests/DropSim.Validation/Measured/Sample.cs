namespace DropSim.Validation.Measured;

/// <summary>Numbers of a sample as the page tells them.</summary>
internal static class Sample
{
    /// <summary>Quantile, straight between the sorted values: share 0 is the smallest, 1 the largest.</summary>
    public static double Quantile(IEnumerable<double> values, double share)
    {
        double[] sorted = [.. values.Order()];
        var at = share * (sorted.Length - 1);
        var below = Math.Min((int)at, sorted.Length - 2);
        return sorted[below] + ((at - below) * (sorted[below + 1] - sorted[below]));
    }

    /// <summary>exp of the mean logarithm.</summary>
    public static double GeometricMean(IEnumerable<double> values) => Math.Exp(values.Average(v => Math.Log(v)));

    /// <summary>Standard deviation, n - 1.</summary>
    public static double Deviation(IEnumerable<double> values)
    {
        double[] all = [.. values];
        var mean = all.Average();
        return Math.Sqrt(all.Sum(v => (v - mean) * (v - mean)) / (all.Length - 1));
    }

    /// <summary>Standard deviation of the logarithm.</summary>
    public static double LogDeviation(IEnumerable<double> values) => Deviation(values.Select(v => Math.Log(v)));

    /// <summary>Correlation of the logarithms.</summary>
    public static double LogCorrelation(IEnumerable<double> first, IEnumerable<double> second)
    {
        double[] a = [.. first.Select(v => Math.Log(v))];
        double[] b = [.. second.Select(v => Math.Log(v))];
        var (ma, mb) = (a.Average(), b.Average());
        return a.Zip(b, (x, y) => (x - ma) * (y - mb)).Sum() / ((a.Length - 1) * Deviation(a) * Deviation(b));
    }
}
