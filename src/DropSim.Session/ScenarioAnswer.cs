using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Session;

/// <summary>A scenario's text read, as the page gets it: what stands in it, or what is wrong with it.</summary>
internal static class ScenarioAnswer
{
    /// <summary>Reads a text; of its cases those asked for only, where some are.</summary>
    public static ScenarioReadResult Read(string text, string file, IReadOnlyCollection<int>? only = null)
    {
        ScenarioDraft draft = ScenarioReader.Open(Encoding.UTF8.GetBytes(text), file);
        return only is null ? draft.Build() : draft.BuildOnly(only);
    }

    /// <summary>The answer to a text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="file">Its file name.</param>
    /// <param name="changed">True where the text itself is part of the answer.</param>
    public static OpenAnswer Of(string text, string file, bool changed)
    {
        ScenarioReadResult read = Read(text, file);
        return new OpenAnswer(
            Problems(read),
            file,
            changed ? text : null,
            read.Scenario is { } scenario ? Scenario(scenario) : null,
            read.Scenario is { } s ? [.. s.Cases.Select((_, i) => InputList.Of(s, i, text))] : null);
    }

    /// <summary>What is wrong, each with the line that the command line prints.</summary>
    public static IReadOnlyList<ProblemDto> Problems(ScenarioReadResult read) =>
        [.. read.Problems.Select(p => new ProblemDto(p.File, p.Line, p.Path, p.Found, p.Expected, p.Nearest, p.ToString()))];

    /// <summary>"Ring, let run"; without the set-up where there is one only.</summary>
    public static string CaseLabel(Scenario scenario, DropCase dropCase) =>
        Wording.CaseName(dropCase, scenario.Setups.Count > 1);

    private static ScenarioDto Scenario(Scenario scenario)
    {
        var units = scenario.Units == UnitPreference.Us ? UnitSystem.Us : UnitSystem.Si;
        return new(
            scenario.Name,
            scenario.Title,
            scenario.Description,
            units == UnitSystem.Us ? "us" : "si",
            scenario.SourceHash,
            [.. scenario.Setups.Select(s => new SetupDto(s.Name, Wording.Capital(Wording.Plain(s.Name)), s.Description))],
            [.. scenario.Cases.DistinctBy(c => c.CatchName).Select(c => new CatchDto(c.CatchName, Wording.Capital(Wording.Plain(c.CatchName)), Kind(c.Input.Catch.Kind)))],
            [.. scenario.Cases.Select((c, i) => new CaseDto(i, c.Setup, c.CatchName, CaseLabel(scenario, c), [.. Format.Warnings(c, units)]))],
            ScenarioStudy.Opening(scenario.Cases),
            scenario.Review is { } review ? new(review.Seen, review.Assumed, review.Unknown) : null);
    }

    private static string Kind(CatchKind kind) => kind switch { CatchKind.Held => "held", CatchKind.LetRun => "let-run", _ => "hard-stop" };
}
