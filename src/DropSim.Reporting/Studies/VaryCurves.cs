using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>A measure over one input: a curve for each case and each value of the other input.</summary>
internal static class VaryCurves
{
    private static readonly Dash[] Dashes = [Dash.Solid, Dash.Long, Dash.Dots, Dash.DashDot];

    internal static Figure Build(VaryResult result, VaryScale scale, VaryWords words, ReportOptions options)
    {
        // The input with more values is the axis.
        var along = result.Axes.Count == 2 && (result.Axes[0].AreWords || (!result.Axes[1].AreWords && result.SecondCount > result.FirstCount)) ? 1 : 0;
        var axis = result.Axes[along];
        var family = result.Axes.Count == 2 ? result.Axes[1 - along] : null;
        var x = Enumerable.Range(0, axis.Values.Count).Select(axis.Shown).ToArray();
        var curves = new List<Curve>();
        var dots = new List<Dot>();
        var arrows = new List<Arrow>();
        var labels = new List<Label>();
        var high = Math.Max(0, scale.Values.DefaultIfEmpty(1).Max() * scale.Factor);
        var low = Math.Min(0, scale.Values.DefaultIfEmpty(0).Min() * scale.Factor);
        var limits = Limits(result, along, scale, x, high);
        high = Math.Max(high, limits.SelectMany(l => l.Y).Where(double.IsFinite).DefaultIfEmpty(high).Max());
        var y = NiceScale.Axis(scale.Measure.Label, scale.Unit, low, high > low ? high * 1.08 : low + 1);
        var style = 0;
        for (var c = 0; c < result.Cases.Count; c++)
        {
            for (var k = 0; k < (family?.Values.Count ?? 1); k++, style++)
            {
                double At(int i, Func<int, int, int, int, double> value) => (along == 0 ? value(c, i, k, scale.Place) : value(c, k, i, scale.Place)) * scale.Factor;
                var name = string.Join(", ", new[] { result.Cases.Count > 1 ? words.CaseName(c) : "", family is null ? "" : $"{family.Name} {family.Texts[k]}" }.Where(n => n.Length > 0));
                var exact = x.Select((_, i) => At(i, result.Exact)).ToArray();
                var bound = x.Select((_, i) => At(i, result.AtLeast)).ToArray();
                var stroke = new Stroke(scale.Colour, style == 0 ? 4 : Math.Max(2, 3.4 - (0.4 * style)), Dashes[style % Dashes.Length]);
                curves.Add(new(name.Length > 0 ? name : scale.Measure.Label, x, exact, stroke));
                Bounds(x, bound, name, y, scale.Colour, dots, arrows);
                if (axis.AreWords || exact.Count(double.IsFinite) < 2)
                {
                    dots.AddRange(exact.Select((v, i) => (v, i)).Where(p => double.IsFinite(p.v)).Select(p => new Dot(name, x[p.i], p.v, scale.Colour, 6)));
                }

                var last = Array.FindLastIndex(exact, double.IsFinite);
                if (last >= 0 && name.Length > 0)
                {
                    // Labels of different curves stand at different places along them, so that they do not crowd at the end.
                    var first = Array.FindIndex(exact, double.IsFinite);
                    var at = last - (int)Math.Round((last - first) * 0.16 * (style % 5));
                    at = Enumerable.Range(0, at - first + 1).Select(d => at - d).First(i => double.IsFinite(exact[i]));
                    labels.Add(new(name, x[at], exact[at], Ink(scale.Colour), Toward.UpLeft, style == 0));
                }
            }
        }

        curves.AddRange(limits.Select(l => new Curve(l.Words, x, l.Y, new(Palette.Quiet, 2, Dash.DashDot))));
        labels.AddRange(limits.Select(l => (l, At: Array.FindIndex(l.Y, double.IsFinite))).Where(l => l.At >= 0)
            .Select(l => new Label($"{l.l.Words}, as stated", x[l.At], l.l.Y[l.At], Palette.Quiet, Toward.UpRight, false, false)));
        if (dots.Any(d => d.Hollow))
        {
            var mark = dots.Last(d => d.Hollow);
            labels.Add(new("not caught: at least", mark.X, mark.Y, Palette.Ink, Toward.DownLeft));
        }

        // So that a mark at the end is not cut.
        var margin = axis.AreWords ? 0.5 : dots.Count > 0 ? 0.012 * (x.Max() - x.Min()) : 0;
        var scaleX = new Axis(axis.Name, axis.Unit, x.Min() - margin, x.Max() + margin, axis.AreWords ? 0 : NiceScale.Step(x.Max() - x.Min(), 8), !axis.AreWords);
        var ticks = axis.AreWords
            ? x.Select((v, i) => new Tick(v, axis.Texts[i], true)).ToArray()
            : result.Cases.Select(c => VaryScale.Own(axis, c)).Where(v => v >= x.Min() && v <= x.Max()).Distinct().Select(v => new Tick(v, "as the scenario has it", false)).ToArray();
        return new Figure
        {
            FileName = $"{FileName(scale)}.png",
            Title = words.Title(scale, Enumerable.Range(0, result.Cases.Count)),
            Subtitle = $"{result.Title}. {scale.Measure.Label} over {axis.Name}{(family is null ? "" : $", a curve for each {family.Name}")}. {VaryWords.OthersStay}",
            Footer = StudyWording.Footer(
                result.Cases.Select((c, i) => $"{words.CaseName(i)} as the scenario has it: {scale.AsGiven(c)}.").Append(
                    dots.Any(d => d.Hollow) ? "A ring with an arrow: this drop was not caught, the true value is at least this." : "").Where(s => s.Length > 0),
                result.ScenarioName, result.SourceHash, options),
            Height = 1000,
            Panels =
            [
                new Panel { X = scaleX, Y = y, Curves = curves, Dots = dots, Arrows = arrows, Labels = labels, Ticks = ticks },
            ],
        };
    }

    /// <summary>Name of a picture without ending.</summary>
    internal static string FileName(VaryScale scale) => scale.Id.Replace('_', '-');

    /// <summary>Drops that were not caught: rings with arrows upward, thinned where they crowd.</summary>
    private static void Bounds(double[] x, double[] bound, string name, Axis y, string colour, List<Dot> dots, List<Arrow> arrows)
    {
        const int MostMarks = 30;
        var every = Math.Max(1, (int)Math.Ceiling(bound.Count(double.IsFinite) / (double)MostMarks));
        var up = 0.05 * (y.Max - y.Min);
        foreach (var i in Enumerable.Range(0, x.Length).Where(i => double.IsFinite(bound[i])).Where((_, n) => n % every == 0))
        {
            dots.Add(new(name, x[i], bound[i], colour, 5, true));
            arrows.Add(new("at least", x[i], bound[i] + (0.012 * (y.Max - y.Min)), x[i], bound[i] + up, new(colour, 1.4)));
        }
    }

    /// <summary>Limits that lie within sight: up to half above the largest value.</summary>
    private static List<(string Words, double[] Y)> Limits(VaryResult result, int along, VaryScale scale, double[] x, double high)
    {
        const double InSight = 1.5;
        var lines = new List<(string Words, double[] Y)>();
        for (var c = 0; c < result.Cases.Count; c++)
        {
            var names = KnownLimits.For(scale.Id, result.Cases[c].Central.Input);
            for (var n = 0; n < names.Count; n++)
            {
                var line = x.Select((_, i) =>
                    (along == 0 ? result.At(c, i, 0) : result.At(c, 0, i)) is { End: not null } drop && n < drop.Limits[scale.Place].Count ? drop.Limits[scale.Place][n] * scale.Factor : double.NaN).ToArray();
                if (line.Where(double.IsFinite).DefaultIfEmpty(double.PositiveInfinity).Min() <= InSight * high
                    && !lines.Any(l => l.Words == names[n].Words && l.Y.SequenceEqual(line)))
                {
                    lines.Add((names[n].Words, line));
                }
            }
        }

        return lines;
    }

    private static string Ink(string colour) => colour switch
    {
        Palette.GroundLeg => Palette.GroundLegText,
        Palette.Climber => Palette.ClimberText,
        _ => colour,
    };
}
