using System.Globalization;
using DropSim.Model;

namespace DropSim.Reporting;

/// <summary>
/// Numbers as people read them: two significant digits, a unit, and the word that says whether it is a value or a bound.
/// All digits are in the CSV and JSON files.
/// </summary>
public static class Format
{
    /// <summary>Digits that count in a number on screen. More would claim a knowledge of the inputs that nobody in a yard has.</summary>
    private const int SignificantDigits = 2;

    /// <summary>The value of a measure with its unit and state ("at least 16 kN", "not reached", "unknown").</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="units">Units wanted.</param>
    public static string Value(Measure measure, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return measure.State switch
        {
            MeasureState.NotReached => "not reached",
            MeasureState.Unknown => "unknown",
            _ when double.IsNaN(measure.Value) => "unknown",
            MeasureState.AtLeast => "at least " + Quantity(measure.Value, measure.Unit, IsSmallLength(measure.Id), units),
            MeasureState.Indicative => Quantity(measure.Value, measure.Unit, IsSmallLength(measure.Id), units) + " (indicative)",
            _ => Quantity(measure.Value, measure.Unit, IsSmallLength(measure.Id), units),
        };
    }

    /// <summary>What there is to tell of the worst of a measure's range.</summary>
    /// <param name="measure">The measure.</param>
    public static WorstKind WorstOf(Measure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        if (measure.Low is not { } low || measure.High is not { } high)
        {
            return WorstKind.NoRange;
        }

        return measure.Worse switch
        {
            Worse.Larger when double.IsNaN(high) => WorstKind.Unknown,
            Worse.Smaller when double.IsNaN(low) => WorstKind.NotReached,
            Worse.Smaller when low <= 0 => WorstKind.NothingLeft,
            Worse.Larger or Worse.Smaller => measure.RangeCutShort ? WorstKind.Bound : WorstKind.Value,
            _ when double.IsNaN(low) || double.IsNaN(high) => WorstKind.Unknown,
            _ => WorstKind.Span,
        };
    }

    /// <summary>The worst value of a measure over the stated ranges, with the word that says whether it is a bound.</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="units">Units wanted.</param>
    public static string Worst(Measure measure, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(measure);
        string Show(double? value) => Quantity(value ?? double.NaN, measure.Unit, IsSmallLength(measure.Id), units);
        var worst = Show(measure.Worse == Worse.Larger ? measure.High : measure.Low);
        return WorstOf(measure) switch
        {
            WorstKind.NoRange => "no range",
            WorstKind.Unknown => "unknown",
            WorstKind.NotReached => "not reached",
            WorstKind.NothingLeft => "none",
            WorstKind.Bound => (measure.Worse == Worse.Larger ? "at least " : "at most ") + worst,
            WorstKind.Value => worst,
            _ => $"{Show(measure.Low)} to {Show(measure.High)}",
        };
    }

    /// <summary>A quantity in its natural size.</summary>
    /// <param name="value">Value in SI.</param>
    /// <param name="unit">SI unit; "" for none.</param>
    /// <param name="units">Units wanted.</param>
    public static string Quantity(double value, string unit, UnitSystem units) => Quantity(value, unit, false, units);

    /// <summary>A small movement: mm or in.</summary>
    /// <param name="metres">Value, m.</param>
    /// <param name="units">Units wanted.</param>
    public static string SmallLength(double metres, UnitSystem units) => Quantity(metres, "m", true, units);

    /// <summary>A time with two significant digits, but never finer than a hundredth of a second.</summary>
    /// <param name="seconds">Time, s.</param>
    public static string Time(double seconds) =>
        double.IsNaN(seconds) ? "unknown" : NoMinusZero(Math.Round(seconds, 2).ToString("0.00", CultureInfo.InvariantCulture)) + " s";

    /// <summary>A number with two significant digits: 15.63 is "16", 0.0996 is "0.10", 1234 is "1200".</summary>
    /// <param name="value">Any number.</param>
    public static string Number(double value)
    {
        if (double.IsNaN(value))
        {
            return "unknown";
        }

        if (double.IsInfinity(value))
        {
            return value > 0 ? "unlimited" : "minus unlimited";
        }

        if (value == 0)
        {
            return "0";
        }

        // The exponent is read from the rounded number: 0.0996 becomes 0.10, not 0.100.
        var rounded = value.ToString("E" + (SignificantDigits - 1), CultureInfo.InvariantCulture);
        var exponent = int.Parse(rounded[(rounded.IndexOf('E', StringComparison.Ordinal) + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        if (exponent < -6)
        {
            return "0";
        }

        var decimals = Math.Max(0, SignificantDigits - 1 - exponent);
        return double.Parse(rounded, CultureInfo.InvariantCulture).ToString("F" + decimals, CultureInfo.InvariantCulture);
    }

    /// <summary>A part of a whole as a percentage with two significant digits: 0.2 is "20 %".</summary>
    /// <param name="fraction">The part.</param>
    internal static string Percent(double fraction) => double.IsFinite(fraction) ? Number(100 * fraction) + " %" : "unknown";

    /// <summary>A relative change as a percentage; a small one is not shown as none.</summary>
    /// <param name="relative">|change| / |value|.</param>
    internal static string Moved(double relative) =>
        !double.IsFinite(relative) ? "unknown"
        : relative == 0 ? "0 %"
        : relative < SmallestMoved ? "below 0.0001 %"
        : (100 * relative).ToString("0.0000", CultureInfo.InvariantCulture) + " %";

    private const double SmallestMoved = 1e-6;

    /// <summary>What a reader must know about a run, with its quantities in the units wanted.</summary>
    /// <param name="run">The run.</param>
    /// <param name="units">Units wanted.</param>
    internal static IEnumerable<string> Warnings(DropRun run, UnitSystem units) => Written(run.Remarks, units);

    /// <summary>What a reader must know about a case, computed or not, with its quantities in the units wanted.</summary>
    /// <param name="dropCase">The case.</param>
    /// <param name="units">Units wanted.</param>
    public static IEnumerable<string> Warnings(DropCase dropCase, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        return Written(dropCase.Remarks, units);
    }

    private static IEnumerable<string> Written(IEnumerable<Remark> remarks, UnitSystem units) =>
        remarks.Select(r => Remark(r, units));

    /// <summary>A remark with its quantities in the units wanted.</summary>
    /// <param name="remark">The remark.</param>
    /// <param name="units">Units wanted.</param>
    internal static string Remark(Remark remark, UnitSystem units) => remark.Written(a => units == UnitSystem.Si ? a.ToString() : Quantity(a.Value, a.Unit, units));

    /// <summary>How a run ended, in words and in the units wanted.</summary>
    /// <param name="end">The end.</param>
    /// <param name="units">Units wanted.</param>
    internal static string Ending(RunEnd end, UnitSystem units) => Remark(EndWords.Of(end), units);

    /// <summary>"Not caught", or "Not over" for a drop that was still moving; null for one that hangs.</summary>
    /// <param name="end">The end.</param>
    internal static string? Unfinished(RunEnd end) => !end.CutsShort ? null : end.Kind is EndKind.EndTime or EndKind.Failed ? "Not over" : "Not caught";

    /// <summary>True for movements of the spar, which people think of in mm or inches.</summary>
    /// <param name="measureId">Id of a measure.</param>
    internal static bool IsSmallLength(string measureId) => measureId is MeasureIds.ClimberMovement or MeasureIds.TipDeflection;

    private static string Quantity(double value, string unit, bool small, UnitSystem units)
    {
        if (double.IsNaN(value))
        {
            return "unknown";
        }

        return Shown(value, unit, small, units).ToString();
    }

    /// <summary>A number and its unit, apart.</summary>
    /// <param name="value">Value in SI.</param>
    /// <param name="unit">SI unit.</param>
    /// <param name="small">True for a small movement.</param>
    /// <param name="units">Units wanted.</param>
    internal static ShownQuantity Shown(double value, string unit, bool small, UnitSystem units)
    {
        if (double.IsNaN(value))
        {
            return new("unknown", "");
        }

        var (shown, factor) = Natural(value, unit, small, units);
        return new(Number(value * factor), shown);
    }

    /// <summary>Prefixes chosen so that the number is easy to say.</summary>
    private static (string Unit, double Factor) Natural(double value, string unit, bool small, UnitSystem units)
    {
        var size = Math.Abs(value);
        if (unit == "m" && small)
        {
            return Units.SmallLength(units);
        }

        if (units == UnitSystem.Us)
        {
            return unit switch
            {
                "m/s2" => ("ft/s²", 1 / Units.MetresPerFoot),
                _ => Units.Plain(unit, units),
            };
        }

        return unit switch
        {
            "N" when size >= 995 => ("kN", 1e-3),
            "J" when size >= 995 => ("kJ", 1e-3),
            "N m" when size >= 995 => ("kN m", 1e-3),
            "Pa" when size >= 0.0995e6 => ("MPa", 1e-6),
            "m/s2" => ("m/s²", 1),
            _ => (unit, 1),
        };
    }

    private static string NoMinusZero(string text) => text.StartsWith('-') && text.AsSpan(1).IndexOfAnyExcept("0.") < 0 ? text[1..] : text;
}
