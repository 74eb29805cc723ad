using DropSim.Reporting.Charts;

namespace DropSim.Reporting.Studies;

/// <summary>What the pictures of all studies say in the same words.</summary>
internal static class StudyWording
{
    /// <summary>What must be known, what is not modelled, how to read it, version and scenario.</summary>
    /// <param name="known">What must be known about this picture.</param>
    /// <param name="scenario">Name of the scenario.</param>
    /// <param name="hash">Hash of its file.</param>
    /// <param name="options">Version.</param>
    internal static IReadOnlyList<string> Footer(IEnumerable<string> known, string scenario, string hash, ReportOptions options) =>
    [
        .. known,
        Cautions.NotModelledSentence,
        string.Join(" ", Cautions.Reading),
        $"DropSim {options.ProgramVersion}; scenario {scenario}, file hash {hash}.",
    ];

    /// <summary>"Ring, let run" from set-up and catch; the set-up left out where there is one only.</summary>
    /// <param name="setup">Set-up.</param>
    /// <param name="held">Catch.</param>
    /// <param name="severalSetups">True where the set-up must be told.</param>
    internal static string CaseName(string setup, string held, bool severalSetups) =>
        Wording.Capital((severalSetups ? Wording.Plain(setup) + ", " : "") + Wording.Plain(held));
}
