using System.Text;

namespace DropSim.Reporting.Files;

/// <summary>Names of files and folders made of names that people chose: whatever they chose, the result stays inside its folder.</summary>
internal static class FileNames
{
    /// <summary>Longest name, letters.</summary>
    private const int LongestName = 60;

    /// <summary>Longest name, bytes in UTF-8: two names and an ending (a comparison's picture) stay within the 255 that most file systems allow.</summary>
    private const int MostBytes = 100;

    private static readonly HashSet<string> ReservedOnWindows = new(StringComparer.OrdinalIgnoreCase)
    {
        "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9",
        "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
    };

    /// <summary>A name with letters, digits, hyphens, underscores and inner dots only.</summary>
    /// <param name="name">Any text.</param>
    internal static string Clean(string name)
    {
        var text = new StringBuilder(name.Length);
        foreach (var letter in name)
        {
            text.Append(char.IsLetterOrDigit(letter) || letter is '-' or '_' or '.' ? letter : '-');
        }

        var clean = text.ToString().Trim('.', '-');
        clean = clean.Length > LongestName ? clean[..LongestName] : clean;
        while (Encoding.UTF8.GetByteCount(clean) > MostBytes)
        {
            clean = clean[..^1];
        }

        clean = clean.TrimEnd('.', '-');
        if (clean.Length == 0)
        {
            return "unnamed";
        }

        return ReservedOnWindows.Contains(clean.Split('.')[0]) ? "_" + clean : clean;
    }

    /// <summary>Clean names, told apart by a number where two became the same (upper and lower case count as the same).</summary>
    /// <param name="names">Any texts.</param>
    internal static IReadOnlyList<string> Distinct(IEnumerable<string> names)
    {
        var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var result = new List<string>();
        foreach (var name in names)
        {
            var clean = Clean(name);
            var unique = clean;
            for (var i = 2; !taken.Add(unique); i++)
            {
                unique = FormattableString.Invariant($"{clean}-{i}");
            }

            result.Add(unique);
        }

        return result;
    }
}
