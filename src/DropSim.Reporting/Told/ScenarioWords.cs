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
            findings.AddRange(told.Cases.Select(c => string.Join(' ', [.. Alone(result, c, units), .. Stress(result, [c], units)])));
        }

        var (heads, rows) = ToldTable.Of(result, units);
        return new(findings, heads, rows, NotesOf(result, told, units));
    }

    /// <summary>More comparisons than this are for the details.</summary>
    private const int MostPairs = 3;

    /// <summary>A drop with nothing beside it.</summary>
    private static IEnumerable<string> Alone(ScenarioResult result, ToldCase told, UnitSystem units)
    {
        var name = ToldTable.Name(result, told);
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
    internal static IEnumerable<string> Stress(ScenarioResult result, IEnumerable<ToldCase> cases, UnitSystem units)
    {
        string[] endings =
        [
            .. from told in cases
               let stress = told.OtherwiseEnding
               where stress is not null
               select $"{ToldTable.Name(result, told)} {CountWords.Ends(stress.Ending, stress.Obstacle, told.Case.Input.Site.Obstacles)} at {Format.Quantity(stress.Speed, "m/s", units)}",
        ];
        if (endings.Length > 0)
        {
            yield return $"Everything bad at once, {string.Join(" and ", endings)}.";
        }
    }

    private static List<string> NotesOf(ScenarioResult result, ToldScenario told, UnitSystem units)
    {
        List<string> notes = [];
        string[] beyond = [.. told.Cases.Where(c => c.FootBeyond > 0).Select(c => $"{CountWords.Of(c.FootBeyond, c.Drawn)} ({ToldTable.Name(result, c)})")];
        if (beyond.Length > 0)
        {
            notes.Add($"The stem's foot turns more than a root bears as a spring in {string.Join(", ", beyond)}. The feet then move more than said.");
        }

        var moving = told.Cases.SelectMany(c => c.Moving.Select(m => c.Case.Uncertain[m.Input].Range.ShortName)).Distinct().Take(3).ToArray();
        if (moving.Length > 0)
        {
            notes.Add($"What moves the force most: {string.Join(", ", moving)}.");
        }

        notes.AddRange(told.Cases.SelectMany(c => Format.Warnings(c.Case, units).Concat(Format.Warnings(c.Run, units))).Distinct());
        return notes;
    }
}
