using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>A rectangle of the plane of the fall, m.</summary>
internal readonly record struct Yard(double XMin, double XMax, double ZMin, double ZMax);

/// <summary>What all side views of a scenario share: the same piece of the yard, the same length of arrow for the same force.</summary>
/// <param name="Whole">The whole spar and fall.</param>
/// <param name="Close">The surroundings of the rigging point at the largest force.</param>
/// <param name="NewtonsPerMetre">Force of an arrow of one metre on paper, N/m.</param>
internal sealed record SideViewScale(Yard Whole, Yard Close, double NewtonsPerMetre)
{
    /// <summary>Time between the scenes that are looked at for the extent, s.</summary>
    private const double Grid = 0.05;

    /// <summary>The longest arrow, m.</summary>
    private const double LongestArrow = 1.8;

    /// <summary>Height of the close surroundings at most, m.</summary>
    private const double Tallest = 4.5;

    /// <summary>Free space around what is drawn, m.</summary>
    private const double Margin = 0.35;

    internal static SideViewScale Of(IReadOnlyList<CaseCurves> cases, Clock clock, UnitSystem units)
    {
        var factor = Units.Axis("N", units).Factor;
        var force = cases.Max(c => c.Run[MeasureIds.RiggingPointForce].Value);
        var perMetre = NiceScale.Step(Math.Max(force, 1) / LongestArrow * factor, 1) / factor;
        return new SideViewScale(WholeOf(cases, clock), CloseOf(cases, perMetre), perMetre);
    }

    private static Yard WholeOf(IReadOnlyList<CaseCurves> cases, Clock clock)
    {
        var (low, high, top) = (-1.2, 1.2, 0.0);
        foreach (var curves in cases)
        {
            var input = curves.Input;
            low = Math.Min(low, Math.Min(input.Device.X, input.Site.Obstacles.Select(o => o.XFrom).DefaultIfEmpty(0).Min()));
            high = Math.Max(high, Math.Max(input.Device.X, input.Site.Obstacles.Select(o => o.XTo).DefaultIfEmpty(0).Max()));
            for (var t = Math.Max(clock.From, curves.Traces.StartTime); t <= Math.Min(clock.To, curves.Traces.EndTime); t += Grid)
            {
                var piece = curves.Traces.SceneAt(t).Piece;
                low = Math.Min(low, piece.Min(p => p.X));
                high = Math.Max(high, piece.Max(p => p.X));
                top = Math.Max(top, piece.Max(p => p.Z));
            }
        }

        return new Yard(low - Margin, high + Margin, -0.05 * top, 1.06 * top);
    }

    private static Yard CloseOf(IReadOnlyList<CaseCurves> cases, double perMetre)
    {
        var points = new List<PlanePoint>();
        foreach (var curves in cases)
        {
            var scene = curves.Traces.SceneAt(SideViewChart.PeakTime(curves));
            var ring = scene.RiggingPoint;
            points.AddRange(scene.Piece);
            points.AddRange([ring, scene.SparAxis[^1], new PlanePoint(ring.X + (scene.RiggingForceX / perMetre), ring.Z + (scene.RiggingForceZ / perMetre))]);
            points.Add(new PlanePoint(ring.X, ring.Z - (scene.GroundLegTension / perMetre)));
            if (scene.Climber is { } climber)
            {
                points.Add(climber);
            }
        }

        // A piece far below is left to the other panel: the arrows must stay large.
        var floor = points.Max(p => p.Z) - Tallest;
        points.RemoveAll(p => p.Z < floor);
        return new Yard(points.Min(p => p.X) - Margin, points.Max(p => p.X) + Margin, points.Min(p => p.Z) - Margin, points.Max(p => p.Z) + Margin);
    }
}
