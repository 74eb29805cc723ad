namespace DropSim.Model;

/// <summary>A force on the spar.</summary>
/// <param name="Height">Height of its point of action, m.</param>
/// <param name="Offset">Distance of its point of action from the axis toward the fall, m.</param>
/// <param name="Fx">Toward the fall, N.</param>
/// <param name="Fz">Upward, N.</param>
public readonly record struct SparLoad(double Height, double Offset, double Fx, double Fz);

/// <summary>
/// Bending moment and stress over the height of the spar by mode acceleration: statics of the loads minus inertia.
/// Equation (docs/theory/spar.md): M(z) = sum over loads above z of [Fx (h - z) - Fz (offset + w(h) - w(z))]
/// - sum_i qddot_i Gamma_i(z) + g integral_z^H rho A (w(zeta) - w(z)) dzeta + climber's part; stress = |M|/W + N/A.
/// Exact for static loads with any number of modes. Left out: shear stress, notches, anything but round sections.
/// </summary>
public sealed class SparSections
{
    private readonly ModalSpar _spar;
    private readonly int _modes;
    private readonly double[] _height;
    private readonly double[] _shape;
    private readonly double[] _inertia;
    private readonly double[] _sag;
    private readonly double[] _weightAbove;
    private readonly double[] _modulus;
    private readonly double[] _area;

    /// <summary>Prepares the stations: the ends of the beam's elements, the tip left out.</summary>
    /// <param name="spar">The spar.</param>
    public SparSections(ModalSpar spar)
    {
        ArgumentNullException.ThrowIfNull(spar);
        _spar = spar;
        _modes = spar.ModeCount;
        var n = spar.Elements;
        _height = new double[n];
        _shape = new double[n * _modes];
        _inertia = new double[n * _modes];
        _sag = new double[n * _modes];
        _weightAbove = new double[n];
        _modulus = new double[n];
        _area = new double[n];
        var here = new double[_modes];
        var there = new double[_modes];
        var slope = new double[_modes];
        for (var k = 0; k < n; k++)
        {
            var z = k * spar.Height / n;
            var r = spar.RadiusAt(z);
            _height[k] = z;
            _modulus[k] = Math.PI * r * r * r / 4;
            _area[k] = Math.PI * r * r;
            spar.ShapeAt(z, here, slope);
            here.CopyTo(_shape, k * _modes);
            double above = 0;
            foreach (var (from, to) in spar.Pieces(z, spar.Height))
            {
                foreach (var (zeta, weight) in ModalSpar.Gauss(from, to))
                {
                    Include(zeta, weight * spar.LineMass(zeta));
                }
            }

            if (spar.ClimberHeight > z)
            {
                Include(spar.ClimberHeight, spar.ClimberMass);
            }

            _weightAbove[k] = spar.Gravity * above;

            void Include(double zeta, double mass)
            {
                above += mass;
                spar.ShapeAt(zeta, there, slope);
                for (var i = 0; i < _modes; i++)
                {
                    _inertia[(k * _modes) + i] += mass * there[i] * (zeta - z);
                    _sag[(k * _modes) + i] += spar.Gravity * mass * (there[i] - here[i]);
                }
            }
        }
    }

    /// <summary>Moment at the base, N m; positive bends the spar toward the fall.</summary>
    /// <param name="q">Modal coordinates.</param>
    /// <param name="qAcceleration">Their accelerations.</param>
    /// <param name="loads">Forces on the spar.</param>
    public double BaseMoment(ReadOnlySpan<double> q, ReadOnlySpan<double> qAcceleration, ReadOnlySpan<SparLoad> loads)
    {
        Span<double> deflection = stackalloc double[loads.Length];
        Deflections(q, loads, deflection);
        return Moment(0, q, qAcceleration, loads, deflection, out _);
    }

    /// <summary>Largest stress over the height, Pa, and where it is, m.</summary>
    /// <param name="q">Modal coordinates.</param>
    /// <param name="qAcceleration">Their accelerations.</param>
    /// <param name="loads">Forces on the spar.</param>
    public (double Stress, double Height) WorstStress(ReadOnlySpan<double> q, ReadOnlySpan<double> qAcceleration, ReadOnlySpan<SparLoad> loads)
    {
        Span<double> deflection = stackalloc double[loads.Length];
        Deflections(q, loads, deflection);
        double worst = 0;
        double at = 0;
        for (var k = 0; k < _height.Length; k++)
        {
            var moment = Moment(k, q, qAcceleration, loads, deflection, out var axial);
            var stress = (Math.Abs(moment) / _modulus[k]) + (Math.Abs(axial) / _area[k]);
            if (stress > worst)
            {
                worst = stress;
                at = _height[k];
            }
        }

        return (worst, at);
    }

    private void Deflections(ReadOnlySpan<double> q, ReadOnlySpan<SparLoad> loads, Span<double> deflection)
    {
        Span<double> shape = stackalloc double[_modes];
        Span<double> slope = stackalloc double[_modes];
        for (var l = 0; l < loads.Length; l++)
        {
            _spar.ShapeAt(loads[l].Height, shape, slope);
            deflection[l] = Dot(shape, q);
        }
    }

    private double Moment(
        int k, ReadOnlySpan<double> q, ReadOnlySpan<double> qAcceleration, ReadOnlySpan<SparLoad> loads,
        ReadOnlySpan<double> deflection, out double axial)
    {
        var z = _height[k];
        var row = k * _modes;
        var here = Dot(_shape.AsSpan(row, _modes), q);
        var moment = Dot(_sag.AsSpan(row, _modes), q) - Dot(_inertia.AsSpan(row, _modes), qAcceleration);
        axial = _weightAbove[k];
        for (var l = 0; l < loads.Length; l++)
        {
            var load = loads[l];
            if (load.Height > z)
            {
                moment += (load.Fx * (load.Height - z)) - (load.Fz * (load.Offset + deflection[l] - here));
                axial -= load.Fz;
            }
        }

        return moment;
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (var i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
