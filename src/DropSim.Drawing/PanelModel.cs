using DropSim.Reporting.Charts;
using OxyPlot;
using OxyPlot.Annotations;
using OxyPlot.Axes;
using OxyPlot.Series;

namespace DropSim.Drawing;

/// <summary>A panel as a plot model: axes, areas, shapes, curves, arrows; no words but those of the axes.</summary>
internal static class PanelModel
{
    internal static PlotModel Build(Panel panel, PanelFrame frame)
    {
        var model = new PlotModel
        {
            Background = OxyColors.Transparent,
            Padding = new OxyThickness(0),
            PlotMargins = new OxyThickness(
                frame.Plot.Left - frame.Outer.Left, frame.Plot.Top - frame.Outer.Top, frame.Outer.Right - frame.Plot.Right, frame.Outer.Bottom - frame.Plot.Bottom),
            PlotAreaBorderThickness = new OxyThickness(0),
            IsLegendVisible = false,
        };
        model.Axes.Add(Axis(panel.X, AxisPosition.Bottom, frame.XMin, frame.XMax, panel.EqualScale));
        model.Axes.Add(Axis(panel.Y, AxisPosition.Left, frame.YMin, frame.YMax, panel.EqualScale));
        if (panel.Right is { } right)
        {
            var axis = Axis(new Reporting.Charts.Axis(right.Title, "", 0, 1, right.Step), AxisPosition.Right, frame.YMin / right.LeftPerUnit, frame.YMax / right.LeftPerUnit, false);
            axis.Key = "right";
            axis.MajorGridlineStyle = LineStyle.None;
            axis.ExtraGridlines = null;
            model.Axes.Add(axis);
        }

        if (panel.Field is { } field)
        {
            model.Annotations.Add(FieldImage.Of(field, frame));
        }

        foreach (var band in panel.Bands)
        {
            model.Annotations.Add(new RectangleAnnotation
            {
                MinimumX = Math.Max(band.From, frame.XMin),
                MaximumX = Math.Min(band.To, frame.XMax),
                MinimumY = frame.YMin,
                MaximumY = frame.YMax,
                Fill = OxyColor.Parse(band.Fill),
                Layer = AnnotationLayer.BelowAxes,
            });
        }

        foreach (var area in panel.Areas)
        {
            model.Series.Add(Filled(area, frame));
        }

        foreach (var tick in panel.Ticks.Where(t => t.At >= frame.XMin && t.At <= frame.XMax))
        {
            model.Annotations.Add(Line(LineAnnotationType.Vertical, tick.At, new Stroke(Palette.Event, tick.Strong ? 1.8 : 1), AnnotationLayer.BelowSeries));
        }

        foreach (var level in panel.Levels)
        {
            model.Annotations.Add(Line(LineAnnotationType.Horizontal, level.At, level.Stroke, AnnotationLayer.BelowSeries));
        }

        foreach (var shape in panel.Shapes)
        {
            var polygon = new PolygonAnnotation
            {
                Fill = shape.Fill.Length == 0 ? OxyColors.Transparent : OxyColor.Parse(shape.Fill),
                Stroke = shape.Stroke.Width > 0 ? OxyColor.Parse(shape.Stroke.Colour) : OxyColors.Transparent,
                StrokeThickness = shape.Stroke.Width,
                LineStyle = Style(shape.Stroke.Dash),
                Layer = AnnotationLayer.BelowSeries,
            };
            polygon.Points.AddRange(shape.Points.Select(p => new DataPoint(p.X, p.Y)));
            model.Annotations.Add(polygon);
        }

        foreach (var curve in panel.Curves)
        {
            var line = new LineSeries
            {
                Color = OxyColor.Parse(curve.Stroke.Colour),
                StrokeThickness = curve.Stroke.Width,
                LineStyle = Style(curve.Stroke.Dash),
                LineJoin = LineJoin.Round,
            };
            line.Points.AddRange(panel.EqualScale
                ? curve.X.Zip(curve.Y, (x, y) => new DataPoint(x, y))
                : Thinning.Thin(curve.X, curve.Y, frame.XMin, frame.XMax, frame.Plot.Width));
            model.Series.Add(line);
        }

        foreach (var arrow in panel.Arrows)
        {
            model.Annotations.Add(new ArrowAnnotation
            {
                StartPoint = new DataPoint(arrow.X, arrow.Y),
                EndPoint = new DataPoint(arrow.ToX, arrow.ToY),
                Color = OxyColor.Parse(arrow.Stroke.Colour),
                StrokeThickness = arrow.Stroke.Width,
                LineStyle = Style(arrow.Stroke.Dash),
                HeadLength = 4.5,
                HeadWidth = 1.9,
                Layer = AnnotationLayer.AboveSeries,
            });
        }

        foreach (var dot in panel.Dots)
        {
            model.Annotations.Add(new PointAnnotation
            {
                X = dot.X,
                Y = dot.Y,
                Size = dot.Radius,
                Shape = dot.Sign switch { Sign.Cross => MarkerType.Cross, Sign.Triangle => MarkerType.Triangle, _ => MarkerType.Circle },
                Fill = dot.Hollow ? OxyColors.White : OxyColor.Parse(dot.Colour),
                Stroke = OxyColor.Parse(dot.Colour),
                StrokeThickness = 2,
                Layer = AnnotationLayer.AboveSeries,
            });
        }

        return model;
    }

    private static LinearAxis Axis(Reporting.Charts.Axis axis, AxisPosition position, double min, double max, bool equal)
    {
        var shown = axis.Shown;
        return new LinearAxis
        {
            Position = position,
            Minimum = min,
            Maximum = max,
            MajorStep = axis.Step > 0 ? axis.Step : max - min,
            MinorTickSize = 0,
            MajorTickSize = 0,
            FontSize = FigureRenderer.SmallText,
            TextColor = shown ? OxyColor.Parse(Palette.Quiet) : OxyColors.Transparent,
            AxislineStyle = LineStyle.None,
            TicklineColor = OxyColors.Transparent,
            MajorGridlineStyle = equal || axis.Step <= 0 ? LineStyle.None : LineStyle.Solid,
            MajorGridlineColor = OxyColor.Parse(Palette.Grid),
            MajorGridlineThickness = 1,
            ExtraGridlines = equal || !shown || position == AxisPosition.Right ? null : [0.0],
            ExtraGridlineColor = OxyColor.Parse("#B8B8B8"),
            ExtraGridlineThickness = 1.2,
            AxisTickToLabelDistance = 6,
        };
    }

    private static AreaSeries Filled(Area area, PanelFrame frame)
    {
        var series = new AreaSeries { Fill = OxyColor.Parse(area.Fill), Color = OxyColors.White, Color2 = OxyColors.Transparent, StrokeThickness = 1.6 };
        series.Points.AddRange(Thinning.Thin(area.X, area.Upper, frame.XMin, frame.XMax, frame.Plot.Width));
        series.Points2.AddRange(Thinning.Thin(area.X, area.Lower, frame.XMin, frame.XMax, frame.Plot.Width));
        return series;
    }

    private static LineAnnotation Line(LineAnnotationType type, double at, Stroke stroke, AnnotationLayer layer) => new()
    {
        Type = type,
        X = at,
        Y = at,
        Color = OxyColor.Parse(stroke.Colour),
        StrokeThickness = stroke.Width,
        LineStyle = Style(stroke.Dash),
        Layer = layer,
    };

    private static LineStyle Style(Dash dash) => dash switch
    {
        Dash.Long => LineStyle.Dash,
        Dash.Dots => LineStyle.Dot,
        Dash.DashDot => LineStyle.DashDot,
        _ => LineStyle.Solid,
    };
}
