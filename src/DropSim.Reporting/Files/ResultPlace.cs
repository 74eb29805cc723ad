namespace DropSim.Reporting.Files;

/// <summary>
/// A result folder and what stands beside it while it is written, all of them hidden and named after it. Only the holder of the lock
/// touches any of them, so whatever is found there by the next holder was left by a run that was killed.
/// </summary>
internal sealed class ResultPlace
{
    /// <summary>Longest name of a file in a result folder: a comparison's, made of two names (<see cref="FileNames"/>).</summary>
    private const int LongestFileName = 140;

    private readonly string _directory;
    private readonly string _name;

    /// <summary>Names the places; makes nothing.</summary>
    /// <param name="directory">Folder that holds the result folders.</param>
    /// <param name="name">Name of the result folder; cleaned.</param>
    internal ResultPlace(string directory, string name)
    {
        _directory = directory;
        _name = FileNames.Clean(name);
        Target = Path.Combine(directory, _name);
    }

    /// <summary>The result folder.</summary>
    internal string Target { get; }

    /// <summary>Files of a result that is being written.</summary>
    internal string New => Beside("new");

    /// <summary>Files of a result that is written whole and is being moved into its folder.</summary>
    internal string Whole => Beside("whole");

    /// <summary>Files of the older result, moved out of the folder.</summary>
    internal string Old => Beside("old");

    /// <summary>The lock, there while somebody writes.</summary>
    internal string Lock => Beside("lock");

    /// <summary>True where a killed run left something.</summary>
    internal bool HasLeftovers => IsThere(New) || IsThere(Whole) || IsThere(Old) || IsThere(Lock);

    /// <summary>Whether a path is taken, by whatever: a link that points nowhere takes it too.</summary>
    /// <param name="path">The path.</param>
    internal static bool IsThere(string path) => File.Exists(path) || Directory.Exists(path) || IsLink(path);

    /// <summary>Whether a path is a link.</summary>
    /// <param name="path">The path.</param>
    internal static bool IsLink(string path) => new FileInfo(path).LinkTarget is not null;

    /// <summary>Whether a path is a file with something in it: what this program writes is never a link, a pipe, a socket or empty.</summary>
    /// <param name="path">The path.</param>
    internal static bool IsPlainFile(string path)
    {
        // Pipes, sockets and devices have no length. They are never opened: opening a pipe waits for ever.
        var file = new FileInfo(path);
        return file.Exists && file.LinkTarget is null && file.Length > 0;
    }

    /// <summary>Why no folder of results can be here; null where one can, or where it is not there yet.</summary>
    internal PlaceObstacle? Obstacle()
    {
        if (IsLink(Target))
        {
            return PlaceObstacle.IsLink;
        }

        if (File.Exists(Target))
        {
            return PlaceObstacle.IsFile;
        }

        return IsTooLong() ? PlaceObstacle.TooLong : null;
    }

    private string Beside(string part) => Path.Combine(_directory, $".{_name}.dropsim-{part}");

    /// <summary>Asks the system about paths that are not there: it says of one that is too long that it is.</summary>
    private bool IsTooLong()
    {
        var full = Path.GetFullPath(Whole);
        if (TooLong(Path.Combine(full, new string('x', LongestFileName))))
        {
            return true;
        }

        // A single name is judged by the file system of the folder that holds it, which is there for the first of them only.
        var at = full;
        var missing = new List<string>();
        while (Path.GetDirectoryName(at) is { } parent && !Directory.Exists(at))
        {
            missing.Add(Path.GetFileName(at));
            at = parent;
        }

        return missing.Exists(m => TooLong(Path.Combine(at, m)));
    }

    private static bool TooLong(string path)
    {
        try
        {
            File.GetAttributes(path);
            return false;
        }
        catch (PathTooLongException)
        {
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}

/// <summary>What can stand in a result folder's way.</summary>
internal enum PlaceObstacle
{
    /// <summary>The folder is a link: results are not written through one, and it is not replaced.</summary>
    IsLink,

    /// <summary>A file has its name.</summary>
    IsFile,

    /// <summary>Its path, or that of a file in it, is too long for the system.</summary>
    TooLong,
}
