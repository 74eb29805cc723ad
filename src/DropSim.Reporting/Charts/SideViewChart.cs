using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>What all side views of a scenario share: the same piece of the yard, the same length of arrow for the same force.</summary>
/// <param name="XMin">Left end, m.</param>
/// <param name="XMax">Right end, m.</param>
/// <param name="ZMax">Upper end, m.</param>
/// <param name="NewtonsPerMetre">Force of an arrow of one metre on paper, N/m.</param>
internal sealed record SideViewScale(double XMin, double XMax, double ZMax, double NewtonsPerMetre)
{
    private const double Grid = 0.02;

    internal static SideViewScale Of(IReadOnlyList<CaseCurves> cases, Clock clock)
    {
        var (low, high, top) = (-1.2, 1.2, 0.0);
        foreach (var curves in cases)
        {
            var input = curves.Input;
            low = Math.Min(low, input.Device.X - 0.5);
            high = Math.Max(high, Math.Max(input.Device.X + 0.5, input.Site.Obstacles.Select(o => o.XTo).DefaultIfEmpty(0).Max()));
            low = Math.Min(low, input.Site.Obstacles.Select(o => o.XFrom).DefaultIfEmpty(0).Min());
            for (var t = Math.Max(clock.From, curves.Traces.StartTime); t <= Math.Min(clock.To, curves.Traces.EndTime); t += Grid)
            {
                var piece = curves.Traces.SceneAt(t).Piece;
                low = Math.Min(low, piece.Min(p => p.X));
                high = Math.Max(high, piece.Max(p => p.X));
                top = Math.Max(top, piece.Max(p => p.Z));
            }
        }

        // The longest arrow is about a quarter of the height.
        var force = cases.Max(c => c.Run[MeasureIds.RiggingPointForce].Value);
        return new SideViewScale(low - 0.3, high + 0.3, 1.04 * top, NiceScale.Step(Math.Max(force, 1) / (0.25 * top), 1));
    }
}

/// <summary>The drop from the side, to scale: the fall on the left, the moment of the largest force on the right.</summary>
internal static class SideViewChart
{
    /// <summary>Outlines of the piece at most.</summary>
    private const int MostOutlines = 9;

    /// <summary>Room below the ground line for hatching, fraction of the height.</summary>
    private const double BelowGround = 0.05;

    internal static Figure Build(CaseCurves curves, ScenarioScales scales, SideViewScale view, Wording wording, string name)
    {
        var run = curves.Run;
        var rigging = run[MeasureIds.RiggingPointForce];
        var load = run[MeasureIds.LoadLegTension];
        var peak = rigging.Time is { } time && double.IsFinite(time) ? time : curves.Window.From;
        var lowest = curves.Run[MeasureIds.Room].Time is { } low && double.IsFinite(low) ? Math.Clamp(low, curves.Window.From, curves.Window.To) : curves.Window.To;
        return new Figure
        {
            FileName = $"{name}-side-view.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: the load leg pulls {wording.Value(load)}, the rigging point carries {wording.WithWorst(rigging)}",
            Subtitle = wording.Subtitle(curves.Result.Case) + " True to scale, the spar's bend too.",
            Footer = wording.Footer(run),
            Height = 1250,
            Panels = [Fall(curves, scales, view, peak, lowest), AtPeak(curves, scales, view, wording, peak)],
        };
    }

    private static Panel Fall(CaseCurves curves, ScenarioScales scales, SideViewScale view, double peak, double lowest)
    {
        var f = scales.LengthFactor;
        var start = Math.Max(curves.Traces.StartTime, -0.3);
        var end = Math.Max(Math.Min(lowest, peak + 0.3), peak);
        var step = NiceScale.Step(end - start, MostOutlines - 2);
        var times = new List<double>();
        for (var k = (int)Math.Ceiling(start / step); k * step <= end + 1e-9; k++)
        {
            times.Add(k * step);
        }

        var shapes = Site(curves, view, f);
        var labels = new List<Label>();
        shapes.AddRange(Spar(curves.Traces.SceneAt(start), f, "#F4F1EC", new Stroke(Palette.Quiet, 1.2)));
        for (var i = 0; i < times.Count; i++)
        {
            var scene = curves.Traces.SceneAt(times[i]);
            shapes.Add(new Shape("piece", Points(scene.Piece, f), "", new Stroke(Shade(times.Count == 1 ? 1 : (double)i / (times.Count - 1)), 1.6 + (1.4 * i / times.Count))));
            if (i == 0 || i == times.Count - 1 || Math.Abs(times[i]) < step / 4)
            {
                labels.Add(new Label(Format.Time(times[i]), scene.Piece.Max(p => p.X) * f, scene.CentreOfGravity.Z * f, Palette.PieceText, Toward.Right));
            }
        }

        var taut = curves.Run[MeasureIds.TimeToTaut];
        var lines = new List<Curve>();
        var dots = new List<Dot>();
        if (taut.Time is { } at && double.IsFinite(at))
        {
            var scene = curves.Traces.SceneAt(at);
            shapes.Add(new Shape("piece at first taut", Points(scene.Piece, f), "", new Stroke(Palette.Ink, 2, Dash.Long)));
            lines.AddRange(Legs(scene, f, 2.4));
            dots.AddRange(Marks(scene, f));
            labels.Add(new Label($"rope comes taut at {Format.Time(at)}", scene.Hitch.X * f, scene.Hitch.Z * f, Palette.Ink, Toward.Right, true));
        }
        else
        {
            dots.AddRange(Marks(curves.Traces.SceneAt(end), f));
        }

        labels.AddRange(Names(curves, curves.Traces.SceneAt(start), f));
        return Frame(view, f, 0, $"The fall: the piece every {Format.Time(step)}, later is darker") with
        {
            Shapes = shapes,
            Curves = [.. Hatching(view, f), .. lines, .. ScaleBar(view, scales)],
            Dots = dots,
            Labels = labels,
            Texts = [ScaleWords(view, scales), .. ObstacleNames(curves, f)],
        };
    }

    private static Panel AtPeak(CaseCurves curves, ScenarioScales scales, SideViewScale view, Wording wording, double peak)
    {
        var f = scales.LengthFactor;
        var scene = curves.Traces.SceneAt(peak);
        var shapes = Site(curves, view, f);
        var (bentAt, _) = curves.Extreme("tip_deflection_m", curves.Window);
        shapes.AddRange(Spar(curves.Traces.SceneAt(curves.Traces.StartTime), f, "#F4F1EC", new Stroke(Palette.Quiet, 1)));
        shapes.AddRange(Spar(curves.Traces.SceneAt(bentAt), f, "", new Stroke(Palette.Spar, 3)));
        shapes.Add(new Shape("piece", Points(scene.Piece, f), "#E3F1FA", new Stroke(Palette.Piece, 3)));
        var labels = new List<Label>
        {
            new($"spar bent furthest, {wording.ValueAndTime(curves.Run[MeasureIds.TipDeflection])} at the top", SparPoint(curves.Traces.SceneAt(bentAt), 0.35, f).X, SparPoint(curves.Traces.SceneAt(bentAt), 0.35, f).Y, Palette.SparText, Toward.Right),
        };
        var arrows = new List<Arrow>();
        var ring = scene.RiggingPoint;

        void Pull(string words, PlanePoint from, double x, double z, string colour, string text, double width, Toward toward)
        {
            var size = double.Hypot(x, z);
            if (size < 0.02 * view.NewtonsPerMetre)
            {
                return;
            }

            var (tipX, tipZ) = (from.X + (x / view.NewtonsPerMetre), from.Z + (z / view.NewtonsPerMetre));
            arrows.Add(new Arrow(words, from.X * f, from.Z * f, tipX * f, tipZ * f, new Stroke(colour, width)));
            labels.Add(new Label($"{words} {Format.Quantity(size, "N", scales.Units)}", (from.X + (0.8 * (tipX - from.X))) * f, (from.Z + (0.8 * (tipZ - from.Z))) * f, text, toward));
        }

        var (loadX, loadZ) = Unit(ring, scene.Hitch);
        var (groundX, groundZ) = Unit(ring, scene.Device);
        Pull("load leg", ring, loadX * scene.LoadLegTension, loadZ * scene.LoadLegTension, Palette.LoadLeg, Palette.LoadLeg, 5, Toward.Right);
        Pull("ground leg", ring, groundX * scene.GroundLegTension, groundZ * scene.GroundLegTension, Palette.GroundLeg, Palette.GroundLegText, 5, Toward.Left);
        Pull("rigging point", ring, scene.RiggingForceX, scene.RiggingForceZ, Palette.RiggingPoint, Palette.Ink, 3, Toward.Left);
        var left = (view.XMax - (0.02 * (view.XMax - view.XMin))) * f;
        return Frame(view, f, 0.5, $"At the largest force, {Format.Time(scene.Time)}: what pulls on the rigging point") with
        {
            Shapes = shapes,
            Curves = [.. Hatching(view, f), .. Legs(scene, f, 2)],
            Dots = [.. Marks(scene, f)],
            Labels = labels,
            Arrows = [.. arrows, new Arrow("force scale", left - f, 0.965 * view.ZMax * f, left, 0.965 * view.ZMax * f, new Stroke(Palette.Ink, 3))],
            Texts = [new Text($"{Format.Quantity(view.NewtonsPerMetre * (scales.Units == UnitSystem.Us ? 1 : 1), "N", scales.Units)}", left - (0.5 * f), 0.93 * view.ZMax * f, Palette.Ink, Grip.Middle), .. ObstacleNames(curves, f)],
        };
    }

    private static Panel Frame(SideViewScale view, double f, double left, string heading) => new()
    {
        Place = new Place(left, 0, 0.5, 1),
        Heading = heading,
        X = new Axis("", "", view.XMin * f, view.XMax * f, 1, false),
        Y = new Axis("", "", -BelowGround * view.ZMax * f, view.ZMax * f, 1, false),
        EqualScale = true,
    };

    private static List<Shape> Site(CaseCurves curves, SideViewScale view, double f)
    {
        var far = 10 * (view.ZMax + view.XMax - view.XMin);
        var shapes = new List<Shape> { new("ground", HeightsChart.Box(-far * f, far * f, -BelowGround * view.ZMax * f, 0), Palette.GroundFill, new Stroke(Palette.Ground, 2)) };
        shapes.AddRange(curves.Input.Site.Obstacles.Select(o => new Shape(o.Name, HeightsChart.Box(o.XFrom * f, o.XTo * f, o.ZFrom * f, o.ZTo * f), Palette.ObstacleFill, new Stroke(Palette.Ground, 1.5))));
        return shapes;
    }

    private static IEnumerable<Text> ObstacleNames(CaseCurves curves, double f) =>
        curves.Input.Site.Obstacles.Select(o => new Text(o.Name, (o.XFrom + o.XTo) / 2 * f, (o.ZFrom + o.ZTo) / 2 * f, Palette.Ink, Grip.Middle));

    /// <summary>Short slanted strokes under the ground line.</summary>
    private static IEnumerable<Curve> Hatching(SideViewScale view, double f)
    {
        var depth = 0.022 * view.ZMax;
        var far = 1.5 * (view.ZMax + view.XMax - view.XMin);
        var (x, y) = (new List<double>(), new List<double>());
        for (var at = -far; at <= far; at += depth)
        {
            x.AddRange([at * f, (at - depth) * f, double.NaN]);
            y.AddRange([0, -depth * f, double.NaN]);
        }

        return [new Curve("hatching", [.. x], [.. y], new Stroke(Palette.Ground, 1))];
    }

    private static IEnumerable<Shape> Spar(DropScene scene, double f, string fill, Stroke stroke)
    {
        var axis = scene.SparAxis.Zip(scene.SparRadius).ToArray();
        return [new Shape("spar", [.. axis.Select(p => ((p.First.X - p.Second) * f, p.First.Z * f)), .. axis.Reverse().Select(p => ((p.First.X + p.Second) * f, p.First.Z * f))], fill, stroke)];
    }

    private static (double X, double Y) SparPoint(DropScene scene, double share, double f)
    {
        var i = (int)(share * (scene.SparAxis.Count - 1));
        return ((scene.SparAxis[i].X + scene.SparRadius[i]) * f, scene.SparAxis[i].Z * f);
    }

    private static IEnumerable<Curve> Legs(DropScene scene, double f, double width) =>
    [
        new Curve("load leg", [scene.RiggingPoint.X * f, scene.Hitch.X * f], [scene.RiggingPoint.Z * f, scene.Hitch.Z * f], new Stroke(Palette.LoadLeg, width)),
        new Curve("ground leg", [scene.RiggingPoint.X * f, scene.Device.X * f], [scene.RiggingPoint.Z * f, scene.Device.Z * f], new Stroke(Palette.GroundLeg, width, Dash.Long)),
    ];

    private static IEnumerable<Dot> Marks(DropScene scene, double f)
    {
        yield return new Dot("rigging point", scene.RiggingPoint.X * f, scene.RiggingPoint.Z * f, Palette.RiggingPoint, 6, true);
        yield return new Dot("friction device", scene.Device.X * f, scene.Device.Z * f, Palette.GroundLeg, 7);
        if (scene.Climber is { } climber)
        {
            yield return new Dot("climber's feet", climber.X * f, climber.Z * f, Palette.Climber, 8);
        }
    }

    private static IEnumerable<Label> Names(CaseCurves curves, DropScene scene, double f)
    {
        var point = curves.Input.RiggingPoint.Kind switch
        {
            RiggingPointKind.Ring => "ring",
            RiggingPointKind.Block => "block",
            _ => "natural union",
        };
        yield return new Label(point, scene.RiggingPoint.X * f, scene.RiggingPoint.Z * f, Palette.Ink, Toward.Left);
        yield return new Label("friction device", scene.Device.X * f, scene.Device.Z * f, Palette.GroundLegText, Toward.Right);
        if (scene.Climber is { } climber)
        {
            yield return new Label("climber's feet", climber.X * f, climber.Z * f, Palette.ClimberText, Toward.Left);
        }
    }

    private static IEnumerable<Curve> ScaleBar(SideViewScale view, ScenarioScales scales)
    {
        var (from, to, z) = Bar(view, scales);
        var tick = 0.006 * view.ZMax * scales.LengthFactor;
        return [new Curve("scale bar", [from, from, from, to, to, to], [z - tick, z + tick, z, z, z + tick, z - tick], new Stroke(Palette.Ink, 2.4))];
    }

    private static Text ScaleWords(SideViewScale view, ScenarioScales scales)
    {
        var (from, to, z) = Bar(view, scales);
        return new Text(Format.Quantity((to - from) / scales.LengthFactor, "m", scales.Units), (from + to) / 2, z - (0.025 * view.ZMax * scales.LengthFactor), Palette.Ink, Grip.Middle);
    }

    private static (double From, double To, double Z) Bar(SideViewScale view, ScenarioScales scales)
    {
        var f = scales.LengthFactor;
        var length = scales.Units == UnitSystem.Us ? 5 : 1;
        var to = (view.XMax - (0.02 * (view.XMax - view.XMin))) * f;
        return (to - length, to, 0.965 * view.ZMax * f);
    }

    private static (double X, double Z) Unit(PlanePoint from, PlanePoint to)
    {
        var distance = Math.Max(double.Hypot(to.X - from.X, to.Z - from.Z), 1e-9);
        return ((to.X - from.X) / distance, (to.Z - from.Z) / distance);
    }

    private static List<(double X, double Y)> Points(IReadOnlyList<PlanePoint> points, double f) => [.. points.Select(p => (p.X * f, p.Z * f))];

    /// <summary>From pale to dark blue.</summary>
    private static string Shade(double share)
    {
        int Mix(int pale, int dark) => (int)Math.Round(pale + ((dark - pale) * share));
        return FormattableString.Invariant($"#{Mix(0xBF, 0x0B):X2}{Mix(0xDF, 0x3C):X2}{Mix(0xF2, 0x5D):X2}");
    }
}
