using DropSim.Reporting.Dismantle;

namespace DropSim.Drawing;

/// <summary>Lays a crew sheet out from the top down and turns the page where something does not fit any more.</summary>
/// <param name="sheet">The sheet.</param>
/// <param name="paper">The pages.</param>
internal sealed class CrewSheetPages(CrewSheet sheet, SheetPaper paper)
{
    private const float TitleLetters = 12;
    private const float HeadlineLetters = 14;

    /// <summary>Space between two parts, points.</summary>
    private const float Gap = 9;

    internal void Run()
    {
        paper.Begin("Crew sheet");
        foreach (var sentence in sheet.Headline)
        {
            Paragraph(sentence, HeadlineLetters, true);
        }

        paper.Y += 3;
        Paragraph(sheet.Title, TitleLetters, true);
        foreach (var part in sheet.Parts)
        {
            switch (part)
            {
                case SheetText text:
                    Paragraph(text.Words, SheetPaper.Letters, text.Strong);
                    break;
                case SheetTable table:
                    paper.Y += Gap;
                    new SheetTablePainter(table, paper, Turn).Run();
                    paper.Y += 4;
                    break;
                case SheetSketch sketch:
                    paper.Y += Gap;
                    new SheetSketchPainter(sketch, paper, Turn).Run();
                    break;
                case SheetLists lists:
                    paper.Y += Gap;
                    new SheetListsPainter(lists.Blocks, paper, Turn).Run();
                    break;
            }
        }

        paper.End();
    }

    private void Turn() => paper.Begin(sheet.Title);

    private void Paragraph(string text, float letters, bool bold)
    {
        var line = letters * SheetPaper.Line / SheetPaper.Letters;
        foreach (var words in SheetWords.Lines(text, letters, bold, paper.Width))
        {
            if (paper.Room < line)
            {
                Turn();
            }

            paper.Text(words, SheetPaper.Left, paper.Y, letters, bold);
            paper.Y += line;
        }
    }
}
