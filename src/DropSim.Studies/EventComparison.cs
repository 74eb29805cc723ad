using DropSim.Model;

namespace DropSim.Studies;

/// <summary>
/// Lays the events of two runs side by side: events of one kind that are near in time are taken for the same, in order, so that
/// what is left over on either side carries as little energy as possible.
/// </summary>
internal static class EventComparison
{
    /// <summary>
    /// Farther apart than this two events are not the same, s. A piece that bounces on a swaying spar doubles any small difference
    /// every few strikes: after twenty of them the time of the next has moved by some hundredths of a second, the strike itself has not gone.
    /// </summary>
    private const double SameWithin = 0.1;

    /// <summary>What it costs to leave over an event without an energy of its own: more than all that have one together.</summary>
    private const double Unsized = 1e6;

    /// <summary>What it costs to leave over any event: of two ways with the same energy the one with fewer events.</summary>
    private const double Any = 1e-9;

    /// <summary>The events that only one of two runs has, in order of time.</summary>
    /// <param name="first">Events of one run, in order of time.</param>
    /// <param name="tighter">Events of the run with the smaller tolerance, in order of time.</param>
    /// <param name="fallen">Energy that fell, J.</param>
    public static IReadOnlyList<OneSidedEvent> OnlyInOne(IReadOnlyList<RunEvent> first, IReadOnlyList<RunEvent> tighter, double fallen)
    {
        double Share(RunEvent e) => e.Energy is { } energy ? energy / fallen : double.NaN;
        double Cost(RunEvent e) => Any + (double.IsNaN(Share(e)) ? Unsized : Share(e));
        static bool Same(RunEvent a, RunEvent b) => a.Kind == b.Kind && Math.Abs(a.Time - b.Time) < SameWithin;

        // Least cost of what is left over from each pair of places on.
        var (n, m) = (first.Count, tighter.Count);
        var cost = new double[n + 1, m + 1];
        for (var i = n; i >= 0; i--)
        {
            for (var j = m; j >= 0; j--)
            {
                var least = i == n && j == m ? 0 : double.PositiveInfinity;
                least = i < n ? Math.Min(least, Cost(first[i]) + cost[i + 1, j]) : least;
                least = j < m ? Math.Min(least, Cost(tighter[j]) + cost[i, j + 1]) : least;
                cost[i, j] = i < n && j < m && Same(first[i], tighter[j]) ? Math.Min(least, cost[i + 1, j + 1]) : least;
            }
        }

        var single = new List<OneSidedEvent>();
        var (p, q) = (0, 0);
        while (p < n || q < m)
        {
            if (p < n && q < m && Same(first[p], tighter[q]) && cost[p, q].Equals(cost[p + 1, q + 1]))
            {
                (p, q) = (p + 1, q + 1);
            }
            else if (p < n && cost[p, q].Equals(Cost(first[p]) + cost[p + 1, q]))
            {
                single.Add(new(first[p], false, Share(first[p])));
                p++;
            }
            else
            {
                single.Add(new(tighter[q], true, Share(tighter[q])));
                q++;
            }
        }

        return [.. single.OrderBy(e => e.Event.Time)];
    }
}
