using DropSim.Reporting;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;

namespace DropSim.Drawing;

/// <summary>Writes what a study found: tables (CSV), pictures (PNG) and study.json, whole or not at all.</summary>
internal static class StudyReport
{
    private const string Index = ResultIndex.OfStudy;

    /// <summary>Writes DIRECTORY/SCENARIO-VERB/. An existing good result survives a failure.</summary>
    /// <param name="document">What was found.</param>
    /// <param name="directory">Folder that holds the result folders; made where missing.</param>
    /// <param name="options">Units, threads and version.</param>
    /// <param name="cancellation">Cancels before the exchange; not to be given for a study that was interrupted and keeps what it has.</param>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder cannot be written.</exception>
    internal static WrittenFolder Write(
        StudyDocument document, string directory, ReportOptions options, CancellationToken cancellation = default)
    {
        options.Check();
        List<ResultFile> files =
        [
            .. document.Tables.Select(t => new ResultFile(t.FileName, stream => StudyCsv.Write(t, options.Units, stream))),
            .. document.Figures.Select(f => new ResultFile(f.FileName, stream => stream.Write(FigureRenderer.Png(f)))),
            .. document.OtherFiles,
        ];
        string[] names = [.. files.Select(f => f.Name), Index];
        files.Add(new(Index, stream => StudyJson.Write(document, options, names, stream)));
        return ResultFolder.Write(directory, document.Folder, files, options.Threads, cancellation);
    }
}
