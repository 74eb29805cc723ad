using System.Text.Json;
using DropSim.Model;
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
    /// <param name="stream">Where to.</param>
    internal static void Write(ScenarioResult result, ReportOptions options, Stream stream)
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
        Strings(json, "cautions", Cautions.Reading);
        Strings(json, "not_modelled", Cautions.NotModelled);
        Array(json, "cases", result.Cases, Case);
        Array(json, "comparisons", result.Comparisons, (j, c) =>
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

    private static void Case(Utf8JsonWriter json, CaseResult result)
    {
        var run = result.Run;
        json.WriteString("name", result.Case.Name);
        json.WriteString("setup", result.Case.Setup);
        json.WriteString("catch", result.Case.CatchName);
        json.WriteStartObject("end");
        json.WriteString("kind", Snake(run.End.Kind.ToString()));
        Number(json, "time_s", run.End.Time);
        Number(json, "speed_m_s", run.End.Speed);
        json.WriteBoolean("cuts_short", run.End.CutsShort);
        json.WriteString("description", run.End.Description);
        json.WriteEndObject();
        Number(json, "hinge_break_after_start_s", run.HingeBreakTime);
        Array(json, "measures", run.Measures, Measure);
        json.WriteStartObject("ranges");
        json.WriteNumber("runs", result.RangeRuns);
        json.WriteString("method", result.RangeMethod);
        Array(json, "inputs", result.Case.Ranges, (j, r) =>
        {
            j.WriteString("name", r.Name);
            j.WriteString("unit", r.Unit);
            Number(j, "central", r.Central);
            Number(j, "low", r.Low);
            Number(j, "high", r.High);
            j.WriteString("source", r.Source);
        });
        json.WriteEndObject();
        Strings(json, "warnings", [.. result.Case.Warnings, .. run.Warnings]);
        Array(json, "inputs_used", result.Case.Notes, (j, n) =>
        {
            j.WriteString("key", n.Path);
            j.WriteString("value", n.Value);
            j.WriteString("range", n.Range);
            j.WriteBoolean("given", n.Given);
            j.WriteString("source", n.Source);
        });
        Array(json, "events", run.Events, (j, e) =>
        {
            Number(j, "time_s", e.Time);
            j.WriteString("kind", e.Kind);
            j.WriteString("detail", e.Detail);
            Number(j, "energy_J", e.Energy ?? double.NaN);
        });
        Array(json, "phases", run.Phases, (j, p) =>
        {
            Number(j, "from_s", p.From);
            Number(j, "to_s", p.To);
            j.WriteString("name", p.Name);
            j.WriteString("detail", p.Detail);
        });
        Array(json, "strikes", run.Strikes, (j, s) =>
        {
            Number(j, "time_s", s.Time);
            j.WriteString("place", s.Place);
            Number(j, "height_m", s.Height);
            Number(j, "closing_speed_m_s", s.ClosingSpeed);
            Number(j, "energy_J", s.Energy);
            Number(j, "impulse_N_s", s.Impulse);
            Number(j, "peak_force_indicative_N", s.PeakForce);
        });
        json.WriteStartObject("ledger");
        Number(json, "energy_that_fell_J", run.Ledger.Fallen);
        Number(json, "largest_imbalance", run.Ledger.LargestImbalance);
        Array(json, "at_the_end", run.Ledger.Places, (j, p) =>
        {
            j.WriteString("column", p.Column);
            j.WriteString("label", p.Label);
            Number(j, "energy_J", p.Energy);
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
            Array(json, "moved", verification.Moved, (j, m) =>
            {
                j.WriteString("id", m.Id);
                Number(j, "relative", m.Relative);
            });
            Array(json, "events_in_one_run_only", verification.OnlyInOne, (j, e) =>
            {
                Number(j, "time_s", e.Event.Time);
                j.WriteString("kind", e.Event.Kind);
                j.WriteString("run", e.InTighterRun ? "repeated" : "first");
                Number(j, "energy_J", e.Event.Energy ?? double.NaN);
                Number(j, "share_of_energy_that_fell", e.Share);
                j.WriteBoolean("slight", e.IsSlight);
            });
            json.WriteEndObject();
        }
    }

    private static void Measure(Utf8JsonWriter json, Measure m)
    {
        json.WriteString("id", m.Id);
        json.WriteString("label", m.Label);
        Number(json, "value", m.Value);
        json.WriteString("unit", m.Unit);
        Number(json, "time_s", m.Time ?? double.NaN);
        json.WriteString("state", Word(m.State));
        Number(json, "low", m.Low ?? double.NaN);
        Number(json, "high", m.High ?? double.NaN);
        json.WriteBoolean("range_reads_at_least", m.RangeCutShort);
        json.WriteString("worse", m.Worse.ToString().ToLowerInvariant());
        json.WriteBoolean("headline", m.Headline);
        json.WriteString("worst_inputs", m.WorstInputs);
        json.WriteString("how_found", m.HowFound);
    }

    private static void Array<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(json, item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Strings(Utf8JsonWriter json, string name, IEnumerable<string> items)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStringValue(item);
        }

        json.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
        {
            json.WriteNumber(name, value);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static string Snake(string pascal) =>
        JsonNamingPolicy.SnakeCaseLower.ConvertName(pascal);
}
