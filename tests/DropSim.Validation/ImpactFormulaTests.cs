using DropSim.Validation.Measured;

namespace DropSim.Validation;

/// <summary>A mass falls on a rope: the impact formula, computed with the model's own rope curve, integrated by its own engine.</summary>
public sealed class ImpactFormulaTests
{
    /// <summary>
    /// F = W + sqrt(W^2 + 2 W M f), W = m g, M = EA, f = fall over rope length: R. Goldstone, "The Standard Equation for Impact Force".
    /// The numbers are that formula's with g = 9.81 m/s2.
    /// </summary>
    [Theory]
    [InlineData(80, 20_000, 0, 1569.6)]
    [InlineData(80, 20_000, 0.1, 2722.611)]
    [InlineData(80, 20_000, 0.5, 4823.601)]
    [InlineData(80, 20_000, 1.0, 6442.353)]
    [InlineData(80, 20_000, 2.0, 8747.206)]
    [InlineData(200, 60_000, 0.3, 10592.264)]
    [InlineData(200, 60_000, 1.5, 20856.694)]
    public void A_mass_on_a_straight_rope_gives_the_impact_formulas_force(double mass, double modulus, double fallFactor, double force)
    {
        const double Length = 5;
        var fall = new FallOnRope(new(mass, Math.Sqrt(2 * 9.81 * fallFactor * Length), Length, 0, 1), new(modulus, 0, 1, ViscousTime: 1e-6));
        var peak = fall.Run(3, true).Peak;

        // The regularising damping loses of order tau_v x angular frequency: 1e-6 s x 10 per s; and the engine's tolerance.
        peak.T1.Should().BeApproximately(force, 1e-4 * force);
    }
}
