namespace DropSim.Integration;

/// <summary>
/// Plain step control: the next step is h (safety / error^(1/q)), q the order of the error estimate, within limits.
/// </summary>
internal sealed class StepControl
{
    // 0.8 to 0.95 in use everywhere (HNW I, section II.4); a smaller one wastes steps, a larger one rejects more.
    private const double Safety = 0.9;

    // A step may grow or shrink five times at once (HNW I, section II.4 give 1.5 to 5 for growth).
    private const double LargestGrowth = 5;
    private const double LargestShrink = 0.2;

    // Where something was not finite there is no error to go by.
    private const double NotFiniteShrink = 0.25;

    // A plan at the full last step loops where a guard grazes; half of it does not.
    private const double AfterEvent = 0.5;

    // Where stability sets the step, the error is small until it is large: a width just rejected is not tried again at once, but
    // neared again by a fiftieth a step.
    private const double BelowRejected = 0.95;
    private const double Nearing = 1.02;

    private readonly double _largest;
    private readonly double _exponent;
    private bool _justRejected;
    private double _ceiling = double.PositiveInfinity;

    internal StepControl(double largestStep, int errorOrder)
    {
        _largest = largestStep;
        _exponent = -1.0 / (errorOrder + 1);
    }

    /// <summary>Next step to try, s.</summary>
    internal double Step { get; private set; }

    internal void Start(double step)
    {
        Step = Math.Min(step, _largest);
        _justRejected = false;
        _ceiling = double.PositiveInfinity;
    }

    internal void Accepted(double width, double error)
    {
        double limit = _justRejected ? 1 : LargestGrowth;
        _justRejected = false;
        _ceiling *= Nearing;
        Step = Math.Min(Math.Min(width * Math.Min(limit, Factor(error)), _ceiling), _largest);
    }

    internal void Rejected(double width, double error)
    {
        _justRejected = true;
        _ceiling = BelowRejected * width;
        Step = width * Math.Min(1, Factor(error));
    }

    internal void NotFinite(double width)
    {
        _justRejected = true;
        Step = width * NotFiniteShrink;
    }

    internal void Event(double width)
    {
        _justRejected = false;
        _ceiling = double.PositiveInfinity;
        Step = Math.Min(AfterEvent * width, _largest);
    }

    private double Factor(double error) =>
        error <= 0 ? LargestGrowth : Math.Clamp(Safety * Elementary.Pow(error, _exponent), LargestShrink, LargestGrowth);
}
