using System.Globalization;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Session;

/// <summary>In which units a key's value is shown and typed, and what a slider for it reaches.</summary>
internal static class InputUnits
{
    /// <summary>Keys of small lengths, told by their last word.</summary>
    private static readonly string[] Girths = ["butt-girth", "middle-girth", "tip-girth", "base-girth", "butt-diameter", "middle-diameter", "tip-diameter"];

    private static readonly string[] Millimetres = ["rope.diameter", "rigging-point.bend-diameter", "device.bollard-diameter"];

    /// <summary>Forces of this size and more are shown in kN.</summary>
    private const double KilonewtonsFrom = 1e4;

    /// <summary>What sliders reach: from, to and step in SI. Sizes that a drop in a yard has; a number can be typed beyond.</summary>
    private static readonly Dictionary<string, SliderDto> Reaches = new(StringComparer.Ordinal)
    {
        ["piece.length"] = new(0.3, 8, 0.05),
        ["piece.butt-girth"] = new(0.2, 3, 0.01),
        ["piece.mass"] = new(10, 1000, 5),
        ["piece.weighed"] = new(10, 1000, 1),
        ["piece.density"] = new(300, 1300, 10),
        ["piece.hitch-height"] = new(0.05, 1.5, 0.05),
        ["start.release-angle"] = new(20 * KeyTable.Degree, 110 * KeyTable.Degree, KeyTable.Degree),
        ["start.face-cut-depth"] = new(0.1, 0.5, 0.01),
        ["spar.height"] = new(2, 30, 0.5),
        ["spar.base-girth"] = new(0.4, 4, 0.02),
        ["spar.climber-mass"] = new(0, 150, 5),
        ["spar.climber-below-cut"] = new(0.3, 5, 0.1),
        ["spar.damping"] = new(0, 0.15, 0.005),
        ["rigging-point.below-cut"] = new(0, 3, 0.05),
        ["rigging-point.stand-off"] = new(0, 0.5, 0.01),
        ["rigging-point.friction"] = new(0, 0.6, 0.01),
        ["rigging-point.efficiency"] = new(0.5, 1, 0.01),
        ["rope.slack"] = new(0, 3, 0.05),
        ["rope.diameter"] = new(0.008, 0.024, 0.001),
        ["rope.stiffness"] = new(2e4, 2e6, 1e4),
        ["rope.relaxing-ratio"] = new(0, 3, 0.1),
        ["rope.hitch-take-up.length"] = new(0, 0.6, 0.01),
        ["rope.wraps-take-up.length"] = new(0, 0.4, 0.01),
        ["device.wraps"] = new(0, 6, 0.25),
        ["catch.wraps"] = new(0, 6, 0.25),
        ["device.friction"] = new(0.05, 0.4, 0.005),
        ["catch.light"] = new(0, 300, 5),
        ["catch.grip"] = new(50, 800, 10),
        ["catch.brake.run"] = new(0.1, 6, 0.1),
        ["catch.brake.force"] = new(10, 600, 10),
        ["catch.brake-from"] = new(0, 4, 0.1),
        ["catch.reaction-time"] = new(0, 2, 0.05),
        ["catch.snag-after"] = new(0.1, 5, 0.1),
        ["hold-test.mass"] = new(10, 400, 5),
        ["hold-test.wraps"] = new(0.25, 6, 0.25),
        ["hold-test.hand"] = new(10, 600, 5),
    };

    /// <summary>The slider of a key, long enough for its present value; null where the key has none.</summary>
    public static SliderDto? Slider(string key, double? value) =>
        !Reaches.TryGetValue(key, out SliderDto? reach) ? null
        : value is { } v && double.IsFinite(v) ? reach with { From = Math.Min(reach.From, v), To = Math.Max(reach.To, v) }
        : reach;

    /// <summary>Units of a key in both systems.</summary>
    public static InUnits<UnitDto> Of(string key, QuantityKind kind, double most)
    {
        (string si, int siDigits, string us, int usDigits) = kind switch
        {
            QuantityKind.Length when Millimetres.Contains(key) => ("mm", 0, "in", 2),
            QuantityKind.Length when Girths.Contains(key[(key.LastIndexOf('.') + 1)..]) => ("cm", 0, "in", 1),
            QuantityKind.Length => ("m", 2, "ft", 1),
            QuantityKind.Mass => ("kg", 0, "lb", 0),
            QuantityKind.Force when most >= KilonewtonsFrom => ("kN", 1, "lbf", 0),
            QuantityKind.Force => ("N", 0, "lbf", 0),
            QuantityKind.Angle => ("deg", 0, "deg", 0),
            QuantityKind.Fraction => ("%", 1, "%", 1),
            QuantityKind.Turns => ("turns", 2, "turns", 2),
            QuantityKind.Speed => ("m/s", 2, "ft/s", 2),
            QuantityKind.Density => ("kg/m3", 0, "lb/ft3", 1),
            QuantityKind.Stress when key.EndsWith("modulus", StringComparison.Ordinal) => ("GPa", 1, "ksi", 0),
            QuantityKind.Stress => ("MPa", 0, "psi", 0),
            QuantityKind.Area => ("m2", 2, "ft2", 1),
            QuantityKind.Inertia => ("kg m2", 2, "lb ft2", 1),
            QuantityKind.RotationalStiffness => ("MN m/rad", 2, "lbf ft/rad", 0),
            QuantityKind.ForceRate => ("N/s", 0, "lbf/s", 0),
            QuantityKind.MassPerLength => ("g/m", 0, "lb/ft", 3),
            QuantityKind.Time => ("s", 2, "s", 2),
            _ => (UnitTable.For(kind).Si, 3, UnitTable.For(kind).Si, 3),
        };
        return new(Unit(si, siDigits), Unit(us, usDigits));

        UnitDto Unit(string unit, int digits) =>
            new(unit, unit.Length > 0 && UnitTable.For(kind).TryFactor(unit, out double factor) ? 1 / factor : 1, digits);
    }

    /// <summary>A value in a unit, ready to show.</summary>
    public static string Show(double value, UnitDto unit)
    {
        if (!double.IsFinite(value))
        {
            return double.IsPositiveInfinity(value) ? "rigid" : "unknown";
        }

        double shown = value * unit.Factor;
        string number = Math.Abs(shown) >= 1e5 || (shown != 0 && Math.Abs(shown) < Math.Pow(10, -unit.Decimals) / 2)
            ? shown.ToString("G3", CultureInfo.InvariantCulture)
            : shown.ToString("F" + unit.Decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return unit.Unit.Length == 0 ? number : $"{number} {unit.Unit}";
    }
}
