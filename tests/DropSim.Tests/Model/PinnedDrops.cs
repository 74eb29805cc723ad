using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Pins: numbers of the medium log without take-up as an independently written prototype of the same equations gave them,
/// rounded to two figures. They hold the model where it is; they verify nothing about nature.
/// Tolerances: half a unit of the last rounded figure, and as much again for what the prototype did otherwise
/// (its own spar discretisation, a log's mass rounded to 150 kg).
/// </summary>
public sealed class PinnedDrops
{
    [Fact]
    public void Medium_log_hard_stop()
    {
        var run = DropSimulator.Run(Prototyped(SampleDrops.MediumLog.HardStop()));

        run[MeasureIds.LoadLegTimesWeight].Value.Should().BeApproximately(9.5, 0.1);
        run[MeasureIds.RiggingPointForce].Value.Should().BeApproximately(21.5e3, 0.1e3 + 0.1e3);
        run[MeasureIds.ClimberMovement].Value.Should().BeApproximately(0.081, 0.001 + 0.001);
    }

    [Fact]
    public void Medium_log_let_run()
    {
        var run = DropSimulator.Run(Prototyped(SampleDrops.MediumLog));

        run[MeasureIds.LoadLegTimesWeight].Value.Should().BeApproximately(3.0, 0.1);
        run[MeasureIds.RopeRun].Value.Should().BeApproximately(1.9, 0.1);
        run[MeasureIds.RiggingPointForce].Value.Should().BeApproximately(6.8e3, 0.1e3);
        run[MeasureIds.ClimberMovement].Value.Should().BeApproximately(0.018, 0.001);
    }

    /// <summary>What the prototype had: less friction on the device, a hand that brakes sooner, a rope less stiff in a jerk, contact without friction.</summary>
    private static DropInput Prototyped(DropInput drop) => drop with
    {
        Start = drop.Start with { ReleaseAngle = 55 * Math.PI / 180 },
        Rope = drop.Rope with { RelaxingStiffnessRatio = 1.5 },
        Device = drop.Device with { Friction = 0.175 },
        Catch = drop.Catch with { Brake = [new(0, 30), new(0.5, 30), new(1, 150)] },
        Computation = drop.Computation with { ContactDamping = 0.3, ContactFriction = 0 },
    };
}
