using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Studies;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>The numbers of an uncertainty study as tables, SI, all digits. A bound that nothing limits is left empty.</summary>
internal static class UncertaintyTables
{
    /// <summary>All tables.</summary>
    /// <param name="scenario">What was computed.</param>
    /// <param name="names">File names of the cases.</param>
    public static IReadOnlyList<StudyTable> Build(UncertaintyScenario scenario, IReadOnlyList<string> names)
    {
        var cases = scenario.Cases;
        return
        [
            Inputs(cases), Quantiles(cases), Limits(cases), Influence(cases), Tornado(cases), Convergence(cases), IndexConvergence(cases),
            .. cases.SelectMany((c, i) => new[] { Bands(c, names[i]), Samples(c, names[i]) }),
        ];
    }

    /// <summary>"q05".</summary>
    private static string Short(double share) => "q" + Math.Round(100 * share).ToString("00", CultureInfo.InvariantCulture);

    private static StudyTable Inputs(IReadOnlyList<UncertaintyResult> cases) => new(
        "inputs",
        [new("case"), new("key"), new("input"), new("unit"), new("central"), new("distribution"), new("low"), new("mid"), new("high"), new("given"), new("source")],
        [.. cases.SelectMany(c => c.Inputs.Select(i => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, i.Key, i.Range.Name, i.Range.Unit, i.Range.Central, i.Distribution.Kind.ToString(), i.Distribution.Low, i.Distribution.Mid, i.Distribution.High,
            i.Given ? "yes" : "no", i.Range.Source,
        ]))]);

    private static StudyTable Quantiles(IReadOnlyList<UncertaintyResult> cases) => new(
        "quantiles",
        [
            new("case"), new("measure"), new("unit"), new("central"), new("central_state"),
            .. UncertaintyOptions.Shares.SelectMany(s => new StudyColumn[] { new(Short(s) + "_not_below"), new(Short(s) + "_not_above"), new(Short(s) + "_sample_low"), new(Short(s) + "_sample_high") }),
        ],
        [.. cases.SelectMany(c => c.Measures.Where(m => m.Quantiles.Count > 0).Select(m => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, m.Central.Id, m.Central.Unit, m.Central.Value, m.Central.State.ToString(),
            .. m.Quantiles.SelectMany(q => new StudyCell[] { q.Low, q.High, q.SampleLow, q.SampleHigh }),
        ]))]);

    private static StudyTable Limits(IReadOnlyList<UncertaintyResult> cases) => new(
        "limits",
        [new("case"), new("limit"), new("measure"), new("value"), new("unit"), new("past_when"), new("share_surely"), new("share_at_most"), new("sample_low"), new("sample_high")],
        [.. cases.SelectMany(c => c.Limits.Select(l => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, l.Words, l.Measure, l.Limit, l.Unit, l.AtOrBelow ? "at or below" : "above", l.Share.Low, l.Share.High, l.Share.SampleLow, l.Share.SampleHigh,
        ]))]);

    private static StudyTable Influence(IReadOnlyList<UncertaintyResult> cases) => new(
        "influence",
        [
            new("case"), new("measure"), new("key"), new("input"), new("rank_correlation"),
            new("first_order"), new("first_order_low"), new("first_order_high"), new("total"), new("total_low"), new("total_high"),
        ],
        [.. cases.SelectMany(c => c.Measures.SelectMany(m => m.Influence.Select((x, i) => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, m.Central.Id, c.Inputs[i].Key, c.Inputs[i].Range.Name, x.RankCorrelation,
            x.First?.Value ?? double.NaN, x.First?.Low ?? double.NaN, x.First?.High ?? double.NaN,
            x.Total?.Value ?? double.NaN, x.Total?.Low ?? double.NaN, x.Total?.High ?? double.NaN,
        ])))]);

    private static StudyTable Tornado(IReadOnlyList<UncertaintyResult> cases) => new(
        "tornado",
        [new("case"), new("key"), new("input"), new("measure"), new("unit"), new("input_low"), new("input_high"), new("central"), new("at_low"), new("at_low_state"), new("at_high"), new("at_high_state")],
        [.. cases.SelectMany(c => c.Tornado.SelectMany((b, i) => c.Central.Measures.Where(m => m.Headline || m.Id is MeasureIds.LoadLegTension or MeasureIds.SparStress).Select(m => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, c.Inputs[i].Key, c.Inputs[i].Range.Name, m.Id, m.Unit, b.Low, b.High, m.Value,
            b.AtLow.Run?[m.Id].Value ?? double.NaN, State(b.AtLow, m.Id), b.AtHigh.Run?[m.Id].Value ?? double.NaN, State(b.AtHigh, m.Id),
        ])))]);

    private static string State(DropOutcome outcome, string id) => outcome.Run is { } run ? run[id].State.ToString() : "not computed: " + outcome.Refusal;

    private static StudyTable Convergence(IReadOnlyList<UncertaintyResult> cases) => new(
        "convergence",
        [
            new("case"), new("measure"), new("drops"),
            .. UncertaintyOptions.Shares.SelectMany(s => new StudyColumn[]
            {
                new(Short(s) + "_not_below_N", "N"), new(Short(s) + "_not_above_N", "N"), new(Short(s) + "_sample_low_N", "N"), new(Short(s) + "_sample_high_N", "N"),
            }),
        ],
        [.. cases.SelectMany(c => c.Convergence.Select(p => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, MeasureIds.RiggingPointForce, (double)p.Count, .. p.Quantiles.SelectMany(q => new StudyCell[] { q.Low, q.High, q.SampleLow, q.SampleHigh }),
        ]))]);

    private static StudyTable IndexConvergence(IReadOnlyList<UncertaintyResult> cases) => new(
        "convergence-of-influence",
        [new("case"), new("measure"), new("rows"), new("key"), new("input"), new("total"), new("total_low"), new("total_high")],
        [.. cases.SelectMany(c => c.IndexConvergence.SelectMany(p => p.Totals.Select((t, i) => (IReadOnlyList<StudyCell>)
        [
            c.Case.Name, MeasureIds.RiggingPointForce, (double)p.Rows, c.Inputs[i].Key, c.Inputs[i].Range.Name, t.Value, t.Low, t.High,
        ])))]);

    private static StudyTable Bands(UncertaintyResult result, string name)
    {
        var bands = result.Bands;
        static StudyColumn Column(TraceBand b, double share) => new($"{b.Column[..^(b.Unit.Length + 1)]}_{Short(share)}_{b.Unit}", b.Unit);
        return new(
            name + "-bands",
            [new("time_s", "s"), new("share_of_drops"), .. bands.Curves.SelectMany(b => UncertaintyOptions.Shares.Select(s => Column(b, s)))],
            [.. bands.Time.Select((t, k) => (IReadOnlyList<StudyCell>)[t, bands.Following[k], .. bands.Curves.SelectMany(b => b.Values.Select(v => (StudyCell)v[k]))])],
            InJson: false);
    }

    private static StudyTable Samples(UncertaintyResult result, string name)
    {
        static string Unit(string unit) => unit.Length == 0 ? "" : "_" + unit.Replace('/', '_').Replace(' ', '_');
        var measures = result.Central.Measures;
        return new(
            name + "-samples",
            [
                new("drop"), new("end"), new("cut_short"), new("refused"),
                .. result.Inputs.Select(i => new StudyColumn(Snake(i.Key.Length > 0 ? i.Key : i.Range.Name) + Unit(i.Range.Unit), i.Range.Unit)),
                .. measures.SelectMany(m => new StudyColumn[] { new(m.Id + Unit(m.Unit), m.Unit), new(m.Id + "_not_below" + Unit(m.Unit), m.Unit), new(m.Id + "_not_above" + Unit(m.Unit), m.Unit) }),
            ],
            [.. result.Samples.Select((s, k) => (IReadOnlyList<StudyCell>)
            [
                (double)k, s.End, s.CutsShort ? "yes" : "no", s.Refusal, .. s.Point.Select(p => (StudyCell)p),
                .. measures.SelectMany((_, i) => new StudyCell[] { s.Recorded[i], s.Low[i], s.High[i] }),
            ])],
            InJson: false);
    }

    private static string Snake(string text) => text.Replace('.', '_').Replace('-', '_').Replace(' ', '_');
}
