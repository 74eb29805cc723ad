using System.Text.Json;
using DropSim.Scenarios.Documents;

namespace DropSim.Tests.Scenarios;

/// <summary>
/// The schema and the format document say what the reader does. To renew both after a change of the key table, run these
/// tests with DROPSIM_WRITE_DOCS=1 and look at the difference.
/// </summary>
public sealed class DocumentsInStepTests
{
    private static bool Renew => Environment.GetEnvironmentVariable("DROPSIM_WRITE_DOCS") == "1";

    private static string Docs => Repository.Folder("docs");

    [Fact]
    public void The_schema_file_is_what_the_key_table_gives()
    {
        string path = Path.Combine(Docs, "dropsim-scenario.schema.json");
        string json = ScenarioSchema.Json();
        if (Renew)
        {
            File.WriteAllText(path, json);
        }

        using JsonDocument document = JsonDocument.Parse(json);
        document.RootElement.GetProperty("properties").GetProperty("setup").GetProperty("items").GetProperty("properties")
            .GetProperty("rope").GetProperty("properties").TryGetProperty("hitch-take-up", out _).Should().BeTrue();
        File.ReadAllText(path).Should().Be(json);
    }

    [Fact]
    public void The_format_document_holds_what_the_key_table_gives()
    {
        string path = Path.Combine(Docs, "scenario-format.md");
        string text = File.ReadAllText(path);
        int from = text.IndexOf(FormatTables.Begin, StringComparison.Ordinal);
        int to = text.IndexOf(FormatTables.End, StringComparison.Ordinal);
        from.Should().BeGreaterThan(0);
        to.Should().BeGreaterThan(from);
        string tables = FormatTables.Markdown();
        if (Renew)
        {
            text = text[..from] + tables + text[(to + FormatTables.End.Length)..];
            File.WriteAllText(path, text);
        }
        else
        {
            text[from..(to + FormatTables.End.Length)].Should().Be(tables);
        }
    }
}
