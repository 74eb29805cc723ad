using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Studies;

/// <summary>Which two cases a scenario opens on: those that differ in what it is about.</summary>
public sealed class OpeningPairTests
{
    [Theory]
    [InlineData("snagged-run.toml", "base/snagged", "base/hard-stop")]
    [InlineData("ring-or-block.toml", "ring/hard-stop", "block/hard-stop")]
    [InlineData("rigging-distance.toml", "close/hard-stop", "far/hard-stop")]
    [InlineData("low-cut.toml", "low/hard-stop", "high/hard-stop")]
    [InlineData("natural-union.toml", "fork/hard-stop", "ring/hard-stop")]
    [InlineData("light-log-many-wraps.toml", "one/let-run", "four/let-run")]
    [InlineData("near-miss-review.toml", "as-told/hand-lost", "as-told/let-run")]
    [InlineData("medium-log.toml", "base/hard-stop", "base/let-run")]
    [InlineData("small-top.toml", "base/hard-stop", "base/let-run")]
    [InlineData("feet-and-pounds.toml", "base/hard-stop", "base/let-run")]
    public void A_shipped_scenario_opens_on_the_two_that_it_is_about(string file, string first, string second)
    {
        var cases = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), file)).Scenario!.Cases;

        var opening = ScenarioStudy.Opening(cases);

        string Name(int index) => $"{cases[index].Setup}/{cases[index].CatchName}";
        (Name(opening.First), Name(opening.Second!.Value)).Should().Be((first, second));
    }

    [Fact]
    public void Every_scenario_that_ships_with_several_cases_opens_on_two_that_differ_in_one_thing_and_that_are_compared()
    {
        var several = 0;
        foreach (var file in Directory.EnumerateFiles(Repository.Folder("scenarios"), "*.toml", SearchOption.AllDirectories))
        {
            if (ScenarioReader.Read(file).Scenario?.Cases is not { Count: > 1 } cases)
            {
                continue;
            }

            several++;
            var opening = ScenarioStudy.Opening(cases);
            var (first, second) = (cases[opening.First], cases[opening.Second!.Value]);
            (first.Setup == second.Setup).Should().NotBe(first.CatchName == second.CatchName, file);
            ScenarioStudy.Pairs(cases).Select(p => new[] { p.First, p.Second }.Order().ToArray())
                .Should().ContainEquivalentOf(new[] { opening.First, opening.Second.Value }.Order().ToArray(), file);
        }

        several.Should().BeGreaterThan(8);
    }

    [Fact]
    public void A_scenario_of_one_case_opens_on_it_alone()
    {
        var cases = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), "medium-log.toml")).Scenario!.Cases;

        ScenarioStudy.Opening([cases[1]]).Should().Be(new OpeningPair(0, null));
    }
}
