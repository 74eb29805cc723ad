namespace DropSim.Model;

/// <summary>
/// The round, tapering stem between measured diameters: radius linear in height between them (docs/theory/spar.md, eq. 1).
/// Left out: bark, ovality, hollows, eccentric pith.
/// </summary>
internal sealed class SparTaper
{
    private readonly double[] _heights;
    private readonly double[] _radii;
    private readonly double[] _slopes;
    private readonly double[] _volumeBelow;

    /// <summary>Keeps the part of a table of diameters that lies between the ground and the cut.</summary>
    /// <param name="diameters">Diameters in order of height, from the ground (or below) to the cut (or above), m.</param>
    /// <param name="height">Height of the cut, above 0, m.</param>
    /// <exception cref="ArgumentException">The table does not reach from the ground to the cut, is out of order, or holds a diameter that is not positive.</exception>
    public SparTaper(IReadOnlyList<DiameterAtHeight> diameters, double height)
    {
        ArgumentNullException.ThrowIfNull(diameters);
        Refuse(!(height > 0) || !double.IsFinite(height), nameof(height), "The height of the cut must be positive.");
        Refuse(diameters.Count < 2, nameof(diameters), "At least two diameters are needed.");

        // A table typed with rounded heights may end a hair below the cut.
        double tolerance = 1e-9 * height;
        Refuse(diameters[0].Height > tolerance, nameof(diameters), "The first diameter must be at the ground (height 0).");
        Refuse(diameters[^1].Height < height - tolerance, nameof(diameters), "The last diameter must be at the cut or above it.");
        for (int i = 0; i < diameters.Count; i++)
        {
            Refuse(!(diameters[i].Diameter > 0) || !double.IsFinite(diameters[i].Diameter), nameof(diameters), "Every diameter must be positive.");
            Refuse(i > 0 && !(diameters[i].Height > diameters[i - 1].Height), nameof(diameters), "Heights of diameters must increase.");
        }

        List<double> heights = [0];
        heights.AddRange(diameters.Select(d => d.Height).Where(z => z > tolerance && z < height - tolerance));
        heights.Add(height);
        _heights = [.. heights];
        _radii = [.. heights.Select(z => 0.5 * Interpolate(diameters, z))];
        _slopes = new double[_heights.Length - 1];
        _volumeBelow = new double[_heights.Length];
        for (int i = 0; i < _slopes.Length; i++)
        {
            _slopes[i] = (_radii[i + 1] - _radii[i]) / (_heights[i + 1] - _heights[i]);
            _volumeBelow[i + 1] = _volumeBelow[i] + Frustum(_radii[i], _radii[i + 1], _heights[i + 1] - _heights[i]);
        }
    }

    /// <summary>Heights at which the taper may change, the ground and the cut included, m.</summary>
    public ReadOnlySpan<double> Heights => _heights;

    /// <summary>Radius at a height; beyond either end the taper goes on, m.</summary>
    /// <param name="z">Height, m.</param>
    public double Radius(double z)
    {
        int i = Piece(z);
        return _radii[i] + (_slopes[i] * (z - _heights[i]));
    }

    /// <summary>Largest radius between the ground and the cut, m.</summary>
    public double LargestRadius => _radii.Max();

    /// <summary>Slope of the radius over height; negative where the stem thins upward; the upper piece's where two meet.</summary>
    /// <param name="z">Height, m.</param>
    public double RadiusSlope(double z) => _slopes[Piece(z)];

    /// <summary>Volume of stem between a height and the cut, m3; 0 above the cut.</summary>
    /// <param name="z">Height, m.</param>
    public double VolumeAbove(double z)
    {
        z = Math.Clamp(z, 0, _heights[^1]);
        int i = Piece(z);
        double below = _volumeBelow[i] + Frustum(_radii[i], Radius(z), z - _heights[i]);
        return _volumeBelow[^1] - below;
    }

    private static double Frustum(double r0, double r1, double length) =>
        Math.PI / 3 * length * ((r0 * r0) + (r0 * r1) + (r1 * r1));

    private static double Interpolate(IReadOnlyList<DiameterAtHeight> table, double z)
    {
        int i = 1;
        while (i < table.Count - 1 && z > table[i].Height)
        {
            i++;
        }

        double share = (z - table[i - 1].Height) / (table[i].Height - table[i - 1].Height);
        return table[i - 1].Diameter + (share * (table[i].Diameter - table[i - 1].Diameter));
    }

    private static void Refuse(bool wrong, string parameter, string message)
    {
        if (wrong)
        {
            throw new ArgumentException(message, parameter);
        }
    }

    private int Piece(double z)
    {
        int i = _slopes.Length - 1;
        while (i > 0 && z < _heights[i])
        {
            i--;
        }

        return i;
    }
}
