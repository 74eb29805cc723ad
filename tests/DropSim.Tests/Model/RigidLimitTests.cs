using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// A rigid spar is what a stiff one tends to: what bending changes at the first peak goes to zero, and it does so in proportion to the
/// bending itself, that is as one over the modulus.
/// </summary>
public sealed class RigidLimitTests
{
    [Fact]
    public void Ten_times_stiffer_wood_comes_ten_times_nearer_to_a_rigid_spar()
    {
        static DropRun At(double factor) => Run(SampleDrops.MediumLog.HardStop().WithSpar(s => s with { Modulus = factor * s.Modulus }));
        var (stiff, stiffer) = (At(1_000), At(10_000));
        var rigid = Run(SampleDrops.MediumLog.HardStop().WithSpar(s => s with { Rigid = true }));
        foreach (var measure in new[] { MeasureIds.LoadLegTension, MeasureIds.RiggingPointForce })
        {
            var limit = rigid[measure].Value;
            var (far, near) = (stiff[measure].Value - limit, stiffer[measure].Value - limit);

            // First order in the compliance: a factor of ten. The stem's own ringing comes on top; it falls faster, as the power 1.5.
            Math.Abs(far).Should().BeLessThan(2e-4 * limit);
            Math.Abs(near).Should().BeLessThan(2e-5 * limit);
            (far / near).Should().BeInRange(9, 11);
        }
    }

    [Fact]
    public void Wood_of_ordinary_stiffness_is_not_rigid()
    {
        var rigid = Run(SampleDrops.MediumLog.HardStop().WithSpar(s => s with { Rigid = true }));
        var bends = Run(SampleDrops.MediumLog.HardStop());

        // Else the test above would hold for nothing.
        Math.Abs(bends[MeasureIds.LoadLegTension].Value - rigid[MeasureIds.LoadLegTension].Value).Should().BeGreaterThan(0.01 * rigid[MeasureIds.LoadLegTension].Value);
        rigid[MeasureIds.ClimberMovement].Value.Should().Be(0);
    }

    /// <summary>To the first peak and no farther.</summary>
    private static DropRun Run(DropInput drop) => DropSimulator.Run(
        drop with { Computation = drop.Computation with { EndTime = 1.9, StopWhenSettled = false, RelativeTolerance = 1e-9 } });
}
