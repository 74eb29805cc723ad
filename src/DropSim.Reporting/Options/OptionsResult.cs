using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Options;

/// <summary>Every setting that was looked at, with what it was judged by.</summary>
/// <param name="Name">File-name-safe name of the scenario.</param>
/// <param name="Title">Its title.</param>
/// <param name="SourceHash">First digits of the hash of its file.</param>
/// <param name="Filed">The first case as the file has it.</param>
/// <param name="Found">What came of the settings.</param>
/// <param name="Tested">True where a hold test stands behind the turns.</param>
/// <param name="Refused">Why some combinations could not be built.</param>
internal sealed record OptionsResult(
    string Name, string Title, string SourceHash, DropCase Filed, OptionsFound Found, bool Tested, IReadOnlyList<string> Refused)
{
    /// <summary>The settings that were finished, in the order in which they were built.</summary>
    public IReadOnlyList<OptionOutcome> Outcomes => Found.Outcomes;

    /// <summary>The limits, whether asked or not.</summary>
    public IReadOnlyList<CrewLimit> Limits { get; } = CrewLimit.For(Filed);

    /// <summary>Settings that keep the share inside, by the force on the rigging point at its worse end.</summary>
    public IReadOnlyList<OptionOutcome> Kept { get; } =
        [.. Found.Outcomes.Where(o => o.Kept).OrderBy(o => o.Measures[MeasureIds.RiggingPointForce].Worst)];

    /// <summary>Of these, for each length of the piece, longest first, those that no other of that length beats in both force and room.</summary>
    public IReadOnlyList<IReadOnlyList<OptionOutcome>> Fronts { get; } =
    [
        .. Found.Outcomes.Where(o => o.Kept).GroupBy(o => o.Setting.Case.Input.Piece.Length).OrderByDescending(g => g.Key).Select(OptionsStudy.Front),
    ];

    /// <summary>Draws a setting.</summary>
    public int Draws => Found.Plan.Draws;

    /// <summary>Limits that no draw could be held against, because a strength is not known or nobody asks.</summary>
    public IReadOnlyList<CrewLimit> NotAsked => [.. Limits.Where(l => !IsKnown(l))];

    private bool IsKnown(CrewLimit limit) => limit.Key switch
    {
        "rope" => Filed.Input.Strength.Rope is not null,
        "sling" => Filed.Input.Strength.Sling is not null && Filed.Input.RiggingPoint.Kind != RiggingPointKind.NaturalUnion,
        "spar" => Filed.Input.Spar.BendingStrength is not null,
        "climber-movement" => Filed.Input.Spar.ClimberMass > 0,
        _ => true,
    };
}
