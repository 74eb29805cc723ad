using System.Text.Json;

namespace DropSim.Reporting.Files;

/// <summary>The index of a result folder: a JSON file that lists all files of the result, itself among them. Without one a folder holds no result.</summary>
internal static class ResultIndex
{
    /// <summary>Index of a scenario's result.</summary>
    internal const string OfScenario = "summary.json";

    /// <summary>Index of a study's result.</summary>
    internal const string OfStudy = "study.json";

    /// <summary>Key of the list of files.</summary>
    internal const string FilesKey = "files";

    /// <summary>Largest index that is read back, bytes. Ours have a few hundred thousand.</summary>
    private const long Largest = 64 << 20;

    /// <summary>All names that an index can have: one folder holds one result, of whichever kind.</summary>
    internal static IReadOnlyList<string> Names { get; } = [OfScenario, OfStudy];

    /// <summary>
    /// The files that the indexes of a folder list; none of one that cannot be read or does not list itself, so that nothing is thrown away on a guess.
    /// </summary>
    /// <param name="folder">The folder.</param>
    internal static HashSet<string> Listed(string folder)
    {
        var listed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var name in Names)
        {
            var files = Read(Path.Combine(folder, name));
            if (files.Contains(name))
            {
                listed.UnionWith(files.Where(f => f.Length > 0 && f is not ("." or "..") && f.IndexOfAny(['/', '\\', ':', '\0']) < 0));
            }
        }

        return listed;
    }

    private static string[] Read(string path)
    {
        try
        {
            if (!ResultPlace.IsPlainFile(path) || new FileInfo(path).Length > Largest)
            {
                return [];
            }

            using var stream = File.OpenRead(path);
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
}
