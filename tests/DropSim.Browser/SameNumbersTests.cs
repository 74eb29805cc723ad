using System.Text.Json;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Studies.Draws;

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
                "async ([text, file, cases]) => { const a = await lessonEngine.call('simulate', { text, file, cases, quality: 'exact', units: 'si' }); return a.runs.map(r => r.measures.map(m => [m.id, m.value, m.thisDrop])); }",
                new object[] { await File.ReadAllTextAsync(file), Path.GetFileName(file), Enumerable.Range(0, scenario.Cases.Count).ToArray() });
            for (var i = 0; i < scenario.Cases.Count; i++)
            {
                var run = Model.DropSimulator.Run(scenario.Cases[i].Input);
                var there = answer[i].EnumerateArray().ToDictionary(m => m[0].GetString()!, m => (Value: m[1], ThisDrop: m[2].GetString()));
                there.Keys.Should().BeEquivalentTo(run.Measures.Select(m => m.Id));
                foreach (var measure in run.Measures)
                {
                    var because = $"{scenario.Name}, {scenario.Cases[i].Name}, {measure.Id}";
                    var (value, thisDrop) = there[measure.Id];
                    if (!double.IsFinite(measure.Value))
                    {
                        value.ValueKind.Should().Be(JsonValueKind.Null, because);
                        continue;
                    }

                    var difference = Math.Abs(value.GetDouble() - measure.Value) / Math.Max(Math.Abs(measure.Value), double.Epsilon);
                    difference = value.GetDouble() == measure.Value ? 0 : difference;
                    largest = Math.Max(largest, difference);
                    difference.Should().BeLessThan(Tolerance, because);
                    thisDrop.Should().Be(Format.Value(measure, UnitSystem.Si), because);
                    compared++;
                }
            }
        }

        compared.Should().BeGreaterThan(500);
        Console.WriteLine(FormattableString.Invariant($"{compared} measures compared; largest relative difference {largest:0.0e0}"));
        open.Complaints.Should().BeEmpty();
        open.Requests.Should().OnlyContain(r => r.StartsWith("file:", StringComparison.Ordinal) || r.StartsWith("blob:", StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal));
    }

    /// <summary>Both cases of three: a hard stop, a run that is cut short by an obstacle, let run. All scenarios would take the browser many minutes.</summary>
    [BrowserTheory]
    [InlineData("light-log-many-wraps.toml")]
    [InlineData("near-miss-review.toml")]
    [InlineData("small-top.toml")]
    public async Task Set_ups_like_it_are_those_that_the_command_line_draws_first(string file)
    {
        var open = shipped.Open;
        await PageTests.Rested(open.Page);
        var scenario = ScenarioReader.Read(PageTests.Shipped(file)).Scenario!;
        var expected = DrawStudy.Compute(scenario.Cases, new DrawPlan(DrawStudy.SeedOf(scenario.Name)) { Count = Session.DrawJob.Draws });
        int[] cases = [.. Enumerable.Range(0, Math.Min(2, scenario.Cases.Count))];

        // The page asks for draws of its own, which would be given up for these.
        var answer = await open.Page.EvaluateAsync<JsonElement>(
            """
            async ([text, file, cases]) => {
              for (;;) {
                const a = await lessonEngine.call('simulate', { text, file, cases, quality: 'exact', units: 'si' });
                const began = performance.now();
                const d = await lessonEngine.call('draws', { runs: a.runs.map(r => r.run), units: 'si' });
                if (!d.superseded) return { runs: d.runs, seconds: (performance.now() - began) / 1000 };
              }
            }
            """,
            new object[] { await File.ReadAllTextAsync(PageTests.Shipped(file)), file, cases });

        var compared = 0;
        double largest = 0;
        foreach (var which in cases)
        {
            var there = answer.GetProperty("runs")[which].GetProperty("drawn");
            there.GetProperty("caught").GetInt32().Should().Be(expected.Cases[which].Drops.Count(d => d.IsCaught));
            var spreads = there.GetProperty("spreads").EnumerateArray().ToDictionary(s => s.GetProperty("id").GetString()!, s => s.GetProperty("dots").EnumerateArray().Select(d => d.GetDouble()).ToArray());
            foreach (var measure in DrawStudy.Told)
            {
                var dots = Caught.Of(expected, which, measure).Dots;
                spreads[measure].Should().HaveCount(dots.Count);
                foreach (var (found, wanted) in spreads[measure].Zip(dots))
                {
                    var difference = found == wanted ? 0 : Math.Abs(found - wanted) / Math.Max(Math.Abs(wanted), double.Epsilon);
                    largest = Math.Max(largest, difference);
                    difference.Should().BeLessThan(Tolerance, $"{scenario.Cases[which].Name}, {measure}");
                    compared++;
                }
            }
        }

        compared.Should().BeGreaterThan(100);
        Console.WriteLine(FormattableString.Invariant($"{scenario.Name}: {compared} dots compared; largest relative difference {largest:0.0e0}; {answer.GetProperty("seconds").GetDouble():0.0} s for {Session.DrawJob.Draws} draws of {cases.Length} cases"));
        open.Complaints.Should().BeEmpty();
    }
}
