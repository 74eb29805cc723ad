namespace DropSim.Studies.Draws;

/// <summary>What a comparison of two cases on the same draws says of one measure.</summary>
public enum PairVerdict
{
    /// <summary>Lower in the first case in 18 of 20 or more.</summary>
    FirstLower,

    /// <summary>Lower in the first case in 13 to 17 of 20.</summary>
    FirstMoreOftenLower,

    /// <summary>Level within 5 % in 13 of 20 or more.</summary>
    Level,

    /// <summary>Neither: 8 to 12 of 20 either way.</summary>
    Open,

    /// <summary>Lower in the second case in 13 to 17 of 20.</summary>
    SecondMoreOftenLower,

    /// <summary>Lower in the second case in 18 of 20 or more.</summary>
    SecondLower,

    /// <summary>In fewer than half of the draws both are caught: how they end is the difference.</summary>
    Endings,
}

/// <summary>Two cases compared draw by draw in one measure: every draw has one of six outcomes.</summary>
/// <param name="Measure">Id of the measure.</param>
/// <param name="FirstLower">Draws in which both are caught and the first is lower by more than 5 %.</param>
/// <param name="Level">Draws in which both are caught and they differ by 5 % or less.</param>
/// <param name="SecondLower">Draws in which both are caught and the second is lower by more than 5 %.</param>
/// <param name="OnlyFirst">Draws in which only the first is caught.</param>
/// <param name="OnlySecond">Draws in which only the second is caught.</param>
/// <param name="Neither">Draws in which neither is.</param>
/// <param name="Low">5 % point of first over second, of pairs in which both are caught; not a number with fewer than 20 of them.</param>
/// <param name="Typical">Median of it.</param>
/// <param name="High">95 % point of it.</param>
public sealed record PairAnswer(
    string Measure, int FirstLower, int Level, int SecondLower, int OnlyFirst, int OnlySecond, int Neither, double Low, double Typical, double High)
{
    /// <summary>Nearer to each other than this share two values are level.</summary>
    public const double LevelWidth = 0.05;

    /// <summary>A median ratio this near to 1 is told as "by little".</summary>
    public const double Little = 0.10;

    /// <summary>With fewer pairs than this no ratio is told.</summary>
    public const int FewestPairs = 20;

    /// <summary>Number of draws.</summary>
    public int Drawn => Both + OnlyFirst + OnlySecond + Neither;

    /// <summary>Draws in which both are caught.</summary>
    public int Both => FirstLower + Level + SecondLower;

    /// <summary>The six outcomes in twentieths, in their order; they sum to 20.</summary>
    public IReadOnlyList<int> Twenty => OfTwenty.Apportion([FirstLower, Level, SecondLower, OnlyFirst, OnlySecond, Neither]);

    /// <summary>True where a ratio can be told.</summary>
    public bool HasRatio => double.IsFinite(Typical);

    /// <summary>True where one is lower, but not by much.</summary>
    public bool ByLittle => HasRatio && Math.Abs(Typical - 1) < Little;

    /// <summary>What it says, of the draws in which both are caught.</summary>
    public PairVerdict Verdict
    {
        get
        {
            if (2 * Both < Drawn || Both == 0)
            {
                return PairVerdict.Endings;
            }

            var (first, level, second) = (Of(FirstLower), Of(Level), Of(SecondLower));
            return first >= 18 ? PairVerdict.FirstLower
                : second >= 18 ? PairVerdict.SecondLower
                : level >= 13 ? PairVerdict.Level
                : first >= 13 ? PairVerdict.FirstMoreOftenLower
                : second >= 13 ? PairVerdict.SecondMoreOftenLower
                : PairVerdict.Open;
        }
    }

    /// <summary>Compares two cases of a scenario.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="first">Index of the first case.</param>
    /// <param name="second">Index of the second case.</param>
    /// <param name="measure">Id of the measure.</param>
    public static PairAnswer Of(DrawnScenario scenario, int first, int second, string measure)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var place = scenario.PlaceOf(measure);
        var (a, b) = (scenario.Cases[first].Drops, scenario.Cases[second].Drops);
        int lower = 0, level = 0, higher = 0, onlyFirst = 0, onlySecond = 0, neither = 0;
        List<double> ratios = [];
        for (var k = 0; k < scenario.Count; k++)
        {
            if (!a[k].IsCaught || !b[k].IsCaught)
            {
                onlyFirst += a[k].IsCaught ? 1 : 0;
                onlySecond += b[k].IsCaught ? 1 : 0;
                neither += a[k].IsCaught || b[k].IsCaught ? 0 : 1;
                continue;
            }

            var (x, y) = (a[k].Values[place], b[k].Values[place]);
            var near = AreLevel(x, y);
            level += near ? 1 : 0;
            lower += !near && x < y ? 1 : 0;
            higher += !near && x > y ? 1 : 0;
            if (y != 0)
            {
                ratios.Add(x / y);
            }
        }

        var quantile = Caught.Points(ratios, FewestPairs);
        return new(measure, lower, level, higher, onlyFirst, onlySecond, neither, quantile.Low, quantile.Typical, quantile.High);
    }

    /// <summary>True where two values are level.</summary>
    internal static bool AreLevel(double x, double y) => Math.Abs(x - y) <= LevelWidth * Math.Max(Math.Abs(x), Math.Abs(y));

    private int Of(int count) => new OfTwenty(count, Both).Twenty;
}
