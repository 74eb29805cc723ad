using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>A fair comparison: tables and pictures; its sentences are made by <see cref="FairWords"/>.</summary>
internal static class FairDocument
{
    /// <summary>Measures in the tables, in their order.</summary>
    private static readonly (string Id, string Column, string Unit)[] Shown =
    [
        (MeasureIds.RiggingPointForce, "rigging_point_force_N", "N"), (MeasureIds.LoadLegTension, "load_leg_tension_N", "N"),
        (MeasureIds.GroundLegTension, "ground_leg_tension_N", "N"), (MeasureIds.RopeRun, "rope_run_m", "m"), (MeasureIds.Room, "room_left_m", "m"),
        (MeasureIds.ClimberMovement, "climber_movement_m", "m"), (MeasureIds.HandForce, "hand_force_N", "N"),
    ];

    /// <summary>Fills the document.</summary>
    internal static StudyDocument Of(FairResult result, string name, string title, string hash, ReportOptions options)
    {
        var words = new FairWords(result, options.Units);
        return new()
        {
            Verb = "compare",
            ScenarioName = name,
            ScenarioTitle = title,
            SourceHash = hash,
            Findings = [.. words.Findings()],
            Tables = [Table(result), Efficiencies(result)],
            Figures = [FairChart.Build(result, words, title, name, hash, options), .. FairChart.Efficiency(result, words, title, name, hash, options)],
            Screens = [.. Enum.GetValues<FairWay>().Where(w => result.Rows.Any(r => r.Way == w)).Select(w => Screen(result, words, w, options.Units))],
            Inputs = [.. result.Variants.Select(v => new StudyInputs($"{v.Gear}-{v.Case.CatchName}", v.Case.Notes))],
            Warnings = [.. result.Variants.SelectMany(v => Format.Warnings(v.Case, options.Units)).Distinct()],
            CutShort = result.CutShort ? $"{words.Finished()} were finished; what is missing has no row in any table and is in no picture." : null,
            Details = json => Details(json, result),
        };
    }

    private static ScreenTable Screen(FairResult result, FairWords words, FairWay way, UnitSystem units) => new(
        FairWords.Way(way),
        ["", result.By == MatchBy.Wraps ? "wraps" : "hand, times", "rope run", "rigging point", "worst of range", "load leg", "ground leg", "room left"],
        [.. result.Rows.Where(r => r.Way == way).Select(r => (IReadOnlyList<string>)(r.Result is { } c
            ? [words.Name(r.Variant), Format.Number(r.Setting), Value(c, MeasureIds.RopeRun, units), Value(c, MeasureIds.RiggingPointForce, units), Format.Worst(c.Run[MeasureIds.RiggingPointForce], units),
                Value(c, MeasureIds.LoadLegTension, units), Value(c, MeasureIds.GroundLegTension, units), Value(c, MeasureIds.Room, units)]
            : [words.Name(r.Variant), "none", r.Note.Length > 60 ? "see below" : r.Note, "", "", "", "", ""]))]);

    private static string Value(CaseResult result, string id, UnitSystem units) => Format.Value(result.Run[id], units);

    private static StudyTable Table(FairResult result)
    {
        List<StudyColumn> columns = [new("same"), new("gear"), new("catch"), new(result.By == MatchBy.Wraps ? "wraps" : "hand_factor")];
        foreach (var (id, column, unit) in Shown)
        {
            columns.Add(new(column, unit));
            columns.Add(new($"{id}_state"));
            columns.Add(new($"{id}_low{column[id.Length..]}", unit));
            columns.Add(new($"{id}_high{column[id.Length..]}", unit));
        }

        columns.Add(new("end"));
        columns.Add(new("note"));
        return new("compare", columns, [.. result.Rows.Select(r =>
        {
            List<StudyCell> row = [Key(r.Way), result.Variants[r.Variant].Gear, result.Variants[r.Variant].Case.CatchName, r.Setting];
            foreach (var (id, _, _) in Shown)
            {
                var measure = r.Result?.Run[id];
                row.Add(measure?.Value ?? double.NaN);
                row.Add(measure is null ? "none" : SummaryJson.Word(measure.State));
                row.Add(measure?.Low ?? double.NaN);
                row.Add(measure?.High ?? double.NaN);
            }

            row.Add(r.Result?.Run.End.Description ?? "");
            row.Add(r.Note);
            return (IReadOnlyList<StudyCell>)row;
        })]);
    }

    private static StudyTable Efficiencies(FairResult result) => new(
        "block-efficiency",
        [new("same"), new("gear"), new("catch"), new("efficiency"), new(result.By == MatchBy.Wraps ? "wraps" : "hand_factor"), new("rope_run_m", "m"), new("rigging_point_force_N", "N"), new("load_leg_tension_N", "N"), new("end"), new("note")],
        [.. result.Rows.SelectMany(r => r.Efficiencies.Select(e => (IReadOnlyList<StudyCell>)
        [
            Key(r.Way), result.Variants[r.Variant].Gear, result.Variants[r.Variant].Case.CatchName, e.Efficiency, e.Match.Setting,
            e.Match.Run?[MeasureIds.RopeRun].Value ?? double.NaN, e.Match.Run?[MeasureIds.RiggingPointForce].Value ?? double.NaN,
            e.Match.Run?[MeasureIds.LoadLegTension].Value ?? double.NaN, e.Match.Run?.End.Description ?? "", e.Match.Note,
        ]))]);

    private static string Key(FairWay way) => way switch { FairWay.SameSetting => "setting", FairWay.SameRun => "rope run", _ => "rigging-point force" };

    private static void Details(Utf8JsonWriter json, FairResult result)
    {
        json.WriteString("matched_by", result.By == MatchBy.Wraps ? "wraps" : "factor on the hand's forces");
        if (result.Reference >= 0)
        {
            json.WriteString("held_against", $"{result.Variants[result.Reference].Gear}-{result.Variants[result.Reference].Case.CatchName}");
        }

        JsonParts.Array(json, "variants", result.Variants, (j, v) =>
        {
            j.WriteString("gear", v.Gear);
            j.WriteString("catch", v.Case.CatchName);
            j.WriteBoolean("locked_off", v.Locked);
        });
    }
}
