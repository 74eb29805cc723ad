using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>How the drops of a scenario end, in sentences: who hits what, how fast, and what decides it.</summary>
public static class EndOverviewText
{
    /// <summary>Of fewer drops the comparison says it all.</summary>
    private const int Several = 3;

    /// <summary>The sentences, what decides first; none where there are few drops, or all of them are held.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="units">Units of the text.</param>
    public static IReadOnlyList<string> Of(ScenarioResult result, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(result);
        if (result.Cases.Count < Several || !result.Cases.Any(c => DropComparison.IsBad(c.Run.End)))
        {
            return [];
        }

        var overview = EndOverview.Of(result);
        return [.. Decides(overview), .. overview.Cases.Select(c => $"{Wording.CaseName(c.Case, result.HasSeveralSetups)}: {Ending(c.Run, units)}.")];
    }

    private static IEnumerable<string> Decides(EndOverview overview)
    {
        if (overview.Deciding == Deciding.Neither)
        {
            yield break;
        }

        var byCatch = overview.Deciding == Deciding.Catch;
        var groups = overview.Cases.GroupBy(c => byCatch ? c.Case.CatchName : c.Case.Setup);
        yield return byCatch ? "In these drops the catch decides how they end, not the set-up." : "In these drops the set-up decides how they end, not the catch.";
        foreach (var group in groups)
        {
            yield return $"With {Wording.Plain(group.Key)} {Outcomes(DropComparison.Of(group.First().Run.End))} {(byCatch ? "in every set-up" : "with every catch")}.";
        }
    }

    private static string Outcomes(Outcome outcome) => outcome switch
    {
        Outcome.Lands => "the piece comes down",
        Outcome.RopeBreaks => "the rope breaks",
        Outcome.RopeRunsOut => "the rope runs out",
        Outcome.HitchDrawnUp => "the hitch is drawn up to the rigging point",
        Outcome.NotOver => "the piece is not stopped in the time computed",
        Outcome.Held => "the rope holds the piece",
        _ => "nobody knows how the drop ends",
    };

    private static string Ending(DropRun run, UnitSystem units) =>
        run.End.Lands ? $"the piece hits {EndComparisonText.Thing(run.End)} {EndComparisonText.How(run.End, units)}"
        : run.End.IsHeld ? $"the rope holds it, with {Format.Value(run[MeasureIds.Room], units)} of room left"
        : Format.Ending(run.End, units);
}
