using DropSim.Scenarios;

namespace DropSim.Tests.Scenarios;

/// <summary>The scenarios that ship with the program read without a problem.</summary>
public sealed class ShippedScenarioTests
{
    public static TheoryData<string> Files => new(Directory.GetFiles(Repository.Folder("scenarios"), "*.toml").Select(f => Path.GetFileName(f)!));

    [Theory]
    [MemberData(nameof(Files))]
    public void A_shipped_scenario_reads_without_a_problem(string file)
    {
        ScenarioReadResult result = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), file));

        result.Problems.Select(p => p.ToString()).Should().BeEmpty();
        result.Scenario!.Cases.Should().NotBeEmpty();
        result.Scenario.Cases.Select(c => c.Name).Should().OnlyHaveUniqueItems();
        result.Scenario.Title.Should().NotBe(result.Scenario.Name);
        result.Scenario.Description.Should().NotBeEmpty();
    }
}
