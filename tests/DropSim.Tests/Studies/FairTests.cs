using DropSim.Cli;
using DropSim.Model;
using DropSim.Studies;
using DropSim.Tests.Cli;
using DropSim.Tests.Model;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Studies;

public sealed class FairTests : IDisposable
{
    private static readonly Lazy<FairResult> RingAndBlock = new(() => FairStudy.Compute([Variant("ring", RiggingPointKind.Ring), Variant("block", RiggingPointKind.Block)], MatchBy.Wraps, 2));

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Wraps_are_found_that_give_the_same_run_and_the_same_peak()
    {
        var result = RingAndBlock.Value;
        var ring = result.Row(FairWay.SameSetting, 0)!.Result!.Run;
        var sameRun = result.Row(FairWay.SameRun, 1)!;
        var samePeak = result.Row(FairWay.SamePeak, 1)!;

        sameRun.Result!.Run[MeasureIds.RopeRun].Value.Should().BeApproximately(ring[MeasureIds.RopeRun].Value, 0.003 * ring[MeasureIds.RopeRun].Value);
        samePeak.Result!.Run[MeasureIds.RiggingPointForce].Value.Should().BeApproximately(ring[MeasureIds.RiggingPointForce].Value, 0.003 * ring[MeasureIds.RiggingPointForce].Value);

        // A ring holds part of the pull back, so that a block needs more wraps for the same run.
        sameRun.Setting.Should().BeGreaterThan(2.5);
    }

    [Fact]
    public void With_equal_run_the_load_leg_bears_the_same_and_the_ring_less_in_all()
    {
        var ring = RingAndBlock.Value.Row(FairWay.SameRun, 0)!.Result!.Run;
        var block = RingAndBlock.Value.Row(FairWay.SameRun, 1)!.Result!.Run;

        // A prototype of the same equations, written apart, for another log: the same load leg, the rigging point about 14 % lower over the ring.
        // Equal run is not quite an equal way to stop: the ground leg over the ring is pulled less and stretches less. With the same wraps
        // the load legs are farther apart.
        var load = ring[MeasureIds.LoadLegTension].Value / block[MeasureIds.LoadLegTension].Value;
        var apart = RingAndBlock.Value.Row(FairWay.SameSetting, 0)!.Result!.Run[MeasureIds.LoadLegTension].Value
            / RingAndBlock.Value.Row(FairWay.SameSetting, 1)!.Result!.Run[MeasureIds.LoadLegTension].Value;
        load.Should().BeInRange(1, 1.15);
        apart.Should().BeGreaterThan(1.1).And.BeGreaterThan(load);
        (ring[MeasureIds.RiggingPointForce].Value / block[MeasureIds.RiggingPointForce].Value).Should().BeInRange(0.78, 0.95);
    }

    [Fact]
    public void No_peak_of_any_row_is_below_what_the_work_allows()
    {
        // The mean of the load leg's pull over its path, from weight, motion and drag, is never above its peak.
        foreach (var row in RingAndBlock.Value.Rows)
        {
            var full = DropSimulator.Run(row.Result!.Run.Input);
            full[MeasureIds.LoadLegTension].Value.Should().BeGreaterThanOrEqualTo(full[MeasureIds.LeastPossible].Value * (1 - 1e-4));
        }
    }

    [Fact]
    public void Where_the_legs_are_parallel_the_rigging_point_bears_their_sum()
    {
        // |F|2 = T1^2 + T2^2 + 2 T1 T2 cos(angle between the legs); wrapped round half a turn both point down and F = T1 + T2.
        var table = RingAndBlock.Value.Row(FairWay.SameSetting, 0)!.Result!.Run.Traces!.Sample(0.001);
        var compared = 0;
        for (var i = 0; i < table.RowCount; i++)
        {
            var sum = table["load_leg_tension_N"][i] + table["ground_leg_tension_N"][i];
            var apart = Math.PI - table["wrap_angle_rad"][i];

            // cos(0.05) = 1 - 0.00125, and the product is at most a quarter of the sum's square: F is short of the sum by 0.0625 % at most.
            if (Math.Abs(apart) < 0.05 && sum > 100)
            {
                compared++;
                table["rigging_point_force_N"][i].Should().BeInRange(sum * (1 - 6.5e-4), sum * (1 + 1e-9));
            }
        }

        compared.Should().BeGreaterThan(10);
    }

    [Fact]
    public void A_rope_run_that_no_wraps_give_is_said_not_to_be_reached()
    {
        var match = new MatchedSetting(SampleDrops.MediumLog, MatchBy.Wraps, 2, null, default).Find(MeasureIds.RopeRun, 50);

        match.Run.Should().BeNull();
        match.Note.Should().Contain("not reached");
    }

    [Fact]
    public void A_hand_can_be_solved_for_instead_of_wraps()
    {
        var input = SampleDrops.MediumLog;
        var wanted = DropSimulator.Run(input with { Device = input.Device with { Wraps = 2.75 } })[MeasureIds.RopeRun].Value;

        var match = new MatchedSetting(input, MatchBy.Hand, 2, null, default).Find(MeasureIds.RopeRun, wanted);

        match.Setting.Should().BeGreaterThan(1, "a quarter turn less wants a stronger hand");
        match.Run![MeasureIds.RopeRun].Value.Should().BeApproximately(wanted, 0.003 * wanted);
    }

    [Fact]
    public void The_command_says_what_was_held_equal_and_why_the_ways_disagree()
    {
        var (code, output, error) = CommandLine.Run("compare", Path.Combine(Repository.Folder("scenarios"), "lessons", "ring-block-fair.toml"), "--out", _folder);

        code.Should().Be(ExitCodes.Done, error);
        output.Should().Contain("Same wraps and hands").And.Contain("Same rope run to a stop").And.Contain("Block efficiency under shock is not known").And.Contain("worst of");
        Directory.EnumerateFiles(Path.Combine(_folder, "ring-block-fair-compare")).Select(Path.GetFileName)
            .Should().BeEquivalentTo("compare.csv", "compare.png", "block-efficiency.csv", "block-efficiency.png", "study.json");
    }

    private static FairVariant Variant(string gear, RiggingPointKind kind)
    {
        var input = SampleDrops.MediumLog.WithRiggingPoint(p => p with { Kind = kind });
        var ranges = kind == RiggingPointKind.Block
            ? new[] { new InputRange("block efficiency", "", 0.9, 0.75, 0.97, "test", (d, v) => d with { RiggingPoint = d.RiggingPoint with { Efficiency = v } }) }
            : [];
        return new(gear, new DropCase(gear, "let-run", input, ranges, [], []));
    }
}
