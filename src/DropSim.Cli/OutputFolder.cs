namespace DropSim.Cli;

/// <summary>Where results go: whether files can be written there is found out before anything is computed, not after.</summary>
internal static class OutputFolder
{
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
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return e.Message;
        }
    }
}
