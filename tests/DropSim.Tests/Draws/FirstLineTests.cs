using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Told;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Studies.Draws;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Draws;

/// <summary>The first line of the medium log is true of its draws: counted here again, draw by draw, and nowhere read back from it.</summary>
public sealed class FirstLineTests
{
    private static readonly string[] _outcomes = ["first_lower", "level", "second_lower", "only_first_caught", "only_second_caught", "neither_caught"];

    private static readonly Lazy<ScenarioResult> Result = new(() =>
    {
        var scenario = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), "medium-log.toml")).Scenario!;
        return ScenarioStudy.Compute(scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, scenario.Cases, 2);
    });

    [Fact]
    public void It_says_which_catch_is_gentler_in_how_many_of_20_and_what_it_costs()
    {
        var drawn = Result.Value.Told!.Drawn;
        var (hard, run) = (drawn.Cases[0].Drops, drawn.Cases[1].Drops);
        int[] both = [.. Enumerable.Range(0, drawn.Count).Where(k => hard[k].IsCaught && run[k].IsCaught)];
        double Median(IEnumerable<double> values)
        {
            double[] sorted = [.. values.Order()];
            return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]) / 2;
        }

        double Of(DrawnDrop drop, string id) => drop.Values[drawn.PlaceOf(id)];
        int Lower(string id) => both.Count(k => Of(run[k], id) < 0.95 * Of(hard[k], id));
        string Ratio(string id) => Format.Number(Median(both.Select(k => Of(run[k], id) / Of(hard[k], id))));
        string Metres(string id) => Format.Quantity(Math.Abs(Median(both.Select(k => Of(run[k], id) - Of(hard[k], id)))), "m", UnitSystem.Si);

        var line = ScenarioWords.Of(Result.Value, UnitSystem.Si).Findings[0];
        line.Should().Contain($"Let run pulls less at the rigging point in {CountWords.Of(Lower(MeasureIds.RiggingPointForce), both.Length)}")
            .And.Contain($"typically {Ratio(MeasureIds.RiggingPointForce)} of hard stop")
            .And.Contain($"It moves the feet less in {CountWords.Of(Lower(MeasureIds.ClimberMovement), both.Length)}")
            .And.Contain($"It takes {Metres(MeasureIds.RopeRun)} more rope run and leaves {Metres(MeasureIds.Room)} less room.");
        line.Contains("hits the ground at ", StringComparison.Ordinal).Should().Be(run.Any(d => d.Ending == DrawEnding.Ground) || Result.Value.Told.Cases[1].OtherwiseEnding is not null);
    }

    [Fact]
    public void This_drop_lies_among_the_middle_ones_of_its_draws()
    {
        // Between the 20 and the 80 % point of its own draws, for the headline measures (design: ordinary centres).
        var told = Result.Value.Told!;
        foreach (var c in told.Cases)
        {
            foreach (var id in new[] { MeasureIds.RiggingPointForce, MeasureIds.ClimberMovement, MeasureIds.Room })
            {
                var place = told.Drawn.PlaceOf(id);
                double[] drawn = [.. told.Drawn.Cases[told.Cases.ToList().IndexOf(c)].Drops.Where(d => d.IsCaught).Select(d => d.Values[place])];
                var below = drawn.Count(v => v < c.Run[id].Value) / (double)drawn.Length;
                below.Should().BeInRange(0.2, 0.8, "{0} of {1}", id, c.Case.Name);
            }
        }
    }

    [Fact]
    public void The_readme_shows_the_table_that_the_program_prints()
    {
        var readme = File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), "..", "README.md"));
        foreach (var row in ToldTable.Of(Result.Value, UnitSystem.Si).Rows)
        {
            readme.Should().Contain($"| {string.Join(" | ", row)} |");
        }
    }

    [Fact]
    public void The_summary_holds_the_draws()
    {
        using var stream = new MemoryStream();
        SummaryJson.Write(Result.Value, new ReportOptions { ProgramVersion = "test" }, [], stream);
        var like = JsonDocument.Parse(stream.ToArray()).RootElement.GetProperty("set_ups_like_it");

        like.GetProperty("draws").GetInt32().Should().Be(256);
        var pair = like.GetProperty("pairs")[0].GetProperty("measures")[0];
        var answer = Result.Value.Told!.Pairs[0].Answers[0];
        pair.GetProperty("id").GetString().Should().Be(answer.Measure);
        pair.GetProperty("first_lower").GetInt32().Should().Be(answer.FirstLower);
        _outcomes.Sum(n => pair.GetProperty(n).GetInt32()).Should().Be(256);
        like.GetProperty("findings")[0].GetString().Should().Be(ScenarioWords.Of(Result.Value, UnitSystem.Si).Findings[0]);
    }
}
