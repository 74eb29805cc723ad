using DropSim.Reporting.Files;

namespace DropSim.Cli;

/// <summary>Where results go: whether files can be written there is found out before anything is computed, not after.</summary>
internal static class OutputFolder
{
    /// <summary>Why a result cannot be written; null where it can. Puts away what a killed run of the same scenario left there.</summary>
    /// <param name="folder">The folder for results; it need not be there yet.</param>
    /// <param name="name">Name of the result.</param>
    public static string? Obstacle(string folder, string name)
    {
        if (Obstacle(folder) is { } general)
        {
            return general;
        }

        try
        {
            var place = new ResultPlace(folder, name);
            return ResultFolder.Prepare(folder, name) switch
            {
                PlaceObstacle.IsLink => $"{place.Target}: found a link; expected a folder or nothing: results are not written through links",
                PlaceObstacle.IsFile => $"{place.Target}: found something that is no folder; expected a folder or nothing",
                PlaceObstacle.TooLong => $"{place.Target}: found a path too long for this system; expected a shorter one",
                _ => Directory.Exists(place.Target) ? Obstacle(place.Target) : null,
            };
        }
        catch (Exception e) when (IsAccess(e))
        {
            return e.Message;
        }
    }

    /// <summary>Tells of other people's files that had names which the result needed.</summary>
    /// <param name="terminal">Where to write.</param>
    /// <param name="folder">The result folder.</param>
    /// <param name="kept">The files.</param>
    public static void TellKept(Terminal terminal, string folder, IReadOnlyList<KeptFile> kept)
    {
        foreach (var file in kept)
        {
            terminal.Error.WriteLine($"{Path.Combine(folder, file.Name)}: not written by this program, so it was kept as '{file.Now}'.");
        }
    }

    /// <summary>Why files cannot be written to a folder; null where they can. Leaves nothing behind, the folder itself included.</summary>
    /// <param name="folder">The folder; it need not be there yet.</param>
    public static string? Obstacle(string folder)
    {
        try
        {
            var at = new DirectoryInfo(folder);
            while (!at.Exists)
            {
                if (File.Exists(at.FullName))
                {
                    return $"{at.FullName} is a file, not a folder";
                }

                at = at.Parent ?? throw new DirectoryNotFoundException($"{folder} is on no drive");
            }

            using var probe = new FileStream(
                Path.Combine(at.FullName, Path.GetRandomFileName()), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
            return null;
        }
        catch (Exception e) when (IsAccess(e))
        {
            return e.Message;
        }
    }

    private static bool IsAccess(Exception e) => e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException;
}
