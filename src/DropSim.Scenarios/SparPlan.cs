using DropSim.Model;

namespace DropSim.Scenarios;

/// <summary>A whole spar, cut down piece by piece: validated, ready to compute.</summary>
/// <param name="Name">File name made safe: lower-case letters, digits and hyphens.</param>
/// <param name="Title">Title in words.</param>
/// <param name="Description">What it shows; may be empty.</param>
/// <param name="Units">Units preferred in results.</param>
/// <param name="SourceHash">First 12 hex digits of the SHA-256 of the file's bytes.</param>
/// <param name="Rule">The rule that sets the cuts.</param>
/// <param name="Profile">Diameters from the ground to the tip, m.</param>
/// <param name="Cuts">The cuts from the tip down.</param>
public sealed record SparPlan(
    string Name,
    string Title,
    string Description,
    UnitPreference Units,
    string SourceHash,
    CutRule Rule,
    IReadOnlyList<DiameterAtHeight> Profile,
    IReadOnlyList<PlannedCut> Cuts);

/// <summary>What reading a spar file gave: a plan, or everything that is wrong with the file.</summary>
/// <param name="Plan">The plan; null where there are problems.</param>
/// <param name="Problems">Everything wrong, in the order of the file.</param>
public sealed record SparPlanReadResult(SparPlan? Plan, IReadOnlyList<ScenarioProblem> Problems);
