using DropSim.Integration;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.OdeSolvers;

namespace DropSim.Tests.Integration;

/// <summary>What a run promises beside its numbers.</summary>
public class DriverTests
{
    [Fact]
    public void The_last_step_ends_at_the_end_time_exactly_and_steps_join_without_gaps()
    {
        var bounds = new List<(double Start, double End)>();
        double[] y = [1, 0];
        Run(Pendulum(), 3.3, y, observer: new StepCallback(s => bounds.Add((s.StartTime, s.EndTime))));
        bounds[0].Start.Should().Be(0);
        bounds[^1].End.Should().Be(3.3);
        bounds.Zip(bounds.Skip(1), (a, b) => b.Start - a.End).Should().OnlyContain(gap => gap == 0);
    }

    [Fact]
    public void An_empty_interval_returns_the_initial_state()
    {
        double[] y = [1, 0];
        RunOutcome outcome = Run(Pendulum(), 0, y);
        outcome.Stop.Should().Be(StopKind.EndTime);
        outcome.Statistics.AcceptedSteps.Should().Be(0);
        y.Should().Equal(1, 0);
    }

    [Fact]
    public void Two_runs_of_one_integrator_and_a_run_of_another_give_the_same_bits()
    {
        var integrator = new Integrator(Pendulum(), new IntegrationOptions());
        double[][] ends = [[1, 0], [1, 0], [1, 0]];
        integrator.Run(0, 5, ends[0]);
        integrator.Run(0, 5, ends[1]);
        new Integrator(Pendulum(), new IntegrationOptions()).Run(0, 5, ends[2]);
        ends[1].Should().Equal(ends[0]);
        ends[2].Should().Equal(ends[0]);
    }

    [Fact]
    public void A_run_with_events_and_dense_output_allocates_nothing()
    {
        var integrator = new Integrator(new Bouncer(), new IntegrationOptions());
        var observer = new Midpoints(2);
        double[] y = [1, 0];
        integrator.Run(0, 3, y, observer);
        long before = GC.GetAllocatedBytesForCurrentThread();
        (y[0], y[1]) = (1, 0);
        RunOutcome outcome = integrator.Run(0, 3, y, observer);
        long after = GC.GetAllocatedBytesForCurrentThread();
        outcome.Statistics.Events.Should().BeGreaterThan(3);
        outcome.Statistics.DenseBuilds.Should().BeGreaterThan(50);
        (after - before).Should().Be(0);
    }

    [Fact]
    public void An_accepted_step_of_Verner_costs_ten_evaluations()
    {
        double[] y = [1, 0];
        RunStatistics s = Run(Pendulum(), 5, y).Statistics;

        // One at the start and one for the guess of the first step; then stages 2 to 10 and, where accepted, the end.
        s.Evaluations.Should().Be(2 + (10 * s.AcceptedSteps) + (9 * s.RejectedSteps));
        s.DenseBuilds.Should().Be(0);
    }

    [Fact]
    public void States_of_scale_zero_do_not_steer_the_step()
    {
        // A wild quadrature beside a slow decay: as many steps as without it.
        var alone = new SmoothSystem(1, (_, y, f) => f[0] = -y[0]);
        double[] one = [1];
        double[] two = [1, 0];
        int without = Run(alone, 5, one).Statistics.AcceptedSteps;
        int with = Run(new WithQuadrature(), 5, two).Statistics.AcceptedSteps;
        with.Should().Be(without);
    }

    [Fact]
    public void A_rate_that_stops_being_a_number_ends_the_run_with_its_component()
    {
        var system = new SmoothSystem(2, (_, y, f) => (f[0], f[1]) = (1, Math.Sqrt(1 - y[0])));
        double[] y = [0, 0];
        RunOutcome outcome = Run(system, 2, y);
        outcome.Stop.Should().Be(StopKind.NotFinite);
        outcome.Component.Should().Be(1);
        outcome.Time.Should().BeApproximately(1, 1e-6);
    }

    [Fact]
    public void A_state_that_is_not_a_number_at_the_start_is_told_at_once()
    {
        double[] y = [1, double.NaN];
        RunOutcome outcome = Run(Pendulum(), 2, y);
        outcome.Stop.Should().Be(StopKind.NotFinite);
        outcome.Component.Should().Be(1);
        outcome.Guard.Should().Be(-1);
        outcome.Time.Should().Be(0);
    }

    [Fact]
    public void A_bad_state_is_named_before_the_guards_that_it_spoils()
    {
        var system = new GuardedSystem(2, 2) { Rates = (t, y, f, g) => (f[0], f[1], g[0], g[1]) = (1, t > 0.5 ? double.NaN : 0, 1, 1 + f[1]) };
        double[] y = [0, 0];
        RunOutcome outcome = Run(system, 2, y);
        (outcome.Stop, outcome.Component, outcome.Guard).Should().Be((StopKind.NotFinite, 1, -1));

        // At the start: the state before the rates, and both before the guards.
        var coupled = new GuardedSystem(2, 2) { Rates = (_, y, f, g) => (f[0], f[1], g[0], g[1]) = (0, y[0], 1, y[0]) };
        outcome = Run(coupled, 2, [double.NaN, 0]);
        (outcome.Stop, outcome.Component, outcome.Guard, outcome.Time).Should().Be((StopKind.NotFinite, 0, -1, 0.0));
    }

    [Fact]
    public void A_run_that_starts_at_zero_finds_its_step_at_once()
    {
        // y' = cos t from y = 0: the size of the state says nothing. From any first step of sense to steps of 0.3 and more.
        double[] y = [0];
        RunStatistics statistics = new Integrator(
            new SmoothSystem(1, (t, _, f) => f[0] = Math.Cos(t)), new IntegrationOptions { LargestStep = 10 }).Run(0, 3, y).Statistics;
        y[0].Should().BeApproximately(Math.Sin(3), 1e-6);
        (statistics.AcceptedSteps + statistics.RejectedSteps).Should().BeLessThanOrEqualTo(15);
    }

    [Fact]
    public void A_guard_that_is_not_a_number_ends_the_run_with_its_slot()
    {
        var system = new GuardedSystem(1, 2) { Rates = (t, _, f, g) => (f[0], g[0], g[1]) = (1, 1, t > 0.5 ? double.NaN : 1) };
        double[] y = [0];
        RunOutcome outcome = Run(system, 2, y);
        outcome.Stop.Should().Be(StopKind.NotFinite);
        outcome.Component.Should().Be(-1);
        outcome.Guard.Should().Be(1);
        outcome.Time.Should().BeApproximately(0.5, 1e-9);
    }

    [Fact]
    public void A_solution_that_runs_off_to_infinity_ends_the_run()
    {
        // y' = y^2 from 1 is 1 / (1 - t).
        double[] y = [1];
        RunOutcome outcome = Run(new SmoothSystem(1, (_, y, f) => f[0] = y[0] * y[0]), 2, y);
        outcome.Stop.Should().BeOneOf(StopKind.NotFinite, StopKind.StepTooSmall);
        outcome.Time.Should().BeApproximately(1, 1e-6);
    }

    [Fact]
    public void A_spent_budget_and_a_cancellation_say_so()
    {
        double[] y = [1, 0];
        var options = new IntegrationOptions { StepBudget = 5 };
        new Integrator(Pendulum(), options).Run(0, 5, y).Stop.Should().Be(StopKind.StepBudgetSpent);

        using var source = new CancellationTokenSource();
        var integrator = new Integrator(Pendulum(), new IntegrationOptions());
        RunOutcome outcome = integrator.Run(0, 5, y, new StepCallback(s => Cancel(s, source)), source.Token);
        outcome.Stop.Should().Be(StopKind.Cancelled);
        outcome.Time.Should().BeInRange(1, 1.1);
    }

    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void A_stiff_problem_raises_the_suspicion_and_a_soft_one_does_not(string method)
    {
        Stiff(method, 2000).Should().BeGreaterThan(50);
        Stiff(method, 1).Should().Be(0);
    }

    [Fact]
    public void A_classical_fixed_step_method_of_another_library_agrees()
    {
        // MathNet.Numerics' classical Runge-Kutta method with 10,000 steps of 5e-4: its error, (5e-4)^4 = 6e-14 times a few hundred.
        Vector<double>[] fixedStep = RungeKutta.FourthOrder(
            Vector<double>.Build.DenseOfArray([1.0, 0.0]), 0, 5, 10_001, (_, v) => Vector<double>.Build.DenseOfArray([v[1], -9.81 * Math.Sin(v[0])]));
        double[] y = [1, 0];
        Run(Pendulum(), 5, y, 1e-11);
        y[0].Should().BeApproximately(fixedStep[^1][0], 1e-9);
        y[1].Should().BeApproximately(fixedStep[^1][1], 1e-9);
    }

    [Fact]
    public void Nonsense_is_refused()
    {
        double[] y = [1, 0];
        FluentActions.Invoking(() => new Integrator(Pendulum(), new IntegrationOptions { RelativeTolerance = 0 })).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => new Integrator(Pendulum(), new IntegrationOptions { LargestStep = -1 })).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => new Integrator(Pendulum(), new IntegrationOptions { StepBudget = 0 })).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => new Integrator(new SmoothSystem(0, (_, _, _) => { }), new IntegrationOptions())).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => new Integrator(new GuardedSystem(1, -1) { Rates = (_, _, _, _) => { } }, new IntegrationOptions())).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => Run(Pendulum(), -1, y)).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => Run(Pendulum(), 1, [1])).Should().Throw<ArgumentOutOfRangeException>();
    }

    private static void Cancel(DenseStep step, CancellationTokenSource source)
    {
        if (step.EndTime >= 1)
        {
            source.Cancel();
        }
    }

    private static int Stiff(string method, double rate)
    {
        double[] y = [0];
        var options = new IntegrationOptions { Method = Methods.Named(method), LargestStep = 0.05 };
        return new Integrator(new SmoothSystem(1, (t, y, f) => f[0] = -rate * (y[0] - Math.Cos(t))), options).Run(0, 2, y).Statistics.StiffnessSuspected;
    }

    private static SmoothSystem Pendulum() => new(2, (_, y, f) => (f[0], f[1]) = (y[1], -9.81 * Math.Sin(y[0])));

    private static RunOutcome Run(IHybridSystem system, double end, double[] y, double tolerance = 1e-6, IRunObserver? observer = null) =>
        new Integrator(system, new IntegrationOptions { RelativeTolerance = tolerance }).Run(0, end, y, observer);

    private sealed class Midpoints(int states) : IRunObserver
    {
        private readonly double[] _state = new double[states];

        public void OnBegin(double time, ReadOnlySpan<double> state)
        {
        }

        public void OnStep(DenseStep dense) => dense.Interpolate(0.5 * (dense.StartTime + dense.EndTime), _state);

        public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
        {
        }
    }

    private sealed class Bouncer : IHybridSystem
    {
        public int StateCount => 2;

        public int GuardCount => 1;

        public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards)
        {
            if (!rates.IsEmpty)
            {
                (rates[0], rates[1]) = (state[1], -9.81);
            }

            if (!guards.IsEmpty)
            {
                guards[0] = state[0];
            }
        }

        public void ErrorScales(Span<double> scales) => scales.Fill(1);

        public bool MayDip(int guard) => true;

        public EventResponse HandleEvent(double time, Span<double> state, int guard)
        {
            state[1] *= -0.8;
            return EventResponse.Continue;
        }

        public bool TryPhaseless(double time, Span<double> state) => false;
    }

    private sealed class WithQuadrature : IHybridSystem
    {
        public int StateCount => 2;

        public int GuardCount => 0;

        public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards) =>
            (rates[0], rates[1]) = (-state[0], Math.Sin(1e4 * time));

        public void ErrorScales(Span<double> scales) => (scales[0], scales[1]) = (1, 0);

        public bool MayDip(int guard) => false;

        public EventResponse HandleEvent(double time, Span<double> state, int guard) => EventResponse.Stop;

        public bool TryPhaseless(double time, Span<double> state) => false;
    }
}
