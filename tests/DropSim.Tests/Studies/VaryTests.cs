using System.Text.Json;
using DropSim.Cli;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Studies;
using DropSim.Studies;
using DropSim.Tests.Cli;
using DropSim.Tests.Model;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Studies;

public sealed class VaryTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_range_takes_its_unit_from_its_end_and_meets_both_ends()
    {
        var input = VariedInput.Read("rope.slack=0..50 cm:3", [])!;

        input.Axis.Values.Should().Equal(0, 0.25, 0.5);
        input.Axis.Unit.Should().Be("cm");
        input.Axis.Texts.Should().Equal("0 cm", "25 cm", "50 cm");
    }

    [Fact]
    public void A_list_may_hold_words() => VariedInput.Read("rigging-point.kind=ring, block", [])!.Axis.Texts.Should().Equal("ring", "block");

    [Theory]
    [InlineData("rope.slak=0..1 m", "Nearest known name: rope.slack")]
    [InlineData("rope.slack", "key=from..to")]
    [InlineData("rope.slack=1..0 m", "from the smaller to the larger")]
    [InlineData("rope.slack=0..1 m:1", "from 2 to")]
    [InlineData("rope.slack=0..1 kg", "m")]
    [InlineData("rope.slack=0..99 m", "0 to 10 m")]
    [InlineData("rigging-point.kind=ring", "at least two words")]
    public void What_cannot_be_read_is_refused_with_what_was_expected(string text, string expected)
    {
        var problems = new List<string>();

        VariedInput.Read(text, problems).Should().BeNull();
        problems.Should().ContainSingle().Which.Should().Contain(expected);
    }

    [Fact]
    public void The_numbers_are_the_same_on_any_number_of_threads()
    {
        var one = Slacks(1);
        var three = Slacks(3);

        one.Done.Select(d => d.Result.Values[0]).Should().Equal(three.Done.Select(d => d.Result.Values[0]));
        one.Done.Select(d => d.Result.Values[0]).Should().OnlyHaveUniqueItems("slack matters");
    }

    [Fact]
    public void A_drop_that_is_not_caught_is_a_bound_and_never_a_value()
    {
        // With no wraps and a light hand the log falls to the ground.
        var input = SampleDrops.MediumLog;
        (DropInput?, string) At(int i) => (input with { Device = input.Device with { Wraps = i * 2.5 } }, "");
        var runs = VaryStudy.Compute(2, At, input, new([MeasureIds.RiggingPointForce, MeasureIds.Room], 1e-5, 2));

        runs[0].CutShort.Should().BeTrue();
        runs[0].States[0].Should().Be(MeasureState.AtLeast);
        runs[1].States[0].Should().Be(MeasureState.Exact);
        runs[0].Values[0].Should().BeLessThan(runs[1].Values[0], "this is why it must not be drawn as small");
    }

    [Fact]
    public void The_loose_tolerance_is_enough_for_what_is_plotted()
    {
        var input = SampleDrops.MediumLog;
        (DropInput?, string) At(int i) => (input with { Rope = input.Rope with { Slack = 0.1 * i } }, "");
        var options = new VaryOptions([MeasureIds.RiggingPointForce, MeasureIds.RopeRun], VaryStudy.DefaultTolerance, 2);
        var runs = VaryStudy.Compute(6, At, input, options);

        var check = VaryStudy.Check(runs, At, options);

        // A line of 4 pixels in a picture of 700 pixels is 0.6 % of the largest value.
        check.Drops.Should().Be(6);
        check.EndsChanged.Should().Be(0);
        check.Largest.Should().OnlyContain(m => m < 1e-3);
    }

    [Fact]
    public void Rope_run_never_rises_with_wraps_because_more_wraps_hold_more()
    {
        var input = SampleDrops.MediumLog;
        var runs = VaryStudy.Compute(
            9, i => (input with { Device = input.Device with { Wraps = 2 + (0.25 * i) } }, ""), input, new([MeasureIds.RopeRun], 1e-5, 2));

        Trend.Of([.. runs.Done.Select(d => d.Result.Values[0])]).Kind.Should().Be(TrendKind.Falling);
    }

    [Fact]
    public void The_peak_over_the_release_angle_obeys_no_monotone_law()
    {
        // The piece turns while it falls: when the rope comes taut it may be turned into the rope or away from it.
        var input = SampleDrops.MediumLog.HardStop();
        input = input with { Rope = input.Rope with { Stiffness = 0.4 * input.Rope.Stiffness } };
        var runs = VaryStudy.Compute(
            9, i => (input with { Start = input.Start with { ReleaseAngle = (40 + (6.25 * i)) * Math.PI / 180 } }, ""), input, new([MeasureIds.LoadLegTension], 1e-5, 2));

        Trend.Of([.. runs.Done.Select(d => d.Result.Values[0])]).Kind.Should().Be(TrendKind.Neither);
    }

    [Fact]
    public void Strengths_that_the_scenario_states_become_lines_and_unknown_ones_do_not()
    {
        var input = SampleDrops.MediumLog.HardStop() with
        {
            Strength = new() { Rope = 40e3, KnotEfficiency = 0.6, WetFactor = 0.9, Sling = 50e3, DesignFactor = 5 },
        };

        // 40 kN x 0.9 x 0.6 = 21.6 kN; over the design factor 21.6 / 5 = 4.32 kN; sling 50 and 10 kN.
        KnownLimits.For(MeasureIds.LoadLegTension, input).Select(l => Math.Round(l.Value, 6)).Should().Equal(21.6e3, 4.32e3);
        KnownLimits.For(MeasureIds.RiggingPointForce, input).Select(l => l.Value).Should().Equal(50e3, 10e3);
        KnownLimits.For(MeasureIds.Room, input).Should().BeEmpty();
    }

    [Fact]
    public void The_command_writes_a_map_with_its_table_and_says_how_exact_it_is()
    {
        var (code, output, error) = CommandLine.Run(
            "vary", Path.Combine(Repository.Folder("scenarios"), "medium-log.toml"), "--input", "device.wraps=1..4:7", "--input", "rope.slack=0..0.6 m:7", "--catch", "let-run", "--out", _folder);

        code.Should().Be(ExitCodes.Done, error);
        output.Should().Contain("repeated at a tenth").And.Contain("worst of the range").And.Contain("reached the ground");
        var folder = Path.Combine(_folder, "medium-log-vary");
        Directory.EnumerateFiles(folder).Select(Path.GetFileName).Should().BeEquivalentTo(
            "drops.csv", "rigging-point-force.png", "room-left.png", "rope-run.png", "study.json");
        File.ReadAllLines(Path.Combine(folder, "drops.csv")).Should().HaveCount(1 + 49).And.Contain(l => l.Contains("at least"));
        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, "study.json")));
        json.RootElement.GetProperty("vary").GetProperty("check").GetProperty("drops").GetInt32().Should().Be(24);
    }

    /// <summary>
    /// A map of 7 x 7 drops made up by hand: the force is 1 kN for each turn and 2 kN for each metre of slack, the three drops with one turn and
    /// the most slack were not caught and read "at least" 0.5 kN; the sling bears 6 kN.
    /// </summary>
    private static Figure Map()
    {
        var input = SampleDrops.MediumLog with { Strength = new() { Sling = 6e3 } };
        double[] turns = [1, 1.5, 2, 2.5, 3, 3.5, 4];
        double[] slacks = [0, 0.25, 0.5, 0.75, 1, 1.25, 1.5];
        var drops = turns.SelectMany(w => slacks.Select(s => w == 1 && s >= 1
            ? new VariedDrop([500], [MeasureState.AtLeast], [[6e3]], EndKind.Ground, true, "landed")
            : new VariedDrop([(1e3 * w) + (2e3 * s)], [MeasureState.Exact], [[6e3]], EndKind.Settled, false, "hangs"))).ToArray();
        static VariedAxis Axis(string path, string unit, double[] values) => new(path, unit, 1, unit, values, [.. values.Select(v => $"{v}")], false);
        var options = new VaryOptions([MeasureIds.RiggingPointForce], 1e-5, 1);
        InputNote[] notes = [new("device.wraps", "2.5", "", true, "test") { Number = 2.5 }, new("rope.slack", "0.2 m", "", true, "test") { Number = 0.2 }];
        var central = new VariedCase(new DropCase("base", "let-run", input, [], notes, []), DropSimulator.Run(input));
        var result = new VaryResult(
            "log", "Log", "0123456789ab", [Axis("device.wraps", "", turns), Axis("rope.slack", "m", slacks)], [central], options,
            StudyRuns.Compute(drops.Length, (i, _) => drops[i], 1), new(1, [0], 0));
        return VaryDocument.Of(result, new ReportOptions { ProgramVersion = "test" }).Figures.Single();
    }

    [Fact]
    public void A_map_holds_every_drop_at_its_place_and_none_that_was_not_caught()
    {
        var field = Map().Panels[0].Field!;

        field.X.Should().Equal(1, 1.5, 2, 2.5, 3, 3.5, 4);
        field.Y.Should().Equal(0, 0.25, 0.5, 0.75, 1, 1.25, 1.5);
        for (var i = 0; i < 7; i++)
        {
            for (var j = 0; j < 7; j++)
            {
                // kN: turns + 2 x slack; a small "at least" is no small force.
                if (i == 0 && j >= 4)
                {
                    field.Values[i, j].Should().Be(double.NaN);
                }
                else
                {
                    field.Values[i, j].Should().BeApproximately(1 + (0.5 * i) + (2 * 0.25 * j), 1e-12);
                }
            }
        }

        // Bands rise between 1 and 7 kN, one colour more than there are borders, darker where there is more force.
        field.Levels.Should().BeInAscendingOrder().And.OnlyContain(l => l > 1 && l < 7);
        field.Fills.Should().HaveCount(field.Levels.Length + 1).And.OnlyHaveUniqueItems();
        static int Light(string colour) => Convert.ToInt32(colour[1..3], 16) + Convert.ToInt32(colour[3..5], 16) + Convert.ToInt32(colour[5..7], 16);
        field.Fills.Select(Light).Should().BeInDescendingOrder();
    }

    [Fact]
    public void A_map_draws_the_limit_where_the_force_meets_it_and_says_what_is_hatched()
    {
        var figure = Map();
        var panel = figure.Panels[0];

        // Sling 6 kN: turns + 2 x slack = 6, from (3, 1.5) to (4, 1).
        var line = panel.Curves.Where(c => c.Name == "sling's breaking strength" && c.Stroke.Dash == Dash.DashDot).Should().ContainSingle().Subject;
        line.X.Zip(line.Y).Should().OnlyContain(p => Math.Abs(p.First + (2 * p.Second) - 6) < 1e-9);
        line.X.Min().Should().BeApproximately(3, 1e-9);
        line.X.Max().Should().BeApproximately(4, 1e-9);
        panel.Labels.Should().Contain(l => l.Words == "sling's breaking strength, as stated");
        figure.Subtitle.Should().Contain("hatched: not caught");

        // The scenario itself: 2.5 turns, 0.2 m of slack.
        panel.Dots.Should().ContainSingle(d => d.Name == "own" && d.X == 2.5 && d.Y == 0.2);
        panel.X.Min.Should().Be(1);
        panel.X.Max.Should().Be(4);
    }

    [Fact]
    public void An_interrupted_study_keeps_the_drops_that_were_done()
    {
        var input = SampleDrops.MediumLog.HardStop();
        using var cancel = new CancellationTokenSource();
        var done = 0;
        var options = new VaryOptions([MeasureIds.RiggingPointForce], 1e-5, 1);
        (DropInput?, string) At(int i) => (input with { Rope = input.Rope with { Slack = 0.05 * i } }, "");
        var runs = VaryStudy.Compute(30, At, input, options, () =>
        {
            if (++done == 4)
            {
                cancel.Cancel();
            }
        }, cancel.Token);

        runs.Finished.Should().Be(4);
        var axis = new VariedAxis("rope.slack", "m", 1, "m", [.. Enumerable.Range(0, 30).Select(i => 0.05 * i)], [.. Enumerable.Range(0, 30).Select(i => $"{i}")], false);
        var central = new VariedCase(new DropCase("base", "hard-stop", input, [], [], []), DropSimulator.Run(input));
        var report = new ReportOptions { ProgramVersion = "test" };
        var document = VaryDocument.Of(new("x", "X", "0", [axis], [central], options, runs, VaryStudy.Check(runs, At, options, default)), report);
        document.CutShort.Should().Contain("4 of 30");
        StudyReport.Write(document, _folder, report);
        File.ReadAllLines(Path.Combine(_folder, "x-vary", "drops.csv")).Should().HaveCount(5);
    }

    [Theory]
    [InlineData(17, 17)]
    [InlineData(25, 25)]
    [InlineData(26, 14)]
    [InlineData(101, 22)]
    public void A_table_on_the_screen_is_whole_or_says_how_many_values_it_leaves_out(int count, int evenly)
    {
        // The largest value stands at a place that no even step meets.
        var (document, texts) = Line(count, i => i == 13 ? 999e3 : 1e3 * (i + 1));

        var screen = document.Screens.Single();
        var shown = screen.Rows.Select(r => r[0]).ToArray();
        shown.Should().StartWith([texts[0]]).And.EndWith([texts[^1]]).And.OnlyHaveUniqueItems();
        shown.Should().Contain(texts[13]).And.HaveCountGreaterThanOrEqualTo(evenly).And.HaveCountLessThanOrEqualTo(evenly + 1);
        document.Findings[0].Should().Contain($"at {document.Screens[0].Heading[0]} {texts[13]}").And.Contain($"turns at {texts[13]}");
        screen.Note.Should().Be(shown.Length == count ? "" : $"{count - shown.Length} of {count} values are left out, between those shown. All stand in drops.csv.");
    }

    [Fact]
    public void Values_where_drops_begin_and_cease_to_end_badly_stand_in_the_table()
    {
        var (document, texts) = Line(101, i => i is >= 31 and <= 63 ? double.NaN : 1e3 + i);

        document.Findings.Should().Contain(f => f.Contains($"{texts[31]} to {texts[63]}", StringComparison.Ordinal));
        document.Screens.Single().Rows.Select(r => r[0]).Should().Contain([texts[31], texts[63]]);
    }

    [Fact]
    public void The_command_prints_every_value_that_was_asked_for()
    {
        var (code, output, error) = CommandLine.Run(
            "vary", Path.Combine(Repository.Folder("scenarios"), "medium-log.toml"), "--input", "device.wraps=0.5..4.5:17", "--catch", "let-run", "--measure", MeasureIds.RopeRun, "--out", _folder);

        code.Should().Be(ExitCodes.Done, error);
        foreach (var value in new[] { "0.5", "1.5", "2.5", "3.5", "4.5" })
        {
            output.Should().MatchRegex($@"(?m)^\s*{value.Replace(".", "\\.", StringComparison.Ordinal)}\s");
        }

        output.Should().NotContain("left out");
    }

    /// <summary>Drops made up by hand over one input: a value, or not a number for one that landed.</summary>
    private static (StudyDocument Document, string[] Texts) Line(int count, Func<int, double> force)
    {
        var input = SampleDrops.MediumLog;
        string[] texts = [.. Enumerable.Range(0, count).Select(i => $"{0.25 * i} m")];
        var axis = new VariedAxis("rope.slack", "m", 1, "m", [.. Enumerable.Range(0, count).Select(i => 0.25 * i)], texts, false);
        var options = new VaryOptions([MeasureIds.RiggingPointForce], 1e-5, 1);
        var central = new VariedCase(new DropCase("base", "let-run", input, [], [], []), DropSimulator.Run(input));
        var runs = StudyRuns.Compute(count, (i, _) => double.IsNaN(force(i))
            ? new VariedDrop([500], [MeasureState.AtLeast], [[]], EndKind.Ground, true, "landed")
            : new VariedDrop([force(i)], [MeasureState.Exact], [[]], EndKind.Settled, false, "hangs"), 1);
        return (VaryDocument.Of(new("log", "Log", "0123456789ab", [axis], [central], options, runs, new(1, [0], 0)), new ReportOptions { ProgramVersion = "test" }), texts);
    }

    private static StudyRuns<VariedDrop> Slacks(int threads)
    {
        var input = SampleDrops.MediumLog.HardStop();
        return VaryStudy.Compute(
            6, i => (input with { Rope = input.Rope with { Slack = 0.1 * i } }, ""), input, new([MeasureIds.RiggingPointForce], 1e-5, threads));
    }
}
