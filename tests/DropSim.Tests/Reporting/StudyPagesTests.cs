using System.Text.Json;
using System.Text.RegularExpressions;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Reporting.Options;
using DropSim.Reporting.Studies;
using DropSim.Studies;
using DropSim.Tests.Dismantle;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

/// <summary>docs/results.md names every file, column and key that a study of settings or of a whole spar writes, and none besides.</summary>
public sealed partial class StudyPagesTests
{
    private static readonly ReportOptions Options = new() { ProgramVersion = "1.2.3" };

    private static readonly string Page = File.ReadAllText(Path.Combine(Repository.Folder("docs"), "results.md"));

    private static readonly double[] Lengths = [1.2, 0.6];

    private static readonly string[] Parts = ["_median", "_worse_end", "_low", "_high"];

    private static StudyDocument OptionsOfALog
    {
        get
        {
            var dropCase = MinimalFileTests.First(MinimalFileTests.Minimal);
            var run = DropSimulator.Run(dropCase.Input, new RunOptions { Detail = RunDetail.MeasuresOnly });
            OptionOutcome[] outcomes =
            [
                .. Lengths.Select(length => dropCase with { Input = dropCase.Input with { Piece = dropCase.Input.Piece with { Length = length } } })
                    .Select(c => OptionsStudy.Judge(new(c, 2.5, 2.5, true), [.. Enumerable.Repeat(run, 20)], 20)),
            ];
            var check = new OptionsCheck(1, OptionsStudy.MeasureIdsTold.ToDictionary(id => id, _ => 1e-6), 0, 0);
            return OptionsDocument.Build(new("log", "Log", "0123456789ab", dropCase, new(new OptionsPlan { Draws = 20 }, outcomes, 2, true, 40, check), false, []), Options);
        }
    }

    private static StudyDocument Dismantled => DismantleDocument.Build(SparFiles.Result, Options, CrewSheets.Of(SparFiles.Result, Options));

    [Fact]
    public void Every_file_and_column_of_the_options_is_explained_and_no_other() => Holds(OptionsOfALog, "settings.csv");

    [Fact]
    public void Every_file_and_column_of_a_whole_spar_is_explained_and_no_other() => Holds(Dismantled, "cuts.csv");

    private static void Holds(StudyDocument document, string table)
    {
        var section = Section($"## NAME-{document.Verb}");
        var names = Quoted().Matches(section).Select(m => m.Groups[1].Value).ToHashSet();

        string[] files = [.. document.Tables.Select(t => t.FileName), .. document.Figures.Select(f => f.FileName), .. document.OtherFiles.Select(f => f.Name), "study.json"];
        names.Where(n => FileName().IsMatch(n)).Should().BeEquivalentTo(files);

        var written = document.Tables.Single(t => t.FileName == table).Columns.Select(c => InGeneral(c, document.Verb)).Distinct().ToArray();
        var explained = section[section.IndexOf($"| column of {table} |", StringComparison.Ordinal)..].Split('\n').Skip(2).TakeWhile(r => r.StartsWith('|'))
            .SelectMany(r => Quoted().Matches(r.Split('|')[1]).Select(m => m.Groups[1].Value)).ToArray();
        explained.Should().OnlyHaveUniqueItems();
        explained.Should().BeEquivalentTo(written);

        // Measures stand in the text by their id; so do the columns of smaller tables and the keys under the verb's name.
        foreach (var id in document.Tables.Single(t => t.FileName == table).Columns.Select(c => Ids.FirstOrDefault(i => c.Name.StartsWith(i, StringComparison.Ordinal))).OfType<string>().Distinct())
        {
            names.Should().Contain(id);
        }

        foreach (var column in document.Tables.Where(t => t.FileName != table).SelectMany(t => t.Columns))
        {
            names.Should().Contain(column.Name);
        }

        foreach (var key in Keys(document))
        {
            names.Should().Contain(key);
        }
    }

    private static readonly string[] Ids =
        [.. typeof(MeasureIds).GetFields().Where(f => f.IsLiteral).Select(f => (string)f.GetRawConstantValue()!).OrderByDescending(i => i.Length)];

    /// <summary>"rigging_point_force_median_N" is a MEASURE_median_UNIT, "outside_rope" an outside_LIMIT.</summary>
    private static string InGeneral(StudyColumn column, string verb)
    {
        if (verb == "options" && column.Name.StartsWith("outside_", StringComparison.Ordinal) && column.Name != "outside_caught")
        {
            return "outside_LIMIT";
        }

        var id = Ids.FirstOrDefault(i => column.Name.StartsWith(i, StringComparison.Ordinal));
        if (id is null)
        {
            return column.Name;
        }

        var rest = column.Name[id.Length..];
        var part = Parts.FirstOrDefault(p => rest.StartsWith(p, StringComparison.Ordinal)) ?? "";
        return "MEASURE" + (rest is "_state" or "_range_cut_short" ? rest : part + "_UNIT");
    }

    /// <summary>The keys under the verb's name, those of the cases left out: they are those of summary.json.</summary>
    private static string[] Keys(StudyDocument document)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            document.Details!(json);
            json.WriteEndObject();
        }

        using var read = JsonDocument.Parse(stream.ToArray());
        List<string> keys = [];
        void Collect(JsonElement element)
        {
            if (element.ValueKind == JsonValueKind.Object)
            {
                foreach (var property in element.EnumerateObject())
                {
                    keys.Add(property.Name);
                    if (property.Name is not ("cases" or "diameters" or "largest_relative_change"))
                    {
                        Collect(property.Value);
                    }
                }
            }
            else if (element.ValueKind == JsonValueKind.Array)
            {
                foreach (var item in element.EnumerateArray())
                {
                    Collect(item);
                }
            }
        }

        Collect(read.RootElement);
        return [.. keys.Distinct()];
    }

    private static string Section(string heading)
    {
        var from = Page.IndexOf(heading + "\n", StringComparison.Ordinal);
        from.Should().BePositive();
        var next = Page.IndexOf("\n## ", from + heading.Length, StringComparison.Ordinal);
        return next < 0 ? Page[from..] : Page[from..next];
    }

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Quoted();

    [GeneratedRegex(@"^[A-Za-z0-9-]+\.(csv|png|pdf|json)$")]
    private static partial Regex FileName();
}
