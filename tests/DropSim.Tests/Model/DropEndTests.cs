using DropSim.Model;
using Mi = DropSim.Model.MeasureIds;

namespace DropSim.Tests.Model;

/// <summary>How a drop ends, what happens on the way, and what a reader is told: each where its own condition is met in the side view or the curves.</summary>
public sealed class DropEndTests
{
    private const double Gravity = 9.80665;

    private static readonly DropInput _log = SampleDrops.MediumLog;

    /// <summary>Too little friction on the device to stop the log.</summary>
    private static readonly DropInput _weak = _log with { Device = _log.Device with { Friction = 0.1 } };

    [Fact]
    public void On_the_ground_the_lowest_corner_touches_at_the_speed_that_is_told()
    {
        var run = DropSimulator.Run(_weak);
        var (end, just) = (run.Traces!.SceneAt(run.End.Time), run.Traces.SceneAt(run.End.Time - 1e-4));
        var corner = Enumerable.Range(0, end.Piece.Count).MinBy(i => end.Piece[i].Z);

        run.End.Kind.Should().Be(EndKind.Ground);
        end.Piece[corner].Z.Should().BeApproximately(0, 1e-6);
        var speed = double.Hypot(end.Piece[corner].X - just.Piece[corner].X, end.Piece[corner].Z - just.Piece[corner].Z) / 1e-4;
        run.End.Speed.Should().BeApproximately(speed, 1e-2 * speed);
        run.End.Description.Should().Be(FormattableString.Invariant($"the piece touches the ground at {run.End.Speed:0.0} m/s"));
        run.End.CutsShort.Should().BeTrue("faster than 1 m/s");
        run[Mi.Room].Value.Should().BeApproximately(0, 1e-6);
        run[Mi.Room].State.Should().Be(MeasureState.Exact);
        run[Mi.LoadLegTension].State.Should().Be(MeasureState.AtLeast);
        run.Events[^1].Should().BeEquivalentTo(new RunEvent(run.End.Time, EventKind.End, run.End.Description, true));
        run.Warnings.Should().Contain($"The run was cut short ({run.End.Description}): every peak reads 'at least'; what had not yet come about reads 'not reached'.");
    }

    [Fact]
    public void A_speed_is_told_in_two_digits()
    {
        // Without friction on the device the log falls nearly freely from 9 m: faster than 9.95 m/s there is no decimal.
        var run = DropSimulator.Run(_log with { Device = _log.Device with { Friction = 0 } }, new() { Detail = RunDetail.MeasuresOnly });
        run.End.Speed.Should().BeGreaterThan(9.95);
        run.End.Description.Should().Be(FormattableString.Invariant($"the piece touches the ground at {run.End.Speed:0} m/s"));
    }

    [Theory]
    [InlineData(0.2, 1.6, 3, 0, 2.5)]
    [InlineData(0.9, 1.2, 0, 0, 7)]
    [InlineData(-2, -0.5, 0, 0, 2.5)]
    public void On_an_obstacle_the_outline_touches_that_one(double from, double to, double shift, double bottom, double top)
    {
        ObstacleInput[] obstacles = [new("pole", 9, 9.1, 0, 4), new("shed", from + shift - 1, to + shift - 1, bottom, top), new("far wall", -9, -8, 0, 4)];
        var run = DropSimulator.Run(_weak with { Site = new() { Obstacles = obstacles } });
        if (run.End.Kind == EndKind.Ground)
        {
            // It passes beside: then no scene may have met the shed.
            Room(run, obstacles[1], run.Traces!.EndTime).Should().BePositive();
            return;
        }

        run.End.Kind.Should().Be(EndKind.Obstacle);
        Room(run, obstacles[1], run.End.Time).Should().BeApproximately(0, 1e-6);
        run.End.Description.Should().Be(FormattableString.Invariant($"the piece touches shed at {run.End.Speed:0.0} m/s"));
        run[Mi.Room].Value.Should().BeApproximately(0, 1e-6);
        run.End.Obstacle.Should().Be(new TouchedObstacle(1, "shed"));
        run.End.Where!.Value.X.Should().BeInRange(obstacles[1].XFrom - 1e-6, obstacles[1].XTo + 1e-6);
        run.End.Where!.Value.Z.Should().BeInRange(obstacles[1].ZFrom - 1e-6, obstacles[1].ZTo + 1e-6);
        run.End.Energy.Should().BeApproximately(run.Ledger.Places.Single(p => p.Column == "energy_kinetic_J").Energy, 1e-9 * run.End.Energy);
        run[Mi.Room].HowFound.Should().Be("smallest gap between outline and shed");
        run[Mi.Room].State.Should().Be(MeasureState.Exact);
    }

    [Fact]
    public void A_wall_in_the_way_of_the_log_is_met_by_its_nearest_corner_at_that_corners_speed()
    {
        var shed = new ObstacleInput("shed", 0.3, 4, 0, 3);
        var run = DropSimulator.Run(_weak with { Site = new() { Obstacles = [new("pole", 9, 9.1, 0, 4), shed] } });
        run.End.Kind.Should().Be(EndKind.Obstacle);
        var (end, just) = (run.Traces!.SceneAt(run.End.Time), run.Traces.SceneAt(run.End.Time - 1e-4));
        double Away(PlanePoint p) => double.Hypot(Math.Max(0, Math.Max(shed.XFrom - p.X, p.X - shed.XTo)), Math.Max(0, Math.Max(shed.ZFrom - p.Z, p.Z - shed.ZTo)));
        var corner = Enumerable.Range(0, end.Piece.Count).MinBy(i => Away(end.Piece[i]));
        var speed = double.Hypot(end.Piece[corner].X - just.Piece[corner].X, end.Piece[corner].Z - just.Piece[corner].Z) / 1e-4;
        Away(end.Piece[corner]).Should().BeApproximately(0, 1e-6);
        run.End.Speed.Should().BeApproximately(speed, 1e-2 * speed);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_end_of_the_rope_passes_the_device_when_all_that_was_left_has_run(bool byLength)
    {
        // In use before the cut: from the hitch to the ring, slack included, and from the ring to the device.
        var inUse = RopeInUse.Of(_weak).InSystem;
        var run = DropSimulator.Run(_weak.WithRope(r => byLength ? r with { TotalLength = inUse + 0.8 } : r with { RopeLeftAtDevice = 0.8 }));

        run.End.Kind.Should().Be(EndKind.RopeEnd);
        run[Mi.RopeRun].Value.Should().BeApproximately(0.8, 1e-6);
        var scene = run.Traces!.Sample(1)["piece_speed_m_s"][^1];
        run.End.Speed.Should().BeApproximately(scene, 1e-9);
        run.End.Description.Should().Be(FormattableString.Invariant($"the end of the rope passes the device, the piece at {scene:0.0} m/s"));
        run.End.CutsShort.Should().BeTrue();
        run[Mi.Room].State.Should().Be(MeasureState.NotReached);
    }

    [Theory]
    [InlineData(0.5, 0.9, 0.9, "load_leg_tension_N", 0.5)]
    [InlineData(0.9, 0.4, 0.9, "load_leg_tension_N", 0.4)]
    [InlineData(0.9, 0.9, 0.2, "ground_leg_tension_N", 0.2)]
    public void The_rope_breaks_where_a_leg_reaches_its_weakest_place(double knot, double ring, double bollard, string leg, double weakest)
    {
        var strength = new StrengthInput { Rope = 10e3, WetFactor = 0.9, AgeFactor = 0.8, KnotEfficiency = knot, RingBendEfficiency = ring, BollardBendEfficiency = bollard };
        var drop = _log.HardStop() with { Strength = strength, Computation = _log.Computation with { EndTime = 1.8 } };
        var run = DropSimulator.Run(drop);

        run.End.Kind.Should().Be(EndKind.RopeBroke);
        run.Traces!.Sample(0.01)[leg][^1].Should().BeApproximately(10e3 * 0.9 * 0.8 * weakest, 1e-3);
        run.End.Description.Should().Be(FormattableString.Invariant($"the rope's breaking strength is exceeded, the piece at {run.End.Speed:0.0} m/s"));

        // The same where the breaking is not to be computed, or no place weakens the rope: it goes on, over the strength or up to it.
        var measures = new RunOptions { Detail = RunDetail.MeasuresOnly };
        DropSimulator.Run(drop with { Strength = strength with { BreakRope = false } }, measures).End.Kind.Should().NotBe(EndKind.RopeBroke);
        var whole = DropSimulator.Run(drop with { Strength = new() { Rope = 10e3 } }, measures);
        whole.End.Kind.Should().Be(EndKind.RopeBroke);
        whole[Mi.LoadLegTension].Value.Should().BeApproximately(10e3, 1e-3);
    }

    [Fact]
    public void A_drop_settles_at_the_end_of_a_period_of_the_first_mode_in_which_all_was_still()
    {
        var drop = SampleDrops.LightLog.HardStop();
        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 60 }, Spar = drop.Spar with { DampingRatio = 0.1 } });

        run.End.Kind.Should().Be(EndKind.Settled);
        run.End.Description.Should().Be("the piece hangs still");
        run.End.CutsShort.Should().BeFalse();
        var period = 1 / run[Mi.SwayFrequency].Value;
        var periods = (run.End.Time + run.HingeBreakTime) / period;
        periods.Should().BeApproximately(Math.Round(periods), 1e-6);

        // docs/theory/measures.md: over one period the load leg stays within 5 % of the weight and the tip's speed below 1 % of its largest.
        var table = run.Traces!.Sample(0.01);
        double[] time = [.. table["time_s"]];
        double[] tip = [.. table["tip_deflection_m"]];
        double[] load = [.. table["load_leg_tension_N"]];
        var weight = drop.Piece.Mass * Gravity;
        double largest = 0, late = 0, before = 0;
        bool Still(int r) => Math.Abs(load[r] - weight) <= 0.0501 * weight;
        var (last, previous) = (true, true);
        for (var r = 1; r < time.Length; r++)
        {
            var speed = time[r] - time[r - 1] > 1e-3 ? Math.Abs(tip[r] - tip[r - 1]) / (time[r] - time[r - 1]) : 0;
            largest = Math.Max(largest, speed);
            if (time[r] > run.End.Time - period)
            {
                late = Math.Max(late, speed);
                last &= Still(r);
            }
            else if (time[r] > run.End.Time - (2 * period))
            {
                before = Math.Max(before, speed);
                previous &= Still(r);
            }
        }

        last.Should().BeTrue();
        late.Should().BeLessThan(0.0105 * largest);
        (previous && before < 0.0095 * largest).Should().BeFalse("it would have ended one period earlier");
    }

    [Fact]
    public void Before_the_hinge_breaks_times_are_from_the_start_and_nothing_is_reached()
    {
        var run = DropSimulator.Run(_log with { Computation = _log.Computation with { EndTime = 0.1 } });

        run.End.Kind.Should().Be(EndKind.EndTime);
        run.End.Description.Should().Be("still moving when the computation ended after 0.1 s");
        run.End.CutsShort.Should().BeTrue();
        run.HingeBreakTime.Should().Be(double.NaN);
        run.Traces!.StartTime.Should().Be(0);
        run.Traces.EndTime.Should().BeApproximately(0.1, 1e-12);
        foreach (var id in (string[])[Mi.TimeToTaut, Mi.DropToTaut, Mi.LeastPossible, Mi.PlanningForce, Mi.Room])
        {
            run[id].State.Should().Be(MeasureState.NotReached);
        }

        run[Mi.LeastPossible].HowFound.Should().Be("the load leg never came taut");
        run[Mi.PlanningForce].HowFound.Should().Be("the load leg never came taut");
        run.Warnings.Should().Contain("The hinge did not break before the run ended; times are from the start.");
        run.Phases.Should().ContainSingle().Which.Name.Should().Be("hinged");
    }

    [Fact]
    public void A_weak_hinge_breaks_at_its_strength_and_a_strong_one_when_the_face_cut_closes()
    {
        var closes = DropSimulator.Run(_log);
        var table = closes.Traces!.Sample(0.01);
        var at = table["time_s"].ToArray().ToList().FindIndex(t => t >= 0);
        table["piece_lean_rad"][at].Should().BeApproximately(55 * Math.PI / 180, 0.01, "less what the spar's top turns");
        static RunEvent Break(DropRun run) => run.Events.Single(e => e.Kind == EventKind.HingeBreaks);
        Break(closes).Detail.Should().Be("the face cut has closed");
        Break(closes).Time.Should().BeApproximately(0, 1e-12);

        // The hinge carries the whole weight at the start: one of less strength breaks at once.
        var breaks = DropSimulator.Run(_log with { Start = _log.Start with { HingeStrength = 0.9 * closes[Mi.HingeForce].Value } });
        breaks.HingeBreakTime.Should().BeApproximately(0, 1e-9);
        Break(breaks).Detail.Should().Be("its strength was exceeded, or the edge would have had to pull");
    }

    [Fact]
    public void What_is_planned_happens_at_its_time_and_is_told()
    {
        var drop = _log with
        {
            Catch = _log.Catch with { WrapsChangeTime = 0.9, WrapsAfterChange = 1.25, HandLostTime = 1.4, ReactionTime = 0.3 },
            Computation = _log.Computation with { EndTime = 3 },
        };
        var run = DropSimulator.Run(drop);
        RunEvent Event(EventKind kind) => run.Events.First(e => e.Kind == kind);

        Event(EventKind.WrapsChange).Time.Should().BeApproximately(0.9, 1e-9);
        Event(EventKind.WrapsChange).Detail.Should().Be("now 1.25");
        Event(EventKind.HandLost).Time.Should().BeApproximately(1.4, 1e-9);
        Event(EventKind.HandReacts).Time.Should().BeApproximately(0.3, 1e-9, "the hinge's break is the cue");
        Event(EventKind.HandReacts).Detail.Should().BeOneOf("building up force", "following the braking plan");
        var table = run.Traces!.Sample(0.001);
        double[] time = [.. table["time_s"]];
        double At(string column, double t) => table[column][Array.FindIndex(time, x => x >= t - 1e-9)];
        var firstTaut = Event(EventKind.LoadLegTaut).Time;
        At("load_leg_tension_N", firstTaut - 0.005).Should().Be(0);
        At("load_leg_tension_N", firstTaut + 0.005).Should().BePositive();
        run.Events.Select(e => e.Time).Should().BeInAscendingOrder();

        // Of several of a kind the first is marked in a chart, of strikes every one.
        foreach (var kind in run.Events.GroupBy(e => e.Kind).Where(k => k.Key is not (EventKind.Strike or EventKind.Touch)))
        {
            kind.Select(e => e.Marked).Should().Equal(kind.Select((_, i) => i == 0));
        }

        run.Events.Where(e => e.Kind == EventKind.Strike).Should().OnlyContain(e => e.Marked);
        run.Events.Should().NotContain(e => e.Kind == EventKind.Touch && e.Marked);
    }

    [Fact]
    public void A_knot_and_wraps_have_tightened_when_all_their_rope_is_drawn()
    {
        var drop = VariedDrops.Named("locked off, take-ups");
        var run = DropSimulator.Run(drop with { Rope = drop.Rope with { HitchTakeUp = new(0.06, 200, 1_500), WrapsTakeUp = new(0.05, 100, 900) } });
        var table = run.Traces!.Sample(0.01);
        double[] time = [.. table["time_s"]];
        double At(string column, EventKind kind) => table[column][Array.FindIndex(time, t => t >= run.Events.First(e => e.Kind == kind).Time - 1e-9)];
        At("hitch_take_up_m", EventKind.HitchHasTightened).Should().BeApproximately(0.06, 1e-6);
        At("wraps_take_up_m", EventKind.WrapsHaveTightened).Should().BeApproximately(0.05, 1e-6);
    }

    [Fact]
    public void A_hand_side_that_snags_stops_the_rope_there()
    {
        static DropRun Run(DropInput drop) => DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 2 } }, new() { Detail = RunDetail.MeasuresOnly });
        var run = Run(_weak with { Catch = _log.Catch with { SnagAfterRun = 0.4 } });

        run.Events.Should().Contain(e => e.Kind == EventKind.HandSideSnags);
        run[Mi.RopeRun].Value.Should().BeApproximately(0.4, 1e-6);
        run[Mi.HandForce].HowFound.Should().StartWith("largest pull on the hand side; after the snag it is what the snag bears, not the hand");
        Run(_log)[Mi.HandForce].HowFound.Should().StartWith("largest pull on the hand side").And.NotContain("snag");
        Run(_log.HardStop())[Mi.HandForce].HowFound.Should().StartWith("locked off: what a hand would have had to hold, T2 over the device's hold ratio");
    }

    [Fact]
    public void A_piece_far_off_balance_is_told_with_its_lean()
    {
        // Hinge a quarter of the diameter from the middle, 0.1 m, and the centre of gravity 0.15 m behind it: atan(0.25 / 0.625) = 21.8 degrees.
        var drop = _log with { Piece = _log.Piece with { SidewaysOffset = -0.15 } };
        const string Words = "The piece balances only at 22 degrees of lean: it must be pulled or wedged over, which is not computed.";
        Warnings(drop).Should().Contain(Words);
        Warnings(_log).Should().NotContain(w => w.StartsWith("The piece balances only at", StringComparison.Ordinal));
    }

    [Fact]
    public void A_viscous_time_that_takes_its_share_of_the_catch_is_told()
    {
        var drop = SampleDrops.LightLog.HardStop().WithRope(r => r with { Stiffness = 600e3 });

        // tau_v sqrt(k / m) with k = EA over the rope in use, above a twentieth.
        var share = 0.002 * Math.Sqrt(600e3 / RopeInUse.Of(drop).InSystem / drop.Piece.Mass);
        share.Should().BeGreaterThan(0.05);
        Warnings(drop).Should().Contain(FormattableString.Invariant(
            $"The rope's viscous time takes more than its small share of the catch (tau_v sqrt(k/m) = {share:0.000} > 0.05): forces may be flattered."));
        Warnings(drop.WithRope(r => r with { ViscousTime = 0.002 * 0.04 / share })).Should().NotContain(w => w.StartsWith("The rope's viscous time", StringComparison.Ordinal));
    }

    [Fact]
    public void A_pull_near_the_spars_buckling_load_is_told()
    {
        var drop = _log.HardStop().WithSpar(s => s with { Diameters = [new(0, 0.24), new(9, 0.18)], ClimberMass = 0 });
        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 1.5 } });
        run[Mi.BucklingFraction].Value.Should().BeGreaterThan(0.3);
        run.Warnings.Should().Contain(FormattableString.Invariant(
            $"The downward pull reaches {run[Mi.BucklingFraction].Value:0.00} of the spar's buckling load: the spar's modes are no longer exact above 0.3."));

        // Nobody stands on it.
        run.Traces!.SceneAt(0).Climber.Should().BeNull();
        run.Traces.Shapes.ClimberHeight.Should().BeNull();
        run.Traces.Shapes.ClimberShapes.Should().BeEmpty();
    }

    [Fact]
    public void A_rope_of_known_length_leaves_so_much_at_the_device_and_so_much_when_the_piece_is_down()
    {
        var use = RopeInUse.Of(_log.WithRope(r => r with { TotalLength = 45 }));

        // The hitch is 0.3 m up the log, in line with its front side; the ring 0.4 m below the cut, its stand-off in front of the spar.
        var start = DropSimulator.Run(_log with { Computation = _log.Computation with { EndTime = 0.01 } }).Traces!.SceneAt(0);
        use.LoadLeg.Should().BeApproximately(double.Hypot(start.Hitch.X - start.RiggingPoint.X, start.Hitch.Z - start.RiggingPoint.Z) + _log.Rope.Slack, 1e-9);
        use.GroundLeg.Should().BeApproximately(double.Hypot(start.Device.X - start.RiggingPoint.X, start.Device.Z - start.RiggingPoint.Z), 1e-9);
        use.InSystem.Should().BeApproximately(use.LoadLeg + use.GroundLeg, 1e-12);
        use.Left.Should().BeApproximately(45 - use.InSystem, 1e-9);

        // The ring is 8.6 m up: so much rope must hang there for the hitch to lie on the ground.
        use.LeftWhenDown.Should().BeApproximately(use.Left - (8.6 - use.LoadLeg), 1e-9);
        RopeInUse.Of(_log.WithRope(r => r with { RopeLeftAtDevice = 7 })).Left.Should().Be(7);
        RopeInUse.Of(_log).Left.Should().Be(double.NaN);
        var long1 = RopeInUse.Of(_log.WithRope(r => r with { RopeLeftAtDevice = 7, Slack = 20 }));
        long1.LeftWhenDown.Should().Be(7, "more than enough hangs already");
    }

    private static IReadOnlyList<string> Warnings(DropInput drop) =>
        DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 2 } }, new() { Detail = RunDetail.MeasuresOnly }).Warnings;

    private static double Room(DropRun run, ObstacleInput obstacle, double time)
    {
        var piece = run.Traces!.SceneAt(time).Piece;
        return ConvexGap.ToRectangle([.. piece.Select(p => p.X)], [.. piece.Select(p => p.Z)], obstacle);
    }
}
