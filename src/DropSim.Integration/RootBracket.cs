namespace DropSim.Integration;

/// <summary>
/// A bracket around a falling root, narrowed by inverse quadratic interpolation where that is safe and by halving where
/// it is not: T.R. Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function
/// without using derivatives", Advances in Engineering Software 28 (1997) 145-149. Values above zero count as one side,
/// zero and below as the other.
/// </summary>
internal struct RootBracket
{
    private readonly double _tolerance;
    private double _newest;
    private double _newestValue;
    private double _opposite;
    private double _oppositeValue;
    private double _dropped;
    private double _droppedValue;
    private bool _hasDropped;

    /// <summary>
    /// Opens a bracket; exactly one of the two values must be above zero, and the tolerance no less than four units in the last place of
    /// the ends, or a point between them may round to one of them.
    /// </summary>
    internal RootBracket(double first, double firstValue, double second, double secondValue, double tolerance)
    {
        _newest = second;
        _newestValue = secondValue;
        _opposite = first;
        _oppositeValue = firstValue;
        _dropped = first;
        _droppedValue = firstValue;
        _hasDropped = false;
        _tolerance = tolerance;
    }

    /// <summary>Whether the bracket is as narrow as asked.</summary>
    internal readonly bool IsClosed => Math.Abs(_newest - _opposite) <= _tolerance;

    /// <summary>End of the bracket with a value above zero.</summary>
    internal readonly double Above => _newestValue > 0 ? _newest : _opposite;

    /// <summary>End of the bracket with a value of zero or below.</summary>
    internal readonly double Below => _newestValue > 0 ? _opposite : _newest;

    /// <summary>Where to look next.</summary>
    internal readonly double Next()
    {
        double gap = _opposite - _newest;
        double fraction = 0.5;
        if (_hasDropped)
        {
            double xi = (_newest - _opposite) / (_dropped - _opposite);
            double phi = (_newestValue - _oppositeValue) / (_droppedValue - _oppositeValue);
            if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi)
            {
                fraction = (_newestValue / (_oppositeValue - _newestValue) * (_droppedValue / (_oppositeValue - _droppedValue)))
                    + ((_dropped - _newest) / gap * (_newestValue / (_droppedValue - _newestValue)) * (_oppositeValue / (_droppedValue - _oppositeValue)));
            }
        }

        // Never nearer to an end than half the tolerance, so that the bracket closes from both sides.
        double least = Math.Min(0.5, 0.5 * _tolerance / Math.Abs(gap));
        return _newest + (Math.Clamp(fraction, least, 1 - least) * gap);
    }

    /// <summary>Takes in the value found at <see cref="Next"/>.</summary>
    internal void Add(double at, double value)
    {
        if ((value > 0) == (_newestValue > 0))
        {
            _dropped = _newest;
            _droppedValue = _newestValue;
        }
        else
        {
            _dropped = _opposite;
            _droppedValue = _oppositeValue;
            _opposite = _newest;
            _oppositeValue = _newestValue;
        }

        _newest = at;
        _newestValue = value;
        _hasDropped = true;
    }
}
