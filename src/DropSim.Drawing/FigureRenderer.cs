using DropSim.Reporting.Charts;
using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>Draws a figure: title, subtitle, panels, footer. Keeps nothing between calls, so that figures may be drawn on many threads.</summary>
internal static class FigureRenderer
{
    /// <summary>Smallest text, pixels: 11 pt on a slide 13.3 in wide.</summary>
    internal const double SmallText = 18;

    private const double TitleSize = 31;
    /// <summary>A title may shrink to this share to stay on one line.</summary>
    private const double SmallestTitle = 0.86;

    private const double SubtitleSize = 20;
    private const double SideMargin = 44;
    private const double TopMargin = 30;
    private const double BottomMargin = 18;
    private const double LineSpacing = 1.3;

    /// <summary>Low compression: the file is a little larger and written several times faster.</summary>
    private const int ZLibLevel = 3;

    /// <summary>The picture as the bytes of a PNG file.</summary>
    /// <param name="figure">What to draw.</param>
    internal static byte[] Png(Figure figure) => Render(figure).Png;

    /// <summary>The picture, and where the labels of each panel went.</summary>
    /// <param name="figure">What to draw.</param>
    internal static (byte[] Png, IReadOnlyList<PanelLayout> Panels) Render(Figure figure)
    {
        IReadOnlyList<PanelLayout> panels;
        var height = (int)Math.Round(figure.Height);
        using var bitmap = new SKBitmap(new SKImageInfo(Figure.Width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.White);
            using var context = new EmbeddedFontRenderContext { SkCanvas = canvas, RenderTarget = RenderTarget.PixelGraphic, DpiScale = 1 };
            panels = Draw(figure, context);
        }

        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Sub, ZLibLevel))
            ?? throw new InvalidOperationException($"The picture '{figure.FileName}' cannot be written as PNG.");
        return (data.ToArray(), panels);
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
        foreach (var word in Unbroken(text))
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

    /// <summary>Words, a number kept together with the unit that follows.</summary>
    private static IEnumerable<string> Unbroken(string text)
    {
        var held = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            held += word;
            if (char.IsAsciiDigit(word[^1]))
            {
                held += ' ';
                continue;
            }

            yield return held;
            held = "";
        }

        if (held.Length > 0)
        {
            yield return held.TrimEnd();
        }
    }

    /// <summary>Lines of about equal length: no word stands alone on the last one.</summary>
    private static IReadOnlyList<string> Balanced(string text, double size, double width)
    {
        var lines = Wrap(text, size, true, width);
        for (var narrower = width * 0.97; lines.Count > 1 && narrower > width / 2; narrower -= width * 0.03)
        {
            var tried = Wrap(text, size, true, narrower);
            if (tried.Count > lines.Count)
            {
                break;
            }

            lines = tried;
        }

        return lines;
    }

    private static List<PanelLayout> Draw(Figure figure, IRenderContext context)
    {
        const double Width = Figure.Width - (2 * SideMargin);
        var fit = Math.Clamp(Width / EmbeddedFontRenderContext.Measure(figure.Title, TitleSize, true), SmallestTitle, 1) * TitleSize;
        var oneLine = EmbeddedFontRenderContext.Measure(figure.Title, fit, true) <= Width;
        var y = Lines(context, oneLine ? [figure.Title] : Balanced(figure.Title, TitleSize, Width), TopMargin, oneLine ? fit : TitleSize, true, Palette.Ink);
        y = Lines(context, Wrap(figure.Subtitle, SubtitleSize, false, Width), y + 4, SubtitleSize, false, Palette.Quiet);

        var footer = figure.Footer.SelectMany(f => Wrap(f, SmallText, false, Width)).ToArray();
        var footerTop = figure.Height - BottomMargin - (footer.Length * SmallText * LineSpacing);
        for (var i = 0; i < footer.Length; i++)
        {
            Words.Draw(context, footer[i], SideMargin, footerTop + (i * SmallText * LineSpacing), SmallText, false, Palette.Quiet, VerticalAlignment.Top);
        }

        var content = new PixelRect(SideMargin, y + 14, Width, footerTop - y - 30);
        var layouts = new List<PanelLayout>();
        foreach (var panel in figure.Panels)
        {
            var place = panel.Place;
            layouts.Add(PanelPainter.Draw(panel, context, new PixelRect(
                content.Left + (place.Left * content.Width), content.Top + (place.Top * content.Height),
                place.Width * content.Width, place.Height * content.Height)));
        }

        return layouts;
    }

    private static double Lines(IRenderContext context, IReadOnlyList<string> lines, double top, double size, bool bold, string colour)
    {
        foreach (var line in lines)
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
