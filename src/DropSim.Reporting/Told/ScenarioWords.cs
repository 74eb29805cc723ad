using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>What a scenario says, in the order in which a reader needs it: the finding, the table, what else changes the mind.</summary>
/// <param name="Findings">One paragraph a comparison; how a single case ends where there is none.</param>
/// <param name="Heads">Heads of the table.</param>
/// <param name="Rows">A row a case.</param>
/// <param name="Notes">Notes, each once.</param>
internal sealed record ScenarioWords(
    IReadOnlyList<string> Findings, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string> Notes)
{
    /// <summary>The words of a scenario that was drawn.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="units">Units of the text.</param>
    public static ScenarioWords Of(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        var told = result.Told ?? throw new ArgumentException("The scenario was not drawn.", nameof(result));
        List<string> findings = [];
        if (told.Pairs.Count > MostPairs)
        {
            // Many cases: how each ends stands in the table; told at length is what can be compared.
            findings.AddRange(told.Cases.Select(c => PairWords.Endings(c, ToldTable.Name(result, c), units)).OfType<string>());
        }

        foreach (var pair in told.Pairs.Where(p => told.Pairs.Count <= MostPairs || p[MeasureIds.RiggingPointForce].Verdict != PairVerdict.Endings).Take(MostPairs))
        {
            findings.Add(string.Join(' ', [.. PairWords.Of(result, pair, units, told.Pairs.Count <= MostPairs), .. Stress(result, [told.Cases[pair.First], told.Cases[pair.Second]], units)]));
        }

        if (told.Pairs.Count == 0)
        {
            findings.AddRange(told.Cases.Select(c => string.Join(' ', [.. Alone(c, ToldTable.Name(result, c), units), .. Stress(Named(result, [c]), units)])));
        }

        var (heads, rows) = ToldTable.Of(result, units);
        return new(findings, heads, rows, NotesOf(result, told, units));
    }

    /// <summary>More comparisons than this are for the details.</summary>
    private const int MostPairs = 3;

    private static IEnumerable<(ToldCase Told, string Name)> Named(ScenarioResult result, IEnumerable<ToldCase> cases) => cases.Select(c => (c, ToldTable.Name(result, c)));

    /// <summary>A drop with nothing beside it.</summary>
    internal static IEnumerable<string> Alone(ToldCase told, string name, UnitSystem units)
    {
        if (told.Ending != DrawEnding.Caught)
        {
            yield return Wording.Capital($"{name}: {Format.Ending(told.Run.End, units)}.");
        }

        if (PairWords.Endings(told, name, units) is { } endings)
        {
            yield return endings;
        }

        if (double.IsFinite(told[MeasureIds.RiggingPointForce].Low))
        {
            yield return Wording.Capital($"{name} pulls {ToldTable.Cell(told, MeasureIds.RiggingPointForce, units)} at the rigging point and moves the feet {ToldTable.Cell(told, MeasureIds.ClimberMovement, units)}.");
        }
    }

    /// <summary>Where everything bad at once ends otherwise than this drop, that belongs to the first line.</summary>
    internal static IEnumerable<string> Stress(ScenarioResult result, IEnumerable<ToldCase> cases, UnitSystem units) => Stress(Named(result, cases), units);

    /// <summary>The same for cases with names of their own.</summary>
    internal static IEnumerable<string> Stress(IEnumerable<(ToldCase Told, string Name)> cases, UnitSystem units)
    {
        string[] endings =
        [
            .. from c in cases
               let stress = c.Told.OtherwiseEnding
               where stress is not null
               select $"{c.Name} {CountWords.Ends(stress.Ending, stress.Obstacle, c.Told.Case.Input.Site.Obstacles)} at {Format.Quantity(stress.Speed, "m/s", units)}",
        ];
        if (endings.Length > 0)
        {
            yield return $"Everything bad at once, {string.Join(" and ", endings)}.";
        }
    }

    /// <summary>Where the stem's foot turns further than the root law reaches; null where it nowhere does.</summary>
    internal static string? Foot(IEnumerable<(ToldCase Told, string Name)> cases)
    {
        string[] beyond = [.. cases.Where(c => c.Told.FootBeyond > 0).Select(c => $"{CountWords.Of(c.Told.FootBeyond, c.Told.Drawn)} ({c.Name})")];
        return beyond.Length == 0 ? null : $"The stem's foot turns more than a root bears as a spring in {string.Join(", ", beyond)}. The feet then move more than said.";
    }

    /// <summary>The inputs that move the force most; null where none stands out.</summary>
    internal static string? Moving(IEnumerable<ToldCase> cases)
    {
        var moving = cases.SelectMany(c => c.Moving.Select(m => c.Case.Uncertain[m.Input].Range.ShortName)).Distinct().Take(3).ToArray();
        return moving.Length == 0 ? null : $"What moves the force most: {string.Join(", ", moving)}.";
    }

    private static List<string> NotesOf(ScenarioResult result, ToldScenario told, UnitSystem units)
    {
        List<string> notes = [.. new[] { Foot(Named(result, told.Cases)), Moving(told.Cases) }.OfType<string>()];
        notes.AddRange(told.Cases.SelectMany(c => Format.Warnings(c.Case, units).Concat(Format.Warnings(c.Run, units))).Distinct());
        return notes;
    }
}
