using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Model;

/// <summary>
/// The standing stem as a tapered cantilever that sways in its lowest modes, with the climber on it.
/// Equations (docs/theory/spar.md): Euler-Bernoulli bending, cubic Hermite elements, consistent mass, a rotational spring at
/// the root, geometric stiffness of self-weight and climber; K phi = w^2 M phi, modes normalised to phi' M phi = 1.
/// Left out: shear, torsion, sway out of the plane, the root's sideways give.
/// </summary>
public sealed class ModalSpar
{
    private readonly SparInput _input;
    private readonly int _elements;
    private readonly double _width;
    private readonly double _gravity;
    private readonly double _modulus;
    private readonly double _rootStiffness;
    private readonly double[] _frequencies;

    // Nodal deflection and slope of each mode: [node * 2 * modes + 2 * mode + {0, 1}].
    private readonly double[] _nodal;

    /// <summary>Builds the beam and solves for its modes.</summary>
    /// <param name="input">The spar.</param>
    /// <param name="modes">Modes kept, 0 to 8; a rigid spar keeps none.</param>
    /// <param name="elements">Elements, 4 to 200.</param>
    /// <param name="gravity">Gravity, m/s2.</param>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public ModalSpar(SparInput input, int modes, int elements, double gravity)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentOutOfRangeException.ThrowIfLessThan(elements, 1);
        _input = input;
        _elements = elements;
        _gravity = gravity;
        _width = input.Height / elements;
        _modulus = input.Modulus;
        _rootStiffness = input.RootStiffness;
        DampingRatio = input.DampingRatio;
        ModeCount = input.Rigid ? 0 : Math.Min(modes, StateLayout.MostModes);
        _frequencies = new double[ModeCount];
        _nodal = new double[(elements + 1) * 2 * ModeCount];
        Mass = Integrate(0, input.Height, z => LineMass(z));
        if (ModeCount == 0)
        {
            return;
        }

        if (input.MeasuredSwayFrequency is { } measured)
        {
            (_modulus, _rootStiffness) = FitSway(measured);
        }

        var (squares, shapes) = SolveModes(_modulus, _rootStiffness);
        for (var i = 0; i < ModeCount; i++)
        {
            _frequencies[i] = Math.Sqrt(squares[i]);
            for (var node = 0; node <= elements; node++)
            {
                _nodal[(((node * ModeCount) + i) * 2) + 0] = shapes[2 * node, i];
                _nodal[(((node * ModeCount) + i) * 2) + 1] = shapes[(2 * node) + 1, i];
            }
        }
    }

    /// <summary>Number of modes kept.</summary>
    public int ModeCount { get; }

    /// <summary>Angular frequencies, rad/s, rising.</summary>
    public ReadOnlySpan<double> AngularFrequencies => _frequencies;

    /// <summary>Damping ratio of every mode.</summary>
    public double DampingRatio { get; }

    /// <summary>Mass of the stem without the climber, kg.</summary>
    public double Mass { get; }

    /// <summary>Modulus in use, Pa: the given one, or the one fitted to the sway test.</summary>
    public double Modulus => _modulus;

    /// <summary>Root stiffness in use, N m/rad: the given one, or the one fitted to the sway test.</summary>
    public double RootStiffness => _rootStiffness;

    /// <summary>Number of beam elements.</summary>
    public int Elements => _elements;

    /// <summary>Height of the climber's feet, m.</summary>
    public double ClimberHeight => Math.Max(0, _input.Height - _input.ClimberBelowCut);

    /// <summary>Deflection and slope of each mode at a height, allocation-free.</summary>
    /// <param name="height">Height, m; clamped to the stem.</param>
    /// <param name="deflection">Receives phi_i, 1/sqrt(kg).</param>
    /// <param name="slope">Receives phi_i', 1/(m sqrt(kg)).</param>
    public void ShapeAt(double height, Span<double> deflection, Span<double> slope)
    {
        var x = Math.Clamp(height / _width, 0, _elements);
        var e = Math.Min((int)x, _elements - 1);
        var s = x - e;
        var h = _width;
        var s2 = s * s;
        var s3 = s2 * s;
        double n1 = 1 - (3 * s2) + (2 * s3), n2 = h * (s - (2 * s2) + s3), n3 = (3 * s2) - (2 * s3), n4 = h * (s3 - s2);
        double d1 = 6 * (s2 - s) / h, d2 = 1 - (4 * s) + (3 * s2), d4 = (3 * s2) - (2 * s);
        var lower = _nodal.AsSpan(e * 2 * ModeCount, 2 * ModeCount);
        var upper = _nodal.AsSpan((e + 1) * 2 * ModeCount, 2 * ModeCount);
        for (var i = 0; i < ModeCount; i++)
        {
            var (w0, t0, w1, t1) = (lower[2 * i], lower[(2 * i) + 1], upper[2 * i], upper[(2 * i) + 1]);
            deflection[i] = (n1 * w0) + (n2 * t0) + (n3 * w1) + (n4 * t1);
            slope[i] = (d1 * (w0 - w1)) + (d2 * t0) + (d4 * t1);
        }
    }

    /// <summary>Shortening by bending: G_ij = integral from 0 to the height of phi_i' phi_j' dz, 1/(m kg); row-major, ModeCount x ModeCount.</summary>
    /// <param name="height">Height, m.</param>
    public double[] ShorteningAt(double height)
    {
        var g = new double[ModeCount * ModeCount];
        var shape = new double[ModeCount];
        var slope = new double[ModeCount];
        foreach (var (from, to) in Pieces(0, height))
        {
            foreach (var (z, weight) in Gauss(from, to))
            {
                ShapeAt(z, shape, slope);
                for (var i = 0; i < ModeCount; i++)
                {
                    for (var j = 0; j < ModeCount; j++)
                    {
                        g[(i * ModeCount) + j] += weight * slope[i] * slope[j];
                    }
                }
            }
        }

        return g;
    }

    /// <summary>Radius of the stem at a height, m; clamped to the stem.</summary>
    /// <param name="height">Height, m.</param>
    public double RadiusAt(double height)
    {
        var d = _input.Diameters;
        var k = SectionOf(height);
        var t = Math.Clamp((height - d[k].Height) / (d[k + 1].Height - d[k].Height), 0, 1);
        return (d[k].Diameter + (t * (d[k + 1].Diameter - d[k].Diameter))) / 2;
    }

    /// <summary>Slope of the radius over height, dimensionless.</summary>
    /// <param name="height">Height, m.</param>
    public double RadiusSlopeAt(double height)
    {
        var d = _input.Diameters;
        var k = SectionOf(height);
        return (d[k + 1].Diameter - d[k].Diameter) / 2 / (d[k + 1].Height - d[k].Height);
    }

    /// <summary>
    /// Dead load at a height, on top of self-weight and climber, under which the stem's stiffness vanishes, N. Infinite for a rigid spar.
    /// </summary>
    /// <param name="height">Height of the load, m.</param>
    public double BucklingLoadAt(double height)
    {
        if (ModeCount == 0)
        {
            return double.PositiveInfinity;
        }

        var (stiffness, _, _) = Assemble(_modulus, _rootStiffness);
        var unit = Geometric(z => z < height ? 1 : 0, height);
        Constrain(ref stiffness, ref unit, _rootStiffness);

        // K x = P G x: the smallest P is the inverse of the largest eigenvalue of L^-1 G L^-T with K = L L'.
        var lower = Factor(stiffness);
        var reduced = lower.Solve(lower.Solve(unit).Transpose());
        var largest = ((reduced + reduced.Transpose()) / 2).Evd(Symmetricity.Symmetric).EigenValues.Max(v => v.Real);
        return 1 / largest;
    }

    internal double LineMass(double height)
    {
        var r = RadiusAt(height);
        return _input.Density * Math.PI * r * r;
    }

    internal double Gravity => _gravity;

    internal double ClimberMass => _input.ClimberMass;

    internal double Height => _input.Height;

    /// <summary>Gauss points over a stretch that crosses no element end and no measured diameter, with weights (m).</summary>
    internal static IEnumerable<(double Z, double Weight)> Gauss(double from, double to)
    {
        // Five points integrate polynomials to degree nine: EI (4) times curvature squared (2), rho A (2) times shape squared (6).
        var half = (to - from) / 2;
        var middle = (to + from) / 2;
        for (var k = 0; k < GaussPoints.Length; k++)
        {
            yield return (middle + (half * GaussPoints[k]), half * GaussWeights[k]);
        }
    }

    /// <summary>The stretches between two heights that cross no element end and no measured diameter.</summary>
    internal IEnumerable<(double From, double To)> Pieces(double from, double to)
    {
        var ends = new SortedSet<double> { from, to };
        for (var e = 1; e < _elements; e++)
        {
            ends.Add(e * _width);
        }

        foreach (var d in _input.Diameters)
        {
            ends.Add(d.Height);
        }

        var list = ends.Where(z => z >= from && z <= to).ToArray();
        for (var k = 0; k + 1 < list.Length; k++)
        {
            if (list[k + 1] - list[k] > 1e-12)
            {
                yield return (list[k], list[k + 1]);
            }
        }
    }

    internal double Integrate(double from, double to, Func<double, double> f)
    {
        double sum = 0;
        foreach (var (a, b) in Pieces(from, to))
        {
            foreach (var (z, weight) in Gauss(a, b))
            {
                sum += weight * f(z);
            }
        }

        return sum;
    }

    /// <summary>Abscissae and weights of the five-point Gauss-Legendre rule (any table of quadrature).</summary>
    private static readonly double[] GaussPoints =
        [-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640];

    private static readonly double[] GaussWeights =
        [0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891];

    private int SectionOf(double height)
    {
        var d = _input.Diameters;
        var k = 0;
        while (k + 2 < d.Count && height > d[k + 1].Height)
        {
            k++;
        }

        return k;
    }

    /// <summary>Vertical load carried at a height by self-weight and climber above it, N.</summary>
    private double WeightAbove(double height)
    {
        var stem = Integrate(height, _input.Height, LineMass);
        return _gravity * (stem + (height < ClimberHeight ? _input.ClimberMass : 0));
    }

    private (Matrix<double> Stiffness, Matrix<double> Mass, Matrix<double> Elastic) Assemble(double modulus, double root)
    {
        var size = 2 * (_elements + 1);
        var elastic = Matrix<double>.Build.Dense(size, size);
        var mass = Matrix<double>.Build.Dense(size, size);
        var n = new double[4];
        var b = new double[4];
        foreach (var (from, to) in Pieces(0, _input.Height))
        {
            var e = Element((from + to) / 2);
            foreach (var (z, weight) in Gauss(from, to))
            {
                Shapes((z / _width) - e, n, null, b);
                var r = RadiusAt(z);
                var bending = modulus * Math.PI * r * r * r * r / 4;
                Add(elastic, e, b, weight * bending);
                Add(mass, e, n, weight * LineMass(z));
            }
        }

        if (_input.ClimberMass > 0 && ClimberHeight > 0)
        {
            var e = Element(ClimberHeight);
            Shapes((ClimberHeight / _width) - e, n, null, null);
            Add(mass, e, n, _input.ClimberMass);
        }

        if (double.IsFinite(root))
        {
            elastic[1, 1] += root;
        }

        var stiffness = elastic - Geometric(WeightAbove, _input.Height);
        return (stiffness, mass, elastic);
    }

    /// <summary>Geometric stiffness of a vertical load that varies over height: integral of P phi_i' phi_j'.</summary>
    private Matrix<double> Geometric(Func<double, double> load, double height)
    {
        var size = 2 * (_elements + 1);
        var g = Matrix<double>.Build.Dense(size, size);
        var d = new double[4];
        foreach (var (from, to) in Pieces(0, height))
        {
            foreach (var (a, c) in ClimberHeight > from && ClimberHeight < to
                ? new[] { (from, ClimberHeight), (ClimberHeight, to) }
                : [(from, to)])
            {
                var e = Element((a + c) / 2);
                foreach (var (z, weight) in Gauss(a, c))
                {
                    Shapes((z / _width) - e, null, d, null);
                    Add(g, e, d, weight * load(z));
                }
            }
        }

        return g;
    }

    private int Element(double height) => Math.Min((int)(height / _width), _elements - 1);

    private void Shapes(double s, double[]? n, double[]? d, double[]? b)
    {
        var h = _width;
        if (n is not null)
        {
            n[0] = 1 - (3 * s * s) + (2 * s * s * s);
            n[1] = h * (s - (2 * s * s) + (s * s * s));
            n[2] = (3 * s * s) - (2 * s * s * s);
            n[3] = h * ((s * s * s) - (s * s));
        }

        if (d is not null)
        {
            d[0] = 6 * ((s * s) - s) / h;
            d[1] = 1 - (4 * s) + (3 * s * s);
            d[2] = -d[0];
            d[3] = (3 * s * s) - (2 * s);
        }

        if (b is not null)
        {
            b[0] = ((12 * s) - 6) / (h * h);
            b[1] = ((6 * s) - 4) / h;
            b[2] = -b[0];
            b[3] = ((6 * s) - 2) / h;
        }
    }

    private static void Add(Matrix<double> target, int element, double[] v, double factor)
    {
        for (var i = 0; i < 4; i++)
        {
            for (var j = 0; j < 4; j++)
            {
                target[(2 * element) + i, (2 * element) + j] += factor * v[i] * v[j];
            }
        }
    }

    /// <summary>Takes out the root's deflection, and its rotation where the root is rigid.</summary>
    private static void Constrain(ref Matrix<double> a, ref Matrix<double> b, double root)
    {
        var skip = double.IsFinite(root) ? 1 : 2;
        var size = a.RowCount - skip;
        if (skip == 1)
        {
            a = a.SubMatrix(1, size, 1, size);
            b = b.SubMatrix(1, size, 1, size);
        }
        else
        {
            a = a.SubMatrix(2, size, 2, size);
            b = b.SubMatrix(2, size, 2, size);
        }
    }

    private Matrix<double> Factor(Matrix<double> stiffness)
    {
        try
        {
            return stiffness.Cholesky().Factor;
        }
        catch (ArgumentException)
        {
            throw new UnstableSparException(
                $"A stem {_input.Height:0.##} m high with {_input.Diameters[0].Diameter:0.###} m at the base cannot carry its own weight and the climber: it would fall by itself.");
        }
    }

    private (double[] Squares, Matrix<double> Shapes) SolveModes(double modulus, double root)
    {
        var (stiffness, mass, _) = Assemble(modulus, root);
        Constrain(ref stiffness, ref mass, root);
        Factor(stiffness);

        // M = L L', A = L^-1 K L^-T symmetric; phi = L^-T y.
        var lower = mass.Cholesky().Factor;
        var reduced = lower.Solve(lower.Solve(stiffness).Transpose());
        var evd = ((reduced + reduced.Transpose()) / 2).Evd(Symmetricity.Symmetric);
        var vectors = lower.Transpose().Solve(evd.EigenVectors);
        var skip = double.IsFinite(root) ? 1 : 2;
        var shapes = Matrix<double>.Build.Dense(2 * (_elements + 1), ModeCount);
        var squares = new double[ModeCount];
        var order = Enumerable.Range(0, evd.EigenValues.Count).OrderBy(i => evd.EigenValues[i].Real).ToArray();
        for (var m = 0; m < ModeCount; m++)
        {
            squares[m] = evd.EigenValues[order[m]].Real;
            var sign = vectors[vectors.RowCount - 2, order[m]] < 0 ? -1 : 1;
            for (var i = 0; i < vectors.RowCount; i++)
            {
                shapes[i + skip, m] = sign * vectors[i, order[m]];
            }
        }

        return (squares, shapes);
    }

    /// <summary>
    /// Fits the first mode to a measured frequency: by the modulus on a rigid root; on a root spring by the root, where some
    /// stiffness gives it, else by the modulus.
    /// </summary>
    private (double Modulus, double Root) FitSway(double measured)
    {
        double Frequency(double modulus, double root)
        {
            try
            {
                return Math.Sqrt(SolveModes(modulus, root).Squares[0]) / (2 * Math.PI);
            }
            catch (UnstableSparException)
            {
                return 0;
            }
        }

        if (double.IsFinite(_input.RootStiffness) && Frequency(_input.Modulus, double.PositiveInfinity) > measured)
        {
            var root = MathNet.Numerics.RootFinding.Brent.FindRoot(
                x => Frequency(_input.Modulus, Math.Exp(x)) - measured, Math.Log(1e3), Math.Log(1e12), 1e-10, 200);
            return (_input.Modulus, Math.Exp(root));
        }

        var factor = MathNet.Numerics.RootFinding.Brent.FindRoot(
            x => Frequency(_input.Modulus * Math.Exp(x), _input.RootStiffness) - measured, Math.Log(1e-3), Math.Log(1e3), 1e-10, 200);
        return (_input.Modulus * Math.Exp(factor), _input.RootStiffness);
    }
}

/// <summary>The stem's stiffness is not positive: it would fall by itself.</summary>
public sealed class UnstableSparException : Exception
{
    /// <summary>With a message for people.</summary>
    /// <param name="message">Message.</param>
    public UnstableSparException(string message)
        : base(message)
    {
    }

    /// <summary>With a message for people and a cause.</summary>
    /// <param name="message">Message.</param>
    /// <param name="innerException">Cause.</param>
    public UnstableSparException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    /// <summary>Without a message.</summary>
    public UnstableSparException()
    {
    }
}
