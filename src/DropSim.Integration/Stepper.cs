using System.Numerics;

namespace DropSim.Integration;

/// <summary>
/// Tries one step of a Runge-Kutta method and says how large its error is; keeps the stages and the guards seen at some of them.
/// Owns every vector of a run.
/// </summary>
internal sealed class Stepper
{
    private readonly Evaluator _evaluator;
    private readonly RungeKuttaMethod _method;
    private readonly int _states;
    private readonly int _guards;
    private readonly int _stride;
    private readonly double[] _rates;
    private readonly double[] _guardRows;
    private readonly int[] _guardRowOfStage;
    private readonly int _endGuardRow;
    private readonly double[] _soonGuards;
    private readonly double[] _start;
    private readonly double[] _end;
    private readonly double[] _stage;
    private readonly double[] _difference;
    private readonly double[] _scales;
    private readonly double[] _ownSize;
    private readonly double[] _perBound;
    private readonly double _tolerance;

    internal Stepper(Evaluator evaluator, RungeKuttaMethod method, double relativeTolerance, bool seesDips = true)
    {
        _evaluator = evaluator;
        _method = method;
        _tolerance = relativeTolerance;
        _states = evaluator.StateCount;
        _guards = evaluator.GuardCount;
        _stride = WeightedSum.Padded(_states);
        _rates = new double[_stride * (method.StageCount + 1 + method.ExtraStageCount)];
        GuardStages = seesDips ? method.GuardStages : [];
        _guardRowOfStage = new int[method.StageCount];
        for (int i = 0; i < GuardStages.Length; i++)
        {
            _guardRowOfStage[GuardStages[i]] = i + 1;
        }

        _endGuardRow = GuardStages.Length + 1;
        _guardRows = new double[_guards * (_endGuardRow + 1)];
        _soonGuards = new double[_guards];
        _start = new double[_stride];
        _end = new double[_stride];
        _stage = new double[_stride];
        _difference = new double[_stride];
        _scales = new double[_stride];
        _ownSize = new double[_stride];
        for (int i = 0; i < _states; i++)
        {
            _ownSize[i] = evaluator.System.IsFromAnywhere(i) ? 0 : 1;
        }

        _perBound = new double[_stride];
    }

    internal RungeKuttaMethod Method => _method;

    /// <summary>Start of the step, s.</summary>
    internal double Time { get; private set; }

    /// <summary>End of the step tried, s.</summary>
    internal double EndTime { get; private set; }

    /// <summary>Width of the step tried, s.</summary>
    internal double Width { get; private set; }

    internal Span<double> StartState => _start.AsSpan(0, _states);

    internal ReadOnlySpan<double> EndState => _end.AsSpan(0, _states);

    internal Span<double> Scales => _scales.AsSpan(0, _states);

    internal ReadOnlySpan<double> StartRates => _rates.AsSpan(0, _states);

    internal ReadOnlySpan<double> EndRates => _rates.AsSpan(EndRow * _stride, _states);

    internal ReadOnlySpan<double> PaddedStart => _start;

    internal int Stride => _stride;

    private int EndRow => _method.StageCount;

    /// <summary>The stages at which guards are looked at: the method's, or none where dips within steps are not looked for.</summary>
    internal int[] GuardStages { get; }

    /// <summary>Guards at the step's start, at <see cref="GuardStages"/> and at its end, in order of time, one row after another.</summary>
    internal ReadOnlySpan<double> GuardRows => _guardRows;

    /// <summary>Guards at the step's start.</summary>
    internal ReadOnlySpan<double> StartGuards => _guardRows.AsSpan(0, _guards);

    /// <summary>Guards at the step's end.</summary>
    internal ReadOnlySpan<double> EndGuards => _guardRows.AsSpan(_endGuardRow * _guards, _guards);

    /// <summary>Evaluates the start state afresh, as at the beginning of a run and after an event.</summary>
    internal void Restart(double time)
    {
        Time = time;
        _evaluator.System.ErrorScales(Scales);
        _evaluator.Evaluate(time, StartState, _rates.AsSpan(0, _states), _guardRows.AsSpan(0, _guards));
    }

    /// <summary>Ends the run at a time without evaluating there.</summary>
    internal void StopAt(double time) => Time = time;

    /// <summary>Index of the first state that is not finite or whose rate is not, at the start; -1 where all are finite.</summary>
    internal int NotFiniteAtStart()
    {
        // The state first: one bad state makes the rates of others bad.
        int state = FirstNotFinite(StartState);
        return state >= 0 ? state : FirstNotFinite(StartRates);
    }

    /// <summary>Index of the first state that is not finite, or whose rate is not, at the end of the step tried or at one of its stages; -1 where none.</summary>
    internal int NotFiniteInStep()
    {
        for (int row = 0; row <= EndRow; row++)
        {
            int rate = FirstNotFinite(_rates.AsSpan(row * _stride, _states));
            if (rate >= 0)
            {
                return rate;
            }
        }

        return FirstNotFinite(EndState);
    }

    /// <summary>The first guard slot that is not a number or minus infinity at a stage or the end of the step tried; -1 where none.</summary>
    internal int NotFiniteGuard()
    {
        int at = GuardWatch.FirstNotFinite(_guardRows);
        return at < 0 ? -1 : at % _guards;
    }

    /// <summary>Tries a step.</summary>
    /// <param name="endTime">End of the step, s.</param>
    /// <returns>Its error in units of the tolerance; not a number where anything was not finite.</returns>
    internal double Try(double endTime)
    {
        double h = endTime - Time;
        EndTime = endTime;
        Width = h;
        WeightedSum[] stages = _method.Stages;
        double[] nodes = _method.Nodes;
        for (int i = 1; i < stages.Length; i++)
        {
            stages[i].From(_start, _rates, h, _stage);
            double time = nodes[i] == 1 ? endTime : Time + (nodes[i] * h);
            int row = _guardRowOfStage[i];
            Span<double> guards = row == 0 ? [] : _guardRows.AsSpan(row * _guards, _guards);
            _evaluator.Evaluate(time, _stage.AsSpan(0, _states), _rates.AsSpan(i * _stride, _states), guards);
        }

        _method.Step.From(_start, _rates, h, _end);
        if (_method.ErrorNeedsEnd)
        {
            EvaluateEnd();
        }

        _method.Error.Times(h, _rates, _difference);
        return ErrorNorm();
    }

    /// <summary>Evaluates the end of a step that passed the error test, where that has not been done for the test.</summary>
    /// <returns>Whether all rates there are finite.</returns>
    internal bool CompleteEnd()
    {
        if (!_method.ErrorNeedsEnd)
        {
            EvaluateEnd();
        }

        double zero = 0;
        ReadOnlySpan<double> rates = EndRates;
        for (int i = 0; i < rates.Length; i++)
        {
            zero += 0 * rates[i];
        }

        return zero == 0;
    }

    /// <summary>Makes the end of the step the start of the next one.</summary>
    internal void Advance()
    {
        Time = EndTime;
        _end.AsSpan().CopyTo(_start);
        _rates.AsSpan(EndRow * _stride, _stride).CopyTo(_rates);
        EndGuards.CopyTo(_guardRows);
    }

    /// <summary>
    /// Whether stability rather than accuracy seems to set the step: h |lambda|, from the two evaluations at the step's
    /// end, f(Y) and f(y1), near the method's stability bound (the test of HNW, section IV.2, with weighted norms).
    /// Must be asked before anything else is evaluated.
    /// </summary>
    internal bool SeemsStiff()
    {
        // Nine tenths: the estimate of |lambda| is a lower bound in practice.
        const double NearBound = 0.9;
        int last = (EndRow - 1) * _stride;
        int end = EndRow * _stride;
        double change = 0;
        double distance = 0;
        for (int i = 0; i < _states; i++)
        {
            double rate = (_rates[end + i] - _rates[last + i]) * _perBound[i];
            double state = (_end[i] - _stage[i]) * _perBound[i];
            change += rate * rate;
            distance += state * state;
        }

        double bound = NearBound * _method.Table.StabilityBound;
        return change * Width * Width > bound * bound * distance && distance > 0;
    }

    /// <summary>A step worth trying first (HNW I, section II.4): from the sizes of the rates and of their change.</summary>
    internal double GuessStep(double largest)
    {
        double sizeOfState = 0;
        double sizeOfRates = 0;
        for (int i = 0; i < _states; i++)
        {
            if (_scales[i] > 0)
            {
                double unit = _tolerance * (_scales[i] + (_ownSize[i] * Math.Abs(_start[i])));
                sizeOfState = Math.Max(sizeOfState, Math.Abs(_start[i]) / unit);
                sizeOfRates = Math.Max(sizeOfRates, Math.Abs(_rates[i]) / unit);
            }
        }

        double trial = sizeOfState < 1e-5 || sizeOfRates < 1e-5 ? 1e-6 : 0.01 * sizeOfState / sizeOfRates;
        trial = Math.Min(trial, largest);
        Euler(trial, []);
        double sizeOfChange = 0;
        for (int i = 0; i < _states; i++)
        {
            if (_scales[i] > 0)
            {
                double unit = _tolerance * (_scales[i] + (_ownSize[i] * Math.Abs(_start[i])));
                sizeOfChange = Math.Max(sizeOfChange, Math.Abs(_difference[i] - _rates[i]) / unit / trial);
            }
        }

        double steepest = Math.Max(sizeOfRates, sizeOfChange);
        double guess = steepest <= 1e-15 ? Math.Max(1e-6, 1e-3 * trial) : Elementary.Pow(0.01 / steepest, 1.0 / _method.Order);
        guess = Math.Min(Math.Min(100 * trial, guess), largest);
        return guess > 0 ? guess : trial;
    }

    /// <summary>Guards a moment after the start, by a step of Euler's method.</summary>
    internal ReadOnlySpan<double> GuardsSoonAfterStart(double moment)
    {
        Euler(moment, _soonGuards);
        return _soonGuards;
    }

    /// <summary>Evaluates the extra stages and writes the polynomial's coefficients, (Degree + 1) padded rows.</summary>
    internal void BuildPolynomial(Span<double> coefficients)
    {
        WeightedSum[] extra = _method.Extra;
        for (int i = 0; i < extra.Length; i++)
        {
            extra[i].From(_start, _rates, Width, _stage);
            int row = EndRow + 1 + i;
            _evaluator.Evaluate(
                Time + (_method.ExtraNodes[i] * Width), _stage.AsSpan(0, _states), _rates.AsSpan(row * _stride, _states), []);
        }

        _start.CopyTo(coefficients);
        for (int p = 0; p < _method.Powers.Length; p++)
        {
            _method.Powers[p].Times(Width, _rates, coefficients.Slice((p + 1) * _stride, _stride));
        }
    }

    private static int FirstNotFinite(ReadOnlySpan<double> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (!double.IsFinite(values[i]))
            {
                return i;
            }
        }

        return -1;
    }

    private void EvaluateEnd() =>
        _evaluator.Evaluate(EndTime, EndState, _rates.AsSpan(EndRow * _stride, _states), _guardRows.AsSpan(_endGuardRow * _guards, _guards));

    private void Euler(double h, Span<double> guards)
    {
        for (int i = 0; i < _states; i++)
        {
            _stage[i] = _start[i] + (h * _rates[i]);
        }

        _evaluator.Evaluate(Time + h, _stage.AsSpan(0, _states), _difference.AsSpan(0, _states), guards);
    }

    // The largest error over the states, so that the answer does not depend on how many idle states ride along and no
    // state can hide behind the others. The largest of some numbers is the same in any order, so vectors give the same bits.
    private double ErrorNorm()
    {
        int width = Vector<double>.Count;
        var tolerance = new Vector<double>(_tolerance);
        var one = Vector<double>.One;
        var zero = Vector<double>.Zero;
        Vector<double> worst = zero;
        Vector<double> notFinite = zero;
        for (int i = 0; i < _stride; i += width)
        {
            var end = new Vector<double>(_end, i);
            var size = Vector.Max(Vector.Abs(new Vector<double>(_start, i)), Vector.Abs(end));
            var scale = new Vector<double>(_scales, i);
            Vector<double> perBound = one / (tolerance * (scale + (new Vector<double>(_ownSize, i) * size)));
            perBound = Vector.ConditionalSelect(Vector.GreaterThan(scale, zero), perBound, zero);
            perBound.CopyTo(_perBound, i);
            Vector<double> ratio = Vector.Abs(new Vector<double>(_difference, i)) * perBound;
            notFinite += (zero * end) + (zero * ratio);
            worst = Vector.ConditionalSelect(Vector.GreaterThan(ratio, worst), ratio, worst);
        }

        double largest = 0;
        for (int k = 0; k < width; k++)
        {
            largest = worst[k] > largest ? worst[k] : largest;
        }

        return largest + Vector.Sum(notFinite);
    }
}
