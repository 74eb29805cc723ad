namespace DropSim.Integration;

/// <summary>
/// Keeps a run's continuous solution: the polynomial of every step, and both sides of every event. Give it to
/// <see cref="Integrator.Run"/> as the observer, or pass calls on to it; a new run begins it afresh.
/// </summary>
public sealed class Trajectory : IRunObserver
{
    private readonly List<double> _starts = [];
    private readonly List<double> _ends = [];
    private readonly List<double> _widths = [];
    private readonly List<TrajectoryEvent> _events = [];

    // The steps' polynomials, so many a block: nothing is copied as a run grows, and no block is a large object to the collector.
    private readonly List<double[]> _blocks = [];
    private double[] _sides = [];
    private double[] _first = [];
    private double[] _last = [];
    private int _states;
    private int _degree;

    /// <summary>Start of the run, s.</summary>
    public double StartTime { get; private set; }

    /// <summary>End of what is kept, s.</summary>
    public double EndTime { get; private set; }

    /// <summary>Number of states.</summary>
    public int StateCount => _states;

    /// <summary>Number of steps kept.</summary>
    public int StepCount => _starts.Count;

    /// <summary>Events in order of time.</summary>
    public IReadOnlyList<TrajectoryEvent> Events => _events;

    /// <summary>Start of a step, s.</summary>
    /// <param name="step">Step, 0 to <see cref="StepCount"/> - 1.</param>
    public double StepStart(int step) => _starts[step];

    /// <summary>End of a step, s: the event's time where it was cut.</summary>
    /// <param name="step">Step, 0 to <see cref="StepCount"/> - 1.</param>
    public double StepEnd(int step) => _ends[step];

    /// <summary>The state at a time; at an event, after it.</summary>
    /// <param name="time">Time, s, within [<see cref="StartTime"/>, <see cref="EndTime"/>].</param>
    /// <param name="state">Receives <see cref="StateCount"/> values.</param>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside the run.</exception>
    public void At(double time, Span<double> state)
    {
        Check(time, state);
        if (time == EndTime)
        {
            _last.AsSpan(0, _states).CopyTo(state);
            return;
        }

        Evaluate(StepHolding(time), time, state);
    }

    /// <summary>The state at a time; at an event, just before it (before the first of several at one time).</summary>
    /// <param name="time">Time, s, within [<see cref="StartTime"/>, <see cref="EndTime"/>].</param>
    /// <param name="state">Receives <see cref="StateCount"/> values.</param>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside the run.</exception>
    public void AtLeft(double time, Span<double> state)
    {
        Check(time, state);
        int found = FirstEventAt(time);
        if (found >= 0)
        {
            LeftOf(found, state);
        }
        else if (time == StartTime)
        {
            _first.AsSpan(0, _states).CopyTo(state);
        }
        else
        {
            At(time, state);
        }
    }

    /// <summary>The state just before an event.</summary>
    /// <param name="eventIndex">Index into <see cref="Events"/>.</param>
    /// <param name="state">Receives <see cref="StateCount"/> values.</param>
    public void LeftOf(int eventIndex, Span<double> state) => Side(eventIndex, 0, state);

    /// <summary>The state just after an event.</summary>
    /// <param name="eventIndex">Index into <see cref="Events"/>.</param>
    /// <param name="state">Receives <see cref="StateCount"/> values.</param>
    public void RightOf(int eventIndex, Span<double> state) => Side(eventIndex, 1, state);

    /// <inheritdoc/>
    public void OnBegin(double time, ReadOnlySpan<double> state)
    {
        _starts.Clear();
        _ends.Clear();
        _widths.Clear();
        _events.Clear();
        _blocks.Clear();
        if (_states != state.Length)
        {
            _states = state.Length;
            _first = new double[_states];
            _last = new double[_states];
        }

        StartTime = time;
        EndTime = time;
        state.CopyTo(_first);
        state.CopyTo(_last);
    }

    /// <inheritdoc/>
    public void OnStep(DenseStep dense)
    {
        ArgumentNullException.ThrowIfNull(dense);
        _degree = dense.Degree;
        if (_starts.Count / StepsPerBlock == _blocks.Count)
        {
            _blocks.Add(new double[StepsPerBlock * (_degree + 1) * _states]);
        }

        dense.CopyPolynomial(Coefficients(_starts.Count));
        _starts.Add(dense.StartTime);
        _ends.Add(dense.EndTime);
        _widths.Add(dense.FullWidth);
        EndTime = dense.EndTime;
        dense.EndState.CopyTo(_last);
    }

    /// <inheritdoc/>
    public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
    {
        int offset = _events.Count * 2 * _states;
        Reserve(ref _sides, offset + (2 * _states));
        _last.AsSpan(0, _states).CopyTo(_sides.AsSpan(offset));
        state.CopyTo(_sides.AsSpan(offset + _states));
        state.CopyTo(_last);
        _events.Add(new TrajectoryEvent(time, guard));
    }

    private const int StepsPerBlock = 32;

    private Span<double> Coefficients(int step)
    {
        int size = (_degree + 1) * _states;
        return _blocks[step / StepsPerBlock].AsSpan(step % StepsPerBlock * size, size);
    }

    private static void Reserve(ref double[] buffer, int length)
    {
        if (buffer.Length < length)
        {
            Array.Resize(ref buffer, Math.Max(length, 2 * buffer.Length));
        }
    }

    private void Check(double time, Span<double> state)
    {
        if (!(time >= StartTime && time <= EndTime))
        {
            throw new ArgumentOutOfRangeException(nameof(time), time, "The time lies outside the run.");
        }

        ArgumentOutOfRangeException.ThrowIfNotEqual(state.Length, _states, nameof(state));
    }

    // The last step that starts at or before a time.
    private int StepHolding(double time)
    {
        int index = _starts.BinarySearch(time);
        return index >= 0 ? index : ~index - 1;
    }

    private void Evaluate(int step, double time, Span<double> state)
    {
        double theta = (time - _starts[step]) / _widths[step];
        StepPolynomial.Evaluate(Coefficients(step), _states, _degree, theta, state);
    }

    private int FirstEventAt(double time)
    {
        int low = 0;
        int high = _events.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _events[middle].Time < time ? (middle + 1, high) : (low, middle);
        }

        return low < _events.Count && _events[low].Time == time ? low : -1;
    }

    private void Side(int eventIndex, int side, Span<double> state)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)eventIndex, (uint)_events.Count, nameof(eventIndex));
        _sides.AsSpan(((2 * eventIndex) + side) * _states, _states).CopyTo(state);
    }
}

/// <summary>An event kept by a <see cref="Trajectory"/>.</summary>
/// <param name="Time">When, s.</param>
/// <param name="Guard">The slot that fired.</param>
public readonly record struct TrajectoryEvent(double Time, int Guard);
