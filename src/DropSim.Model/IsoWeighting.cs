namespace DropSim.Model;

/// <summary>
/// Frequency weighting of whole-body vibration by ISO 2631-1:1997, Annex A (docs/theory/climber-comfort.md, eqs. 1 to 4).
/// </summary>
/// <remarks>
/// Comfort measures, not limits of injury. Left out: other axes and rotations, posture, a person on a rope or a harness (the
/// standard's people sit, stand or lie).
/// </remarks>
public sealed class IsoWeighting
{
    /// <summary>
    /// Largest step of the recursion, s. The bilinear rule reads the weighting at tan(pi f h)/(pi h) in place of f: at this
    /// step 0.03 % too high a frequency at 40 Hz.
    /// </summary>
    private const double LargestStep = 0.00025;

    /// <summary>Averaging time of the running r.m.s., s (ISO 2631-1:1997, 6.3.1).</summary>
    private const double AveragingTime = 1;

    private readonly Section[] _sections;

    private IsoWeighting(params Section[] sections) => _sections = sections;

    /// <summary>Horizontal weighting Wd.</summary>
    public static IsoWeighting Wd { get; } = new(HighPass(0.4), LowPass(100), Transition(2.0, 2.0, 0.63));

    /// <summary>Vertical weighting Wk of a sitting or standing person.</summary>
    public static IsoWeighting Wk { get; } =
        new(HighPass(0.4), LowPass(100), Transition(12.5, 12.5, 0.63), Step(2.37, 0.91, 3.35, 0.91));

    /// <summary>Weighting factor at a frequency.</summary>
    /// <param name="frequency">Frequency, above 0, Hz.</param>
    /// <returns>Weighted over unweighted amplitude.</returns>
    public double FactorAt(double frequency)
    {
        double omega = 2 * Math.PI * frequency;
        double factor = 1;
        foreach (Section section in _sections)
        {
            factor *= section.Magnitude(omega);
        }

        return factor;
    }

    /// <summary>Weights a series of accelerations, at rest before its first sample.</summary>
    /// <param name="acceleration">Accelerations on a uniform grid, m/s2.</param>
    /// <param name="step">Step of the grid, above 0, s; 1 ms or less for content up to 100 Hz.</param>
    /// <returns>Weighted accelerations on the same grid, m/s2.</returns>
    public double[] Weight(ReadOnlySpan<double> acceleration, double step)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        double[] fine = acceleration.ToArray();
        int refinement = 1;
        while (step / refinement > LargestStep && fine.Length > 1)
        {
            fine = Halve(fine);
            refinement *= 2;
        }

        foreach (Section section in _sections)
        {
            section.Run(fine, step / refinement);
        }

        double[] weighted = new double[acceleration.Length];
        for (int i = 0; i < weighted.Length; i++)
        {
            weighted[i] = fine[i * refinement];
        }

        return weighted;
    }

    /// <summary>Maximum transient vibration value: the largest running r.m.s. over one second, with rest before the first sample.</summary>
    /// <param name="weighted">Weighted accelerations on a uniform grid, m/s2.</param>
    /// <param name="step">Step of the grid, s.</param>
    /// <returns>MTVV, m/s2.</returns>
    public static double MaximumTransientVibrationValue(ReadOnlySpan<double> weighted, double step)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        double[] sum = new double[weighted.Length];
        double largest = 0;
        double back = AveragingTime / step;
        for (int i = 1; i < weighted.Length; i++)
        {
            sum[i] = sum[i - 1] + (0.5 * step * ((weighted[i - 1] * weighted[i - 1]) + (weighted[i] * weighted[i])));

            // A second need not be a whole number of steps.
            double place = i - back;
            int whole = (int)Math.Floor(place);
            double before = place <= 0 ? 0 : sum[whole] + ((place - whole) * (sum[whole + 1] - sum[whole]));
            largest = Math.Max(largest, sum[i] - before);
        }

        return Math.Sqrt(largest / AveragingTime);
    }

    /// <summary>Fourth-power vibration dose value.</summary>
    /// <param name="weighted">Weighted accelerations on a uniform grid, m/s2.</param>
    /// <param name="step">Step of the grid, s.</param>
    /// <returns>VDV, m/s^1.75.</returns>
    public static double VibrationDoseValue(ReadOnlySpan<double> weighted, double step)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        double sum = 0;
        for (int i = 1; i < weighted.Length; i++)
        {
            sum += 0.5 * step * (Fourth(weighted[i - 1]) + Fourth(weighted[i]));
        }

        return Math.Sqrt(Math.Sqrt(sum));
    }

    private static double Fourth(double value) => value * value * (value * value);

    /// <summary>Puts a point halfway between each two by the cubic through four: 1e-4 low at 40 Hz on 1 ms.</summary>
    private static double[] Halve(double[] values)
    {
        int last = values.Length - 1;
        double[] halved = new double[(2 * last) + 1];
        for (int i = 0; i < last; i++)
        {
            double before = i > 0 ? values[i - 1] : (2 * values[0]) - values[1];
            double after = i + 2 <= last ? values[i + 2] : (2 * values[last]) - values[last - 1];
            halved[2 * i] = values[i];
            halved[(2 * i) + 1] = ((9 * (values[i] + values[i + 1])) - before - after) / 16;
        }

        halved[^1] = values[last];
        return halved;
    }

    private static Section HighPass(double frequency)
    {
        double w = 2 * Math.PI * frequency;
        return new(0, 0, 1, w * w, w * Math.Sqrt(2), 1);
    }

    private static Section LowPass(double frequency)
    {
        double w = 2 * Math.PI * frequency;
        return new(w * w, 0, 0, w * w, w * Math.Sqrt(2), 1);
    }

    private static Section Transition(double numerator, double denominator, double q)
    {
        double w3 = 2 * Math.PI * numerator;
        double w4 = 2 * Math.PI * denominator;
        return new(1, 1 / w3, 0, 1, 1 / (q * w4), 1 / (w4 * w4));
    }

    private static Section Step(double numerator, double q5, double denominator, double q6)
    {
        double w5 = 2 * Math.PI * numerator;
        double w6 = 2 * Math.PI * denominator;
        double gain = w5 / w6 * (w5 / w6);
        return new(gain, gain / (q5 * w5), gain / (w5 * w5), 1, 1 / (q6 * w6), 1 / (w6 * w6));
    }

    /// <summary>A second-order section (b0 + b1 s + b2 s^2)/(a0 + a1 s + a2 s^2) of the Laplace variable s, rad/s.</summary>
    private readonly record struct Section(double B0, double B1, double B2, double A0, double A1, double A2)
    {
        public double Magnitude(double omega) =>
            double.Hypot(B0 - (B2 * omega * omega), B1 * omega) / double.Hypot(A0 - (A2 * omega * omega), A1 * omega);

        /// <summary>Filters in place with s = (2/h)(1 - 1/z)/(1 + 1/z), in transposed direct form II.</summary>
        public void Run(Span<double> values, double step)
        {
            double k = 2 / step;
            (double n0, double n1, double n2) = Digital(B0, B1 * k, B2 * k * k);
            (double d0, double d1, double d2) = Digital(A0, A1 * k, A2 * k * k);
            double first = 0;
            double second = 0;
            for (int i = 0; i < values.Length; i++)
            {
                double input = values[i];
                double output = ((n0 * input) + first) / d0;
                first = (n1 * input) - (d1 * output) + second;
                second = (n2 * input) - (d2 * output);
                values[i] = output;
            }
        }

        private static (double Now, double Before, double TwoBefore) Digital(double c0, double c1, double c2) =>
            (c0 + c1 + c2, 2 * (c0 - c2), c0 - c1 + c2);
    }
}
