using System.Globalization;
using System.Text;

namespace DropSim.Scenarios;

/// <summary>
/// Text from a file that somebody else wrote, made fit for a terminal: control characters can move the cursor, recolour or
/// rename the window, and characters that turn the direction of writing can make a figure read as another.
/// </summary>
internal static class Printable
{
    /// <summary>True for a character that does something to a terminal, instead of showing.</summary>
    public static bool IsHostile(char c) =>
        char.IsControl(c)
        || c is (>= '\u200e' and <= '\u200f') or (>= '\u2028' and <= '\u202e') or (>= '\u2066' and <= '\u2069') or '\u061c' or '\ufeff';

    /// <summary>The text with every such character spelt out as \uXXXX, line breaks among them.</summary>
    public static string Of(string text)
    {
        if (!text.Any(IsHostile))
        {
            return text;
        }

        StringBuilder shown = new();
        foreach (char c in text)
        {
            _ = IsHostile(c) ? shown.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}") : shown.Append(c);
        }

        return shown.ToString();
    }

    /// <summary>The first such character that is not a line break or a tabulator; null where there is none.</summary>
    public static char? FirstHostile(string text)
    {
        foreach (char c in text)
        {
            if (IsHostile(c) && c is not ('\n' or '\r' or '\t'))
            {
                return c;
            }
        }

        return null;
    }

    /// <summary>Line breaks and runs of spaces made single spaces.</summary>
    public static string OneLine(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
