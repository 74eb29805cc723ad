using DropSim.Model;
using MathNet.Numerics.Statistics;

namespace DropSim.Studies.Uncertainty;

/// <summary>
/// One case with all its uncertain inputs spread at once: bands, quantiles, shares past limits, influence of each input
/// (docs/theory/uncertainty.md). The inputs are taken as independent.
/// </summary>
public static class UncertaintyStudy
{
    /// <summary>Fewer finished drops than this say nothing.</summary>
    private const int FewestSamples = 16;

    /// <summary>Number of drops: for progress.</summary>
    /// <param name="dropCase">The case.</param>
    /// <param name="options">How.</param>
    public static int RunsOf(DropCase dropCase, UncertaintyOptions options)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        ArgumentNullException.ThrowIfNull(options);
        var inputs = dropCase.Uncertain.Count;
        return 1 + (2 * inputs) + options.Samples + (options.IndexRows * (inputs + 1));
    }

    /// <summary>Computes one case. The same case, options and seed give the same bits on any number of threads.</summary>
    /// <param name="dropCase">The case; it has at least one uncertain input.</param>
    /// <param name="options">How.</param>
    /// <param name="progress">Told after every drop, from several threads; may be null.</param>
    /// <param name="cancellation">Cancels: what is finished is kept where it says anything.</param>
    /// <exception cref="OperationCanceledException">Cancelled before enough was finished.</exception>
    /// <exception cref="DropInputException">The central case cannot be computed.</exception>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public static UncertaintyResult Compute(DropCase dropCase, UncertaintyOptions options, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Samples, FewestSamples, nameof(options));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(options.IndexRows, options.Samples, nameof(options));
        ArgumentOutOfRangeException.ThrowIfZero(dropCase.Uncertain.Count, nameof(dropCase));
        var central = DropSimulator.Run(dropCase.Input, null, cancellation);
        progress?.Invoke();
        string[] ids = [.. central.Measures.Select(m => m.Id)];
        var sampler = new DropSampler(dropCase, ids);
        var plan = SamplePlan.Create(options.Method, 2 * dropCase.Uncertain.Count, options.Samples, options.Seed);
        var tornado = Tornado(sampler, dropCase.Uncertain, options, progress, cancellation);
        var recorder = new BandRecorder(central);
        var runs = StudyRuns.Compute(options.Samples, (k, token) => One(sampler, recorder, plan, k, token), options.Threads, progress, cancellation);

        // Where somebody cancelled, the drops up to the first gap count: the beginning of the sequence, whatever the threads did.
        var done = Enumerable.Range(0, options.Samples).TakeWhile(runs.IsFinished).Select(k => runs[k]).ToArray();
        if (done.Length < FewestSamples)
        {
            throw new OperationCanceledException(cancellation);
        }

        SampledDrop[] samples = [.. done.Select(d => d.Drop)];
        var rows = IndexRows(sampler, plan, dropCase.Uncertain.Count, samples, done.Length < options.Samples ? 0 : options.IndexRows, options, progress, cancellation);
        var spread = new Spread(ids, samples, rows.Usable, dropCase.Uncertain.Count, options.Seed);
        return new UncertaintyResult
        {
            Case = dropCase,
            Options = options,
            Central = central,
            Inputs = dropCase.Uncertain,
            MeasureIds = ids,
            Samples = samples,
            Measures = [.. central.Measures.Select((m, i) => spread.Of(m, i))],
            Limits = Limits(central, samples, ids),
            Bands = recorder.Bands([.. done.Select(d => d.Curves).OfType<float[][]>()], done.Length),
            Tornado = tornado,
            Convergence = spread.Convergence(MeasureIds.RiggingPointForce),
            IndexConvergence = spread.IndexConvergence(MeasureIds.RiggingPointForce),
            IndexRowsDone = rows.Finished,
            IndexRowsRefused = rows.Finished - rows.Usable.Count,
            LeastForceRatio = LeastForceRatio(samples, ids),
        };
    }

    private static (SampledDrop Drop, float[][]? Curves) One(DropSampler sampler, BandRecorder recorder, SamplePlan plan, int index, CancellationToken cancellation)
    {
        var point = sampler.Point(i => plan.At(index, i));
        var outcome = sampler.Run(sampler.Input(point), RunDetail.Full, null, cancellation);
        return (sampler.Read(point, outcome), outcome.Run is { } run ? recorder.Keep(run) : null);
    }

    private static TornadoBar[] Tornado(
        DropSampler sampler, IReadOnlyList<UncertainInput> inputs, UncertaintyOptions options, Action? progress, CancellationToken cancellation)
    {
        double[] Ends(int i) =>
            [Distributions.Quantile(inputs[i].Distribution, UncertaintyOptions.TornadoShare), Distributions.Quantile(inputs[i].Distribution, 1 - UncertaintyOptions.TornadoShare)];
        var runs = StudyRuns.Compute(2 * inputs.Count, (k, token) =>
        {
            var point = sampler.CentralPoint();
            point[k / 2] = Ends(k / 2)[k % 2];
            return sampler.Run(sampler.Input(point), RunDetail.MeasuresOnly, null, token);
        }, options.Threads, progress, cancellation);
        cancellation.ThrowIfCancellationRequested();
        return [.. inputs.Select((_, i) => new TornadoBar(Ends(i)[0], Ends(i)[1], runs[2 * i], runs[(2 * i) + 1]))];
    }

    /// <summary>One row: the second point, and the first point with each input in turn taken from the second.</summary>
    private static (List<IndexRow> Usable, int Finished) IndexRows(
        DropSampler sampler, SamplePlan plan, int inputs, SampledDrop[] first, int count, UncertaintyOptions options, Action? progress, CancellationToken cancellation)
    {
        var runs = StudyRuns.Compute(count, (k, token) =>
        {
            double[] a = [.. first[k].Point];
            var b = sampler.Point(i => plan.At(k, inputs + i));
            var spar = sampler.Prepared(sampler.Input(a));
            var second = Drop(b, null);
            var mixed = new SampledDrop[inputs];
            for (var i = 0; i < inputs; i++)
            {
                double[] point = [.. a];
                point[i] = b[i];
                mixed[i] = Drop(point, spar);
            }

            return new IndexRow(first[k], second, mixed);

            SampledDrop Drop(double[] point, PreparedSpar? prepared)
            {
                var outcome = sampler.Run(sampler.Input(point), RunDetail.MeasuresOnly, prepared, token);
                progress?.Invoke();
                return sampler.Read(point, outcome);
            }
        }, options.Threads, null, cancellation);
        var finished = Enumerable.Range(0, count).TakeWhile(runs.IsFinished).Select(k => runs[k]).ToList();
        return ([.. finished.Where(r => r.IsWhole)], finished.Count);
    }

    private static List<LimitShare> Limits(DropRun central, SampledDrop[] samples, string[] ids)
    {
        List<LimitShare> shares = [];
        void Add(string words, string id, double limit, bool atOrBelow = false)
        {
            var i = Array.IndexOf(ids, id);
            shares.Add(new(words, id, limit, central[id].Unit, atOrBelow, Quantiles.Past([.. samples.Select(s => s.Low[i])], [.. samples.Select(s => s.High[i])], limit, atOrBelow)));
        }

        // The weakest link is one of the others.
        foreach (var id in ids.Where(id => id != MeasureIds.WeakestLink))
        {
            foreach (var limit in KnownLimits.For(id, central.Input))
            {
                Add(limit.Words, id, limit.Value);
            }
        }

        Add("the piece touches the ground or an obstacle", MeasureIds.Room, 0, true);
        return shares;
    }

    private static double LeastForceRatio(SampledDrop[] samples, string[] ids)
    {
        var (load, least) = (Array.IndexOf(ids, MeasureIds.LoadLegTension), Array.IndexOf(ids, MeasureIds.LeastPossible));
        return samples.Where(s => s.Recorded[least] > 0).Select(s => s.Recorded[load] / s.Recorded[least]).DefaultIfEmpty(double.NaN).Min();
    }
}

/// <summary>One row of the indices: two points, and the first with each input in turn taken from the second.</summary>
internal sealed record IndexRow(SampledDrop First, SampledDrop Second, SampledDrop[] Mixed)
{
    /// <summary>True where every drop of the row could be computed.</summary>
    public bool IsWhole => First.Refusal.Length == 0 && Second.Refusal.Length == 0 && Mixed.All(m => m.Refusal.Length == 0);
}
