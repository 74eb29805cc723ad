using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>The search for the first fall within one step, on guards whose falls are known: y' = 1, and guards that are functions of time.</summary>
public sealed class EventSearchTests
{
    [Fact]
    public void A_guard_that_may_dip_and_stays_clear_of_zero_costs_no_interpolant()
    {
        // 1.3 + cos t comes down to 0.3 again and again.
        var system = new GuardedSystem(2, 1)
        {
            Dips = true,
            Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -y[0], 1.3 + y[0]),
        };
        double[] y = [1, 0];
        RunStatistics statistics = Run(system, 50, y).Statistics;
        statistics.DenseBuilds.Should().Be(0);
        statistics.Events.Should().Be(0);
    }

    /// <summary>
    /// Dips of several shapes, as wide as 0.02 to 0.3 of the step (those that are no parabola 0.1 at least: a step that passes the error
    /// test resolves the motion), anywhere in it. The fall is at the centre less half the width.
    /// </summary>
    [Theory]
    [InlineData("parabola", 0.01)]
    [InlineData("flat", 0.05)]
    [InlineData("lopsided", 0.08)]
    public void A_dip_of_any_shape_is_found_where_it_falls(string shape, double narrowest)
    {
        for (int i = 0; i < 300; i++)
        {
            double centre = 0.05 + (0.9 * (i * 0.6180339887 % 1));
            double half = narrowest * Math.Pow(0.15 / narrowest, i * 0.7548776662 % 1);
            if (centre - half < 0.002 || centre + half > 0.998)
            {
                continue;
            }

            double unit = Math.Pow(10, (i % 7) - 3);
            GuardedSystem system = Of([t => unit * Dip(shape, (t - centre) / half)], dips: true, stop: true);
            double[] y = [0];
            RunOutcome outcome = Run(system, 1, y, first: 1);
            outcome.Stop.Should().Be(StopKind.StoppedBySystem, "{0} at {1}, half width {2}", shape, centre, half);
            outcome.Time.Should().BeApproximately(centre - half, 3e-12, "{0} at {1}, half width {2}", shape, centre, half);
        }
    }

    [Theory]
    [InlineData("parabola")]
    [InlineData("flat")]
    [InlineData("lopsided")]
    [InlineData("cusp")]
    public void A_low_spot_that_stays_above_zero_is_not_taken_for_a_fall_and_is_left_soon(string shape)
    {
        for (int i = 0; i < 100; i++)
        {
            double centre = 0.05 + (0.9 * (i * 0.6180339887 % 1));
            GuardedSystem system = Of([t => 0.05 + Dip(shape, (t - centre) / 0.1) - Dip(shape, 0)], dips: true, stop: true);
            double[] y = [0];
            RunOutcome outcome = Run(system, 1, y, first: 1);
            outcome.Stop.Should().Be(StopKind.EndTime, "{0} at {1}", shape, centre);

            // At the start, 10 for the step, 5 for the interpolant, 9 samples; and the descents into the low spot, 12 looks each at most, for
            // the two or three triples of samples that hold it.
            outcome.Statistics.Evaluations.Should().BeLessThanOrEqualTo(1 + 10 + 5 + 9 + 36);
        }
    }

    [Fact]
    public void Of_two_dips_between_the_same_samples_the_earlier_fires_first_whatever_its_slot()
    {
        foreach (bool swapped in new[] { false, true })
        {
            // Samples are taken at 0.25, 0.375 and 0.5: both low spots show between the same three.
            double[] centres = swapped ? [0.39, 0.43] : [0.43, 0.39];
            GuardedSystem system = Of([.. centres.Select<double, Func<double, double>>(c => t => ((t - c) * (t - c)) - 1e-4)], dips: true);
            double[] y = [0];
            Run(system, 1, y, first: 1).Stop.Should().Be(StopKind.EndTime);
            system.Fired.Select(f => f.Guard).Should().Equal(swapped ? [0, 1] : [1, 0]);
            system.Fired[0].Time.Should().BeApproximately(0.38, 2e-12);
            system.Fired[1].Time.Should().BeApproximately(0.42, 2e-12);
        }
    }

    /// <summary>Between the step's end and the sample next to it there is no neighbour to see a low spot by: the parabola shows it.</summary>
    [Theory]
    [InlineData(0.012, 0.004)]
    [InlineData(0.988, 0.004)]
    [InlineData(0.02, 0.0005)]
    [InlineData(0.98, 0.0005)]
    public void A_dip_right_at_the_edge_of_a_step_is_found(double centre, double half)
    {
        GuardedSystem system = Of([t => ((t - centre) * (t - centre)) - (half * half)], dips: true, stop: true);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y, first: 1);
        outcome.Stop.Should().Be(StopKind.StoppedBySystem);
        outcome.Time.Should().BeApproximately(centre - half, 2e-12);
    }

    [Fact]
    public void A_plain_fall_costs_no_samples()
    {
        GuardedSystem system = Of([t => 0.9 - t, t => 2 - t], stop: true);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y, first: 1);
        outcome.Time.Should().BeApproximately(0.9, 2e-12);

        // At the start, 10 for the step, 5 for the interpolant, 1 where the step is cut; and the looks of the bracket: a straight line needs a
        // halving, a hit and one beside it or two. The nine samples of a walk would be more.
        outcome.Statistics.Evaluations.Should().BeLessThanOrEqualTo(1 + 10 + 5 + 1 + 4);
    }

    [Fact]
    public void A_dip_before_another_guards_plain_fall_fires_first()
    {
        GuardedSystem system = Of([t => 0.44 - t, t => ((t - 0.42) * (t - 0.42)) - 1e-4], dips: true);
        double[] y = [0];
        Run(system, 1, y, first: 1);
        system.Fired.Select(f => f.Guard).Should().Equal(1, 0);
        system.Fired[0].Time.Should().BeApproximately(0.41, 2e-12);
        system.Fired[1].Time.Should().BeApproximately(0.44, 2e-12);
    }

    /// <summary>A guard that starts at zero, rises by less than a part in thirty of the step, and falls: before the first sample.</summary>
    [Theory]
    [InlineData(0.02, 1)]
    [InlineData(0.004, 1)]
    [InlineData(1e-5, 1)]
    [InlineData(1e-8, 1e6)]
    public void A_guard_that_leaves_zero_upward_fires_where_it_comes_back_however_soon(double back, double unit)
    {
        GuardedSystem system = Of([t => unit * t * (back - t)]);
        double[] y = [0];
        Run(system, 1, y, first: 1);
        system.Fired.Should().ContainSingle().Which.Time.Should().BeApproximately(back, 2e-12);
    }

    [Fact]
    public void At_large_times_an_event_is_found_to_the_digits_that_the_time_has()
    {
        // Near 1e5 s times are 1.5e-11 apart, more than the 1e-12 s asked for.
        GuardedSystem system = Of([t => 100_000.375 - t], stop: true);
        double[] y = [0];
        RunOutcome outcome = Run(system, 100_001, y, start: 100_000, first: 1);
        outcome.Stop.Should().Be(StopKind.StoppedBySystem);
        outcome.Time.Should().BeApproximately(100_000.375, 6e-11);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_guard_that_the_search_finds_to_be_no_number_rejects_the_step(int slot)
    {
        // No number exactly at the middle of the first step, where a search looks and no stage does; the other guard dips, so that there is
        // a search. A later step may come to look there again.
        Func<double, double>[] guards = [t => ((t - 0.8) * (t - 0.8)) - 1e-4, t => t == 0.5 ? double.NaN : 1];
        GuardedSystem system = Of(slot == 1 ? guards : [guards[1], guards[0]], dips: true);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y, first: 1);
        outcome.Statistics.RejectedSteps.Should().BeInRange(1, 3);
        outcome.Stop.Should().Be(StopKind.EndTime);
        system.Fired.Should().ContainSingle().Which.Time.Should().BeApproximately(0.79, 2e-12);
    }

    [Fact]
    public void A_guard_that_is_minus_infinity_ends_the_run_with_its_slot()
    {
        GuardedSystem system = Of([_ => 1, t => t > 0.5 ? double.NegativeInfinity : 1]);
        double[] y = [0];
        RunOutcome outcome = Run(system, 1, y);
        (outcome.Stop, outcome.Guard, outcome.Component).Should().Be((StopKind.NotFinite, 1, -1));
        outcome.Time.Should().BeApproximately(0.5, 1e-9);

        outcome = Run(Of([_ => 1, _ => double.NegativeInfinity]), 1, y);
        (outcome.Stop, outcome.Guard, outcome.Time).Should().Be((StopKind.NotFinite, 1, 0.0));
    }

    [Fact]
    public void What_one_run_has_seen_does_not_change_the_next()
    {
        // Thrown from 1e9 m a ball's height is known to 1e-4 m; from 1 m to 1e-13 m.
        static GuardedSystem Ball() => new(2, 1)
        {
            Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -9.81, y[0]),
            OnEvent = (_, y, _) =>
            {
                y[1] = -0.5 * y[1];
                return EventResponse.Continue;
            },
        };
        GuardedSystem used = Ball();
        GuardedSystem fresh = Ball();
        var integrator = new Integrator(used, new IntegrationOptions());
        integrator.Run(0, 0.1, (double[])[1e9, 0]);
        used.Fired.Should().BeEmpty();
        RunOutcome second = integrator.Run(0, 5, (double[])[1, 0]);
        RunOutcome only = new Integrator(fresh, new IntegrationOptions()).Run(0, 5, (double[])[1, 0]);
        second.Should().Be(only);
        used.Fired.Should().Equal(fresh.Fired);
    }

    // 1 deep at most, zero at -1 and 1, falling through -1 first.
    private static double Dip(string shape, double x) => shape switch
    {
        "parabola" => (x * x) - 1,
        "cusp" => Math.Abs(x) - 1,
        "flat" => (x * x * x * x) - 1,
        "lopsided" => x < 0 ? (x * x) - 1 : x - 1,
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    // Guards that are functions of time; each is unused once it has fired.
    private static GuardedSystem Of(Func<double, double>[] guards, bool dips = false, bool stop = false)
    {
        bool[] done = new bool[guards.Length];
        return new GuardedSystem(1, guards.Length)
        {
            Dips = dips,
            Rates = (t, _, f, g) =>
            {
                f[0] = 1;
                for (int j = 0; j < guards.Length; j++)
                {
                    g[j] = done[j] ? double.PositiveInfinity : guards[j](t);
                }
            },
            OnEvent = (_, _, guard) =>
            {
                done[guard] = true;
                return stop ? EventResponse.Stop : EventResponse.Continue;
            },
        };
    }

    private static RunOutcome Run(GuardedSystem system, double end, double[] y, double start = 0, double first = 0)
    {
        var options = new IntegrationOptions { RelativeTolerance = 1e-8, InitialStep = first, LargestStep = 10, StepBudget = 20_000 };
        return new Integrator(system, options).Run(start, end, y);
    }
}
