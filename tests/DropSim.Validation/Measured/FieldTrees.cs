using System.Globalization;
using DropSim.Model;

namespace DropSim.Validation.Measured;

/// <summary>
/// Thirteen invented red pines, each with a top and four pieces over a block near the cut, as in B. Kane, S. Brena, W. Autio (2009),
/// Arboriculture &amp; Urban Forestry 35(2):68-74 (abstract read: numbers of trees and pieces, trends, no sizes and no forces). Which sizes
/// and settings the study had is not known; they are spread here as a yard would have them.
/// </summary>
internal static class FieldTrees
{
    private const int Trees = 13;
    private const int PiecesPerTree = 4;

    /// <summary>The drops of one catch.</summary>
    public static IReadOnlyList<Drop> HardStop { get; } = All("hard-stop");

    /// <summary>The drops of the other.</summary>
    public static IReadOnlyList<Drop> LetRun { get; } = All("let-run");

    /// <summary>Share of the variance of the logarithm of a force that the logarithm of something else explains.</summary>
    public static double Explains(IEnumerable<Drop> drops, Func<Drop, double> cause, Func<Drop, double> force) => LogLine(drops, cause, force).Explained;

    /// <summary>A straight line through the logarithms.</summary>
    public static Line LogLine(IEnumerable<Drop> drops, Func<Drop, double> cause, Func<Drop, double> force) =>
        Line.Through([.. drops.Select(d => (Math.Log(cause(d)), Math.Log(force(d))))]);

    /// <summary>Share of the variance that something explains beyond what the mass explains already.</summary>
    public static double AddsToMass(IReadOnlyList<Drop> drops, Func<Drop, double> cause, Func<Drop, double> force)
    {
        // R^2 of two causes from the three correlations between causes and effect.
        double Correlation(Func<Drop, double> a, Func<Drop, double> b)
        {
            var line = LogLine(drops, a, b);
            return Math.Sign(line.Slope) * Math.Sqrt(line.Explained);
        }

        var (mass, other, between) = (Correlation(d => d.Mass, force), Correlation(cause, force), Correlation(d => d.Mass, cause));
        return (((mass * mass) + (other * other) - (2 * mass * other * between)) / (1 - (between * between))) - (mass * mass);
    }

    private static Drop[] All(string catchName)
    {
        var texts = new List<(bool Top, double Foot, string Text)>();
        for (var tree = 0; tree < Trees; tree++)
        {
            double Of(int what, double from, double to) => from + ((to - from) * Spread(tree, what));
            var (height, foot, cut) = (Of(0, 14, 19), Of(1, 0.26, 0.42), Of(2, 4, 6));
            texts.Add((true, foot, Text(tree, 0, height, foot, height - cut, cut)));
            for (var k = 1; k <= PiecesPerTree; k++)
            {
                var length = 0.8 + (1.2 * Spread(tree, 2 + k));
                cut += length;
                texts.Add((false, foot, Text(tree, k, height, foot, height - cut, length)));
            }
        }

        return [.. texts.AsParallel().AsOrdered().Select(t => Compute(t.Top, t.Foot, t.Text, catchName))];
    }

    private static Drop Compute(bool top, double foot, string text, string catchName)
    {
        var input = Drops.Read(text).Cases.Single(c => c.CatchName == catchName).Input;
        var run = Drops.Run(input);
        var fallen = run[MeasureIds.DropToTaut].Value;
        var rope = input.Spar.Height - input.RiggingPoint.BelowCut - input.Device.Z + input.RiggingPoint.BelowCut + input.Piece.HitchHeight;
        return new(
            top, input.Piece.Mass, run[MeasureIds.RiggingPointForce].Value, run[MeasureIds.LoadLegTension].Value, fallen, fallen / rope, input.Start.FaceCutDepth,
            run[MeasureIds.BaseMoment].Value / (Math.PI * foot * foot * foot / 32), run[MeasureIds.TipDeflection].Value, run.End.CutsShort);
    }

    /// <summary>A scenario: everything that it does not say is the program's default.</summary>
    private static string Text(int tree, int piece, double height, double foot, double cut, double length)
    {
        double Of(int what, double from, double to) => from + ((to - from) * Spread(tree + (Trees * piece), 10 + what));
        double Diameter(double at) => 0.02 + ((foot - 0.02) * (1 - (at / height)));
        var profile = string.Create(CultureInfo.InvariantCulture, $"diameters = [ {{ at = \"0 m\", diameter = \"{foot} m\" }}, {{ at = \"{cut} m\", diameter = \"{Diameter(cut)} m\" }} ]");
        return string.Create(CultureInfo.InvariantCulture, $"""
            [piece]
            kind = "{(piece == 0 ? "top" : "log")}"
            species = "red pine"
            length = "{length} m"
            butt-diameter = "{Diameter(cut)} m"
            tip-diameter = "{Diameter(cut + length)} m"
            [start]
            face-cut-depth = {Of(0, 0.20, 0.40)}
            release-angle = "{(piece == 0 ? Of(1, 60, 90) : Of(1, 45, 70))} deg"
            [spar]
            height = "{cut} m"
            {profile}
            [rigging-point]
            kind = "block"
            below-cut = "{Of(2, 0.25, 0.60)} m"
            [rope]
            construction = "polyester double braid"
            diameter = "14 mm"
            slack = "{Of(3, 0, 0.5)} m"
            [device]
            """);
    }

    /// <summary>Evenly spread, the same every time: an additive recurrence with square roots of primes.</summary>
    private static double Spread(int k, int what)
    {
        int[] primes = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43];
        return (0.5 + ((k + 1) * Math.Sqrt(primes[what]))) % 1;
    }

    /// <summary>One drop of a study.</summary>
    /// <param name="Top">True for a top.</param>
    /// <param name="Mass">Mass, kg.</param>
    /// <param name="Rigging">Force on the block, N.</param>
    /// <param name="Load">Tension of the load leg, N.</param>
    /// <param name="Fallen">Drop of the hitch before the rope came taut, m.</param>
    /// <param name="Factor">That over the rope from hitch to device.</param>
    /// <param name="FaceCut">Depth of the face cut over the diameter.</param>
    /// <param name="Stress">Bending stress at the foot, Pa.</param>
    /// <param name="Tip">Movement of the spar's top, m.</param>
    /// <param name="Short">True where the run was cut short.</param>
    public sealed record Drop(
        bool Top, double Mass, double Rigging, double Load, double Fallen, double Factor, double FaceCut, double Stress, double Tip, bool Short);
}
