using System.Runtime.ExceptionServices;
using DropSim.Reporting.Charts;
using DropSim.Reporting;
using DropSim.Reporting.Files;
using DropSim.Studies;

namespace DropSim.Drawing;

/// <summary>Writes the results of a scenario: curves (CSV), pictures (PNG) and summary.json, whole or not at all.</summary>
public static class ScenarioReport
{
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
        Write(result, directory, options, static (r, o) => FigureSet.Build(r, o), cancellation);

    internal static IReadOnlyList<string> Write(
        ScenarioResult result, string directory, ReportOptions options, Func<ScenarioResult, ReportOptions, IReadOnlyList<Figure>> figures, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();
        result = ComparisonText.WithTexts(result, options.Units);
        var name = FileNames.Clean(result.Name);
        var caseNames = FileNames.Distinct(result.Cases.Select(c => c.Case.Name));
        var written = new List<string>();
        using var folder = new StagedFolder(directory, name);

        // One run's curves are read by one thread at a time: pictures are built first, then each run's table.
        var pictures = figures(result, options);
        cancellation.ThrowIfCancellationRequested();
        var jobs = new List<(string File, Action<Stream> Fill)>();
        for (var i = 0; i < result.Cases.Count; i++)
        {
            if (result.Cases[i].Run.Traces is { } traces)
            {
                jobs.Add((caseNames[i] + ".csv", stream => TraceCsv.Write(traces.Sample(options.CsvInterval), options.Units, stream)));
            }
        }

        jobs.AddRange(pictures.Select(f => (f.FileName, (Action<Stream>)(stream => stream.Write(FigureRenderer.Png(f))))));
        jobs.Add(("summary.json", stream => SummaryJson.Write(result, options, stream)));
        WriteAll(jobs, folder, options.Threads, cancellation);
        cancellation.ThrowIfCancellationRequested();
        written.AddRange(jobs.Select(j => Path.Combine(directory, name, j.File)));
        folder.Commit(OurFiles(Path.Combine(directory, name), jobs.Select(j => j.File)));
        return written;
    }

    /// <summary>Writes the files on several threads; what goes wrong is thrown as it is, not wrapped, so that a full disk is an <see cref="IOException"/>.</summary>
    private static void WriteAll(List<(string File, Action<Stream> Fill)> jobs, StagedFolder folder, int threads, CancellationToken cancellation)
    {
        try
        {
            Parallel.ForEach(jobs, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = threads }, job =>
            {
                using var stream = new BufferedStream(File.Create(folder.Path(job.File)), BufferSize);
                job.Fill(stream);
            });
        }
        catch (AggregateException several)
        {
            ExceptionDispatchInfo.Throw(several.Flatten().InnerExceptions[0]);
        }
    }

    private const int BufferSize = 1 << 20;

    /// <summary>Of what lies in the old folder: CSV, PNG and JSON files are this program's and go; anything else people put there and it stays.</summary>
    private static HashSet<string> OurFiles(string old, IEnumerable<string> now)
    {
        var ours = new HashSet<string>(now, StringComparer.Ordinal);
        if (Directory.Exists(old))
        {
            ours.UnionWith(Directory.EnumerateFiles(old).Select(Path.GetFileName).OfType<string>()
                .Where(f => f.EndsWith(".csv", StringComparison.Ordinal) || f.EndsWith(".png", StringComparison.Ordinal) || f == "summary.json"));
        }

        return ours;
    }
}
