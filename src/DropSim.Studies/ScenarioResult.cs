using DropSim.Model;

namespace DropSim.Studies;

/// <summary>Everything computed for one scenario.</summary>
/// <param name="Name">File-name-safe name.</param>
/// <param name="Title">Title in words.</param>
/// <param name="Description">What it shows, in words; may be empty.</param>
/// <param name="SourceHash">First 12 hex digits of the SHA-256 of the scenario file's bytes.</param>
/// <param name="Cases">One per set-up and catch, in the file's order.</param>
/// <param name="Comparisons">What is compared with what.</param>
public sealed record ScenarioResult(
    string Name, string Title, string Description, string SourceHash,
    IReadOnlyList<CaseResult> Cases, IReadOnlyList<Comparison> Comparisons)
{
    /// <summary>Set-ups like these; null where nothing in any case is unknown.</summary>
    public Draws.ToldScenario? Told { get; init; }

    /// <summary>True where the catch alone does not tell which case is meant.</summary>
    public bool HasSeveralSetups => Cases.Select(c => c.Case.Setup).Distinct().Count() > 1;
}

/// <summary>One combination computed: the central run, its measures carrying ranges.</summary>
/// <param name="Case">What was computed.</param>
/// <param name="Run">The central run; its measures carry low, high and worst inputs.</param>
/// <param name="RangeRuns">Number of runs behind the ranges.</param>
/// <param name="RangeMethod">How the ranges were found, in words.</param>
public sealed record CaseResult(DropCase Case, DropRun Run, int RangeRuns, string RangeMethod)
{
    /// <summary>How exact the central run is; null where that was not asked for.</summary>
    public Verification? Verification { get; init; }

    /// <summary>How the runs behind the ranges ended, in the order of the runs; the central run's end is not among them.</summary>
    public IReadOnlyList<RunEnd> RangeEnds { get; init; } = [];
}

/// <summary>Two cases side by side (same set-up and two catches, or same catch and two set-ups).</summary>
/// <param name="First">Index of the first case (the one changed to).</param>
/// <param name="Second">Index of the second case (the one compared with).</param>
/// <param name="Title">One finding in words with numbers.</param>
/// <param name="Paragraph">What changed, by how much, why, what got worse, what is not modelled.</param>
public sealed record Comparison(int First, int Second, string Title, string Paragraph)
{
    /// <summary>The paragraph in its parts, in order.</summary>
    public IReadOnlyList<ComparisonPart> Parts { get; init; } = [];
}

/// <summary>What a part of a comparison tells.</summary>
public enum ComparisonPartKind
{
    /// <summary>How a drop ended.</summary>
    Ending,

    /// <summary>What differs between the two drops as they were put in.</summary>
    Changed,

    /// <summary>By how much the results differ.</summary>
    Amounts,

    /// <summary>Where the energy went.</summary>
    Energy,

    /// <summary>What is worse, and with which of the two.</summary>
    Worse,

    /// <summary>How certain it is.</summary>
    Certainty,

    /// <summary>Nothing is certain yet, because no ranges were computed.</summary>
    NoRanges,

    /// <summary>What is left out.</summary>
    NotModelled,
}

/// <summary>A part of a comparison in words.</summary>
/// <param name="Kind">What it tells.</param>
/// <param name="Heading">What stands before its colon; "" for none.</param>
/// <param name="Text">The rest of it.</param>
public sealed record ComparisonPart(ComparisonPartKind Kind, string Heading, string Text)
{
    /// <summary>Heading and text.</summary>
    public override string ToString() => Heading.Length == 0 ? Text : $"{Heading}: {Text}";
}
