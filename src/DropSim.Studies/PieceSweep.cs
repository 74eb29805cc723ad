using DropSim.Model;

namespace DropSim.Studies;

/// <summary>Where the outlines of pieces went, layer by layer of height. With the values of the plan: what is uncertain may carry a piece farther.</summary>
public sealed class PieceSweep
{
    /// <summary>Height of a layer, m: finer than any sketch of a tree shows.</summary>
    public const double Layer = 0.1;

    /// <summary>Time between two looks, s: at 15 m/s a piece moves less than two layers.</summary>
    private const double Interval = 0.01;

    private readonly SortedDictionary<int, (double Low, double High)> _layers = [];

    /// <summary>Farthest from the axis of the stem on the side of the fall, m; not a number before a drop was added.</summary>
    public double Farthest => _layers.Count == 0 ? double.NaN : _layers.Values.Max(l => l.High);

    /// <summary>The layers from the ground up: height of the middle, and how far out on either side, m.</summary>
    public IReadOnlyList<(double Height, double Low, double High)> Layers =>
        [.. _layers.Select(l => ((l.Key + 0.5) * Layer, l.Value.Low, l.Value.High))];

    /// <summary>Adds a drop; one without curves adds nothing.</summary>
    /// <param name="run">The drop.</param>
    public void Add(DropRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        if (run.Traces is not { } traces)
        {
            return;
        }

        var table = traces.SampleMotion(Interval);
        var x = table["piece_x_m"];
        var z = table["piece_z_m"];
        var lean = table["piece_lean_rad"];
        var outline = traces.Shapes.Piece;
        var corners = new PlanePoint[outline.Count];
        for (var row = 0; row < table.RowCount; row++)
        {
            var (sin, cos) = Math.SinCos(lean[row]);
            for (var i = 0; i < corners.Length; i++)
            {
                var (xi, eta) = outline[i];
                corners[i] = new(x[row] + (xi * sin) + (eta * cos), z[row] + (xi * cos) - (eta * sin));
            }

            for (var i = 0; i < corners.Length; i++)
            {
                Edge(corners[i], corners[(i + 1) % corners.Length]);
            }
        }
    }

    private void Edge(PlanePoint from, PlanePoint to)
    {
        var steps = Math.Max(1, (int)Math.Ceiling(Math.Abs(to.Z - from.Z) / Layer));
        for (var k = 0; k <= steps; k++)
        {
            var part = (double)k / steps;
            var (x, z) = (from.X + (part * (to.X - from.X)), from.Z + (part * (to.Z - from.Z)));
            if (!double.IsFinite(x) || !double.IsFinite(z))
            {
                continue;
            }

            var layer = (int)Math.Floor(Math.Max(0, z) / Layer);
            _layers[layer] = _layers.TryGetValue(layer, out var known) ? (Math.Min(known.Low, x), Math.Max(known.High, x)) : (x, x);
        }
    }
}
