using System.Text.Json;
using DropSim.Reporting;
using DropSim.Scenarios;

namespace DropSim.Browser;

/// <summary>The page computes with the same program as the command line: compiled for the browser, it must give the same numbers.</summary>
[Collection(ShippedPageTests.Name)]
public sealed class SameNumbersTests(ShippedPage shipped)
{
    /// <summary>What is asked of the page. Measured: no difference at all, since sine, exponential and angle are our own (docs/decisions/0018-own-elementary-functions.md).</summary>
    private const double Tolerance = 1e-6;

    [BrowserFact]
    public async Task Every_measure_of_every_shipped_scenario_is_the_one_that_the_command_line_computes()
    {
        var open = shipped.Open;
        await PageTests.Rested(open.Page);
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

    /// <summary>One case each of three: a hard stop, a run that is cut short by an obstacle, let run. All scenarios would take the browser many minutes.</summary>
    [BrowserTheory]
    [InlineData("light-log-many-wraps.toml", 0)]
    [InlineData("near-miss-review.toml", 1)]
    [InlineData("small-top.toml", 0)]
    public async Task Every_range_is_the_one_that_the_command_line_computes(string file, int index)
    {
        var open = shipped.Open;
        await PageTests.Rested(open.Page);
        var scenario = ScenarioReader.Read(PageTests.Shipped(file)).Scenario!;
        var expected = Studies.RangeStudy.Compute(scenario.Cases[index], threads: 1);

        // The page asks for ranges of its own, which would be given up for these.
        var answer = await open.Page.EvaluateAsync<JsonElement>(
            """
            async ([text, file, index]) => {
              for (;;) {
                const a = await lessonEngine.call('simulate', { text, file, cases: [index], quality: 'exact', units: 'si' });
                const r = await lessonEngine.call('ranges', { runs: [a.runs[0].run], units: 'si' });
                if (!r.superseded) return r.runs[0];
              }
            }
            """,
            new object[] { await File.ReadAllTextAsync(PageTests.Shipped(file)), file, index });

        answer.GetProperty("rangeState").GetString().Should().Be("whole");
        answer.GetProperty("rangeMethod").GetString().Should().Be(expected.RangeMethod);
        var there = answer.GetProperty("measures").EnumerateArray().ToDictionary(m => m.GetProperty("id").GetString()!);
        there.Keys.Should().BeEquivalentTo(expected.Run.Measures.Select(m => m.Id));
        var compared = 0;
        double largest = 0;
        foreach (var measure in expected.Run.Measures)
        {
            foreach (var (end, value) in new[] { ("low", measure.Low), ("high", measure.High) })
            {
                var because = $"{scenario.Name}, {scenario.Cases[index].Name}, {measure.Id}, {end}";
                var found = there[measure.Id].GetProperty(end);
                if (value is not { } wanted || !double.IsFinite(wanted))
                {
                    found.ValueKind.Should().Be(JsonValueKind.Null, because);
                    continue;
                }

                var difference = found.GetDouble() == wanted ? 0 : Math.Abs(found.GetDouble() - wanted) / Math.Max(Math.Abs(wanted), double.Epsilon);
                largest = Math.Max(largest, difference);
                difference.Should().BeLessThan(Tolerance, because);
                compared++;
            }

            there[measure.Id].GetProperty("worst").GetString().Should().Be(Format.Worst(measure, UnitSystem.Si), measure.Id);
            there[measure.Id].GetProperty("rangeReadsAtLeast").GetBoolean().Should().Be(measure.RangeCutShort, measure.Id);
        }

        compared.Should().BeGreaterThan(40);
        Console.WriteLine(FormattableString.Invariant($"{scenario.Cases[index].Name}: {compared} ends of ranges compared; largest relative difference {largest:0.0e0}"));
        open.Complaints.Should().BeEmpty();
    }
}
