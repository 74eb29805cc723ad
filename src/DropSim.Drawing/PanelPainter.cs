using DropSim.Reporting.Charts;
using OxyPlot;

namespace DropSim.Drawing;

/// <summary>Where a panel's plot lies and where its labels went, pixels.</summary>
internal sealed record PanelLayout(PixelRect Plot, IReadOnlyList<Placement> Labels);

/// <summary>Draws a panel: the plot model first, then the words, each where nothing is covered.</summary>
internal static class PanelPainter
{
    private const double HeadingSize = 21;
    private const double LabelSize = 19;
    private const double LineHeight = 24;
    private const double BandNameTop = 16;

    /// <summary>A leader ends this far from its words, pixels.</summary>
    private const double LeaderGap = 6;

    /// <summary>Draws a panel into its room.</summary>
    internal static PanelLayout Draw(Panel panel, IRenderContext context, PixelRect outer)
    {
        var frame = new PanelFrame(panel, outer);
        var model = PanelModel.Build(panel, frame);
        ((IPlotModel)model).Update(true);
        ((IPlotModel)model).Render(context, new OxyRect(outer.Left, outer.Top, outer.Width, outer.Height));

        // The library draws its own faults into the picture instead of throwing them.
        if (model.GetLastPlotException() is { } fault)
        {
            throw new InvalidOperationException($"The panel '{panel.Heading}' cannot be drawn.", fault);
        }

        AxisTitles(panel, context, frame);

        if (panel.Heading.Length > 0)
        {
            Words.Draw(context, panel.Heading, frame.Plot.Left, outer.Top + 2, HeadingSize, true, Palette.Ink, VerticalAlignment.Top);
        }

        var placer = new LabelPlacer(frame.Plot);
        BlockLines(panel, frame, placer);
        Ticks(panel, context, frame);
        Bands(panel, context, frame, placer);
        // Names that fit inside come first; the others find room beside them.
        foreach (var area in panel.Areas.Where(a => !NameInside(a, context, frame, placer)).ToArray())
        {
            NameBeside(area, panel, context, frame, placer);
        }

        foreach (var level in panel.Levels.Where(l => l.Words.Length > 0))
        {
            var width = EmbeddedFontRenderContext.Measure(level.Words, FigureRenderer.SmallText, false);
            var y = frame.Y(level.At) - 13;
            var x = frame.Plot.Left + 10;
            Interrupt(panel, context, frame, new PixelRect(x, y - 11, width, 22));
            Words.Draw(context, level.Words, x, y, FigureRenderer.SmallText, false, Palette.Quiet);
            placer.BlockWords(new PixelRect(x, y - 10, width, 20));
        }

        foreach (var text in panel.Texts)
        {
            FixedText(text, panel, context, frame, placer);
        }

        return new PanelLayout(frame.Plot, [.. panel.Labels.Select(l => Place(l, panel, context, frame, placer, panel.Field is not null))]);
    }

    private static void AxisTitles(Panel panel, IRenderContext context, PanelFrame frame)
    {
        const double TitleSize = 20;
        var ink = OxyColor.Parse(Palette.Quiet);

        void Draw(string text, double x, double y, double rotation, VerticalAlignment vertical)
        {
            if (text.Length > 0)
            {
                context.DrawText(new ScreenPoint(x, y), text, ink, null, TitleSize, FontWeights.Normal, rotation, HorizontalAlignment.Center, vertical, null);
            }
        }

        var middle = (frame.Plot.Top + frame.Plot.Bottom) / 2;
        Draw(panel.X.Shown ? Named(panel.X) : "", (frame.Plot.Left + frame.Plot.Right) / 2, frame.Outer.Bottom - 2, 0, VerticalAlignment.Bottom);
        Draw(panel.Y.Shown ? Named(panel.Y) : "", frame.Outer.Left + 2, middle, -90, VerticalAlignment.Top);
        Draw(panel.Right?.Title ?? "", frame.Outer.Right - 2, middle, -90, VerticalAlignment.Bottom);
    }

    private static string Named(Axis axis) => axis.Title.Length == 0 || axis.Unit.Length == 0 ? axis.Title : $"{axis.Title} ({axis.Unit})";

    private static void BlockLines(Panel panel, PanelFrame frame, LabelPlacer placer)
    {
        void Path(IEnumerable<(double X, double Y)> points, bool closed)
        {
            (double X, double Y)? first = null;
            var (px, py) = (double.NaN, double.NaN);
            foreach (var (x, y) in points)
            {
                var (nx, ny) = (frame.X(x), frame.Y(y));
                placer.BlockLine(px, py, nx, ny);
                first ??= (nx, ny);
                (px, py) = (nx, ny);
            }

            if (closed && first is { } f)
            {
                placer.BlockLine(px, py, f.X, f.Y);
            }
        }

        foreach (var curve in panel.Curves)
        {
            Path(panel.EqualScale
                ? curve.X.Zip(curve.Y)
                : Thinning.Thin(curve.X, curve.Y, frame.XMin, frame.XMax, frame.Plot.Width).Select(p => (p.X, p.Y)), false);
        }

        foreach (var shape in panel.Shapes)
        {
            Path(shape.Points, true);
        }

        foreach (var arrow in panel.Arrows)
        {
            Path([(arrow.X, arrow.Y), (arrow.ToX, arrow.ToY)], false);
        }

        foreach (var level in panel.Levels)
        {
            Path([(frame.XMin, level.At), (frame.XMax, level.At)], false);
        }

        foreach (var tick in panel.Ticks)
        {
            placer.BlockFaintLine(frame.X(tick.At), frame.Plot.Top, frame.X(tick.At), frame.Plot.Bottom);
        }

        foreach (var dot in panel.Dots)
        {
            var (x, y) = (frame.X(dot.X), frame.Y(dot.Y));
            placer.BlockLine(x - dot.Radius, y, x + dot.Radius, y);
        }
    }

    private static void Ticks(Panel panel, IRenderContext context, PanelFrame frame)
    {
        var ticks = panel.Ticks.Where(t => t.Name.Length > 0 && t.At >= frame.XMin && t.At <= frame.XMax).OrderBy(t => t.At).ToArray();
        var rows = TickRows.Assign(
            [.. ticks.Select(t => (frame.X(t.At), EmbeddedFontRenderContext.Measure(t.Name, FigureRenderer.SmallText, t.Strong)))], PanelFrame.TickRowCount, frame.Outer.Right);
        var top = frame.Plot.Top - (PanelFrame.TickRowCount * PanelFrame.TickRowHeight) - 2;
        for (var i = 0; i < ticks.Length; i++)
        {
            if (rows[i].Row < 0)
            {
                continue;
            }

            var x = frame.X(ticks[i].At);
            var y = top + ((rows[i].Row + 0.5) * PanelFrame.TickRowHeight);
            var colour = ticks[i].Strong ? Palette.Ink : Palette.Quiet;
            context.DrawLine([new ScreenPoint(x, y - 9), new ScreenPoint(x, frame.Plot.Top)], OxyColor.Parse(Palette.Event), ticks[i].Strong ? 1.8 : 1, EdgeRenderingMode.PreferSharpness, null, LineJoin.Miter);
            Words.Draw(
                context, ticks[i].Name, rows[i].LeftOfTick ? x - TickRows.Gap : x + TickRows.Gap, y, FigureRenderer.SmallText, ticks[i].Strong, colour,
                VerticalAlignment.Middle, rows[i].LeftOfTick ? HorizontalAlignment.Right : HorizontalAlignment.Left);
        }
    }

    private static void Bands(Panel panel, IRenderContext context, PanelFrame frame, LabelPlacer placer)
    {
        foreach (var band in panel.Bands)
        {
            // Between the events, so that no line runs through the name.
            double[] cuts = [band.From, .. panel.Ticks.Select(t => t.At).Where(t => t > band.From && t < band.To).Order(), band.To];
            var widest = Enumerable.Range(0, cuts.Length - 1).MaxBy(i => cuts[i + 1] - cuts[i]);
            var from = Math.Max(frame.X(cuts[widest]), frame.Plot.Left);
            var to = Math.Min(frame.X(cuts[widest + 1]), frame.Plot.Right);
            if (BandName(band, to - from) is not { Length: > 0 } name)
            {
                continue;
            }

            var width = EmbeddedFontRenderContext.Measure(name, FigureRenderer.SmallText, false);
            var y = frame.Plot.Top + BandNameTop;
            Words.Draw(context, name, (from + to) / 2, y, FigureRenderer.SmallText, false, Palette.Quiet, VerticalAlignment.Middle, HorizontalAlignment.Center);
            placer.BlockWords(new PixelRect(((from + to) / 2) - (width / 2), y - 10, width, 20));
        }
    }

    /// <summary>The name of a band; its short one ("slack" for "rope slack") where the whole does not fit, "" where not even that does.</summary>
    /// <param name="band">The band.</param>
    /// <param name="room">Width of the band, pixels.</param>
    internal static string BandName(Band band, double room)
    {
        const double Beside = 12;
        bool Fits(string words) => EmbeddedFontRenderContext.Measure(words, FigureRenderer.SmallText, false) + Beside <= room;
        return Fits(band.Name) ? band.Name : band.Short.Length > 0 && Fits(band.Short) ? band.Short : "";
    }

    /// <summary>A name where the area is thickest over the name's width, in two lines where one does not fit; false where neither does.</summary>
    private static bool NameInside(Area area, IRenderContext context, PanelFrame frame, LabelPlacer placer)
    {
        var middle = area.Name.Length / 2;
        var gap = Enumerable.Range(0, area.Name.Length).Where(i => area.Name[i] == ' ').OrderBy(i => Math.Abs(i - middle)).FirstOrDefault(-1);
        string[][] tries = gap < 0 ? [[area.Name]] : [[area.Name], [area.Name[..gap], area.Name[(gap + 1)..]]];
        foreach (var lines in tries)
        {
            var width = lines.Max(l => EmbeddedFontRenderContext.Measure(l, LabelSize, false)) + 12;
            var (x, y, thickness) = Thickest(area, frame, width);
            if (thickness >= lines.Length * (LineHeight - 1))
            {
                for (var i = 0; i < lines.Length; i++)
                {
                    Words.Draw(context, lines[i], x, y + ((i - ((lines.Length - 1) / 2.0)) * LineHeight), LabelSize, false, Readable(area.Fill), VerticalAlignment.Middle, HorizontalAlignment.Center);
                }

                placer.BlockWords(new PixelRect(x - (width / 2), y - (lines.Length * LineHeight / 2), width, lines.Length * LineHeight));
                return true;
            }
        }

        return false;
    }

    /// <summary>A name with a leader to the thickest place; none for an area that is hardly seen.</summary>
    private static void NameBeside(Area area, Panel panel, IRenderContext context, PanelFrame frame, LabelPlacer placer)
    {
        const double Thin = 12;
        var (atX, atY, thickness) = Thickest(area, frame, 6);
        if (thickness < Thin)
        {
            return;
        }

        var tag = new Label(
            area.Name, frame.XMin + ((atX - frame.Plot.Left) / frame.Plot.Width * (frame.XMax - frame.XMin)),
            frame.YMin + ((frame.Plot.Bottom - atY) / frame.Plot.Height * (frame.YMax - frame.YMin)), Palette.Ink, Toward.UpRight);
        Place(tag, panel, context, frame, placer, true);
    }

    /// <summary>The place where a name of a width has most room, pixels.</summary>
    private static (double X, double Y, double Thickness) Thickest(Area area, PanelFrame frame, double width)
    {
        var best = double.NegativeInfinity;
        var (bestX, bestY) = (frame.Plot.Left, frame.Plot.Bottom);
        for (var x = frame.Plot.Left + (width / 2); x <= frame.Plot.Right - (width / 2); x += 8)
        {
            // Pixels downward: the upper edge must stay above the name over its whole width.
            var (above, below) = (double.NegativeInfinity, double.PositiveInfinity);
            for (var at = x - (width / 2); at <= x + (width / 2); at += 4)
            {
                var value = frame.XMin + ((at - frame.Plot.Left) / frame.Plot.Width * (frame.XMax - frame.XMin));
                var i = Array.BinarySearch(area.X, value);
                i = Math.Clamp(i < 0 ? ~i : i, 0, area.X.Length - 1);
                var beyond = value > area.X[^1];
                above = Math.Max(above, beyond ? frame.Plot.Bottom : frame.Y(area.Upper[i]));
                below = Math.Min(below, beyond ? frame.Plot.Top : frame.Y(area.Lower[i]));
            }

            if (below - above > best)
            {
                (best, bestX, bestY) = (below - above, x, (above + below) / 2);
            }
        }

        return (bestX, bestY, best);
    }

    /// <summary>Black or white words, whichever stands out more.</summary>
    private static string Readable(string fill)
    {
        var c = OxyColor.Parse(fill);
        return ((0.299 * c.R) + (0.587 * c.G) + (0.114 * c.B)) > 140 ? Palette.Ink : "#FFFFFF";
    }

    private static void FixedText(Text text, Panel panel, IRenderContext context, PanelFrame frame, LabelPlacer placer)
    {
        var width = EmbeddedFontRenderContext.Measure(text.Words, LabelSize, text.Bold);
        var (x, y) = (frame.X(text.X), frame.Y(text.Y));
        var alignment = text.Grip switch
        {
            Grip.Left => HorizontalAlignment.Left,
            Grip.Right => HorizontalAlignment.Right,
            _ => HorizontalAlignment.Center,
        };
        var left = text.Grip switch { Grip.Left => x, Grip.Right => x - width, _ => x - (width / 2) };
        var box = new PixelRect(left, y - (LineHeight / 2), width, LineHeight);
        Interrupt(panel, context, frame, box);
        Words.Draw(context, text.Words, x, y, LabelSize, text.Bold, text.Colour, VerticalAlignment.Middle, alignment);
        placer.BlockWords(box);
    }

    private static Placement Place(Label label, Panel panel, IRenderContext context, PanelFrame frame, LabelPlacer placer, bool onFill = false)
    {
        var lines = label.Words.Split('\n');
        var width = lines.Max(l => EmbeddedFontRenderContext.Measure(l, LabelSize, label.Bold));
        var height = lines.Length * LineHeight;
        var (x, y) = (Math.Clamp(frame.X(label.X), frame.Plot.Left, frame.Plot.Right), Math.Clamp(frame.Y(label.Y), frame.Plot.Top, frame.Plot.Bottom));
        var (dx, dy) = Direction(label.Toward);
        var placement = placer.Take(x, y, width, height, dx, dy);
        var box = placement.Box;
        if (label.Leader && placement.Distance > 2 * LeaderGap)
        {
            var share = 1 - (LeaderGap / placement.Distance);
            var end = new ScreenPoint(x + (share * (placement.TipX - x)), y + (share * (placement.TipY - y)));
            context.DrawLine([new ScreenPoint(x, y), end], OxyColor.Parse(label.Colour), 1, EdgeRenderingMode.Adaptive, null, LineJoin.Miter);
            placer.BlockLine(x, y, end.X, end.Y);
        }

        Interrupt(panel, context, frame, box);
        if (placement.Crowded || onFill)
        {
            context.DrawRectangle(new OxyRect(box.Left - 3, box.Top, box.Width + 6, box.Height), OxyColor.FromAColor(225, OxyColors.White), OxyColors.Undefined, 0, EdgeRenderingMode.Adaptive);
        }

        for (var i = 0; i < lines.Length; i++)
        {
            Words.Draw(context, lines[i], box.Left, box.Top + ((i + 0.5) * LineHeight), LabelSize, label.Bold, label.Colour);
        }

        return placement;
    }

    /// <summary>Takes the thin line of an event away behind words.</summary>
    private static void Interrupt(Panel panel, IRenderContext context, PanelFrame frame, PixelRect box)
    {
        const double Half = 3;
        foreach (var tick in panel.Ticks.Where(t => frame.X(t.At) > box.Left - Half && frame.X(t.At) < box.Right + Half))
        {
            var x = frame.X(tick.At);
            var before = panel.Bands.FirstOrDefault(b => b.From < tick.At && b.To >= tick.At)?.Fill ?? "#FFFFFF";
            var after = panel.Bands.FirstOrDefault(b => b.From <= tick.At && b.To > tick.At)?.Fill ?? "#FFFFFF";
            context.DrawRectangle(new OxyRect(x - Half, box.Top, Half, box.Height), OxyColor.Parse(before), OxyColors.Undefined, 0, EdgeRenderingMode.PreferSharpness);
            context.DrawRectangle(new OxyRect(x, box.Top, Half, box.Height), OxyColor.Parse(after), OxyColors.Undefined, 0, EdgeRenderingMode.PreferSharpness);
        }
    }

    private static (double X, double Y) Direction(Toward toward)
    {
        const double D = 0.7071067811865476;
        return toward switch
        {
            Toward.UpRight => (D, -D),
            Toward.Up => (0, -1),
            Toward.UpLeft => (-D, -D),
            Toward.Right => (1, 0),
            Toward.Left => (-1, 0),
            Toward.Down => (0, 1),
            Toward.DownRight => (D, D),
            _ => (-D, D),
        };
    }
}
