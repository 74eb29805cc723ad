namespace DropSim.Model;

/// <summary>By what rule a stem is cut down.</summary>
/// <param name="Length">Length of a piece, m; infinite where only the mass rules.</param>
/// <param name="Mass">Mass that no estimate of a piece may exceed, kg; infinite where only the length rules.</param>
/// <param name="LowestCut">Height of the lowest cut, m: what stands below it comes down another way.</param>
/// <param name="TopLength">Length of the top that is taken first, m; 0 for a stem without a top.</param>
public sealed record CutRule(double Length, double Mass, double LowestCut, double TopLength);

/// <summary>A piece of a stem between two cuts.</summary>
/// <param name="Kind">Log or top.</param>
/// <param name="Cut">Height of the cut below it, m.</param>
/// <param name="Upper">Height of its upper end, m.</param>
/// <param name="ButtDiameter">Diameter at the cut, m.</param>
/// <param name="MiddleDiameter">Diameter halfway up, m.</param>
/// <param name="UpperDiameter">Diameter at its upper end, m.</param>
public readonly record struct StemPiece(PieceKind Kind, double Cut, double Upper, double ButtDiameter, double MiddleDiameter, double UpperDiameter)
{
    /// <summary>Length, m.</summary>
    public double Length => Upper - Cut;
}

/// <summary>
/// The cuts that take a stem down from its tip: first the top where there is one, then logs, each as long as the rule allows, the last
/// one whatever is left (docs/theory/dismantling.md). Left out: where a climber would rather cut because of a branch, a bend or a fork.
/// </summary>
public static class StemCuts
{
    /// <summary>Shortest log, m: less than this is left on the stem, and a mass that even such a log exceeds is refused. Choice of this model.</summary>
    public const double ShortestLog = 0.3;

    /// <summary>Halvings of the length while the mass is met: to less than a millimetre from 80 m.</summary>
    private const int Halvings = 24;

    /// <summary>Cuts a stem.</summary>
    /// <param name="profile">Diameters from the ground to the tip, linear between, m.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="density">Green density, kg/m3, with which the rule weighs logs.</param>
    /// <returns>The pieces from the tip down; fewer than reach the lowest cut where even the shortest log is too heavy.</returns>
    public static IReadOnlyList<StemPiece> Of(IReadOnlyList<DiameterAtHeight> profile, CutRule rule, double density)
    {
        ArgumentNullException.ThrowIfNull(profile);
        ArgumentNullException.ThrowIfNull(rule);
        var pieces = new List<StemPiece>();
        var upper = profile[^1].Height;
        if (rule.TopLength > 0)
        {
            pieces.Add(Piece(profile, PieceKind.Top, upper - rule.TopLength, upper));
            upper -= rule.TopLength;
        }

        while (upper - rule.LowestCut >= ShortestLog)
        {
            var length = Math.Min(rule.Length, upper - rule.LowestCut);
            if (Mass(length) > rule.Mass)
            {
                if (Mass(ShortestLog) > rule.Mass)
                {
                    break;
                }

                var (low, high) = (ShortestLog, length);
                for (var i = 0; i < Halvings; i++)
                {
                    var middle = (low + high) / 2;
                    (low, high) = Mass(middle) > rule.Mass ? (low, middle) : (middle, high);
                }

                // A centimetre is as well as anyone marks a cut.
                length = Math.Max(ShortestLog, Math.Floor(100 * low) / 100);
            }

            pieces.Add(Piece(profile, PieceKind.Log, upper - length, upper));
            upper -= length;
        }

        return pieces;

        double Mass(double length) => LogMass(Piece(profile, PieceKind.Log, upper - length, upper), density);
    }

    /// <summary>Estimated mass of a log, kg.</summary>
    /// <param name="log">The log.</param>
    /// <param name="density">Green density, kg/m3.</param>
    public static double LogMass(StemPiece log, double density) =>
        PieceEstimate.Log(log.ButtDiameter, log.UpperDiameter, log.Length, density, log.MiddleDiameter).Mass;

    /// <summary>Diameter at a height, linear between the measures and level beyond them, m.</summary>
    /// <param name="profile">Diameters in order of height, m.</param>
    /// <param name="height">Height, m.</param>
    public static double DiameterAt(IReadOnlyList<DiameterAtHeight> profile, double height)
    {
        ArgumentNullException.ThrowIfNull(profile);
        if (height <= profile[0].Height)
        {
            return profile[0].Diameter;
        }

        for (var i = 1; i < profile.Count; i++)
        {
            var (from, to) = (profile[i - 1], profile[i]);
            if (height <= to.Height)
            {
                return from.Diameter + ((height - from.Height) / (to.Height - from.Height) * (to.Diameter - from.Diameter));
            }
        }

        return profile[^1].Diameter;
    }

    private static StemPiece Piece(IReadOnlyList<DiameterAtHeight> profile, PieceKind kind, double cut, double upper) =>
        new(kind, cut, upper, DiameterAt(profile, cut), DiameterAt(profile, (cut + upper) / 2), DiameterAt(profile, upper));
}
