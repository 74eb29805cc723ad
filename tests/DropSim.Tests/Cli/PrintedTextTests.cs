using System.CommandLine.Parsing;
using System.Text.RegularExpressions;
using DropSim.Cli;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Reporting;
using DropSim.Tests.Scenarios;
using static DropSim.Tests.Cli.CommandLine;

namespace DropSim.Tests.Cli;

/// <summary>What stands on the screen: words, characters, examples, messages of failures.</summary>
public sealed partial class PrintedTextTests : IDisposable
{
    private static readonly string[] Commands = ["simulate", "validate", "mass", "catalogue"];

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-text-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static string MediumLog => Path.Combine(Repository.Folder("scenarios"), "medium-log.toml");

    [Fact]
    public void Nothing_printed_reads_as_a_permission_or_is_drawn_for_a_terminal()
    {
        // With every measure, in US units: the longest text there is.
        var simulated = Run("simulate", MediumLog, "--out", _folder, "--csv-interval", "50 ms", "--details", "--verify", "--units", "us");
        simulated.Code.Should().Be(0, simulated.Error);
        simulated.Output.Should().Contain("lbf").And.NotContain(" kN").And.Contain("people decide");
        string[] texts =
        [
            simulated.Output,
            Run("validate", MediumLog).Output,
            Run("mass", "--species", "European ash", "--butt", "40 cm", "--length", "1.25 m").Output,
            Run("catalogue").Output,
            Run("simulate", "nowhere").Error,
            .. Commands.Select(c => Run(c, "--help").Output),
            Run("--help").Output,
        ];

        texts.Should().OnlyContain(t => t.Length > 0 && !Permission().IsMatch(t));
        texts.Should().OnlyContain(t => !t.Any(c => c == '\u001b' || (c >= '\u2500' && c <= '\u259f')), "no escape codes, no box drawing");
    }

    [Fact]
    public void The_text_does_not_depend_on_the_number_of_threads()
    {
        var one = Run("simulate", MediumLog, "--out", _folder, "--csv-interval", "50 ms", "--threads", "1");
        var three = Run("simulate", MediumLog, "--out", _folder, "--csv-interval", "50 ms", "--threads", "3");

        one.Output.Should().Contain("Force on the rigging point").And.Contain("20 set-ups like it");
        three.Output.Should().Be(one.Output);
    }

    [Fact]
    public void Every_example_of_the_help_runs()
    {
        foreach (var command in Commands)
        {
            var examples = Example().Matches(Run(command, "--help").Output).Select(m => m.Groups[1].Value.Trim()).ToArray();
            examples.Length.Should().BeGreaterThan(1, command);
            foreach (var example in examples)
            {
                // Paths are not there where the tests run: read as paths, nothing found.
                var expected = command is "simulate" or "validate" ? ExitCodes.Refused : ExitCodes.Done;
                var (code, _, error) = Run([.. CommandLineParser.SplitCommandLine(example)]);
                code.Should().Be(expected, $"{example}: {error}");
            }
        }
    }

    [Fact]
    public void Version_is_a_number_and_no_command_is_wrong_usage()
    {
        Run("--version").Output.Should().MatchRegex(@"^\d+\.\d+\.\d+");
        Run().Should().Match<(int Code, string Output, string Error)>(r => r.Code == 64 && r.Output.Length == 0 && r.Error.Contains("--help"));
    }

    [Fact]
    public void A_name_that_begins_with_at_is_a_name() =>
        Run("validate", "@nowhere.toml").Should().Match<(int Code, string Output, string Error)>(r => r.Code == 2 && r.Error.Contains("@nowhere.toml: found nothing"));

    [Fact]
    public void A_problem_names_the_file_by_the_path_that_was_given()
    {
        var file = Path.Combine(_folder, "typo.toml");
        File.WriteAllText(file, "[piece]\nlenght = \"1 m\"\n");

        Run("validate", file).Error.Should().Contain($"{file}:2: piece.lenght");
    }

    [Fact]
    public void One_file_named_twice_is_one_scenario()
    {
        var file = Path.Combine(_folder, "log.toml");
        File.Copy(MediumLog, file);

        var (code, output, error) = Run("validate", file, Path.Combine(_folder, ".", "log.toml"), _folder);

        code.Should().Be(0, error);
        Regex.Count(output, "can be read: ").Should().Be(1);
    }

    [Fact]
    public void A_folder_for_results_that_cannot_be_written_is_found_out_before_anything_is_computed()
    {
        var blocked = Path.Combine(_folder, "blocked");
        File.WriteAllText(blocked, "a file where a folder should be");

        var (code, output, error) = Run("simulate", MediumLog, "--out", Path.Combine(blocked, "results"));

        code.Should().Be(1);
        error.Should().Contain("is a file, not a folder").And.Contain("Nothing was computed");
        output.Should().BeEmpty();
        OutputFolder.Obstacle(Path.Combine(_folder, "new", "deep")).Should().BeNull();
        Directory.GetFileSystemEntries(_folder).Should().Equal(blocked);
    }

    [Fact]
    public void A_failure_names_the_case()
    {
        var cases = ScenarioReader.Read(MediumLog).Scenario!.Cases;
        var second = cases[1] with { Input = cases[1].Input with { Piece = cases[1].Input.Piece with { Mass = -1 } } };

        FluentActions.Invoking(() => ScenarioStudy.Compute("x", "x", "", "", [second], 1))
            .Should().Throw<DropInputException>().WithMessage("base-let-run: The piece's mass must be positive.*");
    }

    [Fact]
    public void A_movement_without_a_percentage_is_told_and_a_small_one_is_not_shown_as_none()
    {
        var run = RealResult.MediumLog.Cases[0].Run;
        var moved = run.Measures.Select(m => new MovedMeasure(m.Id, m.Id switch
        {
            MeasureIds.RiggingPointForce => 2e-4,
            MeasureIds.Room => 1e-9,
            MeasureIds.RopeRun => double.PositiveInfinity,
            _ => 0,
        })).ToArray();

        var text = string.Join(" ", VerificationText.Of(run, new("", false, moved)));

        text.Should().Contain("at most 0.0200 % (rigging_point_force)").And.Contain("events was different")
            .And.Contain("room_left below 0.0001 %").And.Contain("hand_force 0 %").And.Contain("rope_run unknown")
            .And.Contain("No percentage can be given for rope_run");
    }

    [GeneratedRegex(@"\b(OK|okay|safe|safely|pass|passes|passed|good|fine)\b|✓|✔", RegexOptions.IgnoreCase)]
    private static partial Regex Permission();

    [GeneratedRegex(@"^\s+dropsim (.+)$", RegexOptions.Multiline)]
    private static partial Regex Example();
}
