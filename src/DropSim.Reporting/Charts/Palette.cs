using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>
/// A quantity keeps its colour in every picture. The hues are the colour-blind-proof set of M. Okabe and K. Ito,
/// "Color Universal Design" (2008). Nothing hangs on colour alone: dashes and weights differ too, for grey print.
/// </summary>
internal static class Palette
{
    internal const string LoadLeg = "#0072B2";
    internal const string GroundLeg = "#D55E00";
    internal const string Hand = "#E69F00";
    internal const string RiggingPoint = "#000000";
    internal const string Spar = "#009E73";
    internal const string Climber = "#CC79A7";
    internal const string Piece = "#56B4E9";

    // Words in a light hue cannot be read on white: the same hues, darker, for text only.
    internal const string HandText = "#8F6200";
    internal const string ClimberText = "#9C4478";
    internal const string PieceText = "#1F6E9C";
    internal const string SparText = "#00674B";
    internal const string GroundLegText = "#A94A00";

    internal const string Ink = "#1A1A1A";
    internal const string Quiet = "#595959";
    internal const string Event = "#9C9C9C";
    internal const string Grid = "#E4E4E4";
    internal const string Ground = "#8A7A66";
    internal const string GroundFill = "#EFEAE2";
    internal const string ObstacleFill = "#DDD6CB";

    /// <summary>Pale fill of a phase, or of time that was not computed; they differ in lightness too.</summary>
    internal static string Phase(PhaseKind? kind) => kind switch
    {
        PhaseKind.Hinged => "#EFEBE0",
        PhaseKind.Free => "#FFFFFF",
        PhaseKind.Taut => "#E3EEF6",
        PhaseKind.Running => "#FBEFE2",
        _ => "#F6F6F6",
    };

    /// <summary>The first of two that are compared, heavy and whole.</summary>
    internal static Stroke First(string colour) => new(colour, 4);

    /// <summary>The second, lighter and dashed.</summary>
    internal static Stroke Second(string colour) => new(colour, 2.5, Dash.Long);
}
