using DropSim.Model;

namespace DropSim.Studies;

/// <summary>What is held equal in a fair comparison.</summary>
public enum FairWay
{
    /// <summary>The same wraps and hands: what a crew tries first.</summary>
    SameSetting,

    /// <summary>The same rope run to a stop: the same way to stop the piece.</summary>
    SameRun,

    /// <summary>The same largest force on the rigging point.</summary>
    SamePeak,
}

/// <summary>One gear with one catch.</summary>
/// <param name="Gear">Name of the gear or set-up.</param>
/// <param name="Case">The case.</param>
public sealed record FairVariant(string Gear, DropCase Case)
{
    /// <summary>True where no rope can run.</summary>
    public bool Locked => Case.Input.Catch.Kind == CatchKind.HardStop;
}

/// <summary>One variant in one way.</summary>
/// <param name="Way">What is held equal.</param>
/// <param name="Variant">Place of the variant.</param>
/// <param name="Setting">Wraps, or factor on the hand's forces; not a number where none gives it.</param>
/// <param name="Result">The drop with its ranges; null where none gives it.</param>
/// <param name="Note">Why there is none, or what must be known; may be empty.</param>
/// <param name="Efficiencies">For a block the same over the range of its efficiency.</param>
public sealed record FairRow(FairWay Way, int Variant, double Setting, CaseResult? Result, string Note, IReadOnlyList<FairEfficiency> Efficiencies);

/// <summary>A block with one efficiency.</summary>
/// <param name="Efficiency">Efficiency of its sheave under shock.</param>
/// <param name="Match">Setting and drop.</param>
public sealed record FairEfficiency(double Efficiency, Match Match);

/// <summary>A fair comparison.</summary>
/// <param name="By">What was set to make them equal.</param>
/// <param name="Variants">What is compared; the first that can run is the one the others are held against.</param>
/// <param name="Reference">Place of that one; -1 where rope runs in none.</param>
/// <param name="Rows">Way by way, variant by variant.</param>
/// <param name="Asked">Number of rows of the whole comparison.</param>
public sealed record FairResult(MatchBy By, IReadOnlyList<FairVariant> Variants, int Reference, IReadOnlyList<FairRow> Rows, int Asked)
{
    /// <summary>True where somebody cancelled: some rows are missing.</summary>
    public bool CutShort => Rows.Count < Asked;

    /// <summary>The row of a variant in one way; null where there is none.</summary>
    /// <param name="way">Way.</param>
    /// <param name="variant">Variant.</param>
    public FairRow? Row(FairWay way, int variant) => Rows.FirstOrDefault(r => r.Way == way && r.Variant == variant);
}

/// <summary>Compares gear and catches with the same settings, with the same rope run, and with the same peak.</summary>
public static class FairStudy
{
    /// <summary>Points over the range of a block's efficiency, both ends included.</summary>
    public const int EfficiencyPoints = 5;

    /// <summary>Runs, about: for progress.</summary>
    /// <param name="variants">What is compared.</param>
    public static int RunsOf(IReadOnlyList<FairVariant> variants)
    {
        ArgumentNullException.ThrowIfNull(variants);
        const int Matching = 45;
        return variants.Sum(v => v.Locked ? ScenarioStudy.RunsOf(v.Case)
            : Matching + (3 * ScenarioStudy.RunsOf(v.Case)) + (EfficiencyRange(v) is null ? 0 : EfficiencyPoints * Matching));
    }

    /// <summary>Computes the comparison.</summary>
    /// <param name="variants">What is compared.</param>
    /// <param name="by">What is set to make them equal.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told after every run; may be null.</param>
    /// <param name="cancellation">Cancels: the rows that were finished are given, those with the same settings first.</param>
    /// <exception cref="OperationCanceledException">Cancelled before the first row was finished.</exception>
    public static FairResult Compute(IReadOnlyList<FairVariant> variants, MatchBy by, int threads, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(variants);
        var reference = Enumerable.Range(0, variants.Count).FirstOrDefault(v => !variants[v].Locked, -1);
        var rows = new List<FairRow>();
        try
        {
            foreach (var row in Rows(variants, reference, by, threads, progress, cancellation))
            {
                rows.Add(row);
            }
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested && rows.Count > 0)
        {
            // The rows so far are whole; those that are missing are counted.
        }

        return new(by, variants, reference, [.. rows.OrderBy(r => r.Way).ThenBy(r => r.Variant)], variants.Sum(v => v.Locked ? 1 : 3));
    }

    /// <summary>The rows, one when it is finished: those with the same settings first, because the others are held against one of them.</summary>
    private static IEnumerable<FairRow> Rows(
        IReadOnlyList<FairVariant> variants, int reference, MatchBy by, int threads, Action? progress, CancellationToken cancellation)
    {
        CaseResult? first = null;
        for (var v = 0; v < variants.Count; v++)
        {
            var own = MatchedSetting.Own(variants[v].Case.Input, by);
            var result = RangeStudy.Compute(variants[v].Case, threads, progress, cancellation);
            first = v == reference ? result : first;
            yield return new(FairWay.SameSetting, v, own, result, "", Efficiencies(variants[v], e => new(own, DropOutcome.Of(e, Measures, cancellation).Run, ""), threads));
        }

        for (var v = 0; v < variants.Count && first is not null; v++)
        {
            if (variants[v].Locked)
            {
                continue;
            }

            var search = new MatchedSetting(variants[v].Case.Input, by, threads, progress, cancellation);
            var efficiencies = EfficiencyInputs(variants[v]).Select(e => (e.Efficiency, Search: new MatchedSetting(e.Input, by, threads, progress, cancellation))).ToArray();
            foreach (var (way, measure) in new[] { (FairWay.SameRun, first.Run[MeasureIds.RopeRun]), (FairWay.SamePeak, first.Run[MeasureIds.RiggingPointForce]) })
            {
                if (measure.State != MeasureState.Exact)
                {
                    yield return new(way, v, double.NaN, null, "the drop that the others are held against is not caught", []);
                    continue;
                }

                var match = v == reference ? new Match(MatchedSetting.Own(variants[v].Case.Input, by), first.Run, "") : search.Find(measure.Id, measure.Value);
                var result = match.Run is null ? null
                    : v == reference ? first
                    : RangeStudy.Compute(variants[v].Case with { Input = MatchedSetting.With(variants[v].Case.Input, by, match.Setting) }, threads, progress, cancellation);
                yield return new(way, v, match.Setting, result, match.Note, [.. efficiencies.Select(e => new FairEfficiency(e.Efficiency, e.Search.Find(measure.Id, measure.Value)))]);
            }
        }
    }

    private static RunOptions Measures { get; } = new() { Detail = RunDetail.MeasuresOnly };

    private static InputRange? EfficiencyRange(FairVariant variant) =>
        variant.Case.Input.RiggingPoint.Kind == RiggingPointKind.Block ? variant.Case.Ranges.FirstOrDefault(r => r.Key == "rigging-point.efficiency") : null;

    private static IEnumerable<(double Efficiency, DropInput Input)> EfficiencyInputs(FairVariant variant) =>
        EfficiencyRange(variant) is not { } range ? []
            : Enumerable.Range(0, EfficiencyPoints).Select(k => range.Low + ((range.High - range.Low) * k / (EfficiencyPoints - 1.0))).Select(e => (e, range.Apply(variant.Case.Input, e)));

    private static IReadOnlyList<FairEfficiency> Efficiencies(FairVariant variant, Func<DropInput, Match> match, int threads)
    {
        var inputs = EfficiencyInputs(variant).ToArray();
        var runs = StudyRuns.Compute(inputs.Length, (i, _) => match(inputs[i].Input), threads);
        return [.. inputs.Select((e, i) => new FairEfficiency(e.Efficiency, runs[i]))];
    }
}
