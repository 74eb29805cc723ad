using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Studies;

/// <summary>
/// One drop with what is uncertain about it: every input at both ends of its range, then for each headline measure the ends
/// that made it worse all together, then a fixed spread of points inside the ranges. Low and high of each measure are
/// the smallest and largest over all of these runs (docs/theory/ranges.md). They are not a statistical interval.
/// </summary>
public static partial class RangeStudy
{
    /// <summary>Points inside the ranges: enough to find that the middle is worse than the ends where it is so.</summary>
    public const int SpreadPoints = 12;

    /// <summary>Computes the central run and the ranges of its measures. The result does not depend on the number of threads.</summary>
    /// <param name="dropCase">What to compute.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told after every run; may be null.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    /// <exception cref="DropInputException">The central case cannot be computed.</exception>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public static CaseResult Compute(DropCase dropCase, int threads, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        ArgumentOutOfRangeException.ThrowIfLessThan(threads, 1);
        var central = DropSimulator.Run(dropCase.Input, null, cancellation);
        progress?.Invoke();
        if (dropCase.Ranges.Count == 0)
        {
            return new(dropCase, central, 0, "no ranges were given");
        }

        var runner = new Runner(dropCase, progress, cancellation);
        var found = new List<Outcome>();
        foreach (var batch in Batches(dropCase, central, found))
        {
            found.AddRange(runner.Run(batch, threads));
        }

        return Gather(dropCase, central, found);
    }

    /// <summary>The points to compute, a batch at a time; each batch is made of what the batches before it found.</summary>
    private static IEnumerable<List<double[]>> Batches(DropCase dropCase, DropRun central, List<Outcome> found)
    {
        var ends = new List<double[]>();
        for (var i = 0; i < dropCase.Ranges.Count; i++)
        {
            ends.Add(CentralPoint(dropCase, i, dropCase.Ranges[i].Low));
            ends.Add(CentralPoint(dropCase, i, dropCase.Ranges[i].High));
        }

        yield return ends;
        var others = Corners(dropCase, central, [.. found]);
        for (var k = 1; k <= SpreadPoints; k++)
        {
            others.Add(Spread(dropCase.Ranges, k));
        }

        yield return others;

        // Where a point inside beat the corner, its surroundings may be worse still: walk on from the worst point found.
        yield return Further(dropCase, central, [.. found]);
    }

    private static double[] CentralPoint(DropCase dropCase, int changed, double value)
    {
        var point = dropCase.Ranges.Select(r => r.Central).ToArray();
        point[changed] = value;
        return point;
    }

    private static CaseResult Gather(DropCase dropCase, DropRun central, List<Outcome> found)
    {
        Outcome[] all = [.. found];
        var measures = central.Measures.Select(m => WithRange(m, dropCase, all)).ToArray();
        var computed = all.Count(r => r.Run is not null);
        var refused = all.Length - computed;
        var method = FormattableString.Invariant(
            $"{computed} runs: each of {dropCase.Ranges.Count} uncertain inputs at both ends of its range, the worst ends together for each headline measure, {SpreadPoints} points spread inside, and the ends around the worst point of each")
            + (refused > 0 ? FormattableString.Invariant($"; {refused} more could not be computed") : "");
        return new(dropCase, central with { Measures = measures }, computed, method) { RangeEnds = [.. all.Where(r => r.Run is not null).Select(r => r.Run!.End)] };
    }

    /// <summary>A point of a fixed low-discrepancy sequence (additive recurrence with powers of the inverse of the generalised golden ratio).</summary>
    /// <param name="ranges">The ranges.</param>
    /// <param name="k">Which point, from 1.</param>
    internal static double[] Spread(IReadOnlyList<InputRange> ranges, int k)
    {
        // x^(d+1) = x + 1 by fixed-point iteration.
        var d = ranges.Count;
        double x = 2;
        for (var i = 0; i < 60; i++)
        {
            x = Elementary.Pow(1 + x, 1.0 / (d + 1));
        }

        var point = new double[d];
        for (var i = 0; i < d; i++)
        {
            var u = (0.5 + (k * Elementary.Pow(1 / x, i + 1))) % 1;
            var (low, high) = (ranges[i].Low, ranges[i].High);

            // Stiffnesses range over factors: spread them in the logarithm.
            point[i] = low > 0 && high / low >= FactorRange && double.IsFinite(high) ? low * Elementary.Pow(high / low, u)
                : double.IsFinite(high) ? low + (u * (high - low))
                : u < 0.5 ? low : high;
        }

        return point;
    }

    /// <summary>Relative difference below which two runs count as equally bad.</summary>
    private const double Tie = 1e-6;

    /// <summary>A range whose ends differ by this factor is spread in the logarithm.</summary>
    private const double FactorRange = 3;

    /// <summary>For each headline measure the ends that made it worse, all together; each different corner once.</summary>
    private static List<double[]> Corners(DropCase dropCase, DropRun central, Outcome[] atEnds)
    {
        var corners = new List<double[]>();
        foreach (var measure in Judged(central))
        {
            var sign = measure.Worse == Worse.Smaller ? -1 : 1;
            var corner = new double[dropCase.Ranges.Count];
            for (var i = 0; i < corner.Length; i++)
            {
                var range = dropCase.Ranges[i];
                var best = sign * measure.Value;
                corner[i] = range.Central;
                Consider(range.Low, atEnds[2 * i]);
                Consider(range.High, atEnds[(2 * i) + 1]);

                void Consider(double end, Outcome outcome)
                {
                    // A drop that was not caught says nothing about the end it stands for: its peaks are only "at least".
                    if (outcome.Run is { } run && run[measure.Id].State == MeasureState.Exact && sign * run[measure.Id].Value > best)
                    {
                        best = sign * run[measure.Id].Value;
                        corner[i] = end;
                    }
                }
            }

            if (!corners.Any(c => c.AsSpan().SequenceEqual(corner)))
            {
                corners.Add(corner);
            }
        }

        return corners;
    }

    private static IEnumerable<Measure> Judged(DropRun central) => central.Measures.Where(m => m.Headline || m.Id == MeasureIds.LoadLegTension);

    /// <summary>Around the worst point of each judged measure: every input that is not at an end moved to the nearer end, all together.</summary>
    private static List<double[]> Further(DropCase dropCase, DropRun central, Outcome[] found)
    {
        var points = new List<double[]>();
        foreach (var measure in Judged(central))
        {
            var sign = Sign(measure);
            var worst = found
                .Where(o => o.Run is { } run && double.IsFinite(run[measure.Id].Value))
                .MaxBy(o => sign * o.Run![measure.Id].Value);
            if (worst is null)
            {
                continue;
            }

            var point = new double[worst.Point.Length];
            for (var i = 0; i < point.Length; i++)
            {
                var (value, range) = (worst.Point[i], dropCase.Ranges[i]);
                point[i] = value == range.Central ? value : value > range.Central ? range.High : range.Low;
            }

            if (!points.Any(p => p.AsSpan().SequenceEqual(point)) && !found.Any(o => o.Point.AsSpan().SequenceEqual(point)))
            {
                points.Add(point);
            }
        }

        return points;
    }

    private static Measure WithRange(Measure measure, DropCase dropCase, Outcome[] runs)
    {
        var low = measure.Value;
        var high = measure.Value;
        var cut = false;
        Outcome? worst = null;
        var worstValue = Sign(measure) * measure.Value;
        foreach (var outcome in runs)
        {
            var other = outcome.Run?.Measures.FirstOrDefault(m => m.Id == measure.Id);
            if (other is null || double.IsNaN(other.Value))
            {
                continue;
            }

            // Min and max that ignore a central value that is not a number.
            low = double.IsNaN(low) ? other.Value : Math.Min(low, other.Value);
            high = double.IsNaN(high) ? other.Value : Math.Max(high, other.Value);
            cut |= other.State is MeasureState.AtLeast or MeasureState.NotReached;
            if (double.IsNaN(worstValue) || Sign(measure) * other.Value > worstValue + (Tie * Math.Abs(worstValue)))
            {
                worstValue = Sign(measure) * other.Value;
                worst = outcome;
            }
        }

        if (double.IsNaN(low) || !runs.Any(r => r.Run?.Measures.Any(m => m.Id == measure.Id) == true))
        {
            return measure;
        }

        return measure with
        {
            Low = low,
            High = high,
            RangeCutShort = cut || measure.State == MeasureState.AtLeast,
            WorstInputs = measure.Worse == Worse.Neither ? null : worst is null ? "the central values" : Describe(dropCase, worst.Point),
        };
    }

    private static int Sign(Measure measure) => measure.Worse == Worse.Smaller ? -1 : 1;

    private static string Describe(DropCase dropCase, double[] point)
    {
        var parts = new List<string>();
        for (var i = 0; i < point.Length; i++)
        {
            var range = dropCase.Ranges[i];
            if (point[i] != range.Central)
            {
                var unit = range.Unit.Length == 0 ? "" : " " + range.Unit;
                parts.Add(double.IsPositiveInfinity(point[i])
                    ? $"{range.Name} rigid"
                    : FormattableString.Invariant($"{range.Name} {point[i]:G3}{unit}"));
            }
        }

        return parts.Count == 0 ? "the central values" : string.Join(", ", parts);
    }

    private sealed record Outcome(double[] Point, DropRun? Run);

    private sealed class Runner(DropCase dropCase, Action? progress, CancellationToken cancellation)
    {
        private readonly RunOptions _options = new() { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(dropCase.Input) };

        public Outcome[] Run(List<double[]> points, int threads)
        {
            var runs = StudyRuns.Compute(points.Count, (k, _) => Run(points[k]), threads, null, cancellation);
            return runs.CutShort ? throw new OperationCanceledException(cancellation) : [.. runs.Done.Select(d => d.Result)];
        }

        public Outcome Run(double[] point)
        {
            var outcome = new Outcome(point, One(point));
            progress?.Invoke();
            return outcome;
        }

        private DropRun? One(double[] point)
        {
            var input = dropCase.Input;
            for (var i = 0; i < point.Length; i++)
            {
                if (point[i] != dropCase.Ranges[i].Central)
                {
                    input = dropCase.Ranges[i].Apply(input, point[i]);
                }
            }

            // Two ends can contradict each other (a face cut that closes before the balance): such a point is counted, not shown.
            return DropOutcome.Of(input, _options, cancellation).Run;
        }
    }
}
