using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Studies;

namespace DropSim.Reporting.Options;

/// <summary>The options of a scenario as a study's document.</summary>
internal static class OptionsDocument
{
    /// <summary>Settings named for each length of the piece: more fill a page and a picture; all are in the CSV file.</summary>
    private const int NamedEach = 5;

    private const string Letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

    /// <summary>The settings that are named by a letter: of each front both ends and some between, evenly picked.</summary>
    internal static IReadOnlyList<(string Name, OptionOutcome Outcome)> Named(OptionsResult result) =>
    [
        .. result.Fronts
            .SelectMany(f => f.Count <= NamedEach ? f : [.. Enumerable.Range(0, NamedEach).Select(i => f[(int)Math.Round(i * (f.Count - 1.0) / (NamedEach - 1))])])
            .Take(Letters.Length)
            .Select((o, i) => (Letters[i].ToString(), o)),
    ];

    public static StudyDocument Build(OptionsResult result, ReportOptions options)
    {
        var words = new OptionsWords(result, options);
        return new StudyDocument
        {
            Verb = "options",
            ScenarioName = result.Name,
            ScenarioTitle = result.Title,
            SourceHash = result.SourceHash,
            Findings = words.Findings(),
            Tables = [Settings(result), Limits(result)],
            Figures = result.Outcomes.Count == 0 ? [] : OptionsCharts.Build(words),
            Screens = result.Kept.Count == 0 ? [] : [Screen(words)],
            Inputs = [new StudyInputs(result.Filed.Name, result.Filed.Notes)],
            Warnings = [.. Format.Warnings(result.Filed, options.Units), .. result.Refused.Select(r => "Some settings could not be built: " + r)],
            CutShort = CutShort(result),
            Details = json =>
            {
                json.WriteNumber("draws", result.Draws);
                json.WriteNumber("seed", result.Found.Plan.Seed);
                json.WriteNumber("relative_tolerance", result.Found.Plan.Tolerance);
                json.WriteNumber("drops_computed", result.Found.Drops);
                json.WriteNumber("needed_inside", OptionsStudy.Needed(result.Draws));
                json.WriteNumber("settings_asked", result.Found.Asked);
                json.WriteNumber("settings", result.Outcomes.Count);
                json.WriteNumber("settings_drawn_to_the_end", result.Outcomes.Count(o => o.Complete));
                json.WriteNumber("kept", result.Kept.Count);
                json.WriteNumber("kept_with_own_piece", result.Kept.Count(result.IsOwnPiece));
                JsonParts.Strings(json, "limits_not_checked", [.. result.NotAsked.Select(l => l.Key)]);
                json.WriteBoolean("hold_test", result.Tested);
                json.WriteString("binding", result.Kept.Count > 0 ? null : words.Binding());
                json.WriteStartObject("check");
                json.WriteNumber("drops", result.Found.Check.Drops);
                json.WriteNumber("moved_by_more_than_1_percent", result.Found.Check.Unsettled);
                json.WriteNumber("crossed_a_limit", result.Found.Check.Crossed);
                json.WriteStartObject("largest_relative_change");
                foreach (var (id, moved) in result.Found.Check.Largest)
                {
                    json.WriteNumber(id, moved);
                }

                json.WriteEndObject();
                json.WriteEndObject();
            },
        };
    }

    private static string? CutShort(OptionsResult result) => !result.Found.CutShort ? null
        : result.Outcomes.Count < result.Found.Asked ? $"{result.Outcomes.Count} of {result.Found.Asked} settings were finished; the others are missing from every list."
        : "Every setting was counted; which limit binds was not computed to the end.";

    private static ScreenTable Screen(OptionsWords words)
    {
        var rows = Named(words.Result);
        string Cell(OptionOutcome o, string id) => words.Value(id, o.Measures[id].Worst);
        return new(
            $"Settings inside {words.EveryLimit}. No other with the same piece beats these in both force and room (some of them; all in settings.csv). Costs at the worse end, which 95 % of the draws do not pass",
            ["", "catch", "turns", "over", "below cut", "slack", "piece", "inside", "rigging point: median", "worse end", "room", "feet", "hand", "run", "rope speed", "rope heat"],
            [.. rows.Select(r => (IReadOnlyList<string>)
            [
                r.Name, words.Catch(r.Outcome.Setting), OptionsWords.Turns(r.Outcome.Setting), OptionsWords.Point(r.Outcome.Setting),
                words.Length(r.Outcome.Setting.Case.Input.RiggingPoint.BelowCut), words.Length(r.Outcome.Setting.Case.Input.Rope.Slack), words.Length(r.Outcome.Setting.Case.Input.Piece.Length),
                $"{r.Outcome.Inside} of {r.Outcome.Draws}",
                words.Value(MeasureIds.RiggingPointForce, r.Outcome.Measures[MeasureIds.RiggingPointForce].Median), Cell(r.Outcome, MeasureIds.RiggingPointForce),
                Cell(r.Outcome, MeasureIds.Room), Cell(r.Outcome, MeasureIds.ClimberMovement),
                r.Outcome.Setting.Case.Input.Catch.Kind == CatchKind.HardStop ? "locked" : Cell(r.Outcome, MeasureIds.HandForce),
                Cell(r.Outcome, MeasureIds.RopeRun), Cell(r.Outcome, MeasureIds.RopeSpeed), Cell(r.Outcome, MeasureIds.RopeHeat),
            ])]);
    }

    private static StudyTable Settings(OptionsResult result)
    {
        var front = result.Fronts.SelectMany(f => f).ToHashSet();
        var ids = OptionsStudy.MeasureIdsTold;
        var keys = result.Limits.Select(l => l.Key).Append(OptionsStudy.Caught).ToArray();
        return new(
            "settings",
            [
                new("catch"), new("turns_low"), new("turns_high"), new("rigging_point"), new("below_cut_m", "m"), new("slack_m", "m"), new("piece_length_m", "m"), new("piece_mass_kg", "kg"),
                new("brake_from_m", "m"), new("draws_asked"), new("draws_computed"), new("inside"), new("share_inside_at_least"), new("kept"), new("on_front"),
                .. ids.SelectMany(id => new[] { Column(id, "_median"), Column(id, "_worse_end") }),
                .. keys.Select(k => new StudyColumn("outside_" + k.Replace('-', '_'))),
            ],
            [.. result.Outcomes.Select(o => (IReadOnlyList<StudyCell>)
            [
                o.Setting.Case.CatchName, o.Setting.WrapsLow, o.Setting.WrapsHigh, OptionsWords.Point(o.Setting),
                o.Setting.Case.Input.RiggingPoint.BelowCut, o.Setting.Case.Input.Rope.Slack, o.Setting.Case.Input.Piece.Length, o.Setting.Case.Input.Piece.Mass,
                o.Setting.Case.Input.Catch.BrakeFrom, (double)o.Asked, (double)o.Draws, (double)o.Inside, o.Complete ? o.ShareAtLeast : double.NaN, o.Kept ? "yes" : "no", front.Contains(o) ? "yes" : "no",
                .. ids.SelectMany(id => o.Complete ? new StudyCell[] { o.Measures[id].Median, o.Measures[id].Worst } : [double.NaN, double.NaN]),
                .. keys.Select(k => (StudyCell)(result.IsChecked(k, o.Setting) ? o.Outside[k] : double.NaN)),
            ])]);

        static StudyColumn Column(string id, string part)
        {
            var unit = OptionsWords.Unit(id);
            return new($"{id}{part}_{unit.Replace('/', '_')}", unit);
        }
    }

    private static StudyTable Limits(OptionsResult result) => new(
        "limits",
        [new("limit"), new("value_SI"), new("unit"), new("least_or_most"), new("asked"), new("given"), new("source")],
        [.. result.Limits.Select(l => (IReadOnlyList<StudyCell>)
        [
            l.Key, l.Value, l.Unit.Length == 0 ? "share" : l.Unit, l.Least ? "least" : "most", result.NotAsked.Contains(l) ? "no" : "yes", l.Stated.Given ? "yes" : "no", l.Stated.Source,
        ])]);
}
