using System.Text;
using System.Text.Json;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;

namespace DropSim.Tests.Studies;

public sealed class StudyReportTests : IDisposable
{
    private static readonly ReportOptions Options = new() { ProgramVersion = "1.2.3", Threads = 2 };

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_folder_holds_tables_other_files_and_a_JSON_file_that_says_what_it_is()
    {
        var files = StudyReport.Write(Example, _folder, Options).Files;

        files.Select(f => Path.GetRelativePath(_folder, f)).Should().BeEquivalentTo(
            [Path.Combine("my-log-vary", "curves.csv"), Path.Combine("my-log-vary", "sheet.txt"), Path.Combine("my-log-vary", "study.json")]);
        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(_folder, "my-log-vary", "study.json")));
        var root = json.RootElement;
        root.GetProperty("schema_version").GetInt32().Should().Be(1);
        root.GetProperty("program_version").GetString().Should().Be("1.2.3");
        root.GetProperty("study").GetString().Should().Be("vary");
        root.GetProperty("scenario").GetProperty("source_sha256_start").GetString().Should().Be("0123456789ab");
        root.GetProperty("complete").GetBoolean().Should().BeTrue();
        root.GetProperty("files").EnumerateArray().Select(f => f.GetString()).Should().BeEquivalentTo("curves.csv", "sheet.txt", "study.json");
        root.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()).Should().Equal(Cautions.Reading);
        root.GetProperty("vary").GetProperty("inputs").GetInt32().Should().Be(1);
        root.GetProperty("inputs_used")[0].GetProperty("values")[0].GetProperty("source").GetString().Should().Be("from memory");
        var rows = root.GetProperty("tables")[0].GetProperty("rows");
        rows[0].EnumerateArray().Select(c => c.GetRawText()).Should().Equal("2.5", "9806.65", "\"exact\"");
        rows[1][1].ValueKind.Should().Be(JsonValueKind.Null, "a number that does not exist is null");
    }

    [Fact]
    public void A_table_is_in_the_units_asked_for_and_its_JSON_in_SI()
    {
        StudyReport.Write(Example, _folder, Options with { Units = UnitSystem.Us });

        // 9806.65 N are 1000 kg x 9.80665 m/s2, and 1 lbf is 0.45359237 kg x 9.80665 m/s2: 1000 / 0.45359237 lbf.
        var lines = File.ReadAllText(Path.Combine(_folder, "my-log-vary", "curves.csv"), Encoding.UTF8).Split('\n');
        lines[0].Should().Be("wraps,rigging_point_force_lbf,state");
        lines[2].Should().Be("3,,not reached");
        double.Parse(lines[1].Split(',')[1], System.Globalization.CultureInfo.InvariantCulture).Should().BeApproximately(1000 / 0.45359237, 1e-9);
        File.ReadAllText(Path.Combine(_folder, "my-log-vary", "study.json")).Should().Contain("9806.65");
    }

    [Fact]
    public void An_interrupted_study_is_written_and_says_so()
    {
        StudyReport.Write(Example with { CutShort = "3 of 9 drops were computed." }, _folder, Options);

        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(_folder, "my-log-vary", "study.json")));
        json.RootElement.GetProperty("complete").GetBoolean().Should().BeFalse();
        json.RootElement.GetProperty("cut_short").GetString().Should().Be("3 of 9 drops were computed.");
    }

    [Fact]
    public void A_second_study_replaces_its_own_files_and_no_others()
    {
        StudyReport.Write(Example, _folder, Options);
        File.WriteAllText(Path.Combine(_folder, "my-log-vary", "measured.csv"), "ours");

        StudyReport.Write(Example with { OtherFiles = [] }, _folder, Options);

        Directory.EnumerateFiles(Path.Combine(_folder, "my-log-vary")).Select(Path.GetFileName)
            .Should().BeEquivalentTo("curves.csv", "measured.csv", "study.json");
    }

    private static StudyDocument Example => new()
    {
        Verb = "vary",
        ScenarioName = "my-log",
        ScenarioTitle = "My log",
        SourceHash = "0123456789ab",
        Findings = ["More wraps, more force."],
        Tables =
        [
            new("curves", [new("wraps"), new("rigging_point_force_N", "N"), new("state")],
                [[2.5, 9806.65, "exact"], [3.0, double.NaN, "not reached"]]),
        ],
        Figures = [],
        Inputs = [new("base-hard-stop", [new InputNote("device.wraps", "2.5", "", true, "from memory")])],
        OtherFiles = [new ResultFile("sheet.txt", stream => stream.Write("text"u8))],
        Details = json => json.WriteNumber("inputs", 1),
    };
}
