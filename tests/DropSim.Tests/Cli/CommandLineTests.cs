using DropSim.Cli;
using DropSim.Tests.Scenarios;
using static DropSim.Tests.Cli.CommandLine;

namespace DropSim.Tests.Cli;

public sealed class CommandLineTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-cli-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static string Scenario(string name) => Path.Combine(Repository.Folder("scenarios"), name);

    [Fact]
    public void Simulate_writes_results_and_prints_headline_measures_without_escape_codes()
    {
        var (code, output, error) = Run("simulate", Scenario("medium-log.toml"), "--out", _folder, "--csv-interval", "10 ms", "--verify");

        code.Should().Be(0, error);
        output.Should().Contain("Force on the rigging point").And.Contain("worst of range").And.Contain("Repeated at a tenth").And.NotContain("\u001b");
        error.Should().BeEmpty();
        Directory.GetFiles(Path.Combine(_folder, "medium-log")).Select(Path.GetFileName)
            .Should().Contain(["summary.json", "base-hard-stop.csv", "base-let-run-forces.png", "compare-base-let-run-vs-base-hard-stop.png"]);
    }

    [Fact]
    public void A_refused_file_names_line_key_found_and_expected_and_computes_nothing()
    {
        var file = Write("typo.toml", File.ReadAllText(Scenario("medium-log.toml")).Replace("length = \"1.25 m\"", "lenght = \"1.25 m\"").Replace("\"14 mm\"", "\"14,0 mm\""));

        var (code, _, error) = Run("simulate", file, "--out", _folder);

        code.Should().Be(2);
        error.Should().MatchRegex(@"typo\.toml:\d+: .*lenght").And.Contain("Nearest known name: length").And.Contain("14,0 mm").And.Contain("expected a decimal point");
        Directory.GetDirectories(_folder).Should().BeEmpty();
    }

    [Fact]
    public void Other_files_are_still_computed_when_one_is_refused()
    {
        var refused = Write("broken.toml", "this is no scenario");

        var (code, output, error) = Run("simulate", refused, Scenario("medium-log.toml"), "--out", _folder, "--csv-interval", "50 ms");

        code.Should().Be(2);
        error.Should().Contain("broken.toml");
        output.Should().Contain("medium-log");
    }

    [Fact]
    public void Two_scenarios_of_one_name_are_refused()
    {
        var twin = Write("medium-log.toml", File.ReadAllText(Scenario("medium-log.toml")));

        var (code, _, error) = Run("validate", Scenario("medium-log.toml"), twin);

        code.Should().Be(2);
        error.Should().Contain("a second time");
    }

    [Theory]
    [InlineData("simulate")]
    [InlineData("simulate", "x.toml", "--bogus")]
    [InlineData("simulate", "x.toml", "--units", "metric")]
    [InlineData("simulate", "x.toml", "--threads", "0")]
    [InlineData("simulate", "x.toml", "--out", "")]
    [InlineData("simulate", "x.toml", "--\u001b[2J")]
    [InlineData("simulate", "x.toml", "--csv-interval", "1")]
    [InlineData("simulat", "x.toml")]
    [InlineData("mass", "--length", "1,5 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "0 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1e300 m")]
    [InlineData("mass", "--density", "0 kg/m3", "--butt", "40 cm", "--length", "1 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1 m", "--weighed", "-5 kg")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--butt-girth", "126 cm", "--length", "1 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--species", "white ash", "--butt", "40 cm", "--length", "1 m")]
    [InlineData("mass", "--butt", "40 cm", "--length", "1 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--length", "1 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1 m", "--bare", "0.5 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1 m", "--top", "medium", "--bare", "2 m")]
    [InlineData("mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1 m", "--top", "medium", "--mid-girth", "120 cm")]
    public void Wrong_usage_returns_64_with_a_message_and_no_results(params string[] args)
    {
        var (code, output, error) = Run(args);

        code.Should().Be(64);
        error.Should().Contain("--help").And.NotContain("\u001b");
        output.Should().BeEmpty();
    }

    [Fact]
    public void A_path_that_is_not_there_and_a_folder_without_scenarios_are_refused()
    {
        Run("simulate", Path.Combine(_folder, "nowhere.toml")).Should().Match<(int Code, string Output, string Error)>(r => r.Code == 2 && r.Error.Contains("found nothing"));
        Run("validate", _folder).Should().Match<(int Code, string Output, string Error)>(r => r.Code == 2 && r.Error.Contains("no scenario file"));
    }

    [Fact]
    public void Results_that_cannot_be_written_return_1_with_the_folder()
    {
        var blocked = Write("blocked", "a file where a folder should be");

        var (code, _, error) = Run("simulate", Scenario("medium-log.toml"), "--out", blocked, "--csv-interval", "50 ms");

        code.Should().Be(1);
        error.Should().Contain("could not be written");
    }

    [Fact]
    public void An_interruption_returns_130_and_leaves_nothing()
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();

        DropSimApp.Run(["simulate", Scenario("medium-log.toml"), "--out", _folder], output, error, cancelled.Token).Should().Be(130);

        Directory.GetFileSystemEntries(_folder).Should().BeEmpty();
    }

    [Fact]
    public void Validate_says_what_it_does_not_say()
    {
        var (code, output, _) = Run("validate", Repository.Folder("scenarios"));

        code.Should().Be(0);
        output.Should().Contain("can be read").And.Contain("says nothing about the safety");
    }

    [Fact]
    public void Validate_reads_a_spar_file_too_and_says_what_is_wrong_with_one()
    {
        var spar = Path.Combine(Repository.Folder("scenarios"), "spars", "garden-spruce.toml");
        var (code, output, _) = Run("validate", Path.GetDirectoryName(spar)!);
        code.Should().Be(0);
        output.Should().Contain("garden-spruce.toml: can be read, for dropsim dismantle: cuts ").And.Contain("says nothing about the safety");

        var broken = Path.Combine(_folder, "broken-spar.toml");
        File.WriteAllText(broken, File.ReadAllText(spar).Replace("piece-length = \"1.5 m\"", "piece-lenght = \"1.5 m\"", StringComparison.Ordinal));
        Run("validate", broken).Should().Match<(int Code, string Output, string Error)>(r =>
            r.Code == 2 && r.Error.Contains("broken-spar.toml") && r.Error.Contains("piece-length") && !r.Output.Contains("can be read, for"));
    }

    [Fact]
    public void Mass_of_the_published_log_of_apple_wood()
    {
        // US National Park Service, "Safety for Tree Workers", green log weights: apple 55 lb/ft3 (881 kg/m3),
        // 16 in by 1 ft = 77 lb (55 x pi/4 x (16/12)^2 = 76.8).
        var (code, output, _) = Run("mass", "--density", "881 kg/m3", "--butt", "16 in", "--tip", "16 in", "--length", "1 ft");

        code.Should().Be(0);
        output.Should().Contain("estimated").And.Contain("(77 lb)");
    }

    [Fact]
    public void Mass_says_weighed_where_a_scale_was_used_and_knows_its_species()
    {
        Run("mass", "--species", "white ash", "--butt-girth", "126 cm", "--length", "1.25 m", "--weighed", "150 kg").Output
            .Should().Contain("Mass, weighed: 150 kg").And.Contain("Fraxinus");
        Run("mass", "--species", "whit ash", "--butt", "40 cm", "--length", "1 m")
            .Should().Match<(int Code, string Output, string Error)>(r => r.Code == 2 && r.Error.Contains("white ash"));
    }

    [Fact]
    public void Catalogue_shows_sources()
    {
        var (code, output, _) = Run("catalogue", "ropes", "--find", "16-strand");

        code.Should().Be(0);
        output.Should().Contain("source").And.Contain("16-strand").And.Contain("marking comes first");
        Run("catalogue", "ropes", "--find", "no such thing").Code.Should().Be(2);
    }

    [Theory]
    [InlineData("simulate")]
    [InlineData("validate")]
    [InlineData("mass")]
    [InlineData("catalogue")]
    public void Help_has_examples(string command) =>
        Run(command, "--help").Should().Match<(int Code, string Output, string Error)>(r => r.Code == 0 && r.Output.Contains("Examples:"));

    [Fact]
    public void A_file_name_cannot_act_on_the_terminal()
    {
        var file = Write("log\u001b[31m.toml", File.ReadAllText(Scenario("medium-log.toml")));

        var (code, output, error) = Run("validate", file);

        code.Should().Be(0, error);
        output.Should().Contain("log\\u001b[31m.toml").And.NotContain("\u001b");
    }

    [Fact]
    public void Output_that_cannot_be_written_returns_1_and_a_sentence()
    {
        using var full = new FullWriter();
        using var error = new StringWriter();

        DropSimApp.Run(["validate", Scenario("medium-log.toml")], full, error, default).Should().Be(1);
        error.ToString().Should().Contain("could not be written").And.Contain("No space left").And.NotContain("   at ");

        DropSimApp.Run(["validate", "nowhere.toml"], full, full, default).Should().Be(1);
    }

    [Fact]
    public void A_drop_that_ends_before_the_rope_comes_to_bear_is_no_result_of_zero()
    {
        // The hinge breaks about 0.95 s after the start: after 0.5 s the piece still stands on it. The second file has a wall that the
        // piece leans against, slower than 1 m/s, before the hinge breaks.
        var text = File.ReadAllText(Scenario("medium-log.toml"));
        var early = Write("early.toml", text + "\n[computation]\nend-time = \"0.5 s\"\n");
        var wall = Write("wall.toml", text + "\n[[obstacle]]\nname = \"wall\"\nx-from = \"0.5 m\"\nx-to = \"0.6 m\"\nz-to = \"20 m\"\n");

        foreach (var file in new[] { early, wall })
        {
            var (code, output, error) = Run("simulate", file, "--out", _folder, "--csv-interval", "50 ms");

            code.Should().Be(0, error);
            output.Should().MatchRegex(@"Force on the rigging point +not caught").And.NotMatchRegex(@"\b0 N\b");
        }
    }

    /// <summary>A disk without room.</summary>
    private sealed class FullWriter : StringWriter
    {
        public override void Write(char value) => throw new IOException("No space left on device");

        public override void Write(string? value) => throw new IOException("No space left on device");

        public override void WriteLine(string? value) => throw new IOException("No space left on device");
    }

    private string Write(string name, string text)
    {
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}
