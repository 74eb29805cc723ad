namespace DropSim.Integration;

/// <summary>
/// Step control that heeds the error and its change: the next step is h safety error^(-0.9/q) before^(0.2/q), q the order of the error
/// estimate, within limits. Where stability sets the step, control by the error alone lets it swing: too long, rejected, too short, too
/// long. The error before damps that (a proportional part beside the integral one: Gustafsson, Lundh and Soederlind, BIT 28 (1988) 270-287,
/// and HNW II, section IV.2, both by name). The shares are ours, measured (docs/numerics.md).
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

    // A plan at the full last step loops where a guard grazes; part of it does not.
    private const double AfterEvent = 0.7;

    // Shares of the error and of the error before.
    private const double Now = 0.9;
    private const double Before = 0.2;

    // ln 1e-4: a step that erred by less says nothing about the next one.
    private const double LeastLogBefore = -9.210340371976182;

    private readonly double _largest;
    private readonly double _exponent;
    private bool _justRejected;
    private double _logBefore;

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
        _logBefore = 0;
    }

    internal void Accepted(double width, double error)
    {
        double limit = _justRejected ? 1 : LargestGrowth;
        _justRejected = false;
        double log = Elementary.Log(error);
        double factor = Safety * Elementary.Exp(_exponent * ((Now * log) - (Before * _logBefore)));
        _logBefore = Math.Max(log, LeastLogBefore);
        Step = Math.Min(width * Math.Clamp(factor, LargestShrink, limit), _largest);
    }

    internal void Rejected(double width, double error)
    {
        _justRejected = true;
        Step = width * Math.Clamp(Safety * Elementary.Pow(error, _exponent), LargestShrink, 1);
    }

    internal void NotFinite(double width)
    {
        _justRejected = true;
        Step = width * NotFiniteShrink;
    }

    internal void Event(double width)
    {
        _justRejected = false;
        _logBefore = 0;
        Step = Math.Min(AfterEvent * width, _largest);
    }
}
