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
    /// <param name="faults">Takes a line for each picture or sheet that could not be drawn, which is then left out: what was computed is written
    /// all the same. Null where such a fault is to be thrown.</param>
    /// <param name="cancellation">Cancels before the exchange; not to be given for a study that was interrupted and keeps what it has.</param>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder cannot be written.</exception>
    internal static WrittenFolder Write(
        StudyDocument document, string directory, ReportOptions options, ICollection<string>? faults = null, CancellationToken cancellation = default)
    {
        options.Check();
        ResultFile[] drawn =
        [
            .. document.Figures.Select(f => new ResultFile(f.FileName, stream => stream.Write(FigureRenderer.Png(f)))),
            .. document.OtherFiles,
        ];
        if (faults is not null)
        {
            drawn = Drawn(drawn, options.Threads, faults, cancellation);
            document = document with { Faults = [.. document.Faults, .. faults] };
        }

        List<ResultFile> files =
        [
            .. document.Tables.Select(t => new ResultFile(t.FileName, stream => StudyCsv.Write(t, options.Units, stream))),
            .. drawn,
        ];
        string[] names = [.. files.Select(f => f.Name), Index];
        files.Add(new(Index, stream => StudyJson.Write(document, options, names, stream)));
        return ResultFolder.Write(directory, document.Folder, files, options.Threads, cancellation);
    }

    /// <summary>Draws into memory what can be drawn; the disk is not touched.</summary>
    private static ResultFile[] Drawn(ResultFile[] files, int threads, ICollection<string> faults, CancellationToken cancellation)
    {
        var bytes = new byte[files.Length][];
        var told = new string?[files.Length];
        Parallel.For(0, files.Length, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancellation }, i =>
        {
            try
            {
                using var stream = new MemoryStream();
                files[i].Fill(stream);
                bytes[i] = stream.ToArray();
            }
            catch (Exception fault) when (fault is not OperationCanceledException)
            {
                told[i] = $"{files[i].Name} could not be made and is left out ({fault.GetType().Name}: {fault.Message})";
            }
        });
        foreach (var line in told.OfType<string>())
        {
            faults.Add(line);
        }

        return [.. files.Zip(bytes).Where(f => f.Second is not null).Select(f => new ResultFile(f.First.Name, stream => stream.Write(f.Second)))];
    }
}
