namespace DropSim.Integration;

/// <summary>How a run is integrated.</summary>
public sealed record IntegrationOptions
{
    /// <summary>Relative tolerance per unit of scale, 1e-13 to 1e-2.</summary>
    public double RelativeTolerance { get; init; } = 1e-6;

    /// <summary>The Runge-Kutta method.</summary>
    public RungeKuttaMethod Method { get; init; } = RungeKuttaMethod.Verner76;

    /// <summary>First step tried, s; 0 lets the integrator choose.</summary>
    public double InitialStep { get; init; }

    /// <summary>Largest step, s.</summary>
    public double LargestStep { get; init; } = 0.05;

    /// <summary>Steps after which the run is given up, accepted and rejected together.</summary>
    public int StepBudget { get; init; } = 2_000_000;

    /// <summary>False to miss a guard that falls below zero within a step and is back above it at the step's end: cheaper, for a sketch; true normally.</summary>
    public bool SeesDips { get; init; } = true;
}

/// <summary>Why a run ended.</summary>
public enum StopKind
{
    /// <summary>The end time was reached.</summary>
    EndTime,

    /// <summary>The system asked to stop at an event.</summary>
    StoppedBySystem,

    /// <summary>A state or rate became infinite or not a number.</summary>
    NotFinite,

    /// <summary>The step fell below what the time's digits can resolve.</summary>
    StepTooSmall,

    /// <summary>The step budget was spent.</summary>
    StepBudgetSpent,

    /// <summary>Events followed one another without time passing and the system had no phaseless form.</summary>
    Chatter,

    /// <summary>The caller cancelled.</summary>
    Cancelled,
}

/// <summary>Counts of one run.</summary>
/// <param name="AcceptedSteps">Steps accepted, cut ones included.</param>
/// <param name="RejectedSteps">Steps rejected by the error test.</param>
/// <param name="Evaluations">Evaluations of the right-hand side, all purposes.</param>
/// <param name="DenseBuilds">Steps whose interpolant was built.</param>
/// <param name="Events">Events handled.</param>
/// <param name="PhaselessSpells">Times the system was asked for its phaseless form.</param>
/// <param name="StiffnessSuspected">Steps at which the stability bound, not accuracy, seemed to set the step.</param>
public readonly record struct RunStatistics(
    int AcceptedSteps, int RejectedSteps, int Evaluations, int DenseBuilds, int Events, int PhaselessSpells, int StiffnessSuspected);

/// <summary>How a run ended.</summary>
/// <param name="Stop">Why.</param>
/// <param name="Time">When, s.</param>
/// <param name="Guard">The guard slot at which the system stopped, or the last one handled before a chatter; -1 where none.</param>
/// <param name="Component">State index that was not finite, or -1.</param>
/// <param name="Statistics">Counts.</param>
public readonly record struct RunOutcome(StopKind Stop, double Time, int Guard, int Component, RunStatistics Statistics);
