using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>A measure over two inputs: bands of colour, darker where it is worse, limits as lines, drops that were not caught hatched.</summary>
internal static class VaryMap
{
    /// <summary>Bands wanted, about: more cannot be told apart.</summary>
    private const int Bands = 9;

    /// <summary>A limit line shorter than this gets no words of its own, share of the map.</summary>
    private const double ShortLine = 0.05;

    internal static Figure Build(VaryResult result, int c, VaryScale scale, VaryWords words, ReportOptions options)
    {
        var (first, second) = (result.Axes[0], result.Axes[1]);
        double[] x = [.. Enumerable.Range(0, first.Values.Count).Select(first.Shown)];
        double[] y = [.. Enumerable.Range(0, second.Values.Count).Select(second.Shown)];
        var values = new double[x.Length, y.Length];
        for (var i = 0; i < x.Length; i++)
        {
            for (var j = 0; j < y.Length; j++)
            {
                values[i, j] = result.At(c, i, j) is { CutShort: true } ? double.NaN : result.Exact(c, i, j, scale.Place) * scale.Factor;
            }
        }

        var known = values.Cast<double>().Where(double.IsFinite).ToArray();
        var (low, high) = (known.DefaultIfEmpty(0).Min(), known.DefaultIfEmpty(1).Max());
        var step = NiceScale.Step(high - low, Bands);
        var from = Math.Floor((low / step) + 1e-9) * step;
        var count = Math.Max(1, (int)Math.Ceiling(((high - from) / step) - 1e-9));
        double[] levels = [.. Enumerable.Range(1, count - 1).Select(k => from + (k * step))];
        var fills = Enumerable.Range(0, count).Select(k => Shade((k + 0.5) / count, scale.Measure.Worse == Worse.Smaller)).ToArray();
        var limits = Limits(result, c, scale, x, y);
        var hatched = known.Length < x.Length * y.Length;
        var name = result.Cases.Count > 1 ? $"{VaryCurves.FileName(scale)}-{result.Cases[c].Central.Name}" : VaryCurves.FileName(scale);
        var (own, ownY) = (VaryScale.Own(first, result.Cases[c]), VaryScale.Own(second, result.Cases[c]));
        var inside = own >= x[0] && own <= x[^1] && ownY >= y[0] && ownY <= y[^1];
        return new Figure
        {
            FileName = name + ".png",
            Title = words.Title(scale, [c]),
            Subtitle = $"{result.Title}. {scale.Measure.Label} over {first.Name} and {second.Name}{(hatched ? "; hatched: not caught (its peaks read 'at least') or not computed" : "")}. {VaryWords.OthersStay}",
            Footer = StudyWording.Footer([$"{words.CaseName(c)} as the scenario has it: {scale.AsGiven(result.Cases[c])}."], result.ScenarioName, result.SourceHash, options),
            Height = 1080,
            Panels =
            [
                new Panel
                {
                    Place = new Place(0, 0, 0.86, 1),
                    X = new Axis(first.Name, first.Unit, x[0], x[^1], NiceScale.Step(x[^1] - x[0], 8)),
                    Y = new Axis(second.Name, second.Unit, y[0], y[^1], NiceScale.Step(y[^1] - y[0], 8)),
                    Field = new Field(x, y, values, levels, fills),
                    Curves =
                    [
                        // On a white casing, so that they are seen on dark bands too.
                        .. limits.SelectMany(l => l.Lines.Select(line => Line(l.Words, line, new Stroke("#FFFFFF", 7)))),
                        .. limits.SelectMany(l => l.Lines.Select(line => Line(l.Words, line, new Stroke(Palette.GroundLeg, 3.6, Dash.DashDot)))),
                    ],
                    Dots = inside ? [new Dot("own", own, ownY, Palette.Ink, 7, true)] : [],
                    Labels =
                    [
                        .. limits.SelectMany(l => l.Lines.OrderByDescending(Length).Take(1).Where(line => Length(line) > ShortLine).Select(line => new Label($"{l.Words}, as stated", line[line.Count / 2].X, line[line.Count / 2].Y, Palette.GroundLegText, Toward.UpRight, true))),
                        .. inside ? [new Label("as the scenario has it", own, ownY, Palette.Ink, Toward.UpRight, true)] : Array.Empty<Label>(),
                        .. HatchLabel(result, c, scale, x, y),
                    ],
                },
                Legend(scale, from, step, fills, low, high),
            ],
        };

        double Length(IReadOnlyList<(double X, double Y)> line) =>
            line.Zip(line.Skip(1)).Sum(p => Math.Abs(p.Second.X - p.First.X) / (x[^1] - x[0]) + (Math.Abs(p.Second.Y - p.First.Y) / (y[^1] - y[0])));
    }

    private static Curve Line(string name, IReadOnlyList<(double X, double Y)> line, Stroke stroke) =>
        new(name, [.. line.Select(p => p.X)], [.. line.Select(p => p.Y)], stroke);

    /// <summary>The colours with their borders, from the bottom up.</summary>
    private static Panel Legend(VaryScale scale, double from, double step, string[] fills, double low, double high)
    {
        var top = from + (fills.Length * step);
        static string Number(double v) => v.ToString("0.####", CultureInfo.InvariantCulture);
        return new Panel
        {
            Place = new Place(0.875, 0.06, 0.125, 0.86),
            Heading = scale.Unit.Length > 0 ? scale.Unit : "times",
            X = new Axis("", "", 0, 4, 0, false),
            Y = new Axis("", "", from, top, 0, false),
            Shapes = [.. fills.Select((f, k) => new Shape("band", HeightsChart.Box(0, 1.3, from + (k * step), from + ((k + 1) * step)), f, new Stroke("#FFFFFF", 1)))],
            Texts = [.. Enumerable.Range(0, fills.Length + 1).Where(k => fills.Length < 12 || k % 2 == 0).Select(k => new Text(Number(from + (k * step)), 1.5, Math.Clamp(from + (k * step), from + (0.02 * (top - from)), top - (0.02 * (top - from))), Palette.Quiet, Grip.Left))],
        };
    }

    /// <summary>Words for the largest hatched place.</summary>
    private static IEnumerable<Label> HatchLabel(VaryResult result, int c, VaryScale scale, double[] x, double[] y)
    {
        var cut = Enumerable.Range(0, x.Length).SelectMany(i => Enumerable.Range(0, y.Length).Select(j => (I: i, J: j)))
            .Where(p => result.At(c, p.I, p.J) is { } d && (d.End is null || d.CutShort || !double.IsFinite(result.Exact(c, p.I, p.J, scale.Place)))).ToArray();
        if (cut.Length < 4)
        {
            return [];
        }

        // The drop nearest to the middle of all of them.
        var (mx, my) = (cut.Average(p => p.I), cut.Average(p => p.J));
        var (mi, mj) = cut.MinBy(p => Math.Pow(p.I - mx, 2) + Math.Pow(p.J - my, 2));
        var end = result.At(c, mi, mj)!.End;
        var what = end switch
        {
            null => "not computed",
            EndKind.Ground or EndKind.Obstacle when scale.Id == MeasureIds.Room => "reached: no room left",
            EndKind.Ground => "ground reached: at least",
            EndKind.Obstacle => "obstacle reached: at least",
            EndKind.RopeBroke => "rope's strength exceeded: at least",
            EndKind.RopeEnd => "rope's end passed the device: at least",
            _ => "not caught: at least",
        };
        return [new Label(what, x[mi], y[mj], Palette.Ink, Toward.Up, true, false)];
    }

    private static List<(string Words, IReadOnlyList<IReadOnlyList<(double X, double Y)>> Lines)> Limits(VaryResult result, int c, VaryScale scale, double[] x, double[] y) =>
        [.. KnownLimits.For(scale.Id, result.Cases[c].Central.Input).Select((l, n) => (l.Words, ContourLines.Zero(x, y, (i, j) =>
            result.At(c, i, j) is { End: not null } drop && n < drop.Limits[scale.Place].Count ? result.Exact(c, i, j, scale.Place) - drop.Limits[scale.Place][n] : double.NaN)))
            .Where(l => l.Item2.Count > 0)];

    /// <summary>White to blue to near black: readable in grey print, and neither of the colours that stand for a judgement.</summary>
    private static string Shade(double share, bool smallIsWorse)
    {
        var s = smallIsWorse ? 1 - share : share;
        (int R, int G, int B)[] stops = [(0xEE, 0xF5, 0xFA), (0x8F, 0xC1, 0xE3), (0x00, 0x72, 0xB2), (0x0B, 0x2A, 0x4A)];
        var at = s * (stops.Length - 1);
        var k = Math.Min((int)at, stops.Length - 2);
        int Mix(int a, int b) => (int)Math.Round(a + ((at - k) * (b - a)));
        return FormattableString.Invariant($"#{Mix(stops[k].R, stops[k + 1].R):X2}{Mix(stops[k].G, stops[k + 1].G):X2}{Mix(stops[k].B, stops[k + 1].B):X2}");
    }
}
