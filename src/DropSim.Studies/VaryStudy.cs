using DropSim.Model;

namespace DropSim.Studies;

/// <summary>How a vary study is computed.</summary>
/// <param name="Measures">Ids of the measures wanted.</param>
/// <param name="Tolerance">Relative tolerance of the integrator.</param>
/// <param name="Threads">Threads, 1 or more.</param>
public sealed record VaryOptions(IReadOnlyList<string> Measures, double Tolerance, int Threads);

/// <summary>What one point of a vary study gave.</summary>
/// <param name="Values">Values of the measures, SI; not a number where there is none.</param>
/// <param name="States">Value or bound.</param>
/// <param name="Limits">For each measure its known limits at this point, in order.</param>
/// <param name="End">How the drop ended; null where it could not be computed.</param>
/// <param name="CutShort">True where the end cut it short: its peaks read "at least".</param>
/// <param name="Ending">How it ended, or why it could not be computed, in words.</param>
public sealed record VariedDrop(
    IReadOnlyList<double> Values, IReadOnlyList<MeasureState> States, IReadOnlyList<IReadOnlyList<double>> Limits, EndKind? End, bool CutShort, string Ending);

/// <summary>How far the plotted values move when drops are repeated at a tenth of the scenario's own tolerance.</summary>
/// <param name="Drops">Drops that were repeated.</param>
/// <param name="Largest">For each measure the largest relative change.</param>
/// <param name="EndsChanged">Drops that ended otherwise (caught, or cut short) when repeated.</param>
public sealed record VaryCheck(int Drops, IReadOnlyList<double> Largest, int EndsChanged);

/// <summary>Drops over one or two inputs. Where the cases come from is the caller's matter.</summary>
public static class VaryStudy
{
    /// <summary>Tolerance used where nobody asks for another: ten times the scenario format's default. A check of some drops comes with every study.</summary>
    public const double DefaultTolerance = 1e-5;

    /// <summary>Drops repeated as a check.</summary>
    public const int MostChecked = 24;

    /// <summary>A check is computed at this part of the scenario's own tolerance.</summary>
    internal const double CheckFactor = 0.1;

    /// <summary>Measures that are worked out of the whole curve.</summary>
    private static readonly string[] NeedCurves = [MeasureIds.ClimberMtvv, MeasureIds.ClimberVdv, MeasureIds.LeastPossible, MeasureIds.PlanningForce];

    /// <summary>Computes the drops.</summary>
    /// <param name="count">Number of points.</param>
    /// <param name="at">The drop at a point, or why there is none.</param>
    /// <param name="central">A drop whose spar is likely to be that of most points.</param>
    /// <param name="options">How.</param>
    /// <param name="progress">Told after every drop; may be null.</param>
    /// <param name="cancellation">Cancels; what is done is kept.</param>
    public static StudyRuns<VariedDrop> Compute(
        int count, Func<int, (DropInput? Input, string Refusal)> at, DropInput central, VaryOptions options, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(at);
        ArgumentNullException.ThrowIfNull(central);
        ArgumentNullException.ThrowIfNull(options);
        var spar = new PreparedSpar(At(central, options.Tolerance));
        return StudyRuns.Compute(
            count,
            (i, token) =>
            {
                var (input, refusal) = at(i);
                return input is null ? Refused(options, refusal) : One(input, options, spar, token);
            },
            options.Threads, progress, cancellation);
    }

    /// <summary>Repeats some drops, spread over all, at a tenth of their own tolerance.</summary>
    /// <param name="runs">What was computed.</param>
    /// <param name="at">The drop at a point.</param>
    /// <param name="options">How it was computed.</param>
    /// <param name="cancellation">Cancels; then fewer are checked.</param>
    public static VaryCheck Check(
        StudyRuns<VariedDrop> runs, Func<int, (DropInput? Input, string Refusal)> at, VaryOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(at);
        ArgumentNullException.ThrowIfNull(options);
        var done = runs.Done.Where(d => d.Result.End is not null).Select(d => d.Index).ToArray();
        var chosen = Enumerable.Range(0, Math.Min(MostChecked, done.Length)).Select(k => done[(int)((k + 0.5) * done.Length / Math.Min(MostChecked, done.Length))]).ToArray();
        var repeated = StudyRuns.Compute(
            chosen.Length,
            (k, token) =>
            {
                var input = at(chosen[k]).Input!;
                return One(input, options with { Tolerance = input.Computation.RelativeTolerance * CheckFactor }, null, token);
            },
            options.Threads, null, cancellation);
        var largest = new double[options.Measures.Count];
        var changed = 0;
        foreach (var (k, exact) in repeated.Done)
        {
            var first = runs[chosen[k]];
            changed += first.CutShort != exact.CutShort ? 1 : 0;
            for (var m = 0; m < largest.Length; m++)
            {
                if (double.IsFinite(exact.Values[m]) && double.IsFinite(first.Values[m]) && !first.Values[m].Equals(exact.Values[m]))
                {
                    largest[m] = Math.Max(largest[m], Math.Abs(first.Values[m] - exact.Values[m]) / Math.Max(Math.Abs(exact.Values[m]), double.Epsilon));
                }
            }
        }

        return new(repeated.Finished, largest, changed);
    }

    private static DropInput At(DropInput input, double tolerance) =>
        input with { Computation = input.Computation with { RelativeTolerance = tolerance } };

    private static VariedDrop One(DropInput given, VaryOptions options, PreparedSpar? spar, CancellationToken cancellation)
    {
        var input = At(given, options.Tolerance);
        var detail = options.Measures.Any(NeedCurves.Contains) ? RunDetail.Full : RunDetail.MeasuresOnly;
        var outcome = DropOutcome.Of(input, new RunOptions { Detail = detail, Only = options.Measures, Spar = spar }, cancellation);
        if (outcome.Run is not { } run)
        {
            return Refused(options, outcome.Refusal);
        }

        var measures = options.Measures.Select(id => run.Measures.FirstOrDefault(m => m.Id == id)).ToArray();
        return new(
            [.. measures.Select(m => m?.Value ?? double.NaN)],
            [.. measures.Select(m => m?.State ?? MeasureState.Unknown)],
            [.. options.Measures.Select(id => KnownLimits.For(id, input).Select(l => l.Value).ToArray())],
            run.End.Kind, run.End.CutsShort, run.End.Description);
    }

    private static VariedDrop Refused(VaryOptions options, string why)
    {
        var count = options.Measures.Count;
        var nothing = new double[count];
        Array.Fill(nothing, double.NaN);
        var unknown = new MeasureState[count];
        Array.Fill(unknown, MeasureState.Unknown);
        return new(nothing, unknown, [.. Enumerable.Repeat(Array.Empty<double>(), count)], null, false, why);
    }
}
