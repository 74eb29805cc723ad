using DropSim.Reporting.Dismantle;

namespace DropSim.Drawing;

/// <summary>Lists of a crew sheet in two columns: a list stays whole, and what does not fit goes to the next page.</summary>
/// <param name="blocks">The lists in reading order.</param>
/// <param name="paper">The pages.</param>
/// <param name="turn">Turns the page.</param>
internal sealed class SheetListsPainter(IReadOnlyList<SheetBlock> blocks, SheetPaper paper, Action turn)
{
    private const float Between = 18;
    private const float Indent = 13;
    private const float HeadingLetters = 12.5f;

    /// <summary>Least length of a ruled line on which a name fits, points.</summary>
    private const float LeastBlank = 80;

    /// <summary>Height of a ruled line: people write larger than print.</summary>
    private const float BlankSpace = 7;

    private float Column => (paper.Width - Between) / 2;

    internal void Run()
    {
        var rest = blocks.ToList();
        while (rest.Count > 0)
        {
            if (Balanced(rest) is { } split)
            {
                Draw(rest.GetRange(0, split), rest.GetRange(split, rest.Count - split));
                return;
            }

            var left = Take(rest);
            if (left.Count == 0)
            {
                if (paper.IsFresh)
                {
                    // A list that no page holds: drawn over the edge rather than not at all. Ours have a few lines.
                    left.Add(rest[0]);
                    rest.RemoveAt(0);
                }
                else
                {
                    turn();
                    continue;
                }
            }

            Draw(left, Take(rest));
            turn();
        }
    }

    /// <summary>Where to break so that the taller column is shortest; null where that does not fit the page.</summary>
    private int? Balanced(List<SheetBlock> rest)
    {
        var heights = rest.Select(b => Block(b, 0, 0, false)).ToArray();
        var best = Enumerable.Range(1, heights.Length).MinBy(Taller);
        return Taller(best) <= paper.Room ? best : null;

        float Taller(int i) => Math.Max(heights[..i].Sum(), heights[i..].Sum());
    }

    private List<SheetBlock> Take(List<SheetBlock> rest)
    {
        var taken = new List<SheetBlock>();
        for (float used = 0; rest.Count > 0; rest.RemoveAt(0))
        {
            used += Block(rest[0], 0, 0, false);
            if (used > paper.Room)
            {
                break;
            }

            taken.Add(rest[0]);
        }

        return taken;
    }

    private void Draw(List<SheetBlock> left, List<SheetBlock> right)
    {
        var (top, bottom) = (paper.Y, paper.Y);
        foreach (var (column, x) in new[] { (left, SheetPaper.Left), (right, SheetPaper.Left + Column + Between) })
        {
            var y = top;
            foreach (var block in column)
            {
                y += Block(block, x, y, true);
            }

            bottom = Math.Max(bottom, y);
        }

        paper.Y = bottom;
    }

    /// <summary>One list; its height.</summary>
    private float Block(SheetBlock block, float x, float top, bool draw)
    {
        var y = top;
        if (draw)
        {
            paper.Text(block.Heading, x, y, HeadingLetters, true);
            paper.Rule(x, y + (HeadingLetters * 1.3f) + 1, x + Column, 0.8f);
        }

        y += (HeadingLetters * 1.3f) + 4;
        foreach (var line in block.Lines)
        {
            y += Item(line, x, y, Column, draw, paper);
        }

        return y + 8 - top;
    }

    /// <summary>One line of a list; its height.</summary>
    internal static float Item(SheetLine line, float x, float top, float width, bool draw, SheetPaper paper)
    {
        var wrapped = SheetWords.Lines(line.Words, SheetPaper.Letters, false, width - Indent);
        if (draw)
        {
            if (line.Mark == SheetMark.Box)
            {
                paper.Box(x + 0.5f, top + 3, 8);
            }
            else if (line.Mark == SheetMark.Plain)
            {
                paper.Dot(x + 3, top + (SheetPaper.Letters * 0.66f), 1.5f);
            }

            for (var i = 0; i < wrapped.Count; i++)
            {
                paper.Text(wrapped[i], x + Indent, top + (i * SheetPaper.Line), SheetPaper.Letters, false);
            }
        }

        var y = top + (wrapped.Count * SheetPaper.Line);
        if (line.Mark != SheetMark.Blank)
        {
            return y + 3 - top;
        }

        var end = Indent + (wrapped.Count == 0 ? 0 : (float)EmbeddedFontRenderContext.Measure(wrapped[^1], SheetPaper.Letters, false)) + 4;
        if (width - end < LeastBlank)
        {
            end = Indent;
            y += SheetPaper.Line + 3;
        }

        if (draw)
        {
            paper.Rule(x + end, y - 1, x + width, 0.6f);
        }

        return y + BlankSpace - top;
    }
}
