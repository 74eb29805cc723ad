using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>Pictures of a fair comparison: the three ways below each other on one scale, and what a block's efficiency does.</summary>
internal static class FairChart
{
    private const double RowHeight = 62;
    private const double PanelExtra = 70;
    private const double AxisHeight = 60;

    /// <summary>Forces of every variant, way by way.</summary>
    internal static Figure Build(FairResult result, FairWords words, string title, string name, string hash, ReportOptions options)
    {
        FairWay[] ways = [.. Enum.GetValues<FairWay>().Where(w => result.Rows.Any(r => r.Way == w && r.Result is not null))];
        var all = result.Rows.Where(r => r.Result is not null).Select(r => r.Result!.Run[MeasureIds.RiggingPointForce]);
        var (unit, factor) = Units.Axis("N", options.Units);
        var high = all.SelectMany(m => new[] { m.Value, m.High ?? m.Value }).Where(double.IsFinite).Max() * factor;
        var axis = NiceScale.Axis("Force on the rigging point", unit, 0, high, 8) with { };
        axis = axis with { Min = -0.01 * axis.Max };
        var heights = ways.Select(w => (result.Rows.Count(r => r.Way == w) * RowHeight) + PanelExtra).ToArray();
        heights[^1] += AxisHeight;
        var total = heights.Sum();
        var panels = new List<Panel>();
        for (var i = 0; i < ways.Length; i++)
        {
            panels.Add(Way(result, words, ways[i], axis with { Shown = i == ways.Length - 1 }, factor, options.Units, new Place(0, heights[..i].Sum() / total, 1, heights[i] / total)));
        }

        return new Figure
        {
            FileName = "compare.png",
            Title = words.Title(),
            Subtitle = $"{Interrupted(result, words)}{title}. Black dot: the rigging point with its range over what is uncertain; blue ring: the load leg; heavy bar: only the block's efficiency varied.",
            Footer = StudyWording.Footer(["Compared are drops, not qualities of gear: with the same wraps another gear is another brake."], name, hash, options),
            Height = total + 420,
            Panels = panels,
        };
    }

    /// <summary>Force over a block's efficiency; none where there is no block.</summary>
    internal static IEnumerable<Figure> Efficiency(FairResult result, FairWords words, string title, string name, string hash, ReportOptions options)
    {
        var rows = result.Rows.Where(r => r.Way != FairWay.SamePeak && r.Efficiencies.Count(e => Peak(e) is not null) > 1).ToArray();
        if (rows.Length == 0)
        {
            yield break;
        }

        var (unit, factor) = Units.Axis("N", options.Units);
        var (curves, labels) = (new List<Curve>(), new List<Label>());
        Dash[] dashes = [Dash.Solid, Dash.Long, Dash.Dots];
        foreach (var row in rows)
        {
            var x = row.Efficiencies.Select(e => e.Efficiency).ToArray();
            var y = row.Efficiencies.Select(e => (Peak(e) ?? double.NaN) * factor).ToArray();
            curves.Add(new(words.Name(row.Variant), x, y, new(Palette.RiggingPoint, result.Variants[row.Variant].Locked ? 4 : 2.6, dashes[(int)row.Way])));

            // Words at different places along the curves, so that they do not crowd.
            var known = Enumerable.Range(0, y.Length).Where(i => double.IsFinite(y[i])).ToArray();
            var at = known[labels.Count % known.Length];
            labels.Add(new($"{words.Name(row.Variant)}: {FairWords.Small(FairWords.Way(row.Way))}", x[at], y[at], Palette.Ink, at == known[^1] ? Toward.UpLeft : Toward.UpRight));
        }

        var (from, to) = (rows.Min(r => r.Efficiencies[0].Efficiency), rows.Max(r => r.Efficiencies[^1].Efficiency));
        var peaks = curves.SelectMany(c => c.Y).Where(double.IsFinite).ToArray();
        yield return new Figure
        {
            FileName = "block-efficiency.png",
            Title = $"Nobody knows a block's efficiency under shock: from {Format.Number(from)} to {Format.Number(to)} the rigging point bears {Spans(rows, words, options.Units)}",
            Subtitle = $"{Interrupted(result, words)}{title}. Published drop tests find that a sheave under shock need not beat a ring, so no single value is shown.",
            Footer = StudyWording.Footer(["Every other input stays at its central value."], name, hash, options),
            Panels =
            [
                new Panel
                {
                    X = new Axis("efficiency of the block at half a turn under shock", "", from, to, NiceScale.Step(to - from, 6)),
                    Y = NiceScale.Axis("Force on the rigging point", unit, 0, peaks.Max() * 1.12),
                    Curves = curves,
                    Labels = labels,
                },
            ],
        };
    }

    private static string Interrupted(FairResult result, FairWords words) => result.CutShort ? $"Interrupted, {words.Finished()}. " : "";

    private static string Spans(FairRow[] rows, FairWords words, UnitSystem units) => string.Join("; ", rows.Where(r => r.Variant == rows[0].Variant).Select(r =>
    {
        var peaks = r.Efficiencies.Select(Peak).OfType<double>().ToArray();
        return $"{Format.Quantity(peaks.Min(), "N", units)} to {Format.Quantity(peaks.Max(), "N", units)} ({FairWords.Small(words.Name(r.Variant))}, {FairWords.Small(FairWords.Way(r.Way))})";
    }));

    private static double? Peak(FairEfficiency e) => e.Match.Run?[MeasureIds.RiggingPointForce] is { State: MeasureState.Exact } m ? m.Value : null;

    private static Panel Way(FairResult result, FairWords words, FairWay way, Axis axis, double factor, UnitSystem units, Place place)
    {
        var rows = result.Rows.Where(r => r.Way == way).ToArray();
        var (shapes, dots, texts) = (new List<Shape>(), new List<Dot>(), new List<Text>());
        for (var i = 0; i < rows.Length; i++)
        {
            var row = rows[i];
            var y = rows.Length - i - 0.72;
            if (row.Result is not { } found)
            {
                texts.Add(new($"{words.Name(row.Variant)}: none; {row.Note}", 0, y + 0.2, Palette.Quiet, Grip.Left));
                continue;
            }

            var force = found.Run[MeasureIds.RiggingPointForce];
            if (force.Low is { } low && force.High is { } high)
            {
                shapes.Add(new("range", HeightsChart.Box(low * factor, high * factor, y - 0.15, y + 0.15), "#554D4D4D", new("#4D4D4D", 1.4, force.RangeCutShort ? Dash.Long : Dash.Solid)));
            }

            var block = row.Efficiencies.Select(Peak).OfType<double>().ToArray();
            if (block.Length > 1)
            {
                shapes.Add(new("efficiency", HeightsChart.Box(block.Min() * factor, block.Max() * factor, y - 0.06, y + 0.06), Palette.Ink, new(Palette.Ink, 1)));
            }

            dots.Add(new(words.Name(row.Variant), force.Value * factor, y, Palette.RiggingPoint, 7, force.State != MeasureState.Exact));
            dots.Add(new("load leg", found.Run[MeasureIds.LoadLegTension].Value * factor, y, Palette.LoadLeg, 6, true));
            var locked = result.Variants[row.Variant].Locked;
            var setting = result.By == MatchBy.Wraps ? $"{Format.Number(row.Setting)} wraps" : $"{Format.Number(row.Setting)} times the hand";
            texts.Add(new($"{words.Name(row.Variant)}: {(locked ? "locked off" : $"{setting}, {Format.Value(found.Run[MeasureIds.RopeRun], units)} of rope")}, {words.Force(row)}", 0, y + 0.42, Palette.Ink, Grip.Left, true));
        }

        return new Panel
        {
            Place = place,
            Heading = FairWords.Way(way),
            X = axis,
            Y = new Axis("", "", 0, rows.Length, 0, false),
            Shapes = shapes,
            Dots = dots,
            Texts = texts,
        };
    }
}
