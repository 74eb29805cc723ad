using System.Globalization;

namespace DropSim.Drawing;

/// <summary>Text broken into lines that fit, whatever it is: names of files and things come from other people.</summary>
internal static class SheetWords
{
    /// <summary>Lines no wider than a width; a word that is wider is broken too.</summary>
    /// <param name="text">The text; its own line breaks are kept.</param>
    /// <param name="letters">Size of the letters, points.</param>
    /// <param name="bold">True for bold.</param>
    /// <param name="width">Width, points.</param>
    internal static IReadOnlyList<string> Lines(string text, float letters, bool bold, float width)
    {
        var lines = new List<string>();
        foreach (var own in text.Split('\n'))
        {
            foreach (var line in FigureRenderer.Wrap(own, letters, bold, width))
            {
                Break(line, letters, bold, width, lines);
            }
        }

        return lines;
    }

    /// <summary>Width of the widest of its own lines, points.</summary>
    internal static float Natural(string text, float letters, bool bold) => (float)text.Split('\n').Max(l => EmbeddedFontRenderContext.Measure(l, letters, bold));

    /// <summary>Width of the widest word, points: below it words would be broken.</summary>
    internal static float Longest(string text, float letters, bool bold) => (float)text.Split('\n', ' ').Max(l => EmbeddedFontRenderContext.Measure(l, letters, bold));

    private static void Break(string line, float letters, bool bold, float width, List<string> lines)
    {
        while (EmbeddedFontRenderContext.Measure(line, letters, bold) > width)
        {
            var starts = StringInfo.ParseCombiningCharacters(line);
            var (fits, fails) = (1, starts.Length);
            while (fails - fits > 1)
            {
                var middle = (fits + fails) / 2;
                (fits, fails) = EmbeddedFontRenderContext.Measure(line[..starts[middle]], letters, bold) <= width ? (middle, fails) : (fits, middle);
            }

            if (fits >= starts.Length)
            {
                break;
            }

            lines.Add(line[..starts[fits]].TrimEnd());
            line = line[starts[fits]..].TrimStart();
        }

        lines.Add(line);
    }
}
