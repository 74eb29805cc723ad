using System.Collections.Concurrent;
using System.Globalization;
using System.Runtime.CompilerServices;

namespace DropSim.Model;

/// <summary>
/// The spar as a few bending modes (docs/theory/spar.md, eqs. 7 to 12).
/// </summary>
/// <remarks>
/// <para>
/// A tapered Euler-Bernoulli cantilever on a rotational root spring, with the climber as a lumped mass and the weight of stem
/// and climber as an axial load that softens it. Deflections are positive toward the fall; modes are mass-normalised and
/// positive at the tip. Left out: sideways sway, twist, shear flexibility, a sounding or moving root plate, wind.
/// </para>
/// <para>Construction allocates; <see cref="ShapeAt"/>, <see cref="RadiusAt"/> and <see cref="RadiusSlopeAt"/> do not.</para>
/// </remarks>
public sealed class ModalSpar
{
    /// <summary>Most modes kept; more add frequencies that a lumped climber and an Euler-Bernoulli beam do not predict.</summary>
    public const int MaximumModes = 8;

    private readonly SparBeam? _beam;
    private readonly SparEigen? _factored;
    private readonly double[] _frequencies;
    private readonly double[] _nodeDeflections;
    private readonly double[] _nodeSlopes;
    private readonly int _elements;
    private readonly double _elementLength;
    private readonly double _elementsPerMetre;

    // One spar carries many drops, most of them from the same heights.
    private readonly ConcurrentDictionary<double, double> _bucklingLoads = new();
    private readonly ConcurrentDictionary<double, double[]> _shortenings = new();

    /// <summary>Builds the spar and finds its modes.</summary>
    /// <param name="input">The spar; diameters must reach from the ground to the cut.</param>
    /// <param name="modes">Modes to keep, 0 to 8; a rigid spar keeps none.</param>
    /// <param name="elements">Beam elements of equal length, 4 to 200. With 24 the third frequency is good to 2e-5.</param>
    /// <param name="gravity">Gravity, at least 0, m/s2.</param>
    /// <exception cref="ArgumentException">An input is out of its range.</exception>
    /// <exception cref="UnstableSparException">The spar falls by itself: its stiffness is not positive.</exception>
    public ModalSpar(SparInput input, int modes, int elements, double gravity)
    {
        ArgumentNullException.ThrowIfNull(input);
        Check(input, modes, elements, gravity);
        Taper = new SparTaper(input.Diameters, input.Height);
        Gravity = gravity;
        Height = input.Height;
        Density = input.Density;
        ClimberMass = input.ClimberMass;
        ClimberHeight = Math.Max(0, input.Height - input.ClimberBelowCut);
        DampingRatio = input.DampingRatio;
        RootStiffness = input.RootStiffness;
        Modulus = input.Modulus;
        Mass = input.Density * Taper.VolumeAbove(0);
        _elements = elements;
        _elementLength = input.Height / elements;
        _elementsPerMetre = elements / input.Height;
        if (input.Rigid)
        {
            (_frequencies, _nodeDeflections, _nodeSlopes) = ([], [], []);
            return;
        }

        if (input.MeasuredSwayFrequency is double measured)
        {
            (RootStiffness, Modulus) = SparSwayFit.Fit(Taper, input, elements, gravity, measured);
        }

        _beam = new SparBeam(Taper, input with { Modulus = Modulus }, elements, gravity, rigidRoot: double.IsPositiveInfinity(RootStiffness));
        _factored = SparEigen.Factor(_beam.Stiffness(RootStiffness)) ?? throw FallsByItself(input);
        ModeCount = Math.Min(modes, _beam.Size);
        _frequencies = new double[ModeCount];
        _nodeDeflections = new double[(elements + 1) * ModeCount];
        _nodeSlopes = new double[(elements + 1) * ModeCount];
        if (ModeCount == 0)
        {
            return;
        }

        var pairs = _factored.Largest(_beam.Mass, ModeCount);
        for (int mode = 0; mode < ModeCount; mode++)
        {
            // mu = v.M v = 1/w^2 with v.K v = 1, so that w v has unit modal mass.
            var (mu, vector) = pairs[mode];
            double omega = 1 / Math.Sqrt(mu);
            double scale = vector[_beam.TipDeflection] < 0 ? -omega : omega;
            _frequencies[mode] = omega;
            for (int node = 0; node <= elements; node++)
            {
                int deflection = _beam.Index(node, 0);
                int slope = _beam.Index(node, 1);
                _nodeDeflections[(node * ModeCount) + mode] = deflection < 0 ? 0 : scale * vector[deflection];
                _nodeSlopes[(node * ModeCount) + mode] = slope < 0 ? 0 : scale * vector[slope];
            }
        }
    }

    /// <summary>Number of modes kept; 0 for a rigid spar.</summary>
    public int ModeCount { get; }

    /// <summary>Angular frequencies of the modes, undamped, ascending, rad/s.</summary>
    public ReadOnlySpan<double> AngularFrequencies => _frequencies;

    /// <summary>Damping ratio of every mode.</summary>
    public double DampingRatio { get; }

    /// <summary>Mass of the stem without the climber, kg.</summary>
    public double Mass { get; }

    /// <summary>Height of the cut, m.</summary>
    public double Height { get; }

    /// <summary>Green density, kg/m3.</summary>
    public double Density { get; }

    /// <summary>Mass of the climber, kg.</summary>
    public double ClimberMass { get; }

    /// <summary>Height of the climber's feet, m; 0 where the spar is so low that he stands on the ground and does not load it.</summary>
    public double ClimberHeight { get; }

    /// <summary>Rotational stiffness of the root as used (fitted where a sway test asked for it), N m/rad; infinite for rigid.</summary>
    public double RootStiffness { get; }

    /// <summary>Modulus of elasticity as used (fitted where a sway test asked for it), Pa.</summary>
    public double Modulus { get; }

    /// <summary>Stiffness of the standing spar against a horizontal force at the tip, all modes included, N/m; infinite for a rigid spar.</summary>
    public double StaticTipStiffness => _factored is null ? double.PositiveInfinity : 1 / _factored.Flexibility(_beam!.TipDeflection);

    /// <summary>The stem's taper.</summary>
    internal SparTaper Taper { get; }

    /// <summary>Gravity, m/s2.</summary>
    internal double Gravity { get; }

    /// <summary>Number of elements.</summary>
    internal int Elements => _elements;

    /// <summary>The beam of which the modes are; null for a rigid spar.</summary>
    internal SparBeam? Beam => _beam;

    /// <summary>Deflection and slope of every mode at a height. Allocates nothing.</summary>
    /// <param name="height">Height, m; above the cut the axis goes on straight, at or below the ground nothing deflects.</param>
    /// <param name="deflection">Receives phi_i, kg^-1/2, <see cref="ModeCount"/> values.</param>
    /// <param name="slope">Receives phi_i', kg^-1/2 per m, <see cref="ModeCount"/> values.</param>
    public void ShapeAt(double height, Span<double> deflection, Span<double> slope)
    {
        double place = Math.Clamp(height, 0, Height) * _elementsPerMetre;
        int element = Math.Min((int)place, _elements - 1);
        double s = place - element;
        double length = _elementLength;

        // Cubic Hermite: one deflection grows as the other fades, so that their difference is enough.
        double rise = s * s * (3 - (2 * s));
        double lower = length * s * (1 - s) * (1 - s);
        double upper = length * s * s * (s - 1);
        double riseSlope = 6 * s * (1 - s) * _elementsPerMetre;
        double lowerSlope = (1 - s) * (1 - (3 * s));
        double upperSlope = s * ((3 * s) - 2);
        double beyond = Math.Max(height - Height, 0);

        int from = element * ModeCount;
        int to = from + ModeCount;
        for (int i = 0; i < ModeCount; i++)
        {
            double foot = _nodeDeflections[from + i];
            double step = _nodeDeflections[to + i] - foot;
            double footSlope = _nodeSlopes[from + i];
            double topSlope = _nodeSlopes[to + i];
            slope[i] = (riseSlope * step) + (lowerSlope * footSlope) + (upperSlope * topSlope);
            deflection[i] = foot + (rise * step) + (lower * footSlope) + (upper * topSlope) + (beyond * slope[i]);
        }
    }

    /// <summary>Deflection of the axis at a height, m. Allocates nothing.</summary>
    /// <param name="height">Height, m; beyond the spar as for <see cref="ShapeAt"/>.</param>
    /// <param name="q">Modal coordinates, kg^1/2 m, <see cref="ModeCount"/> values.</param>
    internal double DeflectionAt(double height, ReadOnlySpan<double> q)
    {
        double place = Math.Clamp(height, 0, Height) * _elementsPerMetre;
        int element = Math.Min((int)place, _elements - 1);
        double s = place - element;
        int count = q.Length;
        ReadOnlySpan<double> deflections = _nodeDeflections.AsSpan(element * count, 2 * count);
        ReadOnlySpan<double> slopes = _nodeSlopes.AsSpan(element * count, 2 * count);
        double foot = 0, top = 0, footSlope = 0, topSlope = 0;
        for (int i = 0; i < q.Length; i++)
        {
            foot += deflections[i] * q[i];
            top += deflections[count + i] * q[i];
            footSlope += slopes[i] * q[i];
            topSlope += slopes[count + i] * q[i];
        }

        // The same cubic as in ShapeAt, of the sum instead of each mode.
        double rest = 1 - s;
        double within = foot + (s * s * (3 - (2 * s)) * (top - foot)) + (_elementLength * s * rest * ((rest * footSlope) - (s * topSlope)));
        return within + (Math.Max(height - Height, 0) * topSlope);
    }

    /// <summary>
    /// Shortening by bending up to a height: G_ij, so that the axis at that height comes down by 1/2 q.G q. Allocates.
    /// </summary>
    /// <param name="height">Height, m; clamped to the spar.</param>
    /// <returns>
    /// The integral of phi_i' phi_j' from the ground to the height, 1/(kg m); row-major, <see cref="ModeCount"/> by
    /// <see cref="ModeCount"/>, symmetric, exact for the elements.
    /// </returns>
    public double[] ShorteningAt(double height) => (double[])_shortenings.GetOrAdd(Math.Clamp(height, 0, Height), FindShortening).Clone();

    /// <summary>Radius at a height; beyond either end the taper goes on, m. Allocates nothing.</summary>
    /// <param name="height">Height, m.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double RadiusAt(double height) => Taper.Radius(height);

    /// <summary>Slope of the radius over height, dr/dz, negative where the stem thins upward. Allocates nothing.</summary>
    /// <param name="height">Height, m.</param>
    public double RadiusSlopeAt(double height) => Taper.RadiusSlope(height);

    /// <summary>
    /// Dead load at a height, over and above the weight of stem and climber, at which the spar buckles. Found on the beam, not on its modes. Allocates.
    /// </summary>
    /// <param name="height">Height of the load, above 0, at most the cut, m.</param>
    /// <returns>The load, N; infinite for a rigid spar.</returns>
    public double BucklingLoadAt(double height)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(height);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(height, Height);
        return _factored is null ? double.PositiveInfinity : _bucklingLoads.GetOrAdd(height, FindBucklingLoad);
    }

    /// <summary>phi_i.B phi_j for a matrix over the beam's unknowns.</summary>
    /// <param name="matrix">The matrix.</param>
    /// <param name="i">A mode.</param>
    /// <param name="j">A mode.</param>
    internal double Bilinear(double[,] matrix, int i, int j)
    {
        double sum = 0;
        for (int row = 0; row < _beam!.Size; row++)
        {
            int last = Math.Min(_beam.Size - 1, row + SparBeam.HalfBand);
            for (int column = Math.Max(0, row - SparBeam.HalfBand); column <= last; column++)
            {
                sum += Unknown(row, i) * matrix[row, column] * Unknown(column, j);
            }
        }

        return sum;
    }

    private double FindBucklingLoad(double height) => 1 / _factored!.Largest(_beam!.UnitLoadStiffness(height), 1)[0].Mu;

    private double[] FindShortening(double height)
    {
        double[] result = new double[ModeCount * ModeCount];
        if (ModeCount == 0)
        {
            return result;
        }

        double[,] unit = _beam!.UnitLoadStiffness(height);
        for (int i = 0; i < ModeCount; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                result[(i * ModeCount) + j] = result[(j * ModeCount) + i] = Bilinear(unit, i, j);
            }
        }

        return result;
    }

    private double Unknown(int index, int mode)
    {
        int absolute = index - _beam!.Index(0, 0);
        double[] values = absolute % 2 == 0 ? _nodeDeflections : _nodeSlopes;
        return values[(absolute / 2 * ModeCount) + mode];
    }

    private static void Check(SparInput input, int modes, int elements, double gravity)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(modes);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(modes, MaximumModes);
        ArgumentOutOfRangeException.ThrowIfLessThan(elements, 4);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(elements, 200);
        Require(gravity >= 0 && double.IsFinite(gravity), "Gravity must not be negative.");
        Require(input.Density > 0 && double.IsFinite(input.Density), "The density must be positive.");
        Require(input.Modulus > 0 && double.IsFinite(input.Modulus), "The modulus must be positive.");
        Require(input.RootStiffness > 0, "The stiffness of the root must be positive.");
        Require(input.DampingRatio >= 0 && input.DampingRatio < 1, "The damping ratio must be at least 0 and below 1.");
        Require(input.MeasuredSwayFrequency is null or (> 0 and < double.PositiveInfinity), "The sway frequency must be positive.");
        Require(input.ClimberMass >= 0 && double.IsFinite(input.ClimberMass), "The climber's mass must not be negative.");
        Require(
            input.ClimberMass == 0 || (input.ClimberBelowCut >= 0 && double.IsFinite(input.ClimberBelowCut)),
            "The climber must stand at the cut or below it.");
    }

    private static void Require(bool right, string message)
    {
        if (!right)
        {
            throw new ArgumentException(message);
        }
    }

    private static UnstableSparException FallsByItself(SparInput input) => new(string.Create(
        CultureInfo.InvariantCulture,
        $"A spar of {input.Height:0.##} m with these diameters, this modulus and this root cannot carry itself and a climber of {input.ClimberMass:0} kg: it falls by itself. Check heights, diameters, modulus and root stiffness."));
}
