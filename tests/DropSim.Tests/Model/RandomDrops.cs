using System.Collections.Concurrent;
using System.Globalization;
using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// What must hold for every drop that may be computed. Drops are numbered, so that one that fails can be made again; 300 in an
/// ordinary run of the tests, for more:
/// DROPSIM_RANDOM_DROPS=20000 dotnet test tests/DropSim.Tests -c Release --filter FullyQualifiedName~RandomDrops
/// </summary>
public sealed class RandomDrops
{
    /// <summary>
    /// More than a hundred times what an ordinary drop needs: random ones bounce thousands of times against a stiff spar.
    /// </summary>
    private const int MostSteps = 200_000;

    /// <summary>Spells without phases in one drop: a way out that is there for ties, not a way to compute.</summary>
    private const int MostPhaselessSpells = 60;

    [Fact]
    public void Every_drop_ends_for_a_reason_with_finite_measures_closed_books_and_no_more_force_than_work_allows()
    {
        var count = int.Parse(Environment.GetEnvironmentVariable("DROPSIM_RANDOM_DROPS") ?? "300", CultureInfo.InvariantCulture);
        var problems = new ConcurrentBag<string>();
        Parallel.For(0, count, number =>
        {
            foreach (var problem in Problems(DropSimulator.Run(Drop(number))))
            {
                problems.Add(FormattableString.Invariant($"drop {number}: {problem}"));
            }
        });

        problems.Should().BeEmpty();
    }

    /// <summary>The drop with a number: always the same one.</summary>
    internal static DropInput Drop(int number) => RandomDropGenerator.Drop.Generate(new PCG(1, ((ulong)number * 7_919) + 12_345), null, out _);

    /// <summary>What is wrong with a run.</summary>
    /// <param name="run">The run.</param>
    /// <param name="mostSteps">Steps above which a drop of this kind needs a look.</param>
    internal static IEnumerable<string> Problems(DropRun run, int mostSteps = MostSteps)
    {
        if (run.End.Kind == EndKind.Failed)
        {
            yield return run.End.Description;
        }

        // Above this a run is not good, and says so itself.
        if (!(run.Ledger.LargestImbalance <= 1e-4))
        {
            yield return FormattableString.Invariant($"the books are open by {run.Ledger.LargestImbalance:0.0e0} of the energy that fell");
        }

        if (run.Statistics.AcceptedSteps + run.Statistics.RejectedSteps > mostSteps || run.Statistics.PhaselessSpells > MostPhaselessSpells)
        {
            yield return run.Statistics.ToString();
        }

        foreach (var measure in run.Measures.Where(m => m.State is not (MeasureState.Unknown or MeasureState.NotReached) && !double.IsFinite(m.Value)))
        {
            yield return FormattableString.Invariant($"{measure.Id} is {measure.Value}");
        }

        // The mean of the load leg's tension over its path is never above its peak; the path is summed by trapezoids of 0.2 ms.
        var least = run.Measures.FirstOrDefault(m => m.Id == MeasureIds.LeastPossible);
        if (least?.State == MeasureState.Exact && run[MeasureIds.LoadLegTension].Value < least.Value * (1 - 1e-3))
        {
            yield return FormattableString.Invariant($"peak {run[MeasureIds.LoadLegTension].Value:0} N below the least possible {least.Value:0} N");
        }
    }
}
