using DropSim.Studies.Uncertainty;

namespace DropSim.Studies.Draws;

/// <summary>
/// The dots of a comparison: first over second, in number the six outcomes' shares of 20, so that whoever counts dots counts outcomes.
/// Each outcome's dots are the quantiles (i - 0.5) / n of its own ratios.
/// </summary>
/// <param name="Answer">The comparison.</param>
/// <param name="FirstLower">Ratios of the dots of draws in which the first is lower, from the smallest.</param>
/// <param name="Level">Those in which both are level.</param>
/// <param name="SecondLower">Those in which the second is lower.</param>
public sealed record PairDots(PairAnswer Answer, IReadOnlyList<double> FirstLower, IReadOnlyList<double> Level, IReadOnlyList<double> SecondLower)
{
    /// <summary>A ratio beyond this, or below one over it, is shown there.</summary>
    public const double Farthest = 64;

    /// <summary>All of them, from the smallest.</summary>
    public IEnumerable<double> All => FirstLower.Concat(Level).Concat(SecondLower);

    /// <summary>The dots of two cases of a scenario.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="first">Index of the first case.</param>
    /// <param name="second">Index of the second case.</param>
    /// <param name="answer">The comparison of the two in one measure.</param>
    public static PairDots Of(DrawnScenario scenario, int first, int second, PairAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(answer);
        var place = scenario.PlaceOf(answer.Measure);
        var (a, b) = (scenario.Cases[first].Drops, scenario.Cases[second].Drops);
        List<double> lower = [], level = [], higher = [];
        foreach (var (x, y) in Enumerable.Range(0, scenario.Count).Where(k => a[k].IsCaught && b[k].IsCaught).Select(k => (a[k].Values[place], b[k].Values[place])))
        {
            var ratio = x == y ? 1 : Math.Clamp(x / y, 1 / Farthest, Farthest);
            if (double.IsFinite(ratio))
            {
                (PairAnswer.AreLevel(x, y) ? level : x < y ? lower : higher).Add(ratio);
            }
        }

        var twenty = answer.Twenty;
        return new(answer, Dots(lower, twenty[0]), Dots(level, twenty[1]), Dots(higher, twenty[2]));
    }

    private static double[] Dots(List<double> ratios, int n)
    {
        ratios.Sort();
        return ratios.Count == 0 ? [] : [.. Enumerable.Range(0, n).Select(i => Quantiles.Sorted([.. ratios], (i + 0.5) / n))];
    }
}
