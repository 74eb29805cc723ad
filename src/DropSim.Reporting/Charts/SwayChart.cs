using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>What the climber on the spar goes through.</summary>
internal static class SwayChart
{
    internal static Figure Build(CaseCurves curves, ScenarioScales scales, Wording wording, string name)
    {
        var run = curves.Run;
        var movement = run[MeasureIds.ClimberMovement];
        var tip = run[MeasureIds.TipDeflection];
        var rate = run[MeasureIds.ClimberAcceleration];
        var feet = curves.Input.Spar.ClimberMass > 0 ? "at the climber's feet" : "where a climber's feet would be";

        Label Peak(Measure measure, string column, string words, double factor, string colour, bool bold)
        {
            var (time, value) = curves.Extreme(column, scales.Clock);
            return new Label($"{words} {wording.ValueAndTime(measure)}", time, value * factor, colour, value < 0 ? Toward.DownRight : Toward.UpRight, bold);
        }

        var frequency = run[MeasureIds.SwayFrequency];
        var settle = run[MeasureIds.SettleTime];
        return new Figure
        {
            FileName = $"{name}-sway.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: the spar moves {wording.WithSpread(curves.Result, movement.Id, feet)}",
            Subtitle = wording.Subtitle(curves.Result, $"Sway frequency {wording.Value(frequency)}; {wording.Value(settle)} to die down to a twentieth."),
            Footer = wording.Footer(),
            Height = 1000,
            Panels =
            [
                new Panel
                {
                    Place = new Place(0, 0, 1, 0.6),
                    X = scales.Time with { Shown = false },
                    Y = scales.Sway,
                    Bands = Wording.Bands(curves, scales.Clock),
                    Ticks = wording.Ticks(curves, scales.Clock),
                    Curves =
                    [
                        new Curve("top of the spar", curves.Time, curves.Column("tip_deflection_m", scales.SmallFactor), new Stroke(Palette.Spar, 2.4, Dash.Long)),
                        new Curve("climber's feet", curves.Time, curves.Column("climber_deflection_m", scales.SmallFactor), new Stroke(Palette.Climber, 3.6)),
                    ],
                    Labels =
                    [
                        Peak(movement, "climber_deflection_m", feet, scales.SmallFactor, Palette.ClimberText, true),
                        Peak(tip, "tip_deflection_m", "top of the spar", scales.SmallFactor, Palette.SparText, false),
                    ],
                    Texts = [new Text("toward the fall is up", scales.Clock.From + (0.985 * (scales.Clock.To - scales.Clock.From)), scales.Sway.Min + (0.05 * (scales.Sway.Max - scales.Sway.Min)), Palette.Quiet, Grip.Right)],
                },
                new Panel
                {
                    Place = new Place(0, 0.6, 1, 0.4),
                    Heading = $"Acceleration {feet}, raw (not filtered, not weighted)",
                    X = scales.Time,
                    Y = scales.Acceleration,
                    Bands = [.. Wording.Bands(curves, scales.Clock).Select(b => b with { Name = "" })],
                    Curves = [new Curve("acceleration", curves.Time, curves.Column("climber_acceleration_m_s2", scales.AccelerationFactor), new Stroke(Palette.Climber, 2.2))],
                    Labels = [Peak(rate, "climber_acceleration_m_s2", "largest", scales.AccelerationFactor, Palette.ClimberText, false)],
                },
            ],
        };
    }
}
