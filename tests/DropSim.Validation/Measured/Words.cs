using System.Globalization;
using System.Text;
using DropSim.Reporting;
using DropSim.Reporting.Charts;

namespace DropSim.Validation.Measured;

/// <summary>Numbers and tables as the page has them: so few digits that the last bits of another machine do not show.</summary>
internal static class Words
{
    /// <summary>A number with a count of decimals.</summary>
    public static string N(double value, int decimals) => value.ToString("F" + decimals, CultureInfo.InvariantCulture);

    /// <summary>A force in N as kN with one decimal.</summary>
    public static string Kn(double newtons) => N(newtons / 1000, 1) + " kN";

    /// <summary>A share as a signed percentage.</summary>
    public static string Change(double share) => (share < 0 ? "-" : "+") + N(100 * Math.Abs(share), 0) + " %";

    /// <summary>A share as a percentage.</summary>
    public static string Percent(double share) => N(100 * share, 0) + " %";

    /// <summary>A table.</summary>
    public static string Table(string[] heads, IEnumerable<string[]> rows)
    {
        var text = new StringBuilder();
        text.Append("| ").AppendJoin(" | ", heads).Append(" |\n|").Append(string.Concat(Enumerable.Repeat("---|", heads.Length))).Append('\n');
        foreach (var row in rows)
        {
            text.Append("| ").AppendJoin(" | ", row).Append(" |\n");
        }

        return text.ToString();
    }

    /// <summary>Under every picture.</summary>
    public static IReadOnlyList<string> Footer { get; } = [string.Join(" ", Cautions.Reading), Cautions.NotModelledSentence];

    /// <summary>A picture in the page: its title is its caption.</summary>
    public static string Picture(Figure figure) => $"![{figure.Title}](validation/{figure.FileName})\n";
}
