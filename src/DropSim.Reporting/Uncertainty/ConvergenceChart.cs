using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>Whether the numbers have come to rest: quantiles against the number of drops, indices against the number of rows.</summary>
internal static class ConvergenceChart
{
    private const double Percent = 100;

    public static Figure Build(UncertaintyWords words, UncertaintyResult result, string name)
    {
        var spread = result[MeasureIds.RiggingPointForce];
        var all = result.Convergence;
        var (now, half) = (all[^1].Quantiles[^1], all.Count > 1 ? all[^2].Quantiles[^1] : all[^1].Quantiles[^1]);
        var moved = Math.Abs(now.Low - half.Low) / now.Low;
        var panels = result.IndexConvergence.Count > 1
            ? new[] { Quantiles(words, result, spread) with { Place = new Place(0, 0, 0.5, 1) }, Indices(result, spread) with { Place = new Place(0.5, 0, 0.5, 1) } }
            : [Quantiles(words, result, spread)];
        return new Figure
        {
            FileName = $"{name}-convergence.png",
            Title = all.Count < 2 ? $"{words.CaseName(result)}: too few drops to see the estimates settle"
                : FormattableString.Invariant($"{words.CaseName(result)}: the 95 % point of the rigging-point force moves by {(moved < 0.0005 ? "less than 0.1" : Format.Number(Percent * moved))} % from {all[^2].Count} to {all[^1].Count} drops"),
            Subtitle = words.Subtitle(result) + " Bands: 95 % interval as for independent drops; evenly spread points do better than that.",
            Footer = words.Footer(result),
            Height = 900,
            Panels = panels,
        };
    }

    private static Panel Quantiles(UncertaintyWords words, UncertaintyResult result, MeasureSpread spread)
    {
        (int Index, string Name)[] shown = [(4, "95 % point"), (2, "median"), (0, "5 % point")];
        var (unit, factor) = words.Axis(spread.Central);
        var points = result.Convergence;
        double[] x = [.. points.Select(p => (double)p.Count)];
        var areas = new List<Area>();
        var curves = new List<Curve>();
        var labels = new List<Label>();
        double top = 0;
        foreach (var (index, label) in shown)
        {
            var known = points.Where(p => double.IsFinite(p.Quantiles[index].SampleLow) && double.IsFinite(p.Quantiles[index].SampleHigh)).ToArray();
            if (known.Length > 1)
            {
                double[] high = [.. known.Select(p => p.Quantiles[index].SampleHigh * factor)];
                areas.Add(new Area("", [.. known.Select(p => (double)p.Count)], [.. known.Select(p => p.Quantiles[index].SampleLow * factor)], high, "#DADADA"));
                top = Math.Max(top, high.Max());
            }

            double[] y = [.. points.Select(p => double.IsFinite(p.Quantiles[index].Low) ? p.Quantiles[index].Low * factor : double.NaN)];
            top = Math.Max(top, y.Where(double.IsFinite).DefaultIfEmpty(0).Max());
            curves.Add(new Curve(label, x, y, new Stroke(Palette.RiggingPoint, index == 2 ? 3 : 2, index == 2 ? Dash.Solid : Dash.Long)));
            labels.Add(new Label($"{label} {words.Quantile(spread, spread.Quantiles[index])}", x[^1], y[^1], Palette.Ink, index == 0 ? Toward.DownLeft : Toward.UpLeft, false, false));
        }

        return new Panel
        {
            Heading = "Force on the rigging point",
            X = NiceScale.Axis("Drops", "", 0, x[^1], 5),
            Y = NiceScale.Axis("Force", unit, 0, 1.1 * top, 6),
            Areas = areas,
            Curves = curves,
            Labels = labels,
        };
    }

    private static Panel Indices(UncertaintyResult result, MeasureSpread spread)
    {
        const int Most = 3;
        string[] colours = [Palette.LoadLeg, Palette.GroundLegText, Palette.SparText];
        Dash[] dashes = [Dash.Solid, Dash.Long, Dash.Dots];
        int[] strongest = [.. Enumerable.Range(0, result.Inputs.Count).OrderByDescending(i => spread.Influence[i].Total!.Value.Value).Take(Most)];
        var points = result.IndexConvergence;
        double[] x = [.. points.Select(p => (double)p.Rows)];
        var curves = new List<Curve>();
        var labels = new List<Label>();
        var ends = new List<Curve>();
        for (var k = 0; k < strongest.Length; k++)
        {
            var i = strongest[k];
            double[] y = [.. points.Select(p => p.Totals[i].Value * Percent)];
            curves.Add(new Curve(UncertaintyWords.Name(result.Inputs[i]), x, y, new Stroke(colours[k], 3, dashes[k])));
            ends.AddRange(points.Select((p, n) => new Curve("interval", [x[n] + (k * 0.006 * x[^1]), x[n] + (k * 0.006 * x[^1])], [p.Totals[i].Low * Percent, p.Totals[i].High * Percent], new Stroke(colours[k], 1.4))));
            labels.Add(new Label(UncertaintyWords.Name(result.Inputs[i]), x[^1], y[^1], colours[k], Toward.UpLeft, false));
        }

        var top = strongest.Max(i => points.Max(p => p.Totals[i].High)) * Percent;
        return new Panel
        {
            Heading = "Share of its variance in which an input takes part",
            X = NiceScale.Axis("Rows", "", 0, x[^1] * 1.04, 5),
            Y = NiceScale.Axis("Share", "%", 0, 1.1 * top, 6),
            Curves = [.. curves, .. ends],
            Labels = labels,
        };
    }
}
