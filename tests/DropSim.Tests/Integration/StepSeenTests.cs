using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>What an observer is shown of a step, and what is counted.</summary>
public sealed class StepSeenTests
{
    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void The_rates_at_the_end_are_those_of_the_state_there_and_nothing_is_told_outside_the_step(string method)
    {
        var seen = new Watcher();
        double[] y = [1, 0];
        new Integrator(Swing(), new IntegrationOptions { Method = Methods.Named(method), LargestStep = 0.3 }).Run(0, 3, y, seen);

        seen.Steps.Should().BeGreaterThan(9);
        seen.Refused.Should().Be(2 * seen.Steps, "before its start and after its end a step knows nothing");
    }

    [Fact]
    public void Every_event_is_counted_once()
    {
        var system = Swing();
        double[] y = [1, 0];
        var outcome = new Integrator(system, new IntegrationOptions { LargestStep = 0.3 }).Run(0, 10, y);

        // cos t passes zero at pi/2, 3 pi/2, 5 pi/2; the guard turns with it.
        system.Fired.Select(f => f.Time).Should().HaveCount(3).And.BeInAscendingOrder();
        system.Fired[0].Time.Should().BeApproximately(Math.PI / 2, 1e-5);
        outcome.Statistics.Events.Should().Be(3);
    }

    /// <summary>x'' = -x with a guard that follows x, on whichever side it is.</summary>
    private static GuardedSystem Swing()
    {
        var side = 1;
        return new GuardedSystem(2, 1)
        {
            Rates = (_, y, f, g) => (f[0], f[1], g[0]) = (y[1], -y[0], side * y[0]),
            OnEvent = (_, _, _) =>
            {
                side = -side;
                return EventResponse.Continue;
            },
        };
    }

    private sealed class Watcher : IRunObserver
    {
        private readonly double[] _state = new double[2];

        public int Steps { get; private set; }

        public int Refused { get; private set; }

        public void OnBegin(double time, ReadOnlySpan<double> state)
        {
        }

        public void OnStep(DenseStep dense)
        {
            Steps++;
            dense.EndRates[0].Should().BeApproximately(dense.EndState[1], 1e-12);
            dense.EndRates[1].Should().BeApproximately(-dense.EndState[0], 1e-12);
            foreach (var time in new[] { dense.StartTime - 1e-6, dense.EndTime + 1e-6 })
            {
                try
                {
                    dense.Interpolate(time, _state);
                }
                catch (ArgumentOutOfRangeException)
                {
                    Refused++;
                }
            }
        }

        public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
        {
        }
    }
}
