using System.Globalization;
using DropSim.Scenarios.Toml;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Keys;

/// <summary>Checks a table of the file against the key table and reports everything that is wrong with it.</summary>
internal sealed class ValueReader(string file, List<ScenarioProblem> problems)
{
    /// <summary>Longest text kept; a description needs no more.</summary>
    private const int LongestText = 4000;

    /// <summary>More problems than this help nobody.</summary>
    private const int MostProblems = 200;

    /// <summary>Reads a section and its sub-sections into <paramref name="into"/>.</summary>
    public void ReadSection(SourceTable table, string section, string prefix, GivenValues into)
    {
        foreach ((string key, SourceNode node) in table.Entries)
        {
            string path = section.Length == 0 ? key : $"{section}.{key}";
            string shown = prefix + path;
            if (KeyTable.ByPath.TryGetValue(path, out KeySpec? spec) && spec.Section == section)
            {
                if (ReadValue(spec, node, shown) is { } value)
                {
                    into.Add(value);
                }
            }
            else if (KeyTable.Sections.Any(s => s.Name == path && section.Length > 0) && node is SourceTable sub)
            {
                ReadSection(sub, path, prefix, into);
            }
            else
            {
                Unknown(key, section, node, shown);
            }
        }

        foreach (KeySpec spec in KeyTable.Of(section).Where(k => k.Group.Length > 0 && into.Has(k.Path)))
        {
            KeySpec? other = KeyTable.All.FirstOrDefault(k => k.Group == spec.Group && k.Path != spec.Path && into.Has(k.Path)
                && (k.Section != spec.Section || string.CompareOrdinal(k.Name, spec.Name) < 0));
            if (other is not null)
            {
                GivenValue value = into.Find(spec.Path)!;
                Add(value.Line, prefix + spec.Path, $"both {spec.Path} and {other.Path} (line {Line(into.Find(other.Path)!.Line)})", "one of the two, because they say the same thing");
            }
        }
    }

    /// <summary>Reads a value laid over the file; null and a problem at line 0 where it does not fit.</summary>
    public GivenValue? ReadChange(KeyChange change)
    {
        if (!KeyTable.ByPath.TryGetValue(change.Path, out KeySpec? spec) || !KeyTable.MayChange(spec))
        {
            IReadOnlyList<string> known = [.. KeyTable.All.Where(KeyTable.MayChange).Select(k => k.Path)];
            Add(0, change.Path, "a change of something that cannot be changed by name", "the path of a single value of a case, such as rope.slack", NearestName.Of(change.Path, known));
            return null;
        }

        if (double.IsNaN(change.Si))
        {
            ScalarKind kind = spec.Kind == ValueKind.Flag && change.Text is "true" or "false" ? ScalarKind.Flag : ScalarKind.Text;
            return ReadValue(spec, new SourceScalar(0, kind, change.Text), spec.Path);
        }

        if (spec.Kind != ValueKind.Quantity || change.Si < spec.Least || change.Si > spec.Most)
        {
            Add(0, spec.Path, change.Text, spec.Kind == ValueKind.Quantity ? Limits(spec) : "a word");
            return null;
        }

        return new GivenValue(spec, 0) { Number = change.Si };
    }

    public void Unknown(string key, string section, SourceNode node, string shown)
    {
        if (problems.Count >= MostProblems)
        {
            return;
        }

        List<string> known = [.. KeyTable.Of(section).Select(k => k.Name)
            .Concat(KeyTable.Sections.Where(s => IsChild(s.Name, section)).Select(s => section.Length == 0 ? s.Name : s.Name[(section.Length + 1)..]))
            .Concat(section == "setup" ? KeyTable.Sections.Where(s => s.InSetup && !s.Name.Contains('.', StringComparison.Ordinal)).Select(s => s.Name) : [])];
        string? near = NearestName.Of(key, known);
        if (near is null)
        {
            near = NearestName.Of(key, [.. KeyTable.All.Select(k => k.Path.Split('.')[^1])]) is { } name
                ? KeyTable.All.First(k => k.Path.Split('.')[^1] == name).Path
                : null;
        }

        string list = string.Join(", ", known.Take(30));
        Add(node.Line, shown, "an unknown name", section.Length == 0 ? $"one of the tables and keys {list}" : $"a key of [{section}]: {list}", near);
    }

    private static bool IsChild(string name, string section) =>
        section.Length == 0
            ? name.Length > 0 && !name.Contains('.', StringComparison.Ordinal)
            : name.StartsWith(section + ".", StringComparison.Ordinal);

    private GivenValue? ReadValue(KeySpec spec, SourceNode node, string shown)
    {
        switch (spec.Kind)
        {
            case ValueKind.Quantity:
                return ReadQuantity(spec, node, shown);
            case ValueKind.Items:
                return ReadItems(spec, node, shown);
            case ValueKind.Texts:
                if (node is SourceList list && list.Items.Count <= spec.MostItems && list.Items.All(i => i is SourceScalar { Kind: ScalarKind.Text, Text.Length: <= LongestText }))
                {
                    return new GivenValue(spec, node.Line) { Texts = [.. list.Items.Cast<SourceScalar>().Select(s => Printable.OneLine(s.Text))] };
                }

                Add(node.Line, shown, Found(node), $"a list of at most {Line(spec.MostItems)} texts, for example [\"first\", \"second\"]");
                return null;
            case ValueKind.Flag:
                if (node is SourceScalar { Kind: ScalarKind.Flag } flag)
                {
                    return new GivenValue(spec, node.Line) { Word = flag.Text };
                }

                Add(node.Line, shown, Found(node), "true or false, without quotes");
                return null;
            case ValueKind.Choice:
                if (node is SourceScalar { Kind: ScalarKind.Text } word && spec.Choices.FirstOrDefault(c => c.Equals(word.Text.Trim().Replace(' ', '-').Replace('_', '-'), StringComparison.OrdinalIgnoreCase)) is { } choice)
                {
                    return new GivenValue(spec, node.Line) { Word = choice };
                }

                Add(node.Line, shown, Found(node), "one of " + string.Join(", ", spec.Choices.Select(c => $"\"{c}\"")), node is SourceScalar w ? NearestName.Of(w.Text, spec.Choices) : null);
                return null;
            default:
                if (node is SourceScalar { Kind: ScalarKind.Text, Text.Length: <= LongestText } text)
                {
                    return new GivenValue(spec, node.Line) { Word = Printable.OneLine(text.Text) };
                }

                Add(node.Line, shown, Found(node), $"text in quotes, at most {Line(LongestText)} letters");
                return null;
        }
    }

    private GivenValue? ReadQuantity(KeySpec spec, SourceNode node, string shown)
    {
        if (node is not SourceTable table)
        {
            return Quantity(spec, node, shown) is { } number ? new GivenValue(spec, node.Line) { Number = number } : null;
        }

        if (!spec.MayRange)
        {
            Add(node.Line, shown, "a table", "a single value: this key takes no range");
            return null;
        }

        foreach ((string key, SourceNode child) in table.Entries.Where(e => e.Key is not ("value" or "low" or "high")))
        {
            Add(child.Line, $"{shown}.{key}", "an unknown name", "value, low and high", NearestName.Of(key, ["value", "low", "high"]));
        }

        double? value = Bound("value");
        double? low = Bound("low");
        double? high = Bound("high");
        if (value is null || low is null || high is null)
        {
            return null;
        }

        if (low > value || value > high)
        {
            Add(node.Line, shown, "a range whose low, value and high do not follow each other", "low <= value <= high");
            return null;
        }

        return new GivenValue(spec, node.Line) { Number = value.Value, Low = low, High = high };

        double? Bound(string key)
        {
            if (table.Find(key) is { } child)
            {
                return Quantity(spec, child, $"{shown}.{key}");
            }

            Add(node.Line, $"{shown}.{key}", "nothing", "all three of value, low and high");
            return null;
        }
    }

    /// <summary>Reads a quantity of a key; null and a problem where it does not fit.</summary>
    public double? Quantity(KeySpec spec, SourceNode node, string shown)
    {
        UnitSet units = UnitTable.For(spec.Quantity);
        if (node is not SourceScalar { Kind: ScalarKind.Text or ScalarKind.Number } scalar)
        {
            Add(node.Line, shown, Found(node), $"a quantity, for example \"{units.Example}\"");
            return null;
        }

        if (!QuantityParser.TryParse(scalar.Text, spec.Quantity, out double value, out string problem))
        {
            Add(node.Line, shown, Found(node), problem);
            return null;
        }

        if (value < spec.Least || value > spec.Most)
        {
            Add(node.Line, shown, Found(node), Limits(spec));
            return null;
        }

        return value;
    }

    /// <summary>The limits of a key in words.</summary>
    public static string Limits(KeySpec spec)
    {
        (string unit, double scale) = spec.Quantity switch
        {
            QuantityKind.Angle => ("deg", 180 / Math.PI),
            QuantityKind.Stress => ("MPa", 1e-6),
            QuantityKind.Force when spec.Most >= 1e4 => ("kN", 1e-3),
            _ => (UnitTable.For(spec.Quantity).Si, 1.0),
        };
        string suffix = unit.Length > 0 ? " " + unit : "";
        string Text(double value) => (value * scale).ToString("G4", CultureInfo.InvariantCulture);
        return (double.IsFinite(spec.Least), double.IsFinite(spec.Most)) switch
        {
            (true, true) => $"{Text(spec.Least)} to {Text(spec.Most)}{suffix}",
            (true, false) => $"{Text(spec.Least)}{suffix} or more",
            (false, true) => $"{Text(spec.Most)}{suffix} or less",
            _ => "any value",
        };
    }

    private GivenValue? ReadItems(KeySpec spec, SourceNode node, string shown)
    {
        if (node is not SourceList list || list.Items.Count == 0 || list.Items.Count > spec.MostItems || list.Items.Any(i => i is not SourceTable))
        {
            Add(node.Line, shown, Found(node), $"a list of 1 to {Line(spec.MostItems)} small tables with {string.Join(", ", spec.Items.Select(i => i.Name))}");
            return null;
        }

        int before = problems.Count;
        List<IReadOnlyDictionary<string, double>> items = [];
        for (int i = 0; i < list.Items.Count; i++)
        {
            SourceTable table = (SourceTable)list.Items[i];
            Dictionary<string, double> item = [];
            string at = $"{shown}[{Line(i + 1)}]";
            foreach ((string key, SourceNode child) in table.Entries)
            {
                if (spec.Items.FirstOrDefault(k => k.Name == key) is not { } known)
                {
                    Add(child.Line, $"{at}.{key}", "an unknown name", string.Join(", ", spec.Items.Select(k => k.Name)), NearestName.Of(key, [.. spec.Items.Select(k => k.Name)]));
                }
                else if (Quantity(known, child, $"{at}.{key}") is { } number)
                {
                    item[key] = number;
                }
            }

            foreach (KeySpec missing in spec.Items.Where(k => k.Required && table.Find(k.Name) is null))
            {
                Add(table.Line, $"{at}.{missing.Name}", "nothing", missing.Says);
            }

            items.Add(item);
        }

        return problems.Count == before ? new GivenValue(spec, node.Line) { Items = items } : null;
    }

    public void Add(int line, string path, string found, string expected, string? nearest = null)
    {
        if (problems.Count < MostProblems)
        {
            problems.Add(new ScenarioProblem(file, line, path, found, expected, nearest));
        }
    }

    private static string Found(SourceNode node) => node switch
    {
        SourceScalar { Kind: ScalarKind.Text } text => $"\"{(text.Text.Length > 60 ? text.Text[..60] + "..." : text.Text)}\"",
        SourceScalar scalar => scalar.Text.Length > 60 ? scalar.Text[..60] + "..." : scalar.Text,
        SourceList => "a list",
        _ => "a table",
    };

    private static string Line(int line) => line.ToString(CultureInfo.InvariantCulture);
}
