using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The result of a whole spar as a study's document.</summary>
internal static class DismantleDocument
{
    /// <summary>Builds the document. Where words or pictures of it cannot be made, what was computed is there all the same, and the fault is told.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="options">Units and version.</param>
    /// <param name="sheets">The crew sheets, which a page of words cannot draw itself; left out where the plan is not whole.</param>
    /// <param name="fault">What stopped the study after its last cut; null where nothing did.</param>
    public static StudyDocument Build(DismantleResult result, ReportOptions options, IReadOnlyList<ResultFile> sheets, Exception? fault = null)
    {
        var bare = Bare(result, sheets, fault);
        try
        {
            return Whole(bare, new DismantleWords(result, options));
        }
        catch (Exception unforeseen) when (unforeseen is not OperationCanceledException)
        {
            return bare with { Faults = [.. bare.Faults, $"Pictures and findings could not be made ({unforeseen.GetType().Name}: {unforeseen.Message})"] };
        }
    }

    /// <summary>The numbers and the sheets.</summary>
    private static StudyDocument Bare(DismantleResult result, IReadOnlyList<ResultFile> sheets, Exception? fault) => new()
    {
        Verb = "dismantle",
        ScenarioName = result.Name,
        ScenarioTitle = result.Title,
        SourceHash = result.SourceHash,
        Findings = [],
        Tables = [DismantleTable.Numbers(result)],
        Figures = [],
        Inputs = [.. result.Cuts.SelectMany(c => c.Cases.Select(k => new StudyInputs(k.Case.Name, k.Case.Notes)))],
        Faults = fault is null ? [] : [FormattableString.Invariant($"The plan stops above cut {result.Cuts.Count + 1} of {result.Planned}: {fault.Message}")],
        OtherFiles = result.CutShort ? [] : sheets,
        Details = json => Details(json, result),
    };

    /// <summary>With words and pictures.</summary>
    private static StudyDocument Whole(StudyDocument bare, DismantleWords words)
    {
        var result = words.Result;
        var figures = DismantleCharts.Build(words);
        return bare with
        {
            Findings =
            [
                .. ReachWords.Headline(words.Reach),
                $"{words.Count()}: {words.Rule()}.",
                .. DismantleCharts.Findings(words),
                Wraps(result),
            ],
            Figures = figures,
            Screens =
            [
                .. DismantleTable.Reached(words) is { } reached ? [reached] : Array.Empty<ScreenTable>(),
                DismantleTable.Pieces(words),
                .. Enumerable.Range(0, result.Catches.Count).Select(k => DismantleTable.Catch(words, k)),
            ],
            Warnings = words.Warnings(),
            CutShort = result.CutShort ? $"{words.Count()} were computed, from the tip down. The cuts below are in no table and no picture, and no crew sheet was made: half a plan would be taken for a whole one." : null,
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
        var reach = result.Reach.ToDictionary(r => r.Number);
        JsonParts.Array(json, "cuts", result.Cuts, (j, c) =>
        {
            j.WriteNumber("number", c.Plan.Number);
            JsonParts.Array(j, "reach", reach[c.Plan.Number].Catches, Reach);
            j.WriteBoolean("wraps_given", c.Plan.Wraps.Given);
            j.WriteBoolean("hold_test", c.Plan.Wraps.Tested);
            JsonParts.Number(j, "load_leg_before_m", c.Plan.Rope.LoadLeg);
            JsonParts.Number(j, "ground_leg_before_m", c.Plan.Rope.GroundLeg);
            JsonParts.Array(j, "cases", c.Cases, SummaryJson.Case);
        });
    }

    /// <summary>What comes of a cut with one catch: the planned drop, and the drops with other values by what happened.</summary>
    private static void Reach(Utf8JsonWriter json, CatchReach reach)
    {
        json.WriteString("catch", reach.Catch);
        json.WriteString("planned", ReachWords.Code(reach.AsPlanned));
        json.WriteString("obstacle", reach.AsPlanned?.Obstacle?.Name);
        JsonParts.Number(json, "speed_m_s", reach.AsPlanned?.Speed ?? double.NaN);
        json.WriteNumber("varied_runs", reach.Runs);
        JsonParts.Array(json, "varied", reach.Varied, (j, v) =>
        {
            j.WriteString("reaches", ReachWords.Code(v));
            j.WriteString("obstacle", v.Obstacle?.Name);
            j.WriteNumber("runs", v.Runs);
            JsonParts.Number(j, "speed_m_s", v.Speed);
        });
    }
}
