namespace DropSim.Studies.Draws;

/// <summary>An input and how much of a measure's spread it accounts for by itself.</summary>
/// <param name="Input">Index of the uncertain input.</param>
/// <param name="Key">Its key.</param>
/// <param name="Share">Share of the variance, 0 to 1: the correlation ratio over equally filled intervals of the input, less what chance gives.</param>
/// <param name="Worst">Interval of the input in which the measure is worst, 0 to <see cref="Movers.Intervals"/> - 1.</param>
public sealed record Mover(int Input, string Key, double Share, int Worst);

/// <summary>
/// Which inputs move a measure. The share is a correlation ratio (K. Pearson 1905, by name): it sees effects that rise and fall, as the release
/// angle's do, which a rank correlation does not.
/// </summary>
public static class Movers
{
    /// <summary>Intervals of an input, equally filled.</summary>
    public const int Intervals = 8;

    /// <summary>Shares below this are chance with a few hundred draws.</summary>
    private const double Noise = 0.03;

    /// <summary>The inputs of a case that move a measure most, among the draws that are caught; the first three that are more than chance.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="which">Index of the case.</param>
    /// <param name="measure">Id of the measure.</param>
    public static IReadOnlyList<Mover> Of(DrawnScenario scenario, int which, string measure)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        return [.. All(scenario, which, measure, smallerIsWorse: false).Where(m => m.Share > Noise).OrderByDescending(m => m.Share).ThenBy(m => m.Input).Take(3)];
    }

    /// <summary>Every input of a case, in its order.</summary>
    internal static IReadOnlyList<Mover> All(DrawnScenario scenario, int which, string measure, bool smallerIsWorse)
    {
        var place = scenario.PlaceOf(measure);
        var c = scenario.Cases[which];
        var rows = Enumerable.Range(0, scenario.Count).Where(k => c.Drops[k].IsCaught && double.IsFinite(c.Drops[k].Values[place])).ToArray();
        return [.. c.Case.Uncertain.Select((u, i) => One(i, u.Key))];

        Mover One(int input, string key)
        {
            var (sums, counts) = (new double[Intervals], new int[Intervals]);
            double total = 0, squares = 0;
            foreach (var k in rows)
            {
                var value = c.Drops[k].Values[place];
                var interval = Math.Min(Intervals - 1, (int)(Intervals * scenario.Share(which, input, k)));
                sums[interval] += value;
                counts[interval]++;
                total += value;
                squares += value * value;
            }

            var n = rows.Length;
            var variance = n > 0 ? squares - (total * total / n) : 0;
            var worst = -1;
            double between = 0;
            var filled = 0;
            for (var b = 0; b < Intervals; b++)
            {
                if (counts[b] == 0)
                {
                    continue;
                }

                filled++;
                var mean = sums[b] / counts[b];
                between += counts[b] * (mean - (total / n)) * (mean - (total / n));
                if (worst < 0 || (smallerIsWorse ? mean < sums[worst] / counts[worst] : mean > sums[worst] / counts[worst]))
                {
                    worst = b;
                }
            }

            // Less what intervals of a pure chance would show: (filled - 1) / (n - 1) of the variance.
            var share = variance > 0 && n > filled ? ((between / variance) - ((filled - 1.0) / (n - 1))) / (1 - ((filled - 1.0) / (n - 1))) : 0;
            return new(input, key, Math.Clamp(share, 0, 1), Math.Max(worst, 0));
        }
    }
}

/// <summary>An input that decides which of two cases is lower.</summary>
/// <param name="Input">Index of the uncertain input in the first case.</param>
/// <param name="Key">Its key.</param>
/// <param name="Border">Value of it at which the order turns, SI.</param>
/// <param name="FirstLowerAbove">True where the first case is lower above the border.</param>
public sealed record Decider(int Input, string Key, double Border, bool FirstLowerAbove)
{
    /// <summary>Share of fresh draws, of each kind, that a border must put right before an input is called the decider.</summary>
    private const double Clearly = 0.8;

    /// <summary>With fewer pairs of either kind than this there is nothing to decide.</summary>
    private const int FewestOfAKind = 10;

    /// <summary>The decider of an open comparison; null where no single input separates the two kinds on draws that it was not found on.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="first">Index of the first case.</param>
    /// <param name="second">Index of the second case.</param>
    /// <param name="measure">Id of the measure.</param>
    public static Decider? Of(DrawnScenario scenario, int first, int second, string measure)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var place = scenario.PlaceOf(measure);
        var (a, b) = (scenario.Cases[first], scenario.Cases[second]);
        var pairs = Enumerable.Range(0, scenario.Count).Where(k => a.Drops[k].IsCaught && b.Drops[k].IsCaught)
            .Select(k => (Draw: k, Lower: a.Drops[k].Values[place] < b.Drops[k].Values[place])).ToArray();
        if (pairs.Count(p => p.Lower) < FewestOfAKind || pairs.Count(p => !p.Lower) < FewestOfAKind)
        {
            return null;
        }

        // Found on every other draw, judged on the rest.
        var (found, fresh) = (pairs.Where((_, i) => i % 2 == 0).ToArray(), pairs.Where((_, i) => i % 2 == 1).ToArray());
        Decider? best = null;
        double bestRight = 0;
        for (var input = 0; input < a.Case.Uncertain.Count; input++)
        {
            double Share(int draw) => scenario.Share(first, input, draw);
            foreach (var above in new[] { false, true })
            {
                var border = found.Select(p => Share(p.Draw)).MaxBy(s => Right(found, Share, s, above));
                var right = Right(fresh, Share, border, above);
                if (right > bestRight)
                {
                    bestRight = right;
                    best = new(input, a.Case.Uncertain[input].Key, Uncertainty.Distributions.Quantile(a.Case.Uncertain[input].Distribution, border), above);
                }
            }
        }

        return bestRight >= Clearly ? best : null;
    }

    /// <summary>The smaller of the shares of both kinds that a border puts right.</summary>
    private static double Right((int Draw, bool Lower)[] pairs, Func<int, double> share, double border, bool above)
    {
        double Of(bool lower)
        {
            var kind = pairs.Where(p => p.Lower == lower).ToArray();
            return kind.Length == 0 ? 0 : (double)kind.Count(p => (share(p.Draw) > border == above) == lower) / kind.Length;
        }

        return Math.Min(Of(true), Of(false));
    }
}
