using System.Globalization;
using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>A value that is used, with its range and where it comes from.</summary>
internal sealed record Known(double Value, double? Low, double? High, bool Given, string Source)
{
    /// <summary>True where the range comes from the file itself.</summary>
    public bool OwnRange => Given && Low is not null;
}

/// <summary>
/// The values of one case: what the file gives, else the default of the key table. Every value that is asked for is noted
/// with its source, so nothing is used in silence.
/// </summary>
internal sealed class CaseValues(GivenValues given, string file, string prefix, List<ScenarioProblem> problems)
{
    // Masses for which the light, medium and heavy columns of the defaults stand.
    private const double LightMass = 50, MediumMass = 150, HeavyMass = 500;
    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);
    private double _mass = MediumMass;
    private bool _top;

    public List<InputNote> Notes { get; } = [];

    public List<Remark> Remarks { get; } = [];

    public bool Has(string path) => given.Has(path);

    public GivenValue? Given(string path)
    {
        _asked.Add(path);
        return given.Find(path);
    }

    /// <summary>Warns of every value of the file that this case does not use.</summary>
    public void WarnOfUnused()
    {
        foreach (GivenValue value in given.All.Where(v => !_asked.Contains(v.Spec.Path) && v.Spec.Name != "name").OrderBy(v => v.Line))
        {
            Remarks.Add(new Remark($"{value.Spec.Path} (line {value.Line}) has no effect in this case."));
        }
    }

    /// <summary>Chooses the column of the defaults that depend on the size of the piece.</summary>
    public void SetSize(double mass, bool top)
    {
        _mass = mass;
        _top = top;
    }

    /// <summary>The given value, else the key's default.</summary>
    public Known Take(string path)
    {
        KeySpec spec = KeyTable.ByPath[path];
        Known known = Doubted(spec, spec.Kind == ValueKind.Quantity && HasDefault(spec) ? Default(spec) : null) ?? Default(spec);
        Note(path, known, spec.Quantity);
        return known;
    }

    /// <summary>The given value, else a computed default.</summary>
    public Known Take(string path, double value, double? low, double? high, string source)
    {
        KeySpec spec = KeyTable.ByPath[path];
        Known standard = new(value, low, high, false, source);
        Known known = Doubted(spec, standard) ?? standard;
        Note(path, known, spec.Quantity);
        return known;
    }

    /// <summary>The given value, else a default by size that is not the key's own.</summary>
    public Known Take(string path, SizeDefault bySize)
    {
        KeySpec spec = KeyTable.ByPath[path];
        Known standard = BySize(bySize, spec.Quantity);
        Known known = Doubted(spec, standard) ?? standard;
        Note(path, known, spec.Quantity);
        return known;
    }

    /// <summary>The given value, or null and a note that it is unknown.</summary>
    public double? Optional(string path)
    {
        KeySpec spec = KeyTable.ByPath[path];
        if (FromFile(spec) is { } known)
        {
            Note(path, known, spec.Quantity);
            return known.Value;
        }

        return null;
    }

    /// <summary>The given value or a value known from elsewhere; where neither is there the note says unknown.</summary>
    public double? OptionalOr(string path, double? value, string source)
    {
        if (Optional(path) is { } own)
        {
            return own;
        }

        if (value is { } number)
        {
            Note(path, new Known(number, null, null, false, source), KeyTable.ByPath[path].Quantity);
        }
        else
        {
            Notes.Add(new InputNote(path, "unknown", "", false, "not given"));
        }

        return value;
    }

    public string Word(string path)
    {
        KeySpec spec = KeyTable.ByPath[path];
        GivenValue? own = Given(path);
        string word = own?.Word ?? spec.Default?.Value ?? "";
        if (word.Length > 0)
        {
            Notes.Add(new InputNote(path, word, "", own is not null, own is null ? spec.Default!.Source : Line(own)));
        }

        return word;
    }

    public bool Flag(string path) => Word(path) == "true";

    /// <summary>Notes a value that has no key of its own or replaces one.</summary>
    public void Note(string path, Known known, QuantityKind quantity)
    {
        string unit = UnitTable.For(quantity).Si;
        string range = known.Low is { } low && known.High is { } high ? $"{Text(low, unit)} to {Text(high, unit)}" : "";
        bool ranged = range.Length > 0;
        Notes.Add(new InputNote(path, Text(known.Value, unit), range, known.Given, known.Source) { Number = known.Value, Low = ranged ? known.Low : null, High = ranged ? known.High : null });
    }

    public void Problem(string path, string found, string expected, string? nearest = null)
    {
        ScenarioProblem problem = new(file, given.Find(path)?.Line ?? 0, prefix + path, found, expected, nearest);
        if (!problems.Contains(problem) && problems.Count < 200)
        {
            problems.Add(problem);
        }
    }

    /// <summary>What the model refuses and no check of the reader has named: a file that can be read can be computed.</summary>
    public void LastLineOfDefence(DropInput input)
    {
        if (problems.Count == 0)
        {
            foreach (string refusal in DropCheck.Problems(input))
            {
                Problem("", "a drop that cannot be computed", refusal);
            }
        }
    }

    /// <summary>Where a value of the file stands.</summary>
    public static string Line(GivenValue value) => $"scenario file line {value.Line.ToString(CultureInfo.InvariantCulture)}";

    /// <summary>A value with its unit in invariant text, six digits.</summary>
    public static string Text(double value, string unit)
    {
        if (double.IsPositiveInfinity(value) && unit == UnitTable.For(QuantityKind.RotationalStiffness).Si)
        {
            return "rigid";
        }

        string number = double.IsPositiveInfinity(value) ? "unlimited" : value.ToString("G6", CultureInfo.InvariantCulture);
        return unit.Length == 0 ? number : $"{number} {unit}";
    }

    private Known? FromFile(KeySpec spec) =>
        Given(spec.Path) is { } own ? new Known(own.Number, own.Low, own.High, true, Line(own)) : null;

    private static bool HasDefault(KeySpec spec) => spec.BySize is not null || spec.Default is not null;

    /// <summary>
    /// A given value of an uncertain quantity without a range of its own is as much in doubt as the default would be: a
    /// coefficient in proportion, a length or an angle by the same steps.
    /// </summary>
    private Known? Doubted(KeySpec spec, Known? standard)
    {
        Known? own = FromFile(spec);
        bool scales = spec.Quantity is QuantityKind.Number or QuantityKind.Fraction;
        bool shifts = spec.Quantity is QuantityKind.Length or QuantityKind.Angle;
        if (own is null || own.Low is not null || !spec.MayRange || !(scales || shifts) || standard?.Low is not { } low || standard.High is not { } high)
        {
            return own;
        }

        double down = scales ? own.Value * low / standard.Value : own.Value + low - standard.Value;
        double up = scales ? own.Value * high / standard.Value : own.Value + high - standard.Value;
        return own with
        {
            Low = Math.Clamp(down, spec.Least, own.Value),
            High = Math.Clamp(up, own.Value, spec.Most),
            Source = own.Source + "; range of the default about it",
        };
    }

    private Known Default(KeySpec spec)
    {
        if (spec.BySize is { } bySize)
        {
            return BySize(bySize, spec.Quantity);
        }

        return spec.Default is { } constant
            ? new Known(Parse(constant.Value, spec.Quantity)!.Value, Parse(constant.Low, spec.Quantity), Parse(constant.High, spec.Quantity), false, constant.Source)
            : throw new InvalidOperationException($"{spec.Path} has no default.");
    }

    private Known BySize(SizeDefault sizes, QuantityKind quantity)
    {
        if (_top)
        {
            return new Known(Parse(sizes.Top.Value, quantity)!.Value, Parse(sizes.Top.Low, quantity), Parse(sizes.Top.High, quantity), false, sizes.Top.Source + " (top)");
        }

        bool lower = _mass <= MediumMass;
        (KeyDefault from, KeyDefault to) = lower ? (sizes.Light, sizes.Medium) : (sizes.Medium, sizes.Heavy);
        (double fromMass, double toMass) = lower ? (LightMass, MediumMass) : (MediumMass, HeavyMass);
        double part = Math.Clamp(Elementary.Log(_mass / fromMass) / Elementary.Log(toMass / fromMass), 0, 1);
        return new Known(Mix(from.Value, to.Value)!.Value, Mix(from.Low, to.Low), Mix(from.High, to.High), false,
            from.Source + " (by the log's mass, between those for 50, 150 and 500 kg)");

        double? Mix(string a, string b) => Parse(a, quantity) is { } x && Parse(b, quantity) is { } y ? Rounded(x + (part * (y - x))) : null;

        // Three figures: a default by size claims no more.
        static double Rounded(double value) => double.Parse(value.ToString("G3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    private static double? Parse(string text, QuantityKind quantity)
    {
        if (text.Length == 0)
        {
            return null;
        }

        return QuantityParser.TryParse(text, quantity, out double value, out string problem)
            ? value
            : throw new InvalidOperationException($"Default '{text}' of the key table: {problem}");
    }
}
