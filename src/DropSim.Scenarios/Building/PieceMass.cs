using DropSim.Model;

namespace DropSim.Scenarios.Building;

/// <summary>
/// What is assumed about a piece where nobody measured it, and how far its mass may be off (docs/theory/piece.md): one place, so that a
/// scenario and the command <c>mass</c> cannot disagree about the same piece.
/// </summary>
internal static class PieceMass
{
    /// <summary>Diameter at the far end of a log over its butt. Common practice, no source.</summary>
    public const double LogTipOverButt = 0.95;

    /// <summary>Diameter at the tip of a top's stem, m. Common practice, no source.</summary>
    public const double TopTip = 0.02;

    /// <summary>Half width of a top's crown over its length. Common practice, no source.</summary>
    public const double CrownHalfWidthOverLength = 0.15;

    /// <summary>A table's density that holds for no more moisture than this is that of wood drier than a living tree's.</summary>
    private const double FiftyPercent = 0.5;

    /// <summary>A living tree is up to 30 % heavier than wood at 50 % moisture content. From memory.</summary>
    public const double WetterThanFiftyPercent = 0.30;

    /// <summary>Diameter at the tip where it was not measured, m.</summary>
    /// <param name="top">True for a top.</param>
    /// <param name="butt">Diameter at the butt, m.</param>
    public static double Tip(bool top, double butt) => top ? Math.Min(TopTip, butt) : LogTipOverButt * butt;

    /// <summary>Bare stem of a top where it was not measured, m.</summary>
    /// <param name="length">Length, m.</param>
    public static double Bare(double length) => length / 3;

    /// <summary>Branch and leaf mass over stem mass of a crown by its name; medium where it has none.</summary>
    /// <param name="name">sparse, medium or dense.</param>
    public static double Crown(string? name) => name switch
    {
        "sparse" => PieceEstimate.SparseCrown,
        "dense" => PieceEstimate.DenseCrown,
        _ => PieceEstimate.MediumCrown,
    };

    /// <summary>Range of an estimated mass, kg.</summary>
    /// <param name="mass">Estimate, kg.</param>
    /// <param name="top">True for a top.</param>
    /// <param name="species">Species whose table density was used; null where the density was given.</param>
    public static (double Low, double High) Range(double mass, bool top, SpeciesEntry? species)
    {
        var part = top ? PieceEstimate.TopMassRange : PieceEstimate.LogMassRange;
        return (mass * (1 - part), mass * (1 + (IsAtFiftyPercent(species) ? Math.Max(part, WetterThanFiftyPercent) : part)));
    }

    /// <summary>Range of a weighed mass, kg.</summary>
    /// <param name="mass">Mass by the scale, kg.</param>
    public static (double Low, double High) Weighed(double mass) =>
        (mass * (1 - PieceEstimate.WeighedMassRange), mass * (1 + PieceEstimate.WeighedMassRange));

    /// <summary>What to say where the table's density is that of drier wood than a living tree's; null elsewhere.</summary>
    /// <param name="species">Species whose table density was used; null where the density was given.</param>
    public static string? DrierTable(SpeciesEntry? species) => IsAtFiftyPercent(species)
        ? $"The density of {species!.Name} holds for 50 % moisture content; a living tree is usually wetter, so the piece may be up to a third heavier than the central value."
        : null;

    private static bool IsAtFiftyPercent(SpeciesEntry? species) => species?.DensityMoisture is { } moisture && moisture <= FiftyPercent;
}
