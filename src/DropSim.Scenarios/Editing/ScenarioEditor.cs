using System.Globalization;
using System.Text;
using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Editing;

/// <summary>One change of one value, as a person makes it beside a running drop.</summary>
/// <param name="Case">Index of the case that is looked at: it says which set-up and which catch are meant.</param>
/// <param name="Key">Key of the format ("rope.slack"), or one of the three of <see cref="ScenarioEditor"/>.</param>
/// <param name="Value">The value as a person writes it ("0.4 m"); null to return to the default.</param>
/// <param name="SetupOnly">True to change this set-up only, where the value is shared so far.</param>
public sealed record ScenarioEdit(int Case, string Key, string? Value, bool SetupOnly = false);

/// <summary>
/// Changes values in the text of a scenario, so that what is changed on a page is the same file that the command line reads.
/// Remarks and order are kept. Whether the new value can be used is for <see cref="ScenarioReader"/> to say.
/// </summary>
public static class ScenarioEditor
{
    /// <summary>Rope run at which the brake is fully on, m: the runs of the braking plan scale with it.</summary>
    public const string BrakeRun = "catch.brake.run";

    /// <summary>Hand force when the brake is fully on, N: no point of the plan is above it.</summary>
    public const string BrakeForce = "catch.brake.force";

    /// <summary>Girth of the spar at its lowest measured height, m: all its girths scale with it.</summary>
    public const string BaseGirth = "spar.base-girth";

    /// <summary>Makes changes one after the other.</summary>
    /// <param name="text">The text of the scenario.</param>
    /// <param name="file">Its file name.</param>
    /// <param name="edits">The changes.</param>
    /// <returns>The new text; the old one where it is not TOML.</returns>
    public static string Apply(string text, string file, IEnumerable<ScenarioEdit> edits)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(edits);
        foreach (ScenarioEdit edit in edits)
        {
            text = Apply(text, file, edit);
        }

        return text;
    }

    private static string Apply(string text, string file, ScenarioEdit edit)
    {
        if (edit.Key is BrakeRun or BrakeForce or BaseGirth)
        {
            return Listed(text, file, edit) is { } listed ? Apply(text, file, listed) : text;
        }

        if (!KeyTable.ByPath.TryGetValue(edit.Key, out KeySpec? spec) || ScenarioText.Of(text) is not { } scenario)
        {
            return text;
        }

        if (spec.Section == "catch" && scenario.Count("catch") == 0)
        {
            // The catches of a file that names none, written out.
            scenario.Append("catch", ("name", "\"hard-stop\""), ("kind", "\"hard-stop\""));
            scenario.Append("catch", ("name", "\"let-run\""), ("kind", "\"let-run\""));
        }

        string layer = Layer(scenario, spec, edit);
        string path = layer + spec.Path;
        if (spec.Section == "catch")
        {
            path = layer + spec.Path["catch.".Length..];
        }

        if (edit.Value is null)
        {
            scenario.Remove(path);
            return scenario.Text;
        }

        foreach (KeySpec twin in KeyTable.All.Where(k => spec.Group.Length > 0 && k.Group == spec.Group && k.Path != spec.Path && scenario.Has(layer + k.Path)))
        {
            // Half a test says nothing: it goes as a whole.
            IEnumerable<string> gone = twin.Section.EndsWith("-test", StringComparison.Ordinal) && twin.Section != spec.Section
                ? scenario.Below(layer + twin.Section)
                : [layer + twin.Path];
            foreach (string twinPath in gone)
            {
                scenario.Remove(twinPath);
            }
        }

        if (spec.MayRange && scenario.Has(path + ".value"))
        {
            MoveRange(scenario, path, spec, edit.Value);
        }
        else
        {
            scenario.Set(path, Literal(spec, edit.Value));
        }

        return scenario.Text;
    }

    /// <summary>Where a key is written: "", "setup[1]." or "catch[0].".</summary>
    private static string Layer(ScenarioText scenario, KeySpec spec, ScenarioEdit edit)
    {
        int catches = Math.Max(1, scenario.Count("catch") is 0 ? 2 : scenario.Count("catch"));
        if (spec.Section == "catch")
        {
            return FormattableString.Invariant($"catch[{edit.Case % catches}].");
        }

        int setups = scenario.Count("setup");
        SectionSpec section = KeyTable.Sections.First(s => s.Name == spec.Section);
        if (setups == 0 || !section.InSetup || section.Array)
        {
            return "";
        }

        string layer = FormattableString.Invariant($"setup[{Math.Min(edit.Case / catches, setups - 1)}].");
        bool own = KeyTable.All.Any(k => (k.Path == spec.Path || (spec.Group.Length > 0 && k.Group == spec.Group)) && scenario.Has(layer + k.Path));
        return own || edit.SetupOnly ? layer : "";
    }

    /// <summary>A range moves along with its value: in proportion where its ends are factors apart, by the same step otherwise.</summary>
    private static void MoveRange(ScenarioText scenario, string path, KeySpec spec, string value)
    {
        double? Number(string part) => scenario.Value($"{path}.{part}") is { } literal && QuantityParser.TryParse(literal.Trim('"', '\''), spec.Quantity, out double n, out _) ? n : null;

        (double? old, double? low, double? high) = (Number("value"), Number("low"), Number("high"));
        scenario.Set(path + ".value", Literal(spec, value));
        if (Number("value") is { } now && old is { } was && low is { } from && high is { } to && double.IsFinite(now) && double.IsFinite(was))
        {
            bool factors = from > 0 && to / from >= FactorRange;
            double Moved(double end) => double.IsFinite(end) ? Math.Clamp(factors ? end * now / was : end + now - was, spec.Least, spec.Most) : end;
            scenario.Set(path + ".low", Literal(spec, Text(Math.Min(Moved(from), now), spec.Quantity)));
            scenario.Set(path + ".high", Literal(spec, Text(Math.Max(Moved(to), now), spec.Quantity)));
        }
    }

    /// <summary>A range whose ends differ by this factor is one of factors, as in the range study.</summary>
    private const double FactorRange = 3;

    /// <summary>One number that stands for a list, turned into the list.</summary>
    private static ScenarioEdit? Listed(string text, string file, ScenarioEdit edit)
    {
        if (edit.Value is null)
        {
            return edit with { Key = edit.Key == BaseGirth ? "spar.girths" : "catch.brake" };
        }

        QuantityKind kind = edit.Key == BrakeForce ? QuantityKind.Force : QuantityKind.Length;
        Scenario? scenario = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), file).Scenario;
        if (scenario is null || edit.Case < 0 || edit.Case >= scenario.Cases.Count
            || !QuantityParser.TryParse(edit.Value, kind, out double value, out _) || !(value > 0))
        {
            return null;
        }

        DropInput input = scenario.Cases[edit.Case].Input;
        if (edit.Key == BaseGirth)
        {
            IReadOnlyList<DiameterAtHeight> diameters = input.Spar.Diameters;
            double factor = value / (Math.PI * diameters[0].Diameter);
            return edit with { Key = "spar.girths", Value = List(diameters.Select(d => $"{{ at = \"{Text(d.Height, QuantityKind.Length)}\", girth = \"{Text(Math.PI * d.Diameter * factor, QuantityKind.Length)}\" }}")) };
        }

        IReadOnlyList<BrakePoint> plan = input.Catch.Brake;
        double last = plan[^1].Run;
        IEnumerable<BrakePoint> moved = edit.Key == BrakeForce
            ? plan.Select((p, i) => p with { Force = i == plan.Count - 1 ? value : Math.Min(p.Force, value) })
            : last > 0 ? plan.Select(p => p with { Run = p.Run * value / last })
            : [new BrakePoint(0, input.Catch.LightForce), new BrakePoint(value, plan[^1].Force)];
        return edit with { Key = "catch.brake", Value = List(moved.Select(p => $"{{ run = \"{Text(p.Run, QuantityKind.Length)}\", force = \"{Text(p.Force, QuantityKind.Force)}\" }}")) };
    }

    private static string List(IEnumerable<string> items) => $"[ {string.Join(", ", items)} ]";

    private static string Text(double value, QuantityKind kind)
    {
        if (double.IsPositiveInfinity(value))
        {
            return "rigid";
        }

        string number = value.ToString("0.######", CultureInfo.InvariantCulture);
        return UnitTable.For(kind).Si is { Length: > 0 } unit && !UnitTable.For(kind).BareAllowed ? $"{number} {unit}" : number;
    }

    private static string Literal(KeySpec spec, string value)
    {
        value = value.Trim();
        return spec.Kind switch
        {
            ValueKind.Flag when value is "true" or "false" => value,
            ValueKind.Quantity when UnitTable.For(spec.Quantity).BareAllowed && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number)
                => number.ToString("R", CultureInfo.InvariantCulture),
            ValueKind.Items or ValueKind.Texts when value.StartsWith('[') && TextPlaces.Of("key = " + value) is { Tables.Count: 0 } list && list.Keys.Count(k => k.InlineParent is null) == 1 => value,
            _ => ScenarioText.Quoted(value),
        };
    }
}
