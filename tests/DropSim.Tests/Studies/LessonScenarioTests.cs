using DropSim.Scenarios;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Studies;

public sealed class LessonScenarioTests
{
    public static TheoryData<string> Files => new(Directory.GetFiles(Path.Combine(Repository.Folder("scenarios"), "lessons"), "*.toml"));

    [Theory]
    [MemberData(nameof(Files))]
    public void The_scenario_of_a_lesson_can_be_read_and_says_what_it_is_for(string file)
    {
        var read = ScenarioReader.Read(file);

        read.Problems.Should().BeEmpty();
        read.Scenario!.Description.Should().NotBeEmpty();
        File.ReadAllText(file).Should().Contain("invented", "a lesson's data are no measurement");
    }
}
