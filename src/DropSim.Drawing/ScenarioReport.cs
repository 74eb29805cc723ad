using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Files;
using DropSim.Studies;

namespace DropSim.Drawing;

/// <summary>Writes the results of a scenario: curves (CSV), pictures (PNG) and summary.json, whole or not at all.</summary>
public static class ScenarioReport
{
    private const string Index = ResultIndex.OfScenario;

    /// <summary>Writes DIRECTORY/NAME/. An existing good result survives a failure.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="directory">Folder that holds one folder a scenario; made where missing.</param>
    /// <param name="options">Units, grid and version.</param>
    /// <param name="cancellation">Cancels before the exchange; nothing is left half written.</param>
    /// <returns>Paths of the files written.</returns>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder cannot be written.</exception>
    public static IReadOnlyList<string> Write(
        ScenarioResult result, string directory, ReportOptions options, CancellationToken cancellation = default) =>
        Write(result, directory, options, [], cancellation).Files;

    /// <summary>The same, with further files in the folder.</summary>
    internal static WrittenFolder Write(
        ScenarioResult result, string directory, ReportOptions options, IReadOnlyList<ResultFile> more, CancellationToken cancellation) =>
        Write(result, directory, options, static (r, o) => FigureSet.Build(r, o), more, cancellation);

    internal static IReadOnlyList<string> Write(
        ScenarioResult result, string directory, ReportOptions options, Func<ScenarioResult, ReportOptions, IReadOnlyList<Figure>> figures, CancellationToken cancellation) =>
        Write(result, directory, options, figures, [], cancellation).Files;

    private static WrittenFolder Write(
        ScenarioResult result, string directory, ReportOptions options, Func<ScenarioResult, ReportOptions, IReadOnlyList<Figure>> figures,
        IReadOnlyList<ResultFile> more, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();
        result = ComparisonText.WithTexts(result, options.Units);
        var caseNames = FileNames.Distinct(result.Cases.Select(c => c.Case.Name));

        // One run's curves are read by one thread at a time: pictures are built first, then each run's table.
        var pictures = figures(result, options);
        cancellation.ThrowIfCancellationRequested();
        var files = new List<ResultFile>();
        for (var i = 0; i < result.Cases.Count; i++)
        {
            if (result.Cases[i].Run.Traces is { } traces)
            {
                files.Add(new(caseNames[i] + ".csv", stream => TraceCsv.Write(traces.Sample(options.CsvInterval), options.Units, stream)));
            }
        }

        files.AddRange(pictures.Select(f => new ResultFile(f.FileName, stream => stream.Write(FigureRenderer.Png(f)))));
        files.AddRange(more);
        string[] names = [.. files.Select(f => f.Name), Index];
        files.Add(new(Index, stream => SummaryJson.Write(result, options, names, stream)));
        return ResultFolder.Write(directory, result.Name, files, options.Threads, cancellation);
    }
}
