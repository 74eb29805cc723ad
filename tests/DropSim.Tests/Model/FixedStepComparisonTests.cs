using DropSim.Integration;
using DropSim.Model;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.OdeSolvers;

namespace DropSim.Tests.Model;

/// <summary>
/// The same right-hand side integrated by somebody else's method: MathNet.Numerics' RungeKutta.FourthOrder with small fixed
/// steps, within one phase, since it knows no events.
/// </summary>
public sealed class FixedStepComparisonTests
{
    [Theory]
    [InlineData(0.00, 0.030, "on the hinge")]
    [InlineData(1.00, 0.050, "in free flight")]
    [InlineData(1.43, 0.020, "while the rope slips over the ring in the catch")]
    public void A_phase_of_the_drop_ends_where_a_fixed_step_method_ends(double from, double window, string where)
    {
        var input = SampleDrops.MediumLog.HardStop();
        var spar = new ModalSpar(input.Spar, input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity);
        var system = new DropSystem(input, spar);
        var start = system.InitialState();
        system.Begin(0, start);
        if (from > 0)
        {
            new Integrator(system, new IntegrationOptions { RelativeTolerance = 1e-10 }).Run(0, from, start);
        }

        var phase = PhaseNames.Detail(system.Phase);
        var ours = (double[])start.Clone();
        var outcome = new Integrator(system, new IntegrationOptions { RelativeTolerance = 1e-11 }).Run(from, from + window, ours);

        // 10 us steps: RK4's error per second falls with the fourth power; halving them changes nothing at this tolerance.
        const double Step = 1e-5;
        var guards = new double[system.GuardCount];
        var path = RungeKutta.FourthOrder(Vector<double>.Build.DenseOfArray(start), from, from + window, (int)Math.Round(window / Step) + 1, (t, y) =>
        {
            var rates = new double[system.StateCount];
            system.Evaluate(t, y.AsArray(), rates, guards);
            return Vector<double>.Build.Dense(rates);
        });

        outcome.Statistics.Events.Should().Be(0, $"the comparison is made {where}, within one phase ({phase})");
        var theirs = path[^1].AsArray();
        var moved = Enumerable.Range(0, StateLayout.LostRiggingPoint).Max(i => Math.Abs(theirs[i] - start[i]));
        moved.Should().BeGreaterThan(1e-4, "something must have happened for the comparison to say anything");
        for (var i = 0; i < ours.Length; i++)
        {
            ours[i].Should().BeApproximately(theirs[i], 1e-8 * (1 + Math.Abs(theirs[i])), $"state {i} {where}");
        }
    }
}
