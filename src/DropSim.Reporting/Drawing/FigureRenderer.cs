using DropSim.Reporting.Charts;
using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace DropSim.Reporting.Drawing;

/// <summary>Draws a figure: title, subtitle, panels, footer. Keeps nothing between calls, so that figures may be drawn on many threads.</summary>
internal static class FigureRenderer
{
    /// <summary>Smallest text, pixels: 11 pt on a slide 13.3 in wide.</summary>
    internal const double SmallText = 18;

    private const double TitleSize = 31;
    private const double SubtitleSize = 20;
    private const double SideMargin = 44;
    private const double TopMargin = 30;
    private const double BottomMargin = 18;
    private const double LineSpacing = 1.3;

    /// <summary>Low compression: the file is a little larger and written several times faster.</summary>
    private const int ZLibLevel = 3;

    /// <summary>The picture as the bytes of a PNG file.</summary>
    /// <param name="figure">What to draw.</param>
    internal static byte[] Png(Figure figure)
    {
        var height = (int)Math.Round(figure.Height);
        using var bitmap = new SKBitmap(new SKImageInfo(Figure.Width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.White);
            using var context = new EmbeddedFontRenderContext { SkCanvas = canvas, RenderTarget = RenderTarget.PixelGraphic, DpiScale = 1 };
            Draw(figure, context);
        }

        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Sub, ZLibLevel))
            ?? throw new InvalidOperationException($"The picture '{figure.FileName}' cannot be written as PNG.");
        return data.ToArray();
    }

    /// <summary>Breaks a text into lines no wider than a width; a single word that is wider stays whole.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Font size, pixels.</param>
    /// <param name="bold">True for bold.</param>
    /// <param name="width">Width, pixels.</param>
    internal static IReadOnlyList<string> Wrap(string text, double size, bool bold, double width)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && EmbeddedFontRenderContext.Measure(longer, size, bold) > width)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        if (line.Length > 0)
        {
            lines.Add(line);
        }

        return lines;
    }

    private static void Draw(Figure figure, IRenderContext context)
    {
        const double Width = Figure.Width - (2 * SideMargin);
        var y = Paragraph(context, figure.Title, TopMargin, TitleSize, true, Palette.Ink, Width);
        y = Paragraph(context, figure.Subtitle, y + 4, SubtitleSize, false, Palette.Quiet, Width);

        var footer = figure.Footer.SelectMany(f => Wrap(f, SmallText, false, Width)).ToArray();
        var footerTop = figure.Height - BottomMargin - (footer.Length * SmallText * LineSpacing);
        for (var i = 0; i < footer.Length; i++)
        {
            Words.Draw(context, footer[i], SideMargin, footerTop + (i * SmallText * LineSpacing), SmallText, false, Palette.Quiet, VerticalAlignment.Top);
        }

        var content = new PixelRect(SideMargin, y + 14, Width, footerTop - y - 30);
        foreach (var panel in figure.Panels)
        {
            var place = panel.Place;
            PanelPainter.Draw(panel, context, new PixelRect(
                content.Left + (place.Left * content.Width), content.Top + (place.Top * content.Height),
                place.Width * content.Width, place.Height * content.Height));
        }
    }

    private static double Paragraph(IRenderContext context, string text, double top, double size, bool bold, string colour, double width)
    {
        foreach (var line in Wrap(text, size, bold, width))
        {
            Words.Draw(context, line, SideMargin, top, size, bold, colour, VerticalAlignment.Top);
            top += size * LineSpacing;
        }

        return top;
    }
}

/// <summary>Text by the render context, with fewer parameters.</summary>
internal static class Words
{
    internal const double BoldWeight = 700;

    internal static void Draw(
        IRenderContext context, string text, double x, double y, double size, bool bold, string colour,
        VerticalAlignment vertical = VerticalAlignment.Middle, HorizontalAlignment horizontal = HorizontalAlignment.Left) =>
        context.DrawText(new ScreenPoint(x, y), text, OxyColor.Parse(colour), null, size, bold ? BoldWeight : FontWeights.Normal, 0, horizontal, vertical, null);
}
