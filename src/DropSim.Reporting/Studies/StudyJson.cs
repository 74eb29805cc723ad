using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Files;

namespace DropSim.Reporting.Studies;

/// <summary>study.json: what a study found, always in SI, with all digits (docs/results.md).</summary>
internal static class StudyJson
{
    /// <summary>Rises when a reader of the file would have to change.</summary>
    private const int SchemaVersion = 1;

    /// <summary>Writes the file.</summary>
    /// <param name="document">What was found.</param>
    /// <param name="options">Program version.</param>
    /// <param name="files">Names of all files of the folder.</param>
    /// <param name="stream">Where to.</param>
    internal static void Write(StudyDocument document, ReportOptions options, IReadOnlyList<string> files, Stream stream)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteNumber("schema_version", SchemaVersion);
        json.WriteString("program", "DropSim");
        json.WriteString("program_version", options.ProgramVersion);
        json.WriteString("study", document.Verb);
        json.WriteString("units", "SI; times in s from hinge break");
        json.WriteStartObject("scenario");
        json.WriteString("name", document.ScenarioName);
        json.WriteString("title", document.ScenarioTitle);
        json.WriteString("source_sha256_start", document.SourceHash);
        json.WriteEndObject();
        json.WriteBoolean("complete", document.CutShort is null && document.Faults.Count == 0);
        json.WriteString("cut_short", document.CutShort);
        JsonParts.Strings(json, ResultIndex.FilesKey, files);
        JsonParts.Strings(json, "findings", document.Findings);
        JsonParts.Strings(json, "warnings", document.Warnings);
        JsonParts.Strings(json, "cautions", Cautions.Reading);
        JsonParts.Strings(json, "not_modelled", Cautions.NotModelled);
        if (document.Details is { } details)
        {
            json.WriteStartObject(document.Verb.Replace('-', '_'));
            details(json);
            json.WriteEndObject();
        }

        JsonParts.Array(json, "tables", document.Tables, Table);
        JsonParts.Array(json, "inputs_used", document.Inputs, (j, inputs) =>
        {
            j.WriteString("case", inputs.Case);
            JsonParts.Array(j, "values", inputs.Notes, Note);
        });
        json.WriteEndObject();
    }

    /// <summary>One value that was used, as in every JSON file of results.</summary>
    internal static void Note(Utf8JsonWriter json, InputNote note)
    {
        json.WriteString("key", note.Path);
        json.WriteString("value", note.Value);
        json.WriteString("range", note.Range);
        json.WriteBoolean("given", note.Given);
        json.WriteString("source", note.Source);
    }

    private static void Table(Utf8JsonWriter json, StudyTable table)
    {
        json.WriteString("name", table.Name);
        json.WriteString("file", table.FileName);
        JsonParts.Strings(json, "columns", table.Columns.Select(c => c.Name));
        json.WriteNumber("row_count", table.Rows.Count);
        if (!table.InJson)
        {
            return;
        }

        json.WriteStartArray("rows");
        foreach (var row in table.Rows)
        {
            json.WriteStartArray();
            foreach (var cell in row)
            {
                if (cell.Word is { } word)
                {
                    json.WriteStringValue(word);
                }
                else
                {
                    JsonParts.Number(json, cell.Number);
                }
            }

            json.WriteEndArray();
        }

        json.WriteEndArray();
    }
}
