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

    /// <summary>The settings by length of the piece: the file's own piece first, then the others, longest first.</summary>
    public IReadOnlyList<IReadOnlyList<OptionOutcome>> ByPiece { get; } = [.. Grouped(Found.Outcomes, Filed)];

    /// <summary>Of those kept, for each length in the same order, the ones that no other of that length beats in both force and room.</summary>
    public IReadOnlyList<IReadOnlyList<OptionOutcome>> Fronts { get; } = [.. Grouped(Found.Outcomes.Where(o => o.Kept), Filed).Select(OptionsStudy.Front)];

    /// <summary>True for the length of the file's own piece.</summary>
    /// <param name="outcome">A setting.</param>
    public bool IsOwnPiece(OptionOutcome outcome) => outcome.Setting.Case.Input.Piece.Length == Filed.Input.Piece.Length;

    /// <summary>Draws a setting.</summary>
    public int Draws => Found.Plan.Draws;

    /// <summary>Limits that no draw could be held against, because a strength is not known or nobody asks.</summary>
    public IReadOnlyList<CrewLimit> NotAsked => [.. Limits.Where(l => !IsKnown(l))];

    /// <summary>True where a setting's draws were held against a limit, or against being caught at all.</summary>
    /// <param name="key">Key of the limit, or "caught".</param>
    /// <param name="setting">The setting.</param>
    public bool IsChecked(string key, OptionSetting setting) =>
        !NotAsked.Any(l => l.Key == key) && !(key == "hand" && setting.Case.Input.Catch.Kind == CatchKind.HardStop);

    private static IEnumerable<IReadOnlyList<OptionOutcome>> Grouped(IEnumerable<OptionOutcome> outcomes, DropCase filed) => outcomes
        .GroupBy(o => o.Setting.Case.Input.Piece.Length)
        .OrderBy(g => g.Key != filed.Input.Piece.Length).ThenByDescending(g => g.Key)
        .Select(g => (IReadOnlyList<OptionOutcome>)[.. g]);

    private bool IsKnown(CrewLimit limit) => limit.Key switch
    {
        "rope" => Filed.Input.Strength.Rope is not null,
        "sling" => Filed.Input.Strength.Sling is not null && Filed.Input.RiggingPoint.Kind != RiggingPointKind.NaturalUnion,
        "spar" => Filed.Input.Spar.BendingStrength is not null,
        "climber-movement" => Filed.Input.Spar.ClimberMass > 0,
        _ => true,
    };
}
