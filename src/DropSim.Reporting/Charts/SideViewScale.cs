using DropSim.Model;

namespace DropSim.Reporting.Charts;

/// <summary>A rectangle of the plane of the fall, m.</summary>
internal readonly record struct Yard(double XMin, double XMax, double ZMin, double ZMax);

/// <summary>What all side views of a scenario share: the same piece of the yard, the same length of arrow for the same force.</summary>
/// <param name="Whole">The whole spar and fall.</param>
/// <param name="Close">The surroundings of the rigging point at the largest force, counted from it.</param>
/// <param name="NewtonsPerMetre">Force of an arrow of one metre on paper, N/m.</param>
internal sealed record SideViewScale(Yard Whole, Yard Close, double NewtonsPerMetre)
{
    /// <summary>Time between the scenes that are looked at for the extent, s.</summary>
    private const double Grid = 0.05;

    /// <summary>The longest arrow, m.</summary>
    private const double LongestArrow = 1.8;

    /// <summary>A piece that hangs farther from the rigging point is left to the other panel, m: the arrows must stay large.</summary>
    private const double Farthest = 3.2;

    /// <summary>Room on the right for the two scales, m.</summary>
    private const double RoomForScales = 2;

    /// <summary>Room on the left for names, m.</summary>
    private const double RoomForNames = 1.5;

    /// <summary>Room on the right for words, m.</summary>
    private const double RoomForWords = 0.9;

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

        return new Yard(low - Margin, high + RoomForWords, -0.05 * top, 1.06 * top);
    }

    /// <summary>The same size for every case, so that their arrows can be compared; lengths from the rigging point.</summary>
    private static Yard CloseOf(IReadOnlyList<CaseCurves> cases, double perMetre)
    {
        var points = new List<PlanePoint> { new(RoomForScales, 0), new(-RoomForNames, 0) };
        foreach (var curves in cases)
        {
            var scene = curves.Traces.SceneAt(SideViewChart.PeakTime(curves));
            var ring = scene.RiggingPoint;
            IEnumerable<PlanePoint> marks = [.. scene.Piece, scene.SparAxis[^1], .. scene.Climber is { } climber ? [climber] : Array.Empty<PlanePoint>()];
            points.AddRange(marks.Select(p => new PlanePoint(p.X - ring.X, p.Z - ring.Z)).Where(p => Math.Abs(p.X) < Farthest && Math.Abs(p.Z) < Farthest));
            points.Add(new PlanePoint(scene.RiggingForceX / perMetre, scene.RiggingForceZ / perMetre));
            points.Add(new PlanePoint(0, -scene.GroundLegTension / perMetre));
        }

        return new Yard(points.Min(p => p.X) - Margin, points.Max(p => p.X) + Margin, points.Min(p => p.Z) - Margin, points.Max(p => p.Z) + Margin);
    }

    /// <summary>The close surroundings of a rigging point.</summary>
    internal Yard CloseAround(PlanePoint ring) =>
        new(Close.XMin + ring.X, Close.XMax + ring.X, Close.ZMin + ring.Z, Close.ZMax + ring.Z);
}
