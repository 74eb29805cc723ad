using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;
using DropSim.Reporting.Told;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>summary.json: everything that was computed for a scenario, always in SI, with all digits (docs/results.md).</summary>
internal static class SummaryJson
{
    /// <summary>Rises when a reader of the file would have to change.</summary>
    private const int SchemaVersion = 1;

    /// <summary>Writes the file.</summary>
    /// <param name="result">What was computed, with the comparisons' texts.</param>
    /// <param name="options">Program version.</param>
    /// <param name="files">Names of all files of the folder.</param>
    /// <param name="stream">Where to.</param>
    internal static void Write(ScenarioResult result, ReportOptions options, IReadOnlyList<string> files, Stream stream)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" });
        json.WriteStartObject();
        json.WriteNumber("schema_version", SchemaVersion);
        json.WriteString("program", "DropSim");
        json.WriteString("program_version", options.ProgramVersion);
        json.WriteString("units", "SI; times in s from hinge break");
        json.WriteStartObject("scenario");
        json.WriteString("name", result.Name);
        json.WriteString("title", result.Title);
        json.WriteString("description", result.Description);
        json.WriteString("source_sha256_start", result.SourceHash);
        json.WriteEndObject();
        JsonParts.Strings(json, ResultIndex.FilesKey, files);
        JsonParts.Strings(json, "cautions", Cautions.Reading);
        JsonParts.Strings(json, "not_modelled", Cautions.NotModelled);
        JsonParts.Array(json, "cases", result.Cases, Case);
        JsonParts.Strings(json, "how_they_end", EndOverviewText.Of(result, UnitSystem.Si));
        ToldJson.Write(json, result);
        JsonParts.Array(json, "comparisons", result.Comparisons, (j, c) =>
        {
            j.WriteString("first", result.Cases[c.First].Case.Name);
            j.WriteString("second", result.Cases[c.Second].Case.Name);
            j.WriteString("title", c.Title);
            j.WriteString("paragraph", c.Paragraph);
        });
        json.WriteEndObject();
    }

    /// <summary>The word for a state, as in the file.</summary>
    /// <param name="state">State.</param>
    internal static string Word(MeasureState state) => state switch
    {
        MeasureState.Exact => "exact",
        MeasureState.AtLeast => "at least",
        MeasureState.NotReached => "not reached",
        MeasureState.Unknown => "unknown",
        _ => "indicative",
    };

    /// <summary>Everything of one case.</summary>
    internal static void Case(Utf8JsonWriter json, CaseResult result)
    {
        var run = result.Run;
        json.WriteString("name", result.Case.Name);
        json.WriteString("setup", result.Case.Setup);
        json.WriteString("catch", result.Case.CatchName);
        json.WriteStartObject("end");
        json.WriteString("kind", Snake(run.End.Kind.ToString()));
        JsonParts.Number(json, "time_s", run.End.Time);
        JsonParts.Number(json, "speed_m_s", run.End.Speed);
        JsonParts.Number(json, "energy_J", run.End.Energy);
        json.WriteString("obstacle", run.End.Obstacle?.Name);
        JsonParts.Number(json, "x_m", run.End.Where?.X ?? double.NaN);
        JsonParts.Number(json, "z_m", run.End.Where?.Z ?? double.NaN);
        json.WriteBoolean("cuts_short", run.End.CutsShort);
        json.WriteString("description", run.End.Description);
        json.WriteEndObject();
        JsonParts.Number(json, "hinge_break_after_start_s", run.HingeBreakTime);
        JsonParts.Array(json, "measures", run.Measures, Measure);
        json.WriteStartObject("ranges");
        json.WriteNumber("runs", result.RangeRuns);
        json.WriteString("method", result.RangeMethod);
        JsonParts.Array(json, "inputs", result.Case.Ranges, (j, r) =>
        {
            j.WriteString("name", r.Name);
            j.WriteString("unit", r.Unit);
            JsonParts.Number(j, "central", r.Central);
            JsonParts.Number(j, "low", r.Low);
            JsonParts.Number(j, "high", r.High);
            j.WriteString("source", r.Source);
        });
        json.WriteEndObject();
        JsonParts.Strings(json, "warnings", [.. result.Case.Warnings, .. run.Warnings]);
        JsonParts.Array(json, "inputs_used", result.Case.Notes, StudyJson.Note);
        JsonParts.Array(json, "events", run.Events, (j, e) =>
        {
            JsonParts.Number(j, "time_s", e.Time);
            j.WriteString("kind", e.Name);
            j.WriteString("detail", e.Detail);
            JsonParts.Number(j, "energy_J", e.Energy ?? double.NaN);
        });
        JsonParts.Array(json, "phases", run.Phases, (j, p) =>
        {
            JsonParts.Number(j, "from_s", p.From);
            JsonParts.Number(j, "to_s", p.To);
            j.WriteString("name", p.Name);
            j.WriteString("detail", p.Detail);
        });
        JsonParts.Array(json, "strikes", run.Strikes, (j, s) =>
        {
            JsonParts.Number(j, "time_s", s.Time);
            j.WriteString("place", s.Place);
            JsonParts.Number(j, "height_m", s.Height);
            JsonParts.Number(j, "closing_speed_m_s", s.ClosingSpeed);
            JsonParts.Number(j, "energy_J", s.Energy);
            JsonParts.Number(j, "impulse_N_s", s.Impulse);
            JsonParts.Number(j, "peak_force_indicative_N", s.PeakForce);
        });
        json.WriteStartObject("ledger");
        JsonParts.Number(json, "energy_that_fell_J", run.Ledger.Fallen);
        JsonParts.Number(json, "largest_imbalance", run.Ledger.LargestImbalance);
        JsonParts.Array(json, "at_the_end", run.Ledger.Places, (j, p) =>
        {
            j.WriteString("column", p.Column);
            j.WriteString("label", p.Label);
            JsonParts.Number(j, "energy_J", p.Energy);
        });
        json.WriteEndObject();
        json.WriteStartObject("integration");
        json.WriteNumber("accepted_steps", run.Statistics.AcceptedSteps);
        json.WriteNumber("rejected_steps", run.Statistics.RejectedSteps);
        json.WriteNumber("evaluations", run.Statistics.Evaluations);
        json.WriteNumber("dense_builds", run.Statistics.DenseBuilds);
        json.WriteNumber("events", run.Statistics.Events);
        json.WriteNumber("phaseless_spells", run.Statistics.PhaselessSpells);
        json.WriteEndObject();
        if (result.Verification is { } verification)
        {
            json.WriteStartObject("verification");
            json.WriteString("how", verification.How);
            json.WriteBoolean("same_events", verification.SameEvents);
            JsonParts.Array(json, "moved", verification.Moved, (j, m) =>
            {
                j.WriteString("id", m.Id);
                JsonParts.Number(j, "relative", m.Relative);
            });
            JsonParts.Array(json, "events_in_one_run_only", verification.OnlyInOne, (j, e) =>
            {
                JsonParts.Number(j, "time_s", e.Event.Time);
                j.WriteString("kind", e.Event.Name);
                j.WriteString("run", e.InTighterRun ? "repeated" : "first");
                JsonParts.Number(j, "energy_J", e.Event.Energy ?? double.NaN);
                JsonParts.Number(j, "share_of_energy_that_fell", e.Share);
                j.WriteBoolean("slight", e.IsSlight);
            });
            json.WriteEndObject();
        }
    }

    private static void Measure(Utf8JsonWriter json, Measure m)
    {
        json.WriteString("id", m.Id);
        json.WriteString("label", m.Label);
        JsonParts.Number(json, "value", m.Value);
        json.WriteString("unit", m.Unit);
        JsonParts.Number(json, "time_s", m.Time ?? double.NaN);
        json.WriteString("state", Word(m.State));
        JsonParts.Number(json, "low", m.Low ?? double.NaN);
        JsonParts.Number(json, "high", m.High ?? double.NaN);
        json.WriteBoolean("range_reads_at_least", m.RangeCutShort);
        json.WriteString("worse", m.Worse.ToString().ToLowerInvariant());
        json.WriteBoolean("headline", m.Headline);
        json.WriteString("worst_inputs", m.WorstInputs);
        json.WriteString("how_found", m.HowFound);
    }

    private static string Snake(string pascal) =>
        JsonNamingPolicy.SnakeCaseLower.ConvertName(pascal);
}
