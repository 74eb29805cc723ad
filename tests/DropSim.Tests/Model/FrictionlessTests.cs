using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>A rigging point over which rope runs without friction.</summary>
public sealed class FrictionlessTests
{
    [Theory]
    [InlineData(RiggingPointKind.Ring)]
    [InlineData(RiggingPointKind.Block)]
    public void Both_legs_pull_alike_all_the_time_and_nothing_is_lost_there(RiggingPointKind kind)
    {
        var drop = VariedDrops.Named("let run").WithRope(r => r with { HitchTakeUp = new(0.06, 200, 3_000), WrapsTakeUp = new(0.05, 100, 900) })
            .WithRiggingPoint(r => kind == RiggingPointKind.Ring ? r with { Friction = 0 } : r with { Kind = kind, Efficiency = 1 });
        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 2 } });
        var table = run.Traces!.Sample(2e-3);
        var pulled = 0;
        for (var r = 0; r < table.RowCount; r++)
        {
            var (load, ground) = (table["load_leg_tension_N"][r], table["ground_leg_tension_N"][r]);
            ground.Should().BeApproximately(load, 1e-6 + (1e-9 * load));
            pulled += load > 0 ? 1 : 0;
        }

        pulled.Should().BeGreaterThan(100);
        run.Ledger.Places.Single(p => p.Column == "lost_rigging_point_J").Energy.Should().BeApproximately(0, 1e-6);
        run.Ledger.LargestImbalance.Should().BeLessThan(1e-4);

        // Rope runs through the hand and out of knot and wraps, of which each gives no more than it has.
        run[MeasureIds.RopeRun].Value.Should().BePositive();
        table["hitch_take_up_m"][^1].Should().BeInRange(0.01, 0.06 + 1e-9);
        table["wraps_take_up_m"][^1].Should().BeInRange(0.01, 0.05 + 1e-9);
        run.Events.Should().NotContain(e => (e.Kind == EventKind.RopeSlipsToPiece || e.Kind == EventKind.RopeSlipsToDevice) && e.Energy != null);

        // Where the device runs the ground leg pulls what hand and wraps hold: exp(2 pi N mu) times the hand.
        for (var r = 1; r + 1 < table.RowCount; r++)
        {
            if (table.Phase[r - 1] == "running" && table.Phase[r] == "running" && table.Phase[r + 1] == "running")
            {
                table["ground_leg_tension_N"][r].Should().BeApproximately(
                    table["hand_tension_N"][r] * Math.Exp(2 * Math.PI * drop.Device.Wraps * drop.Device.Friction), 1e-6 * table["ground_leg_tension_N"][r]);
            }
        }
    }
}
