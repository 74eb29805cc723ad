using System.Text.Json;
using System.Text.Json.Nodes;
using DropSim.Scenarios;
using DropSim.Session;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Session;

/// <summary>The engine behind the lesson page, asked as the page asks it.</summary>
public sealed class LessonSessionTests
{
    private static readonly int[] FirstCase = [0];
    private static readonly string Path = System.IO.Path.Combine(Repository.Folder("scenarios"), "medium-log.toml");

    [Fact]
    public void Ranges_that_come_in_pieces_end_and_are_those_of_the_range_study()
    {
        var session = new LessonSession("test");
        var text = File.ReadAllText(Path);
        var simulated = Ask(session, "simulate", new { text, file = "medium-log.toml", cases = FirstCase, quality = "exact", units = "si" });
        var run = simulated["runs"]![0]!["run"]!.GetValue<int>();

        var answer = Ask(session, "ranges", new { runs = new[] { run }, units = "si" });
        var questions = 0;
        while (!answer["complete"]!.GetValue<bool>())
        {
            answer = Ask(session, "more-ranges", new { });
            (++questions).Should().BeLessThan(10_000, "each piece computes at least one drop");
        }

        var study = RangeStudy.Compute(ScenarioReader.Read(Path).Scenario!.Cases[0], 2);
        var ranged = answer["runs"]![0]!["measures"]!.AsArray();
        foreach (var measure in study.Run.Measures.Where(m => m.Headline))
        {
            var told = ranged.Single(m => m!["id"]!.GetValue<string>() == measure.Id)!;
            told["value"]!.GetValue<double>().Should().Be(measure.Value, measure.Id);
            told["low"]!.GetValue<double>().Should().Be(measure.Low, measure.Id);
            told["high"]!.GetValue<double>().Should().Be(measure.High, measure.Id);
        }
    }

    [Fact]
    public void A_text_that_cannot_be_read_answers_with_the_messages_of_the_command_line()
    {
        var answer = Ask(new LessonSession("test"), "simulate", new { text = "[piece]\nkind = \"lgo\"\n", file = "x.toml", cases = FirstCase });

        var expected = ScenarioReader.Read("[piece]\nkind = \"lgo\"\n"u8, "x.toml").Problems.Select(p => p.ToString());
        answer["problems"]!.AsArray().Select(p => p!["message"]!.GetValue<string>()).Should().Equal(expected).And.NotBeEmpty();
    }

    private static JsonNode Ask(LessonSession session, string verb, object question) => JsonNode.Parse(session.Answer(verb, JsonSerializer.Serialize(question)))!;
}
