using System.Runtime.ExceptionServices;

namespace DropSim.Reporting.Files;

/// <summary>
/// Writes a folder of results, whole or not at all (docs/decisions/0021). Its index says which files in an older folder came from this program: those go when
/// they are not written again; everything else stays where it lies, whatever it is, and is neither opened nor followed nor copied.
/// </summary>
internal static class ResultFolder
{
    private const int BufferSize = 1 << 20;

    /// <summary>Writes DIRECTORY/NAME/.</summary>
    /// <param name="directory">Folder that holds the result folders; made where missing.</param>
    /// <param name="name">Name of the result folder; cleaned.</param>
    /// <param name="files">Each file with what fills it; one of them is the index (<see cref="ResultIndex"/>), which has to list them all.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="cancellation">Cancels before the exchange.</param>
    /// <param name="beforeMove">Told before every move of the exchange, for tests; may be null.</param>
    /// <exception cref="IOException">The folder cannot be written; an older one is as it was.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    internal static WrittenFolder Write(
        string directory, string name, IReadOnlyList<ResultFile> files, int threads, CancellationToken cancellation, Action? beforeMove = null)
    {
        var place = new ResultPlace(directory, name);
        cancellation.ThrowIfCancellationRequested();
        Directory.CreateDirectory(directory);
        using var held = ResultLock.Wait(place.Lock, cancellation);
        ResultExchange.Recover(place);
        if (place.Obstacle() is { } obstacle)
        {
            throw new IOException($"{place.Target}: {obstacle}");
        }

        try
        {
            Directory.CreateDirectory(place.New);
            WriteAll(files, place.New, threads, cancellation);
            cancellation.ThrowIfCancellationRequested();
            Directory.Move(place.New, place.Whole);
        }
        finally
        {
            ResultExchange.Remove(place.New);
        }

        var kept = ResultExchange.Finish(place, beforeMove);
        return new([.. files.Select(f => Path.Combine(place.Target, f.Name))], kept);
    }

    /// <summary>Before anything is computed: puts away what a killed run left there, unless somebody is writing.</summary>
    /// <param name="directory">Folder that holds the result folders; it need not be there.</param>
    /// <param name="name">Name of the result folder; cleaned.</param>
    /// <returns>Why no folder of results can be there; null where one can.</returns>
    /// <exception cref="IOException">What was left cannot be put away.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    internal static PlaceObstacle? Prepare(string directory, string name)
    {
        var place = new ResultPlace(directory, name);
        if (place.HasLeftovers)
        {
            using var held = ResultLock.Try(place.Lock);
            if (held is not null)
            {
                ResultExchange.Recover(place);
            }
        }

        return place.Obstacle();
    }

    /// <summary>Writes the files on several threads; what goes wrong is thrown as it is, not wrapped, so that a full disk is an <see cref="IOException"/>.</summary>
    private static void WriteAll(IReadOnlyList<ResultFile> files, string folder, int threads, CancellationToken cancellation)
    {
        try
        {
            Parallel.ForEach(files, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = threads }, file =>
            {
                try
                {
                    using var stream = new BufferedStream(new FileStream(Path.Combine(folder, file.Name), FileMode.CreateNew, FileAccess.Write), BufferSize);
                    file.Fill(stream);
                }
                catch (ArgumentOutOfRangeException e) when (e is { ParamName: "value", Source: "System.Private.CoreLib" })
                {
                    // What .NET throws where the file system, or a limit of the user's, takes no file of this length.
                    throw new IOException(e.Message, e);
                }
            });
        }
        catch (AggregateException several)
        {
            ExceptionDispatchInfo.Throw(several.Flatten().InnerExceptions[0]);
        }
    }
}

/// <summary>One file of a result folder.</summary>
/// <param name="Name">File name with ending.</param>
/// <param name="Fill">Writes its content; never nothing.</param>
internal sealed record ResultFile(string Name, Action<Stream> Fill);

/// <summary>A result folder that was written.</summary>
/// <param name="Files">Paths of its files.</param>
/// <param name="Kept">What others had put there under a name that the result needed.</param>
internal sealed record WrittenFolder(IReadOnlyList<string> Files, IReadOnlyList<KeptFile> Kept);
