using DropSim.Reporting.Dismantle;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>Lays a crew sheet out at one size of text, and draws it where there is a canvas.</summary>
/// <param name="sheet">The sheet.</param>
/// <param name="paper">The paper.</param>
/// <param name="size">Size of the text, points.</param>
/// <param name="canvas">Where to draw; null to find out only whether it fits.</param>
internal sealed class CrewSheetLayout(CrewSheet sheet, PaperSize paper, float size, SKCanvas? canvas)
{
    private const float Margin = 30;
    private const float Gap = 14;
    private const float LineFactor = 1.27f;

    /// <summary>Least gap between columns of the cut list, points.</summary>
    private const float ColumnGap = 5;

    /// <summary>Least length of a ruled line on which a name fits, points.</summary>
    private const float LeastBlank = 70;

    private float Line => size * LineFactor;

    private float Width => paper.Width - (2 * Margin);

    /// <summary>Draws or measures; true where everything fits the page and every cell its column.</summary>
    internal bool Run()
    {
        var y = Margin;
        y = Paragraph(sheet.Title, Margin, y, Width, size * 1.6f, true) + 1;
        foreach (var head in sheet.Head)
        {
            y = Paragraph(head, Margin, y, Width, size, false);
        }

        if (Table(y + 5) is not { } below)
        {
            return false;
        }

        y = below + 3;
        foreach (var note in sheet.Notes)
        {
            y = Paragraph(note, Margin, y, Width, size, false);
        }

        var foot = sheet.Foot.Sum(f => Wrapped(f, size, false, Width).Count * Line);
        var bottom = paper.Height - Margin - foot - 4;
        if (!Blocks(y + 6, bottom))
        {
            return false;
        }

        Rule(Margin, bottom, Margin + Width, 0.8f);
        y = bottom + 3;
        foreach (var line in sheet.Foot)
        {
            y = Paragraph(line, Margin, y, Width, size, false);
        }

        return true;
    }

    /// <summary>The cut list; the y below it, or null where even the smallest letters make it wider than the page.</summary>
    private float? Table(float top)
    {
        if (Letters() is not { } letters)
        {
            return null;
        }

        var line = letters * LineFactor;
        var natural = Natural(letters);
        var spare = (Width - natural.Sum()) / natural.Length;
        var lefts = new float[natural.Length];
        for (var i = 0; i < natural.Length; i++)
        {
            lefts[i] = i == 0 ? Margin : lefts[i - 1] + natural[i - 1] + spare;
            for (var k = 0; k < sheet.Columns[i].Heading.Count; k++)
            {
                Text(sheet.Columns[i].Heading[k], lefts[i], top + (k * line), letters, false);
            }
        }

        var y = top + (sheet.Columns.Max(c => c.Heading.Count) * line) + 3;
        Rule(Margin, y, Margin + Width, 1.2f);
        for (var r = 0; r < sheet.Rows.Count; r++)
        {
            for (var i = 0; i < lefts.Length; i++)
            {
                Text(sheet.Rows[r][i], lefts[i], y + 1.2f, letters, sheet.Columns[i].Strong);
            }

            y += line + 2.4f;
            Rule(Margin, y, Margin + Width, r == sheet.Rows.Count - 1 ? 1.2f : 0.35f);
        }

        return y;
    }

    /// <summary>The largest letters with which the cut list is no wider than the page; null where there are none.</summary>
    private float? Letters()
    {
        for (var letters = size; letters >= CrewSheetPdf.SmallestText; letters -= CrewSheetPdf.Step)
        {
            if (Natural(letters).Sum() <= Width)
            {
                return letters;
            }
        }

        return null;
    }

    /// <summary>Width of each column by its widest cell, with a gap.</summary>
    private float[] Natural(float letters) =>
    [
        .. sheet.Columns.Select((column, i) => ColumnGap + (float)Math.Max(
            column.Heading.Max(h => EmbeddedFontRenderContext.Measure(h, letters, false)),
            sheet.Rows.Max(r => EmbeddedFontRenderContext.Measure(r[i], letters, column.Strong)))),
    ];

    /// <summary>The lists in two columns, broken where the taller one is shortest; true where they fit.</summary>
    private bool Blocks(float top, float bottom)
    {
        var width = (Width - Gap) / 2;
        var heights = sheet.Blocks.Select(b => Block(b, 0, 0, width, false)).ToArray();
        var best = Enumerable.Range(1, heights.Length - 1).MinBy(i => Math.Max(heights[..i].Sum(), heights[i..].Sum()));
        if (Math.Max(heights[..best].Sum(), heights[best..].Sum()) > bottom - top)
        {
            return false;
        }

        for (int column = 0, i = 0; column < 2; column++)
        {
            // What is left over is shared out between the lists: ruled lines are easier to write on with room above.
            var (from, to) = column == 0 ? (0, best) : (best, heights.Length);
            var spare = Math.Min(10, (bottom - top - heights[from..to].Sum()) / (to - from));
            var y = top;
            for (i = from; i < to; i++)
            {
                Block(sheet.Blocks[i], Margin + (column * (width + Gap)), y, width, canvas is not null);
                y += heights[i] + spare;
            }
        }

        return true;
    }

    /// <summary>One list; its height.</summary>
    private float Block(SheetBlock block, float x, float top, float width, bool draw)
    {
        const float Indent = 11;
        var y = top;
        if (draw)
        {
            Text(block.Heading, x, y, size * 1.12f, true);
            Rule(x, y + (1.12f * Line) + 1, x + width, 0.8f);
        }

        y += (1.12f * Line) + 3;
        foreach (var line in block.Lines)
        {
            var wrapped = Wrapped(line.Words, size, false, width - Indent);
            if (draw)
            {
                Mark(line.Mark, x, y);
                for (var i = 0; i < wrapped.Count; i++)
                {
                    Text(wrapped[i], x + Indent, y + (i * Line), size, false);
                }
            }

            y += wrapped.Count * Line;
            if (line.Mark == SheetMark.Blank)
            {
                var end = Indent + (float)EmbeddedFontRenderContext.Measure(wrapped[^1], size, false) + 4;
                if (width - end < LeastBlank)
                {
                    end = Indent;
                    y += Line + 3;
                }

                if (draw)
                {
                    Rule(x + end, y - 1, x + width, 0.6f);
                }

                y += 4.5f;
            }
            else
            {
                y += 2.2f;
            }
        }

        return y + 6 - top;
    }

    private void Mark(SheetMark mark, float x, float y)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true, StrokeWidth = 0.8f, Style = mark == SheetMark.Box ? SKPaintStyle.Stroke : SKPaintStyle.Fill };
        if (mark == SheetMark.Box)
        {
            canvas?.DrawRect(x + 0.5f, y + (size * 0.28f), size * 0.72f, size * 0.72f, paint);
        }
        else if (mark == SheetMark.Plain)
        {
            canvas?.DrawCircle(x + 3, y + (size * 0.66f), 1.3f, paint);
        }
    }

    private float Paragraph(string text, float x, float y, float width, float letters, bool bold)
    {
        foreach (var line in Wrapped(text, letters, bold, width))
        {
            Text(line, x, y, letters, bold);
            y += letters * LineFactor;
        }

        return y;
    }

    private static IReadOnlyList<string> Wrapped(string text, float letters, bool bold, float width) => FigureRenderer.Wrap(text, letters, bold, width);

    private void Text(string text, float x, float top, float letters, bool bold)
    {
        if (canvas is not null && text.Length > 0)
        {
            EmbeddedFontRenderContext.Draw(canvas, text, x, top, letters, bold);
        }
    }

    private void Rule(float x1, float y, float x2, float width)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true, StrokeWidth = width };
        canvas?.DrawLine(x1, y, x2, y, paint);
    }
}
