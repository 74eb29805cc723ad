using System.Runtime.CompilerServices;
using MathNet.Numerics.Interpolation;

namespace DropSim.Model;

/// <summary>
/// How much a rope pulls at a stretch held for long: the lasting part S(e) of its tension.
/// Equation: S(e) = EA e, or a monotone cubic through (0, 0) and the maker's elongation points (docs/theory/rope.md).
/// Left out: creep, temperature, the stiffening of worked rope beyond the factor in the input.
/// </summary>
public sealed class RopeCurve
{
    private readonly bool _isStraight;
    private readonly double _initialSlope;
    private readonly double[] _knot;
    private readonly double[] _value;
    private readonly double[] _slope;
    private readonly double[] _second;
    private readonly double[] _third;
    private readonly double[] _energy;

    /// <summary>A straight line.</summary>
    /// <param name="stiffness">EA, N per unit strain, positive.</param>
    public RopeCurve(double stiffness)
        : this(stiffness, [])
    {
    }

    /// <summary>A monotone cubic through (0, 0) and the points; a straight line where there are none.</summary>
    /// <param name="stiffness">EA, N per unit strain, positive; used where there are no points.</param>
    /// <param name="points">Strain and tension, both increasing.</param>
    /// <exception cref="ArgumentException">The points do not increase, or the curve would start flat.</exception>
    public RopeCurve(double stiffness, IReadOnlyList<StretchPoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (!(stiffness > 0) || !double.IsFinite(stiffness))
        {
            throw new ArgumentException("A rope's stiffness is positive.", nameof(stiffness));
        }

        if (points.Count == 0)
        {
            _isStraight = true;
            _initialSlope = stiffness;
            _knot = [0];
            _value = [0];
            _slope = [stiffness];
            _second = [0];
            _third = [0];
            _energy = [0];
            return;
        }

        var strain = new double[points.Count + 1];
        var tension = new double[points.Count + 1];
        for (var i = 0; i < points.Count; i++)
        {
            strain[i + 1] = points[i].Strain;
            tension[i + 1] = points[i].Tension;
            if (!(strain[i + 1] > strain[i]) || !(tension[i + 1] > tension[i]))
            {
                throw new ArgumentException("Strain and tension of a stretch curve increase from point to point.", nameof(points));
            }
        }

        var slopes = NodeSlopes(strain, tension);
        if (!(slopes[0] > 0))
        {
            throw new ArgumentException("A stretch curve may not start flat: its second part is far steeper than its first. Leave out the first point, or give one between.", nameof(points));
        }

        var n = strain.Length;
        _initialSlope = slopes[0];
        _knot = strain;
        _value = tension;
        _slope = slopes;
        _second = new double[n];
        _third = new double[n];
        _energy = new double[n];
        for (var i = 0; i + 1 < n; i++)
        {
            var h = strain[i + 1] - strain[i];
            var secant = (tension[i + 1] - tension[i]) / h;
            _second[i] = ((3 * secant) - (2 * slopes[i]) - slopes[i + 1]) / h;
            _third[i] = (slopes[i] + slopes[i + 1] - (2 * secant)) / (h * h);
            _energy[i + 1] = _energy[i] + (h * (tension[i] + (h * ((slopes[i] / 2) + (h * ((_second[i] / 3) + (h * _third[i] / 4)))))));
        }

        // Beyond the last point: straight, at the larger of the end slope and the last secant (a curve that softens past
        // the maker's last point would flatter).
        slopes[n - 1] = Math.Max(slopes[n - 1], (tension[n - 1] - tension[n - 2]) / (strain[n - 1] - strain[n - 2]));
    }

    /// <summary>Slope at zero strain, N per unit strain.</summary>
    public double InitialSlope => _initialSlope;

    /// <summary>Upper bound of the slope anywhere, N per unit strain.</summary>
    internal double SteepestSlope
    {
        get
        {
            var steepest = _slope.Max();
            for (var i = 0; i + 1 < _knot.Length; i++)
            {
                // A cubic's slope between two nodes is nowhere more than one and a half times its secant, or at the nodes.
                steepest = Math.Max(steepest, 1.5 * (_value[i + 1] - _value[i]) / (_knot[i + 1] - _knot[i]));
            }

            return steepest;
        }
    }

    /// <summary>Tension held for long at a strain, N; continued straight below zero.</summary>
    /// <param name="strain">Strain.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Tension(double strain) => strain <= 0 || _isStraight ? _initialSlope * strain : CurvedTension(strain);

    /// <summary>Slope of the curve, N per unit strain.</summary>
    /// <param name="strain">Strain.</param>
    public double Slope(double strain)
    {
        var i = Segment(strain);
        var x = strain - _knot[i];
        return strain <= 0 ? _slope[0] : _slope[i] + (x * ((2 * _second[i]) + (x * 3 * _third[i])));
    }

    /// <summary>Energy per metre of natural length, the integral of the tension over strain, J/m.</summary>
    /// <param name="strain">Strain.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Energy(double strain) => strain <= 0 || _isStraight ? _initialSlope * strain * strain / 2 : CurvedEnergy(strain);

    /// <summary>
    /// The stretch e0 at which a rope with relaxed strain a pulls nothing: S(e0) + E_m (e0 - a) = 0.
    /// </summary>
    /// <param name="relaxingStiffness">E_m, N per unit strain.</param>
    /// <param name="relaxed">a.</param>
    public double FreeStrain(double relaxingStiffness, double relaxed)
    {
        var e = relaxingStiffness * relaxed / (_slope[0] + relaxingStiffness);
        if (_knot.Length == 1 || relaxed <= 0)
        {
            return e;
        }

        // Newton between the two strains where the pull is of either sign; halved where a bend in the curve throws it out.
        double low = 0;
        var high = relaxed;
        for (var i = 0; i < MostIterations; i++)
        {
            var pull = Tension(e) + (relaxingStiffness * (e - relaxed));
            if (pull > 0)
            {
                high = e;
            }
            else
            {
                low = e;
            }

            var next = e - (pull / (Slope(e) + relaxingStiffness));
            next = next >= low && next <= high ? next : (low + high) / 2;
            var step = Math.Abs(next - e);
            e = next;
            if (step < SmallestStep)
            {
                break;
            }
        }

        return e;
    }

    /// <summary>Halving alone would take a strain of 1 to its last digit in this many steps.</summary>
    private const int MostIterations = 60;

    /// <summary>A strain's round-off; with the stiffness of any rope a thousandth of a micronewton.</summary>
    private const double SmallestStep = 1e-15;

    private double CurvedTension(double strain)
    {
        var i = Segment(strain);
        var x = strain - _knot[i];
        return _value[i] + (x * (_slope[i] + (x * (_second[i] + (x * _third[i])))));
    }

    private double CurvedEnergy(double strain)
    {
        var i = Segment(strain);
        var x = strain - _knot[i];
        return _energy[i] + (x * (_value[i] + (x * ((_slope[i] / 2) + (x * ((_second[i] / 3) + (x * _third[i] / 4)))))));
    }

    private int Segment(double strain)
    {
        var i = 0;
        while (i + 1 < _knot.Length && strain > _knot[i + 1])
        {
            i++;
        }

        return i;
    }

    private static double[] NodeSlopes(double[] strain, double[] tension)
    {
        if (strain.Length < 3)
        {
            var secant = tension[1] / strain[1];
            return [secant, secant];
        }

        var spline = CubicSpline.InterpolatePchipSorted(strain, tension);
        return [.. strain.Select(spline.Differentiate)];
    }
}
