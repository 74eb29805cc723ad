using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Reporting.Files;
using DropSim.Studies;

namespace DropSim.Drawing;

/// <summary>The crew sheet of a whole spar for each size of paper.</summary>
internal static class CrewSheets
{
    /// <summary>Files, not yet drawn.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="options">Units and version.</param>
    internal static IReadOnlyList<ResultFile> Of(DismantleResult result, ReportOptions options)
    {
        var sheet = new Lazy<CrewSheet>(() => CrewSheetText.Build(result, options));
        return [.. new[] { PaperSize.A4, PaperSize.Letter }.Select(paper =>
            new ResultFile($"crew-sheet-{paper.Name}.pdf", stream => stream.Write(CrewSheetPdf.Bytes(sheet.Value, paper))))];
    }
}
