using System.Globalization;
using System.Text;

namespace DropSim.Scenarios.Units;

/// <summary>
/// Reads a quantity as people write it: "180 kg", "9/16 in", "1 1/2 in", "10 ft 6 in", "5'6\"", "2.5e3 N". A decimal comma,
/// a thousands separator, a missing unit and a unit of another kind are refused with advice, never guessed.
/// </summary>
internal static class QuantityParser
{
    /// <summary>Longest text looked at; anything longer is no quantity.</summary>
    private const int LongestText = 60;

    /// <summary>Parses <paramref name="text"/> as a quantity of a kind.</summary>
    /// <param name="text">What is written.</param>
    /// <param name="kind">What it must measure.</param>
    /// <param name="value">The value in SI.</param>
    /// <param name="problem">What is wrong and how to write it; empty where nothing is.</param>
    /// <returns>True where the text is understood and finite (or "rigid" for a rotational stiffness).</returns>
    public static bool TryParse(string text, QuantityKind kind, out double value, out string problem)
    {
        UnitSet units = UnitTable.For(kind);
        value = double.NaN;
        string clean = Clean(text);
        problem = Prescan(clean, kind, units);
        if (problem.Length > 0)
        {
            return false;
        }

        if (kind == QuantityKind.RotationalStiffness && clean.Equals("rigid", StringComparison.OrdinalIgnoreCase))
        {
            value = double.PositiveInfinity;
            return true;
        }

        double sum = 0;
        double lastFactor = double.PositiveInfinity;
        int at = 0;
        int parts = 0;
        while (at < clean.Length)
        {
            if (!TryNumber(clean, ref at, out double number))
            {
                problem = parts == 0 ? $"a number with its unit, for example \"{units.Example}\"" : $"a number before the second unit, for example \"{units.Example}\"";
                return false;
            }

            string unit = TakeUnit(clean, ref at);
            if (!TryUnit(unit, kind, units, out double factor, out problem))
            {
                return false;
            }

            bool mayAdd = kind is QuantityKind.Length or QuantityKind.Mass;
            if (parts > 0 && (!mayAdd || factor >= lastFactor || number < 0 || sum < 0))
            {
                problem = $"one number and one unit, or feet and inches (\"10 ft 6 in\"), for example \"{units.Example}\"";
                return false;
            }

            sum += number * factor;
            lastFactor = factor;
            parts++;
        }

        if (!double.IsFinite(sum))
        {
            problem = $"a finite number, for example \"{units.Example}\"";
            return false;
        }

        value = sum;
        return true;
    }

    private static string Prescan(string clean, QuantityKind kind, UnitSet units)
    {
        if (clean.Length == 0 || clean.Length > LongestText)
        {
            return $"a number with its unit, for example \"{units.Example}\"";
        }

        if (clean.Contains(',', StringComparison.Ordinal))
        {
            return $"a decimal point and no thousands separator, for example \"{units.Example}\" (a comma means different things in different countries)";
        }

        return kind == QuantityKind.Mass && clean.EndsWith("kgf", StringComparison.OrdinalIgnoreCase)
            ? "a mass; kgf is a force: write kg"
            : "";
    }

    private static bool TryUnit(string unit, QuantityKind kind, UnitSet units, out double factor, out string problem)
    {
        problem = "";
        if (unit.Length == 0)
        {
            factor = 1;
            if (!units.BareAllowed)
            {
                problem = $"a unit after the number, for example \"{units.Example}\" (units: {units.Listing})";
            }

            return units.BareAllowed;
        }

        if (units.TryFactor(unit, out factor))
        {
            return true;
        }

        string hint = UnitTable.KindOf(unit) is { } other && other != kind ? $"; {unit} is a unit of {Words(other)}" : "";
        if (kind == QuantityKind.Force && unit is "lb" or "lbs" or "kg")
        {
            hint += unit == "kg" ? ": for the weight of so many kg write kgf" : ": for a force write lbf";
        }

        problem = $"{Words(kind)} in {units.Listing}{hint}";
        return false;
    }

    /// <summary>A kind in words: "mass per length".</summary>
    public static string Words(QuantityKind kind)
    {
        StringBuilder words = new();
        foreach (char c in kind.ToString())
        {
            if (char.IsUpper(c) && words.Length > 0)
            {
                words.Append(' ');
            }

            words.Append(char.ToLowerInvariant(c));
        }

        return words.ToString();
    }

    /// <summary>One spelling for quotes, spaces, superscripts and products.</summary>
    private static string Clean(string text)
    {
        StringBuilder clean = new(text.Length);
        foreach (char c in text.Length > LongestText ? text[..(LongestText + 1)] : text)
        {
            char plain = c switch
            {
                '\u2019' or '\u2032' => '\'',
                '\u201d' or '\u2033' => '"',
                '\u00a0' or '\u202f' or '\u2009' or '\t' => ' ',
                '\u00b2' => '2',
                '\u00b3' => '3',
                '\u2212' => '-',
                '\u00b7' or '*' => ' ',
                _ => c,
            };
            if (plain != ' ' || (clean.Length > 0 && clean[^1] != ' '))
            {
                clean.Append(plain);
            }
        }

        return clean.ToString().TrimEnd().Replace("''", "\"", StringComparison.Ordinal);
    }

    /// <summary>Reads "12", "-0.5", "2.5e3", "9/16" or "1 1/2".</summary>
    private static bool TryNumber(string text, ref int at, out double number)
    {
        if (!TryDecimal(text, ref at, out number, out bool whole))
        {
            return false;
        }

        if (!whole)
        {
            return true;
        }

        int next = at;
        if (Peek(text, next) == '/')
        {
            next++;
            return TryDenominator(text, ref at, next, 0, number, out number);
        }

        if (Peek(text, next) == ' ' && char.IsAsciiDigit(Peek(text, next + 1)))
        {
            next++;
            if (TryDecimal(text, ref next, out double numerator, out bool wholeNumerator) && wholeNumerator && Peek(text, next) == '/')
            {
                next++;
                return TryDenominator(text, ref at, next, number, numerator, out number);
            }

            return false;
        }

        return true;
    }

    private static bool TryDenominator(string text, ref int at, int next, double wholePart, double numerator, out double number)
    {
        number = double.NaN;
        if (!TryDecimal(text, ref next, out double denominator, out bool whole) || !whole || denominator <= 0)
        {
            return false;
        }

        at = next;
        number = wholePart < 0 || double.IsNegative(numerator)
            ? wholePart - (Math.Abs(numerator) / denominator)
            : wholePart + (numerator / denominator);
        return true;
    }

    private static bool TryDecimal(string text, ref int at, out double number, out bool whole)
    {
        while (Peek(text, at) == ' ')
        {
            at++;
        }

        int from = at;
        if (Peek(text, at) is '+' or '-')
        {
            at++;
        }

        while (char.IsAsciiDigit(Peek(text, at)) || Peek(text, at) == '.')
        {
            at++;
        }

        bool exponent = Peek(text, at) is 'e' or 'E'
            && (char.IsAsciiDigit(Peek(text, at + 1)) || (Peek(text, at + 1) is '+' or '-' && char.IsAsciiDigit(Peek(text, at + 2))));
        if (exponent)
        {
            at += 2;
            while (char.IsAsciiDigit(Peek(text, at)))
            {
                at++;
            }
        }

        string token = text[from..at];
        whole = !exponent && !token.Contains('.', StringComparison.Ordinal);
        const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        return double.TryParse(token, Style, CultureInfo.InvariantCulture, out number);
    }

    /// <summary>A unit runs to the next number that stands alone ("ft" in "10 ft 6 in"; digits inside, as in "m2", belong to it).</summary>
    private static string TakeUnit(string text, ref int at)
    {
        while (Peek(text, at) == ' ')
        {
            at++;
        }

        int from = at;
        while (at < text.Length)
        {
            bool newNumber = at > from && char.IsAsciiDigit(text[at]) && text[at - 1] is ' ' or '\'';
            if (newNumber && !text[from..].StartsWith("lb/100 ft", StringComparison.OrdinalIgnoreCase))
            {
                break;
            }

            at++;
        }

        return text[from..at].Trim();
    }

    private static char Peek(string text, int at) => at < text.Length ? text[at] : '\0';
}
