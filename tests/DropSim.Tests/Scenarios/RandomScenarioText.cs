using System.Globalization;
using System.Text;
using CsCheck;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Tests.Scenarios;

/// <summary>
/// Random scenario files: one of a few ordinary ones in which some keys, any of the key table, were set to anything within their
/// limits, the limits themselves included. What a key may be is read from the key table, so that a key that comes new is covered.
/// </summary>
internal sealed class RandomScenarioText
{
    /// <summary>Most keys changed in one file: with more, nearly every file contradicts itself somewhere and is refused.</summary>
    private const int MostChanges = 8;

    /// <summary>A value of a key without an upper limit: a root this stiff, N m/rad, is rigid to every digit.</summary>
    private const double Unlimited = 1e10;

    /// <summary>Limits that differ by more than this factor are spread in the logarithm.</summary>
    private const double FactorRange = 10;

    private static readonly string[] s_axes = ["x", "z"];

    private readonly PCG _random;
    private readonly Dictionary<string, string> _values;

    private RandomScenarioText(PCG random)
    {
        _random = random;
        _values = new(Bases[Below(Bases.Length)].Select(v => KeyValuePair.Create(v.Path, v.Value)), StringComparer.Ordinal);
    }

    /// <summary>The text with a number; it may still contradict itself.</summary>
    /// <param name="number">Which scenario.</param>
    /// <param name="attempt">Which attempt at it.</param>
    /// <param name="keys">The keys that it sets.</param>
    public static string Text(int number, int attempt, out IReadOnlyCollection<string> keys)
    {
        var scenario = new RandomScenarioText(new PCG((uint)(attempt + 1), ((ulong)number * 7_919) + 54_321));
        var changes = 1 + scenario.Below(MostChanges);
        for (var k = 0; k < changes; k++)
        {
            var key = Changeable[scenario.Below(Changeable.Length)];
            scenario.Set(key, scenario.Value(key));
        }

        keys = scenario._values.Keys;
        return scenario.Written();
    }

    /// <summary>Keys that a random file may set: all that say something about the drop.</summary>
    public static KeySpec[] Changeable { get; } =
    [
        .. KeyTable.All.Where(k => k.Section is not ("" or "setup" or "review")
            && k.Kind is not (ValueKind.Text or ValueKind.Texts)
            && k.Path is not ("piece.kind" or "catch.name" or "obstacle.name")),
    ];

    private static (string Path, string Value)[][] Bases { get; } =
    [
        Base("log", "1.25 m", "0.40 m", "9 m", "0.55 m", "ring", "14 mm", 2.5),
        Base("log", "1.15 m", "0.24 m", "10 m", "0.40 m", "block", "12 mm", 1.5),
        Base("log", "1.6 m", "0.65 m", "7 m", "0.85 m", "ring", "19 mm", 3.5),
        [.. Base("top", "6 m", "0.22 m", "12 m", "0.45 m", "block", "14 mm", 2.5), ("piece.mass", "\"150 kg\"")],
        [.. Base("log", "1.25 m", "0.40 m", "9 m", "0.55 m", "natural-union", "14 mm", 1.5), ("rigging-point.below-cut", "\"0.6 m\""), ("rigging-point.stand-off", "\"0.15 m\"")],
    ];

    private static (string Path, string Value)[] Base(
        string kind, string length, string butt, string height, string foot, string point, string rope, double wraps) =>
    [
        ("piece.kind", $"\"{kind}\""), ("piece.length", $"\"{length}\""), ("piece.butt-diameter", $"\"{butt}\""), ("spar.height", $"\"{height}\""),
        ("spar.diameters", $"[ {{ at = \"0 m\", diameter = \"{foot}\" }}, {{ at = \"{height}\", diameter = \"{butt}\" }} ]"),
        ("rigging-point.kind", $"\"{point}\""), ("rope.construction", "\"polyester 16-strand\""), ("rope.diameter", $"\"{rope}\""),
        ("device.wraps", wraps.ToString(CultureInfo.InvariantCulture)), ("catch.kind", "\"let-run\""),
    ];

    private int Below(int n) => (int)(Share() * n);

    private double Share() => (_random.Next() >> 1) / 2147483648.0;

    private void Set(KeySpec key, string value)
    {
        if (key.Group.Length > 0)
        {
            foreach (var other in KeyTable.All.Where(k => k.Group == key.Group && k != key))
            {
                _values.Remove(other.Path);
            }
        }

        _values[key.Path] = value;
        foreach (var partner in KeyTable.Of(key.Section).Where(k => Together.Contains(key.Section) && !_values.ContainsKey(k.Path)))
        {
            // A test or a take-up or an obstacle is whole or not there.
            _values[partner.Path] = partner.Kind == ValueKind.Text ? "\"something\"" : Value(partner);
        }

        if (key.Section == KeyTable.UncertainSection)
        {
            SetDistribution(key);
        }

        if (key.Section == "obstacle")
        {
            // Two ends at once, in order: each alone would be right by chance only.
            foreach (var axis in s_axes)
            {
                var (least, most) = (KeyTable.ByPath[$"obstacle.{axis}-from"].Least, KeyTable.ByPath[$"obstacle.{axis}-from"].Most);
                var ends = new[] { Pick(least, most), Pick(least, most) }.Order().ToArray();
                _values[$"obstacle.{axis}-from"] = Written(QuantityKind.Length, ends[0]);
                _values[$"obstacle.{axis}-to"] = Written(QuantityKind.Length, ends[1]);
            }
        }

        foreach (var (one, other) in Pairs)
        {
            if (key.Path == one || key.Path == other)
            {
                _values.TryAdd(one, Value(KeyTable.ByPath[one]));
                _values.TryAdd(other, Value(KeyTable.ByPath[other]));
            }
        }
    }

    /// <summary>A whole distribution of one of a few inputs: each of its keys alone would be refused.</summary>
    private void SetDistribution(KeySpec key)
    {
        var (input, least, most, kind) = Spread[Below(Spread.Length)];
        var ends = new[] { Pick(least, most), Pick(least, most), Pick(least, most) }.Order().ToArray();
        _values["uncertain.key"] = $"\"{input}\"";
        _values["uncertain.low"] = Written(kind, ends[0]);
        _values["uncertain.mid"] = Written(kind, ends[1]);
        _values["uncertain.high"] = Written(kind, ends[2]);
        if (key.Name == "distribution" || !_values.ContainsKey("uncertain.distribution"))
        {
            _values["uncertain.distribution"] = Value(KeyTable.ByPath["uncertain.distribution"]);
        }
    }

    private static (string Input, double Least, double Most, QuantityKind Kind)[] Spread { get; } =
    [
        ("rope.slack", 0.01, 2, QuantityKind.Length), ("catch.grip", 50, 800, QuantityKind.Force), ("rigging-point.friction", 0.05, 0.5, QuantityKind.Number),
    ];

    private static (string One, string Other)[] Pairs { get; } = [("catch.wraps-change-at", "catch.wraps-after")];

    private static HashSet<string> Together { get; } = ["hold-test", "sway-test", "stretch-test", "rope.hitch-take-up", "rope.wraps-take-up", "obstacle"];

    private string Value(KeySpec key) => key.Kind switch
    {
        ValueKind.Choice => $"\"{key.Choices[Below(key.Choices.Count)]}\"",
        ValueKind.Flag => Below(2) == 0 ? "true" : "false",
        ValueKind.Items => Rows(key),
        _ => Number(key, key.Least, key.Most),
    };

    /// <summary>One to four rows whose values rise from row to row, as profiles, plans and curves must.</summary>
    private string Rows(KeySpec key)
    {
        var rows = 1 + Below(4);
        var columns = key.Items.Select(item => Enumerable.Range(0, rows).Select(_ => Pick(item.Least, item.Most)).Order().ToArray()).ToArray();
        var profile = key.Section == "spar";
        return "[ " + string.Join(", ", Enumerable.Range(0, rows).Select(r =>
            "{ " + string.Join(", ", key.Items.Select((item, c) => $"{item.Name} = {Written(item.Quantity, columns[c][profile && c == 1 ? rows - 1 - r : r])}")) + " }")) + " ]";
    }

    private string Number(KeySpec key, double least, double most)
    {
        var value = Pick(least, most);
        value = key.Path is "computation.modes" or "computation.elements" ? Math.Round(value) : key.Quantity == QuantityKind.Turns ? Math.Round(4 * value) / 4 : value;
        return Written(key.Quantity, value);
    }

    private double Pick(double least, double most)
    {
        most = Math.Min(most, Unlimited);
        var (which, u) = (Share(), Share());
        return which < 0.15 ? least
            : which < 0.3 ? most
            : least > 0 && most / least > FactorRange ? Math.Clamp(least * Math.Pow(most / least, u), least, most)
            : least == 0 && which < 0.65 ? most * Math.Pow(10, -4 * u)
            : least + (u * (most - least));
    }

    private static string Written(QuantityKind kind, double value)
    {
        var unit = UnitTable.For(kind).Si;
        var number = value.ToString("R", CultureInfo.InvariantCulture);
        return kind is QuantityKind.Number or QuantityKind.Fraction or QuantityKind.Turns ? number : $"\"{number} {unit}\"";
    }

    private string Written()
    {
        var text = new StringBuilder();
        foreach (var section in KeyTable.Sections)
        {
            var keys = _values.Where(v => KeyTable.ByPath[v.Key].Section == section.Name).ToArray();
            if (keys.Length == 0)
            {
                continue;
            }

            text.Append(section.Array ? $"[[{section.Name}]]\n" : $"[{section.Name}]\n");
            foreach (var (path, value) in keys)
            {
                text.Append(CultureInfo.InvariantCulture, $"{KeyTable.ByPath[path].Name} = {value}\n");
            }
        }

        return text.ToString();
    }
}
