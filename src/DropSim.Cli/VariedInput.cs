using System.Globalization;
using DropSim.Scenarios;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>
/// "rope.slack=0..1 m:21" or "device.wraps=2,2.5,3" or "rigging-point.kind=ring,block": an input and the values it takes.
/// Values are written as in a scenario file; of a range the first end may leave the unit to the second.
/// </summary>
internal sealed record VariedInput(VariedAxis Axis, IReadOnlyList<KeyChange> Changes)
{
    /// <summary>Values of a range where no number is given.</summary>
    public const int DefaultCount = 25;

    /// <summary>Most values of one input.</summary>
    public const int MostValues = 1001;

    private const string Form = "\"key=from..to\", \"key=from..to:count\" or \"key=value,value,...\", for example \"rope.slack=0..1 m:21\"";

    /// <summary>Reads it; null and a problem where it cannot be read.</summary>
    /// <param name="text">What was written.</param>
    /// <param name="problems">Receives problems.</param>
    public static VariedInput? Read(string text, List<string> problems)
    {
        var before = problems.Count;
        void Problem(string found, string expected) => problems.Add($"--input \"{text}\": found {found}; expected {expected}.");

        var equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals <= 0 || equals == text.Length - 1)
        {
            Problem("no key with values", Form);
            return null;
        }

        var path = text[..equals].Trim();
        var values = text[(equals + 1)..].Trim();
        if (!KeyTable.ByPath.TryGetValue(path, out var key) || !KeyTable.MayChange(key))
        {
            var near = NearestName.Of(path, [.. KeyTable.All.Where(KeyTable.MayChange).Select(k => k.Path)]);
            Problem($"\"{path}\", which cannot be changed by name", "the path of a single value of a case, such as rope.slack" + (near is null ? "" : $". Nearest known name: {near}"));
            return null;
        }

        if (key.Kind != ValueKind.Quantity)
        {
            string[] words = [.. values.Split(',').Select(w => w.Trim()).Where(w => w.Length > 0)];
            if (words.Length < 2 || values.Contains("..", StringComparison.Ordinal))
            {
                Problem($"\"{values}\"", "at least two words with commas between them, such as rigging-point.kind=ring,block");
                return null;
            }

            return new(new(path, "", 1, "", [.. words.Select((_, i) => (double)i)], words, true), [.. words.Select(w => new KeyChange(path, w))]);
        }

        var (unit, numbers) = values.Contains("..", StringComparison.Ordinal) ? Range(key, values, Problem) : List(key, values, Problem);
        if (problems.Count > before)
        {
            return null;
        }

        if (numbers.Length < 2)
        {
            Problem($"\"{values}\"", "at least two different values");
            return null;
        }

        foreach (var bad in numbers.Where(n => n < key.Least || n > key.Most).Take(1))
        {
            Problem($"a value of {(bad / Factor(key, unit)).ToString("G4", CultureInfo.InvariantCulture)} {unit}".TrimEnd(), ValueReader.Limits(key));
            return null;
        }

        var factor = Factor(key, unit);
        string Shown(double si) => ((si / factor).ToString("G4", CultureInfo.InvariantCulture) + " " + unit).TrimEnd();
        return new(
            new(path, unit, factor, UnitTable.For(key.Quantity).Si, numbers, [.. numbers.Select(Shown)], false),
            [.. numbers.Select(n => KeyChange.Of(path, n))]);
    }

    private static (string Unit, double[] Numbers) Range(KeySpec key, string values, Action<string, string> problem)
    {
        var count = DefaultCount;
        var colon = values.LastIndexOf(':');
        if (colon >= 0)
        {
            if (!int.TryParse(values[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out count) || count is < 2 or > MostValues)
            {
                problem($"\"{values[(colon + 1)..]}\" values", FormattableString.Invariant($"a number from 2 to {MostValues}"));
                return ("", []);
            }

            values = values[..colon];
        }

        var ends = values.Split("..");
        if (ends.Length != 2)
        {
            problem($"\"{values}\"", Form);
            return ("", []);
        }

        var unit = UnitOf(ends[1]);
        var first = UnitOf(ends[0]).Length == 0 && unit.Length > 0 ? $"{ends[0].Trim()} {unit}" : ends[0].Trim();
        if (Number(key, first, problem) is not { } from || Number(key, ends[1].Trim(), problem) is not { } to)
        {
            return ("", []);
        }

        if (from >= to)
        {
            problem($"\"{values}\"", "a range from the smaller to the larger value");
            return ("", []);
        }

        // Ends exactly as they were given.
        return (unit, [.. Enumerable.Range(0, count).Select(i => i == count - 1 ? to : from + ((to - from) * i / (count - 1)))]);
    }

    private static (string Unit, double[] Numbers) List(KeySpec key, string values, Action<string, string> problem)
    {
        string[] parts = [.. values.Split(',').Select(v => v.Trim())];
        var unit = UnitOf(parts[^1]);
        var numbers = parts.Select(p => Number(key, UnitOf(p).Length == 0 && unit.Length > 0 ? $"{p} {unit}" : p, problem)).OfType<double>().Distinct().ToArray();
        return (unit, numbers);
    }

    private static double? Number(KeySpec key, string text, Action<string, string> problem)
    {
        if (QuantityParser.TryParse(text, key.Quantity, out var value, out var expected) && double.IsFinite(value))
        {
            return value;
        }

        problem($"\"{text}\"", expected.Length > 0 ? expected : "a finite value");
        return null;
    }

    /// <summary>The unit behind a number; "" for none.</summary>
    private static string UnitOf(string quantity) => quantity.Trim().TrimStart("+-0123456789.eE ".ToCharArray()).Trim();

    private static double Factor(KeySpec key, string unit) => unit.Length > 0 && UnitTable.For(key.Quantity).TryFactor(unit, out var factor) ? factor : 1;
}
