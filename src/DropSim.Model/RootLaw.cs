namespace DropSim.Model;

/// <summary>
/// How far a root is a spring (docs/theory/spar.md). Pulled conifers turn in proportion to the moment up to about a quarter of a degree; the
/// moment that uproots them slowly is about 2.5 times the one there (A. Detter et al. 2023, Forests 14(3) 533, 280 uprooted trees; parts read).
/// Left out: what the root does beyond, and that a load of some tenths of a second is not a slow one.
/// </summary>
internal static class RootLaw
{
    /// <summary>Turn at the foot up to which a root is a spring, rad.</summary>
    public const double StraightTurn = 0.25 * Math.PI / 180;

    /// <summary>Moment that uproots slowly over the moment at <see cref="StraightTurn"/>.</summary>
    private const double UprootingRatio = 2.5;

    /// <summary>Moment at the foot over that of a slow pull that uproots, by the spring's turn, rad; may be above 1, and is then only known to be so.</summary>
    /// <param name="turn">Largest turn, rad.</param>
    public static double UprootingShare(double turn) => turn / (UprootingRatio * StraightTurn);
}
