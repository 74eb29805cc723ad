using System.Globalization;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// Numbers printed so that they are the same on every machine: no digit that the last bits of a computation could change. A value
/// is rounded to a tenth of what is allowed; a difference to one digit, and it is not printed at all where it is small.
/// </summary>
internal static class SteadyNumber
{
    /// <summary>A difference below this share of the value is the last bits' affair.</summary>
    private const double Bits = 1e-9;

    /// <summary>A difference below this share of what is allowed is not worth a digit.</summary>
    public const double Small = 0.01;

    /// <summary>Between these, numbers are written without a power of ten.</summary>
    private const double PlainFrom = 1e-4, PlainTo = 1e7;

    /// <summary>A value, to a tenth of what is allowed.</summary>
    /// <param name="value">The value.</param>
    /// <param name="allowed">What is allowed, above 0.</param>
    public static string Value(double value, double allowed)
    {
        var place = (int)Math.Floor(Math.Log10(allowed)) - 1;
        if (value == 0 || Math.Abs(value) < Math.Pow(10, place) / 2)
        {
            return "0";
        }

        var size = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return Digits(value, Math.Clamp(size - place + 1, 1, 12));
    }

    /// <summary>A difference, to one digit, or that it is smaller than matters.</summary>
    /// <param name="difference">Got less expected.</param>
    /// <param name="allowed">What is allowed, above 0.</param>
    /// <param name="expected">The expected value.</param>
    public static string Difference(double difference, double allowed, double expected)
    {
        var least = Math.Max(Small * allowed, Bits * Math.Abs(expected));
        return Math.Abs(difference) < least ? "under " + Digits(least, 1) : Digits(difference, 1);
    }

    /// <summary>A number with so many digits, rounded twice: first three digits finer, so that noise on an exact half does not show.</summary>
    public static string Digits(double value, int digits)
    {
        var rounded = Round(Round(value, Math.Min(digits + 3, 15)), digits);
        var size = Math.Abs(rounded);
        if (size >= PlainFrom && size < PlainTo)
        {
            var decimals = Math.Max(0, digits - 1 - (int)Math.Floor(Math.Log10(size)));
            return rounded.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        }

        return rounded.ToString((digits == 1 ? "0" : "0." + new string('0', digits - 1)) + "e0", CultureInfo.InvariantCulture);
    }

    private static double Round(double value, int digits)
    {
        // By way of decimal text, which rounds the exact binary value; a half is rounded away from zero.
        var place = digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return place is >= 0 and <= 15 && Math.Abs(value) < 1e12
            ? (double)Math.Round((decimal)value, Math.Min(place, 28), MidpointRounding.AwayFromZero)
            : double.Parse(value.ToString("e" + (digits - 1).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
