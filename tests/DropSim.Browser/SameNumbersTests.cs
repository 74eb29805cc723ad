using System.Text.Json;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Browser;

/// <summary>The page computes with the same program as the command line: compiled for the browser, it must give the same numbers.</summary>
[Collection("browser")]
public sealed class SameNumbersTests(Chromium chromium)
{
    /// <summary>Sine, exponential and power come from another library there, and may differ in the last bit.</summary>
    private const double Tolerance = 1e-6;

    [Fact]
    public async Task Every_measure_of_every_shipped_scenario_is_the_one_that_the_command_line_computes()
    {
        await using var open = await chromium.LessonAsync();
        var scenarios = Directory.EnumerateFiles(Repository.Folder("scenarios"), "*.toml").Order(StringComparer.Ordinal).ToArray();
        scenarios.Should().HaveCountGreaterThan(5);
        var compared = 0;
        double largest = 0;
        foreach (var file in scenarios)
        {
            var scenario = ScenarioReader.Read(file).Scenario!;
            var answer = await open.Page.EvaluateAsync<JsonElement>(
                "async ([text, file, cases]) => { const a = await lessonEngine.call('simulate', { text, file, cases, quality: 'exact', units: 'si' }); return a.runs.map(r => r.measures.map(m => [m.id, m.value, m.central])); }",
                new object[] { await File.ReadAllTextAsync(file), Path.GetFileName(file), Enumerable.Range(0, scenario.Cases.Count).ToArray() });
            for (var i = 0; i < scenario.Cases.Count; i++)
            {
                var run = Model.DropSimulator.Run(scenario.Cases[i].Input);
                var there = answer[i].EnumerateArray().ToDictionary(m => m[0].GetString()!, m => (Value: m[1], Central: m[2].GetString()));
                there.Keys.Should().BeEquivalentTo(run.Measures.Select(m => m.Id));
                foreach (var measure in run.Measures)
                {
                    var because = $"{scenario.Name}, {scenario.Cases[i].Name}, {measure.Id}";
                    var (value, central) = there[measure.Id];
                    if (!double.IsFinite(measure.Value))
                    {
                        value.ValueKind.Should().Be(JsonValueKind.Null, because);
                        continue;
                    }

                    var difference = Math.Abs(value.GetDouble() - measure.Value) / Math.Max(Math.Abs(measure.Value), double.Epsilon);
                    difference = value.GetDouble() == measure.Value ? 0 : difference;
                    largest = Math.Max(largest, difference);
                    difference.Should().BeLessThan(Tolerance, because);
                    central.Should().Be(Format.Value(measure, UnitSystem.Si), because);
                    compared++;
                }
            }
        }

        compared.Should().BeGreaterThan(500);
        Console.WriteLine(FormattableString.Invariant($"{compared} measures compared; largest relative difference {largest:0.0e0}"));
        open.Complaints.Should().BeEmpty();
        open.Requests.Should().OnlyContain(r => r.StartsWith("file:", StringComparison.Ordinal) || r.StartsWith("blob:", StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Ranges_of_the_page_are_those_of_the_command_line()
    {
        await using var open = await chromium.LessonAsync();
        var file = Path.Combine(Repository.Folder("scenarios"), "medium-log.toml");
        var scenario = ScenarioReader.Read(file).Scenario!;
        var expected = RangeStudy.Compute(scenario.Cases[1], 2);

        var answer = await open.Page.EvaluateAsync<JsonElement>(
            """
            async ([text, file]) => {
              const run = (await lessonEngine.call('simulate', { text, file, cases: [1], quality: 'exact', units: 'si' })).runs[0].run;
              const ranges = await lessonEngine.call('ranges', { runs: [run], units: 'si' });
              return { method: ranges.runs[0].rangeMethod, state: ranges.runs[0].rangeState, measures: ranges.runs[0].measures.map(m => [m.id, m.low, m.high, m.worst]) };
            }
            """,
            new object[] { await File.ReadAllTextAsync(file), "medium-log.toml" });

        answer.GetProperty("state").GetString().Should().Be("whole");
        answer.GetProperty("method").GetString().Should().Be(expected.RangeMethod);
        var there = answer.GetProperty("measures").EnumerateArray().ToDictionary(m => m[0].GetString()!);
        foreach (var measure in expected.Run.Measures.Where(m => m.Headline))
        {
            there[measure.Id][1].GetDouble().Should().BeApproximately(measure.Low!.Value, Tolerance * Math.Max(Math.Abs(measure.Low.Value), 1e-9), measure.Id);
            there[measure.Id][2].GetDouble().Should().BeApproximately(measure.High!.Value, Tolerance * Math.Max(Math.Abs(measure.High.Value), 1e-9), measure.Id);
            there[measure.Id][3].GetString().Should().Be(Format.Worst(measure, UnitSystem.Si));
        }
    }
}
