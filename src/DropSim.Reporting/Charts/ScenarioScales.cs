using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>One set of axes for all cases of a scenario, so that pictures of the same kind can be laid side by side.</summary>
internal sealed class ScenarioScales
{
    /// <summary>Room above the highest curve for labels.</summary>
    private const double HeadRoom = 1.16;

    internal ScenarioScales(IReadOnlyList<CaseCurves> cases, UnitSystem units)
    {
        Units = units;
        Clock = new Clock(cases.Min(c => c.Window.From), cases.Max(c => c.Window.To));
        var (forceUnit, force) = Reporting.Units.Axis("N", units);
        var (lengthUnit, length) = Reporting.Units.Axis("m", units);
        var (smallUnit, small) = Reporting.Units.SmallLength(units);
        var (accelerationUnit, acceleration) = Reporting.Units.Axis("m/s2", units);
        Time = new Axis("Time from hinge break", "s", Clock.From, Clock.To, NiceScale.Step(Clock.To - Clock.From, 9));
        Force = NiceScale.Axis("Force", forceUnit, 0, HeadRoom * force * Highest(cases, "load_leg_tension_N", "ground_leg_tension_N", "hand_tension_N", "rigging_point_force_N"));

        var top = cases.Max(c => Math.Max(c.Input.Spar.Height, c.Reach("piece_z_m", Clock).High));
        Height = NiceScale.Axis("Height above ground", lengthUnit, 0, 1.05 * length * top);
        Height = Height with { Min = -0.03 * Height.Max };
        Run = NiceScale.Axis("Rope run", lengthUnit, 0, Math.Max(0.1, 1.15 * length * Highest(cases, "rope_run_m")), 2);

        var (lowSway, highSway) = Both(cases, "climber_deflection_m", "tip_deflection_m");
        Sway = Wide("Movement", smallUnit, small * lowSway, small * highSway);
        var (lowRate, highRate) = Both(cases, "climber_acceleration_m_s2");
        Acceleration = Wide("Acceleration", accelerationUnit, acceleration * lowRate, acceleration * highRate, 4);
    }

    internal UnitSystem Units { get; }

    internal Clock Clock { get; }

    internal Axis Time { get; }

    internal Axis Force { get; }

    internal Axis Height { get; }

    internal Axis Run { get; }

    internal Axis Sway { get; }

    internal Axis Acceleration { get; }

    /// <summary>Shares, so that a small drop is as easy to read as a large one.</summary>
    internal Axis Energy { get; } = new("Share of the energy that fell", "%", 0, 104, 20);

    /// <summary>Force, length, small length, acceleration from SI.</summary>
    internal double ForceFactor => Reporting.Units.Axis("N", Units).Factor;

    internal double LengthFactor => Reporting.Units.Axis("m", Units).Factor;

    internal double SmallFactor => Reporting.Units.SmallLength(Units).Factor;

    internal double AccelerationFactor => Reporting.Units.Axis("m/s2", Units).Factor;

    private double Highest(IReadOnlyList<CaseCurves> cases, params string[] columns) =>
        cases.Max(c => columns.Max(name => c.Reach(name, Clock).High));

    private (double Low, double High) Both(IReadOnlyList<CaseCurves> cases, params string[] columns) =>
        (cases.Min(c => columns.Min(name => c.Reach(name, Clock).Low)), Highest(cases, columns));

    private static Axis Wide(string title, string unit, double low, double high, int steps = 6)
    {
        var span = Math.Max(high - low, 1e-6);
        return NiceScale.Axis(title, unit, low - (0.12 * span), high + (0.15 * span), steps);
    }
}
