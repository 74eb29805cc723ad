using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>How low the piece comes, and how much rope runs.</summary>
internal static class HeightsChart
{
    internal static Figure Build(CaseCurves curves, ScenarioScales scales, Wording wording, string name)
    {
        var run = curves.Run;
        var room = run[MeasureIds.Room];
        var rope = run[MeasureIds.RopeRun];
        var length = scales.LengthFactor;
        var ending = wording.Ending(run);
        var labels = new List<Label>();
        var arrows = new List<Arrow>();
        var dots = new List<Dot>();
        var lowest = room.Time is { } t && t >= scales.Clock.From && t <= scales.Clock.To ? t : curves.Least("lowest_point_m", scales.Clock);
        var bottom = curves.At("lowest_point_m", lowest) * length;
        var when = room.Time > scales.Clock.To ? $"{wording.Value(room)}, least at {Format.Time(room.Time.Value)}, after this picture" : wording.ValueAndTime(room);
        dots.Add(new Dot("lowest", lowest, bottom, Palette.Piece, 5, true));
        if (bottom > 0.04 * scales.Height.Max && curves.Input.Site.Obstacles.Count == 0)
        {
            arrows.Add(new Arrow("room", lowest, bottom, lowest, 0, new Stroke(Palette.Quiet, 1.6)));
        }

        var end = Math.Min(scales.Clock.To, curves.Traces.EndTime);
        var named = scales.Clock.From + (0.6 * (end - scales.Clock.From));
        labels.Add(new Label("lowest point of the piece", named, curves.At("lowest_point_m", named) * length, Palette.PieceText, Toward.Down));
        var earlier = scales.Clock.From + (0.42 * (end - scales.Clock.From));
        labels.Add(new Label("its centre of gravity", earlier, curves.At("piece_z_m", earlier) * length, Palette.PieceText, Toward.Up));
        labels.Add(new Label($"room left {when}" + (wording.Spread(curves.Result, room.Id) is { Length: > 0 } spread ? "\n" + spread : ""), lowest, bottom, Palette.Ink, Toward.DownRight, true));

        return new Figure
        {
            FileName = $"{name}-heights.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: " + (run.End.Kind is EndKind.Ground or EndKind.Obstacle
                ? $"the piece {ending}, {Format.Time(run.End.Time)} after the hinge breaks"
                : wording.WithSpread(curves.Result, room.Id, "of room left under the piece")) + (curves.Input.Catch.Kind == CatchKind.HardStop ? "; locked off, no rope runs" : $"; {wording.Value(rope)} of rope run"),
            Subtitle = wording.Subtitle(curves.Result),
            Footer = wording.Footer(),
            Height = 1000,
            Panels =
            [
                new Panel
                {
                    Place = new Place(0, 0, 1, 0.72),
                    X = scales.Time with { Shown = false },
                    Y = scales.Height,
                    Bands = Wording.Bands(curves, scales.Clock),
                    Ticks = wording.Ticks(curves, scales.Clock),
                    Shapes = [new Shape("ground", Box(scales.Clock.From, scales.Clock.To, scales.Height.Min, 0), Palette.GroundFill, new Stroke(Palette.Ground, 1.5))],
                    Levels = [.. curves.Input.Site.Obstacles.Select(o => new Level(o.ZTo * length, $"top of {o.Name}", new Stroke(Palette.Ground, 2, Dash.DashDot)))],
                    Curves =
                    [
                        new Curve("centre of gravity", curves.Time, curves.Column("piece_z_m", length), new Stroke(Palette.Piece, 2.4, Dash.Long)),
                        new Curve("lowest point", curves.Time, curves.Column("lowest_point_m", length), new Stroke(Palette.Piece, 3.6)),
                    ],
                    Arrows = arrows,
                    Dots = dots,
                    Labels = labels,
                    Texts = [new Text("ground", scales.Clock.From + (0.012 * (scales.Clock.To - scales.Clock.From)), scales.Height.Max * 0.028, Palette.Quiet, Grip.Left)],
                },
                new Panel
                {
                    Place = new Place(0, 0.72, 1, 0.28),
                    Heading = "Rope run through the device",
                    X = scales.Time,
                    Y = scales.Run,
                    Bands = [.. Wording.Bands(curves, scales.Clock).Select(b => b with { Name = "" })],
                    Curves = [new Curve("rope run", curves.Time, curves.Column("rope_run_m", length), new Stroke(Palette.GroundLeg, 3))],
                    Labels = [new Label($"{wording.Value(rope)} by the end", end, curves.At("rope_run_m", end) * length, Palette.GroundLegText, Toward.UpLeft)],
                },
            ],
        };
    }

    internal static IReadOnlyList<(double X, double Y)> Box(double x1, double x2, double y1, double y2) => [(x1, y1), (x2, y1), (x2, y2), (x1, y2)];
}
