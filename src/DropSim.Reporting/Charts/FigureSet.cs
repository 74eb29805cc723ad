using DropSim.Reporting.Files;
using DropSim.Studies;

namespace DropSim.Reporting.Charts;

/// <summary>All pictures of a scenario, as data.</summary>
internal static class FigureSet
{
    /// <summary>Builds the pictures: five per case, one of the set-ups like them where any were drawn, one per comparison. Cases without curves have none.</summary>
    /// <param name="result">What was computed.</param>
    /// <param name="options">Units, version.</param>
    internal static IReadOnlyList<Figure> Build(ScenarioResult result, ReportOptions options)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(options);
        var curves = result.Cases.Select(c => c.Run.Traces is null ? null : new CaseCurves(c)).ToArray();
        CaseCurves[] drawn = [.. curves.OfType<CaseCurves>()];
        if (drawn.Length == 0)
        {
            return [];
        }

        var scales = new ScenarioScales(drawn, options.Units);
        var view = SideViewScale.Of(drawn, scales.Clock, options.Units);
        var wording = new Wording(result, options);
        var names = FileNames.Distinct(result.Cases.Select(c => c.Case.Name));
        var figures = new List<Figure>();
        for (var i = 0; i < curves.Length; i++)
        {
            if (curves[i] is { } one)
            {
                figures.Add(ForcesChart.Build(one, scales, wording, names[i]));
                figures.Add(HeightsChart.Build(one, scales, wording, names[i]));
                figures.Add(SwayChart.Build(one, scales, wording, names[i]));
                figures.Add(SideViewChart.Build(one, scales, view, wording, names[i]));
                figures.Add(EnergyChart.Build(one, scales, wording, names[i]));
            }
        }

        if (result.Told is { Drawn.Count: > 0 } told)
        {
            figures.Add(SpreadChart.Build(told, wording, options.Units));
        }

        foreach (var comparison in result.Comparisons)
        {
            if (curves[comparison.First] is { } first && curves[comparison.Second] is { } second)
            {
                figures.Add(ComparisonChart.Build(first, second, comparison, scales, wording, $"compare-{names[comparison.First]}-vs-{names[comparison.Second]}.png"));
            }
        }

        return figures;
    }
}
