namespace DropSim.Integration;

/// <summary>
/// Sine, cosine, exponential, logarithm, power and angle made of sums, products and square roots alone. Those are the same
/// bits on every machine by IEEE 754; the functions of the system's library are not, and a last bit that differs can make a step
/// be accepted here and repeated there. Good to about one unit in the last place, the angle to three (docs/decisions/0018-own-elementary-functions.md).
/// </summary>
/// <remarks>
/// Each reduces its argument to a short interval and sums the Taylor series there, as far as the terms are above round-off.
/// The constants are ln 2 and pi / 2 in parts, the first so short that its products with whole numbers are exact.
/// </remarks>
public static class Elementary
{
    private const double LnTwoHigh = 0.6931471803691238;
    private const double LnTwoLow = 1.9082149292705877e-10;
    private const double HalfPiHigh = 1.5707963267341256;
    private const double HalfPiMiddle = 6.077100506303966e-11;
    private const double HalfPiLow = 2.0222662487959506e-21;

    /// <summary>pi / 2 less the double nearest to it.</summary>
    private const double HalfPiRest = 6.123233995736766e-17;

    /// <summary>Angles above this are left to the system: nothing in a drop turns so far.</summary>
    private const double LargestAngle = 1e5;

    /// <summary>Arguments of exp beyond these overflow or vanish.</summary>
    private const double LargestExponent = 709.7;
    private const double SmallestExponent = -708;

    /// <summary>Sine and cosine.</summary>
    /// <param name="angle">Angle, rad.</param>
    public static (double Sin, double Cos) SinCos(double angle)
    {
        if (!(Math.Abs(angle) < LargestAngle))
        {
            return Math.SinCos(angle);
        }

        var quarter = Math.Round(angle * (2 / Math.PI));
        var high = angle - (quarter * HalfPiHigh);
        var low = quarter * HalfPiMiddle;
        var x = high - low;

        // What the subtraction lost, and the last part of pi / 2.
        var rest = high - x - low - (quarter * HalfPiLow);
        var z = x * x;
        var odd = -1.0 / 6 + (z * (1.0 / 120 + (z * (-1.0 / 5040 + (z * (1.0 / 362880 + (z * (-1.0 / 39916800 + (z * (1.0 / 6227020800 + (z * (-1.0 / 1307674368000 + (z * (1.0 / 355687428096000))))))))))))));
        var even = 1.0 / 24 + (z * (-1.0 / 720 + (z * (1.0 / 40320 + (z * (-1.0 / 3628800 + (z * (1.0 / 479001600 + (z * (-1.0 / 87178291200 + (z * (1.0 / 20922789888000))))))))))));
        var half = 0.5 * z;
        var sin = x + ((x * z * odd) + (rest * (1 - half)));
        var one = 1 - half;
        var cos = one + ((1 - one - half) + (z * z * even) - (x * rest));
        return ((long)quarter & 3) switch
        {
            0 => (sin, cos),
            1 => (cos, -sin),
            2 => (-sin, -cos),
            _ => (-cos, sin),
        };
    }

    /// <summary>e to a power.</summary>
    /// <param name="power">The power.</param>
    public static double Exp(double power)
    {
        if (!(power < LargestExponent && power > SmallestExponent))
        {
            return Math.Exp(power);
        }

        var doublings = Math.Round(power * (1 / (LnTwoHigh + LnTwoLow)));
        var high = power - (doublings * LnTwoHigh);
        var low = doublings * LnTwoLow;
        var r = high - low;
        var rest = high - r - low;
        double sum = 1.0 / 87178291200;
        for (var n = 13; n >= 2; n--)
        {
            sum = InverseFactorials[n] + (r * sum);
        }

        return Math.ScaleB(1 + (r + (rest + (r * r * sum))), (int)doublings);
    }

    /// <summary>Natural logarithm.</summary>
    /// <param name="value">A number above 0.</param>
    public static double Log(double value)
    {
        if (!(value >= SmallestNormal && double.IsFinite(value)))
        {
            return Math.Log(value);
        }

        var exponent = Math.ILogB(value);
        var m = Math.ScaleB(value, -exponent);
        if (m > Sqrt2)
        {
            m /= 2;
            exponent++;
        }

        // ln m = 2 artanh s; f - s (f - half) in the end keeps the digits that s itself loses by its division.
        var f = m - 1;
        var s = f / (2 + f);
        var z = s * s;
        double sum = 2.0 / 23;
        for (var n = 21; n >= 3; n -= 2)
        {
            sum = (2.0 / n) + (z * sum);
        }

        var half = 0.5 * f * f;
        return (exponent * LnTwoHigh) + (f - (half - ((s * (half + (z * sum))) + (exponent * LnTwoLow))));
    }

    /// <summary>A power of a number that is not negative.</summary>
    /// <param name="value">The number, 0 or more.</param>
    /// <param name="power">The power.</param>
    public static double Pow(double value, double power) =>
        value == 0 || power == 0 || !double.IsFinite(value) ? Math.Pow(value, power) : Exp(power * Log(value));

    /// <summary>The angle of a direction, from -pi to pi.</summary>
    /// <param name="y">Its rise.</param>
    /// <param name="x">Its run.</param>
    public static double Atan2(double y, double x)
    {
        var (rise, run) = (Math.Abs(y), Math.Abs(x));
        var steep = rise > run;
        var (small, large) = steep ? (run, rise) : (rise, run);
        if (!(large > 0 && double.IsFinite(large)))
        {
            return Math.Atan2(y, x);
        }

        // A first guess good to 1e-5 (M. Abramowitz and I.A. Stegun (1964), Handbook of Mathematical Functions, 4.4.47; from memory,
        // only its size matters), then one exact turn back: what is left is so small that two terms of the series are enough.
        var t = small / large;
        var z = t * t;
        var guess = t * (0.9998660 + (z * (-0.3302995 + (z * (0.1801410 + (z * (-0.0851330 + (z * 0.0208351))))))));
        var (sin, cos) = SinCos(guess);
        var left = ((small * cos) - (large * sin)) / ((large * cos) + (small * sin));
        var angle = guess + (left - (left * left * left / 3));
        if (steep)
        {
            angle = (Math.PI / 2) - (angle - HalfPiRest);
        }

        if (double.IsNegative(x))
        {
            angle = Math.PI - (angle - (2 * HalfPiRest));
        }

        return double.IsNegative(y) ? -angle : angle;
    }

    private const double Sqrt2 = 1.4142135623730951;

    /// <summary>Below it numbers lose digits.</summary>
    private const double SmallestNormal = 2.2250738585072014e-308;

    /// <summary>1 / n!.</summary>
    private static readonly double[] InverseFactorials =
        [1, 1, 1.0 / 2, 1.0 / 6, 1.0 / 24, 1.0 / 120, 1.0 / 720, 1.0 / 5040, 1.0 / 40320, 1.0 / 362880, 1.0 / 3628800, 1.0 / 39916800, 1.0 / 479001600, 1.0 / 6227020800];
}
