using System.Reflection;
using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>
/// Draws text in the font that this assembly carries, so that a chart looks the same on every machine, with or without fonts of its
/// own. The text members of the base class look for system fonts and need a text-shaping library; these two replace them.
/// </summary>
internal sealed class EmbeddedFontRenderContext : SkiaRenderContext, IRenderContext
{
    private const double BoldFrom = 600;

    private static readonly SKTypeface Regular = Load("Inter_400Regular.ttf");
    private static readonly SKTypeface Bold = Load("Inter_700Bold.ttf");

    /// <summary>Width of a line of text, pixels.</summary>
    /// <param name="text">One line.</param>
    /// <param name="size">Font size, pixels.</param>
    /// <param name="bold">True for bold.</param>
    internal static double Measure(string text, double size, bool bold)
    {
        using var font = Font(size, bold);
        return font.MeasureText(text);
    }

    /// <summary>Draws one line of text in black, its upper edge at a height.</summary>
    /// <param name="canvas">Where to.</param>
    /// <param name="text">One line.</param>
    /// <param name="x">Left edge.</param>
    /// <param name="top">Upper edge of the line.</param>
    /// <param name="size">Font size.</param>
    /// <param name="bold">True for bold.</param>
    internal static void Draw(SKCanvas canvas, string text, float x, float top, double size, bool bold)
    {
        using var font = Font(size, bold);
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        canvas.DrawText(text, x, top - font.Metrics.Ascent, font, paint);
    }

    void IRenderContext.DrawText(
        ScreenPoint p,
        string text,
        OxyColor fill,
        string? fontFamily,
        double fontSize,
        double fontWeight,
        double rotation,
        HorizontalAlignment horizontalAlignment,
        VerticalAlignment verticalAlignment,
        OxySize? maxSize)
    {
        if (string.IsNullOrEmpty(text) || !fill.IsVisible())
        {
            return;
        }

        using var font = Font(fontSize, fontWeight >= BoldFrom);
        using var paint = new SKPaint { Color = fill.ToSKColor(), IsAntialias = true };
        var lines = text.Split('\n');
        var metrics = font.Metrics;
        var below = font.Spacing * (lines.Length - 1);
        var y = verticalAlignment switch
        {
            VerticalAlignment.Top => -metrics.Ascent,
            VerticalAlignment.Middle => -(metrics.Ascent + metrics.Descent + below) / 2,
            _ => -metrics.Descent - below,
        };
        using var restore = new SKAutoCanvasRestore(SkCanvas);
        SkCanvas.Translate((float)p.X, (float)p.Y);
        SkCanvas.RotateDegrees((float)rotation);
        foreach (var line in lines)
        {
            var width = font.MeasureText(line);
            var x = horizontalAlignment switch
            {
                HorizontalAlignment.Left => 0f,
                HorizontalAlignment.Center => -width / 2,
                _ => -width,
            };
            SkCanvas.DrawText(line, x, y, font, paint);
            y += font.Spacing;
        }
    }

    OxySize IRenderContext.MeasureText(string text, string? fontFamily, double fontSize, double fontWeight)
    {
        if (string.IsNullOrEmpty(text))
        {
            return OxySize.Empty;
        }

        using var font = Font(fontSize, fontWeight >= BoldFrom);
        var lines = text.Split('\n');
        return new OxySize(lines.Max(l => font.MeasureText(l)), font.Spacing * lines.Length);
    }

    private static SKFont Font(double size, bool bold) => new(bold ? Bold : Regular, (float)size)
    {
        Subpixel = true,
        Edging = SKFontEdging.Antialias,
        Hinting = SKFontHinting.None,
    };

    private static SKTypeface Load(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"No embedded font '{name}'.");
        using var data = SKData.Create(stream);
        return SKTypeface.FromData(data);
    }
}
