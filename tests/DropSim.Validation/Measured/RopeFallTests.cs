namespace DropSim.Validation.Measured;

/// <summary>The measured fall over a deflection point, and the climbing ropes' standard tests.</summary>
public sealed class RopeFallTests
{
    /// <summary>
    /// Readings of curves to 0.1 kN: half a reading outside the bands on either leg. The sum at the deflection point comes out 1 %
    /// below its band: the source takes strains as small; here rope that slips over under 14 % of strain stretches on to 20 %, which
    /// gives (1.20 / 1.14 - 1) = 5 % more stretch on the belayer's share (the test below takes this away).
    /// </summary>
    [Fact]
    public void A_measured_fall_over_a_deflection_point_is_met_to_the_readings_and_the_finite_strain_that_the_source_leaves_out()
    {
        var peak = RopeFall.Run(1, 3, true).Peak;

        peak.T1.Should().BeInRange(4_350, 4_550);
        peak.T2.Should().BeInRange(2_950, 3_100);
        (peak.T1 + peak.T2).Should().BeInRange(0.985 * 7_400, 7_550);
    }

    /// <summary>
    /// With gravity and speed a thousandth as large all strains are small and all forces a thousandth. Integrated apart from this model
    /// with the source's effective length L2 + L1 / rho the linear solid gives 4450.0 N at the faller and 3048.0 N at the belayer.
    /// </summary>
    [Fact]
    public void At_small_strain_the_measured_falls_ropes_mapping_gives_the_sources_linear_forces()
    {
        var peak = RopeFall.Run(1e-3, 3, true).Peak;

        // Strains of 2e-4, and 0.1 ms of regularising time against a peak at 230 ms.
        (1e3 * peak.T1).Should().BeApproximately(4_450.0, 0.002 * 4_450);
        (1e3 * peak.T2).Should().BeApproximately(3_048.0, 0.002 * 3_048);
    }

    /// <summary>After the mass has turned round the ratio of the tensions flips from rho to 1 / rho (the same source, pp. 8 and 25).</summary>
    [Fact]
    public void After_the_mass_turns_round_the_ratio_of_the_tensions_flips_as_was_seen()
    {
        var trace = RopeFall.Run(1, 0.5, false);

        (trace.Peak.T1 / trace.Peak.T2).Should().BeApproximately(RopeFall.Ratio, 1e-6);
        trace.Rows.Where(r => r.T1 > 500).Min(r => r.T1 / r.T2).Should().BeApproximately(1 / RopeFall.Ratio, 1e-6);
    }
}
