using System.Globalization;
using System.Text.Json;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Files;
using DropSim.Studies;

namespace DropSim.Tests.Reporting;

public sealed class FilesTests : IDisposable
{
    private static readonly ReportOptions Coarse = new() { CsvInterval = 0.01, ProgramVersion = "test", Threads = 2 };

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Every_column_that_is_promised_is_there_in_SI()
    {
        var rows = Csv(RealResult.MediumLog.Cases[0].Run, UnitSystem.Si);

        rows[0].Should().ContainInOrder(
            "time_s", "load_leg_tension_N", "ground_leg_tension_N", "hand_tension_N", "rigging_point_force_N", "rigging_point_force_x_N",
            "rigging_point_force_z_N", "piece_x_m", "piece_z_m", "piece_lean_rad", "piece_speed_m_s", "lowest_point_m", "rope_run_m", "rope_slip_m",
            "rigging_point_deflection_m", "tip_deflection_m", "climber_deflection_m", "climber_acceleration_m_s2", "spar_base_moment_N_m",
            "contact_force_N", "energy_imbalance", "phase");
    }

    [Fact]
    public void Numbers_come_back_from_the_file_as_the_bits_that_went_in()
    {
        var run = RealResult.MediumLog.Cases[0].Run;
        var rows = Csv(run, UnitSystem.Si);
        var table = run.Traces!.Sample(0.01);
        var column = Array.IndexOf(rows[0], "load_leg_tension_N");

        var read = rows.Skip(1).Select(r => double.Parse(r[column], NumberStyles.Float, CultureInfo.InvariantCulture)).ToArray();

        read.Should().Equal(table["load_leg_tension_N"].ToArray());
        rows.Skip(1).Select(r => r[^1]).Should().Equal(table.Phase);
    }

    [Fact]
    public void US_columns_are_named_and_scaled()
    {
        var si = Csv(RealResult.MediumLog.Cases[0].Run, UnitSystem.Si);
        var us = Csv(RealResult.MediumLog.Cases[0].Run, UnitSystem.Us);

        us[0].Should().Contain(["load_leg_tension_lbf", "piece_z_ft", "piece_speed_ft_s", "climber_acceleration_ft_s2", "spar_base_moment_lbf_ft", "time_s"]);
        static double At(IReadOnlyList<string[]> rows, string name) => double.Parse(rows[150][Array.IndexOf(rows[0], name)], CultureInfo.InvariantCulture);

        // 1 lbf = 4.4482216152605 N and 1 ft = 0.3048 m by definition.
        At(us, "load_leg_tension_lbf").Should().BeApproximately(At(si, "load_leg_tension_N") / 4.4482216152605, 1e-9);
        At(us, "piece_z_ft").Should().BeApproximately(At(si, "piece_z_m") / 0.3048, 1e-9);
    }

    [Fact]
    public void Every_event_stands_in_the_table_and_time_never_goes_back()
    {
        var run = RealResult.MediumLog.Cases[0].Run;
        var times = run.Traces!.Sample(0.01)["time_s"].ToArray();

        times.Should().BeInAscendingOrder();
        foreach (var e in run.Events.Where(e => e.Time < run.End.Time))
        {
            times.Should().Contain(t => Math.Abs(t - e.Time) < 1e-9, $"'{e.Kind}' at {e.Time} is an event");
        }
    }

    [Fact]
    public void The_largest_load_leg_tension_of_the_curve_is_the_measure()
    {
        var run = RealResult.MediumLog.Cases[0].Run;

        // On a grid of 0.1 ms a peak some hundredths of a second wide is seen to a part in ten thousand.
        var largest = run.Traces!.Sample(1e-4)["load_leg_tension_N"].ToArray().Max();

        largest.Should().BeLessThanOrEqualTo(run[MeasureIds.LoadLegTension].Value * (1 + 1e-9));
        largest.Should().BeApproximately(run[MeasureIds.LoadLegTension].Value, 1e-4 * largest);
    }

    [Fact]
    public void The_energy_columns_sum_to_a_constant()
    {
        var run = RealResult.MediumLog.Cases[1].Run;
        var table = run.Traces!.Sample(0.01);
        var parts = table.Columns.Where(c => c.Unit == "J").Select(c => c.Values.ToArray()).ToArray();

        var sums = Enumerable.Range(0, table.RowCount).Select(r => parts.Sum(p => p[r])).ToArray();

        (sums.Max() - sums.Min()).Should().BeLessThan(1e-4 * run.Ledger.Fallen, "the books close");
    }

    [Fact]
    public void Summary_is_valid_JSON_with_every_measure_state_and_caution()
    {
        using var stream = new MemoryStream();
        SummaryJson.Write(ComparisonText.WithTexts(RealResult.LightLog, UnitSystem.Si), Coarse, ["summary.json"], stream);
        using var json = JsonDocument.Parse(stream.ToArray());

        var root = json.RootElement;
        root.GetProperty("schema_version").GetInt32().Should().Be(1);
        root.GetProperty("cautions").GetArrayLength().Should().BePositive();
        var landed = root.GetProperty("cases")[0];
        landed.GetProperty("end").GetProperty("cuts_short").GetBoolean().Should().BeTrue();
        var measures = landed.GetProperty("measures").EnumerateArray().ToArray();
        measures.Select(m => m.GetProperty("id").GetString()).Should().Equal(RealResult.LightLog.Cases[0].Run.Measures.Select(m => m.Id));
        measures.First(m => m.GetProperty("id").GetString() == MeasureIds.RiggingPointForce).GetProperty("state").GetString().Should().Be("at least");
        root.GetProperty("comparisons").GetArrayLength().Should().Be(RealResult.LightLog.Comparisons.Count);
    }

    [Fact]
    public void A_folder_appears_whole_with_all_its_files()
    {
        var files = ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);

        files.Select(Path.GetFileName).Should().BeEquivalentTo(["base-hard-stop.csv", "base-let-run.csv", "summary.json"]);
        files.Should().OnlyContain(f => File.Exists(f));
        Directory.EnumerateFileSystemEntries(_folder).Select(Path.GetFileName).Should().Equal("medium-log");
    }

    [Fact]
    public void A_failure_leaves_the_old_result_and_nothing_else()
    {
        ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);
        var before = File.ReadAllBytes(Path.Combine(_folder, "medium-log", "summary.json"));

        var failing = () => ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, (_, _) => throw new IOException("disk full"), default);

        failing.Should().Throw<IOException>();
        File.ReadAllBytes(Path.Combine(_folder, "medium-log", "summary.json")).Should().Equal(before);
        Directory.EnumerateFileSystemEntries(_folder).Select(Path.GetFileName).Should().Equal("medium-log");
    }

    [Fact]
    public void A_file_that_cannot_be_written_halfway_leaves_every_old_file_byte_for_byte()
    {
        ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);
        var before = Contents();

        // A picture for a folder that is not there fails in the middle of the writing, when some files are already in the hidden folder.
        var nowhere = new Figure { FileName = "not-there/picture.png", Title = "", Subtitle = "", Footer = [], Panels = [] };
        var coarser = Coarse with { CsvInterval = 0.02 };
        var thrown = Record.Exception(() => ScenarioReport.Write(RealResult.MediumLog, _folder, coarser, (_, _) => [nowhere], default));

        // As the caller's catch sees it: an assertion on what is thrown would look inside an exception that wraps others.
        thrown.Should().BeAssignableTo<IOException>();
        Contents().Should().BeEquivalentTo(before);
        Directory.EnumerateFileSystemEntries(_folder).Select(Path.GetFileName).Should().Equal("medium-log");
    }

    [Fact]
    public void A_cancelled_writing_leaves_the_old_result()
    {
        ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);
        var before = Contents();
        using var source = new CancellationTokenSource();
        source.Cancel();

        var cancelled = () => ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, source.Token);

        cancelled.Should().Throw<OperationCanceledException>();
        Contents().Should().BeEquivalentTo(before);
        Directory.EnumerateFileSystemEntries(_folder).Select(Path.GetFileName).Should().Equal("medium-log");
    }

    [Fact]
    public void A_force_that_jumps_stands_on_both_sides_of_its_instant()
    {
        var table = RealResult.MediumLog.Cases[0].Run.Traces!.Sample(0.01);
        var times = table["time_s"].ToArray();

        // The hinge breaks at zero: until then it bears a force, from then on none.
        var rows = Enumerable.Range(0, table.RowCount).Where(r => times[r] == 0).ToArray();

        rows.Should().HaveCount(2);
        table["hinge_force_N"][rows[0]].Should().BePositive();
        table["hinge_force_N"][rows[1]].Should().Be(0);
        rows.Select(r => table.Phase[r]).Should().Equal("hinged", "free");
    }

    [Fact]
    public void What_is_unknown_is_null_in_JSON_and_empty_in_CSV()
    {
        var one = RealResult.MediumLog.Cases[0];
        var measures = one.Run.Measures.Select(m => m.Id == MeasureIds.RopeRun ? m with { Value = double.NaN, High = double.PositiveInfinity } : m).ToArray();
        var result = RealResult.MediumLog with { Cases = [one with { Run = one.Run with { Measures = measures } }], Comparisons = [], Told = null };
        using var stream = new MemoryStream();
        SummaryJson.Write(result, Coarse, ["summary.json"], stream);
        using var json = JsonDocument.Parse(stream.ToArray());
        var measure = json.RootElement.GetProperty("cases")[0].GetProperty("measures").EnumerateArray()
            .Single(m => m.GetProperty("id").GetString() == MeasureIds.RopeRun);

        measure.GetProperty("value").ValueKind.Should().Be(JsonValueKind.Null);
        measure.GetProperty("high").ValueKind.Should().Be(JsonValueKind.Null);

        using var csv = new MemoryStream();
        TraceCsv.Write(new TraceTable([new("time_s", "s", new[] { 0, 0.5 }), new("piece_z_m", "m", new[] { double.NaN, 1.25 })], ["free", "taut"]), UnitSystem.Si, csv);
        System.Text.Encoding.UTF8.GetString(csv.ToArray()).Should().Be("time_s,piece_z_m,phase\n0,,free\n0.5,1.25,taut\n");
    }

    [Fact]
    public void What_people_put_beside_the_results_stays_whatever_its_ending_and_results_no_longer_made_go()
    {
        var wider = RealResult.MediumLog with { Cases = [.. RealResult.MediumLog.Cases, RenamedCase("gone")], Comparisons = [] };
        ScenarioReport.Write(wider, _folder, Coarse, NoPictures, default);
        var folder = Path.Combine(_folder, "medium-log");
        var gone = Path.Combine(folder, "base-gone.csv");
        File.Exists(gone).Should().BeTrue();
        File.WriteAllText(Path.Combine(folder, "my notes.txt"), "ours");
        File.WriteAllText(Path.Combine(folder, "load-cell.csv"), "measured");
        File.WriteAllText(Path.Combine(folder, "site.png"), "a photograph");

        ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);

        File.Exists(gone).Should().BeFalse("summary.json listed it and it was not made again");
        File.ReadAllText(Path.Combine(folder, "my notes.txt")).Should().Be("ours");
        File.ReadAllText(Path.Combine(folder, "load-cell.csv")).Should().Be("measured");
        File.ReadAllText(Path.Combine(folder, "site.png")).Should().Be("a photograph");
    }

    [Theory]
    [InlineData("not JSON at all")]
    [InlineData("[]")]
    [InlineData("{\"files\": 3}")]
    [InlineData("{\"files\": [\"../other.txt\", 7, null]}")]
    public void An_index_that_cannot_be_believed_throws_nothing_away(string index)
    {
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "medium-log")).FullName;
        File.WriteAllText(Path.Combine(folder, "summary.json"), index);
        File.WriteAllText(Path.Combine(folder, "old-case.csv"), "whose?");
        File.WriteAllText(Path.Combine(_folder, "other.txt"), "outside");

        ScenarioReport.Write(RealResult.MediumLog, _folder, Coarse, NoPictures, default);

        File.ReadAllText(Path.Combine(folder, "old-case.csv")).Should().Be("whose?");
        File.ReadAllText(Path.Combine(_folder, "other.txt")).Should().Be("outside");
    }

    private static CaseResult RenamedCase(string name)
    {
        var one = RealResult.MediumLog.Cases[0];
        return one with { Case = one.Case with { CatchName = name } };
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("..")]
    [InlineData("a/b\\c")]
    [InlineData("con")]
    [InlineData("")]
    [InlineData("\u0000\u0007")]
    public void A_hostile_name_stays_inside_its_folder(string name)
    {
        var files = ScenarioReport.Write(RealResult.MediumLog with { Name = name }, _folder, Coarse, NoPictures, default);

        var root = Path.GetFullPath(_folder) + Path.DirectorySeparatorChar;
        files.Should().OnlyContain(f => Path.GetFullPath(f).StartsWith(root, StringComparison.Ordinal) && File.Exists(f));
        Directory.EnumerateFileSystemEntries(_folder).Should().ContainSingle();
    }

    [Fact]
    public void A_very_long_name_becomes_a_short_one()
    {
        var files = ScenarioReport.Write(RealResult.MediumLog with { Name = new string('x', 5000) }, _folder, Coarse, NoPictures, default);

        files.Should().OnlyContain(f => File.Exists(f));
        FileNames.Distinct(["Let run", "let/run", "LET-RUN"]).Should().Equal("Let-run", "let-run-2", "LET-RUN-3");
    }

    private Dictionary<string, string> Contents() => Directory.EnumerateFiles(Path.Combine(_folder, "medium-log"))
        .ToDictionary(f => Path.GetFileName(f), f => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(f))), StringComparer.Ordinal);

    private static IReadOnlyList<Figure> NoPictures(ScenarioResult result, ReportOptions options) => [];

    private static List<string[]> Csv(DropRun run, UnitSystem units)
    {
        using var stream = new MemoryStream();
        TraceCsv.Write(run.Traces!.Sample(0.01), units, stream);
        var text = System.Text.Encoding.UTF8.GetString(stream.ToArray());
        text.Should().NotContain("\r");
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.Split(','))];
    }
}
