using System.Text.Json;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>Set-ups like those of a scenario, as summary.json holds them: counts and quantiles in SI, and the sentences that were made of them.</summary>
internal static class ToldJson
{
    /// <summary>Writes the object "set_ups_like_it"; nothing where nothing was drawn.</summary>
    /// <param name="json">The file.</param>
    /// <param name="result">What was computed.</param>
    public static void Write(Utf8JsonWriter json, ScenarioResult result)
    {
        if (result.Told is not { } told)
        {
            return;
        }

        json.WriteStartObject("set_ups_like_it");
        json.WriteNumber("draws", told.Drawn.Count);
        json.WriteNumber("seed", told.Drawn.Plan.Seed);
        JsonParts.Strings(json, "findings", ScenarioWords.Of(result, UnitSystem.Si).Findings);
        JsonParts.Array(json, "cases", told.Cases, Case);
        JsonParts.Array(json, "pairs", told.Pairs, (j, p) =>
        {
            j.WriteString("first", result.Cases[p.First].Case.Name);
            j.WriteString("second", result.Cases[p.Second].Case.Name);
            JsonParts.Array(j, "measures", p.Answers, Answer);
        });
        json.WriteEndObject();
    }

    private static void Case(Utf8JsonWriter json, ToldCase told)
    {
        json.WriteString("name", told.Case.Name);
        json.WriteNumber("caught", told.CaughtCount);
        json.WriteNumber("foot_beyond_straight_range", told.FootBeyond);
        JsonParts.Array(json, "not_caught", told.Missed, (j, m) =>
        {
            j.WriteString("ending", Snake(m.Ending.ToString()));
            j.WriteString("obstacle", m.Obstacle < 0 ? null : told.Case.Input.Site.Obstacles[m.Obstacle].Name);
            j.WriteNumber("count", m.Count);
            JsonParts.Number(j, "slowest_m_s", m.Slowest);
            JsonParts.Number(j, "fastest_m_s", m.Fastest);
        });
        JsonParts.Array(json, "measures_of_the_caught", told.Caught, (j, c) =>
        {
            j.WriteString("id", c.Measure);
            JsonParts.Number(j, "five_percent", c.Low);
            JsonParts.Number(j, "median", c.Typical);
            JsonParts.Number(j, "ninety_five_percent", c.High);
        });
        JsonParts.Array(json, "stress", told.Stress, (j, s) =>
        {
            j.WriteString("id", s.Measure);
            JsonParts.Number(j, "value", s.Value);
            j.WriteString("ending", Snake(s.Ending.ToString()));
            JsonParts.Number(j, "speed_m_s", s.Speed);
            j.WriteBoolean("worst_drawn", s.FromDraws);
        });
        JsonParts.Array(json, "moving", told.Moving, (j, m) =>
        {
            j.WriteString("key", m.Key);
            JsonParts.Number(j, "share", m.Share);
        });
    }

    private static void Answer(Utf8JsonWriter json, PairAnswer answer)
    {
        json.WriteString("id", answer.Measure);
        json.WriteString("verdict", Snake(answer.Verdict.ToString()));
        json.WriteNumber("first_lower", answer.FirstLower);
        json.WriteNumber("level", answer.Level);
        json.WriteNumber("second_lower", answer.SecondLower);
        json.WriteNumber("only_first_caught", answer.OnlyFirst);
        json.WriteNumber("only_second_caught", answer.OnlySecond);
        json.WriteNumber("neither_caught", answer.Neither);
        JsonParts.Number(json, "ratio_five_percent", answer.Low);
        JsonParts.Number(json, "ratio_median", answer.Typical);
        JsonParts.Number(json, "ratio_ninety_five_percent", answer.High);
    }

    private static string Snake(string pascal) => JsonNamingPolicy.SnakeCaseLower.ConvertName(pascal);
}
