using DropSim.Model;
using Mi = DropSim.Model.MeasureIds;

namespace DropSim.Tests.Model;

/// <summary>What a run tells, and what its options change, each on the shortest drop that shows it.</summary>
public sealed class ToldTests
{
    private static readonly DropInput _log = SampleDrops.MediumLog;
    private static readonly RunOptions _measures = new() { Detail = RunDetail.MeasuresOnly };

    [Fact]
    public void A_rigid_spar_has_no_sway_to_tell_of_and_an_undamped_one_no_time_to_settle()
    {
        var rigid = Run(_log.WithSpar(s => s with { Rigid = true }), 0.1);
        (rigid[Mi.SettleTime].State, rigid[Mi.SwayFrequency].State).Should().Be((MeasureState.Unknown, MeasureState.Unknown));
        (rigid[Mi.SettleTime].Value, rigid[Mi.SwayFrequency].Value).Should().Be((double.NaN, double.NaN));

        var undamped = Run(_log.WithSpar(s => s with { DampingRatio = 0 }), 0.1);
        undamped[Mi.SettleTime].State.Should().Be(MeasureState.Unknown);
        undamped[Mi.SettleTime].Value.Should().Be(double.NaN);
        undamped[Mi.SwayFrequency].State.Should().Be(MeasureState.Exact);

        var both = Run(_log, 0.1);
        (both[Mi.SettleTime].State, both[Mi.SwayFrequency].State).Should().Be((MeasureState.Exact, MeasureState.Exact));
    }

    [Fact]
    public void What_was_not_asked_for_is_said_not_to_have_been_worked_out()
    {
        var run = DropSimulator.Run(Until(_log, 0.5), new() { Detail = RunDetail.MeasuresOnly, Only = [Mi.HingeForce] });
        run[Mi.HingeForce].Value.Should().BePositive();
        foreach (var measure in run.Measures.Where(m => m.Id != Mi.HingeForce))
        {
            (measure.State, measure.Time, measure.HowFound).Should().Be((MeasureState.Unknown, null, "not worked out in this run"), measure.Id);
            measure.Value.Should().Be(double.NaN);
        }
    }

    [Fact]
    public void A_run_that_is_cut_off_in_time_has_no_end_among_its_events_and_one_that_ends_by_itself_has()
    {
        Run(_log, 0.9).Events.Should().NotContain(e => e.Kind == EventKind.End).And.NotBeEmpty();
        var down = Run(_log with { Device = _log.Device with { Friction = 0 } }, 5);
        down.End.Kind.Should().Be(EndKind.Ground);
        down.Events[^1].Kind.Should().Be(EventKind.End);
    }

    [Fact]
    public void The_books_name_every_place_of_energy_once()
    {
        var run = Run(_log, 0.9);
        run.Ledger.Places.Select(p => (p.Column, p.Label)).Should().Equal(
            ("energy_potential_J", "height still to fall"), ("energy_kinetic_J", "motion of the piece"), ("energy_rope_J", "stretch of the rope"),
            ("energy_spar_J", "sway of the spar"), ("energy_contact_J", "piece pressing on the spar"), ("lost_rigging_point_J", "friction at the rigging point"),
            ("lost_device_J", "friction device and hand"), ("lost_hitch_J", "tightening of the hitch"), ("lost_rope_J", "heat in the rope"),
            ("lost_spar_J", "damping of the spar"), ("lost_contact_J", "strikes"), ("lost_drag_J", "air"), ("lost_hinge_J", "holding the hinge together"));

        // Together they are what fell and what there was at the start: the push that set it off.
        var push = run.Ledger.Places.Sum(p => p.Energy) - run.Ledger.Fallen;
        push.Should().BeInRange(-1e-4 * run.Ledger.Fallen, 0.01 * run.Ledger.Fallen);
    }

    [Fact]
    public void The_bollards_skin_warms_as_a_half_space_under_what_the_device_took_while_rope_ran()
    {
        var run = Run(_log with { Device = _log.Device with { BollardDiameter = 0.15 } }, 1.5);

        // From the events: rope ran from each "device runs" to the next "device holds", or to the end of the run.
        double running = 0;
        double? since = null;
        foreach (var e in run.Events.Where(e => e.Kind is EventKind.DeviceRuns or EventKind.DeviceHolds))
        {
            (running, since) = since is { } from ? (running + e.Time - from, (double?)null) : (running, e.Time);
        }

        running += since is { } open ? run.End.Time - open : 0;
        running.Should().BePositive();
        var flux = run.Ledger.Places.Single(p => p.Column == "lost_device_J").Energy / (2.5 * Math.PI * 0.15 * 0.014) / running;
        var rise = 2 * flux * Math.Sqrt(running / (Math.PI * 50 * 7850 * 490));
        run[Mi.DeviceHeat].Value.Should().BeApproximately(rise, 1e-6 * rise);
    }

    [Fact]
    public void Rest_is_looked_for_every_period_of_the_first_mode_unless_a_run_is_to_go_on()
    {
        static double First(DropInput drop)
        {
            var system = TestBench.System(drop);
            system.Begin(0, system.InitialState());
            return system.Phase.NextInstant;
        }

        var spar = new ModalSpar(_log.Spar, _log.Computation.Modes, _log.Computation.Elements, _log.Computation.Gravity);
        First(_log).Should().BeApproximately(2 * Math.PI / spar.AngularFrequencies[0], 1e-12);
        First(_log with { Computation = _log.Computation with { StopWhenSettled = false } }).Should().Be(double.PositiveInfinity);
        First(_log.WithSpar(s => s with { Rigid = true })).Should().Be(double.PositiveInfinity, "nothing sways");
    }

    [Theory]
    [InlineData(Cue.LoadLegTaut, EventKind.LoadLegTaut)]
    [InlineData(Cue.DeviceRuns, EventKind.DeviceRuns)]
    [InlineData(Cue.HingeBreaks, EventKind.HingeBreaks)]
    public void The_hand_reacts_its_reaction_time_after_its_cue(Cue cue, EventKind kind)
    {
        var run = Run(_log with { Catch = _log.Catch with { Cue = cue, ReactionTime = 0.15 } }, 1.6);
        var seen = run.Events.First(e => e.Kind == kind && e.Time >= -1e-9).Time;
        run.Events.First(e => e.Kind == EventKind.HandReacts).Time.Should().BeApproximately(seen + 0.15, 1e-9);
    }

    [Fact]
    public void The_acceleration_that_is_weighted_is_the_curves_on_its_own_even_grid()
    {
        // Before the hinge breaks times are from the start, and the table's grid begins there too.
        var run = DropSimulator.Run(Until(_log, 0.5));
        var table = run.Traces!.Sample(0.01);
        double[] time = [.. table["time_s"]];
        var values = ((DropTraces)run.Traces).ClimberAcceleration(0.01);
        values.Should().HaveCount(51);
        for (var k = 0; k < values.Length; k++)
        {
            var row = Array.FindIndex(time, t => Math.Abs(t - (k * 0.01)) < 1e-9);
            values[k].Should().BeApproximately(table["climber_acceleration_m_s2"][row], 1e-9);
        }

        run.Measures.Should().OnlyContain(m => m.Label.Length > 0);

        // No strike makes them indicative only.
        run.Strikes.Should().BeEmpty();
        string[] softer = [Mi.ClimberMtvv, Mi.ClimberVdv, Mi.ClimberAcceleration, Mi.BaseMomentWithStrikes];
        softer.Should().OnlyContain(id => run[id].State == MeasureState.AtLeast);
    }

    [Fact]
    public void A_design_factor_is_told_as_the_share_of_the_strength_that_it_leaves()
    {
        var strength = new StrengthInput { Sling = 10e3, DesignFactor = 5 };
        Run(_log with { Strength = strength }, 0.3)[Mi.WeakestLink].HowFound.Should().StartWith("sling; your design factor 5 corresponds to 20 %");
    }

    [Fact]
    public void A_tighter_tolerance_takes_more_steps_and_another_method_other_ones()
    {
        static long Steps(RunOptions options) => DropSimulator.Run(Until(_log, 0.9), options).Statistics.AcceptedSteps;
        var usual = Steps(_measures);
        Steps(_measures with { ToleranceFactor = 1e-4 }).Should().BeGreaterThan(2 * usual);
        Steps(_measures with { Method = DropSim.Integration.RungeKuttaMethod.DormandPrince54 }).Should().NotBe(usual);
        Until(_log, 0.9).Computation.RelativeTolerance.Should().BeGreaterThan(1e-11);
    }

    [Fact]
    public void Books_that_stay_open_make_a_run_be_repeated_with_smaller_steps()
    {
        // A thousand times the tolerance leaves the books open; a sketch is left so.
        var loose = _measures with { ToleranceFactor = 1e4 };
        var drop = Until(_log.HardStop(), 1.2);
        var left = DropSimulator.Run(drop, loose with { Detail = RunDetail.Sketch });
        left.Ledger.LargestImbalance.Should().BeGreaterThan(1e-4);
        left.Warnings.Should().Contain(FormattableString.Invariant(
            $"The energy books are open by {left.Ledger.LargestImbalance:0.0e0} of the energy that fell: do not use this run."));
        var repeated = DropSimulator.Run(drop, loose);
        repeated.Warnings.Should().NotContain(w => w.StartsWith("The energy books are open", StringComparison.Ordinal));
        repeated.Ledger.LargestImbalance.Should().BeLessThan(left.Ledger.LargestImbalance / 10);
        repeated.Statistics.AcceptedSteps.Should().BeGreaterThan(left.Statistics.AcceptedSteps);
    }

    private static DropInput Until(DropInput drop, double end) => drop with { Computation = drop.Computation with { EndTime = end } };

    private static DropRun Run(DropInput drop, double end) => DropSimulator.Run(Until(drop, end), _measures);
}
