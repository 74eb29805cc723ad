using DropSim.Model;

namespace DropSim.Studies;

/// <summary>What came of one drop of a study: the run, or why there is none.</summary>
/// <param name="Run">The run; null where the drop could not be computed.</param>
/// <param name="Refusal">Why there is none, in words; empty where there is one.</param>
public sealed record DropOutcome(DropRun? Run, string Refusal)
{
    /// <summary>Computes a drop; what is expected to go wrong (inputs that contradict each other, a stem that falls by itself, a run that could not be completed) is a result.</summary>
    /// <param name="input">The drop.</param>
    /// <param name="options">Options; null for a full run.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static DropOutcome Of(DropInput input, RunOptions? options, CancellationToken cancellation)
    {
        try
        {
            var run = DropSimulator.Run(input, options, cancellation);
            return run.End.Kind == EndKind.Failed ? new(null, run.End.Description) : new(run, "");
        }
        catch (Exception e) when (e is DropInputException or UnstableSparException)
        {
            return new(null, e.Message);
        }
    }
}
