using DropSim.Reporting.Dismantle;

namespace DropSim.Drawing;

/// <summary>A table of a crew sheet: cells wrap, rows stay whole where a page holds them, headings come again on every page.</summary>
/// <param name="table">The table.</param>
/// <param name="paper">The pages.</param>
/// <param name="turn">Turns the page.</param>
internal sealed class SheetTablePainter(SheetTable table, SheetPaper paper, Action turn)
{
    private const float HeadingLetters = 13;
    private const float ColumnGap = 8;
    private const float RowSpace = 3;

    /// <summary>Least width of a column of sentences, points.</summary>
    private const float LeastWide = 150;

    private float[] _widths = [];

    internal void Run()
    {
        _widths = Widths();
        var first = table.Rows.Count > 0 ? Height(Cells(table.Rows[0])) : 0;
        if (HeadingHeight + first > paper.Room && !paper.IsFresh)
        {
            turn();
        }

        Heading(table.Heading);
        foreach (var row in table.Rows)
        {
            var cells = Cells(row);
            if (Height(cells) > paper.Room && Height(cells) <= paper.Whole - HeadingHeight)
            {
                Next();
            }

            // A row that is higher than a page goes on line by line.
            for (var line = 0; line < cells.Max(c => c.Count); line++)
            {
                if (paper.Room < SheetPaper.Line)
                {
                    Next();
                }

                Draw(cells.Select(c => line < c.Count ? c[line] : ""), i => table.Columns[i].Strong);
            }

            paper.Y += RowSpace;
            paper.Rule(SheetPaper.Left, paper.Y - (RowSpace / 2), SheetPaper.Left + paper.Width, ReferenceEquals(row, table.Rows[^1]) ? 1.2f : 0.35f);
        }
    }

    private float HeadingHeight => (HeadingLetters * 1.4f) + (HeadingLines * SheetPaper.Line) + 6;

    private int HeadingLines => table.Columns.Select((c, i) => SheetWords.Lines(c.Heading, SheetPaper.Letters, false, _widths[i]).Count).Max();

    private void Next()
    {
        turn();
        Heading(table.Heading + " (goes on)");
    }

    private void Heading(string words)
    {
        paper.Text(words, SheetPaper.Left, paper.Y, HeadingLetters, true);
        paper.Y += HeadingLetters * 1.4f;
        var lines = table.Columns.Select((c, i) => SheetWords.Lines(c.Heading, SheetPaper.Letters, false, _widths[i])).ToArray();
        for (var k = 0; k < HeadingLines; k++)
        {
            Draw(lines.Select(l => k < l.Count ? l[k] : ""), _ => false);
        }

        paper.Y += 2;
        paper.Rule(SheetPaper.Left, paper.Y, SheetPaper.Left + paper.Width, 1.2f);
        paper.Y += 2;
    }

    private void Draw(IEnumerable<string> cells, Func<int, bool> bold)
    {
        var x = SheetPaper.Left;
        foreach (var (i, words) in cells.Index())
        {
            paper.Text(words, x, paper.Y, SheetPaper.Letters, bold(i));
            x += _widths[i] + ColumnGap;
        }

        paper.Y += SheetPaper.Line;
    }

    private IReadOnlyList<string>[] Cells(SheetRow row) =>
        [.. row.Cells.Select((c, i) => SheetWords.Lines(c, SheetPaper.Letters, table.Columns[i].Strong, _widths[i]))];

    private static float Height(IReadOnlyList<string>[] cells) => (Math.Max(1, cells.Max(c => c.Count)) * SheetPaper.Line) + RowSpace;

    /// <summary>Narrow columns as wide as their words; what is left goes to the columns of sentences, or is shared out.</summary>
    private float[] Widths()
    {
        float Widest(int i, Func<string, float, bool, float> of) => Math.Max(
            of(table.Columns[i].Heading, SheetPaper.Letters, false),
            table.Rows.Select(r => of(r.Cells[i], SheetPaper.Letters, table.Columns[i].Strong)).DefaultIfEmpty(0).Max());

        var count = table.Columns.Count;
        var room = paper.Width - ((count - 1) * ColumnGap);
        var wide = table.Columns.Count(c => c.Wide);
        var most = Enumerable.Range(0, count).Select(i => table.Columns[i].Wide ? 0 : Widest(i, SheetWords.Natural)).ToArray();
        var least = Enumerable.Range(0, count).Select(i => table.Columns[i].Wide ? 0 : Math.Min(Widest(i, SheetWords.Longest), room / 4)).ToArray();
        var left = room - (wide * LeastWide);

        // Cells of several words wrap where the columns are too many: every column gives way from its full width towards its longest word.
        var (sumMost, sumLeast) = (most.Sum(), least.Sum());
        var give = sumMost <= left || sumMost <= sumLeast ? 0 : Math.Min(1, (sumMost - left) / (sumMost - sumLeast));
        var widths = most.Zip(least, (m, l) => m - (give * (m - l))).ToArray();
        var over = Math.Min(1, left / Math.Max(1, widths.Sum()));
        widths = [.. widths.Select(w => w * over)];
        var spare = room - widths.Sum();
        return [.. widths.Select((w, i) => table.Columns[i].Wide ? spare / wide : w + (wide == 0 ? spare / count : 0))];
    }
}
