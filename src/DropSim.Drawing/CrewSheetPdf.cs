using DropSim.Reporting.Dismantle;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>A size of paper, points of 1/72 in.</summary>
internal readonly record struct PaperSize(string Name, float Width, float Height)
{
    public static PaperSize A4 { get; } = new("a4", 595.28f, 841.89f);

    public static PaperSize Letter { get; } = new("letter", 612, 792);
}

/// <summary>Draws a crew sheet in black on white with the embedded font, in letters that can be read, on as many pages as that takes.</summary>
internal static class CrewSheetPdf
{
    /// <summary>The pages as the bytes of a PDF file. The same sheet gives the same bytes.</summary>
    internal static byte[] Bytes(CrewSheet sheet, PaperSize paper)
    {
        var pages = Pages(sheet, paper);
        using var stream = new MemoryStream();
        using (var document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = sheet.Title, Producer = "DropSim", RasterDpi = SKDocumentPdfMetadata.DefaultRasterDpi, EncodingQuality = SKDocumentPdfMetadata.DefaultEncodingQuality }))
        {
            new CrewSheetPages(sheet, new SheetPaper(paper, document, pages)).Run();
            document.Close();
        }

        return stream.ToArray();
    }

    /// <summary>How many pages a sheet takes.</summary>
    internal static int Pages(CrewSheet sheet, PaperSize paper)
    {
        var measured = new SheetPaper(paper, null, 0);
        new CrewSheetPages(sheet, measured).Run();
        return measured.Page;
    }
}
