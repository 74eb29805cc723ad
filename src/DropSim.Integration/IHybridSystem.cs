namespace DropSim.Integration;

/// <summary>
/// An ordinary differential equation whose right-hand side is smooth between events: y' = f(t, y) within a phase.
/// Which phase holds is memory of the system; only <see cref="HandleEvent"/> changes it, so between two events
/// <see cref="Evaluate"/> is a pure function.
/// </summary>
public interface IHybridSystem
{
    /// <summary>Number of states, the length of every state and rate vector.</summary>
    int StateCount { get; }

    /// <summary>Number of guard slots, the same in every phase; a slot that the phase does not use reads +infinity.</summary>
    int GuardCount { get; }

    /// <summary>
    /// Rates and guards in one evaluation; either span may be empty, where nobody asks for them. Writes nothing but the two spans and
    /// allocates nothing. A guard is positive while the present phase is valid; falling through zero is an event.
    /// </summary>
    /// <param name="time">Time, s.</param>
    /// <param name="state">The state, <see cref="StateCount"/> values.</param>
    /// <param name="rates">Receives dy/dt, <see cref="StateCount"/> values, or is empty.</param>
    /// <param name="guards">Receives the guards, <see cref="GuardCount"/> values, or is empty.</param>
    void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards);

    /// <summary>
    /// The size below which an error in each state does not matter: the error test divides by
    /// relativeTolerance x (scale + |y|) where scale is positive; a scale of 0 leaves the state out of the test (quadratures).
    /// </summary>
    /// <param name="scales">Receives one value per state.</param>
    void ErrorScales(Span<double> scales);

    /// <summary>
    /// Whether a state is measured from an arbitrary zero, so that its own size says nothing: the error test then divides by
    /// relativeTolerance x scale alone.
    /// </summary>
    /// <param name="state">Index of the state, 0 to <see cref="StateCount"/> - 1.</param>
    bool IsFromAnywhere(int state) => false;

    /// <summary>
    /// Whether a guard may fall below zero and rise again within one step, so that it must be watched inside steps.
    /// May depend on the phase; asked at every restart.
    /// </summary>
    /// <param name="guard">Guard slot, 0 to <see cref="GuardCount"/> - 1.</param>
    bool MayDip(int guard);

    /// <summary>
    /// A guard has fallen through zero. The system chooses its next phase and may change the state.
    /// </summary>
    /// <param name="time">Time of the event, s.</param>
    /// <param name="state">State just past the event; may be changed.</param>
    /// <param name="guard">The slot that fired (where several fired at once, the first; others fire at once afterwards if still negative).</param>
    /// <returns>Whether to go on.</returns>
    EventResponse HandleEvent(double time, Span<double> state, int guard);

    /// <summary>
    /// Called where many events follow one another without time passing. The system may switch, for a short while that
    /// one of its guards ends, to a form of its equations that needs no phase (continuous, not smooth).
    /// </summary>
    /// <returns>False where it has no such form; the run then stops with <see cref="StopKind.Chatter"/>.</returns>
    bool TryPhaseless(double time, Span<double> state);
}

/// <summary>What the system wants after an event.</summary>
public enum EventResponse
{
    /// <summary>Restart from the state as it is now.</summary>
    Continue,

    /// <summary>End the run here.</summary>
    Stop,
}
