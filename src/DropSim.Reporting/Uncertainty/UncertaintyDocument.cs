using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>The result of an uncertainty study as a study's document.</summary>
internal static class UncertaintyDocument
{
    /// <summary>Builds the document.</summary>
    /// <param name="scenario">What was computed.</param>
    /// <param name="options">Units and version.</param>
    public static StudyDocument Build(UncertaintyScenario scenario, ReportOptions options)
    {
        var words = new UncertaintyWords(scenario, options);
        var names = FileNames.Distinct(scenario.Cases.Select(c => c.Case.Name));
        return new StudyDocument
        {
            Verb = "uncertainty",
            ScenarioName = scenario.Name,
            ScenarioTitle = scenario.Title,
            SourceHash = scenario.SourceHash,
            Findings = [.. scenario.Cases.SelectMany(c => Findings(words, c)), UncertaintyWords.NotInIt],
            Tables = UncertaintyTables.Build(scenario, names),
            Figures = [.. scenario.Cases.SelectMany((c, i) => Figures(words, c, names[i]))],
            Screens = [.. scenario.Cases.SelectMany(c => Screens(words, c))],
            Inputs = [.. scenario.Cases.Select(c => new StudyInputs(c.Case.Name, c.Case.Notes))],
            Warnings = [.. scenario.Cases.SelectMany(c => Format.Warnings(c.Case, words.Units).Concat(Format.Warnings(c.Central, words.Units))).Distinct()],
            CutShort = CutShort(words),
            Details = json => JsonParts.Array(json, "cases", scenario.Cases, (j, c) =>
            {
                j.WriteString("case", c.Case.Name);
                j.WriteString("points", c.Options.Method == SamplingMethod.Sobol ? "scrambled Sobol sequence" : "Latin hypercube");
                j.WriteNumber("seed", c.Options.Seed);
                j.WriteNumber("drops_asked", c.Options.Samples);
                j.WriteNumber("drops_done", c.Samples.Count);
                j.WriteNumber("index_rows_asked", c.Options.IndexRows);
                j.WriteNumber("index_rows_done", c.IndexRowsDone);
                j.WriteNumber("index_rows_not_used", c.IndexRowsRefused);
                j.WriteNumber("cut_short_before_their_peaks", c.Ended);
                j.WriteNumber("not_computed", c.Refused);
                JsonParts.Number(j, "least_ratio_of_load_leg_peak_to_least_possible", c.LeastForceRatio);
                j.WriteString("not_in_the_spread", UncertaintyWords.NotInIt);
            }),
        };
    }

    private static IEnumerable<Figure> Figures(UncertaintyWords words, UncertaintyResult result, string name)
    {
        yield return BandsChart.Build(words, result, name);
        yield return QuantileChart.Build(words, result, name);
        yield return TornadoChart.Build(words, result, name);
        if (InfluenceChart.Build(words, result, name) is { } influence)
        {
            yield return influence;
        }

        if (result.Convergence.Count > 0)
        {
            yield return ConvergenceChart.Build(words, result, name);
        }
    }

    private static IEnumerable<string> Findings(UncertaintyWords words, UncertaintyResult result)
    {
        var force = result[MeasureIds.RiggingPointForce];
        yield return $"{words.CaseName(result)}: {UncertaintyWords.Drawn(result)}. On the rigging point: half of the drops below {words.Quantile(force, force.Quantiles[2])}, "
            + $"19 of 20 below {words.Quantile(force, force.Quantiles[^1])}; central run {Format.Value(force.Central, words.Units)}.";
        if (UncertaintyWords.Strongest(force) is { } i)
        {
            var influence = force.Influence[i];
            var total = influence.Total is { } t ? $", and takes part in {Format.Number(100 * Math.Clamp(t.Value, 0, 1))} % of its variance ({Format.Number(100 * Math.Max(0, t.Low))} to {Format.Number(100 * t.High)} %)" : "";
            yield return $"{words.CaseName(result)}: {UncertaintyWords.Name(result.Inputs[i])} has most to do with the spread of the rigging-point force (rank correlation {influence.RankCorrelation.ToString("0.00", CultureInfo.InvariantCulture)}{total}).";
        }
    }

    private static IEnumerable<ScreenTable> Screens(UncertaintyWords words, UncertaintyResult result)
    {
        yield return new(
            $"{words.CaseName(result)}: how {result.Samples.Count} drops are spread",
            ["measure", "central", "5 %", "25 %", "half", "75 %", "95 %"],
            [.. UncertaintyWords.Rows(result).Select(m => (IReadOnlyList<string>)
                [UncertaintyWords.Name(m.Central.Id), words.Central(m.Central), .. m.Quantiles.Select(q => words.Quantile(m, q))])]);
        yield return new(
            $"{words.CaseName(result)}: drops past a limit (a count, no permission)",
            ["limit", "drops", "95 % interval"],
            [.. result.Limits.Select(l => (IReadOnlyList<string>)[l.Words, UncertaintyWords.Share(l.Share, result.Samples.Count), UncertaintyWords.Interval(l.Share)])]);
        var force = result[MeasureIds.RiggingPointForce];
        if (force.Influence.Count == 0)
        {
            yield break;
        }

        const int Shown = 6;
        static string Part(Estimate? e) => e is { } x ? $"{Format.Number(100 * x.Value)} % ({Format.Number(100 * x.Low)} to {Format.Number(100 * x.High)})" : "not asked for";
        yield return new(
            $"{words.CaseName(result)}: what the spread of the rigging-point force comes from, strongest first",
            ["input", "rank correlation", "alone", "in all"],
            [.. Enumerable.Range(0, force.Influence.Count).OrderByDescending(i => force.Influence[i].Total?.Value ?? Math.Abs(force.Influence[i].RankCorrelation)).Take(Shown)
                .Select(i => (IReadOnlyList<string>)
                    [UncertaintyWords.Name(result.Inputs[i]), force.Influence[i].RankCorrelation.ToString("0.00", CultureInfo.InvariantCulture), Part(force.Influence[i].First), Part(force.Influence[i].Total)])]);
    }

    private static string? CutShort(UncertaintyWords words)
    {
        var scenario = words.Scenario;
        if (!scenario.CutShort)
        {
            return null;
        }

        var last = scenario.Cases[^1];
        return string.Create(CultureInfo.InvariantCulture,
            $"Interrupted: {scenario.Cases.Count} of {scenario.Asked} cases begun or done; of the last one, {words.CaseName(last)}, {last.Samples.Count} of {last.Options.Samples} drops and {last.IndexRowsDone} of {last.Options.IndexRows} rows of indices. Everything here is from what was finished.");
    }
}
