using DropSim.Model;
using DropSim.Scenarios;

namespace DropSim.Tests.Scenarios;

/// <summary>What the lessons say is what the reader makes of them.</summary>
public sealed class ScenarioContentTests
{
    private static Scenario Read(string name)
    {
        ScenarioReadResult result = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), name + ".toml"));
        result.Problems.Select(p => p.ToString()).Should().BeEmpty();
        return result.Scenario!;
    }

    [Fact]
    public void The_lessons_are_all_there() =>
        Directory.GetFiles(Repository.Folder("scenarios"), "*.toml").Select(Path.GetFileNameWithoutExtension).Should().Contain(
            ["medium-log", "ring-or-block", "natural-union", "small-top", "rigging-distance", "light-log-many-wraps", "snagged-run", "low-cut", "near-miss-review", "feet-and-pounds"]);

    [Fact]
    public void The_medium_log_weighs_about_150_kg()
    {
        Scenario s = Read("medium-log");

        // 0.40 m x 1.25 m x 950 kg/m3 = 149.2 kg.
        s.Cases.Select(c => c.Name).Should().Equal("base-hard-stop", "base-let-run");
        s.Cases[0].Input.Piece.Mass.Should().BeApproximately(149.2, 0.1);
        s.Cases[1].Input.Catch.Brake.Should().Equal(new BrakePoint(0, 30), new BrakePoint(0.5, 30), new BrakePoint(2, 250));
        s.SourceHash.Should().MatchRegex("^[0-9a-f]{12}$");
    }

    [Fact]
    public void Set_ups_times_catches_stand_in_the_order_of_the_file() =>
        Read("ring-or-block").Cases.Select(c => c.Name).Should().Equal("ring-hard-stop", "ring-let-run", "block-hard-stop", "block-let-run");

    [Fact]
    public void The_block_stands_further_off_than_the_ring()
    {
        // Medium log, 149.2 kg: between the light and medium columns, close to 0.08 and 0.13 m.
        Scenario s = Read("ring-or-block");

        s.Cases[0].Input.RiggingPoint.StandOff.Should().BeApproximately(0.08, 1e-3);
        s.Cases[2].Input.RiggingPoint.StandOff.Should().BeApproximately(0.13, 1e-3);
    }

    [Fact]
    public void The_review_keeps_what_was_seen_assumed_and_unknown()
    {
        Scenario s = Read("near-miss-review");

        s.Review!.Seen.Should().HaveCount(3);
        s.Review.Unknown.Should().NotBeEmpty();
        s.Setups.Should().OnlyContain(u => u.Description.Length > 0);
        s.Cases.Should().HaveCount(6).And.OnlyContain(c => c.Input.Site.Obstacles.Count == 1);
        s.Cases[1].Input.Catch.HandLostTime.Should().Be(0.7);
    }

    [Fact]
    public void Feet_and_pounds_become_metres_and_kilograms()
    {
        Scenario s = Read("feet-and-pounds");
        DropInput input = s.Cases[0].Input;

        s.Units.Should().Be(UnitPreference.Us);
        input.Piece.Mass.Should().BeApproximately(355 * 0.45359237, 1e-9);
        input.Piece.Length.Should().BeApproximately(50 * 0.0254, 1e-12);
        input.Rope.Diameter.Should().BeApproximately(9.0 / 16 * 0.0254, 1e-15);

        // Cow hitch 0.75 of 20000 lbf.
        input.Strength.Sling.Should().BeApproximately(0.75 * 20000 * 0.45359237 * 9.80665, 1e-6);

        // 3 in over 9/16 in = 5.33: between 4 (0.80) and 8 (0.90), 0.80 + 0.1 x 1.333 / 4 = 0.8333.
        input.Strength.RingBendEfficiency.Should().BeApproximately(0.8333, 1e-4);
    }

    [Fact]
    public void A_value_without_effect_is_said_so()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal.Replace("kind = \"ring\"", "kind = \"ring\"\nbark = \"rough\"", StringComparison.Ordinal));

        c.Warnings.Should().Contain("rigging-point.bark (line 14) has no effect in this case.");
    }

    [Fact]
    public void Shipped_scenarios_have_no_value_without_effect()
    {
        foreach (string file in Directory.GetFiles(Repository.Folder("scenarios"), "*.toml"))
        {
            Read(Path.GetFileNameWithoutExtension(file)).Cases.SelectMany(c => c.Warnings).Should().NotContain(w => w.Contains("no effect"), file);
        }
    }

    [Fact]
    public void Doubtful_measures_are_warned_of()
    {
        MinimalFileTests.First(MinimalFileTests.Minimal.Replace("girth = \"165 cm\" }", "girth = \"165 cm\" }, { at = \"5 m\", girth = \"170 cm\" }", StringComparison.Ordinal))
            .Warnings.Should().Contain(w => w.Contains("thicker with height"));
        MinimalFileTests.First(MinimalFileTests.Minimal.Replace("tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nweighed = \"60 kg\"", StringComparison.Ordinal))
            .Warnings.Should().Contain(w => w.Contains("disagree"));
        MinimalFileTests.First(MinimalFileTests.Minimal.Replace("length = \"1.2 m\"", "length = \"0.5 m\"", StringComparison.Ordinal)) // balance: atan(0.1 / 0.25) = 22 degrees
            .Warnings.Should().Contain(w => w.Contains("pulled or wedged"));
        MinimalFileTests.First(MinimalFileTests.Minimal.Replace("European oak (living tree)", "European oak", StringComparison.Ordinal))
            .Warnings.Should().Contain(w => w.Contains("50 % moisture"));
        MinimalFileTests.First(MinimalFileTests.Minimal.Replace("wraps = 2.5", "wraps = 2.6", StringComparison.Ordinal))
            .Warnings.Should().Contain(w => w.Contains("quarter turn"));
        MinimalFileTests.First(MinimalFileTests.Minimal).Warnings.Should().Contain(w => w.Contains("condition of the stem"));
    }

    [Theory]
    [InlineData("My Drop (2).toml", "my-drop-2")]
    [InlineData("../../etc/passwd.toml", "passwd")]
    [InlineData("....toml", "scenario")]
    [InlineData("\u00c9t\u00e9.toml", "t")]
    public void A_scenario_gets_a_name_that_is_safe_in_file_names(string file, string name) =>
        MinimalFileTests.Read(MinimalFileTests.Minimal, file).Scenario!.Name.Should().Be(name);
}
