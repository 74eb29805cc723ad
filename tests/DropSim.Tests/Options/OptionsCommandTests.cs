using DropSim.Tests.Cli;
using DropSim.Tests.Dismantle;

namespace DropSim.Tests.Options;

/// <summary>The command informs: it lists, it says what binds, it refuses what nobody can know.</summary>
public sealed class OptionsCommandTests
{
    /// <summary>A light log in a fork: few settings, quickly computed.</summary>
    private const string Fork = """
        [piece]
        kind = "log"
        length = "0.8 m"
        butt-diameter = "24 cm"
        density = "900 kg/m3"
        [spar]
        height = "9 m"
        diameters = [ { at = "0 m", diameter = "45 cm" }, { at = "9 m", diameter = "24 cm" } ]
        condition = "sound"
        [rigging-point]
        kind = "natural-union"
        below-cut = "0.3 m"
        stand-off = "0.2 m"
        [rope]
        construction = "polyester 16-strand"
        diameter = "14 mm"
        slack = "0 m"
        [[catch]]
        kind = "let-run"

        """;

    private static (int Code, string Output, string Error) Run(TemporaryFolder folder, string text, params string[] more)
    {
        var file = Path.Combine(folder.Path, "fork.toml");
        File.WriteAllText(file, text);
        return CommandLine.Run(["options", file, "--out", folder.Path, "--draws", "20", .. more.Contains("--lengths") ? Array.Empty<string>() : ["--lengths", "0.8 m"], .. more]);
    }

    [Fact]
    public void Without_a_hold_test_it_names_bands_and_no_count_and_judges_and_advises_nothing()
    {
        using var folder = new TemporaryFolder();

        var (code, output, error) = Run(folder, Fork, "--rope", "90 %", "--room", "0.1 m", "--climber-movement", "2 m", "--hand", "600 N");

        error.Should().BeEmpty();
        code.Should().Be(0);
        output.Should().Contain("no count can be named").And.MatchRegex("With the piece of the file, 0.80 m: [0-9]+ of [0-9]+ settings? keeps? inside");
        foreach (var word in new[] { " OK", " safe", " pass ", "passes", "recommend", "should", " good", "best" })
        {
            output.Should().NotContain(word);
        }

        output.Should().Contain("Nothing in this list is advised or permitted").And.Contain("not a target").And.Contain("(an option)");
        var rows = File.ReadAllLines(Path.Combine(folder.Path, "fork-options", "settings.csv"));
        rows.Skip(1).Select(r => r.Split(',')).Should().NotBeEmpty().And.OnlyContain(r => double.Parse(r[2]) - double.Parse(r[1]) == 0.5);

        // A limit that no draw was held against counts nothing outside, not even zero.
        var (sling, rope) = (Array.IndexOf(rows[0].Split(','), "outside_sling"), Array.IndexOf(rows[0].Split(','), "outside_rope"));
        rows.Skip(1).Select(r => r.Split(',')).Should().OnlyContain(r => r[sling].Length == 0 && r[rope].Length > 0);
    }

    [Fact]
    public void With_a_hold_test_turns_are_counts_in_quarters()
    {
        using var folder = new TemporaryFolder();

        var (code, output, _) = Run(folder, Fork + "[hold-test]\nmass = \"40 kg\"\nwraps = 1\nhand = \"60 N\"\n");

        code.Should().Be(0);
        output.Should().Contain("Turns are counts");
        var rows = File.ReadAllLines(Path.Combine(folder.Path, "fork-options", "settings.csv")).Skip(1).Select(r => r.Split(',')).ToArray();
        rows.Should().OnlyContain(r => r[1] == r[2] && double.Parse(r[1]) * 4 % 1 == 0);
    }

    [Fact]
    public void The_piece_of_the_file_is_answered_for_first_with_what_was_not_checked_in_the_same_sentence()
    {
        using var folder = new TemporaryFolder();

        var (code, output, _) = Run(folder, Fork, "--lengths", "1 m, 0.8 m, 0.7 m", "--rope", "90 %", "--room", "0.1 m", "--climber-movement", "2 m", "--hand", "600 N");

        code.Should().Be(0);
        var text = string.Join(' ', output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        text.Should().MatchRegex("With the piece of the file, 0.80 m: [^.]* was checked; sling and spar were not checked. .*With a piece of 1.0 m: [^.]* checked. .*With a piece of 0.70 m: ");
        text.Should().Contain("Not checked: load on the sling, of its breaking strength: the rope runs in a fork; stress in the spar, of its bending strength: nobody has given its strength.");
    }

    [Fact]
    public void Where_nothing_is_inside_it_says_which_limit_binds()
    {
        using var folder = new TemporaryFolder();

        var (code, output, _) = Run(folder, Fork.Replace("let-run", "hard-stop", StringComparison.Ordinal), "--room", "50 m", "--rope", "100 %", "--climber-movement", "5 m");

        code.Should().Be(0);
        string.Join(' ', output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
            .Should().Contain("none of 1 setting keeps inside every limit that was checked; sling and spar were not checked.").And.Contain("The limit that binds is the room left under the piece: without it 1 would.");
    }

    [Theory]
    [InlineData("unknown")]
    [InlineData("decayed")]
    [InlineData("cracked")]
    [InlineData("dead")]
    public void A_stem_that_nobody_calls_sound_is_refused(string condition)
    {
        using var folder = new TemporaryFolder();

        var (code, output, error) = Run(folder, Fork.Replace("\"sound\"", $"\"{condition}\"", StringComparison.Ordinal));

        code.Should().Be(2);
        error.Should().Contain($"spar.condition: found {condition}; expected sound");
        output.Should().BeEmpty();
        Directory.GetDirectories(folder.Path).Should().BeEmpty();
    }

    [Theory]
    [InlineData("--room", "1,5 m")]
    [InlineData("--room", "-1 m")]
    [InlineData("--rope", "150 %")]
    [InlineData("--lengths", "1 m, two")]
    [InlineData("--draws", "5")]
    public void A_value_that_an_option_does_not_take_is_wrong_usage(string option, string value)
    {
        CommandLine.Run("options", "x.toml", option, value).Code.Should().Be(64);
    }
}
