using System.Runtime.ExceptionServices;
using System.Text.Json;

namespace DropSim.Reporting.Files;

/// <summary>
/// Writes a folder of results, whole or not at all, and knows from its index (a JSON file that lists the files) which of the
/// files in an older folder came from this program: those go when they are not written again, everything else stays.
/// </summary>
internal static class ResultFolder
{
    /// <summary>Key of the list of files in an index.</summary>
    internal const string FilesKey = "files";

    private const int BufferSize = 1 << 20;

    /// <summary>Largest index that is read back, bytes. Ours have a few hundred thousand.</summary>
    private const long LargestIndex = 64 << 20;

    /// <summary>Writes DIRECTORY/NAME/.</summary>
    /// <param name="directory">Folder that holds the result folders; made where missing.</param>
    /// <param name="name">Name of the result folder; cleaned.</param>
    /// <param name="index">Name of the index file, among the files.</param>
    /// <param name="files">Each file with what fills it; the index has to list them all under <see cref="FilesKey"/>.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="cancellation">Cancels before the exchange.</param>
    /// <returns>Paths of the files written.</returns>
    /// <exception cref="IOException">The folder cannot be written; an older one is as it was.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    internal static IReadOnlyList<string> Write(
        string directory, string name, string index, IReadOnlyList<ResultFile> files, int threads, CancellationToken cancellation)
    {
        var clean = FileNames.Clean(name);
        var target = Path.Combine(directory, clean);
        using var folder = new StagedFolder(directory, clean);
        cancellation.ThrowIfCancellationRequested();
        WriteAll(files, folder, threads, cancellation);
        cancellation.ThrowIfCancellationRequested();
        var ours = new HashSet<string>(files.Select(f => f.Name), StringComparer.Ordinal);
        ours.UnionWith(Listed(Path.Combine(target, index)));
        folder.Commit(ours);
        return [.. files.Select(f => Path.Combine(target, f.Name))];
    }

    /// <summary>The files that an index lists; none where it cannot be read, so that nothing is thrown away on a guess.</summary>
    /// <param name="index">Path of the index.</param>
    private static IReadOnlyList<string> Listed(string index)
    {
        try
        {
            var file = new FileInfo(index);
            if (!file.Exists || file.Length > LargestIndex)
            {
                return [];
            }

            using var stream = file.OpenRead();
            using var json = JsonDocument.Parse(stream);
            return json.RootElement.ValueKind == JsonValueKind.Object
                && json.RootElement.TryGetProperty(FilesKey, out var list) && list.ValueKind == JsonValueKind.Array
                ? [.. list.EnumerateArray().Where(e => e.ValueKind == JsonValueKind.String).Select(e => e.GetString()!)]
                : [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return [];
        }
    }

    /// <summary>Writes the files on several threads; what goes wrong is thrown as it is, not wrapped, so that a full disk is an <see cref="IOException"/>.</summary>
    private static void WriteAll(IReadOnlyList<ResultFile> files, StagedFolder folder, int threads, CancellationToken cancellation)
    {
        try
        {
            Parallel.ForEach(files, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = threads }, file =>
            {
                using var stream = new BufferedStream(File.Create(folder.Path(file.Name)), BufferSize);
                file.Fill(stream);
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
/// <param name="Fill">Writes its content.</param>
internal sealed record ResultFile(string Name, Action<Stream> Fill);
