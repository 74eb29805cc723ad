using DropSim.Model;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>The headline table: a row a case, this drop and 18 of 20 like it in each column, and how many are not caught.</summary>
internal static class ToldTable
{
    /// <summary>The columns, with short names, after the case's name.</summary>
    private static readonly (string Measure, string Name)[] _columns =
    [
        (MeasureIds.RiggingPointForce, "force on rigging point"), (MeasureIds.ClimberMovement, "feet move"), (MeasureIds.Room, "room left"),
        (MeasureIds.HandForce, "hand holds"), (MeasureIds.RopeRun, "rope run"),
    ];

    /// <summary>Heads of the table.</summary>
    public static IReadOnlyList<string> Heads => ["this drop (18 of 20 like it)", .. _columns.Select(c => c.Name), "not caught"];

    /// <summary>The rows.</summary>
    /// <param name="result">The scenario, drawn.</param>
    /// <param name="units">Units of the text.</param>
    public static IReadOnlyList<IReadOnlyList<string>> Rows(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        return [.. result.Told!.Cases.Select(c => (IReadOnlyList<string>)[Name(result, c), .. _columns.Select(m => Cell(c, m.Measure, units)), CountWords.Of(c.Missed.Sum(m => m.Count), c.Drawn)])];
    }

    /// <summary>"14 kN (12 to 22)"; of a drop that is not caught how it ends stands elsewhere, and no number that looks small.</summary>
    /// <param name="told">The case.</param>
    /// <param name="measure">Id of the measure.</param>
    /// <param name="units">Units of the text.</param>
    public static string Cell(ToldCase told, string measure, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(told);
        var central = told.Run[measure];
        var small = Format.IsSmallLength(measure);
        ShownQuantity Shown(double value) => Format.Shown(value, central.Unit, small, units);
        var caught = told[measure];
        var spread = double.IsNaN(caught.Low) || Shown(caught.Low) == Shown(caught.High) ? "" : $" ({ShownQuantity.Join(Shown(caught.Low), "to", Shown(caught.High))})";
        var value = told.Ending != DrawEnding.Caught ? "not caught" : Shown(central.Value).ToString();
        return value + spread;
    }

    /// <summary>What a case is called: its catch, and its set-up where there are several.</summary>
    public static string Name(ScenarioResult result, ToldCase told) => Name(told.Case, result.HasSeveralSetups);

    /// <summary>The same.</summary>
    public static string Name(DropCase dropCase, bool severalSetups) =>
        (severalSetups ? $"{dropCase.Setup}, {dropCase.CatchName}" : dropCase.CatchName).Replace('-', ' ');
}
