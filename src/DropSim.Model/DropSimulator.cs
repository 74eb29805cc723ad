using DropSim.Integration;

namespace DropSim.Model;

/// <summary>How much of a run is kept.</summary>
public enum RunDetail
{
    /// <summary>Measures, events and curves.</summary>
    Full,

    /// <summary>Measures only (those that need no curve): for many runs.</summary>
    MeasuresOnly,
}

/// <summary>Options of one run that are not part of the drop.</summary>
public sealed record RunOptions
{
    /// <summary>How much is kept.</summary>
    public RunDetail Detail { get; init; } = RunDetail.Full;

    /// <summary>The Runge-Kutta method.</summary>
    public RungeKuttaMethod Method { get; init; } = RungeKuttaMethod.Verner76;

    /// <summary>Factor on the tolerance of the input, for checks; 1 normally.</summary>
    public double ToleranceFactor { get; init; } = 1;
}

/// <summary>Computes drops.</summary>
public static class DropSimulator
{
    /// <summary>Longest step, s: a piece in free flight would allow more, but events are looked for within steps.</summary>
    private const double LargestStep = 0.05;

    /// <summary>Steps after which a drop is given up: hundreds of times what a drop needs.</summary>
    private const int StepBudget = 500_000;

    /// <summary>Computes one drop. The same input and options give the same bits, on any thread.</summary>
    /// <param name="input">The drop.</param>
    /// <param name="options">Options; null for a full run.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    /// <exception cref="DropInputException">The input is outside what can be computed; the message says what.</exception>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static DropRun Run(DropInput input, RunOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        options ??= new RunOptions();
        DropCheck.ThrowIfInvalid(input);
        var spar = new ModalSpar(input.Spar, input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity);
        var system = new DropSystem(input, spar);
        var state = system.InitialState();
        system.Begin(0, state);
        var trajectory = options.Detail == RunDetail.Full ? new Trajectory() : null;
        var weight = input.Piece.Mass * input.Computation.Gravity;
        var recorder = new DropRecorder(system, weight, trajectory);
        var integrator = new Integrator(system, new IntegrationOptions
        {
            RelativeTolerance = input.Computation.RelativeTolerance * options.ToleranceFactor,
            Method = options.Method,
            LargestStep = LargestStep,
            StepBudget = StepBudget,
        });
        var outcome = integrator.Run(0, input.Computation.EndTime, state, recorder, cancellation);
        cancellation.ThrowIfCancellationRequested();
        recorder.Finish();
        return new RunSummary(input, spar, system, recorder, outcome, state, trajectory).Compose();
    }
}
