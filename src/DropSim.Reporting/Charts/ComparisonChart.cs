using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Charts;

/// <summary>Two cases on one clock, and beside them how they compare draw by draw.</summary>
internal static class ComparisonChart
{
    /// <summary>Where the comparison of draws begins, as a fraction of the picture.</summary>
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
            Label Words(CaseCurves curves, CaseCurves other, string who, bool bold)
            {
                if (row.Measure is { } id)
                {
                    var (time, value) = curves.Extreme(row.Column, scales.Clock);
                    return new Label($"{who} {wording.ValueAndTime(curves.Run[id])}", time, value * row.Factor, row.Text, Toward.UpRight, bold);
                }

                var at = Math.Min(scales.Clock.To, curves.Traces.EndTime);
                var ending = curves.Run.End.CutsShort ? wording.Ending(curves.Run) : "";
                return new Label(ending.Length > 0 ? $"{who} {ending}" : who, at, curves.At(row.Column, at) * row.Factor, row.Text, IsLower(curves, other, row.Column, scales.Clock) ? Toward.DownLeft : Toward.UpLeft, bold);
            }

            panels.Add(new Panel
            {
                Place = new Place(0, i / (double)rows.Length, wording.Told(comparison) is null ? 1 : Left - 0.02, 1.0 / rows.Length),
                Heading = $"{row.Heading} ({row.Axis.Unit})",
                X = scales.Time with { Shown = i == rows.Length - 1 },
                Y = row.Axis with { Title = "", Unit = row.Axis.Unit, Step = NiceScale.Step(row.Axis.Max - row.Axis.Min, 4) },
                Curves =
                [
                    new Curve(b, second.Time, second.Column(row.Column, row.Factor), Palette.Second(row.Colour)),
                    new Curve(a, first.Time, first.Column(row.Column, row.Factor), Palette.First(row.Colour)),
                ],
                Labels = [Words(first, second, a, true), Words(second, first, b, false)],
            });
        }

        var told = wording.Told(comparison);
        if (told is { } drawn)
        {
            panels.AddRange(PairPanels.Build(drawn.Scenario, drawn.Pair, a, b, Left));
        }

        var (title, rest) = wording.Finding(comparison);
        var (x, y) = (first.Run[MeasureIds.RiggingPointForce], second.Run[MeasureIds.RiggingPointForce]);
        return new Figure
        {
            FileName = name,
            Title = title.Length > 0 ? title
                : comparison.Title.Length > 0 ? comparison.Title
                : (shared.Length > 0 ? Wording.Capital(shared) + ". " : "") + $"{a}: {wording.Value(x)} at the rigging point{wording.Before(first.Run)}; {Wording.Lower(b)}: {wording.Value(y)}{wording.Before(second.Run)}",
            Subtitle = string.Join(" ", new[] { rest, wording.Subtitle(first.Result.Case, second.Result.Case), told is null ? "" : PairDotsWords }.Where(t => t.Length > 0)),
            Footer = wording.Footer(),
            Height = 1350,
            Panels = panels,
        };
    }

    /// <summary>True where a curve ends below the other: its name then stands below it, not on the side of the other.</summary>
    private static bool IsLower(CaseCurves curves, CaseCurves other, string column, Clock clock)
    {
        double End(CaseCurves c) => c.At(column, Math.Min(clock.To, c.Traces.EndTime));
        return End(curves) < End(other);
    }

    private const string PairDotsWords = "Each dot or cross: one of 20 set-ups like it, the same draw in both.";
}
