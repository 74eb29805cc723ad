using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Scenarios;
using DropSim.Scenarios.Editing;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Session;

/// <summary>The values of a case that a page can offer for change: every key of the format, with the value that is used.</summary>
internal static class InputList
{
    /// <summary>Asked first: species, girth, length, ring or block, wraps and catch.</summary>
    private static readonly string[] First = ["piece.species", "piece.butt-girth", "piece.length", "rigging-point.kind", "device.wraps", "catch.kind"];

    /// <summary>What a person would move next.</summary>
    private static readonly string[] Second =
    [
        "piece.kind", "piece.mass", "piece.weighed", "piece.crown", "start.kind", "start.release-angle", "spar.height", ScenarioEditor.BaseGirth, "spar.climber-mass",
        "spar.climber-below-cut", "rigging-point.below-cut", "rigging-point.stand-off", "rigging-point.bark", "rope.construction", "rope.diameter", "rope.slack",
        "catch.light", "catch.grip", ScenarioEditor.BrakeRun, ScenarioEditor.BrakeForce, "catch.brake-from", "catch.reaction-time", "catch.snag-after",
        "hold-test.mass", "hold-test.wraps", "hold-test.hand",
    ];

    private static readonly Dictionary<string, string> Labels = new(StringComparer.Ordinal)
    {
        ["piece.kind"] = "Log or top",
        ["piece.butt-girth"] = "Girth at the cut",
        ["piece.butt-diameter"] = "Diameter at the cut",
        ["piece.species"] = "Species",
        ["rigging-point.kind"] = "Ring, block or union",
        ["rigging-point.below-cut"] = "Rigging point below the cut",
        ["device.wraps"] = "Wraps",
        ["catch.wraps"] = "Wraps",
        ["catch.kind"] = "Catch",
        ["catch.light"] = "Light hand",
        ["catch.grip"] = "Grip at most",
        ["catch.brake-from"] = "Braking begins after",
        ["spar.height"] = "Height of the cut",
        ["spar.climber-mass"] = "Climber with gear",
        ["spar.climber-below-cut"] = "Climber's feet below the cut",
        ["hold-test.mass"] = "Hold test: mass",
        ["hold-test.wraps"] = "Hold test: wraps",
        ["hold-test.hand"] = "Hold test: hand pull",
        ["start.kind"] = "Face cut or pushed off",
    };

    /// <summary>The inputs of one case, those asked first at the head.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="index">Index of the case.</param>
    /// <param name="text">The text it was read from.</param>
    public static IReadOnlyList<InputDto> Of(Scenario scenario, int index, string text)
    {
        DropCase dropCase = scenario.Cases[index];
        Place place = new(scenario, dropCase, ScenarioText.Of(text));
        Dictionary<string, InputNote> notes = [];
        foreach (InputNote note in dropCase.Notes)
        {
            notes[note.Path] = note;
        }

        List<InputDto> inputs = [];
        foreach (KeySpec key in KeyTable.All.Where(k => k.Section is not ("" or "setup" or "review" or "obstacle") && k.Path != "catch.name" && k.Kind != ValueKind.Texts))
        {
            inputs.Add(Input(key, notes.GetValueOrDefault(key.Path), dropCase, place));
        }

        inputs.AddRange(Made(dropCase, place));
        return [.. inputs.OrderBy(i => i.Level).ThenBy(i => Order(i.Key))];
    }

    private static int Order(string key)
    {
        string asked = key == "catch.wraps" ? "device.wraps" : key;
        return Array.IndexOf(First, asked) is >= 0 and var first ? first : Array.IndexOf(Second, key);
    }

    private static InputDto Input(KeySpec key, InputNote? note, DropCase dropCase, Place place)
    {
        (double? value, double? low, double? high) = (null, null, null);
        object? shown = note?.Value;
        InUnits<UnitDto>? units = null;
        if (key.Kind == ValueKind.Quantity)
        {
            units = InputUnits.Of(key.Path, key.Quantity, key.Most);
            value = key.Path == "piece.butt-girth" ? Math.PI * dropCase.Input.Piece.ButtDiameter
                : key.Path == "piece.butt-diameter" ? dropCase.Input.Piece.ButtDiameter
                : Shown(note?.Number);
            shown = value is { } v && double.IsFinite(v) ? v : value is null ? null : "rigid";
            (low, high) = (Shown(note?.Low), Shown(note?.High));
        }
        else if (key.Kind == ValueKind.Items)
        {
            shown = place.Written(key) ?? note?.Value;
        }

        return new InputDto
        {
            Key = key.Path,
            Section = key.Section,
            SectionLabel = Wording.Capital(key.Section.Replace('-', ' ').Replace(".", ", ", StringComparison.Ordinal)),
            Label = Labels.GetValueOrDefault(key.Path) ?? Wording.Capital(key.Name.Replace('-', ' ')),
            NamesSection = NamesSection(key),
            Says = key.Says,
            Level = Level(key.Path, place),
            Kind = key.Kind switch { ValueKind.Quantity => "quantity", ValueKind.Choice => "choice", ValueKind.Flag => "flag", ValueKind.Items => "list", _ => "text" },
            Value = shown,
            Low = low,
            High = high,
            Shown = units is null || value is not { } number ? null : new(InputUnits.Show(number, units.Si), InputUnits.Show(number, units.Us)),
            Units = units,
            Least = double.IsFinite(key.Least) ? key.Least : null,
            Most = double.IsFinite(key.Most) ? key.Most : null,
            Slider = key.Kind == ValueKind.Quantity ? InputUnits.Slider(key.Path, value) : null,
            Choices = key.Kind == ValueKind.Choice ? key.Choices : null,
            ChoicesFrom = List(key),
            Given = note?.Given ?? place.IsGiven(key),
            Source = note?.Source ?? (key.Computed.Length > 0 ? key.Computed : "not used in this case"),
            Place = place.Of(key),
            Shared = key.Section != "catch" && place.Of(key) != "setup",
        };
    }

    /// <summary>Keys whose labels name their section.</summary>
    private static bool NamesSection(KeySpec key) => key.Section == "hold-test" || key.Path is "rigging-point.below-cut" or "catch.kind";

    /// <summary>The three numbers that stand for a list.</summary>
    private static IEnumerable<InputDto> Made(DropCase dropCase, Place place)
    {
        InputDto One(string key, string label, string says, double value, QuantityKind kind, KeySpec list, double most)
        {
            InUnits<UnitDto> units = InputUnits.Of(key, kind, most);
            return new InputDto
            {
                Key = key,
                Section = list.Section,
                SectionLabel = Wording.Capital(list.Section),
                Label = label,
                Says = says,
                Level = 2,
                Kind = "quantity",
                Value = value,
                Shown = new(InputUnits.Show(value, units.Si), InputUnits.Show(value, units.Us)),
                Units = units,
                Least = 0,
                Most = most,
                Slider = InputUnits.Slider(key, value),
                Given = place.IsGiven(list),
                Source = dropCase.Notes.LastOrDefault(n => n.Path.StartsWith(list.Path, StringComparison.Ordinal))?.Source ?? "",
                Place = place.Of(list),
                Shared = list.Section != "catch" && place.Of(list) != "setup",
            };
        }

        DropInput input = dropCase.Input;
        if (input.Catch.Kind != CatchKind.HardStop && input.Catch.Brake.Count > 0)
        {
            KeySpec brake = KeyTable.ByPath["catch.brake"];
            yield return One(ScenarioEditor.BrakeRun, "Rope given until the brake is on", "Rope run at which the braking plan reaches its last point; the other points move in proportion.", input.Catch.Brake[^1].Run, QuantityKind.Length, brake, 100);
            yield return One(ScenarioEditor.BrakeForce, "Hand when the brake is on", "Hand force at the last point of the braking plan.", input.Catch.Brake[^1].Force, QuantityKind.Force, brake, 3000);
        }

        yield return One(
            ScenarioEditor.BaseGirth, "Girth of the spar at its foot", "Girth at the lowest height measured; the other girths move in proportion.", Math.PI * input.Spar.Diameters[0].Diameter, QuantityKind.Length,
            KeyTable.ByPath["spar.girths"], 16);
    }

    private static int Level(string key, Place place) =>
        key == "catch.wraps" ? (place.IsGiven(KeyTable.ByPath[key]) ? 1 : 3)
        : key == "device.wraps" && place.IsGiven(KeyTable.ByPath["catch.wraps"]) ? 3
        : First.Contains(key) ? 1 : Second.Contains(key) ? 2 : 3;

    /// <summary>The list of the catalogue that a text is chosen from; null for none.</summary>
    private static string? List(KeySpec key) => key.Path switch
    {
        "piece.species" or "spar.species" => "species",
        "rope.construction" => "ropes",
        "rope.knot" => "knots",
        _ => null,
    };

    /// <summary>A number with the six digits that a note has.</summary>
    private static double? Shown(double? number) =>
        number is { } value && double.IsFinite(value) ? double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : number;

    /// <summary>Which part of the file gives a value.</summary>
    private sealed class Place(Scenario scenario, DropCase dropCase, ScenarioText? text)
    {
        private readonly string _setup = FormattableString.Invariant($"setup[{scenario.Setups.TakeWhile(s => s.Name != dropCase.Setup).Count()}].");
        private readonly string _catch = FormattableString.Invariant($"catch[{scenario.Cases.Select(c => c.CatchName).Distinct().TakeWhile(c => c != dropCase.CatchName).Count()}].");

        public string Of(KeySpec key) =>
            text is null ? "default"
            : key.Section == "catch" ? (Has(_catch, key) ? "catch" : "default")
            : Has(_setup, key) ? "setup" : Has("", key) ? "file" : "default";

        public bool IsGiven(KeySpec key) => Of(key) != "default";

        public string? Written(KeySpec key) => Of(key) switch
        {
            "catch" => text!.Value(_catch + key.Name),
            "setup" => text!.Value(_setup + key.Path),
            "file" => text!.Value(key.Path),
            _ => null,
        };

        private bool Has(string layer, KeySpec key) => KeyTable.All.Any(k =>
            (k.Path == key.Path || (key.Group.Length > 0 && k.Group == key.Group)) && text!.Has(layer + (layer == _catch ? k.Name : k.Path)));
    }
}
