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

    [Fact]
    public void A_piece_thrown_up_on_a_slack_rope_when_the_computation_ends_may_still_be_caught_harder()
    {
        var drop = SampleDrops.MediumLog.HardStop();
        var whole = DropSimulator.Run(drop);
        var slack = whole.Events.First(e => e.Kind == EventKind.LoadLegSlack).Time;
        var tautAgain = whole.Events.First(e => e.Kind == EventKind.LoadLegTaut && e.Time > slack).Time;

        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = ((slack + tautAgain) / 2) - whole.Traces!.StartTime } });

        run.End.CutsShort.Should().BeTrue();
        run[MeasureIds.LoadLegTension].State.Should().Be(MeasureState.AtLeast);
    }

    [Fact]
    public void The_scene_at_a_peak_that_ends_in_a_jump_shows_the_peak()
    {
        // A hand that holds the rope and is lost while it runs: the largest force is the one just before.
        var drop = SampleDrops.MediumLog with { Catch = SampleDrops.MediumLog.Catch with { HandLostTime = 0.6 } };
        var run = DropSimulator.Run(drop);
        var peak = run[MeasureIds.RiggingPointForce];

        peak.Time.Should().BeApproximately(0.6, 1e-6, "the force was still rising when the hand was lost");
        var scene = run.Traces!.SceneAt(peak.Time!.Value);

        double.Hypot(scene.RiggingForceX, scene.RiggingForceZ).Should().BeApproximately(peak.Value, 1e-6 * peak.Value);
    }

    /// <summary>Friction 0.08 on the device: too little to stop the log before the ground.</summary>
    private static DropInput Weak(double endTime) => SampleDrops.MediumLog with
    {
        Device = SampleDrops.MediumLog.Device with { Friction = 0.08 },
        Computation = SampleDrops.MediumLog.Computation with { EndTime = endTime },
    };
}
