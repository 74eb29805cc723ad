using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Benchmarks;

/// <summary>Drops brought to where a benchmark begins.</summary>
internal static class Prepared
{
    public static RunOutcome Integrate(DropInput input, RungeKuttaMethod method)
    {
        var system = System(input, 0, out var state);
        return new Integrator(system, new IntegrationOptions { RelativeTolerance = input.Computation.RelativeTolerance, Method = method })
            .Run(0, input.Computation.EndTime, state);
    }

    /// <summary>The system in the phase that holds at a time, with the state there.</summary>
    public static DropSystem System(DropInput input, double time, out double[] state)
    {
        var spar = new ModalSpar(input.Spar, input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity);
        var system = new DropSystem(input, spar);
        state = system.InitialState();
        system.Begin(0, state);
        if (time > 0)
        {
            new Integrator(system, new IntegrationOptions { RelativeTolerance = 1e-9 }).Run(0, time, state);
        }

        return system;
    }
}
