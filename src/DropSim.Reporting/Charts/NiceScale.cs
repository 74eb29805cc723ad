namespace DropSim.Reporting.Charts;

/// <summary>Ends and steps of an axis that people can count in: 1, 2 or 5 times a power of ten.</summary>
internal static class NiceScale
{
    /// <summary>An axis that holds a range.</summary>
    /// <param name="title">Quantity.</param>
    /// <param name="unit">Unit.</param>
    /// <param name="low">Smallest value to show.</param>
    /// <param name="high">Largest value to show.</param>
    /// <param name="steps">Steps wanted, about.</param>
    internal static Axis Axis(string title, string unit, double low, double high, int steps = 6)
    {
        var step = Step(high - low, steps);
        var half = step / 2;
        return new Axis(title, unit, Math.Floor((low / half) + 1e-9) * half, Math.Ceiling((high / half) - 1e-9) * half, step);
    }

    /// <summary>A step of 1, 2 or 5 times a power of ten.</summary>
    /// <param name="span">Length of the axis; an axis without length gets a step of 1.</param>
    /// <param name="steps">Steps wanted, about.</param>
    internal static double Step(double span, int steps)
    {
        if (!(span > 0) || double.IsInfinity(span))
        {
            return 1;
        }

        var raw = span / steps;
        var power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        return (raw / power) switch
        {
            < 1.5 => power,
            < 3.5 => 2 * power,
            < 7.5 => 5 * power,
            _ => 10 * power,
        };
    }
}
