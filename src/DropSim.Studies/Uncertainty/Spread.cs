using DropSim.Model;
using MathNet.Numerics.Statistics;

namespace DropSim.Studies.Uncertainty;

/// <summary>Quantiles, influence and convergence of the measures of a sample.</summary>
internal sealed class Spread(string[] ids, SampledDrop[] samples, List<IndexRow> rows, int inputs, int seed)
{
    /// <summary>Fewest drops or rows from which convergence is shown.</summary>
    private const int FewestShown = 32;

    /// <summary>Measures for which influence is worked out: the headline and what the load chain is judged by.</summary>
    private static readonly HashSet<string> Judged =
    [
        MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun,
        MeasureIds.LoadLegTension, MeasureIds.GroundLegTension, MeasureIds.SparStress, MeasureIds.RopeSpeed, MeasureIds.WeakestLink,
    ];

    /// <summary>Spread of one measure.</summary>
    /// <param name="central">The measure of the central run.</param>
    /// <param name="index">Its place.</param>
    public MeasureSpread Of(Measure central, int index) =>
        new(central, central.State == MeasureState.Unknown ? [] : At(index, samples.Length), Judged.Contains(central.Id) ? Influences(index) : []);

    /// <summary>Quantiles of a measure against the number of drops.</summary>
    public IReadOnlyList<ConvergencePoint> Convergence(string id)
    {
        var index = Array.IndexOf(ids, id);
        return [.. Counts(samples.Length).Select(n => new ConvergencePoint(n, At(index, n)))];
    }

    /// <summary>Total indices of a measure against the number of rows.</summary>
    public IReadOnlyList<IndexConvergence> IndexConvergence(string id)
    {
        var index = Array.IndexOf(ids, id);
        return Values(index) is not { } values
            ? []
            : [.. Counts(rows.Count).Select(n => new IndexConvergence(n, [.. Enumerable.Range(0, inputs).Select(i => Indices(values, i, n).Total)]))];
    }

    private static IEnumerable<int> Counts(int most)
    {
        for (var n = FewestShown; n < most; n *= 2)
        {
            yield return n;
        }

        if (most >= FewestShown)
        {
            yield return most;
        }
    }

    private QuantileBounds[] At(int index, int count)
    {
        double[] low = [.. samples.Take(count).Select(s => s.Low[index]).Order()];
        double[] high = [.. samples.Take(count).Select(s => s.High[index]).Order()];
        return [.. UncertaintyOptions.Shares.Select(share => Quantiles.Of(low, high, share))];
    }

    /// <summary>Influence on what was recorded; of a drop that was cut short that is what came before its end.</summary>
    private Influence[] Influences(int index)
    {
        var computed = samples.Where(s => double.IsFinite(s.Recorded[index])).ToArray();
        if (computed.Length < FewestShown || computed.All(s => s.Recorded[index].Equals(computed[0].Recorded[index])))
        {
            return [];
        }

        var results = computed.Select(s => s.Recorded[index]).ToArray();
        var values = Values(index);
        return [.. Enumerable.Range(0, inputs).Select(i =>
        {
            var rank = Correlation.Spearman(computed.Select(s => s.Point[i]), results);
            if (values is null)
            {
                return new Influence(rank, null, null);
            }

            var (first, total) = Indices(values, i, values.First.Length);
            return new Influence(rank, first, total);
        })];
    }

    private sealed record RowValues(double[] First, double[] Second, double[][] Mixed);

    /// <summary>What the rows recorded of a measure; null where there are too few, or one has none.</summary>
    private RowValues? Values(int index)
    {
        if (rows.Count < FewestShown || rows.Any(r => !double.IsFinite(r.First.Recorded[index]) || !double.IsFinite(r.Second.Recorded[index]) || r.Mixed.Any(m => !double.IsFinite(m.Recorded[index]))))
        {
            return null;
        }

        var values = new RowValues(
            [.. rows.Select(r => r.First.Recorded[index])], [.. rows.Select(r => r.Second.Recorded[index])],
            [.. Enumerable.Range(0, inputs).Select(i => rows.Select(r => r.Mixed[i].Recorded[index]).ToArray())]);
        return values.First.Concat(values.Second).All(v => v.Equals(values.First[0])) ? null : values;
    }

    private (Estimate First, Estimate Total) Indices(RowValues values, int input, int count) =>
        SobolIndices.Of(values.First.AsSpan(0, count), values.Second.AsSpan(0, count), values.Mixed[input].AsSpan(0, count), seed);
}
