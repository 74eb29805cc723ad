using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>What each input alone does to a measure, from its 5 % to its 95 % point, the others at their central values.</summary>
internal static class TornadoChart
{
    private const double NamesShare = 0.27;

    /// <summary>Height of a bar as a part of its row.</summary>
    private const double Bar = 0.62;

    private static readonly (string Id, string Heading, string Colour, string Pale)[] Measured =
    [
        (MeasureIds.RiggingPointForce, "Force on the rigging point", "#4D4D4D", "#C4C4C4"),
        (MeasureIds.Room, "Room left under the piece", "#2E8BC0", "#B5DCF4"),
        (MeasureIds.ClimberMovement, "Movement at the climber's feet", "#B0598B", "#EBCBDD"),
    ];

    public static Figure Build(UncertaintyWords words, UncertaintyResult result, string name)
    {
        double Swing(int i, string id)
        {
            var (a, b, central) = (Of(result.Tornado[i].AtLow, id), Of(result.Tornado[i].AtHigh, id), result.Central[id].Value);
            double[] all = [.. new[] { a?.Value, b?.Value, central }.OfType<double>().Where(double.IsFinite)];
            return all.Length == 0 ? 0 : all.Max() - all.Min();
        }

        int[] order = [.. Enumerable.Range(0, result.Inputs.Count).OrderByDescending(i => Swing(i, MeasureIds.RiggingPointForce))];
        var force = result.Central[MeasureIds.RiggingPointForce];
        var bar = result.Tornado[order[0]];
        Measure?[] ends = [Of(bar.AtLow, force.Id), Of(bar.AtHigh, force.Id)];
        var least = ends.OfType<Measure>().MinBy(m => m.Value);
        var most = ends.OfType<Measure>().MaxBy(m => m.Value);
        var second = order.Length > 1 ? $", then {UncertaintyWords.Name(result.Inputs[order[1]])}" : "";
        var width = (1 - NamesShare) / Measured.Length;
        return new Figure
        {
            FileName = $"{name}-tornado.png",
            Title = $"{words.CaseName(result)}: {UncertaintyWords.Name(result.Inputs[order[0]])} alone moves the rigging-point force most, "
                + $"from {(least is null ? "unknown" : Format.Value(least, words.Units))} to {(most is null ? "unknown" : Format.Value(most, words.Units))}{second}",
            Subtitle = $"{words.Scenario.Title}. {words.CaseName(result)}. Each input alone at its 5 % (pale) and 95 % point (dark), the others at their central values (vertical line: central run). "
                + "A dashed outline: that drop ended early, and its force is at least what is drawn.",
            Footer = words.Footer(result),
            Height = 420 + (54 * order.Length),
            Panels =
            [
                InputRows.Names("Input", "5 % to 95 % point", [.. order.Select(i => (UncertaintyWords.Name(result.Inputs[i]), words.Ends(result.Inputs[i], result.Tornado[i].Low, result.Tornado[i].High)))])
                    with { Place = new Place(0, 0, NamesShare, 1) },
                .. Measured.Select((m, k) => Panel(words, result, order, m) with { Place = new Place(NamesShare + (k * width), 0, width, 1) }),
            ],
        };
    }

    private static Measure? Of(DropOutcome outcome, string id) => outcome.Run?[id];

    private static Panel Panel(UncertaintyWords words, UncertaintyResult result, int[] order, (string Id, string Heading, string Colour, string Pale) m)
    {
        var measure = result.Central[m.Id];
        var (unit, factor) = words.Axis(measure);
        var central = measure.Value * factor;
        var values = result.Tornado.SelectMany(b => new[] { Of(b.AtLow, m.Id)?.Value ?? double.NaN, Of(b.AtHigh, m.Id)?.Value ?? double.NaN })
            .Append(measure.Value).Where(double.IsFinite).Select(v => v * factor).ToArray();
        var axis = InputRows.Scale(m.Heading, unit, values.Min(), values.Max(), 4);
        var shapes = new List<Shape>();
        for (var row = 0; row < order.Length; row++)
        {
            var bar = result.Tornado[order[row]];
            var y = InputRows.Y(order.Length, row);
            Add(Of(bar.AtLow, m.Id), y, m.Pale, "low");
            Add(Of(bar.AtHigh, m.Id), y, m.Colour, "high");
        }

        return new Panel
        {
            Heading = m.Heading,
            X = axis,
            Y = InputRows.Axis(order.Length),
            Shapes = shapes,
            Curves = [new Curve("central", [central, central], [0, order.Length], new Stroke(Palette.Ink, 2))],
        };

        void Add(Measure? end, double middle, string fill, string which)
        {
            if (end is null || !double.IsFinite(end.Value))
            {
                return;
            }

            // Both ends on one side: the dark bar stands below the pale one, so that neither hides the other.
            var half = Bar / 2;
            var (from, to) = which == "low" ? (middle, middle + half) : (middle - half, middle);
            var bound = end.State is MeasureState.AtLeast or MeasureState.NotReached;
            var at = end.Value * factor;
            shapes.Add(new Shape(which, [(central, from), (at, from), (at, to), (central, to)], fill, bound ? new Stroke(Palette.Ink, 1.6, Dash.Long) : new Stroke(fill, 1)));
        }
    }
}
