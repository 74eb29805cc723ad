using DropSim.Model;
using Mi = DropSim.Model.MeasureIds;

namespace DropSim.Tests.Model;

/// <summary>What is read off a run against its curves, hand-worked formulas and docs/theory/measures.md.</summary>
public sealed class RunSummaryTests
{
    private const double Gravity = 9.80665;

    private static readonly RunOptions _measures = new() { Detail = RunDetail.MeasuresOnly };

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void A_peak_is_the_largest_value_of_its_curve_and_stands_where_the_curve_has_it(string name)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var table = run.Traces!.Sample(5e-4);
        double[] time = [.. table["time_s"]];
        double[] Size(string column) => [.. table[column].ToArray().Select(Math.Abs)];
        void Peak(string id, double[] curve, double share = 1e-3)
        {
            var largest = curve.Max();
            var measure = run[id];
            measure.Value.Should().BeInRange(largest * (1 - 1e-9), (largest * (1 + share)) + 1e-9, id);

            // Where the measure has it the curve is, at the next row, near its top.
            var (value, at) = (measure.Value, measure.Time!.Value);
            var next = Array.FindIndex(time, t => t >= at - 1e-9);
            Math.Max(curve[next], curve[Math.Max(0, next - 1)]).Should().BeInRange(value * (1 - (10 * share)) - 1e-9, (value * (1 + 1e-9)) + 1e-9, id);
        }

        Peak(Mi.RiggingPointForce, Size("rigging_point_force_N"));
        Peak(Mi.LoadLegTension, Size("load_leg_tension_N"));
        Peak(Mi.GroundLegTension, Size("ground_leg_tension_N"));
        Peak(Mi.HandForce, Size("hand_tension_N"));
        Peak(Mi.HingeForce, Size("hinge_force_N"));
        Peak(Mi.ClimberMovement, Size("climber_deflection_m"));
        Peak(Mi.TipDeflection, Size("tip_deflection_m"));
        Peak(Mi.ClimberSpeed, Size("climber_velocity_m_s"), 0.01);

        // Accelerations and moments jump with the strikes, which last milliseconds.
        Peak(Mi.ClimberAcceleration, Size("climber_acceleration_m_s2"), 0.1);
        Peak(Mi.BaseMomentWithStrikes, Size("spar_base_moment_N_m"), 0.1);
        double[] pressed = [.. table["contact_force_N"]];
        Peak(Mi.BaseMoment, [.. Size("spar_base_moment_N_m").Select((m, r) => pressed[r] > 0 ? 0 : m)], 0.1);

        run[Mi.RopeRun].Value.Should().BeApproximately(table["rope_run_m"][^1], 1e-9);
        run[Mi.RopeSlip].Value.Should().BeApproximately(table["rope_slip_m"][^1], 1e-9);
        var weight = drop.Piece.Mass * Gravity;
        run[Mi.LoadLegTimesWeight].Value.Should().BeApproximately(run[Mi.LoadLegTension].Value / weight, 1e-9);
        run[Mi.RiggingPointTimesWeight].Value.Should().BeApproximately(run[Mi.RiggingPointForce].Value / weight, 1e-9);
        run[Mi.TimeToPeak].Value.Should().Be(run[Mi.LoadLegTension].Time);

        var taut = run.Events.First(e => e.Kind == EventKind.LoadLegTaut).Time;
        run[Mi.TimeToTaut].Value.Should().BeApproximately(taut, 1e-12);
        double[] z = [.. table["piece_z_m"]];
        var row = Array.FindIndex(time, t => t >= taut - 1e-9);
        run[Mi.DropToTaut].Value.Should().BeApproximately(z[0] - z[row], 1e-6);
        run[Mi.HandDropToTaut].Value.Should().BeApproximately(
            (2 * drop.Piece.CentreOfGravity) + (2 * drop.RiggingPoint.BelowCut) + drop.Rope.Slack, 1e-12);

        // The largest speed of rope through the device is its curve's while the piece draws it.
        double[] ropeSpeed = [.. table["rope_speed_at_device_m_s"]];
        run[Mi.RopeSpeed].Value.Should().BeLessThanOrEqualTo((ropeSpeed.Max() * 1.001) + 1e-9);

        // At f1 and damping zeta a sway falls to a twentieth in ln 20 / (zeta 2 pi f1).
        run[Mi.SettleTime].Value.Should().BeApproximately(Math.Log(20) / (drop.Spar.DampingRatio * 2 * Math.PI * run[Mi.SwayFrequency].Value), 1e-9);
        run[Mi.BucklingFraction].Value.Should().BePositive();
        var spar = new ModalSpar(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, Gravity);
        run[Mi.SwayFrequency].Value.Should().BeApproximately(spar.AngularFrequencies[0] / (2 * Math.PI), 1e-12);
        double[] down = [.. table["rigging_point_force_z_N"].ToArray().Select(f => -f)];
        var buckling = spar.BucklingLoadAt(drop.Spar.Height - drop.RiggingPoint.BelowCut);
        run[Mi.BucklingFraction].Value.Should().BeApproximately(down.Max() / buckling, 1e-3 * down.Max() / buckling);
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void No_instant_within_a_millisecond_of_a_peak_is_higher(string name)
    {
        var run = DropSimulator.Run(VariedDrops.Named(name));
        (string Id, Func<DropScene, double> Size)[] curves =
        [
            (Mi.RiggingPointForce, s => double.Hypot(s.RiggingForceX, s.RiggingForceZ)),
            (Mi.LoadLegTension, s => s.LoadLegTension),
            (Mi.GroundLegTension, s => s.GroundLegTension),
            (Mi.ClimberMovement, s => Math.Abs(s.Climber!.Value.X)),
            (Mi.TipDeflection, s => Math.Abs(s.SparAxis[^1].X)),
            (Mi.Room, s => -s.Piece.Min(p => p.Z)),
        ];
        foreach (var (id, size) in curves.Where(c => c.Id != Mi.Room || run.Input.Site.Obstacles.Count == 0))
        {
            var (value, time) = (run[id].Value, run[id].Time!.Value);
            var highest = Enumerable.Range(-50, 101).Max(k => size(run.Traces!.SceneAt(time + (k * 2e-5))));

            // Between two of these a peak of 100 rad/s bends by (100 x 1e-5)^2 / 2.
            (id == Mi.Room ? -value : value).Should().BeInRange(highest - (1e-9 * Math.Abs(highest)) - 1e-12, highest + (1e-6 * Math.Abs(highest)), id);
        }
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("held, then lost")]
    [InlineData("top over a block, snagged")]
    public void The_least_possible_peak_is_the_mean_of_the_load_leg_over_its_path_and_below_its_peak(string name)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var traces = run.Traces!;
        var from = run[Mi.TimeToTaut].Value;

        // The same sum from scenes: force times the way of the hitch along the leg, until the leg stops growing.
        double work = 0, path = 0;
        var before = traces.SceneAt(from + 1e-7);
        var first = before;
        var last = before;
        for (var t = from + 5e-4; t < traces.EndTime; t += 5e-4)
        {
            var scene = traces.SceneAt(t);
            if (Leg(scene) < Leg(before))
            {
                break;
            }

            var way = ((scene.Hitch.X - before.Hitch.X) * (scene.Hitch.X - scene.RiggingPoint.X) / Leg(scene)) + ((scene.Hitch.Z - before.Hitch.Z) * (scene.Hitch.Z - scene.RiggingPoint.Z) / Leg(scene));
            work += (scene.LoadLegTension + before.LoadLegTension) / 2 * way;
            path += Math.Max(0, way);
            (before, last) = (scene, scene);
        }

        run[Mi.LeastPossible].Value.Should().BeApproximately(work / path, 0.02 * work / path).And.BeLessThan(run[Mi.LoadLegTension].Value);
        var travel = first.CentreOfGravity.Z - last.CentreOfGravity.Z;
        var planning = drop.Piece.Mass * Gravity * (1 + (run[Mi.DropToTaut].Value / travel));
        run[Mi.PlanningForce].Value.Should().BeApproximately(planning, 0.02 * planning);
        run[Mi.PlanningForce].Time.Should().BeApproximately(last.Time, 1e-3, "it is known when the travel is over");
        run[Mi.PlanningForce].HowFound.Should().Be(FormattableString.Invariant(
            $"h = {run[Mi.DropToTaut].Value:0.00} m drop of the centre of gravity before taut, s = {drop.Piece.Mass * Gravity * run[Mi.DropToTaut].Value / (run[Mi.PlanningForce].Value - (drop.Piece.Mass * Gravity)):0.00} m of stopping travel"));
        run[Mi.LeastPossible].State.Should().Be(MeasureState.Exact);

        static double Leg(DropScene s) => double.Hypot(s.Hitch.X - s.RiggingPoint.X, s.Hitch.Z - s.RiggingPoint.Z);
    }

    [Theory]
    [InlineData("let run", -1)]
    [InlineData("locked off, take-ups", -1)]
    [InlineData("held, then lost", 1)]
    public void The_room_left_is_the_smallest_gap_of_all_scenes(string name, int obstacle)
    {
        var drop = VariedDrops.Named(name);
        var run = DropSimulator.Run(drop);
        var traces = run.Traces!;
        double least = double.PositiveInfinity, at = double.NaN;
        for (var t = traces.StartTime; t <= traces.EndTime; t += 2e-3)
        {
            var piece = traces.SceneAt(t).Piece;
            double[] x = [.. piece.Select(p => p.X)];
            double[] z = [.. piece.Select(p => p.Z)];
            var room = drop.Site.Obstacles.Select(o => ConvexGap.ToRectangle(x, z, o)).Append(z.Min()).Min();
            (least, at) = room < least ? (room, t) : (least, at);
        }

        run[Mi.Room].Value.Should().BeInRange(Math.Max(0, least - 0.01), Math.Max(0, least) + 1e-9);
        run[Mi.Room].Time.Should().BeApproximately(at, 5e-3);
        run[Mi.Room].HowFound.Should().Be("smallest gap between outline and " + (obstacle < 0 ? "the ground" : drop.Site.Obstacles[obstacle].Name));
        run[Mi.Room].Worse.Should().Be(Worse.Smaller);
    }

    [Fact]
    public void The_five_headline_measures_come_first_in_the_order_of_the_theory()
    {
        var run = DropSimulator.Run(VariedDrops.Named("let run"));
        string[] headline = [Mi.RiggingPointForce, Mi.Room, Mi.ClimberMovement, Mi.HandForce, Mi.RopeRun];
        run.Measures.Take(5).Select(m => m.Id).Should().Equal(headline);
        run.Measures.Should().OnlyContain(m => m.Headline == headline.Contains(m.Id));
        run.Measures.Select(m => m.Id).Should().OnlyHaveUniqueItems();
        run.Measures.Should().OnlyContain(m => m.Label.Length > 0 && m.HowFound.Length > 0 && m.HowFound[0] != ';');
        FluentActions.Invoking(() => run["no_such_measure"]).Should().Throw<KeyNotFoundException>().WithMessage("*no_such_measure*");

        // Which way is worse: a force, a movement, a run of rope by being larger; room by being smaller; times and places neither.
        string[] neither = [Mi.SwayFrequency, Mi.SparStressHeight, Mi.TimeToTaut, Mi.TimeToPeak, Mi.DropToTaut, Mi.HandDropToTaut, Mi.LeastPossible, Mi.PlanningForce, Mi.RopeSlip];
        run.Measures.Where(m => m.Worse == Worse.Neither).Select(m => m.Id).Should().BeSubsetOf(neither);
        run.Measures.Where(m => m.Worse == Worse.Smaller).Select(m => m.Id).Should().Equal(Mi.Room);
    }

    [Fact]
    public void A_measure_has_the_unit_of_its_quantity()
    {
        var run = DropSimulator.Run(VariedDrops.Named("locked off, take-ups"));
        (string Unit, string[] Ids)[] units =
        [
            ("N", [Mi.RiggingPointForce, Mi.HandForce, Mi.LoadLegTension, Mi.GroundLegTension, Mi.HingeForce, Mi.LeastPossible, Mi.PlanningForce]),
            ("m", [Mi.Room, Mi.ClimberMovement, Mi.ClimberMovementBeforeHit, Mi.RopeRun, Mi.TipDeflection, Mi.RopeSlip, Mi.SparStressHeight, Mi.DropToTaut, Mi.HandDropToTaut]),
            ("m/s", [Mi.ClimberSpeed, Mi.RopeSpeed]),
            ("m/s2", [Mi.ClimberAcceleration, Mi.ClimberMtvv]),
            ("s", [Mi.SettleTime, Mi.TimeToTaut, Mi.TimeToPeak, Mi.FootTurnTime]),
            ("rad", [Mi.FootTurn]),
            ("N m", [Mi.BaseMoment, Mi.BaseMomentWithStrikes]),
            ("", [Mi.LoadLegTimesWeight, Mi.RiggingPointTimesWeight, Mi.BucklingFraction, Mi.WeakestLink, Mi.UprootingShare]),
            ("K", [Mi.RopeHeat, Mi.DeviceHeat]),
            ("Hz", [Mi.SwayFrequency]),
            ("Pa", [Mi.SparStress]),
            ("J", [Mi.StrikeEnergy]),
            ("m/s^1.75", [Mi.ClimberVdv]),
        ];
        run.Measures.Should().OnlyContain(m => m.Unit == units.Single(u => u.Ids.Contains(m.Id)).Unit);
        units.SelectMany(u => u.Ids).Should().BeEquivalentTo(run.Measures.Select(m => m.Id));
    }

    [Fact]
    public void Heat_at_the_device_is_bounded_by_all_of_it_in_the_rope_or_all_of_it_in_the_bollard()
    {
        var log = SampleDrops.MediumLog;
        var drop = log.WithRope(r => r with { MassPerLength = 0.12 }) with { Device = log.Device with { BollardDiameter = 0.15 }, Computation = log.Computation with { EndTime = 5 } };
        var run = DropSimulator.Run(drop);
        var table = run.Traces!.Sample(1e-3);
        double pull = 0, running = 0;
        for (var r = 0; r + 1 < table.RowCount; r++)
        {
            if (table.Phase[r] == "running" && table.Phase[r + 1] == "running")
            {
                pull = Math.Max(pull, table["ground_leg_tension_N"][r] - table["hand_tension_N"][r]);
                running += table["time_s"][r + 1] - table["time_s"][r];
            }
        }

        // A metre of rope takes (T2 - T3) x 1 m into 0.12 kg at 1200 J/(kg K).
        run[Mi.RopeHeat].Value.Should().BeApproximately(pull / (0.12 * 1200), 0.01 * pull / (0.12 * 1200));

        // A steady flux q into a half space: 2 q sqrt(t / (pi k rho c)); steel 50 W/(m K), 7850 kg/m3, 490 J/(kg K).
        var area = 2.5 * Math.PI * 0.15 * 0.014;
        var lost = run.Ledger.Places.Single(p => p.Column == "lost_device_J").Energy;
        var rise = 2 * (lost / area / running) * Math.Sqrt(running / (Math.PI * 50 * 7850 * 490));
        running.Should().BePositive();
        run[Mi.DeviceHeat].Value.Should().BeApproximately(rise, 0.01 * rise);
        run[Mi.RopeHeat].State.Should().Be(MeasureState.Exact);
        run[Mi.DeviceHeat].State.Should().Be(MeasureState.Exact);

        // Nothing runs: no heat. Nothing known: no number.
        var held = DropSimulator.Run(drop.HardStop() with { Computation = drop.Computation with { EndTime = 2 } }, _measures);
        held[Mi.RopeHeat].Value.Should().Be(0);
        held[Mi.DeviceHeat].Value.Should().Be(0);
        var unknown = DropSimulator.Run(log with { Computation = log.Computation with { EndTime = 2 } }, _measures);
        unknown[Mi.RopeHeat].State.Should().Be(MeasureState.Unknown);
        unknown[Mi.RopeHeat].Value.Should().Be(double.NaN);
        unknown[Mi.DeviceHeat].State.Should().Be(MeasureState.Unknown);
        unknown[Mi.DeviceHeat].Value.Should().Be(double.NaN);
        (unknown[Mi.RopeHeat].Unit, unknown[Mi.DeviceHeat].Unit).Should().Be(("K", "K"));
        unknown[Mi.RopeHeat].HowFound.Should().Be("the rope's mass per metre is not known");
        unknown[Mi.DeviceHeat].HowFound.Should().Be("the bollard's diameter is not known");
        DropSimulator.Run(drop with { Device = drop.Device with { Wraps = 0 }, Computation = drop.Computation with { EndTime = 0.1 } })[Mi.DeviceHeat].State.Should().Be(MeasureState.Unknown);
    }

    private static readonly StrengthInput _strength = new()
    {
        Rope = 60e3,
        KnotEfficiency = 0.7,
        RingBendEfficiency = 0.9,
        BollardBendEfficiency = 0.8,
        WetFactor = 0.9,
        AgeFactor = 0.8,
        Sling = 90e3,
        RingOrBlock = 110e3,
        Device = 50e3,
        BreakRope = false,
    };

    private static DropRun Loaded(StrengthInput strength, Func<DropInput, DropInput>? change = null)
    {
        var log = VariedDrops.Named("locked off, take-ups");
        var sound = log with
        {
            Strength = strength,
            Spar = log.Spar with { Condition = StemCondition.Sound, BendingStrength = 60e6 },
            Computation = log.Computation with { EndTime = 1.8 },
        };
        return DropSimulator.Run((change ?? (d => d))(sound), _measures);
    }

    [Fact]
    public void The_weakest_link_is_the_one_loaded_nearest_to_its_strength()
    {
        var all = _strength;
        var run = Loaded(all);
        var (load, ground, point, stress) = (run[Mi.LoadLegTension], run[Mi.GroundLegTension], run[Mi.RiggingPointForce], run[Mi.SparStress]);
        void Weakest(StrengthInput strength, string link, double fraction, double? time, Func<DropInput, DropInput>? change = null)
        {
            var measure = Loaded(strength, change)[Mi.WeakestLink];
            measure.Value.Should().BeApproximately(fraction, 1e-9);
            measure.Time.Should().Be(time);
            measure.HowFound.Should().Be(link);
            measure.Unit.Should().BeEmpty();
            measure.State.Should().Be(load.State);
        }

        // One link after another so weak that it is the weakest.
        const double Rope = 60e3 * 0.9 * 0.8;
        Weakest(all with { KnotEfficiency = 0.2 }, "rope at the hitch's knot", load.Value / (Rope * 0.2), load.Time);
        Weakest(all with { RingBendEfficiency = 0.2 }, "rope over the rigging point", load.Value / (Rope * 0.2), load.Time);
        Weakest(all with { BollardBendEfficiency = 0.1 }, "rope over the bollard", ground.Value / (Rope * 0.1), ground.Time);
        Weakest(all with { Sling = 10e3 }, "sling", point.Value / 10e3, point.Time);
        Weakest(all with { RingOrBlock = 10e3 }, "ring", point.Value / 10e3, point.Time);
        Weakest(all with { Device = 5e3 }, "friction device", ground.Value / 5e3, ground.Time);
        Weakest(all with { DesignFactor = 10, Sling = 10e3 }, "sling; your design factor 10 corresponds to 10 %", point.Value / 10e3, point.Time);
        Weakest(all, "spar in bending", stress.Value / 1e6, stress.Time, d => d with { Spar = d.Spar with { BendingStrength = 1e6 } });
        Weakest(all with { Device = null, KnotEfficiency = null, Sling = 10e3 }, "sling; unknown: rope at the hitch's knot, friction device", point.Value / 10e3, point.Time);
    }

    [Fact]
    public void What_is_not_known_of_the_chain_is_said_and_a_spar_that_is_not_sound_has_no_strength()
    {
        Loaded(_strength with { Sling = 10e3 }, d => d with { Spar = d.Spar with { Condition = StemCondition.Decayed } })[Mi.WeakestLink].HowFound
            .Should().Be("sling; unknown: spar (condition decayed: its strength is withheld)");
        Loaded(_strength with { Sling = 10e3 }, d => d with { Spar = d.Spar with { BendingStrength = null } })[Mi.WeakestLink].HowFound.Should().Be("sling; unknown: spar");
    }

    [Fact]
    public void A_block_is_called_one_and_in_a_natural_union_there_is_neither_sling_nor_ring()
    {
        Loaded(_strength with { RingOrBlock = 5e3 }, d => d.WithRiggingPoint(r => r with { Kind = RiggingPointKind.Block }))[Mi.WeakestLink].HowFound.Should().Be("block");
        Loaded(_strength with { RingOrBlock = 5e3, Sling = 5e3 }, d => d.WithRiggingPoint(r => r with { Kind = RiggingPointKind.NaturalUnion }))[Mi.WeakestLink].HowFound.Should().StartWith("rope");
    }

    [Fact]
    public void Where_no_strength_is_known_every_link_is_named()
    {
        var nothing = Loaded(new(), d => d with { Spar = d.Spar with { BendingStrength = null } })[Mi.WeakestLink];
        nothing.State.Should().Be(MeasureState.Unknown);
        nothing.Value.Should().Be(double.NaN);
        nothing.HowFound.Should().Be("no strength is known; unknown: rope at the hitch's knot, rope over the rigging point, rope over the bollard, sling, ring, friction device, spar");
        nothing.Label.Should().Be("Load on the weakest known link, of breaking strength new and dry");
        Loaded(_strength)[Mi.WeakestLink].Label.Should().Be("Load on the weakest known link, of breaking strength; rope with its wet and age factors");
    }

    [Fact]
    public void A_peak_after_the_first_strike_says_so()
    {
        // Locked off close to the spar the log swings back and strikes it.
        var run = DropSimulator.Run(SampleDrops.MediumLog.HardStop());
        run.Strikes.Should().NotBeEmpty();
        var first = run.Strikes[0].Time;
        run.Strikes.Select(s => s.Time).Should().BeInAscendingOrder();
        string[] peaks = [Mi.RiggingPointForce, Mi.ClimberMovement, Mi.HandForce, Mi.LoadLegTension, Mi.GroundLegTension, Mi.ClimberSpeed, Mi.HingeForce, Mi.TipDeflection];
        peaks.Should().OnlyContain(id => run[id].HowFound.EndsWith("; after a strike, so it also depends on how hard piece and spar meet", StringComparison.Ordinal) == (run[id].Time > first));
        run[Mi.StrikeEnergy].Value.Should().Be(run.Strikes.Max(s => s.Energy));
        var strongest = run.Strikes.MaxBy(s => s.Energy)!;
        run[Mi.StrikeEnergy].Time.Should().Be(strongest.Time);
        run[Mi.StrikeEnergy].HowFound.Should().Be(strongest.Place);
        run.Events.Where(e => e.Kind == EventKind.Strike).Select(e => e.Energy).Should().Equal(run.Strikes.Select(s => (double?)s.Energy));
        foreach (var strike in run.Strikes)
        {
            strike.Place.Should().BeOneOf("back corner of the butt", "hinge side of the butt", "mouth of the face cut", "front corner of the tip", "back corner of the tip", "front edge of the spar's top against the piece", "front edge of the spar's top against the butt");
            strike.ClosingSpeed.Should().BePositive();

            // The force rises and falls once: its mean is at least a fifth of its peak over the milliseconds it lasts.
            strike.Impulse.Should().BePositive();
            strike.PeakForce.Should().BePositive();
        }

        string[] indicative = [Mi.ClimberAcceleration, Mi.ClimberMtvv, Mi.ClimberVdv, Mi.BaseMomentWithStrikes];
        indicative.Should().OnlyContain(id => run[id].State == MeasureState.Indicative);
        var count = run.Strikes.Count;
        var times = count == 1 ? "once" : count == 2 ? "twice" : $"{count} times";
        run.Warnings.Should().Contain($"The piece hits the spar {times}. Forces and accelerations in hits are rough.");
    }
}
