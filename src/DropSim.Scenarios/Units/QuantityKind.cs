namespace DropSim.Scenarios.Units;

/// <summary>What a written number measures; it decides which units are understood.</summary>
internal enum QuantityKind
{
    /// <summary>A pure number: wraps, modes, a friction coefficient.</summary>
    Number,

    /// <summary>A part of one: "35 %" or 0.35.</summary>
    Fraction,

    /// <summary>Turns of rope: 2.5 or "2.5 turns".</summary>
    Turns,

    /// <summary>Length, m.</summary>
    Length,

    /// <summary>Mass, kg.</summary>
    Mass,

    /// <summary>Force, N.</summary>
    Force,

    /// <summary>Angle, rad.</summary>
    Angle,

    /// <summary>Time, s.</summary>
    Time,

    /// <summary>Speed, m/s.</summary>
    Speed,

    /// <summary>Rate of turning, rad/s.</summary>
    AngularRate,

    /// <summary>Density, kg/m3.</summary>
    Density,

    /// <summary>Stress or modulus, Pa.</summary>
    Stress,

    /// <summary>Area, m2.</summary>
    Area,

    /// <summary>Moment of inertia, kg m2.</summary>
    Inertia,

    /// <summary>Rotational stiffness, N m/rad; "rigid" is infinite.</summary>
    RotationalStiffness,

    /// <summary>Rise of a force, N/s.</summary>
    ForceRate,

    /// <summary>Mass per length, kg/m.</summary>
    MassPerLength,

    /// <summary>Frequency, Hz.</summary>
    Frequency,

    /// <summary>Contact stiffness, N/m^1.5.</summary>
    ContactStiffness,

    /// <summary>Contact damping, s/m.</summary>
    ContactDamping,

    /// <summary>Acceleration, m/s2.</summary>
    Acceleration,
}
