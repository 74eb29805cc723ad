using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>Where the energy went: stacked areas that sum to a flat line.</summary>
internal static class EnergyChart
{
    /// <summary>A place that never holds more than this share of the whole is drawn with the others.</summary>
    private const double Smallest = 0.03;

    /// <summary>From the bottom: what is lost for good, then what is stored, then what is still to fall.</summary>
    private static readonly (string Column, string Name, string Fill)[] Places =
    [
        ("lost_device_J", "friction at the device and hand", Palette.GroundLeg),
        ("lost_rigging_point_J", "friction at the rigging point", "#4D4D4D"),
        ("lost_hitch_J", "tightening of the hitch", "#8FBDD9"),
        ("lost_rope_J", "heat in the rope", Palette.LoadLeg),
        ("lost_spar_J", "damping of the spar", "#00674B"),
        ("lost_contact_J", "strikes", "#7A5C99"),
        ("lost_drag_J", "air", "#C9C9C9"),
        ("lost_hinge_J", "the hinge", "#B8A98F"),
        ("energy_contact_J", "piece pressing on the spar", "#B9A6CC"),
        ("energy_spar_J", "sway of the spar", Palette.Spar),
        ("energy_rope_J", "stretch of the rope", "#6FAFD6"),
        ("energy_kinetic_J", "motion of the piece", Palette.Piece),
        ("energy_potential_J", "height still to fall", "#DCEBF5"),
    ];

    /// <summary>Energy at the start, J: the sum that must stay.</summary>
    private static double Total(CaseCurves curves) => Places.Sum(p => curves.Column(p.Column)[0]);

    /// <summary>How well the books close, per cent, rounded up to a power of ten and never below 0.0001 %: a bound, not a claim of being exact.</summary>
    /// <param name="imbalance">Largest imbalance as a share of what fell.</param>
    internal static double Closing(double imbalance)
    {
        const double Finest = 1e-4;
        var bound = Finest;
        while (bound < 100 * imbalance)
        {
            bound *= 10;
        }

        return bound;
    }

    internal static Figure Build(CaseCurves curves, ScenarioScales scales, Wording wording, string name)
    {
        var total = Total(curves);
        var columns = Places.Select(p => (p.Name, p.Fill, Values: curves.Column(p.Column, 100 / total))).ToList();
        const double Limit = 100 * Smallest;
        var small = columns.Where(c => c.Values.Max() < Limit || (c.Values.Average() < Limit / 5 && c.Values[^1] < Limit)).ToList();
        columns.RemoveAll(small.Contains);
        if (small.Count > 0)
        {
            var sum = new double[curves.Time.Length];
            foreach (var (_, _, values) in small)
            {
                for (var i = 0; i < sum.Length; i++)
                {
                    sum[i] += values[i];
                }
            }

            columns.Insert(columns.Count - 1, ("other places", "#A6A6A6", sum));
        }

        var areas = new List<Area>();
        var lower = new double[curves.Time.Length];
        foreach (var (place, fill, values) in columns)
        {
            var upper = new double[lower.Length];
            for (var i = 0; i < upper.Length; i++)
            {
                upper[i] = lower[i] + values[i];
            }

            areas.Add(new Area(place, curves.Time, lower, upper, fill));
            lower = upper;
        }

        var units = scales.Units;
        var (unit, factor) = Units.Axis("J", units);
        var fallen = curves.Run.Ledger.Fallen;
        var lost = curves.Run.Ledger.Places.Where(p => p.Lost).OrderByDescending(p => p.Energy).ToArray();
        var motion = curves.Run.Ledger.Places.Where(p => p.Column == "energy_kinetic_J").Sum(p => p.Energy);
        var finding = curves.Run.End.CutsShort
            ? $"{Share(motion, fallen)} was still in the moving piece when it {Ending(wording, curves.Run)}"
            : lost.Length < 2 || lost[0].Energy <= 0
            ? "none was taken up"
            : $"{Share(lost[0].Energy, fallen)} went into {Named(lost[0])}, {Share(lost[1].Energy, fallen)} into {Named(lost[1])}";
        var others = small.Count == 0 ? "" : " Other places (grey): " + string.Join(", ", small.Select(s => s.Name)) + ".";
        return new Figure
        {
            FileName = $"{name}-energy.png",
            Title = $"{wording.CaseName(curves.Result.Case)}: of the {Format.Quantity(fallen, "J", units)} that fell, {finding}",
            Subtitle = wording.Subtitle(curves.Result, $"The books close to within {Closing(curves.Run.Ledger.LargestImbalance).ToString("0.####", System.Globalization.CultureInfo.InvariantCulture)} % of what fell: a flat upper edge." + others),
            Footer = wording.Footer(),
            Height = 1000,
            Panels =
            [
                new Panel
                {
                    X = scales.Time,
                    Y = scales.Energy,
                    Right = new SecondScale($"Energy ({unit})", 100 / (total * factor), NiceScale.Step(total * factor, 6)),
                    Ticks = wording.Ticks(curves, scales.Clock),
                    Bands = [.. Wording.Bands(curves, scales.Clock).Where(b => b.From >= curves.Traces.EndTime)],
                    Areas = areas,
                    Curves = [new Curve("sum", curves.Time, lower, new Stroke(Palette.Ink, 1.6))],
                },
            ],
        };
    }

    private static string Ending(Wording wording, DropRun run) => run.End.Kind switch
    {
        EndKind.Ground => "touched the ground",
        EndKind.Obstacle => $"touched {Wording.Obstacle(run)}",
        _ => "went out of reach of the computation: " + wording.Ending(run),
    };

    private static string Named(EnergyPlace place) => Array.Find(Places, p => p.Column == place.Column).Name ?? place.Label;

    private static string Share(double part, double whole) => whole > 0 ? Format.Percent(part / whole) : "unknown";
}
