using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>Tensions of both legs, the hand and the force on the rigging point over time.</summary>
internal static class ForcesChart
{
    internal static Figure Build(CaseCurves curves, ScenarioScales scales, Wording wording, string name)
    {
        var run = curves.Run;
        var rigging = run[MeasureIds.RiggingPointForce];
        var factor = scales.ForceFactor;
        var weight = curves.Weight * factor;
        var lines = new[]
        {
            (Id: MeasureIds.RiggingPointForce, Column: "rigging_point_force_N", Name: "rigging point", Stroke: new Stroke(Palette.RiggingPoint, 3.4), Text: Palette.Ink, Toward: Toward.UpRight),
            (Id: MeasureIds.LoadLegTension, Column: "load_leg_tension_N", Name: "load leg", Stroke: new Stroke(Palette.LoadLeg, 2.8), Text: Palette.LoadLeg, Toward: Toward.Left),
            (Id: MeasureIds.GroundLegTension, Column: "ground_leg_tension_N", Name: "ground leg", Stroke: new Stroke(Palette.GroundLeg, 2.8, Dash.Long), Text: Palette.GroundLegText, Toward: Toward.Left),
            (Id: MeasureIds.HandForce, Column: "hand_tension_N", Name: curves.Input.Catch.Kind == CatchKind.HardStop ? "hand, if it held,\n" : "hand", Stroke: new Stroke(Palette.Hand, 2.8, Dash.Dots), Text: Palette.HandText, Toward: Toward.UpLeft),
        };

        var labels = new List<Label>();
        var dots = new List<Dot>();
        foreach (var line in lines)
        {
            var measure = run[line.Id];
            if (measure.Time > scales.Clock.To)
            {
                // Nearly reached before, and reached only after the story ends.
                labels.Add(new Label($"{line.Name} {wording.ValueAndTime(measure)}, after this picture", curves.NearlyLargest(line.Column), measure.Value * factor, line.Text, line.Toward));
            }
            else if (measure.Time is { } time && time >= scales.Clock.From)
            {
                labels.Add(new Label($"{line.Name} {wording.ValueAndTime(measure)}".Replace("\n ", "\n", StringComparison.Ordinal), time, measure.Value * factor, line.Text, line.Toward, line.Id == MeasureIds.RiggingPointForce));
                dots.Add(new Dot(line.Name, time, measure.Value * factor, line.Stroke.Colour, 5, true));
            }
        }

        return new Figure
        {
            FileName = $"{name}-forces.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: {wording.WithSpread(curves.Result, rigging.Id, "at the rigging point")}"
                + (wording.Before(run) is { Length: > 0 } before ? before : $", {wording.Value(run[MeasureIds.RiggingPointTimesWeight])} × the piece's weight"),
            Subtitle = wording.Subtitle(curves.Result),
            Footer = wording.Footer(),
            Height = 1000,
            Panels =
            [
                new Panel
                {
                    X = scales.Time,
                    Y = scales.Force,
                    Right = new SecondScale("Multiples of the piece's weight", weight, NiceScale.Step(scales.Force.Max / weight, 6)),
                    Bands = Wording.Bands(curves, scales.Clock),
                    Ticks = wording.Ticks(curves, scales.Clock),
                    Curves = [.. lines.Reverse().Select(l => new Curve(l.Name, curves.Time, curves.Column(l.Column, factor), l.Stroke))],
                    Dots = dots,
                    Labels = labels,
                },
            ],
        };
    }
}
