using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// Finds the largest value of every channel of <see cref="Channel"/> between the ends of steps too. Each step end gives the value of
/// every channel; where a step comes anywhere near a largest value so far, the slopes at its ends too (from a short way along the
/// rates); and where the cubic through both ends could beat that value, the maximum is looked for on the dense solution.
/// </summary>
internal sealed class ExtremeTracker
{
    /// <summary>How far along the rates the slope is taken, s: short against everything, long against round-off.</summary>
    private const double SlopeStep = 1e-6;

    /// <summary>
    /// Slopes are worked out where a step's larger end reaches this share of the largest value so far. Of 1,000 random drops none had a
    /// measure that moved by a bit against 0 (always).
    /// </summary>
    private const double Share = 0.8;

    /// <summary>No point of a piece nears the ground or an obstacle faster within a step than this many times its fastest at the step's ends.</summary>
    private const double Faster = 2;

    /// <summary>A step is searched where the cubic comes this near to the largest value so far: what a cubic through the ends can miss.</summary>
    private const double Nearness = 0.01;

    /// <summary>Most parabolic refinements of a maximum.</summary>
    private const int Refinements = 6;

    /// <summary>A maximum's place is found where two estimates lie this near, s: at a maximum the value then errs in the ninth digit.</summary>
    private const double Resolved = 1e-6;

    private readonly DropSystem _system;
    private readonly int[] _searched;
    private readonly bool _fastModes;
    private readonly double[] _work = new double[Channel.All];
    private readonly double[] _state;
    private readonly bool[] _near = new bool[Channel.Count];
    private double[] _startValue = new double[Channel.All];
    private double[] _startSlope = new double[Channel.All];
    private double[] _startRates;
    private double[] _endValue = new double[Channel.All];
    private double[] _endSlope = new double[Channel.All];
    private double[] _endRates;
    private bool _endSlopeKnown;

    public ExtremeTracker(DropSystem system, WatchedChannels watched)
    {
        _system = system;
        _searched = watched.Searched;
        _fastModes = watched.FastModes;
        _state = new double[system.StateCount];
        _startRates = new double[system.StateCount];
        _endRates = new double[system.StateCount];
        Array.Fill(Largest, double.NegativeInfinity);
    }

    /// <summary>Largest value of each channel; of the room: minus the smallest.</summary>
    public double[] Largest { get; } = new double[Channel.Count];

    /// <summary>When, s from the start.</summary>
    public double[] When { get; } = new double[Channel.Count];

    /// <summary>Height of the largest stress, m.</summary>
    public double StressHeight { get; private set; }

    /// <summary>Obstacle nearest when the room was smallest; -1 for the ground.</summary>
    public int RoomNearest { get; private set; } = -1;

    /// <summary>Values at the last step end.</summary>
    public ReadOnlySpan<double> Now => _endValue;

    /// <summary>Begins anew at a run's start or after an event.</summary>
    public void Restart(double time, ReadOnlySpan<double> state, ReadOnlySpan<double> rates)
    {
        See(time, state, rates);
        Take(time, _endValue);
    }

    /// <summary>Takes in an accepted step.</summary>
    public void Step(DenseStep dense)
    {
        (_startValue, _endValue) = (_endValue, _startValue);
        (_startSlope, _endSlope) = (_endSlope, _startSlope);
        (_startRates, _endRates) = (_endRates, _startRates);
        var startSlopeKnown = _endSlopeKnown;
        See(dense.EndTime, dense.EndState, dense.EndRates);
        Take(dense.EndTime, _endValue);
        if (!FindNear(dense))
        {
            return;
        }

        if (!startSlopeKnown)
        {
            FindSlopes(dense.StartTime, dense.StartState, _startRates, _startValue, _startSlope);
        }

        FindSlopes(dense.EndTime, dense.EndState, _endRates, _endValue, _endSlope);
        _endSlopeKnown = true;
        var h = dense.EndTime - dense.StartTime;
        foreach (var c in _searched)
        {
            if (!_near[c])
            {
                continue;
            }

            var best = Largest[c];
            var (theta, estimate) = CubicMaximum(Value(_startValue, c), h * Slope(_startSlope, c), Value(_endValue, c), h * Slope(_endSlope, c));
            if (theta > 0 && theta < 1 && estimate > best - (Nearness * Math.Abs(best)))
            {
                Refine(dense, c, theta);
            }
        }
    }

    /// <summary>Force of a strike over the last step, in which a place pressed: its impulse, N s, and its largest value, N; by the step's ends alone where slopes were not asked for.</summary>
    public (double Impulse, double Peak) ContactOver(double h)
    {
        var (f0, f1) = (_startValue[Channel.Contact], _endValue[Channel.Contact]);
        if (!_endSlopeKnown)
        {
            return (h * (f0 + f1) / 2, Math.Max(f0, f1));
        }

        var (s0, s1) = (_startSlope[Channel.Contact], _endSlope[Channel.Contact]);
        var (_, between) = CubicMaximum(f0, h * s0, f1, h * s1);

        // The integral of the same cubic: the trapezium with its end correction.
        return ((h * (f0 + f1) / 2) + (h * h * (s0 - s1) / 12), Math.Max(Math.Max(f0, f1), between));
    }

    /// <summary>Whether any channel may have had its largest value within the step.</summary>
    private bool FindNear(DenseStep dense)
    {
        var any = false;
        foreach (var c in _searched)
        {
            var (first, second) = (Value(_startValue, c), Value(_endValue, c));
            var larger = Math.Max(first, second);
            _near[c] = c switch
            {
                Channel.Room => (first + second + (Faster * Nearing(dense))) / 2 > Largest[c],
                Channel.Contact => _system.Phase.Presses,
                _ => larger > 0 && larger > Share * Largest[c],
            };
            any |= _near[c];
        }

        return any;
    }

    /// <summary>How far the piece's room may go in a step, there and back together, m.</summary>
    private double Nearing(DenseStep dense) =>
        (dense.EndTime - dense.StartTime) * Math.Max(_system.FastestNearing(dense.StartState), _system.FastestNearing(dense.EndState));

    private static double Value(double[] values, int c) => c == Channel.Room ? -values[c] : values[c];

    private static double Slope(double[] slopes, int c) => c == Channel.Room ? -slopes[c] : slopes[c];

    private void See(double time, ReadOnlySpan<double> state, ReadOnlySpan<double> rates)
    {
        _system.Observe(time, state, _endValue, _fastModes);
        rates.CopyTo(_endRates);
        _endSlopeKnown = false;
    }

    private void FindSlopes(double time, ReadOnlySpan<double> state, double[] rates, double[] values, double[] slopes)
    {
        for (var i = 0; i < _state.Length; i++)
        {
            _state[i] = state[i] + (SlopeStep * rates[i]);
        }

        _system.Observe(time + SlopeStep, _state, slopes, _fastModes);
        for (var c = 0; c < Channel.Count; c++)
        {
            slopes[c] = (slopes[c] - values[c]) / SlopeStep;
        }
    }

    private void Take(double time, double[] values)
    {
        for (var c = 0; c < Channel.Count; c++)
        {
            Take(time, values, c);
        }
    }

    /// <summary>One channel: what is looked for in one must not show in another, or a measure would hang on which others were asked for.</summary>
    private void Take(double time, double[] values, int c)
    {
        var value = Value(values, c);
        if (!(value > Largest[c]))
        {
            return;
        }

        Largest[c] = value;
        When[c] = time;
        if (c == Channel.Stress)
        {
            StressHeight = values[Channel.StressHeight];
        }
        else if (c == Channel.Room)
        {
            RoomNearest = (int)values[Channel.RoomNearest];
        }
    }

    /// <summary>Successive parabolas through the best three points; each new point costs one evaluation.</summary>
    private void Refine(DenseStep dense, int channel, double theta)
    {
        var h = dense.EndTime - dense.StartTime;
        var width = 0.25 * Math.Min(theta, 1 - theta);
        var (x0, x1, x2) = (theta - width, theta, theta + width);
        var (v0, v1, v2) = (At(dense, channel, x0), At(dense, channel, x1), At(dense, channel, x2));
        for (var k = 0; k < Refinements; k++)
        {
            var curvature = (((v2 - v1) / (x2 - x1)) - ((v1 - v0) / (x1 - x0))) / (x2 - x0);
            if (!(curvature < 0))
            {
                break;
            }

            var slope = ((v1 - v0) / (x1 - x0)) + (curvature * (x1 - x0));
            var top = Math.Clamp(x1 - (slope / (2 * curvature)), 1e-6, 1 - 1e-6);
            if (Math.Abs(top - x1) * h < Resolved || top == x0 || top == x2)
            {
                break;
            }

            var value = At(dense, channel, top);

            // Keep the new point with its neighbours on both sides, in order.
            if (top < x0)
            {
                (x0, x1, x2, v0, v1, v2) = (top, x0, x1, value, v0, v1);
            }
            else if (top < x1)
            {
                (x0, x1, x2, v0, v1, v2) = value >= v1 ? (x0, top, x1, v0, value, v1) : (top, x1, x2, value, v1, v2);
            }
            else if (top < x2)
            {
                (x0, x1, x2, v0, v1, v2) = value >= v1 ? (x1, top, x2, v1, value, v2) : (x0, x1, top, v0, v1, value);
            }
            else
            {
                (x0, x1, x2, v0, v1, v2) = (x1, x2, top, v1, v2, value);
            }
        }
    }

    private double At(DenseStep dense, int channel, double theta)
    {
        var time = dense.StartTime + (theta * (dense.EndTime - dense.StartTime));
        dense.Interpolate(Math.Min(time, dense.EndTime), _state);
        _system.Observe(time, _state, _work, _fastModes);
        Take(time, _work, channel);
        return Value(_work, channel);
    }

    /// <summary>Interior maximum of the cubic with end values and end slopes (per unit of theta); theta = -1 where it has none.</summary>
    private static (double Theta, double Value) CubicMaximum(double v0, double s0, double v1, double s1)
    {
        var c2 = (3 * (v1 - v0)) - (2 * s0) - s1;
        var c3 = s0 + s1 - (2 * (v1 - v0));

        // 3 c3 x^2 + 2 c2 x + s0 = 0; the maximum is where the second derivative 6 c3 x + 2 c2 is negative.
        double x;
        if (Math.Abs(c3) < 1e-12 * (Math.Abs(c2) + double.Epsilon))
        {
            x = c2 < 0 ? -s0 / (2 * c2) : -1;
        }
        else
        {
            var discriminant = (c2 * c2) - (3 * c3 * s0);
            if (discriminant < 0)
            {
                return (-1, v0);
            }

            x = (-c2 - Math.Sqrt(discriminant)) / (3 * c3);
        }

        return x > 0 && x < 1 ? (x, v0 + (x * (s0 + (x * (c2 + (x * c3)))))) : (-1, v0);
    }
}
