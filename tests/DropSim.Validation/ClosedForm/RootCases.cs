using System.Globalization;
using DropSim.Model;
using DropSim.Validation.Measured;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// The root by the stem's size. The moment that uproots is C times the stem's mass and 2.5 times the moment at 0.25 degrees, so
///     k_r = C m/(2.5 x 0.25 degrees),   m = rho 0.42 (pi/4) d^2 H,   H = 50 d:   k_r = 2.04e8 d^3,
/// which the program has as 200 MN m/rad per m3.
/// </summary>
internal static class RootCases
{
    private const string Page = "theory/spar.md";
    private const double Height = 9, Foot = 0.55, Top = 0.40, Pull = 10_000, Ring = 8.6;

    private static readonly double[] _diameters = [0.20, 0.30, 0.45, 0.55, 0.85];

    /// <summary>Stems of which the turn of the foot is asked: root over the cube of the diameter, MN m/rad per m3.</summary>
    private static readonly double[] _roots = [70, 200, 600];

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-819", Page = Page, What = "Whole program: root stiffness of a stem by its diameter at 1.3 m, read from a scenario", Formula = "K d^3, K = 200 MN m/rad per m3: 1.6, 5.4, 18.2, 33.3, 122.8", Source = "Eq. (6a), worked by hand", Unit = "MN m/rad", Relative = 1e-12, Why = "round-off",
            Compute = () => _diameters.Select(d => new VerificationPoint(Say.Number("d = ", d, " m"), 200 * d * d * d, Root(d) / 1e6)),
        },
        new()
        {
            Id = "V-820", Page = Page, What = "The same against where K comes from", Formula = "C m/(2.5 x 0.25 degrees), m = 900 x 0.42 (pi/4) d^2 x 50 d, C = 150 N m/kg: 1.6, 5.5, 19, 34, 125", Source = "Tables after B. Nicoll et al. (2006); A. Detter et al. (2023), parts read; derived here (remark of `RootCases`)",
            Unit = "MN m/rad", Relative = 0.025, Why = "K = 204 is rounded to 200",
            Compute = () => _diameters.Select(d => new VerificationPoint(
                Say.Number("d = ", d, " m"), 150 * (900 * 0.42 * Math.PI / 4 * d * d * 50 * d) / (2.5 * 0.25 * Math.PI / 180) / 1e6, Root(d) / 1e6)),
        },
        new()
        {
            Id = "V-821", Page = Page, What = "Turn of the foot of a stem (0.55 to 0.40 m, 9 m) under a steady side pull of 10 kN at 8.6 m, its weight left out, by the three modes kept", Formula = "F h/k_r: statics", Source = "Derived here: moment at the root", Unit = "degrees", Relative = 0.015, Why = "three modes turn it 0.4 to 1.3 % too far, the stiffer the root the more",
            Compute = () => _roots.Select(k => FootTurn(k, 3)),
        },
        new()
        {
            Id = "V-822", Page = Page, What = "The same with eight modes, the most that can be kept", Formula = "F h/k_r: statics", Source = "As V-821", Unit = "degrees", Relative = 3e-4, Why = "what the modes left out would turn",
            Compute = () => _roots.Select(k => FootTurn(k, 8)),
        },
    ];

    private static VerificationPoint FootTurn(double perCube, int modes)
    {
        var root = perCube * 1e6 * Math.Pow(Foot + ((Top - Foot) * 1.3 / Height), 3);
        var spar = new ModalSpar(new() { Height = Height, Diameters = [new(0, Foot), new(Height, Top)], Density = 900, Modulus = 9e9, ClimberMass = 0, RootStiffness = root }, modes, 60, 0);
        var (shape, footSlope, unused) = (new double[modes], new double[modes], new double[modes]);
        spar.ShapeAt(Ring, shape, unused);
        spar.ShapeAt(0, unused, footSlope);
        double turn = 0;
        for (var i = 0; i < modes; i++)
        {
            turn += footSlope[i] * Pull * shape[i] / (spar.AngularFrequencies[i] * spar.AngularFrequencies[i]);
        }

        return new(Say.Number("K = ", perCube, " MN m/rad per m3"), Pull * Ring / root * 180 / Math.PI, turn * 180 / Math.PI);
    }

    /// <summary>Root stiffness that a scenario gives whose stem is as thick as this all the way up, N m/rad.</summary>
    private static double Root(double diameter)
    {
        var d = diameter.ToString("R", CultureInfo.InvariantCulture);
        return Drops.Read($$"""
            [piece]
            kind = "log"
            length = "1 m"
            butt-diameter = "{{d}} m"
            tip-diameter = "{{d}} m"
            density = "900 kg/m3"

            [spar]
            height = "9 m"
            diameters = [ { at = "0 m", diameter = "{{d}} m" }, { at = "9 m", diameter = "{{d}} m" } ]

            [rigging-point]
            kind = "ring"
            below-cut = "0.4 m"

            [rope]
            construction = "polyester 16-strand"
            diameter = "14 mm"

            [device]
            wraps = 2
            """).Cases[0].Input.Spar.RootStiffness;
    }
}
