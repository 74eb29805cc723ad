namespace DropSim.Studies;

/// <summary>Which way a row of values goes.</summary>
public enum TrendKind
{
    /// <summary>Too few values, or no change.</summary>
    Level,

    /// <summary>Never falls.</summary>
    Rising,

    /// <summary>Never rises.</summary>
    Falling,

    /// <summary>Does both.</summary>
    Neither,
}

/// <summary>Which way a row of values goes, told apart from what the computation's tolerance can make.</summary>
/// <param name="Kind">Which way.</param>
/// <param name="TurnsAt">Where it does both: the place of the largest value against its run, -1 otherwise.</param>
public readonly record struct Trend(TrendKind Kind, int TurnsAt)
{
    /// <summary>A step against the trend smaller than this share of the largest value is not one: ten times what the tolerance of a varied drop makes.</summary>
    public const double Slight = 2e-3;

    /// <summary>Judges a row.</summary>
    /// <param name="values">Values in order; those that are not numbers are passed over.</param>
    public static Trend Of(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var known = Enumerable.Range(0, values.Count).Where(i => double.IsFinite(values[i])).ToArray();
        if (known.Length < 2)
        {
            return new(TrendKind.Level, -1);
        }

        var slight = Slight * known.Max(i => Math.Abs(values[i]));

        // Against the highest and the lowest so far, so that many slight steps do not hide a fall.
        var (high, low, highAt, lowAt) = (values[known[0]], values[known[0]], known[0], known[0]);
        var (falls, rises, fallsFrom, risesFrom) = (false, false, -1, -1);
        foreach (var i in known)
        {
            if (values[i] < high - slight && !falls)
            {
                (falls, fallsFrom) = (true, highAt);
            }

            if (values[i] > low + slight && !rises)
            {
                (rises, risesFrom) = (true, lowAt);
            }

            (high, highAt) = values[i] > high ? (values[i], i) : (high, highAt);
            (low, lowAt) = values[i] < low ? (values[i], i) : (low, lowAt);
        }

        return (rises, falls) switch
        {
            (true, true) => new(TrendKind.Neither, Math.Max(fallsFrom, risesFrom)),
            (true, false) => new(TrendKind.Rising, -1),
            (false, true) => new(TrendKind.Falling, -1),
            _ => new(TrendKind.Level, -1),
        };
    }
}
