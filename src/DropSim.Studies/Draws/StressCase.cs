using DropSim.Model;
using DropSim.Studies.Uncertainty;

namespace DropSim.Studies.Draws;

/// <summary>
/// The stress case of one measure: everything bad at once, or the worst that was drawn, whichever is worse. It is neither typical nor a bound.
/// </summary>
/// <param name="Measure">Id of the measure.</param>
/// <param name="Value">The worse of the two, SI; of a drop that was not caught what it had come to.</param>
/// <param name="Ending">How the corner ends.</param>
/// <param name="Speed">Speed at its end, m/s.</param>
/// <param name="Obstacle">Which obstacle it hits; -1 for none.</param>
/// <param name="FromDraws">True where the worst that was drawn is worse than the corner.</param>
/// <param name="Inputs">The corner: index of each uncertain input and its value, SI.</param>
public sealed record StressCase(
    string Measure, double Value, DrawEnding Ending, double Speed, int Obstacle, bool FromDraws, IReadOnlyList<(int Input, double Value)> Inputs)
{
    /// <summary>The measures that have a stress case of their own, with true where smaller is worse.</summary>
    public static IReadOnlyList<(string Measure, bool SmallerIsWorse)> Judged { get; } =
    [
        (MeasureIds.RiggingPointForce, false), (MeasureIds.Room, true), (MeasureIds.ClimberMovement, false), (MeasureIds.HandForce, false),
        (MeasureIds.RopeRun, false), (MeasureIds.LoadLegTension, false),
    ];

    /// <summary>The stress cases of one case; one drop each.</summary>
    /// <param name="scenario">The scenario on its draws.</param>
    /// <param name="which">Index of the case.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    public static IReadOnlyList<StressCase> Of(DrawnScenario scenario, int which, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        return [.. Judged.Select((_, j) => Of(scenario, which, j, cancellation))];
    }

    /// <summary>One stress case of one case; one drop.</summary>
    internal static StressCase Of(DrawnScenario scenario, int which, int judged, CancellationToken cancellation)
    {
        var (measure, smallerIsWorse) = Judged[judged];
        var c = scenario.Cases[which];
        var points = new DropPoints(c.Case.Input, c.Case.Uncertain);
        var corner = points.CentralPoint();
        foreach (var mover in Movers.All(scenario, which, measure, smallerIsWorse))
        {
            corner[mover.Input] = Worst(c.Case.Uncertain[mover.Input].Distribution, mover.Worst);
        }

        var place = scenario.PlaceOf(measure);
        var input = points.Input(corner);
        var run = DropOutcome.Of(input, new RunOptions { Detail = RunDetail.MeasuresOnly }, cancellation);
        var drop = DrawnDrop.Of(run, scenario.Plan.Measures);
        var drawn = c.Drops.Take(scenario.Count).Where(d => d.IsCaught).Select(d => d.Values[place]).Where(double.IsFinite).ToArray();
        var worstDrawn = drawn.Length == 0 ? double.NaN : smallerIsWorse ? drawn.Min() : drawn.Max();
        var fromDraws = drop.Ending is DrawEnding.NotComputed || (drop.IsCaught && (smallerIsWorse ? worstDrawn < drop.Values[place] : worstDrawn > drop.Values[place]));
        return new(measure, fromDraws ? worstDrawn : drop.Values[place], fromDraws ? DrawEnding.Caught : drop.Ending, drop.Speed, drop.Obstacle, fromDraws,
            [.. corner.Select((v, i) => (i, v)).Where(p => p.v != c.Case.Uncertain[p.i].Range.Central)]);
    }

    /// <summary>The end of a distribution on whose side the measure is worst; where it is worst within, the middle of that interval.</summary>
    private static double Worst(InputDistribution distribution, int interval) => interval switch
    {
        0 => End(distribution, Far),
        Movers.Intervals - 1 => End(distribution, 1 - Far),
        _ => Distributions.Quantile(distribution, (interval + 0.5) / Movers.Intervals),
    };

    /// <summary>Shapes without ends are taken this far.</summary>
    private const double Far = 0.01;

    private static double End(InputDistribution distribution, double share) => distribution.Kind is DistributionKind.Normal or DistributionKind.LogNormal
        ? Distributions.Quantile(distribution, share)
        : share < 0.5 ? Math.Max(distribution.Low, distribution.Least) : Math.Min(distribution.High, distribution.Most);
}
