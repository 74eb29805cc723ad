using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Scenarios.Editing;
using DropSim.Scenarios.Keys;

namespace DropSim.Session;

/// <summary>Values that go with others.</summary>
internal static class Companions
{
    /// <summary>
    /// An edit with those that it needs: a natural union has no default place, so it stands where the ring or block stood
    /// until somebody says where the fork is; an efficiency goes when the block goes; a hard stop leaves a hand nothing to do.
    /// </summary>
    public static IEnumerable<ScenarioEdit> Of(ScenarioEdit edit, Scenario? scenario)
    {
        yield return edit;
        if (scenario is null || edit.Case < 0 || edit.Case >= scenario.Cases.Count)
        {
            yield break;
        }

        DropCase dropCase = scenario.Cases[edit.Case];
        bool Given(string key) => dropCase.Notes.Any(n => n.Path == key && n.Given);
        if (edit.Key == "rigging-point.kind")
        {
            RiggingPointInput point = dropCase.Input.RiggingPoint;
            foreach ((string key, double value) in new[] { ("rigging-point.below-cut", point.BelowCut), ("rigging-point.stand-off", point.StandOff) })
            {
                if (edit.Value == "natural-union" && !Given(key))
                {
                    yield return edit with { Key = key, Value = FormattableString.Invariant($"{value:0.####} m") };
                }
            }

            if (edit.Value != "block" && Given("rigging-point.efficiency"))
            {
                yield return edit with { Key = "rigging-point.efficiency", Value = null };
            }
        }

        if (edit.Key == "catch.kind" && edit.Value == "hard-stop")
        {
            foreach (string key in HandsDoing.Where(Given))
            {
                yield return edit with { Key = key, Value = null };
            }
        }
    }

    /// <summary>True where an edit may need others.</summary>
    public static bool MayNeed(string key) => key is "rigging-point.kind" or "catch.kind";

    private static readonly string[] HandsDoing = ["catch.brake", "catch.snag-after", "catch.wraps-change-at", "catch.wraps-after", "catch.hand-lost-at", "catch.grip-early-at"];

    /// <summary>What was given differently for two runs.</summary>
    public static IReadOnlyList<ChangedDto> Changed(StoredRun first, StoredRun second, UnitSystem units)
    {
        List<ChangedDto> changed = [];
        foreach (InputDto one in first.Inputs.Where(i => i.Kind != "list"))
        {
            InputDto? other = second.Inputs.FirstOrDefault(i => i.Key == one.Key);
            if (other is not null && (one.Given || other.Given) && !Equals(one.Value, other.Value) && !Twin(one, changed))
            {
                changed.Add(new(one.Key, one.Label, Text(one, units), Text(other, units)));
            }
        }

        return changed;
    }

    /// <summary>True where the same thing was said already in another way (girth and diameter).</summary>
    private static bool Twin(InputDto input, List<ChangedDto> changed) =>
        KeyTable.ByPath.TryGetValue(input.Key, out KeySpec? key) && key.Group.Length > 0
        && changed.Any(c => KeyTable.ByPath.TryGetValue(c.Key, out KeySpec? other) && other.Group == key.Group);

    private static string Text(InputDto input, UnitSystem units) =>
        input.Shown is { } shown ? (units == UnitSystem.Us ? shown.Us : shown.Si)
        : input.Value is string word && word.Length > 0 ? word.Replace('-', ' ')
        : input.Kind == "quantity" && input.Value is null ? "not given" : input.Value?.ToString() ?? "not given";
}
