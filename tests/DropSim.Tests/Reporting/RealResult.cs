using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

/// <summary>Real results, computed once: the medium log, caught in time, and the light log that lands.</summary>
public sealed class RealResult
{
    private static readonly Lazy<ScenarioResult> Medium = new(() => Compute("medium-log.toml"));
    private static readonly Lazy<ScenarioResult> Light = new(() => Compute("light-log-many-wraps.toml"));

    internal static ScenarioResult MediumLog => Medium.Value;

    internal static ScenarioResult LightLog => Light.Value;

    private static ScenarioResult Compute(string file)
    {
        var scenario = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), file)).Scenario!;

        // Two ranges are enough here; the whole set is the business of the study's own tests.
        var cases = scenario.Cases.Select(c => c with { Ranges = [.. c.Ranges.Take(2)] }).ToArray();
        return ScenarioStudy.Compute(scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, cases, 2);
    }
}
