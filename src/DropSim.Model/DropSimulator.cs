using DropSim.Integration;

namespace DropSim.Model;

/// <summary>How much of a run is kept.</summary>
public enum RunDetail
{
    /// <summary>Measures, events and curves.</summary>
    Full,

    /// <summary>Measures only (those that need no curve): for many runs.</summary>
    MeasuresOnly,

    /// <summary>
    /// For a picture that is replaced at once: curves, and measures as they are at the ends of steps. A maximum between them and a guard's
    /// dip within a step are missed; acceleration, moments and stress, which follow the spar's fastest modes, are not told, and measures
    /// that need the whole path are left out. A run whose books stay open is left as it is.
    /// </summary>
    Sketch,
}

/// <summary>Options of one run that are not part of the drop.</summary>
public sealed record RunOptions
{
    /// <summary>How much is kept.</summary>
    public RunDetail Detail { get; init; } = RunDetail.Full;

    /// <summary>The Runge-Kutta method.</summary>
    public RungeKuttaMethod Method { get; init; } = RungeKuttaMethod.Verner76;

    /// <summary>The spar's modes where they are known already; used only for the very spar they were made from.</summary>
    internal PreparedSpar? Spar { get; init; }

    /// <summary>
    /// Ids of the only measures that are wanted (<see cref="MeasureIds"/>), for many runs; null for all. The others are not told, nothing is
    /// spent on them, and warnings and forces of strikes are what the ends of steps show. A sketch tells what it can, whatever is wanted.
    /// </summary>
    public IReadOnlyCollection<string>? Only { get; init; }

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
        var spar = options.Spar?.For(input) ?? new ModalSpar(input.Spar, input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity);
        if (StepNeed.OfModes(input, spar) is { } tooFast)
        {
            throw new DropInputException(tooFast);
        }

        var tolerance = input.Computation.RelativeTolerance * options.ToleranceFactor;
        var attempt = Attempt(input, options, spar, tolerance, cancellation);
        for (var repeat = 0; options.Detail != RunDetail.Sketch && repeat < MostRepeats && !(attempt.Open <= OpenBooks) && tolerance > TightestTolerance; repeat++)
        {
            // The energy books are a check that costs nothing: where they stay open, the drop needs smaller steps than most.
            tolerance = Math.Max(TightestTolerance, tolerance / TighterBy);
            attempt = Attempt(input, options, spar, tolerance, cancellation);
        }

        return attempt.Run;
    }

    /// <summary>Books open by more than this share of the energy that fell make a run be repeated: half of what is still accepted.</summary>
    private const double OpenBooks = 0.5e-4;

    /// <summary>How much tighter a repeated run is.</summary>
    private const double TighterBy = 30;

    /// <summary>No run is made tighter than this: round-off begins to show.</summary>
    private const double TightestTolerance = 1e-11;

    /// <summary>Most repeats of one drop.</summary>
    private const int MostRepeats = 2;

    private static (DropRun Run, double Open) Attempt(
        DropInput input, RunOptions options, ModalSpar spar, double tolerance, CancellationToken cancellation)
    {
        var system = new DropSystem(input, spar);
        var state = system.InitialState();
        system.Begin(0, state);
        var trajectory = options.Detail == RunDetail.MeasuresOnly ? null : new Trajectory();
        var weight = input.Piece.Mass * input.Computation.Gravity;
        var sketch = options.Detail == RunDetail.Sketch;
        var watched = sketch ? WatchedChannels.StepEnds : options.Only is { } only ? WatchedChannels.For(only) : WatchedChannels.All;
        var recorder = new DropRecorder(system, weight, trajectory, watched);
        var integrator = new Integrator(system, new IntegrationOptions
        {
            RelativeTolerance = tolerance,
            Method = options.Method,
            LargestStep = LargestStep,
            StepBudget = StepBudget,
            SeesDips = !sketch,
        });
        var outcome = integrator.Run(0, input.Computation.EndTime, state, recorder, cancellation);
        cancellation.ThrowIfCancellationRequested();
        recorder.Finish(state);
        var run = new RunSummary(input, spar, system, recorder, outcome, state, trajectory).Compose(options.Detail == RunDetail.Full, watched);
        return (run, run.End.Kind == EndKind.Failed ? 0 : run.Ledger.LargestImbalance);
    }
}
