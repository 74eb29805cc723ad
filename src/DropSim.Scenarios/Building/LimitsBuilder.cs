using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>The limits that a crew sets itself.</summary>
internal static class LimitsBuilder
{
    /// <summary>Limits as shares of a breaking strength, which follow a design factor.</summary>
    private static readonly string[] ByDesignFactor = ["rope", "sling"];

    public static List<StatedLimit> Build(CaseValues values, double? designFactor)
    {
        List<StatedLimit> limits = [];
        foreach (KeySpec spec in KeyTable.Of("limits"))
        {
            // A limit is no input of the drop, so it is not noted among the inputs that were used.
            int noted = values.Notes.Count;
            Known known = designFactor is { } factor && ByDesignFactor.Contains(spec.Name)
                ? values.Take(spec.Path, 1 / factor, null, null, "1 / strength.design-factor")
                : values.Take(spec.Path);
            values.Notes.RemoveRange(noted, values.Notes.Count - noted);
            bool changed = values.Given(spec.Path) is { Line: 0 };
            limits.Add(new StatedLimit(spec.Name, known.Value, known.Given, changed ? "an option" : known.Source));
        }

        return limits;
    }
}
