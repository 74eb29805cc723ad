using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>Force on the rigging point and lowest point of the piece over time: bands of all drops with the central run.</summary>
internal static class BandsChart
{
    private const double ForceShare = 0.6;

    public static Figure Build(UncertaintyWords words, UncertaintyResult result, string name)
    {
        var curves = new CaseCurves(new CaseResult(result.Case, result.Central, 0, ""));
        var force = result[MeasureIds.RiggingPointForce];
        var clock = curves.Window;
        var bands = result.Bands;
        var last = Math.Max(0, bands.Time.Count(t => t <= clock.To) - 1);
        var following = bands.Following[last];
        var gone = following < 1 ? $" {Format.Number(100 * (1 - following))} % of the drops have ended, or could not be computed, by the end of the picture: from there on the bands are of the others." : "";
        return new Figure
        {
            FileName = $"{name}-bands.png",
            Title = $"{words.CaseName(result)}: nine of ten peaks at the rigging point lie between {words.NineOfTen(force)}; central run {Format.Value(force.Central, words.Units)}",
            Subtitle = words.Subtitle(result) + " At each instant half of the drops lie in the dark band, nine of ten in the light one." + gone,
            Footer = words.Footer(result),
            Height = 1200,
            Panels =
            [
                Panel(words, result, curves, "rigging_point_force_N", "Force on the rigging point", "Force", Palette.RiggingPoint, Palette.Ink, "#DADADA", "#A6A6A6", Toward.UpRight, true) with
                {
                    Place = new Place(0, 0, 1, ForceShare),
                    Ticks = Ticks(curves, clock),
                },
                Panel(words, result, curves, "lowest_point_m", "Lowest point of the piece", "Height above ground", Palette.Piece, Palette.PieceText, "#D5ECFA", "#94CDF0", Toward.UpRight, false) with
                {
                    Place = new Place(0, ForceShare, 1, 1 - ForceShare),
                },
            ],
        };
    }

    private static IReadOnlyList<Tick> Ticks(CaseCurves curves, Clock clock)
    {
        var taut = curves.Run.Events.FirstOrDefault(e => e.Kind == EventKind.LoadLegTaut)?.Time ?? double.NaN;
        Tick[] all = [new Tick(0, "hinge breaks", true), new Tick(taut, "load leg taut in the central run", true)];
        return [.. all.Where(t => t.At >= clock.From && t.At <= clock.To)];
    }

    private static Panel Panel(
        UncertaintyWords words, UncertaintyResult result, CaseCurves curves, string column, string heading, string title, string colour, string ink, string pale, string dark, Toward toward, bool isForce)
    {
        var clock = curves.Window;
        var band = result.Bands.Curves.First(c => c.Column == column);
        var (unit, factor) = Units.Axis(band.Unit, words.Units);
        var shown = Enumerable.Range(0, result.Bands.Time.Count)
            .Where(k => result.Bands.Time[k] >= clock.From && result.Bands.Time[k] <= clock.To && band.Values.All(v => double.IsFinite(v[k]))).ToArray();
        double[] time = [.. shown.Select(k => result.Bands.Time[k])];
        double[] Share(int s) => [.. shown.Select(k => band.Values[s][k] * factor)];
        var central = curves.Column(column, factor);
        var (low, high) = curves.Reach(column, clock);
        var spread = result[MeasureIds.RiggingPointForce];
        var peaks = spread.Quantiles[^1];
        double top = Math.Max(high * factor, Share(4).DefaultIfEmpty(0).Max());
        top = isForce ? Math.Max(top, peaks.Low * factor) : top;
        var axis = NiceScale.Axis(title, unit, isForce ? 0 : Math.Min(0, low * factor), 1.12 * top, isForce ? 7 : 5);
        var (peakTime, peakValue) = curves.Extreme(column, clock);
        var level = isForce && double.IsFinite(peaks.Low)
            ? [new Level(peaks.Low * factor, $"95 % of the peaks, each at its own time, lie below {words.Quantile(spread, peaks)}", new Stroke(Palette.Quiet, 1.6, Dash.DashDot))]
            : Array.Empty<Level>();
        var at = clock.From + (0.72 * (clock.To - clock.From));
        var label = isForce
            ? new Label($"central run {Format.Quantity(peakValue, "N", words.Units)}", peakTime, peakValue * factor, ink, toward, true)
            : new Label("central run", at, curves.At(column, at) * factor, ink, toward, true);

        // The names of the bands at their edges, one after the other in time.
        Label Edge(string says, int share, double part)
        {
            var k = Math.Clamp((int)(part * time.Length), 0, time.Length - 1);
            return new Label(says, time[k], band.Values[share][shown[k]] * factor, Palette.Quiet, isForce || share == 2 ? Toward.UpRight : Toward.Down);
        }

        return new Panel
        {
            Heading = heading,
            X = new Axis(isForce ? "" : "Time from hinge break", "s", clock.From, clock.To, NiceScale.Step(clock.To - clock.From, 9)),
            Y = axis,
            Areas = [new Area("", time, Share(0), Share(4), pale), new Area("", time, Share(1), Share(3), dark)],
            Curves =
            [
                new Curve("median", time, Share(2), new Stroke(Palette.Quiet, 1.6, Dash.Long)),
                new Curve("central run", curves.Time, central, new Stroke(colour, 3.2)),
            ],
            Levels = level,
            Labels = [label, Edge("nine of ten drops", isForce ? 4 : 0, 0.45), Edge("half of the drops", isForce ? 3 : 1, 0.62), Edge("median (dashed)", 2, 0.8)],
        };
    }
}
