using System.Text;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Documents;

/// <summary>The tables of docs/scenario-format.md, made from the key table and the units.</summary>
public static class FormatTables
{
    /// <summary>Line before the generated part of the document.</summary>
    public const string Begin = "<!-- generated from the key table: begin -->";

    /// <summary>Line after it.</summary>
    public const string End = "<!-- generated from the key table: end -->";

    /// <summary>The generated part as Markdown, from <see cref="Begin"/> to <see cref="End"/>.</summary>
    public static string Markdown()
    {
        StringBuilder text = new();
        text.Append(Begin).Append('\n');
        foreach (SectionSpec section in KeyTable.Sections)
        {
            string title = section.Name.Length == 0 ? "Top of the file" : section.Array ? $"[[{section.Name}]]" : $"[{section.Name}]";
            text.Append($"\n### {title}\n\n{section.Says}\n\n| key | value | limits | default and where it comes from | what it is |\n|---|---|---|---|---|\n");
            foreach (KeySpec key in KeyTable.Of(section.Name))
            {
                text.Append($"| `{key.Name}` | {ValueText(key)} | {Limits(key)} | {(key.Required ? "**needed**" : Cell(DefaultText(key)))} | {Cell(key.Says)} |\n");
            }
        }

        text.Append("\n### Units understood\n\n| quantity | units | example |\n|---|---|---|\n");
        foreach (QuantityKind kind in Enum.GetValues<QuantityKind>())
        {
            UnitSet units = UnitTable.For(kind);
            text.Append($"| {QuantityParser.Words(kind)} | {Cell(units.Listing)} | `{units.Example}` |\n");
        }

        return text.Append('\n').Append(End).ToString();
    }

    /// <summary>A key's default in words with its source.</summary>
    internal static string DefaultText(KeySpec key)
    {
        if (key.BySize is { } sizes)
        {
            string four = $"light log {Text(sizes.Light)}, medium {Text(sizes.Medium)}, heavy {Text(sizes.Heavy)}, top {Text(sizes.Top)} ({sizes.Light.Source})";
            return key.Computed.Length > 0 ? $"{key.Computed}: {four}" : four;
        }

        return key.Default is { } constant ? $"{Text(constant)} ({constant.Source})" : key.Computed.Length > 0 ? key.Computed : "none";
    }

    private static string Text(KeyDefault value) => value.Low.Length == 0 ? value.Value : $"{value.Value} ({value.Low} to {value.High})";

    private static string ValueText(KeySpec key) => key.Kind switch
    {
        ValueKind.Quantity => QuantityParser.Words(key.Quantity) + (key.MayRange ? ", may have a range" : ""),
        ValueKind.Choice => string.Join(", ", key.Choices.Select(c => $"`{c}`")),
        ValueKind.Flag => "`true`, `false`",
        ValueKind.Texts => "list of texts",
        ValueKind.OfKey => "quantity of the key named",
        ValueKind.Items => "list of { " + string.Join(", ", key.Items.Select(i => i.Name)) + " }",
        _ => "text",
    };

    private static string Limits(KeySpec key) => key.Kind == ValueKind.Quantity ? ValueReader.Limits(key) : "";

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);
}
