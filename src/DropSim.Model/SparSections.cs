using System.Runtime.CompilerServices;
using MathNet.Numerics.Integration;

namespace DropSim.Model;

/// <summary>A force on the spar.</summary>
/// <param name="Height">Height of its point of action, m.</param>
/// <param name="Offset">Distance of its point of action from the axis toward the fall, m.</param>
/// <param name="Fx">Toward the fall, N.</param>
/// <param name="Fz">Upward, N.</param>
public readonly record struct SparLoad(double Height, double Offset, double Fx, double Fz);

/// <summary>
/// Bending moment and stress in the spar by mode acceleration: statics of the loads less the inertia of the modes
/// (docs/theory/spar.md, eqs. 13 to 16).
/// </summary>
/// <remarks>
/// <para>
/// M(z) = sum over loads above z of [Fx (h - z) - Fz (offset + w(h) - w(z))] - sum of qdd_i Gamma_i(z)
/// + sum over masses above z of m g (w - w(z)); N(z) = weight above z - sum of Fz above z; stress = |M|/W + |N|/A.
/// A load that stands still needs no modes to be exact. Left out: shear stress, notches, hollows, grain.
/// </para>
/// <para>Construction allocates; evaluation does not. Moments are positive where they bend the spar toward the fall.</para>
/// </remarks>
public sealed class SparSections
{
    /// <summary>Gauss points a stretch; integrands have degree 6 at most.</summary>
    private const int GaussPoints = 5;

    /// <summary>Loads whose deflections are kept on the stack; a drop has four.</summary>
    private const int LoadsOnStack = 16;

    private static readonly GaussLegendreRule s_rule = new(0, 1, GaussPoints);

    private readonly ModalSpar _spar;
    private readonly int _modes;
    private readonly double[] _heights;
    private readonly Section[] _sections;
    private readonly double[] _shapes;
    private readonly double[] _firsts;
    private readonly double[] _seconds;
    private readonly double[] _climberShape;
    private readonly StationRows _rows;

    /// <summary>Prepares the stations: element nodes and places where the taper changes, from the ground to the cut.</summary>
    /// <param name="spar">The spar.</param>
    public SparSections(ModalSpar spar)
        : this(spar, [])
    {
    }

    /// <summary>Prepares stations where loads will stand, too: there nothing has to be integrated anew.</summary>
    /// <param name="spar">The spar.</param>
    /// <param name="loads">Heights of loads, m; those outside the spar are left out.</param>
    internal SparSections(ModalSpar spar, ReadOnlySpan<double> loads)
    {
        ArgumentNullException.ThrowIfNull(spar);
        _spar = spar;
        _modes = spar.ModeCount;
        SortedSet<double> heights = [.. spar.Taper.Heights];
        for (int node = 0; node <= spar.Elements; node++)
        {
            heights.Add(spar.Height * node / spar.Elements);
        }

        foreach (double height in loads)
        {
            if (height > 0 && height < spar.Height)
            {
                heights.Add(height);
            }
        }

        _heights = [.. heights];
        _climberShape = new double[_modes];
        spar.ShapeAt(spar.ClimberHeight, _climberShape, new double[_modes]);
        _sections = [.. _heights.Select(SectionAt)];
        _shapes = new double[_heights.Length * _modes];
        _firsts = new double[_heights.Length * _modes];
        _seconds = new double[_heights.Length * _modes];
        double[] slopes = new double[_modes];
        for (int k = _heights.Length - 1; k >= 0; k--)
        {
            Span<double> first = _firsts.AsSpan(k * _modes, _modes);
            Span<double> second = _seconds.AsSpan(k * _modes, _modes);
            spar.ShapeAt(_heights[k], _shapes.AsSpan(k * _modes, _modes), slopes);
            if (k < _heights.Length - 1)
            {
                MassIntegrals(_heights[k], k + 1, first, second);
            }
        }

        _rows = new StationRows(
            _heights, _modes, k => (_sections[k].Modulus, _sections[k].Area), (k, q, acceleration) => AtStation(k, q, acceleration, [], []), (k, i) => _shapes[(k * _modes) + i]);
    }

    /// <summary>Moment at the ground.</summary>
    /// <param name="q">Modal coordinates, kg^1/2 m.</param>
    /// <param name="acceleration">Their accelerations, kg^1/2 m/s2.</param>
    /// <param name="loads">Forces on the spar.</param>
    /// <returns>The moment, N m.</returns>
    public double BaseMoment(ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads)
    {
        Span<double> deflections = loads.Length <= LoadsOnStack ? stackalloc double[LoadsOnStack] : new double[loads.Length];
        Deflections(q, loads, deflections);
        return BaseMoment(q, acceleration, loads, deflections);
    }

    /// <summary>Moment at the ground, where the deflections of the axis at the loads are known, N m.</summary>
    internal double BaseMoment(
        ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections) =>
        AtStation(0, q, acceleration, loads, deflections).Moment;

    /// <summary>Moment at any height; of a load at that very height the offset counts.</summary>
    /// <param name="height">Height, 0 to the cut, m.</param>
    /// <param name="q">Modal coordinates, kg^1/2 m.</param>
    /// <param name="acceleration">Their accelerations, kg^1/2 m/s2.</param>
    /// <param name="loads">Forces on the spar.</param>
    /// <returns>The moment, N m.</returns>
    public double MomentAt(double height, ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads)
    {
        Span<double> deflections = loads.Length <= LoadsOnStack ? stackalloc double[LoadsOnStack] : new double[loads.Length];
        Deflections(q, loads, deflections);
        return Between(height, q, acceleration, loads, deflections).Moment;
    }

    /// <summary>
    /// Largest stress along the grain, tension or compression, over all stations and just below every load; and where.
    /// </summary>
    /// <param name="q">Modal coordinates, kg^1/2 m.</param>
    /// <param name="acceleration">Their accelerations, kg^1/2 m/s2.</param>
    /// <param name="loads">Forces on the spar.</param>
    /// <returns>
    /// The stress, Pa: on the compression side |M|/W + N/A while the section is pressed, on the tension side |M|/W + |N|/A where
    /// a load lifts more than stands above; and the height, m.
    /// </returns>
    public (double Stress, double Height) WorstStress(
        ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads)
    {
        Span<double> deflections = loads.Length <= LoadsOnStack ? stackalloc double[LoadsOnStack] : new double[loads.Length];
        Deflections(q, loads, deflections);
        return WorstStress(q, acceleration, loads, deflections);
    }

    /// <summary>Largest stress and where, where the deflections of the axis at the loads are known.</summary>
    internal (double Stress, double Height) WorstStress(
        ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections)
    {
        (double Stress, double Height) worst = _rows.Worst(q, acceleration, loads, deflections);
        foreach (SparLoad load in loads)
        {
            // At a station it has been seen already.
            if (load.Height > 0 && load.Height < _spar.Height && Array.BinarySearch(_heights, load.Height) < 0)
            {
                (double moment, double axial) = Between(load.Height, q, acceleration, loads, deflections);
                double stress = SectionAt(load.Height).Stress(moment, axial);
                worst = stress > worst.Stress ? (stress, load.Height) : worst;
            }
        }

        return worst;
    }

    private (double Moment, double Axial) AtStation(
        int k, ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections)
    {
        int from = k * _modes;
        return Statics(
            _heights[k], _sections[k].StemAbove, _shapes.AsSpan(from, _modes), _firsts.AsSpan(from, _modes), _seconds.AsSpan(from, _modes),
            q, acceleration, loads, deflections);
    }

    private (double Moment, double Axial) Between(
        double z, ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections)
    {
        z = Math.Clamp(z, 0, _spar.Height);
        int next = 1;
        while (next < _heights.Length - 1 && _heights[next] <= z)
        {
            next++;
        }

        Span<double> shape = stackalloc double[_modes];
        Span<double> unused = stackalloc double[_modes];
        Span<double> first = stackalloc double[_modes];
        Span<double> second = stackalloc double[_modes];
        _spar.ShapeAt(z, shape, unused);
        MassIntegrals(z, next, first, second);
        return Statics(z, SectionAt(z).StemAbove, shape, first, second, q, acceleration, loads, deflections);
    }

    private (double Moment, double Axial) Statics(
        double z, double stemAbove, ReadOnlySpan<double> shape, ReadOnlySpan<double> first, ReadOnlySpan<double> second,
        ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections)
    {
        double g = _spar.Gravity;
        double here = Dot(shape, q);

        // Stem: its masses lie at w(zeta), so that m g (w - w(z)) sums to g (S.q - m w(z)).
        double moment = (g * (Dot(first, q) - (stemAbove * here))) - Dot(second, acceleration);
        double axial = g * stemAbove;
        if (_spar.ClimberHeight > z)
        {
            moment += _spar.ClimberMass
                * ((g * (Dot(_climberShape, q) - here)) - ((_spar.ClimberHeight - z) * Dot(_climberShape, acceleration)));
            axial += g * _spar.ClimberMass;
        }

        for (int i = 0; i < loads.Length; i++)
        {
            if (loads[i].Height >= z)
            {
                moment += (loads[i].Fx * (loads[i].Height - z)) - (loads[i].Fz * (loads[i].Offset + deflections[i] - here));
                axial -= loads[i].Fz;
            }
        }

        return (moment, axial);
    }

    /// <summary>S_i = integral of rho A phi_i and Gamma_i = integral of rho A phi_i (zeta - z), from z to the cut, stem only.</summary>
    private void MassIntegrals(double z, int next, Span<double> first, Span<double> second)
    {
        Span<double> shape = stackalloc double[_modes];
        Span<double> slope = stackalloc double[_modes];
        double length = _heights[next] - z;
        for (int i = 0; i < _modes; i++)
        {
            first[i] = _firsts[(next * _modes) + i];
            second[i] = _seconds[(next * _modes) + i] + (length * first[i]);
        }

        for (int g = 0; g < GaussPoints; g++)
        {
            double above = length * s_rule.GetAbscissa(g);
            double radius = _spar.RadiusAt(z + above);
            double mass = length * s_rule.GetWeight(g) * _spar.Density * Math.PI * radius * radius;
            _spar.ShapeAt(z + above, shape, slope);
            for (int i = 0; i < _modes; i++)
            {
                first[i] += mass * shape[i];
                second[i] += mass * shape[i] * above;
            }
        }
    }

    private void Deflections(ReadOnlySpan<double> q, ReadOnlySpan<SparLoad> loads, Span<double> deflections)
    {
        for (int i = 0; i < loads.Length; i++)
        {
            deflections[i] = _spar.DeflectionAt(loads[i].Height, q);
        }
    }

    private Section SectionAt(double z)
    {
        double r = _spar.RadiusAt(z);
        return new(Math.PI / 4 * r * r * r, Math.PI * r * r, _spar.Density * _spar.Taper.VolumeAbove(z));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    /// <summary>A round section: W = pi d^3/32 (m3), A = pi d^2/4 (m2), mass of stem above it (kg).</summary>
    private readonly record struct Section(double Modulus, double Area, double StemAbove)
    {
        public double Stress(double moment, double axial) => (Math.Abs(moment) / Modulus) + (Math.Abs(axial) / Area);
    }
}
