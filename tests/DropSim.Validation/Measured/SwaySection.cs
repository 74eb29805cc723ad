using DropSim.Model;
using DropSim.Reporting.Charts;
using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's section on sway.</summary>
internal static class SwaySection
{
    /// <summary>Frequencies of bare stems against diameter over height squared.</summary>
    public static Figure Picture()
    {
        var stems = Sway.Stems;
        var fit = Sway.Fit;
        var most = stems.Max(s => s.Slenderness);
        var steepest = stems.MaxBy(s => s.Frequency)!;
        var softest = stems.Where(s => s.Slenderness == steepest.Slenderness).MinBy(s => s.Frequency)!;
        return new Figure
        {
            FileName = "sway-frequency.png",
            Title = $"Bare stems sway as diameter over height squared ({Percent(fit.Explained)} of the variance), as real conifers do",
            Subtitle = "72 invented conifer stems of four species, 8 to 30 m, rigid root, nobody on them. The published line was not read: only its form is compared.",
            Footer = Footer,
            Panels =
            [
                new Panel
                {
                    X = NiceScale.Axis("Diameter at 1.3 m over height squared", "cm/m²", 0, 1.15 * most),
                    Y = NiceScale.Axis("Sway frequency", "Hz", 0, 1.1 * steepest.Frequency),
                    Curves = [new Curve("line", [0, most], [fit.Start, fit.Start + (fit.Slope * most)], new Stroke(Palette.Quiet, 2, Dash.DashDot))],
                    Dots = [.. stems.Select(s => new Dot(s.Wood, s.Slenderness, s.Frequency, Palette.Spar, 6, s.Wood == softest.Wood))],
                    Labels =
                    [
                        new Label($"least squares: {N(fit.Slope, 1)} Hz per cm/m²", 0.9 * most, fit.Start + (0.9 * fit.Slope * most), Palette.Quiet, Toward.DownRight),
                        new Label(steepest.Wood, steepest.Slenderness, steepest.Frequency, Palette.SparText, Toward.Right),
                        new Label(softest.Wood, softest.Slenderness, softest.Frequency, Palette.SparText, Toward.Right),
                    ],
                },
            ],
        };
    }

    public static string Text()
    {
        var fit = Sway.Fit;
        double Frequency(string scenario, double climber, double root)
        {
            var input = Drops.Shipped(scenario, "base-hard-stop").Input;
            return Drops.Run(input with { Spar = input.Spar with { ClimberMass = climber, RootStiffness = root } })[MeasureIds.SwayFrequency].Value;
        }

        string[] Row(string scenario)
        {
            var (bare, with, heavy) = (Frequency(scenario, 0, double.PositiveInfinity), Frequency(scenario, 90, double.PositiveInfinity), Frequency(scenario, 120, double.PositiveInfinity));
            var soft = Frequency(scenario, 90, 0.5e6);
            return [scenario, N(bare, 2), N(with, 2), N(heavy, 2), Change((with / bare) - 1), N(soft, 2), Change((soft / with) - 1)];
        }

        return $"""
            ## Sway: frequency and damping

            {Words.Picture(Picture())}
            * **Frequency is linear in diameter over height squared** (J.R. Moore, D.A. Maguire 2004, 602 conifers; abstract: A). Computed for 72 bare stems: {Percent(fit.Explained)} of the variance on one
              line that starts at {N(fit.Start, 2)} Hz. *Reproduced in form.* The published line was not read, and those trees had crowns, so no frequency of a real stem has been compared.
            * **Damping** is an input, never a result. De-branched stems 1 to 8 % (the same authors, nine Douglas-fir; A); default 2 %, range 1 to 8 %. Internal damping below 5 % (A): the default is inside. *Nothing is predicted.*
            * **A climber acts as added mass** (B. Kane 2018, red oaks; A). Computed with the shipped scenarios, rigid root unless said:

            {Table(["scenario", "nobody, Hz", "90 kg, Hz", "120 kg, Hz", "a climber changes it by", "90 kg, soft root (0.5 MN m/rad), Hz", "a soft root changes it by"], [Row("medium-log"), Row("small-top")])}
            *Reproduced in direction*; no size was read. Pruning raises frequency and lowers damping (the same; A): *not modelled*, the spar has no crown.

            What the root does is larger than anything else here, and nobody sees it: a sway test (ten swings timed) replaces the guess.
            """;
    }
}
