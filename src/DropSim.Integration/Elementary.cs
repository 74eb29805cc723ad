using System.Runtime.CompilerServices;
namespace DropSim.Integration;

/// <summary>
/// Sine, cosine, exponential, logarithm, power and angle made of sums, products and square roots alone. Those are the same
/// bits on every machine by IEEE 754; the functions of the system's library are not, and a last bit that differs can make a step
/// be accepted here and repeated there. Good to about one unit in the last place, the angle to three (docs/decisions/0018-own-elementary-functions.md).
/// </summary>
/// <remarks>
/// Each reduces its argument to a short interval, with a table where that makes it much shorter, and sums the Taylor series there, as far
/// as the terms are above round-off; in pairs, because in a drop each waits for the one before. The constants are ln 2 and pi / 2 in
/// parts, the first so short that its products with whole numbers are exact.
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

    /// <summary>
    /// 1.5 x 2^52: a number below 2^51 in size that is added to it is rounded to a whole one, which stands in the sum's last bits. Exact,
    /// and quicker than rounding and converting.
    /// </summary>
    private const double WholeNumbers = 6755399441055744;

    /// <summary>Angles above this are left to the system: nothing in a drop turns so far.</summary>
    private const double LargestAngle = 1e5;

    /// <summary>Arguments of exp beyond these overflow or vanish.</summary>
    private const double LargestExponent = 709.7;
    private const double SmallestExponent = -708;

    /// <summary>Sine and cosine.</summary>
    /// <param name="angle">Angle, rad.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (double Sin, double Cos) SinCos(double angle)
    {
        if (!(Math.Abs(angle) < LargestAngle))
        {
            return Math.SinCos(angle);
        }

        var counted = (angle * (2 / Math.PI)) + WholeNumbers;
        var quarter = counted - WholeNumbers;
        var high = angle - (quarter * HalfPiHigh);
        var low = quarter * HalfPiMiddle;
        var x = high - low;

        // What the subtraction lost, and the last part of pi / 2.
        var rest = high - x - low - (quarter * HalfPiLow);
        var z = x * x;
        var zz = z * z;
        var odd = -1.0 / 6 + (z * (1.0 / 120)) + (zz * (-1.0 / 5040 + (z * (1.0 / 362880))))
            + (zz * zz * (-1.0 / 39916800 + (z * (1.0 / 6227020800)) + (zz * (-1.0 / 1307674368000 + (z * (1.0 / 355687428096000))))));
        var even = 1.0 / 24 + (z * (-1.0 / 720)) + (zz * (1.0 / 40320 + (z * (-1.0 / 3628800))))
            + (zz * zz * (1.0 / 479001600 + (z * (-1.0 / 87178291200)) + (zz * (1.0 / 20922789888000))));
        var half = 0.5 * z;
        var sin = x + ((x * z * odd) + (rest * (1 - half)));
        var one = 1 - half;
        var cos = one + ((1 - one - half) + (z * z * even) - (x * rest));
        return (BitConverter.DoubleToInt64Bits(counted) & 3) switch
        {
            0 => (sin, cos),
            1 => (cos, -sin),
            2 => (-sin, -cos),
            _ => (-cos, sin),
        };
    }

    /// <summary>e to a power.</summary>
    /// <param name="power">The power.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Exp(double power)
    {
        if (!(power < LargestExponent && power > SmallestExponent))
        {
            return Math.Exp(power);
        }

        // 2^(parts / 32) times e to what is left, at most ln 2 / 64.
        var counted = (power * (PartsOfADoubling / (LnTwoHigh + LnTwoLow))) + WholeNumbers;
        var parts = counted - WholeNumbers;
        var high = power - (parts * (LnTwoHigh / PartsOfADoubling));
        var low = parts * (LnTwoLow / PartsOfADoubling);
        var r = high - low;
        var rest = high - r - low;
        var rr = r * r;
        var beyondOne = r + (rest + (rr * (0.5 + (r * (1.0 / 6)) + (rr * (1.0 / 24 + (r * (1.0 / 120)) + (rr * (1.0 / 720)))))));
        var whole = (int)BitConverter.DoubleToInt64Bits(counted);
        var part = whole & (PartsOfADoubling - 1);
        var root = Roots[part];
        var value = root + (RootRests[part] + (root * beyondOne));
        return value * BitConverter.Int64BitsToDouble((long)((whole >> LogParts) + ExponentBias) << MantissaBits);
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
        var zz = z * z;
        var sum = 2.0 / 3 + (z * (2.0 / 5)) + (zz * (2.0 / 7 + (z * (2.0 / 9)) + (zz * (2.0 / 11 + (z * (2.0 / 13))
            + (zz * (2.0 / 15 + (z * (2.0 / 17)) + (zz * (2.0 / 19 + (z * (2.0 / 21)) + (zz * (2.0 / 23))))))))));

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
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Atan2(double y, double x)
    {
        var (rise, run) = (Math.Abs(y), Math.Abs(x));
        var steep = rise > run;
        var (small, large) = steep ? (run, rise) : (rise, run);
        if (!(large > 0 && double.IsFinite(large)))
        {
            return Math.Atan2(y, x);
        }

        // The angle of the nearest sixteenth from a table, and what is left of the ratio, at most 1/32, by the series.
        var counted = (small / large) + (WholeNumbers / Sixteenths);
        var near = counted - (WholeNumbers / Sixteenths);
        var sixteenth = (int)BitConverter.DoubleToInt64Bits(counted);
        var t = (small - (near * large)) / (large + (near * small));
        var z = t * t;
        var zz = z * z;
        var series = -1.0 / 3 + (z * (1.0 / 5)) + (zz * (-1.0 / 7 + (z * (1.0 / 9)) + (zz * (-1.0 / 11))));
        var angle = Angles[sixteenth] + (AngleRests[sixteenth] + (t + (t * z * series)));
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

    private const int LogParts = 5;
    private const int PartsOfADoubling = 1 << LogParts;
    private const int Sixteenths = 16;

    /// <summary>A double of exponent e has e + 1023 in the bits above its 52 of mantissa (IEEE 754).</summary>
    private const int ExponentBias = 1023;
    private const int MantissaBits = 52;

    // The tables below were worked out with sixty digits and rounded: the value, and what rounding took off it.

    /// <summary>2^(k / 32).</summary>
    private static ReadOnlySpan<double> Roots =>
    [
        1.0, 1.0218971486541166, 1.0442737824274138, 1.0671404006768237,
        1.0905077326652577, 1.1143867425958924, 1.1387886347566916, 1.1637248587775775,
        1.189207115002721, 1.215247359980469, 1.241857812073484, 1.2690509571917332,
        1.2968395546510096, 1.3252366431597413, 1.3542555469368927, 1.383909881963832,
        1.4142135623730951, 1.4451808069770467, 1.4768261459394993, 1.5091644275934228,
        1.5422108254079407, 1.5759808451078865, 1.6104903319492543, 1.645755478153965,
        1.681792830507429, 1.718619298122478, 1.7562521603732995, 1.7947090750031072,
        1.8340080864093424, 1.8741676341103, 1.9152065613971474, 1.9571441241754002,
    ];

    private static ReadOnlySpan<double> RootRests =>
    [
        0.0, 5.109225028973444e-17, 8.551889705537965e-17, -7.899853966841582e-17,
        -3.046782079812471e-17, 1.0410278456845571e-16, 8.912812676025408e-17, 3.8292048369240935e-17,
        3.982015231465646e-17, -7.712630692681488e-17, 4.658027591836937e-17, 2.667932131342186e-18,
        2.5382502794888315e-17, -2.8587312100388614e-17, 7.70094837980299e-17, -6.770511658794786e-17,
        -9.667293313452913e-17, -3.0237581349939873e-17, -3.483994556892796e-17, -1.016455327754295e-16,
        7.949834809697621e-17, -1.0136916471278304e-17, 2.4707192569797888e-17, -1.0125679913674773e-16,
        8.199010020581497e-17, -1.851380418263111e-17, 2.960140695448873e-17, 1.8227458427912087e-17,
        3.283107224245627e-17, -6.122763413004143e-17, -1.0619946056195963e-16, 8.960767791036668e-17,
    ];

    /// <summary>The angle whose tangent is k / 16.</summary>
    private static ReadOnlySpan<double> Angles =>
    [
        0.0, 0.06241880999595735, 0.12435499454676144, 0.18534794999569476,
        0.24497866312686414, 0.3028848683749714, 0.35877067027057225, 0.4124104415973873,
        0.4636476090008061, 0.5123894603107377, 0.5585993153435624, 0.6022873461349642,
        0.6435011087932844, 0.6823165548747481, 0.7188299996216245, 0.7531512809621944,
        0.7853981633974483,
    ];

    private static ReadOnlySpan<double> AngleRests =>
    [
        0.0, -1.5490756308295046e-18, -3.1253241424539383e-18, 4.180692268843079e-18,
        1.0698755618734451e-17, -1.1010827903001369e-17, -2.4623815582638635e-17, -1.587652227770689e-17,
        2.2698777452961687e-17, -2.5462781472855804e-17, -5.4556305485916264e-18, 2.950430737228402e-17,
        1.5834785051444286e-17, 6.943223671560008e-18, -2.1478388444456983e-17, -2.4256934659182068e-17,
        3.061616997868383e-17,
    ];
}
