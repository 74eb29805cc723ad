using DropSim.Model;

namespace DropSim.Scenarios;

/// <summary>Units in which results are preferred; inputs may mix.</summary>
public enum UnitPreference
{
    /// <summary>Metres, kilograms, kilonewtons.</summary>
    Metric,

    /// <summary>Feet, pounds, pounds-force.</summary>
    Us,
}

/// <summary>What is known about a drop that really happened.</summary>
/// <param name="Seen">What was seen or measured.</param>
/// <param name="Assumed">What the scenario assumes.</param>
/// <param name="Unknown">What nobody knows.</param>
public sealed record ScenarioReview(IReadOnlyList<string> Seen, IReadOnlyList<string> Assumed, IReadOnlyList<string> Unknown);

/// <summary>A set-up of a scenario.</summary>
/// <param name="Name">Name as in file names.</param>
/// <param name="Description">In words; may be empty.</param>
public sealed record ScenarioSetup(string Name, string Description);

/// <summary>A validated scenario.</summary>
/// <param name="Name">File name made safe: lower-case letters, digits and hyphens.</param>
/// <param name="Title">Title in words.</param>
/// <param name="Description">What it shows; may be empty.</param>
/// <param name="Units">Units preferred in results.</param>
/// <param name="SourceHash">First 12 hex digits of the SHA-256 of the file's bytes.</param>
/// <param name="Cases">Set-ups times catches, in the order of the file.</param>
/// <param name="Setups">The set-ups, in the order of the file.</param>
/// <param name="Review">What was seen, assumed and unknown; null where the file says nothing.</param>
public sealed record Scenario(
    string Name,
    string Title,
    string Description,
    UnitPreference Units,
    string SourceHash,
    IReadOnlyList<DropCase> Cases,
    IReadOnlyList<ScenarioSetup> Setups,
    ScenarioReview? Review)
{
    /// <summary>The file's text as it was read, to the letter.</summary>
    public string SourceText { get; init; } = "";
}

/// <summary>What reading a file gave: a scenario, or everything that is wrong with it.</summary>
/// <param name="Scenario">The scenario; null where there are problems.</param>
/// <param name="Problems">Everything wrong, in the order of the file; empty where the scenario is there.</param>
public sealed record ScenarioReadResult(Scenario? Scenario, IReadOnlyList<ScenarioProblem> Problems);
