using DropSim.Model;

namespace DropSim.Validation.Measured;

/// <summary>
/// Sway of bare conifer stems: frequency against diameter over height squared (J.R. Moore, D.A. Maguire (2004), Trees 18(2):195-203, 602
/// trees: linear; abstract read, so no coefficient of theirs is used).
/// </summary>
internal static class Sway
{
    /// <summary>Species of the catalogue with a green modulus: common conifers of both continents.</summary>
    private static readonly (string Name, double Modulus, double Density)[] s_wood =
    [
        ("red pine", 8.8e9, 673), ("loblolly pine", 9.7e9, 849), ("ponderosa pine", 6.9e9, 721), ("lodgepole pine", 7.4e9, 625),
    ];

    public static IReadOnlyList<Stem> Stems { get; } = [.. Trees()];

    /// <summary>Least-squares line through the stems and the share of variance it explains.</summary>
    public static Line Fit { get; } = Line.Through([.. Stems.Select(s => (s.Slenderness, s.Frequency))]);

    private static IEnumerable<Stem> Trees()
    {
        foreach (var wood in s_wood)
        {
            foreach (var height in new[] { 8.0, 12, 16, 20, 25, 30 })
            {
                foreach (var diameterOverHeight in new[] { 0.010, 0.014, 0.018 })
                {
                    yield return new(wood.Name, height, diameterOverHeight * height, Frequency(wood.Modulus, wood.Density, height, diameterOverHeight * height));
                }
            }
        }
    }

    /// <summary>A bare stem, a cone to a 3 cm tip, rigid root, nobody on it.</summary>
    private static double Frequency(double modulus, double density, double height, double diameter)
    {
        // Diameter at breast height, carried down along the same taper.
        var foot = 0.03 + ((diameter - 0.03) * height / (height - 1.3));
        var spar = new SparInput
        {
            Height = height,
            Diameters = [new(0, foot), new(height, 0.03)],
            Modulus = modulus,
            Density = density,
            ClimberMass = 0,
        };
        return new ModalSpar(spar, 1, 40, 9.80665).AngularFrequencies[0] / (2 * Math.PI);
    }

    /// <summary>One stem.</summary>
    /// <param name="Wood">Species.</param>
    /// <param name="Height">Height, m.</param>
    /// <param name="Diameter">Diameter at 1.3 m, m.</param>
    /// <param name="Frequency">Sway frequency, Hz.</param>
    public sealed record Stem(string Wood, double Height, double Diameter, double Frequency)
    {
        /// <summary>Diameter over height squared, cm/m2 as the source has it.</summary>
        public double Slenderness => 100 * Diameter / (Height * Height);
    }
}

/// <summary>A least-squares line.</summary>
/// <param name="Slope">Slope.</param>
/// <param name="Start">Value at 0.</param>
/// <param name="Explained">Share of the variance explained, the square of the correlation.</param>
internal sealed record Line(double Slope, double Start, double Explained)
{
    public static Line Through(IReadOnlyList<(double X, double Y)> points)
    {
        var (mx, my) = (points.Average(p => p.X), points.Average(p => p.Y));
        var xx = points.Sum(p => (p.X - mx) * (p.X - mx));
        var yy = points.Sum(p => (p.Y - my) * (p.Y - my));
        var xy = points.Sum(p => (p.X - mx) * (p.Y - my));
        return new(xy / xx, my - (xy / xx * mx), xy * xy / (xx * yy));
    }
}
