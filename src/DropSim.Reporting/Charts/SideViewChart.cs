using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>The drop from the side, to scale: the fall on the left, the moment of the largest force on the right.</summary>
internal static class SideViewChart
{
    /// <summary>Outlines of the piece at most.</summary>
    private const int MostOutlines = 12;

    /// <summary>Arrows shorter than this are drawn thin, m: the head would be longer than the arrow.</summary>
    private const double ShortArrow = 0.2;

    /// <summary>Width of the left panel, which shows the whole.</summary>
    private const double WholeWidth = 0.42;

    /// <summary>When the rigging point is loaded most, s from hinge break.</summary>
    internal static double PeakTime(CaseCurves curves) =>
        curves.Run[MeasureIds.RiggingPointForce].Time is { } time && double.IsFinite(time) ? time : curves.Window.From;

    internal static Figure Build(CaseCurves curves, ScenarioScales scales, SideViewScale view, Wording wording, string name)
    {
        var run = curves.Run;
        var rigging = run[MeasureIds.RiggingPointForce];
        var load = run[MeasureIds.LoadLegTension];
        var peak = PeakTime(curves);
        var lowest = curves.Run[MeasureIds.Room].Time is { } low && double.IsFinite(low) ? Math.Clamp(low, curves.Window.From, curves.Window.To) : curves.Window.To;
        return new Figure
        {
            FileName = $"{name}-side-view.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: " + (run.End.CutsShort && wording.Ending(run).Length > 0
                ? $"{Subject(run)}{wording.Ending(run)}; until then {wording.WithSpread(curves.Result, rigging.Id, "at the rigging point")}"
                : $"the load leg pulls {wording.Value(load)}, the rigging point carries {wording.WithSpread(curves.Result, rigging.Id)}"),
            Subtitle = wording.Subtitle(curves.Result, "True to scale, the spar's bend too."),
            Footer = wording.Footer(),
            Height = 1200,
            Panels = [Fall(curves, scales, view, peak, lowest), AtPeak(curves, scales, view, wording, peak)],
        };
    }

    private static string Subject(DropRun run) => run.End.Kind is EndKind.Ground or EndKind.Obstacle ? "the piece " : "";

    private static Panel Fall(CaseCurves curves, ScenarioScales scales, SideViewScale view, double peak, double lowest)
    {
        var f = scales.LengthFactor;
        var start = Math.Max(curves.Traces.StartTime, -0.3);

        // What was cut short is shown to its end: the place of the impact is the finding.
        var end = curves.Run.End.CutsShort ? Math.Min(curves.Window.To, curves.Traces.EndTime) : Math.Max(Math.Min(lowest, peak + 0.3), peak);
        var step = NiceScale.Step(end - start, MostOutlines - 2);
        var times = new List<double>();
        for (var k = (int)Math.Ceiling(start / step); k * step <= end + 1e-9; k++)
        {
            times.Add(k * step);
        }

        if (curves.Run.End.CutsShort)
        {
            // The last outline lies where the piece struck; one that would hide beside it gives way.
            times.RemoveAll(t => end - t < step / 10);
            times.Add(end);
        }

        var shapes = Site(curves, view, f);
        var labels = new List<Label>();
        shapes.AddRange(Spar(curves.Traces.SceneAt(start), f, "#F4F1EC", new Stroke(Palette.Quiet, 1.2)));
        var (bentAt, _) = curves.Extreme("tip_deflection_m", curves.Window);
        shapes.AddRange(Spar(curves.Traces.SceneAt(bentAt), f, "", new Stroke(Palette.Spar, 2.6)));
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
            var corner = scene.Piece.MaxBy(p => p.X);
            labels.Add(new Label($"rope taut, {Format.Time(at)}", corner.X * f, corner.Z * f, Palette.Ink, Toward.Right, true));
        }
        else
        {
            dots.AddRange(Marks(curves.Traces.SceneAt(end), f));
        }

        labels.AddRange(Names(curves, curves.Traces.SceneAt(start), f));
        return Frame(view.Whole, f, new Place(0, 0, WholeWidth, 1), $"The piece every {Format.Time(step)}, later is darker") with
        {
            Shapes = shapes,
            Curves = [.. Hatching(view.Whole, f), .. lines, .. ScaleBar(view.Whole with { ZMax = view.Whole.ZMax - 0.2 }, scales)],
            Dots = dots,
            Labels = labels,
            Texts = [ScaleWords(view.Whole with { ZMax = view.Whole.ZMax - 0.2 }, scales), .. ObstacleNames(curves, f)],
        };
    }

    private static Panel AtPeak(CaseCurves curves, ScenarioScales scales, SideViewScale view, Wording wording, double peak)
    {
        var f = scales.LengthFactor;
        var scene = curves.Traces.SceneAt(peak);
        var close = view.CloseAround(scene.RiggingPoint);
        var shapes = Site(curves, view, f);
        var (bentAt, _) = curves.Extreme("tip_deflection_m", curves.Window);
        var bent = curves.Traces.SceneAt(bentAt);
        shapes.AddRange(Spar(curves.Traces.SceneAt(curves.Traces.StartTime), f, "#F4F1EC", new Stroke(Palette.Quiet, 1)));
        shapes.AddRange(Spar(bent, f, "", new Stroke(Palette.Spar, 3.4)));
        shapes.Add(new Shape("piece", Points(scene.Piece, f), "#E3F1FA", new Stroke(Palette.Piece, 3)));
        var side = SparPoint(bent, close.ZMin + (0.3 * (close.ZMax - close.ZMin)), f);
        var labels = new List<Label>
        {
            new($"spar bent furthest (bold)\nat {Format.Time(bentAt)}: {wording.Value(curves.Run[MeasureIds.TipDeflection])} at the top", side.X, side.Y, Palette.SparText, Toward.Right),
        };
        var arrows = new List<Arrow>();
        var ring = scene.RiggingPoint;

        void Pull(string words, double x, double z, string colour, string text, double width, Toward toward)
        {
            var size = double.Hypot(x, z);
            if (size < 0.02 * view.NewtonsPerMetre)
            {
                return;
            }

            var (tipX, tipZ) = (ring.X + (x / view.NewtonsPerMetre), ring.Z + (z / view.NewtonsPerMetre));
            arrows.Add(new Arrow(words, ring.X * f, ring.Z * f, tipX * f, tipZ * f, new Stroke(colour, size < ShortArrow * view.NewtonsPerMetre ? 2 : width)));
            labels.Add(new Label($"{words} {Format.Quantity(size, "N", scales.Units)}", tipX * f, tipZ * f, text, toward, true));
        }

        var (loadX, loadZ) = Unit(ring, scene.Hitch);
        var (groundX, groundZ) = Unit(ring, scene.Device);
        Pull("rigging point", scene.RiggingForceX, scene.RiggingForceZ, Palette.RiggingPoint, Palette.Ink, 4, Toward.Right);
        Pull("load leg", loadX * scene.LoadLegTension, loadZ * scene.LoadLegTension, Palette.LoadLeg, Palette.LoadLeg, 6, Toward.Right);
        Pull("ground leg", groundX * scene.GroundLegTension, groundZ * scene.GroundLegTension, Palette.GroundLeg, Palette.GroundLegText, 6, Toward.Left);
        labels.AddRange(Names(curves, scene, f).Where(l => l.Y > close.ZMin * f));
        if (scene.CentreOfGravity.Z > close.ZMin)
        {
            labels.Add(new Label($"piece at {Format.Time(scene.Time)}", scene.Piece.Max(p => p.X) * f, scene.CentreOfGravity.Z * f, Palette.PieceText, Toward.Right));
        }

        // The force scale is drawn as long as its arrow would be in the picture.
        var (right, high) = ((close.XMax - (0.02 * (close.XMax - close.XMin))) * f, (close.ZMax - 0.1) * f);
        var (from, to, z) = (right - f, right, high);
        return Frame(close, f, new Place(WholeWidth, 0, 1 - WholeWidth, 1), $"Closer, at the largest force, {Format.Time(scene.Time)}: what pulls on the rigging point") with
        {
            Shapes = shapes,
            Curves = [.. Hatching(view.Whole, f), .. Legs(scene, f, 2), .. ScaleBar(close with { ZMax = close.ZMax - 0.3 }, scales)],
            Dots = [.. Marks(scene, f)],
            Labels = labels,
            Arrows = [.. arrows, new Arrow("force scale", from, z, to, z, new Stroke(Palette.Ink, 4))],
            Texts =
            [
                new Text(Format.Quantity(view.NewtonsPerMetre, "N", scales.Units), from - (0.06 * f), z, Palette.Ink, Grip.Right),
                ScaleWords(close with { ZMax = close.ZMax - 0.3 }, scales),
                .. ObstacleNames(curves, f).Where(t => t.Y > close.ZMin * f),
            ],
        };
    }

    private static Panel Frame(Yard yard, double f, Place place, string heading) => new()
    {
        Place = place,
        Heading = heading,
        X = new Axis("", "", yard.XMin * f, yard.XMax * f, 0, false),
        Y = new Axis("", "", yard.ZMin * f, yard.ZMax * f, 0, false),
        EqualScale = true,
    };

    private static List<Shape> Site(CaseCurves curves, SideViewScale view, double f)
    {
        var far = 10 * (view.Whole.ZMax + view.Whole.XMax - view.Whole.XMin);
        var shapes = new List<Shape> { new("ground", HeightsChart.Box(-far * f, far * f, view.Whole.ZMin * f, 0), Palette.GroundFill, new Stroke(Palette.Ground, 2)) };
        shapes.AddRange(curves.Input.Site.Obstacles.Select(o => new Shape(o.Name, HeightsChart.Box(o.XFrom * f, o.XTo * f, o.ZFrom * f, o.ZTo * f), Palette.ObstacleFill, new Stroke(Palette.Ground, 1.5))));
        return shapes;
    }

    private static IEnumerable<Text> ObstacleNames(CaseCurves curves, double f) =>
        curves.Input.Site.Obstacles.Select(o => new Text(o.Name, (o.XFrom + o.XTo) / 2 * f, (o.ZFrom + o.ZTo) / 2 * f, Palette.Ink, Grip.Middle));

    /// <summary>Short slanted strokes under the ground line.</summary>
    private static IEnumerable<Curve> Hatching(Yard whole, double f)
    {
        var depth = 0.022 * whole.ZMax;
        var far = 1.5 * (whole.ZMax + whole.XMax - whole.XMin);
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

    /// <summary>The right side of the spar at a height.</summary>
    private static (double X, double Y) SparPoint(DropScene scene, double height, double f)
    {
        var i = Enumerable.Range(0, scene.SparAxis.Count).MinBy(k => Math.Abs(scene.SparAxis[k].Z - height));
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

    private static IEnumerable<Curve> ScaleBar(Yard yard, ScenarioScales scales)
    {
        var (from, to, z) = Bar(yard, scales);
        var tick = 0.006 * (yard.ZMax - yard.ZMin) * scales.LengthFactor;
        return [new Curve("scale bar", [from, from, from, to, to, to], [z - tick, z + tick, z, z, z + tick, z - tick], new Stroke(Palette.Ink, 2.4))];
    }

    private static Text ScaleWords(Yard yard, ScenarioScales scales)
    {
        var (from, to, z) = Bar(yard, scales);
        var length = Math.Round(to - from).ToString(System.Globalization.CultureInfo.InvariantCulture);
        return new Text($"{length} {Units.Axis("m", scales.Units).Unit}", from - (0.06 * scales.LengthFactor), z, Palette.Ink, Grip.Right);
    }

    private static (double From, double To, double Z) Bar(Yard yard, ScenarioScales scales)
    {
        var f = scales.LengthFactor;
        var to = (yard.XMax - (0.02 * (yard.XMax - yard.XMin))) * f;
        return (to - BarLength(scales.Units), to, (yard.ZMax - 0.1) * f);
    }

    /// <summary>Length of the scale bar, m or ft.</summary>
    private static double BarLength(UnitSystem units) => units == UnitSystem.Us ? 3 : 1;

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
