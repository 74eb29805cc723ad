using System.Security.Cryptography;
using System.Text;

namespace DropSim.Scenarios;

/// <summary>Reads a scenario file: TOML text to validated cases, or everything that is wrong with it at once.</summary>
public static class ScenarioReader
{
    /// <summary>Largest file read, bytes. A scenario written by a person has a few thousand.</summary>
    public const int LargestFile = 256 * 1024;

    /// <summary>What some editors write before the first letter.</summary>
    internal const char ByteOrderMark = '\ufeff';

    /// <summary>How long opening a file may take.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The scenario, or the problems. A file that is not there, too big or not text is a problem, not an exception.</returns>
    public static ScenarioReadResult Read(string path) => Open(path).Build();

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="bytes">The bytes, UTF-8.</param>
    /// <param name="file">File name for messages and for the scenario's name.</param>
    public static ScenarioReadResult Read(ReadOnlySpan<byte> bytes, string file) => Open(bytes, file).Build();

    /// <summary>Opens a file as a draft, from which scenarios with changed values can be built.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The draft; where the file cannot be read, one that builds into nothing but its problem.</returns>
    public static ScenarioDraft Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        string file = Path.GetFileName(path);
        try
        {
            if (Directory.Exists(path))
            {
                return Refused(file, "a folder", "a scenario file (.toml)");
            }

            // A pipe that nobody writes to never opens.
            Task<FileStream> opening = Task.Factory.StartNew(
                () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read),
                CancellationToken.None,
                TaskCreationOptions.LongRunning,
                TaskScheduler.Default);
            if (Task.WaitAny([opening], Patience) < 0)
            {
                return Refused(file, "a pipe or device that gives nothing", "a scenario file (.toml)");
            }

            using FileStream stream = opening.GetAwaiter().GetResult();
            byte[] buffer = new byte[LargestFile + 1];
            int count = stream.ReadAtLeast(buffer, buffer.Length, false);
            return Open(buffer.AsSpan(0, count), file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Refused(file, "a file that cannot be opened", "a readable scenario file (.toml)");
        }
    }

    /// <summary>Opens the bytes of a file as a draft.</summary>
    /// <param name="bytes">The bytes, UTF-8.</param>
    /// <param name="file">File name for messages and for the scenario's name.</param>
    public static ScenarioDraft Open(ReadOnlySpan<byte> bytes, string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (bytes.Length > LargestFile)
        {
            return Refused(file, "a file above 256 kB", "a scenario written by a person");
        }

        if (bytes.IndexOf((byte)0) >= 0 || !TryDecode(bytes, out string text))
        {
            return Refused(file, "bytes that are not UTF-8 text", "a text file saved as UTF-8");
        }

        if (string.IsNullOrWhiteSpace(text.TrimStart(ByteOrderMark)))
        {
            return Refused(file, "an empty file", "at least [piece], [spar], [rigging-point] and [rope]");
        }

        return ScenarioDraft.Parse(text, file, Convert.ToHexStringLower(SHA256.HashData(bytes))[..12]);
    }

    /// <summary>A name made safe for files: lower-case letters, digits and single hyphens.</summary>
    internal static string SafeName(string name)
    {
        StringBuilder safe = new();
        foreach (char c in name)
        {
            if (char.IsAsciiLetterOrDigit(c))
            {
                safe.Append(char.ToLowerInvariant(c));
            }
            else if (safe.Length > 0 && safe[^1] != '-')
            {
                safe.Append('-');
            }
        }

        string result = safe.ToString().Trim('-');
        return result.Length == 0 ? "scenario" : result[..Math.Min(result.Length, 60)].TrimEnd('-');
    }

    private static bool TryDecode(ReadOnlySpan<byte> bytes, out string text)
    {
        try
        {
            text = new UTF8Encoding(false, true).GetString(bytes);
            return true;
        }
        catch (DecoderFallbackException)
        {
            text = "";
            return false;
        }
    }

    private static ScenarioDraft Refused(string file, string found, string expected) =>
        ScenarioDraft.Unreadable(new ScenarioProblem(file, 0, "", found, expected));
}
