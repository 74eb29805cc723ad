using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>How much each input has to do with the spread of the rigging-point force: indices with their intervals, and rank correlation.</summary>
internal static class InfluenceChart
{
    private const double NamesShare = 0.27;
    private const double IndexShare = 0.43;
    private const double Percent = 100;

    /// <summary>Builds the picture; null where no influence is known.</summary>
    public static Figure? Build(UncertaintyWords words, UncertaintyResult result, string name)
    {
        var spread = result[MeasureIds.RiggingPointForce];
        if (spread.Influence.Count == 0 || spread.Influence[0].Total is null)
        {
            return null;
        }

        var influence = spread.Influence;
        int[] order = [.. Enumerable.Range(0, influence.Count).OrderByDescending(i => influence[i].Total!.Value.Value)];
        var n = order.Length;
        var shapes = new List<Shape>();
        var lines = new List<Curve>();
        var dots = new List<Dot>();
        var bars = new List<Shape>();
        for (var row = 0; row < n; row++)
        {
            var y = InputRows.Y(n, row);
            var one = influence[order[row]];
            Mark(one.First!.Value, y + 0.16, Palette.LoadLeg, false);
            Mark(one.Total!.Value, y - 0.16, Palette.GroundLeg, true);
            var fill = one.RankCorrelation < 0 ? "#C4C4C4" : "#4D4D4D";
            bars.Add(new Shape("rank", [(0, y - 0.25), (one.RankCorrelation, y - 0.25), (one.RankCorrelation, y + 0.25), (0, y + 0.25)], fill, new Stroke(fill, 1)));
        }

        var strongest = influence[order[0]];
        var low = Math.Min(0, influence.Min(i => Math.Min(i.First!.Value.Low, i.Total!.Value.Low))) * Percent;
        var high = Math.Max(0.1, influence.Max(i => Math.Max(i.First!.Value.High, i.Total!.Value.High))) * Percent;
        var cut = result.Ended == 0 ? "" : " Of drops that ended early, what was recorded before their end counts.";
        return new Figure
        {
            FileName = $"{name}-influence.png",
            Title = $"{words.CaseName(result)}: {UncertaintyWords.Name(result.Inputs[order[0]])} takes part in {Format.Number(Percent * Math.Max(0, strongest.Total!.Value.Value))} % of the spread of the rigging-point force",
            Subtitle = FormattableString.Invariant($"{words.Scenario.Title}. {words.CaseName(result)}. Filled: share of the variance that an input brings alone; hollow: share in which it takes part; lines: 95 % interval from {result.IndexRowsDone} rows.{cut}"),
            Footer = words.Footer(result),
            Height = 420 + (50 * n),
            Panels =
            [
                InputRows.Names("Input, strongest first", " ", [.. order.Select(i => (UncertaintyWords.Name(result.Inputs[i]), ""))]) with { Place = new Place(0, 0, NamesShare, 1) },
                new Panel
                {
                    Heading = "Share of the variance",
                    X = InputRows.Scale("alone (filled) and in all (hollow)", "%", low, high, 6),
                    Y = InputRows.Axis(n),
                    Shapes = shapes,
                    Curves = lines,
                    Dots = dots,
                    Place = new Place(NamesShare, 0, IndexShare, 1),
                },
                new Panel
                {
                    Heading = "Rank correlation",
                    X = new Axis("larger input, smaller force (pale) or larger (dark)", "", -1.12, 1.12, 0.5),
                    Y = InputRows.Axis(n),
                    Shapes = bars,
                    Place = new Place(NamesShare + IndexShare, 0, 1 - NamesShare - IndexShare, 1),
                },
            ],
        };

        void Mark(Estimate estimate, double y, string colour, bool hollow)
        {
            lines.Add(new Curve("interval", [estimate.Low * Percent, estimate.High * Percent], [y, y], new Stroke(colour, 2)));
            dots.Add(new Dot(hollow ? "total" : "first", estimate.Value * Percent, y, colour, 5.5, hollow));
        }
    }
}
