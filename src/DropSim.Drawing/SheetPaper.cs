using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>Pages filled from the top down: text, rules and marks, and when to turn the page.</summary>
/// <param name="size">Size of the paper.</param>
/// <param name="document">Where to draw; null to find out only how many pages it takes.</param>
/// <param name="pages">Number of pages in all, for the page numbers.</param>
internal sealed class SheetPaper(PaperSize size, SKDocument? document, int pages)
{
    /// <summary>Size of every letter but headings, points: read at arm's length, outdoors.</summary>
    internal const float Letters = 11;

    /// <summary>Distance of two lines, points.</summary>
    internal const float Line = Letters * 1.27f;

    private const float Margin = 34;

    private SKCanvas? _canvas;

    /// <summary>Left edge of what is printed.</summary>
    internal static float Left => Margin;

    /// <summary>Width of what is printed.</summary>
    internal float Width => size.Width - (2 * Margin);

    /// <summary>The page at work, from 1; 0 before the first.</summary>
    internal int Page { get; private set; }

    /// <summary>Where the next thing goes.</summary>
    internal float Y { get; set; }

    /// <summary>True where nothing stands on the page yet.</summary>
    internal bool IsFresh => Page > 0 && Y <= Top + 0.01f;

    /// <summary>Height left on the page.</summary>
    internal float Room => size.Height - Margin - Y;

    /// <summary>Height of an empty page.</summary>
    internal float Whole => size.Height - Margin - Top;

    private static float Top => Margin + Line + 6;

    /// <summary>Begins a page with its running head.</summary>
    /// <param name="head">The running head, cut where it is too long.</param>
    internal void Begin(string head)
    {
        End();
        Page++;
        _canvas = document?.BeginPage(size.Width, size.Height);
        var number = FormattableString.Invariant($"page {Page} of {pages}");
        var width = (float)EmbeddedFontRenderContext.Measure(number, Letters, false);
        Text(number, Margin + Width - width, Margin, Letters, false);
        Text(SheetWords.Lines(head, Letters, false, Width - width - 20) is [var first, ..] ? first : "", Margin, Margin, Letters, false);
        Rule(Margin, Margin + Line + 1, Margin + Width, 0.6f);
        Y = Top;
    }

    /// <summary>Ends the page at work.</summary>
    internal void End()
    {
        if (_canvas is not null)
        {
            document!.EndPage();
            _canvas = null;
        }
    }

    internal void Text(string text, float x, float top, float letters, bool bold)
    {
        if (_canvas is not null && text.Length > 0)
        {
            EmbeddedFontRenderContext.Draw(_canvas, text, x, top, letters, bold);
        }
    }

    internal void Rule(float x1, float y, float x2, float width) => Stroke(x1, y, x2, y, width);

    internal void Stroke(float x1, float y1, float x2, float y2, float width)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true, StrokeWidth = width };
        _canvas?.DrawLine(x1, y1, x2, y2, paint);
    }

    /// <summary>A closed shape.</summary>
    /// <param name="points">Its corners.</param>
    /// <param name="fill">Colour.</param>
    /// <param name="outline">Width of its outline; 0 for none.</param>
    internal void Shape(IReadOnlyList<SKPoint> points, SKColor fill, float outline)
    {
        if (_canvas is null || points.Count < 3)
        {
            return;
        }

        using var path = new SKPath();
        path.AddPoly([.. points]);
        using var paint = new SKPaint { Color = fill, IsAntialias = true };
        _canvas.DrawPath(path, paint);
        if (outline > 0)
        {
            paint.Color = SKColors.Black;
            paint.Style = SKPaintStyle.Stroke;
            paint.StrokeWidth = outline;
            _canvas.DrawPath(path, paint);
        }
    }

    internal void Dot(float x, float y, float radius)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        _canvas?.DrawCircle(x, y, radius, paint);
    }

    internal void Box(float x, float y, float side)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true, StrokeWidth = 0.8f, Style = SKPaintStyle.Stroke };
        _canvas?.DrawRect(x, y, side, side, paint);
    }

    /// <summary>Draws inside a rectangle only.</summary>
    internal void Within(float left, float top, float right, float bottom, Action draw)
    {
        _canvas?.Save();
        _canvas?.ClipRect(new SKRect(left, top, right, bottom));
        draw();
        _canvas?.Restore();
    }
}
