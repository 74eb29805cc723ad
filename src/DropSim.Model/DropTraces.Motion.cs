namespace DropSim.Model;

/// <content>What moves a side view, and the shapes that it moves.</content>
internal sealed partial class DropTraces
{
    /// <summary>Stations on the spar above the ground: enough for a smooth bend in any picture.</summary>
    private const int Stations = 40;

    /// <inheritdoc/>
    public TraceTable SampleMotion(double interval) => Sample(
        interval,
        [.. Columns, ("rigging_point_x_m", "m"), ("rigging_point_z_m", "m"), .. Enumerable.Range(0, _spar.ModeCount).Select(i => (FormattableString.Invariant($"mode_{i}"), "kg^0.5 m"))],
        motion: true);

    /// <inheritdoc/>
    public DropShapes Shapes
    {
        get
        {
            var heights = Enumerable.Range(0, Stations + 1).Select(k => _input.Spar.Height * k / Stations).ToArray();
            var stations = Array.ConvertAll(heights, ShapesAt);
            var shapes = new double[_spar.ModeCount][];
            for (var mode = 0; mode < shapes.Length; mode++)
            {
                shapes[mode] = [.. stations.Select(s => s[mode])];
            }

            var climber = _input.Spar.ClimberMass > 0;
            return new DropShapes
            {
                Piece = [.. _system.Body.Outline.Select(p => (p.Xi, p.Eta))],
                Hitch = (_system.Body.Hitch.Xi, _system.Body.Hitch.Eta),
                SparHeights = heights,
                SparRadii = [.. heights.Select(_spar.RadiusAt)],
                SparShapes = shapes,
                ClimberHeight = climber ? _system.ClimberHeight : null,
                ClimberShapes = climber ? ShapesAt(_system.ClimberHeight) : [],
            };
        }
    }

    private double[] ShapesAt(double height)
    {
        var (shape, slope) = (new double[_spar.ModeCount], new double[_spar.ModeCount]);
        _spar.ShapeAt(height, shape, slope);
        return shape;
    }

    private void Motion(in Instant at, ReadOnlySpan<double> y, Span<double> row)
    {
        row[0] = at.RingX;
        row[1] = at.RingZ;
        for (var i = 0; i < _spar.ModeCount; i++)
        {
            row[2 + i] = y[StateLayout.FirstMode + i];
        }
    }
}
