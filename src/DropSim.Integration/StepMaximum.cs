namespace DropSim.Integration;

/// <summary>A number that follows from time and state, such as a force.</summary>
public interface IStateFunction
{
    /// <summary>Its value. Pure.</summary>
    /// <param name="time">Time, s.</param>
    /// <param name="state">State.</param>
    double Value(double time, ReadOnlySpan<double> state);
}

/// <summary>
/// Finds the largest value of a function within a step: both ends, a few samples of the continuous solution, then
/// parabolas through the highest sample and its neighbours. Allocates only in the constructor.
/// </summary>
public sealed class StepMaximum
{
    // Points inside the step. A step that passes the error test holds at most one high spot of a resolved motion.
    private const int Samples = 5;

    // Refinements by parabola; three suffice for nine digits of the value of a smooth function.
    private const int Refinements = 4;

    private readonly double[] _state;
    private readonly double[] _times = new double[Samples + 2];
    private readonly double[] _values = new double[Samples + 2];

    /// <summary>Prepares for steps of a number of states.</summary>
    /// <param name="stateCount">Number of states.</param>
    public StepMaximum(int stateCount) => _state = new double[stateCount];

    /// <summary>The largest value in a step and when it is reached, s.</summary>
    /// <param name="step">The step; its interpolant is built.</param>
    /// <param name="function">The function.</param>
    public (double Time, double Value) Find(DenseStep step, IStateFunction function)
    {
        ArgumentNullException.ThrowIfNull(step);
        ArgumentNullException.ThrowIfNull(function);
        int highest = 0;
        for (int i = 0; i <= Samples + 1; i++)
        {
            double width = step.EndTime - step.StartTime;
            _times[i] = i == Samples + 1 ? step.EndTime : Math.Min(step.StartTime + (width * i / (Samples + 1)), step.EndTime);
            _values[i] = At(step, function, _times[i]);
            highest = _values[i] > _values[highest] ? i : highest;
        }

        int middle = Math.Clamp(highest, 1, Samples);
        return Refine(step, function, middle, (_times[highest], _values[highest]));
    }

    private (double Time, double Value) Refine(DenseStep step, IStateFunction function, int middle, (double Time, double Value) best)
    {
        (double x0, double x1, double x2) = (_times[middle - 1], _times[middle], _times[middle + 1]);
        (double g0, double g1, double g2) = (-_values[middle - 1], -_values[middle], -_values[middle + 1]);
        for (int i = 0; i < Refinements && Parabola.Lowest(x0, g0, x1, g1, x2, g2, out double at, out _) && at != x1; i++)
        {
            double value = At(step, function, at);
            best = value > best.Value ? (at, value) : best;
            Parabola.Narrow(at, -value, ref x0, ref g0, ref x1, ref g1, ref x2, ref g2);
        }

        return best;
    }

    private double At(DenseStep step, IStateFunction function, double time)
    {
        step.Interpolate(time, _state);
        return function.Value(time, _state);
    }
}
