namespace DropSim.Reporting;

/// <summary>From SI to the units on paper: one factor per unit, nothing else. No unit here has an offset.</summary>
internal static class Units
{
    /// <summary>Newtons in one pound-force: 0.45359237 kg x 9.80665 m/s2, both exact by definition.</summary>
    internal const double NewtonsPerPoundForce = 0.45359237 * 9.80665;

    /// <summary>Metres in one foot, exact by definition.</summary>
    internal const double MetresPerFoot = 0.3048;

    /// <summary>Metres in one inch, exact by definition.</summary>
    internal const double MetresPerInch = 0.0254;

    /// <summary>Kilograms in one pound, exact by definition.</summary>
    internal const double KilogramsPerPound = 0.45359237;

    /// <summary>Pascals in one pound-force per square inch.</summary>
    internal const double PascalsPerPsi = NewtonsPerPoundForce / (MetresPerInch * MetresPerInch);

    /// <summary>The same quantity in the units of a system at full size (lbf, ft), for columns of numbers.</summary>
    /// <param name="unit">SI unit ("N", "m/s2", "N m", ...).</param>
    /// <param name="system">Units wanted.</param>
    /// <returns>The unit and the factor by which an SI value is multiplied; unknown units stay as they are.</returns>
    internal static (string Unit, double Factor) Plain(string unit, UnitSystem system) => system == UnitSystem.Si ? (unit, 1) : unit switch
    {
        "N" => ("lbf", 1 / NewtonsPerPoundForce),
        "m" => ("ft", 1 / MetresPerFoot),
        "m/s" => ("ft/s", 1 / MetresPerFoot),
        "m/s2" => ("ft/s2", 1 / MetresPerFoot),
        "N m" => ("lbf ft", 1 / (NewtonsPerPoundForce * MetresPerFoot)),
        "J" => ("ft lbf", 1 / (NewtonsPerPoundForce * MetresPerFoot)),
        "kg" => ("lb", 1 / KilogramsPerPound),
        "Pa" => ("psi", 1 / PascalsPerPsi),
        "N s" => ("lbf s", 1 / NewtonsPerPoundForce),
        _ => (unit, 1),
    };

    /// <summary>The axis of a chart for a quantity: force in kN or lbf, moment in kN m, energy in kJ or ft lbf, the rest at full size.</summary>
    /// <param name="unit">SI unit.</param>
    /// <param name="system">Units wanted.</param>
    internal static (string Unit, double Factor) Axis(string unit, UnitSystem system) => (system, unit) switch
    {
        (UnitSystem.Si, "N") => ("kN", 1e-3),
        (UnitSystem.Si, "J") => ("kJ", 1e-3),
        (UnitSystem.Si, "N m") => ("kN m", 1e-3),
        (UnitSystem.Si, "m/s2") => ("m/s²", 1),
        (UnitSystem.Us, "m/s2") => ("ft/s²", 1 / MetresPerFoot),
        _ => Plain(unit, system),
    };

    /// <summary>The axis for small movements: mm or in.</summary>
    /// <param name="system">Units wanted.</param>
    internal static (string Unit, double Factor) SmallLength(UnitSystem system) =>
        system == UnitSystem.Si ? ("mm", 1000) : ("in", 1 / MetresPerInch);

    /// <summary>The name of a CSV column in the units of a system: the SI ending is exchanged for the new one.</summary>
    /// <param name="name">SI name ("load_leg_tension_N").</param>
    /// <param name="unit">SI unit ("N").</param>
    /// <param name="system">Units wanted.</param>
    internal static string ColumnName(string name, string unit, UnitSystem system)
    {
        var (other, factor) = Plain(unit, system);
        var ending = "_" + Ending(unit);
        return factor == 1 || !name.EndsWith(ending, StringComparison.Ordinal)
            ? name
            : name[..^ending.Length] + "_" + Ending(other);
    }

    private static string Ending(string unit) => unit switch
    {
        "m/s2" => "m_s2",
        "ft/s2" => "ft_s2",
        _ => unit.Replace('/', '_').Replace(' ', '_'),
    };
}
