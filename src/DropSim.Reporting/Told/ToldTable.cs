using DropSim.Model;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>The headline table: a row a case, this drop and 18 of 20 like it in each column, and how many are not caught.</summary>
internal static class ToldTable
{
    /// <summary>The headline measures, with the heads of a wide table.</summary>
    private static readonly (string Measure, string Name)[] _told =
    [
        (MeasureIds.RiggingPointForce, "rigging point"), (MeasureIds.ClimberMovement, "feet move"), (MeasureIds.Room, "room left"),
        (MeasureIds.HandForce, "hand holds"), (MeasureIds.RopeRun, "rope run"),
    ];

    /// <summary>With more cases than this they stand in rows, and only what is asked first is told of each.</summary>
    private const int MostBeside = 3;

    /// <summary>Measures told of each of many cases.</summary>
    private const int Few = 3;

    /// <summary>What stands over the table.</summary>
    public const string Head = "This drop (18 of 20 set-ups like it):";

    /// <summary>Heads and rows: cases beside each other, or, where they are many, one below the other.</summary>
    /// <param name="result">The scenario, drawn.</param>
    /// <param name="units">Units of the text.</param>
    public static (IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows) Of(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        var cases = result.Told!.Cases;
        static string NotCaught(ToldCase c) => CountWords.Of(c.Missed.Sum(m => m.Count), c.Drawn);
        return cases.Count <= MostBeside
            ? (["", .. cases.Select(c => Name(result, c))],
                [.. _told.Select(m => (IReadOnlyList<string>)[cases[0].Run[m.Measure].Label, .. cases.Select(c => Cell(c, m.Measure, units))]), ["Not caught", .. cases.Select(NotCaught)]])
            : (["", .. _told.Take(Few).Select(m => m.Name), "not caught"],
                [.. cases.Select(c => (IReadOnlyList<string>)[Name(result, c), .. _told.Take(Few).Select(m => Cell(c, m.Measure, units)), NotCaught(c)])]);
    }

    /// <summary>"14 (12 to 22) kN"; of a drop that is not caught how it ends stands elsewhere, and no number that looks small.</summary>
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
        var (own, low, high) = (Shown(central.Value), Shown(caught.Low), Shown(caught.High));
        var spread = double.IsNaN(caught.Low) || low == high ? "" : $" ({ShownQuantity.Join(low, "to", high)})";
        return told.Ending != DrawEnding.Caught ? "not caught" + spread
            : spread.Length > 0 && own.Unit == low.Unit && own.Unit == high.Unit ? $"{own.Number} ({low.Number} to {high.Number}) {own.Unit}"
            : own + spread;
    }

    /// <summary>What a case is called: its catch, and its set-up where there are several.</summary>
    public static string Name(ScenarioResult result, ToldCase told) => Name(told.Case, result.HasSeveralSetups);

    /// <summary>The same.</summary>
    public static string Name(DropCase dropCase, bool severalSetups) =>
        (severalSetups ? $"{dropCase.Setup}, {dropCase.CatchName}" : dropCase.CatchName).Replace('-', ' ');
}
