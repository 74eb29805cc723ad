using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Charts;

/// <summary>Two cases on one clock, and their five headline measures with their ranges.</summary>
internal static class ComparisonChart
{
    private const double Left = 0.6;

    internal static Figure Build(CaseCurves first, CaseCurves second, Comparison comparison, ScenarioScales scales, Wording wording, string name)
    {
        var (a, b, shared) = wording.Differing(first.Result.Case, second.Result.Case);
        var force = scales.ForceFactor;
        var length = scales.LengthFactor;
        (string Heading, Axis Axis, string Column, double Factor, string Colour, string Text, string? Measure)[] rows =
        [
            ("Load leg", scales.Force, "load_leg_tension_N", force, Palette.LoadLeg, Palette.LoadLeg, MeasureIds.LoadLegTension),
            ("Rigging point", scales.Force, "rigging_point_force_N", force, Palette.RiggingPoint, Palette.Ink, MeasureIds.RiggingPointForce),
            ("Movement of the spar at the climber's feet", scales.Sway, "climber_deflection_m", scales.SmallFactor, Palette.Climber, Palette.ClimberText, MeasureIds.ClimberMovement),
            ("Lowest point of the piece", scales.Height, "lowest_point_m", length, Palette.Piece, Palette.PieceText, null),
        ];
        var panels = new List<Panel>();
        for (var i = 0; i < rows.Length; i++)
        {
            var row = rows[i];
            Label Words(CaseCurves curves, string who, bool bold)
            {
                if (row.Measure is { } id)
                {
                    var (time, value) = curves.Extreme(row.Column, scales.Clock);
                    return new Label($"{who} {wording.ValueAndTime(curves.Run[id])}", time, value * row.Factor, row.Text, Toward.UpRight, bold);
                }

                var at = Math.Min(scales.Clock.To, curves.Traces.EndTime);
                var ending = curves.Run.End.CutsShort ? wording.Ending(curves.Run) : "";
                return new Label(ending.Length > 0 ? $"{who} {ending}" : who, at, curves.At(row.Column, at) * row.Factor, row.Text, Toward.UpLeft, bold, false);
            }

            panels.Add(new Panel
            {
                Place = new Place(0, i / (double)rows.Length, Left - 0.02, 1.0 / rows.Length),
                Heading = $"{row.Heading} ({row.Axis.Unit})",
                X = scales.Time with { Shown = i == rows.Length - 1 },
                Y = row.Axis with { Title = "", Unit = row.Axis.Unit, Step = NiceScale.Step(row.Axis.Max - row.Axis.Min, 4) },
                Curves =
                [
                    new Curve(b, second.Time, second.Column(row.Column, row.Factor), Palette.Second(row.Colour)),
                    new Curve(a, first.Time, first.Column(row.Column, row.Factor), Palette.First(row.Colour)),
                ],
                Labels = [Words(first, a, true), Words(second, b, false)],
            });
        }

        panels.AddRange(RangePanels(first, second, a, b, scales.Units, wording));
        var (x, y) = (first.Run[MeasureIds.RiggingPointForce], second.Run[MeasureIds.RiggingPointForce]);
        return new Figure
        {
            FileName = name,
            Title = comparison.Title.Length > 0 ? comparison.Title : (shared.Length > 0 ? Wording.Capital(shared) + ". " : "") + $"{a}: {wording.Value(x)} at the rigging point{Worst(x, wording)}{wording.Before(first.Run)}; {Lower(b)}: {wording.Value(y)}{Worst(y, wording)}{wording.Before(second.Run)}",
            Subtitle = wording.Subtitle(first.Result.Case, second.Result.Case),
            Footer = wording.Footer(first.Result, second.Result),
            Height = 1350,
            Panels = panels,
        };
    }

    private static IEnumerable<Panel> RangePanels(CaseCurves first, CaseCurves second, string a, string b, UnitSystem units, Wording wording)
    {
        var ids = first.Run.Measures.Where(m => m.Headline).Select(m => m.Id).ToArray();
        for (var i = 0; i < ids.Length; i++)
        {
            var (top, low) = (first.Run[ids[i]], second.Run[ids[i]]);
            var high = new[] { top.Value, top.High ?? top.Value, low.Value, low.High ?? low.Value }.Where(double.IsFinite).DefaultIfEmpty(1).Max();
            var (unit, factor) = Format.IsSmallLength(top.Id) ? Units.SmallLength(units) : Units.Axis(top.Unit, units);
            (unit, factor) = unit == "kN" && high * factor < 1 ? ("N", 1) : (unit, factor);
            var axis = NiceScale.Axis("", unit, 0, high > 0 ? high * factor : 1, 5);
            axis = axis with { Min = -0.02 * axis.Max, Max = 1.03 * axis.Max };
            var shapes = new List<Shape>();
            var dots = new List<Dot>();
            var texts = new List<Text>();
            Row(top, a, 3, true);
            Row(low, b, 1, false);

            void Row(Measure measure, string who, double y, bool strong)
            {
                var colour = Colour(measure.Id);
                if (measure.Low is { } from && measure.High is { } to && double.IsFinite(from) && double.IsFinite(to))
                {
                    shapes.Add(new Shape("range", HeightsChart.Box(from * factor, to * factor, y - 0.26, y + 0.26), "#55" + colour[1..], new Stroke(colour, strong ? 2 : 1.4, strong ? Dash.Solid : Dash.Long)));
                }

                if (double.IsFinite(measure.Value))
                {
                    dots.Add(new Dot(who, measure.Value * factor, y, Palette.Ink, strong ? 7 : 6, !strong));
                }

                texts.Add(new Text($"{who}: {wording.Value(measure)}", 0, y + 0.72, Palette.Ink, Grip.Left, strong));
                texts.Add(new Text(Uncertain(measure, wording), axis.Max, y + 0.72, Palette.Quiet, Grip.Right));
            }

            yield return new Panel
            {
                Place = new Place(Left, i / (double)ids.Length, 1 - Left, 1.0 / ids.Length),
                Heading = unit.Length > 0 ? $"{top.Label} ({unit})" : top.Label,
                X = axis,
                Y = new Axis("", "", 0.5, 4.2, 0, false),
                Shapes = shapes,
                Dots = dots,
                Texts = texts,
            };
        }
    }

    private static string Colour(string id) => id switch
    {
        MeasureIds.RiggingPointForce => "#4D4D4D",
        MeasureIds.Room => Palette.Piece,
        MeasureIds.ClimberMovement => Palette.Climber,
        MeasureIds.HandForce => Palette.Hand,
        _ => Palette.GroundLeg,
    };

    /// <summary>The worst of the range; room that is gone in every draw reads "none left", not like a value that can be relied on.</summary>
    private static string Uncertain(Measure measure, Wording wording) =>
        Wording.HasRange(measure) ? $"worst: {wording.Worst(measure)}"
        : measure.Low is null ? "no range computed"
        : measure.Id == MeasureIds.Room && measure.High <= 0 ? "none left over the whole range"
        : "the same over the range";

    private static string Worst(Measure measure, Wording wording) => Wording.HasRange(measure) ? $" (worst {wording.Worst(measure)})" : "";

    private static string Lower(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];
}
