namespace DropSim.Integration;

/// <summary>The step just taken, seen by observers and by the search for events. One object, reused for every step.</summary>
internal sealed class SolverStep : DenseStep
{
    private readonly Stepper _stepper;
    private readonly double[] _coefficients;
    private readonly double[] _cutState;
    private readonly double[] _cutRates;
    private bool _built;
    private bool _cut;
    private double _endTime;

    internal SolverStep(Stepper stepper, int states)
    {
        _stepper = stepper;
        _coefficients = new double[(stepper.Method.Degree + 1) * stepper.Stride];
        _cutState = new double[states];
        _cutRates = new double[states];
    }

    /// <inheritdoc/>
    public override double StartTime => _stepper.Time;

    /// <inheritdoc/>
    public override double EndTime => _endTime;

    /// <inheritdoc/>
    public override ReadOnlySpan<double> StartState => _stepper.StartState;

    /// <inheritdoc/>
    public override ReadOnlySpan<double> EndState => _cut ? _cutState : _stepper.EndState;

    /// <inheritdoc/>
    public override ReadOnlySpan<double> EndRates => _cut ? _cutRates : _stepper.EndRates;

    /// <inheritdoc/>
    public override int Degree => _stepper.Method.Degree;

    /// <inheritdoc/>
    public override double FullWidth => _stepper.Width;

    /// <summary>Interpolants built since the last <see cref="ResetCount"/>.</summary>
    internal int Builds { get; private set; }

    /// <inheritdoc/>
    public override void Interpolate(double time, Span<double> state)
    {
        if (!(time >= StartTime && time <= EndTime))
        {
            throw new ArgumentOutOfRangeException(nameof(time), time, "The time lies outside the step.");
        }

        ArgumentOutOfRangeException.ThrowIfNotEqual(state.Length, StartState.Length, nameof(state));
        if (time == EndTime)
        {
            EndState.CopyTo(state);
        }
        else if (time == StartTime)
        {
            StartState.CopyTo(state);
        }
        else
        {
            Inside(time, state);
        }
    }

    /// <inheritdoc/>
    public override void CopyPolynomial(Span<double> coefficients)
    {
        int states = StartState.Length;
        ArgumentOutOfRangeException.ThrowIfLessThan(coefficients.Length, (Degree + 1) * states, nameof(coefficients));
        Build();
        for (int p = 0; p <= Degree; p++)
        {
            _coefficients.AsSpan(p * _stepper.Stride, states).CopyTo(coefficients.Slice(p * states, states));
        }
    }

    internal void ResetCount() => Builds = 0;

    /// <summary>Takes over the step that the stepper has just tried, whole.</summary>
    internal void Load()
    {
        _built = false;
        _cut = false;
        _endTime = _stepper.EndTime;
    }

    /// <summary>Cuts the step at an event.</summary>
    /// <param name="time">Time of the event, s, inside the step.</param>
    /// <param name="evaluator">Evaluates the rates there.</param>
    /// <param name="guards">Receives the guards there.</param>
    internal void Cut(double time, Evaluator evaluator, Span<double> guards)
    {
        if (time == _stepper.EndTime)
        {
            _stepper.EndGuards.CopyTo(guards);
            return;
        }

        Inside(time, _cutState);
        evaluator.Evaluate(time, _cutState, _cutRates, guards);
        _endTime = time;
        _cut = true;
    }

    /// <summary>The continuous solution inside the full step, whether cut or not.</summary>
    internal void Inside(double time, Span<double> state)
    {
        Build();
        double theta = (time - _stepper.Time) / _stepper.Width;
        StepPolynomial.Evaluate(_coefficients, _stepper.Stride, Degree, theta, state);
    }

    private void Build()
    {
        if (!_built)
        {
            _stepper.BuildPolynomial(_coefficients);
            _built = true;
            Builds++;
        }
    }
}
