using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// Finds the largest value of every channel of <see cref="Channel"/> between the ends of steps too. Each step end gives value and
/// slope of every channel (the slope from a short way along the rates); where the cubic through both ends of a step could
/// beat the largest value so far, the maximum is looked for on the dense solution.
/// </summary>
internal sealed class ExtremeTracker
{
    /// <summary>How far along the rates the slope is taken, s: short against everything, long against round-off.</summary>
    private const double SlopeStep = 1e-6;

    /// <summary>A step is searched where the cubic comes this near to the largest value so far: what a cubic through the ends can miss.</summary>
    private const double Nearness = 0.01;

    /// <summary>Most parabolic refinements of a maximum.</summary>
    private const int Refinements = 6;

    /// <summary>A maximum's place is found where two estimates lie this near, s: at a maximum the value then errs in the ninth digit.</summary>
    private const double Resolved = 1e-6;

    /// <summary>The stress over the height is looked at where a load on the spar reaches this share of its largest so far.</summary>
    private const double StressShare = 0.2;

    private readonly DropSystem _system;
    private readonly double[] _startValue = new double[Channel.All];
    private readonly double[] _startSlope = new double[Channel.All];
    private readonly double[] _endValue = new double[Channel.All];
    private readonly double[] _endSlope = new double[Channel.All];
    private readonly double[] _work = new double[Channel.All];
    private readonly double[] _state;

    public ExtremeTracker(DropSystem system)
    {
        _system = system;
        _state = new double[system.StateCount];
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

    public void Restart(double time, ReadOnlySpan<double> state, ReadOnlySpan<double> rates)
    {
        See(time, state, rates, _endValue, _endSlope);
        Take(time, _endValue);
    }

    public void Step(DenseStep dense)
    {
        _endValue.CopyTo(_startValue, 0);
        _endSlope.CopyTo(_startSlope, 0);
        See(dense.EndTime, dense.EndState, dense.EndRates, _endValue, _endSlope);
        Take(dense.EndTime, _endValue);
        var h = dense.EndTime - dense.StartTime;
        for (var c = 0; c < Channel.Count; c++)
        {
            if (c == Channel.Stress)
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

    private static double Value(double[] values, int c) => c == Channel.Room ? -values[c] : values[c];

    private static double Slope(double[] slopes, int c) => c == Channel.Room ? -slopes[c] : slopes[c];

    private void See(double time, ReadOnlySpan<double> state, ReadOnlySpan<double> rates, double[] values, double[] slopes)
    {
        _system.Observe(time, state, values, new(StressShare * Largest[Channel.BaseMoment], StressShare * Largest[Channel.RiggingPoint]));
        for (var i = 0; i < _state.Length; i++)
        {
            _state[i] = state[i] + (SlopeStep * rates[i]);
        }

        _system.Observe(time + SlopeStep, _state, slopes, StressFrom.Never);
        for (var c = 0; c < Channel.Count; c++)
        {
            slopes[c] = (slopes[c] - values[c]) / SlopeStep;
        }
    }

    private void Take(double time, double[] values)
    {
        for (var c = 0; c < Channel.Count; c++)
        {
            var value = Value(values, c);
            if (value > Largest[c])
            {
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
        _system.Observe(time, _state, _work, channel == Channel.BaseMoment ? StressFrom.Always : StressFrom.Never);
        Take(time, _work);
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
