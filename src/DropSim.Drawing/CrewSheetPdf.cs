using DropSim.Reporting.Dismantle;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>A size of paper, points of 1/72 in.</summary>
internal readonly record struct PaperSize(string Name, float Width, float Height)
{
    public static PaperSize A4 { get; } = new("a4", 595.28f, 841.89f);

    public static PaperSize Letter { get; } = new("letter", 612, 792);
}

/// <summary>
/// Draws a crew sheet on one page of paper, in black on white, with the embedded font. The text is as large as the page allows; a sheet
/// that would need smaller letters than can be read is refused.
/// </summary>
internal static class CrewSheetPdf
{
    /// <summary>Letters smaller than this cannot be read at arm's length outdoors, points. Choice of this program.</summary>
    internal const float SmallestText = 7.5f;

    private const float LargestText = 10.5f;
    internal const float Step = 0.25f;

    /// <summary>The page as the bytes of a PDF file. The same sheet gives the same bytes.</summary>
    /// <exception cref="InvalidOperationException">The sheet does not fit one page in letters that can be read.</exception>
    internal static byte[] Bytes(CrewSheet sheet, PaperSize paper)
    {
        var size = TextSize(sheet, paper);
        using var stream = new MemoryStream();
        using (var document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = sheet.Title, Producer = "DropSim", RasterDpi = SKDocumentPdfMetadata.DefaultRasterDpi, EncodingQuality = SKDocumentPdfMetadata.DefaultEncodingQuality }))
        {
            var canvas = document.BeginPage(paper.Width, paper.Height);
            new CrewSheetLayout(sheet, paper, size, canvas).Run();
            document.EndPage();
            document.Close();
        }

        return stream.ToArray();
    }

    /// <summary>The largest text with which the sheet fits the page, points.</summary>
    internal static float TextSize(CrewSheet sheet, PaperSize paper)
    {
        for (var size = LargestText; size >= SmallestText; size -= Step)
        {
            if (new CrewSheetLayout(sheet, paper, size, null).Run())
            {
                return size;
            }
        }

        throw new InvalidOperationException($"The crew sheet '{sheet.Title}' does not fit one page of {paper.Name}.");
    }
}
