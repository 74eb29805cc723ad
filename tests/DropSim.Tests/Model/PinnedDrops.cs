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
        var run = DropSimulator.Run(SampleDrops.MediumLog.HardStop());

        run[MeasureIds.LoadLegTimesWeight].Value.Should().BeApproximately(9.5, 0.1);
        run[MeasureIds.RiggingPointForce].Value.Should().BeApproximately(21.5e3, 0.1e3 + 0.1e3);
        run[MeasureIds.ClimberMovement].Value.Should().BeApproximately(0.081, 0.001 + 0.001);
    }

    [Fact]
    public void Medium_log_let_run()
    {
        var run = DropSimulator.Run(SampleDrops.MediumLog);

        run[MeasureIds.LoadLegTimesWeight].Value.Should().BeApproximately(3.0, 0.1);
        run[MeasureIds.RopeRun].Value.Should().BeApproximately(1.9, 0.1);
        run[MeasureIds.RiggingPointForce].Value.Should().BeApproximately(6.8e3, 0.1e3);
        run[MeasureIds.ClimberMovement].Value.Should().BeApproximately(0.018, 0.001);
    }
}
