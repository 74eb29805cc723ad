using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>A computation that ends before the drop does must not look gentle.</summary>
public sealed class UnfinishedRunTests
{
    /// <summary>
    /// With too little friction at the device the medium log lands 2.57 s after the start; at 1.3 s it is in free fall, at 2 s rope runs.
    /// </summary>
    [Theory]
    [InlineData(0.5, "on the hinge")]
    [InlineData(1.3, "in free fall")]
    [InlineData(2.0, "rope runs")]
    public void Peaks_read_at_least_and_room_not_reached_where_the_computation_ends_first(double endTime, string because)
    {
        var run = DropSimulator.Run(Weak(endTime));

        run.End.Kind.Should().Be(EndKind.EndTime);
        run.End.CutsShort.Should().BeTrue(because);
        run[MeasureIds.LoadLegTension].State.Should().Be(MeasureState.AtLeast);
        run[MeasureIds.Room].State.Should().Be(MeasureState.NotReached);
    }

    [Fact]
    public void The_same_drop_computed_to_its_end_lands() => DropSimulator.Run(Weak(8)).End.Kind.Should().Be(EndKind.Ground);

    [Fact]
    public void A_piece_that_still_sways_on_a_locked_rope_is_not_cut_short()
    {
        var drop = SampleDrops.MediumLog.HardStop();

        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 3, StopWhenSettled = false } });

        run.End.Kind.Should().Be(EndKind.EndTime);
        run.End.CutsShort.Should().BeFalse();
        run[MeasureIds.LoadLegTension].State.Should().Be(MeasureState.Exact);
    }

    /// <summary>Friction 0.12 on the device: too little to stop the log before the ground.</summary>
    private static DropInput Weak(double endTime) => SampleDrops.MediumLog with
    {
        Device = SampleDrops.MediumLog.Device with { Friction = 0.12 },
        Computation = SampleDrops.MediumLog.Computation with { EndTime = endTime },
    };
}
