using DropSim.Studies.Uncertainty;

namespace DropSim.Studies.Draws;

/// <summary>One measure over the draws that are caught.</summary>
/// <param name="Measure">Id of the measure.</param>
/// <param name="Low">5 % point: one of 20 is below; not a number where fewer than 20 are caught.</param>
/// <param name="Typical">Median.</param>
/// <param name="High">95 % point: one of 20 is above.</param>
/// <param name="Largest">Largest.</param>
/// <param name="Smallest">Smallest.</param>
/// <param name="Dots">Values of the dots of a twenty-dot plot, from the smallest: the caught ones' share of 20.</param>
public sealed record Caught(string Measure, double Low, double Typical, double High, double Largest, double Smallest, IReadOnlyList<double> Dots)
{
    /// <summary>One measure of one case.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="which">Index of the case.</param>
    /// <param name="measure">Id of the measure.</param>
    public static Caught Of(DrawnScenario scenario, int which, string measure)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var place = scenario.PlaceOf(measure);
        var drops = scenario.Cases[which].Drops.Take(scenario.Count).ToArray();
        double[] values = [.. drops.Where(d => d.IsCaught && !double.IsNaN(d.Values[place])).Select(d => d.Values[place]).Order()];
        var points = Points(values, PairAnswer.FewestPairs);
        return new(measure, points.Low, points.Typical, points.High, values.Length == 0 ? double.NaN : values[^1], values.Length == 0 ? double.NaN : values[0], DotsOf(values, drops.Length));
    }

    /// <summary>The dots of sorted values, in number their share of 20 of all that were drawn: the quantiles (i - 0.5) / n.</summary>
    internal static double[] DotsOf(double[] sorted, int drawn)
    {
        var n = drawn == 0 ? 0 : new OfTwenty(sorted.Length, drawn).Twenty;
        n = Math.Clamp(n, sorted.Length > 0 ? 1 : 0, 20);
        return [.. Enumerable.Range(0, n).Select(i => Quantiles.Sorted(sorted, (i + 0.5) / n))];
    }

    /// <summary>5 %, 50 % and 95 % points; not numbers with fewer values than asked for.</summary>
    internal static (double Low, double Typical, double High) Points(IEnumerable<double> values, int fewest)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length < fewest
            ? (double.NaN, double.NaN, double.NaN)
            : (Quantiles.Sorted(sorted, 0.05), Quantiles.Sorted(sorted, 0.5), Quantiles.Sorted(sorted, 0.95));
    }
}

/// <summary>Draws of a case that are not caught, of one kind.</summary>
/// <param name="Ending">How they end.</param>
/// <param name="Obstacle">Which obstacle; -1 for none.</param>
/// <param name="Count">How many.</param>
/// <param name="Slowest">Smallest speed at the end, m/s.</param>
/// <param name="Fastest">Largest speed at the end, m/s.</param>
public sealed record Missed(DrawEnding Ending, int Obstacle, int Count, double Slowest, double Fastest)
{
    /// <summary>The kinds of endings that are no catch, most frequent first.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="which">Index of the case.</param>
    public static IReadOnlyList<Missed> Of(DrawnScenario scenario, int which)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        return
        [
            .. scenario.Cases[which].Drops.Take(scenario.Count).Where(d => !d.IsCaught).GroupBy(d => (d.Ending, d.Obstacle))
                .Select(g => new Missed(g.Key.Ending, g.Key.Obstacle, g.Count(), g.Min(d => d.Speed), g.Max(d => d.Speed)))
                .OrderByDescending(m => m.Count).ThenBy(m => m.Ending).ThenBy(m => m.Obstacle),
        ];
    }
}
