namespace DropSim.Integration;

/// <summary>Watches a run as it is integrated. Called in order of time; must not change the spans it is shown.</summary>
public interface IRunObserver
{
    /// <summary>The initial state.</summary>
    /// <param name="time">Start time, s.</param>
    /// <param name="state">State.</param>
    void OnBegin(double time, ReadOnlySpan<double> state);

    /// <summary>
    /// An accepted step, cut at an event where there was one. The step object is reused: take what is needed before returning.
    /// </summary>
    /// <param name="dense">The step with its dense output.</param>
    void OnStep(DenseStep dense);

    /// <summary>
    /// An event, after the system has handled it. The left-hand state was the end of the last step; this is the right-hand one.
    /// </summary>
    /// <param name="time">Time, s.</param>
    /// <param name="state">State after the event.</param>
    /// <param name="guard">The slot that fired.</param>
    void OnEvent(double time, ReadOnlySpan<double> state, int guard);
}

/// <summary>One accepted step and a continuous solution over it; the extra stages of the interpolant are computed when first asked for.</summary>
public abstract class DenseStep
{
    /// <summary>Start of the step, s.</summary>
    public abstract double StartTime { get; }

    /// <summary>End of the step, s: the event's time where the step was cut.</summary>
    public abstract double EndTime { get; }

    /// <summary>State at the start.</summary>
    public abstract ReadOnlySpan<double> StartState { get; }

    /// <summary>State at the end.</summary>
    public abstract ReadOnlySpan<double> EndState { get; }

    /// <summary>Rates at the end (of a cut step: from the interpolant's end point, evaluated).</summary>
    public abstract ReadOnlySpan<double> EndRates { get; }

    /// <summary>The continuous solution at a time within the step.</summary>
    /// <param name="time">Time, s, within [<see cref="StartTime"/>, <see cref="EndTime"/>].</param>
    /// <param name="state">Receives the state.</param>
    public abstract void Interpolate(double time, Span<double> state);

    /// <summary>
    /// Degree of <see cref="CopyPolynomial"/>'s polynomial, so that a trajectory can keep the step: y(start + theta h) = sum_p c_p theta^p, p = 0..Degree.
    /// </summary>
    public abstract int Degree { get; }

    /// <summary>Width h of the full (uncut) step to which theta of <see cref="CopyPolynomial"/> refers, s.</summary>
    public abstract double FullWidth { get; }

    /// <summary>Copies the polynomial's coefficients: p-major, StateCount values for p = 0, then p = 1, ... (Degree + 1) * StateCount in all.</summary>
    /// <param name="coefficients">Receives them.</param>
    public abstract void CopyPolynomial(Span<double> coefficients);
}
