using MathNet.Numerics.Integration;

namespace DropSim.Model;

/// <summary>
/// The spar cut into beam elements: bending, mass and weight matrices of a tapered Euler-Bernoulli cantilever
/// (docs/theory/spar.md, eqs. 2 to 6). Left out: shear flexibility, rotary inertia of the sections, grain, torsion.
/// </summary>
/// <remarks>
/// Two unknowns a node, deflection (m, toward the fall) and slope (rad), from the root up; the deflection of the root is
/// held, and its slope too where the root is rigid. The integrands are polynomials of degree 8 at most between nodes,
/// changes of taper and the climber, so five Gauss points a stretch integrate them exactly.
/// </remarks>
internal sealed class SparBeam
{
    /// <summary>Gauss points a stretch; five are exact to degree 9.</summary>
    private const int GaussPoints = 5;

    /// <summary>Neighbouring nodes share an element, so that nothing stands further than three from the diagonal.</summary>
    public const int HalfBand = 3;

    private const int UnknownsPerElement = 4;

    private static readonly GaussLegendreRule s_rule = new(0, 1, GaussPoints);

    private readonly double[] _breaks;
    private readonly int _held;

    /// <summary>Cuts the spar into elements of equal length.</summary>
    /// <param name="taper">The stem.</param>
    /// <param name="input">Density, modulus, climber.</param>
    /// <param name="elements">Number of elements, at least 1.</param>
    /// <param name="gravity">Gravity, at least 0, m/s2.</param>
    /// <param name="rigidRoot">True to hold the slope of the root; false to leave it free.</param>
    public SparBeam(SparTaper taper, SparInput input, int elements, double gravity, bool rigidRoot)
    {
        Elements = elements;
        ElementLength = input.Height / elements;
        _held = rigidRoot ? 2 : 1;
        Size = (2 * (elements + 1)) - _held;
        double climberHeight = Math.Max(0, input.Height - input.ClimberBelowCut);
        _breaks = [.. taper.Heights, climberHeight];
        Array.Sort(_breaks);

        Bending = new double[Size, Size];
        Mass = new double[Size, Size];
        Weight = new double[Size, Size];
        Integrate(input.Height, Bending, 2, z => input.Modulus * Math.PI / 4 * Square(Square(taper.Radius(z))));
        Integrate(input.Height, Mass, 0, z => input.Density * Math.PI * Square(taper.Radius(z)));
        Integrate(input.Height, Weight, 1, z => gravity * input.Density * taper.VolumeAbove(z));
        if (input.ClimberMass > 0 && climberHeight > 0)
        {
            AddAt(climberHeight, Mass, input.ClimberMass);
            Integrate(climberHeight, Weight, 1, _ => gravity * input.ClimberMass);
        }
    }

    /// <summary>Number of elements.</summary>
    public int Elements { get; }

    /// <summary>Length of an element, m.</summary>
    public double ElementLength { get; }

    /// <summary>Number of unknowns.</summary>
    public int Size { get; }

    /// <summary>Bending stiffness without the root spring, N/m, N and N m.</summary>
    public double[,] Bending { get; }

    /// <summary>Consistent mass with the climber, kg, kg m and kg m2.</summary>
    public double[,] Mass { get; }

    /// <summary>Geometric stiffness that the weight of stem and climber takes away.</summary>
    public double[,] Weight { get; }

    /// <summary>Index of the unknown slope of the root, where it is free.</summary>
    public static int RootSlope => 0;

    /// <summary>Index of the deflection of the tip; its slope is the next.</summary>
    public int TipDeflection => Size - 2;

    /// <summary>Index of an unknown, negative where it is held.</summary>
    /// <param name="node">Node, 0 at the root.</param>
    /// <param name="unknown">0 for deflection, 1 for slope.</param>
    public int Index(int node, int unknown) => (2 * node) + unknown - _held;

    /// <summary>Geometric stiffness that a unit dead load at a height takes away, 1/m, 1 and m.</summary>
    /// <param name="height">Height of the load, 0 to the cut, m.</param>
    public double[,] UnitLoadStiffness(double height)
    {
        double[,] result = new double[Size, Size];
        Integrate(height, result, 1, _ => 1);
        return result;
    }

    /// <summary>Stiffness of bending, root spring and weights together.</summary>
    /// <param name="rootStiffness">Stiffness of the root, N m/rad; infinite only where the root is rigid.</param>
    public double[,] Stiffness(double rootStiffness)
    {
        double[,] result = new double[Size, Size];
        for (int i = 0; i < Size; i++)
        {
            for (int j = 0; j < Size; j++)
            {
                result[i, j] = Bending[i, j] - Weight[i, j];
            }
        }

        if (_held == 1)
        {
            result[RootSlope, RootSlope] += rootStiffness;
        }

        return result;
    }

    /// <summary>Cubic Hermite shape functions of an element, or a derivative of them.</summary>
    /// <param name="share">Place in the element, 0 to 1.</param>
    /// <param name="length">Length of the element, m.</param>
    /// <param name="derivative">0, 1 or 2.</param>
    /// <param name="shapes">Lower deflection, lower slope, upper deflection, upper slope.</param>
    public static void Hermite(double share, double length, int derivative, Span<double> shapes)
    {
        double s = share;
        (shapes[0], shapes[1], shapes[2], shapes[3]) = derivative switch
        {
            0 => (1 - (s * s * (3 - (2 * s))), length * s * (1 - s) * (1 - s), s * s * (3 - (2 * s)), length * s * s * (s - 1)),
            1 => (6 * s * (s - 1) / length, (1 - s) * (1 - (3 * s)), 6 * s * (1 - s) / length, s * ((3 * s) - 2)),
            _ => (((12 * s) - 6) / (length * length), ((6 * s) - 4) / length, (6 - (12 * s)) / (length * length), ((6 * s) - 2) / length),
        };
    }

    private static double Square(double value) => value * value;

    private void Integrate(double upTo, double[,] matrix, int derivative, Func<double, double> factor)
    {
        Span<double> shapes = stackalloc double[UnknownsPerElement];
        for (int element = 0; element < Elements && element * ElementLength < upTo; element++)
        {
            double foot = element * ElementLength;
            double top = Math.Min(element == Elements - 1 ? upTo : foot + ElementLength, upTo);
            double from = foot;
            while (from < top)
            {
                double to = NextBreak(from, top);
                for (int g = 0; g < GaussPoints; g++)
                {
                    double z = from + ((to - from) * s_rule.Abscissas[g]);
                    Hermite((z - foot) / ElementLength, ElementLength, derivative, shapes);
                    AddOuter(element, matrix, shapes, (to - from) * s_rule.Weights[g] * factor(z));
                }

                from = to;
            }
        }
    }

    private double NextBreak(double from, double top)
    {
        foreach (double z in _breaks)
        {
            if (z > from && z < top)
            {
                return z;
            }
        }

        return top;
    }

    private void AddAt(double z, double[,] matrix, double factor)
    {
        Span<double> shapes = stackalloc double[UnknownsPerElement];
        int element = Math.Min((int)(z / ElementLength), Elements - 1);
        Hermite((z / ElementLength) - element, ElementLength, 0, shapes);
        AddOuter(element, matrix, shapes, factor);
    }

    private void AddOuter(int element, double[,] matrix, ReadOnlySpan<double> shapes, double factor)
    {
        int first = Index(element, 0);
        for (int a = 0; a < UnknownsPerElement; a++)
        {
            for (int b = 0; b < UnknownsPerElement; b++)
            {
                if (first + a >= 0 && first + b >= 0)
                {
                    matrix[first + a, first + b] += factor * shapes[a] * shapes[b];
                }
            }
        }
    }
}
