using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>Events whose times are known in closed form.</summary>
public class EventTests
{
    private const double Gravity = 9.81;

    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void A_bouncing_ball_bounces_at_the_times_of_the_geometric_series(string method)
    {
        // h = 1 m, e = 0.8: t0 = sqrt(2 h / g) = 0.45152364 s, t_n = t0 (1 + 2 (e + ... + e^n)). Closed form, computed.
        GuardedSystem ball = Ball(0.8);
        double[] y = [1, 0];
        RunOutcome outcome = Run(ball, 3.0, y, method: method);
        outcome.Stop.Should().Be(StopKind.EndTime);
        outcome.Guard.Should().Be(-1, "no guard stopped the run");

        double t0 = Math.Sqrt(2 / Gravity);
        t0.Should().BeApproximately(0.45152364, 5e-9);
        double time = t0;
        for (int n = 0; n < 5; n++)
        {
            ball.Fired[n].Time.Should().BeApproximately(time, 1e-10);
            time += 2 * t0 * Math.Pow(0.8, n + 1);
        }
    }

    [Fact]
    public void Bounces_that_pile_up_end_the_run_at_their_limit_as_chatter_and_never_loop()
    {
        // Limit t0 (1 + e) / (1 - e) = 9 t0 = 4.06371277 s. Hops lower than 1e-13 of the largest height cannot be told from
        // rest: speed sqrt(2 g 1e-13) = 1.4e-6 m/s, hop 2 v / g = 2.9e-7 s, and all later hops together 5 x 2.9e-7 = 1.4e-6 s.
        double[] y = [1, 0];
        RunOutcome outcome = Run(Ball(0.8), 10, y);
        outcome.Stop.Should().Be(StopKind.Chatter);
        outcome.Guard.Should().Be(0);
        outcome.Time.Should().BeApproximately(9 * Math.Sqrt(2 / Gravity), 1.5e-6);
    }

    [Fact]
    public void A_phaseless_form_carries_the_run_past_bounces_that_pile_up()
    {
        bool resting = false;
        var ball = new GuardedSystem(2, 1)
        {
            Rates = (_, y, f, g) =>
            {
                f[0] = resting ? 0 : y[1];
                f[1] = resting ? 0 : -Gravity;
                g[0] = resting ? double.PositiveInfinity : y[0];
            },
            OnEvent = (_, y, _) =>
            {
                y[1] = -0.8 * y[1];
                return EventResponse.Continue;
            },
            Phaseless = () => resting = true,
        };
        double[] state = [1, 0];
        RunOutcome outcome = Run(ball, 10, state);
        outcome.Stop.Should().Be(StopKind.EndTime);
        outcome.Statistics.PhaselessSpells.Should().Be(1);
        state[0].Should().BeApproximately(0, 1e-9);
    }

    [Fact]
    public void Friction_stops_the_oscillator_after_five_half_cycles()
    {
        // m 1 kg, k 100 N/m, mu g = 0.981 m/s2, x0 0.1 m: half period pi / 10, turning points x -> -(x - 2 xf) with
        // xf = 0.981 / 100 = 0.00981 m: 0.1, 0.08038, 0.06076, 0.04114, 0.02152, 0.00190 < xf: it sticks. Closed form, computed.
        const double Friction = 0.981;
        int sliding = -1;
        var system = new GuardedSystem(2, 2)
        {
            Rates = (_, y, f, g) =>
            {
                f[0] = y[1];
                f[1] = sliding == 0 ? 0 : (-100 * y[0]) - (sliding * Friction);
                g[0] = sliding == 0 ? double.PositiveInfinity : sliding * y[1];
                g[1] = sliding == 0 ? Friction - Math.Abs(100 * y[0]) : double.PositiveInfinity;
            },
            OnEvent = (_, y, _) =>
            {
                y[1] = 0;
                sliding = Math.Abs(100 * y[0]) <= Friction ? 0 : -Math.Sign(y[0]);
                return EventResponse.Continue;
            },
        };
        double[] state = [0.1, 0];
        RunOutcome outcome = Run(system, 3, state, tolerance: 1e-9);
        outcome.Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().HaveCount(5);
        system.Fired[4].Time.Should().BeApproximately(5 * Math.PI / 10, 1e-8);
        state[0].Should().BeApproximately(-0.0019, 1e-8);
        state[1].Should().Be(0);
    }

    [Theory]
    [InlineData(Methods.Verner, 0.003)]
    [InlineData(Methods.DormandPrince, 0.003)]
    [InlineData(Methods.Verner, 0.05)]
    public void A_double_crossing_within_one_step_is_found(string method, double halfWidth)
    {
        // g = (t - 0.437)^2 - w^2 falls through zero at 0.437 - w and is back at 0.437 + w; one step covers 0 to 1.
        GuardedSystem system = OfTime(t => ((t - 0.437) * (t - 0.437)) - (halfWidth * halfWidth), dips: true, stop: true);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y, method: method, first: 1);
        outcome.Stop.Should().Be(StopKind.StoppedBySystem);
        outcome.Time.Should().BeApproximately(0.437 - halfWidth, 2e-12);
        outcome.Statistics.AcceptedSteps.Should().Be(1);
    }

    [Theory]
    [InlineData(Methods.Verner, 1e-6)]
    [InlineData(Methods.Verner, 1e-9)]
    [InlineData(Methods.DormandPrince, 1e-6)]
    [InlineData(Methods.DormandPrince, 1e-9)]
    public void Dips_of_an_oscillation_are_found_wherever_they_lie_in_the_step(string method, double tolerance)
    {
        // y = cos(t + phase); the guard y + 1 - d falls where cos = d - 1, at pi - acos(1 - d) - phase, and is back
        // 2 acos(1 - d) later: for d = 1e-4 that is 0.028 s, a small part of a step. Time error = state error / slope.
        int inside = 0;
        for (int i = 0; i < 400; i++)
        {
            double phase = i / 400.0;
            double depth = Math.Pow(10, -2 - (2 * (i * 0.618 % 1)));
            var system = new GuardedSystem(2, 1)
            {
                Dips = true,
                Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -y[0], y[0] + 1 - depth),
                OnEvent = (_, _, _) => EventResponse.Stop,
            };
            double width = 0;
            double[] y = [Math.Cos(phase), -Math.Sin(phase)];
            RunOutcome outcome = Run(system, 5, y, method, tolerance, observer: new StepCallback(s => width = s.FullWidth));
            double half = Math.Acos(1 - depth);
            outcome.Stop.Should().Be(StopKind.StoppedBySystem, "phase {0}, depth {1}", phase, depth);
            outcome.Time.Should().BeApproximately(Math.PI - half - phase, 1e-10 + (20 * tolerance / Math.Sin(half)));
            inside += width > 2 * half ? 1 : 0;
        }

        inside.Should().BeGreaterThan(100, "in many cases the whole dip must be narrower than the step");
    }

    [Fact]
    public void The_same_double_crossing_goes_unseen_where_the_guard_does_not_say_that_it_may_dip()
    {
        GuardedSystem system = OfTime(t => ((t - 0.437) * (t - 0.437)) - 0.0025, dips: false, stop: true);
        double[] y = [0];
        Run(system, 1, y, first: 1).Stop.Should().Be(StopKind.EndTime, "this is what MayDip is for");
    }

    [Fact]
    public void A_run_that_is_told_not_to_see_dips_misses_a_dip_and_finds_a_fall()
    {
        var options = new IntegrationOptions { SeesDips = false, InitialStep = 1, LargestStep = 1 };
        double[] y = [0];
        new Integrator(OfTime(t => ((t - 0.437) * (t - 0.437)) - 0.0025, dips: true, stop: true), options).Run(0, 1, y).Stop.Should().Be(StopKind.EndTime);

        RunOutcome fall = new Integrator(OfTime(t => 0.437 - t, dips: true, stop: true), options).Run(0, 1, y);

        fall.Stop.Should().Be(StopKind.StoppedBySystem);
        fall.Time.Should().BeApproximately(0.437, 2e-12);
    }

    [Fact]
    public void A_touch_without_a_crossing_does_not_fire()
    {
        GuardedSystem system = OfTime(t => (t - 0.437) * (t - 0.437), dips: true);
        double[] y = [0];
        Run(system, 1, y, first: 1).Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().BeEmpty();
    }

    [Fact]
    public void Guards_that_fall_together_are_handled_one_after_another_at_one_time()
    {
        bool[] done = new bool[3];
        var system = new GuardedSystem(1, 3)
        {
            Rates = (t, _, f, g) =>
            {
                f[0] = 1;
                g[0] = done[0] ? double.PositiveInfinity : 1 - t;
                g[1] = done[1] ? double.PositiveInfinity : 0.7 - t;
                g[2] = done[2] ? double.PositiveInfinity : 3 * (0.7 - t);
            },
            OnEvent = (_, _, guard) =>
            {
                done[guard] = true;
                return EventResponse.Continue;
            },
        };
        double[] y = [0];
        Run(system, 2, y, first: 2).Stop.Should().Be(StopKind.EndTime);
        system.Fired.Select(f => f.Guard).Should().Equal(1, 2, 0);
        system.Fired[0].Time.Should().BeApproximately(0.7, 2e-12);
        system.Fired[1].Time.Should().Be(system.Fired[0].Time);
        system.Fired[2].Time.Should().BeApproximately(1, 2e-12);
    }

    [Fact]
    public void The_earliest_of_several_falls_in_one_step_comes_first_whatever_its_slot()
    {
        bool[] done = new bool[3];
        double[] at = [0.9, 0.2, 0.5];
        var system = new GuardedSystem(1, 3)
        {
            Rates = (t, _, f, g) =>
            {
                f[0] = 1;
                for (int j = 0; j < 3; j++)
                {
                    g[j] = done[j] ? double.PositiveInfinity : at[j] - t;
                }
            },
            OnEvent = (_, _, guard) =>
            {
                done[guard] = true;
                return EventResponse.Continue;
            },
        };
        double[] y = [0];
        Run(system, 1, y, first: 1);
        system.Fired.Select(f => f.Guard).Should().Equal(1, 2, 0);
    }

    [Fact]
    public void A_root_exactly_at_a_steps_end_fires_once()
    {
        // Steps of 1/8 are exact in binary: the guard is exactly 0 at t = 0.5, the end of a step.
        int ends = 0;
        GuardedSystem system = OfTime(t => 0.5 - t, after: t => double.PositiveInfinity);
        var watch = new StepCallback(step => ends += step.EndTime == 0.5 ? 1 : 0);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y, first: 0.125, largest: 0.125, observer: watch);
        ends.Should().Be(1, "the case must be the one meant");
        outcome.Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().HaveCount(1);
        system.Fired[0].Time.Should().BeApproximately(0.5, 1e-11);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(-1e-15)]
    public void A_guard_that_starts_at_zero_and_rises_does_not_fire(double start)
    {
        GuardedSystem system = OfTime(t => start + t);
        double[] y = [0];
        Run(system, 1, y).Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().BeEmpty();
    }

    /// <summary>Back at zero within 1e-10 s it was only rounded below it; later it was below it.</summary>
    [Theory]
    [InlineData(-1e-11, 1.0, false)]
    [InlineData(-1e-9, 1.0, true)]
    [InlineData(-1e-9, 100.0, false)]
    [InlineData(-1e-11, 0.01, true)]
    public void A_guard_just_below_zero_at_the_start_fires_unless_it_is_back_at_once(double start, double rate, bool fires)
    {
        GuardedSystem system = OfTime(t => start + (rate * t), after: _ => double.PositiveInfinity);
        double[] y = [0];
        Run(system, 1, y).Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().HaveCount(fires ? 1 : 0);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(-1e-15)]
    [InlineData(1e-15)]
    public void A_guard_that_starts_at_zero_and_falls_fires_at_the_start(double start)
    {
        GuardedSystem system = OfTime(t => start - t, after: _ => double.PositiveInfinity);
        double[] y = [0];
        Run(system, 1, y).Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().ContainSingle().Which.Time.Should().BeApproximately(0, 1e-11);
    }

    [Fact]
    public void A_guard_that_starts_at_zero_rises_and_falls_within_the_first_step_fires_where_it_falls()
    {
        GuardedSystem system = OfTime(t => t * (0.3 - t), after: _ => double.PositiveInfinity);
        double[] y = [0];
        Run(system, 1, y, first: 1);
        system.Fired.Should().ContainSingle().Which.Time.Should().BeApproximately(0.3, 1e-11);
    }

    [Fact]
    public void A_guard_clearly_below_zero_at_the_start_fires_at_once()
    {
        GuardedSystem system = OfTime(t => t - 1e-3, after: _ => double.PositiveInfinity);
        double[] y = [0];
        Run(system, 1, y);
        system.Fired.Should().ContainSingle().Which.Time.Should().Be(0);
    }

    [Fact]
    public void A_guard_not_changed_by_its_event_and_rising_afterwards_fires_only_once()
    {
        // A ball on a floor at 1000 m: the guard left by the bounce is a rounded zero, 1e-13 m of either sign.
        var system = new GuardedSystem(2, 1)
        {
            Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -Gravity, y[0] - 1000),
            OnEvent = (_, y, _) =>
            {
                y[1] = -y[1];
                return EventResponse.Continue;
            },
        };
        double[] y = [1001, 0];
        Run(system, 4, y);
        system.Fired.Should().HaveCount(4, "t0, 3 t0, 5 t0 and 7 t0 = 3.16 s");
    }

    [Fact]
    public void Two_phases_that_hand_over_to_each_other_without_end_stop_as_chatter()
    {
        int side = 1;
        var system = new GuardedSystem(1, 1)
        {
            Rates = (_, y, f, g) => (f[0], g[0]) = (-side, side * y[0]),
            OnEvent = (_, _, _) =>
            {
                side = -side;
                return EventResponse.Continue;
            },
        };
        double[] y = [0.5];
        RunOutcome outcome = Run(system, 2, y);
        outcome.Stop.Should().Be(StopKind.Chatter);
        outcome.Time.Should().BeApproximately(0.5, 1e-9);
        outcome.Statistics.Events.Should().BeLessThan(100);
    }

    [Fact]
    public void A_phaseless_form_that_ends_at_once_again_and_again_still_stops()
    {
        int side = 1;
        var system = new GuardedSystem(1, 1)
        {
            Rates = (_, y, f, g) => (f[0], g[0]) = (-side, side * y[0]),
            OnEvent = (_, _, _) =>
            {
                side = -side;
                return EventResponse.Continue;
            },
            Phaseless = () => true,
        };
        double[] y = [0.5];
        Run(system, 2, y).Stop.Should().Be(StopKind.Chatter);
    }

    private static GuardedSystem Ball(double restitution) => new(2, 1)
    {
        Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -Gravity, y[0]),
        OnEvent = (_, y, _) =>
        {
            y[1] = -restitution * y[1];
            return EventResponse.Continue;
        },
    };

    // y' = 1 with one guard that is a function of time, another one after its first event.
    private static GuardedSystem OfTime(Func<double, double> guard, bool dips = false, bool stop = false, Func<double, double>? after = null)
    {
        bool fired = false;
        return new GuardedSystem(1, 1)
        {
            Dips = dips,
            Rates = (t, _, f, g) => (f[0], g[0]) = (1, fired && after is not null ? after(t) : guard(t)),
            OnEvent = (_, _, _) =>
            {
                fired = true;
                return stop ? EventResponse.Stop : EventResponse.Continue;
            },
        };
    }

    private static RunOutcome Run(
        GuardedSystem system,
        double end,
        double[] y,
        string method = Methods.Verner,
        double tolerance = 1e-8,
        double first = 0,
        double largest = 10,
        IRunObserver? observer = null)
    {
        var options = new IntegrationOptions
        {
            RelativeTolerance = tolerance,
            InitialStep = first,
            LargestStep = largest,
            StepBudget = 20_000,
            Method = Methods.Named(method),
        };
        return new Integrator(system, options).Run(0, end, y, observer);
    }
}

/// <summary>Calls back at every step.</summary>
internal sealed class StepCallback(Action<DenseStep> callback) : IRunObserver
{
    public void OnBegin(double time, ReadOnlySpan<double> state)
    {
    }

    public void OnStep(DenseStep dense) => callback(dense);

    public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
    {
    }
}
