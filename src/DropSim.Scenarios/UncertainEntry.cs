using DropSim.Model;
using DropSim.Scenarios.Building;

namespace DropSim.Scenarios;

/// <summary>One table [[uncertain]] of a file, understood.</summary>
/// <param name="Key">The input.</param>
/// <param name="Line">Where it stands.</param>
/// <param name="Kind">Shape; null for fixed.</param>
/// <param name="Low">Lower end.</param>
/// <param name="Mid">Most likely value; null for the case's own.</param>
/// <param name="High">Upper end.</param>
/// <param name="Source">Where it comes from.</param>
internal sealed record UncertainEntry(UncertainKey Key, int Line, DistributionKind? Kind, double Low, double? Mid, double High, string Source);
