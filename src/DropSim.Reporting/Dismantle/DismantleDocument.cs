using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The result of a whole spar as a study's document.</summary>
internal static class DismantleDocument
{
    /// <summary>Builds the document.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="options">Units and version.</param>
    /// <param name="sheets">The crew sheets, which a page of words cannot draw itself; left out where the plan is not whole.</param>
    public static StudyDocument Build(DismantleResult result, ReportOptions options, IReadOnlyList<ResultFile> sheets)
    {
        var words = new DismantleWords(result, options);
        var figures = DismantleCharts.Build(result, options);
        return new StudyDocument
        {
            Verb = "dismantle",
            ScenarioName = result.Name,
            ScenarioTitle = result.Title,
            SourceHash = result.SourceHash,
            Findings =
            [
                $"{words.Count()}: {words.Rule()}.",
                .. figures.Select(f => f.Title + "."),
                Wraps(result),
            ],
            Tables = [DismantleTable.Numbers(result)],
            Figures = figures,
            Screens = [DismantleTable.Pieces(words), .. Enumerable.Range(0, result.Catches.Count).Select(k => DismantleTable.Catch(words, k))],
            Inputs = [.. result.Cuts.SelectMany(c => c.Cases.Select(k => new StudyInputs(k.Case.Name, k.Case.Notes)))],
            Warnings = words.Warnings(),
            CutShort = result.CutShort ? $"{words.Count()} were computed, from the tip down. The cuts below are in no table and no picture, and no crew sheet was made: half a plan would be taken for a whole one." : null,
            OtherFiles = result.CutShort ? [] : sheets,
            Details = json => Details(json, result),
        };
    }

    private static string Wraps(DismantleResult result) => result.Cuts[0].Plan.Wraps.Tested
        ? "Wraps follow from a hold test; the band is what the test leaves open."
        : "Without a hold test the band of wraps counts, not the number before it: between its ends a light hand may hold nothing, or the rope may not run at all.";

    private static void Details(Utf8JsonWriter json, DismantleResult result)
    {
        json.WriteStartObject("rule");
        JsonParts.Number(json, "piece_length_m", result.Rule.Length);
        JsonParts.Number(json, "piece_mass_kg", result.Rule.Mass);
        JsonParts.Number(json, "lowest_cut_m", result.Rule.LowestCut);
        JsonParts.Number(json, "top_length_m", result.Rule.TopLength);
        json.WriteEndObject();
        JsonParts.Array(json, "diameters", result.Profile, (j, d) =>
        {
            JsonParts.Number(j, "height_m", d.Height);
            JsonParts.Number(j, "diameter_m", d.Diameter);
        });
        JsonParts.Array(json, "cuts", result.Cuts, (j, c) =>
        {
            j.WriteNumber("number", c.Plan.Number);
            j.WriteBoolean("wraps_given", c.Plan.Wraps.Given);
            j.WriteBoolean("hold_test", c.Plan.Wraps.Tested);
            JsonParts.Number(j, "load_leg_before_m", c.Plan.Rope.LoadLeg);
            JsonParts.Number(j, "ground_leg_before_m", c.Plan.Rope.GroundLeg);
            JsonParts.Array(j, "cases", c.Cases, SummaryJson.Case);
        });
    }
}
