namespace DropSim.Studies.Draws;

/// <summary>How a count of twenty is meant.</summary>
public enum TwentyKind
{
    /// <summary>None of those drawn.</summary>
    None,

    /// <summary>Fewer than half of one in twenty: say the count itself.</summary>
    Few,

    /// <summary>About so many.</summary>
    Some,

    /// <summary>More than 19, yet not all.</summary>
    MoreThanNineteen,

    /// <summary>All of those drawn.</summary>
    All,
}

/// <summary>A count told in twenties, which does not lie at its ends.</summary>
/// <param name="Count">How many of those drawn.</param>
/// <param name="Drawn">How many were drawn, 1 or more.</param>
public readonly record struct OfTwenty(int Count, int Drawn)
{
    /// <summary>How many of twenty, 0 to 20, rounded.</summary>
    public int Twenty => (int)Math.Round(20.0 * Count / Drawn, MidpointRounding.AwayFromZero);

    /// <summary>How it is told.</summary>
    public TwentyKind Kind => Count == 0 ? TwentyKind.None
        : Count == Drawn ? TwentyKind.All
        : Twenty == 0 ? TwentyKind.Few
        : Twenty == 20 ? TwentyKind.MoreThanNineteen
        : TwentyKind.Some;

    /// <summary>Shares that sum to one as whole twentieths that sum to twenty: the largest remainders are rounded up.</summary>
    /// <param name="counts">Counts; their sum is 1 or more.</param>
    public static int[] Apportion(IReadOnlyList<int> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        long sum = counts.Sum();
        ArgumentOutOfRangeException.ThrowIfLessThan(sum, 1, nameof(counts));
        var whole = counts.Select(c => (int)(20L * c / sum)).ToArray();
        var order = Enumerable.Range(0, counts.Count).OrderByDescending(i => 20L * counts[i] % sum).ThenBy(i => i);
        foreach (var i in order.Take(20 - whole.Sum()))
        {
            whole[i]++;
        }

        return whole;
    }
}
