using System.Formats.Tar;
using DropSim.Page;
using DropSim.Reporting.Files;

namespace DropSim.Cli;

/// <summary>The lesson page as a file, written whole or not at all.</summary>
internal static class PageFile
{
    /// <summary>Writes it. A page of a run that was killed is written over by the next.</summary>
    /// <param name="path">The file.</param>
    /// <param name="data">What the page holds.</param>
    /// <param name="cancellation">Interrupts.</param>
    /// <returns>Why it could not be written; null where it was.</returns>
    public static string? Write(string path, LessonData data, CancellationToken cancellation)
    {
        try
        {
            var full = Path.GetFullPath(path);
            if (Directory.Exists(full))
            {
                return "found a folder; expected the name of a file";
            }

            if (!IsFree(full))
            {
                return "found a link, a device or the like; expected a file or nothing: only files are replaced";
            }

            var folder = Path.GetDirectoryName(full)!;
            Directory.CreateDirectory(folder);
            var hidden = Path.Combine(folder, "." + FileNames.Clean(Path.GetFileName(full)) + ".dropsim-");
            using var held = ResultLock.Wait(hidden + "lock", cancellation);
            var beside = hidden + "new";
            try
            {
                using (var stream = new FileStream(beside, FileMode.Create, FileAccess.Write))
                {
                    LessonPage.Write(stream, data);
                }

                cancellation.ThrowIfCancellationRequested();
                File.Move(beside, full, overwrite: true);
                return null;
            }
            finally
            {
                File.Delete(beside);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return $"the page could not be written: {e.Message}";
        }
    }

    /// <summary>True where nothing is there, or a file: never a link, a pipe, a socket or a device, which a page must not take the place of.</summary>
    private static bool IsFree(string path)
    {
        if (!ResultPlace.IsThere(path) || ResultPlace.IsPlainFile(path))
        {
            return true;
        }

        // No length: an empty file, or none. What it is, the system tells without opening it; .NET hands that on in archives only.
        using var archive = new MemoryStream();
        using (var writer = new TarWriter(archive, leaveOpen: true))
        {
            writer.WriteEntry(path, "it");
        }

        archive.Position = 0;
        using var reader = new TarReader(archive);
        return reader.GetNextEntry()?.EntryType is TarEntryType.RegularFile;
    }
}
