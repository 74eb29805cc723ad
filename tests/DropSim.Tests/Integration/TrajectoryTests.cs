using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>The kept run against closed forms: a ball of 1 m height that bounces with e = 0.8.</summary>
public class TrajectoryTests
{
    private const double Gravity = 9.81;
    private static readonly double _firstBounce = Math.Sqrt(2 / Gravity);

    [Fact]
    public void Before_the_first_bounce_it_gives_the_parabola_of_free_fall()
    {
        Trajectory kept = Keep(2);
        double[] y = new double[2];
        for (double t = 0; t < _firstBounce; t += 0.0137)
        {
            kept.At(t, y);
            y[0].Should().BeApproximately(1 - (0.5 * Gravity * t * t), 1e-13);
            y[1].Should().BeApproximately(-Gravity * t, 1e-13);
        }
    }

    [Fact]
    public void At_an_event_it_keeps_the_state_before_and_after()
    {
        Trajectory kept = Keep(2);
        double[] y = new double[2];
        double impact = Gravity * _firstBounce;
        double bounce = kept.Events[0].Time;
        bounce.Should().BeApproximately(_firstBounce, 1e-11);
        kept.AtLeft(bounce, y);
        y[1].Should().BeApproximately(-impact, 1e-10);
        kept.At(bounce, y);
        y[1].Should().BeApproximately(0.8 * impact, 1e-10);
        kept.LeftOf(0, y);
        y[1].Should().BeApproximately(-impact, 1e-10);
        kept.RightOf(0, y);
        y[1].Should().BeApproximately(0.8 * impact, 1e-10);
    }

    [Fact]
    public void An_event_that_ends_the_run_keeps_both_sides_too()
    {
        Trajectory kept = Keep(2, stopAtFirst: true);
        double[] y = new double[2];
        kept.EndTime.Should().Be(kept.Events[0].Time);
        kept.At(kept.EndTime, y);
        y[1].Should().BePositive();
        kept.AtLeft(kept.EndTime, y);
        y[1].Should().BeNegative();
    }

    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void Steps_join_without_jumps_where_there_is_no_event(string method)
    {
        var kept = new Trajectory();
        var system = new SmoothSystem(2, (_, y, f) => (f[0], f[1]) = (y[1], -9.81 * Math.Sin(y[0])));
        double[] end = [1, 0];
        new Integrator(system, new IntegrationOptions { Method = Methods.Named(method) }).Run(0, 4, end, kept);
        double[] before = new double[2];
        double[] after = new double[2];
        for (int i = 1; i < kept.StepCount; i++)
        {
            double join = kept.StepStart(i);
            kept.At(Math.BitDecrement(join), before);
            kept.At(join, after);

            // Rates reach 9 and the interpolant's weights 1200: 0.05 x 9 x 1200 x 1e-16 = 5e-14 for each of 14 stages.
            before[0].Should().BeApproximately(after[0], 7e-13);
            before[1].Should().BeApproximately(after[1], 7e-13);
        }

        kept.At(kept.EndTime, after);
        after.Should().Equal(end);
    }

    [Fact]
    public void Several_events_at_one_time_keep_the_first_left_and_the_last_right_side()
    {
        bool[] done = new bool[2];
        var system = new GuardedSystem(1, 2)
        {
            Rates = (t, _, f, g) => (f[0], g[0], g[1]) = (1, done[0] ? 1 : 0.5 - t, done[1] ? 1 : 0.5 - t),
            OnEvent = (_, y, guard) =>
            {
                done[guard] = true;
                y[0] += 10;
                return EventResponse.Continue;
            },
        };
        var kept = new Trajectory();
        double[] y = [0];
        new Integrator(system, new IntegrationOptions()).Run(0, 1, y, kept);
        kept.Events.Should().HaveCount(2);
        kept.AtLeft(kept.Events[0].Time, y);
        y[0].Should().BeApproximately(0.5, 1e-11);
        kept.At(kept.Events[0].Time, y);
        y[0].Should().BeApproximately(20.5, 1e-11);
        kept.LeftOf(1, y);
        y[0].Should().BeApproximately(10.5, 1e-11);
    }

    [Fact]
    public void Between_events_the_left_side_is_the_state_itself_and_at_the_start_the_initial_one()
    {
        Trajectory kept = Keep(2);
        double[] left = new double[2];
        double[] right = new double[2];
        foreach (double time in new[] { 0.2, kept.Events[0].Time + 0.01, 2 })
        {
            kept.AtLeft(time, left);
            kept.At(time, right);
            left.Should().Equal(right);
        }

        kept.AtLeft(0, left);
        left.Should().Equal(1, 0);
        FluentActions.Invoking(() => kept.LeftOf(kept.Events.Count, left)).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => kept.RightOf(-1, left)).Should().Throw<ArgumentOutOfRangeException>();
    }

    [Fact]
    public void A_new_run_begins_it_afresh()
    {
        var system = new SmoothSystem(2, (_, y, f) => (f[0], f[1]) = (y[1], -y[0]));
        Trajectory used = Keep(2);
        var fresh = new Trajectory();
        used.Events.Should().NotBeEmpty();
        Run(new SmoothSystem(1, (_, y, f) => f[0] = -y[0]), [1], 0.01, used);
        used.Events.Should().BeEmpty();
        Run(system, [1, 0], 0.05, used);
        Run(system, [1, 0], 0.05, fresh);
        (used.StepCount, used.StateCount, used.StartTime, used.EndTime).Should().Be((fresh.StepCount, 2, 0.0, 3.0));
        double[] a = new double[2];
        double[] b = new double[2];
        for (double t = 0; t <= 3; t += 0.0731)
        {
            used.At(t, a);
            fresh.At(t, b);
            a.Should().Equal(b);
            a[0].Should().BeApproximately(Math.Cos(t), 1e-5);
        }

        static void Run(SmoothSystem system, double[] y, double largest, Trajectory kept) =>
            new Integrator(system, new IntegrationOptions { LargestStep = largest }).Run(0, 3, y, kept);
    }

    [Fact]
    public void A_steps_polynomial_is_not_written_beyond_its_room()
    {
        double[] y = [1, 0];
        int asked = 0;
        var system = new SmoothSystem(2, (_, y, f) => (f[0], f[1]) = (y[1], -y[0]));
        new Integrator(system, new IntegrationOptions()).Run(0, 0.1, y, new StepCallback(step =>
        {
            int size = 2 * (step.Degree + 1);
            FluentActions.Invoking(() => step.CopyPolynomial(new double[size - 1])).Should().Throw<ArgumentOutOfRangeException>();
            double[] room = new double[size + 1];
            room[^1] = 7;
            step.CopyPolynomial(room);
            room[^1].Should().Be(7);
            room[..2].Should().Equal(step.StartState.ToArray());
            asked++;
        }));
        asked.Should().BePositive();
    }

    [Fact]
    public void A_time_outside_the_run_is_refused()
    {
        Trajectory kept = Keep(1);
        double[] y = new double[2];
        FluentActions.Invoking(() => kept.At(1.001, y)).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => kept.At(double.NaN, y)).Should().Throw<ArgumentOutOfRangeException>();
    }

    private static Trajectory Keep(double end, bool stopAtFirst = false)
    {
        var ball = new GuardedSystem(2, 1)
        {
            Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -Gravity, y[0]),
            OnEvent = (_, y, _) =>
            {
                y[1] = -0.8 * y[1];
                return stopAtFirst ? EventResponse.Stop : EventResponse.Continue;
            },
        };
        var kept = new Trajectory();
        double[] y = [1, 0];
        new Integrator(ball, new IntegrationOptions()).Run(0, end, y, kept);
        return kept;
    }
}
