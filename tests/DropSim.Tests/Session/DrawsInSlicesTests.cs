using System.Text.Json;
using System.Text.Json.Nodes;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Told;
using DropSim.Scenarios;
using DropSim.Session;
using DropSim.Studies;
using DropSim.Studies.Draws;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Session;

/// <summary>Set-ups like the drops on show, asked for as the page asks.</summary>
public sealed class DrawsInSlicesTests
{
    private static readonly string[] _nowAndStart = ["the drop now", "the drop at the start"];

    private const string File = "medium-log.toml";

    private static string Text(string file) => System.IO.File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), file));

    private static Scenario Read(string file) => ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), file)).Scenario!;

    /// <summary>Of six cases two are on show: which others there are moves no draw.</summary>
    [Fact]
    public void Draws_of_two_cases_in_slices_are_the_first_ones_of_all_cases_to_the_bit()
    {
        var scenario = Read("ring-or-block.toml");
        var seed = DrawStudy.SeedOf(scenario.Name);
        var whole = DrawStudy.Compute(scenario.Cases, new DrawPlan(seed) { Count = 16, Threads = 2 });
        int[] shown = [3, 1];

        var slices = new DrawSlices(DrawStudy.Begin(scenario.Cases, new DrawPlan(seed) { Count = 8 }).Only(shown));
        var drops = 0;
        while (!slices.IsComplete)
        {
            slices.Next();
            slices.Done.Should().Be(++drops / 2, "a draw is done when both cases are");
        }

        for (var i = 0; i < shown.Length; i++)
        {
            slices.Result.Cases[i].Drops.Select(Written).Should().Equal(whole.Cases[shown[i]].Drops.Take(8).Select(Written));
        }
    }

    /// <summary>The page's line is that of <c>dropsim simulate</c>, whichever of the two is looked at, on as many draws.</summary>
    [Theory]
    [InlineData(File, 0, 1)]
    [InlineData(File, 1, 0)]
    public void The_session_tells_of_two_cases_the_very_line_that_simulate_prints(string file, int first, int second)
    {
        var scenario = Read(file);
        var session = new LessonSession("test");
        var runs = Simulated(session, Text(file), file, [first, second]);

        var answer = Whole(session, new { runs, tell = new[] { new { first = runs[0], second = runs[1] } }, units = "si" });

        var told = Expected(scenario);
        Sentences(answer["told"]![0]!).Should().Be(ScenarioWords.Of(told, UnitSystem.Si).Findings[0]);
        answer["done"]!.GetValue<int>().Should().Be(DrawJob.Draws);
        var spreads = answer["runs"]![0]!["drawn"]!["spreads"]!.AsArray();
        foreach (var caught in told.Told!.Cases[first].Caught)
        {
            var spread = spreads.Single(s => s!["id"]!.GetValue<string>() == caught.Measure)!;
            spread["dots"]!.AsArray().Select(d => d!.GetValue<double>()).Should().Equal(caught.Dots);
            (caught.Dots.Count + spread["missed"]!.GetValue<int>()).Should().Be(20);
        }
    }

    /// <summary>What the first of two is said to be is true of the draws, with the start as the second.</summary>
    [Fact]
    public void The_start_is_held_against_the_change_on_the_same_draws()
    {
        var session = new LessonSession("test");
        var text = Text(File);
        object[] edits = [new { @case = 0, key = "piece.length", value = "0.8 m" }];
        var shorter = Ask(session, "change", new { text, file = File, edits })["text"]!.GetValue<string>();
        var (now, start) = (Simulated(session, shorter, File, [0])[0], Simulated(session, text, File, [0])[0]);

        var answer = Whole(session, new
        {
            runs = new[] { now, start },
            tell = new[] { new { first = now, second = start, names = _nowAndStart } },
            units = "si",
        });

        var (a, b) = (ScenarioReader.Read(System.Text.Encoding.UTF8.GetBytes(shorter), File).Scenario!.Cases[0], Read(File).Cases[0]);
        var drawn = DrawStudy.Compute([a, b], new DrawPlan(DrawStudy.SeedOf(Read(File).Name)) { Count = DrawJob.Draws, Threads = 2 });
        var lower = Enumerable.Range(0, DrawJob.Draws).Count(k =>
            drawn.Cases[0].Drops[k].IsCaught && drawn.Cases[1].Drops[k].IsCaught && drawn.Cases[0].Drops[k].Values[0] < 0.95 * drawn.Cases[1].Drops[k].Values[0]);
        lower.Should().BeGreaterThan(DrawJob.Draws / 2, "a shorter piece pulls less");
        answer["told"]![0]!["sentences"]![0]!.GetValue<string>().Should().StartWith("The drop now pulls less at the rigging point in ").And.Contain(" of the drop at the start (");
        answer["told"]![0]!["measures"]!.AsArray().Single(m => m!["id"]!.GetValue<string>() == MeasureIds.RiggingPointForce)!["words"]!.GetValue<string>()
            .Should().StartWith($"less in {CountWords.Of(lower, drawn.Count)}");
    }

    /// <summary>Other units, the other way round, the same case twice: nothing is computed again.</summary>
    [Fact]
    public void What_was_drawn_once_is_not_drawn_again()
    {
        var session = new LessonSession("test");
        var (text, cases) = (Text(File), new[] { 0, 1 });
        Whole(session, new { runs = Simulated(session, text, File, cases), units = "si" });

        var runs = Simulated(session, text, File, [1, 0]);
        var answer = Ask(session, "draws", new { runs, tell = new[] { new { first = runs[0] } }, units = "us" });

        answer["complete"]!.GetValue<bool>().Should().BeTrue("without a piece of time");
        Sentences(answer["told"]![0]!).Should().Contain(" lbf");
        var retold = Ask(session, "retell", new { runs, units = "si" })["runs"]![0]!["drawn"]!["spreads"]![0]!["likeIt"]!.GetValue<string>();
        retold.Should().StartWith("18 of 20").And.EndWith(" kN");
    }

    private static ScenarioResult Expected(Scenario scenario)
    {
        CaseResult[] results = [.. scenario.Cases.Select(c => new CaseResult(c, DropSimulator.Run(c.Input), 0, ""))];
        var pairs = ScenarioStudy.Pairs(scenario.Cases);
        var drawn = DrawStudy.Compute(scenario.Cases, new DrawPlan(DrawStudy.SeedOf(scenario.Name)) { Count = DrawJob.Draws, Threads = 2 });
        return new(scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, results, pairs)
        {
            Told = ToldScenario.Of(drawn, [.. results.Select(r => r.Run)], pairs.Select(p => (p.First, p.Second))),
        };
    }

    private static string Written(DrawnDrop drop) =>
        $"{drop.Ending} {BitConverter.DoubleToInt64Bits(drop.Speed)} {drop.Obstacle} {string.Join(' ', drop.Values.Select(BitConverter.DoubleToInt64Bits))}";

    private static string Sentences(JsonNode told) => string.Join(' ', told["sentences"]!.AsArray().Select(s => s!.GetValue<string>()));

    private static int[] Simulated(LessonSession session, string text, string file, int[] cases) =>
        [.. Ask(session, "simulate", new { text, file, cases, quality = "exact", units = "si" })["runs"]!.AsArray().Select(r => r!["run"]!.GetValue<int>())];

    private static JsonNode Whole(LessonSession session, object question)
    {
        var answer = Ask(session, "draws", question);
        var questions = 0;
        while (!answer["complete"]!.GetValue<bool>())
        {
            answer["runs"]!.AsArray().Should().BeEmpty("nothing is told of half the draws");
            answer = Ask(session, "more-draws", new { });
            (++questions).Should().BeLessThan(10_000, "each piece computes at least one drop");
        }

        return answer;
    }

    private static JsonNode Ask(LessonSession session, string verb, object question) => JsonNode.Parse(session.Answer(verb, JsonSerializer.Serialize(question)))!;
}
