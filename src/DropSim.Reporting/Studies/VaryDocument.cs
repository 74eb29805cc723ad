using System.Text.Json;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>What a vary study found: sentences, tables, pictures.</summary>
internal static class VaryDocument
{
    /// <summary>A longer table is kept out of the JSON file; the CSV file has it.</summary>
    private const int LongestInJson = 2000;

    /// <summary>An input with more values than this is an axis, not a family of curves.</summary>
    internal const int MostCurves = 6;

    /// <summary>Rows of a table on the screen before any is left out; what the sentences name comes on top.</summary>
    internal const int MostRows = 25;

    private const string DropsTable = "drops";

    /// <summary>Fills the document.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="options">Units, version.</param>
    internal static StudyDocument Of(VaryResult result, ReportOptions options)
    {
        var scales = Enumerable.Range(0, result.Options.Measures.Count).Select(m => new VaryScale(result, m, options.Units)).ToArray();
        var map = result.Axes.Count == 2 && result.Axes.All(a => !a.AreWords && a.Values.Count > MostCurves);
        var words = new VaryWords(result, scales);
        return new()
        {
            Verb = "vary",
            ScenarioName = result.ScenarioName,
            ScenarioTitle = result.Title,
            SourceHash = result.SourceHash,
            Findings = [.. words.Findings()],
            Tables = [Table(result, scales)],
            Figures = [.. scales.SelectMany(s => map
                ? Enumerable.Range(0, result.Cases.Count).Select(c => VaryMap.Build(result, c, s, words, options))
                : [VaryCurves.Build(result, s, words, options)])],
            Screens = result.Axes.Count == 1 ? [.. scales.Select(s => Screen(result, s, words))] : [],
            Inputs = [.. result.Cases.Select(c => new StudyInputs(c.Central.Name, c.Central.Notes))],
            Warnings = [.. result.Cases.SelectMany(c => Format.Warnings(c.Central, options.Units)).Distinct()],
            CutShort = result.Runs.CutShort
                ? FormattableString.Invariant($"Interrupted: {result.Runs.Finished} of {result.Runs.Asked} drops were computed; the rest is missing from tables and pictures.") : null,
            Details = json => Details(json, result),
        };
    }

    private static StudyTable Table(VaryResult result, VaryScale[] scales)
    {
        List<StudyColumn> columns = [new("setup"), new("catch")];
        columns.AddRange(result.Axes.Select(a => new StudyColumn(Column(a), a.SiUnit)));
        foreach (var scale in scales)
        {
            var unit = scale.Measure.Unit;
            columns.Add(new(unit.Length == 0 ? scale.Id : $"{scale.Id}_{unit.Replace('/', '_').Replace(' ', '_')}", unit));
            columns.Add(new($"{scale.Id}_state"));
        }

        columns.Add(new("end"));
        var rows = new List<IReadOnlyList<StudyCell>>();
        for (var c = 0; c < result.Cases.Count; c++)
        {
            for (var i = 0; i < result.FirstCount; i++)
            {
                for (var j = 0; j < result.SecondCount; j++)
                {
                    if (result.At(c, i, j) is not { } drop)
                    {
                        continue;
                    }

                    List<StudyCell> row = [result.Cases[c].Central.Setup, result.Cases[c].Central.CatchName, Cell(result.Axes[0], i)];
                    if (result.Axes.Count > 1)
                    {
                        row.Add(Cell(result.Axes[1], j));
                    }

                    for (var m = 0; m < scales.Length; m++)
                    {
                        row.Add(drop.Values[m]);
                        row.Add(drop.End is null ? "not computed" : SummaryJson.Word(drop.States[m]));
                    }

                    row.Add(drop.Ending);
                    rows.Add(row);
                }
            }
        }

        return new(DropsTable, columns, rows, rows.Count <= LongestInJson);
    }

    private static StudyCell Cell(VariedAxis axis, int index) => axis.AreWords ? axis.Texts[index] : axis.Values[index];

    private static string Column(VariedAxis axis)
    {
        var name = axis.Path.Replace('.', '_').Replace('-', '_');
        return axis.SiUnit.Length == 0 ? name : $"{name}_{axis.SiUnit.Replace('/', '_').Replace(' ', '_')}";
    }

    /// <summary>Rows of a table for the screen: all of them where they are few, else every second, third, ... with both ends and what the sentences name.</summary>
    private static ScreenTable Screen(VaryResult result, VaryScale scale, VaryWords words)
    {
        var count = result.FirstCount;
        var step = (count + MostRows - 2) / (MostRows - 1);
        var named = words.Named(scale);
        int[] shown = [.. Enumerable.Range(0, count).Where(i => count <= MostRows || i % step == 0 || i == count - 1 || named.Contains(i))];
        return new(
            scale.Measure.Label,
            [result.Axes[0].Name, .. result.Cases.Select(c => c.Central.Name)],
            [.. shown.Select(i => (IReadOnlyList<string>)[result.Axes[0].Texts[i], .. Enumerable.Range(0, result.Cases.Count).Select(c => Shown(result, scale, c, i))])])
        {
            Note = shown.Length == count ? ""
                : FormattableString.Invariant($"{count - shown.Length} of {count} values are left out, between those shown. All stand in {DropsTable}.csv."),
        };
    }

    private static string Shown(VaryResult result, VaryScale scale, int c, int i) =>
        result.At(c, i, 0) is not { } drop ? "not finished"
        : drop.End is null ? "not computed"
        : drop.States[scale.Place] switch
        {
            MeasureState.AtLeast => "at least " + scale.Say(drop.Values[scale.Place]),
            MeasureState.NotReached => "not reached",
            MeasureState.Unknown => "unknown",
            MeasureState.Indicative => scale.Say(drop.Values[scale.Place]) + " (indicative)",
            _ => scale.Say(drop.Values[scale.Place]),
        };

    private static void Details(Utf8JsonWriter json, VaryResult result)
    {
        JsonParts.Array(json, "inputs", result.Axes, (j, a) =>
        {
            j.WriteString("key", a.Path);
            j.WriteString("unit", a.SiUnit);
            j.WriteStartArray("values");
            for (var i = 0; i < a.Values.Count; i++)
            {
                if (a.AreWords)
                {
                    j.WriteStringValue(a.Texts[i]);
                }
                else
                {
                    JsonParts.Number(j, a.Values[i]);
                }
            }

            j.WriteEndArray();
        });
        JsonParts.Strings(json, "measures", result.Options.Measures);
        json.WriteNumber("drops_asked", result.Runs.Asked);
        json.WriteNumber("drops_computed", result.Runs.Finished);
        json.WriteNumber("relative_tolerance", result.Options.Tolerance);
        json.WriteStartObject("check");
        json.WriteString("how", "drops spread over all, repeated at a tenth of the scenario's own tolerance");
        json.WriteNumber("drops", result.Check.Drops);
        json.WriteNumber("ends_changed", result.Check.EndsChanged);
        JsonParts.Array(json, "largest_relative_change", result.Options.Measures.Select((id, m) => (id, m)), (j, x) =>
        {
            j.WriteString("id", x.id);
            JsonParts.Number(j, "relative", result.Check.Largest[x.m]);
        });
        json.WriteEndObject();
    }
}
