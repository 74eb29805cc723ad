using System.Collections.Frozen;

namespace DropSim.Scenarios.Units;

/// <summary>
/// The units that a scenario may use, per kind of quantity, as factors to SI. Exact by definition where a unit is defined
/// (inch 0.0254 m, pound 0.45359237 kg, standard gravity 9.80665 m/s2).
/// </summary>
internal static class UnitTable
{
    private const double Inch = 0.0254;
    private const double Foot = 12 * Inch;
    private const double Pound = 0.45359237;
    private const double StandardGravity = 9.80665;
    private const double PoundForce = Pound * StandardGravity;
    private const double Degree = Math.PI / 180;

    private static readonly FrozenDictionary<QuantityKind, UnitSet> Sets = new Dictionary<QuantityKind, UnitSet>
    {
        [QuantityKind.Number] = new("", true, "2"),
        [QuantityKind.Fraction] = new("", true, "35 %", ("%", 0.01), ("percent", 0.01)),
        [QuantityKind.Turns] = new("turns", true, "2.5", ("turns", 1), ("turn", 1), ("wraps", 1), ("wrap", 1)),
        [QuantityKind.Length] = new("m", false, "1.5 m",
            ("m", 1), ("mm", 1e-3), ("cm", 1e-2), ("in", Inch), ("inch", Inch), ("inches", Inch), ("\"", Inch),
            ("ft", Foot), ("foot", Foot), ("feet", Foot), ("'", Foot), ("yd", 3 * Foot)),
        [QuantityKind.Mass] = new("kg", false, "150 kg",
            ("kg", 1), ("g", 1e-3), ("t", 1000), ("lb", Pound), ("lbs", Pound), ("oz", Pound / 16)),
        [QuantityKind.Force] = new("N", false, "25 kN",
            ("N", 1), ("kN", 1e3), ("MN", 1e6), ("daN", 10), ("kgf", StandardGravity), ("lbf", PoundForce), ("kip", 1000 * PoundForce)),
        [QuantityKind.Angle] = new("rad", false, "55 deg",
            ("rad", 1), ("deg", Degree), ("degrees", Degree), ("°", Degree)),
        [QuantityKind.Time] = new("s", false, "0.3 s", ("s", 1), ("ms", 1e-3), ("min", 60)),
        [QuantityKind.Speed] = new("m/s", false, "0.1 m/s",
            ("m/s", 1), ("cm/s", 0.01), ("km/h", 1 / 3.6), ("ft/s", Foot), ("mph", 5280 * Foot / 3600)),
        [QuantityKind.AngularRate] = new("rad/s", false, "0.05 rad/s", ("rad/s", 1), ("deg/s", Degree)),
        [QuantityKind.Density] = new("kg/m3", false, "850 kg/m3",
            ("kg/m3", 1), ("g/cm3", 1000), ("lb/ft3", Pound / (Foot * Foot * Foot)), ("lbs/ft3", Pound / (Foot * Foot * Foot))),
        [QuantityKind.Stress] = new("Pa", false, "9 GPa",
            ("Pa", 1), ("kPa", 1e3), ("MPa", 1e6), ("GPa", 1e9), ("N/mm2", 1e6), ("psi", PoundForce / (Inch * Inch)),
            ("ksi", 1000 * PoundForce / (Inch * Inch))),
        [QuantityKind.Area] = new("m2", false, "0.8 m2", ("m2", 1), ("cm2", 1e-4), ("ft2", Foot * Foot), ("in2", Inch * Inch)),
        [QuantityKind.Inertia] = new("kg m2", false, "22 kg m2", ("kg m2", 1), ("lb ft2", Pound * Foot * Foot)),
        [QuantityKind.RotationalStiffness] = new("N m/rad", false, "0.5 MN m/rad",
            ("N m/rad", 1), ("kN m/rad", 1e3), ("MN m/rad", 1e6), ("lbf ft/rad", PoundForce * Foot)),
        [QuantityKind.ForceRate] = new("N/s", false, "500 N/s", ("N/s", 1), ("kN/s", 1e3), ("lbf/s", PoundForce)),
        [QuantityKind.MassPerLength] = new("kg/m", false, "140 g/m",
            ("kg/m", 1), ("g/m", 1e-3), ("lb/ft", Pound / Foot), ("lb/100 ft", Pound / (100 * Foot))),
        [QuantityKind.Frequency] = new("Hz", false, "0.7 Hz", ("Hz", 1)),
        [QuantityKind.ContactStiffness] = new("N/m^1.5", false, "1e6 N/m^1.5", ("N/m^1.5", 1)),
        [QuantityKind.ContactDamping] = new("s/m", false, "0.3 s/m", ("s/m", 1)),
        [QuantityKind.Acceleration] = new("m/s2", false, "9.80665 m/s2", ("m/s2", 1), ("ft/s2", Foot)),
    }.ToFrozenDictionary();

    /// <summary>The units of a kind.</summary>
    public static UnitSet For(QuantityKind kind) => Sets[kind];

    /// <summary>The kind that understands a unit, to say "kN is a force" when a length was due; null where no kind does.</summary>
    public static QuantityKind? KindOf(string unit)
    {
        foreach (QuantityKind kind in Enum.GetValues<QuantityKind>())
        {
            if (Sets[kind].TryFactor(unit, out _))
            {
                return kind;
            }
        }

        return null;
    }
}

/// <summary>The units of one kind of quantity.</summary>
internal sealed class UnitSet
{
    private readonly (string Name, double Factor)[] _units;

    public UnitSet(string si, bool bareAllowed, string example, params (string Name, double Factor)[] units)
    {
        Si = si;
        BareAllowed = bareAllowed;
        Example = example;
        _units = units;
    }

    /// <summary>The SI unit in which values are kept.</summary>
    public string Si { get; }

    /// <summary>True where a number without a unit is understood.</summary>
    public bool BareAllowed { get; }

    /// <summary>A well-written value, for advice.</summary>
    public string Example { get; }

    /// <summary>The units understood, in words for messages and documents.</summary>
    public string Listing => _units.Length == 0 ? "no unit" : string.Join(", ", _units.Select(u => u.Name)) + (BareAllowed ? ", or no unit" : "");

    /// <summary>Finds a unit's factor to SI. Letter case is forgiven except where it would turn milli into mega.</summary>
    public bool TryFactor(string unit, out double factor)
    {
        foreach ((string name, double value) in _units)
        {
            if (name == unit)
            {
                factor = value;
                return true;
            }
        }

        foreach ((string name, double value) in _units)
        {
            bool mega = name[0] == 'M' && name.Length > 1;
            if (!mega && name.Equals(unit, StringComparison.OrdinalIgnoreCase))
            {
                factor = value;
                return true;
            }
        }

        factor = double.NaN;
        return false;
    }
}
