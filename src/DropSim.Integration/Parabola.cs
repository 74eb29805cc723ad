namespace DropSim.Integration;

/// <summary>The parabola through three points.</summary>
internal static class Parabola
{
    /// <summary>Finds the lowest point, where the parabola opens upwards and has it strictly between the outer points.</summary>
    /// <param name="x0">First argument.</param>
    /// <param name="g0">Value there.</param>
    /// <param name="x1">Second argument, above the first.</param>
    /// <param name="g1">Value there.</param>
    /// <param name="x2">Third argument, above the second.</param>
    /// <param name="g2">Value there.</param>
    /// <param name="at">Where the lowest point is.</param>
    /// <param name="value">The lowest value.</param>
    /// <returns>Whether there is one.</returns>
    internal static bool Lowest(double x0, double g0, double x1, double g1, double x2, double g2, out double at, out double value)
    {
        double left = (g1 - g0) / (x1 - x0);
        double right = (g2 - g1) / (x2 - x1);
        double bend = (right - left) / (x2 - x0);

        // g = g1 + slope (x - x1) + bend (x - x1)^2 with the slope at the middle point.
        double slope = left + (bend * (x1 - x0));
        at = x1 - (slope / (2 * bend));
        value = g1 - (slope * slope / (4 * bend));
        return bend > 0 && at > x0 && at < x2 && double.IsFinite(value);
    }

    /// <summary>Takes a new point between the outer ones into three points around a low spot.</summary>
    internal static void Narrow(
        double at, double g, ref double x0, ref double g0, ref double x1, ref double g1, ref double x2, ref double g2)
    {
        bool right = at > x1;
        if (g <= g1)
        {
            (x0, g0, x2, g2) = right ? (x1, g1, x2, g2) : (x0, g0, x1, g1);
            (x1, g1) = (at, g);
        }
        else if (right)
        {
            (x2, g2) = (at, g);
        }
        else
        {
            (x0, g0) = (at, g);
        }
    }
}
