using System.Text;
using DropSim.Model;
using DropSim.Scenarios;
using FluentAssertions;

namespace DropSim.Tests.Scenarios;

public class ScenarioDraftTests
{
    private static readonly string Text = File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), "medium-log.toml"));

    private static ScenarioDraft Draft => ScenarioReader.Open(Encoding.UTF8.GetBytes(Text), "medium-log.toml");

    [Theory]
    [InlineData("rope.slack", "0.45 m", "slack")]
    [InlineData("spar.height", "31 ft", "height")]
    [InlineData("rigging-point.kind", "block", "kind")]
    public void A_changed_value_gives_what_the_same_value_in_the_file_gives(string path, string value, string key)
    {
        // The file with its own line of that key, wherever it stands, exchanged; without one, a line after the table's header.
        string section = path.Split('.')[0];
        var lines = Text.Split('\n').ToList();
        int header = lines.FindIndex(l => l.Trim() == $"[{section}]");
        header.Should().BeGreaterThanOrEqualTo(0);
        int next = lines.FindIndex(header + 1, l => l.StartsWith('['));
        int own = lines.FindIndex(header + 1, next - header - 1, l => l.StartsWith(key + " ", StringComparison.Ordinal) || l.StartsWith(key + "=", StringComparison.Ordinal));
        string line = $"{key} = \"{value}\"";
        if (own >= 0)
        {
            lines[own] = line;
        }
        else
        {
            lines.Insert(header + 1, line);
        }

        Scenario edited = MinimalFileTests.Read(string.Join('\n', lines), "medium-log.toml").Scenario!;
        Scenario changed = Draft.Build([new KeyChange(path, value)]).Scenario!;

        Inputs(changed).Should().Equal(Inputs(edited));
        Inputs(changed).Should().NotEqual(Inputs(Draft.Build().Scenario!));
    }

    [Fact]
    public void Some_cases_built_alone_are_those_of_the_whole_scenario()
    {
        ScenarioDraft draft = ScenarioReader.Open(Path.Combine(Repository.Folder("scenarios"), "ring-or-block.toml"));
        Scenario whole = draft.Build().Scenario!;
        whole.Cases.Count.Should().BeGreaterThan(3);

        Scenario some = draft.BuildOnly([3, 1, 99]).Scenario!;

        some.Cases.Select(c => c.Name).Should().Equal(whole.Cases[1].Name, whole.Cases[3].Name);
        Inputs(some).Should().Equal(Inputs(whole).Where(i => some.Cases.Any(c => i.StartsWith(c.Name + " ", StringComparison.Ordinal)))).And.NotBeEmpty();
        some.Setups.Should().Equal(whole.Setups);
        draft.BuildOnly([]).Scenario!.Cases.Should().BeEmpty();
    }

    [Theory]
    [InlineData("rope.slack", "0 m", "normal", "0.10 m", "0.30 m", 0.2, 0, -0.1, 0.1)] // a length by as much: 0.2 to 0 m takes 0.2 m off both
    [InlineData("piece.mass", "75 kg", "triangular", "140 kg", "165 kg", 150, 75, 70, 82.5)] // all else by the same factor, 75/150
    public void A_distribution_of_the_file_goes_along_with_a_value_laid_over_it(
        string path, string value, string shape, string low, string high, double own, double now, double lowNow, double highNow)
    {
        string text = MinimalFileTests.Minimal.Replace("tip-girth", "mass = \"150 kg\"\ntip-girth", StringComparison.Ordinal)
            .Replace("diameter = \"14 mm\"", "diameter = \"14 mm\"\nslack = \"0.2 m\"", StringComparison.Ordinal)
            + $"\n[[uncertain]]\nkey = \"{path}\"\ndistribution = \"{shape}\"\nlow = \"{low}\"\nhigh = \"{high}\"\n";
        ScenarioDraft draft = ScenarioReader.Open(Encoding.UTF8.GetBytes(text), "log.toml");

        UncertainInput Of(ScenarioReadResult read) => read.Scenario!.Cases[0].Uncertain.Single(u => u.Key == path);
        UncertainInput before = Of(draft.Build());
        UncertainInput after = Of(draft.Build([new KeyChange(path, value)]));

        before.Range.Central.Should().BeApproximately(own, 1e-12);
        after.Range.Central.Should().BeApproximately(now, 1e-12);
        after.Distribution.Low.Should().BeApproximately(lowNow, 1e-12);
        after.Distribution.High.Should().BeApproximately(highNow, 1e-12);
        after.Given.Should().BeTrue();

        // Another key changed, this one stays; and nothing is drawn below the limit of its key.
        Of(draft.Build([new KeyChange("rigging-point.below-cut", "0.5 m")])).Distribution.Should().Be(before.Distribution);
        after.Distribution.Least.Should().BeGreaterThanOrEqualTo(0);
    }

    [Fact]
    public void A_value_in_SI_units_is_taken_to_its_last_bit()
    {
        const double slack = 0.1 + 0.2;
        Draft.Build([KeyChange.Of("rope.slack", slack)]).Scenario!.Cases.Should().OnlyContain(c => c.Input.Rope.Slack == slack);
    }

    [Fact]
    public void A_change_of_one_catch_leaves_the_other_as_it_was()
    {
        ScenarioDraft draft = Draft;
        string held = draft.Catches[^1];
        Scenario before = draft.Build().Scenario!;
        Scenario after = draft.Build([new KeyChange("catch.wraps", "3.25") { Catch = held }]).Scenario!;
        for (int i = 0; i < before.Cases.Count; i++)
        {
            after.Cases[i].Input.Device.Wraps.Should().Be(before.Cases[i].CatchName == held ? 3.25 : before.Cases[i].Input.Device.Wraps);
        }
    }

    [Fact]
    public void A_weighed_mass_replaces_the_estimate_that_the_file_gives()
    {
        byte[] bytes = Encoding.UTF8.GetBytes(MinimalFileTests.Minimal.Replace("[piece]", "[piece]\nmass = \"150 kg\"", StringComparison.Ordinal));
        Scenario scenario = ScenarioReader.Open(bytes, "x.toml").Build([new KeyChange("piece.weighed", "163 kg")]).Scenario!;
        scenario.Cases[0].Input.Piece.Mass.Should().Be(163);
    }

    [Theory]
    [InlineData("rope.slak", "0.4 m", "Nearest known name: rope.slack")]
    [InlineData("rope.slack", "0,4 m", "rope.slack: found \"0,4 m\"; expected ")]
    [InlineData("rope.slack", "-1 m", "rope.slack: found \"-1 m\"; expected 0 to ")]
    [InlineData("title", "x", "cannot be changed by name")]
    [InlineData("review.seen", "x", "cannot be changed by name")]
    [InlineData("rigging-point.kind", "hook", "one of ")]
    public void A_change_that_does_not_fit_is_refused_as_in_a_file(string path, string value, string message)
    {
        ScenarioReadResult result = Draft.Build([new KeyChange(path, value)]);
        result.Scenario.Should().BeNull();
        result.Problems.Select(p => p.ToString()).Should().Contain(p => p.Contains(message, StringComparison.Ordinal));
    }

    [Fact]
    public void A_change_of_a_set_up_that_is_not_there_is_refused()
    {
        ScenarioReadResult result = Draft.Build([new KeyChange("rope.slack", "0.4 m") { Setup = "rng" }]);
        result.Problems.Should().ContainSingle().Which.ToString().Should().Contain("set-up rng");
    }

    [Fact]
    public void Drafts_build_on_many_threads_at_once()
    {
        ScenarioDraft draft = Draft;
        double[] slacks = [.. Enumerable.Range(0, 200).Select(i => i * 0.002)];
        double[] built = new double[slacks.Length];
        Parallel.For(0, slacks.Length, i => built[i] = draft.Build([KeyChange.Of("rope.slack", slacks[i])]).Scenario!.Cases[0].Input.Rope.Slack);
        built.Should().Equal(slacks);
    }

    private static IEnumerable<string> Inputs(Scenario scenario) =>
        scenario.Cases.SelectMany(c => c.Notes.Select(n => $"{c.Name} {n.Path} {n.Value}"));
}
