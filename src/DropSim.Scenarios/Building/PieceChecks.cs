using DropSim.Model;

namespace DropSim.Scenarios.Building;

/// <summary>
/// Whether what is said of a piece agrees with itself: mass with size, balance and inertia with length, diameters with each other and with
/// the spar (docs/theory/piece.md, "What contradicts itself"). What no wood can be is refused; what is only odd is told.
/// </summary>
internal static class PieceChecks
{
    /// <summary>
    /// Mass over volume above this many times the heaviest green wood of the catalogue is refused: a diameter read a third too small makes as much.
    /// Choice of this model.
    /// </summary>
    private const double TooHeavy = 2;

    /// <summary>
    /// Mass over volume below this part of the lightest green wood of the catalogue is refused: less than a hollow stem whose shell is an eighth
    /// of its radius thick. Choice of this model.
    /// </summary>
    private const double TooLight = 0.25;

    /// <summary>A log's stated mass and its estimate further apart than this are told. Choice of this model.</summary>
    private const double LogDisagreement = 0.4;

    /// <summary>The same for a top, whose branches nobody measures: between half and twice. Choice of this model.</summary>
    private const double TopDisagreement = 1;

    /// <summary>
    /// One diameter over another of the same wood: beyond the first told, beyond the second refused. A girth taken for a diameter makes 3.1,
    /// inches taken for centimetres 2.5. Choice of this model.
    /// </summary>
    public const double OddWidth = 1.1, ImpossibleWidth = 2;

    /// <summary>A stated balance further from the estimate than this part of the length is told. Choice of this model.</summary>
    private const double LogBalance = 0.15, TopBalance = 0.25;

    /// <summary>A stated inertia more than this many times the estimate, or less than one over it, is told. Choice of this model.</summary>
    private const double OddInertia = 2;

    /// <summary>Key of a mass that a scale showed.</summary>
    public const string Weighed = "piece.weighed";

    /// <summary>Lightest and heaviest crown of a top: mass of stem and crown over the stem's.</summary>
    private const double LeastCrown = 1 + PieceEstimate.SparseCrown, MostCrown = 1 + PieceEstimate.DenseCrown;

    /// <summary>How a stated mass fits the size.</summary>
    public enum MassFit
    {
        /// <summary>It fits.</summary>
        Fits,

        /// <summary>It may be, but one of the two is likely wrong.</summary>
        Odd,

        /// <summary>No wood is as light or as heavy.</summary>
        Impossible,
    }

    /// <summary>How a stated mass fits the size, and what green wood of this size weighs, kg.</summary>
    /// <param name="Fit">How it fits.</param>
    /// <param name="Lightest">Of the catalogue's lightest species.</param>
    /// <param name="Heaviest">Of the catalogue's heaviest species.</param>
    public readonly record struct Judged(MassFit Fit, double Lightest, double Heaviest);

    /// <summary>Holds a stated mass against the size.</summary>
    /// <param name="mass">Stated mass, kg.</param>
    /// <param name="estimate">Mass from the measures, kg; null where nobody knows the wood.</param>
    /// <param name="stemVolume">Volume of the stem, m3.</param>
    /// <param name="top">True for a top: its branches come on top of its stem.</param>
    /// <param name="catalogue">Species to compare with.</param>
    public static Judged Judge(double mass, double? estimate, double stemVolume, bool top, Catalogue catalogue)
    {
        double lightest = catalogue.GreenDensities.Lightest * stemVolume * (top ? LeastCrown : 1);
        double heaviest = catalogue.GreenDensities.Heaviest * stemVolume * (top ? MostCrown : 1);

        // A stem that has lost its branches is as light as its wood alone.
        if (mass < TooLight * catalogue.GreenDensities.Lightest * stemVolume || mass > TooHeavy * heaviest)
        {
            return new(MassFit.Impossible, lightest, heaviest);
        }

        double apart = 1 + (top ? TopDisagreement : LogDisagreement);
        double range = top ? PieceEstimate.TopMassRange : PieceEstimate.LogMassRange;
        (double low, double high) = estimate is { } known ? (known / apart, known * apart) : (lightest * (1 - range), heaviest * (1 + range));
        return new(mass < low || mass > high ? MassFit.Odd : MassFit.Fits, lightest, heaviest);
    }

    /// <summary>A mass that was stated, and the shape that was measured.</summary>
    /// <param name="values">The case.</param>
    /// <param name="path">Key of the mass.</param>
    /// <param name="mass">Stated mass, kg.</param>
    /// <param name="estimate">Mass from the measures, kg.</param>
    /// <param name="stemVolume">Volume of the stem, m3.</param>
    /// <param name="top">True for a top.</param>
    /// <param name="woodKnown">True where the density is that of the piece's species, or given.</param>
    /// <param name="catalogue">Species to compare with.</param>
    public static void Mass(CaseValues values, string path, double mass, double estimate, double stemVolume, bool top, bool woodKnown, Catalogue catalogue)
    {
        Judged judged = Judge(mass, woodKnown ? estimate : null, stemVolume, top, catalogue);
        if (judged.Fit == MassFit.Impossible)
        {
            values.Problem(path, $"{Kilograms(mass)} for {CaseValues.Text(Rounded(stemVolume), "m3")} of stem", Fitting(judged, top));
        }
        else if (judged.Fit == MassFit.Odd)
        {
            values.Remarks.Add(new Remark($"The {(path == Weighed ? "weighed" : "stated")} mass {new Amount(mass, "kg")} and the mass from the measures, {new Amount(estimate, "kg")}, disagree: check both."));
        }
    }

    /// <summary>What was expected in place of an impossible mass.</summary>
    /// <param name="judged">How it was judged.</param>
    /// <param name="top">True for a top.</param>
    public static string Fitting(Judged judged, bool top) =>
        $"a mass that fits the size: green wood of this size weighs {Kilograms(judged.Lightest)} to {Kilograms(judged.Heaviest)}{(top ? ", its branches included" : "")}. Check mass, length and diameters";

    /// <summary>Diameters of one piece.</summary>
    /// <param name="values">The case.</param>
    /// <param name="butt">At the cut, m.</param>
    /// <param name="middle">At mid length, m; null where not measured.</param>
    /// <param name="tip">At the far end, m.</param>
    public static void Shape(CaseValues values, double butt, double? middle, double tip)
    {
        Width(values, Measured(values, "piece.tip"), "far end of the piece", tip, "butt", butt);
        if (middle is { } measured)
        {
            Width(values, Measured(values, "piece.middle"), "middle of the piece", measured, "thicker end", Math.Max(butt, tip));
            Width(values, Measured(values, "piece.middle"), "thinner end of the piece", Math.Min(butt, tip), "middle", measured);
        }
    }

    /// <summary>The butt and the spar that it is cut from. Upward from its last measure the spar grows no thicker; at the cut both are one face.</summary>
    /// <param name="values">The case.</param>
    /// <param name="butt">Diameter of the butt, m.</param>
    /// <param name="spar">The spar's uppermost measure, m.</param>
    /// <param name="atCut">True where that measure stands at the cut.</param>
    /// <param name="sparPath">Key of the spar's measures.</param>
    public static void Cut(CaseValues values, double butt, double spar, bool atCut, string sparPath)
    {
        Width(values, Measured(values, "piece.butt"), "butt of the piece", butt, atCut ? "spar at the cut" : "spar below it", spar, atCut ? OddWidth : 1);
        if (atCut)
        {
            Width(values, sparPath, "spar at the cut", spar, "butt of the piece", butt);
        }
    }

    /// <summary>A stated balance point and a stated inertia.</summary>
    /// <param name="values">The case.</param>
    /// <param name="estimate">From the measures, with the mass that is used.</param>
    /// <param name="length">Length, m.</param>
    /// <param name="radius">Largest half width, crown included, m.</param>
    /// <param name="balance">Balance point used, m.</param>
    /// <param name="inertia">Inertia used, kg m2.</param>
    /// <param name="top">True for a top.</param>
    public static void Balance(CaseValues values, PieceEstimate estimate, double length, double radius, double balance, double inertia, bool top)
    {
        if (values.Has("piece.balance-point") && balance < length && Math.Abs(balance - estimate.CentreOfGravity) > (top ? TopBalance : LogBalance) * length)
        {
            values.Remarks.Add(new Remark($"The stated balance point {new Amount(balance, "m")} and the one from the measures, {new Amount(estimate.CentreOfGravity, "m")}, disagree: check both."));
        }

        if (!values.Has("piece.inertia") || balance >= length)
        {
            return;
        }

        // No mass between two ends a length apart, and within a radius, has more: half of it sits at each end, out at the rim.
        double most = estimate.Mass * ((balance * (length - balance)) + (radius * radius));
        if (inertia > most)
        {
            values.Problem("piece.inertia", CaseValues.Text(inertia, "kg m2"), $"at most {CaseValues.Text(Rounded(most), "kg m2")}: no piece of this mass and length has more");
        }
        else if (inertia > OddInertia * estimate.Inertia || inertia < estimate.Inertia / OddInertia)
        {
            values.Remarks.Add(new Remark($"The stated inertia {new Amount(inertia, "kg m2")} and the one from the measures, {new Amount(estimate.Inertia, "kg m2")}, disagree: check both."));
        }
    }

    /// <summary>Two diameters of the same wood, the first of which should not be the larger.</summary>
    /// <param name="values">The case.</param>
    /// <param name="path">Key of the first.</param>
    /// <param name="part">Where it was measured.</param>
    /// <param name="width">The first, m.</param>
    /// <param name="other">Where the second was measured.</param>
    /// <param name="otherWidth">The second, m.</param>
    /// <param name="odd">From how many times as wide it is told.</param>
    public static void Width(CaseValues values, string path, string part, double width, string other, double otherWidth, double odd = OddWidth)
    {
        if (width > ImpossibleWidth * otherWidth)
        {
            values.Problem(path, $"{Metres(width)} across the {part}, and {Metres(otherWidth)} across the {other}",
                $"at most {Metres(ImpossibleWidth * otherWidth)}, twice the {other}. Check both measures");
        }
        else if (width > odd * otherWidth)
        {
            values.Remarks.Add(new Remark($"The {part} is {Math.Round(width / otherWidth, 2)} times as wide as the {other}: check both measures."));
        }
    }

    /// <summary>The key under which a diameter was given.</summary>
    private static string Measured(CaseValues values, string part) => values.Has($"{part}-girth") ? $"{part}-girth" : $"{part}-diameter";

    private static string Kilograms(double mass) => CaseValues.Text(Rounded(mass), "kg");

    private static string Metres(double width) => CaseValues.Text(Math.Round(width, 3), "m");

    private static double Rounded(double value) => double.Parse(value.ToString("G2", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture);
}
