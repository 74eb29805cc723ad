using System.Numerics;

namespace DropSim.Model;

/// <summary>
/// The stress at all stations of a spar at once: the moment is linear in the modes, so each mode has a row over the stations.
/// Element by element in a fixed order, so that the bits do not depend on the width of the machine's vectors.
/// </summary>
internal sealed class StationRows
{
    private readonly int _modes;
    private readonly int _padded;
    private readonly double[] _heights;
    private readonly double[] _perModulus;
    private readonly double[] _perArea;
    private readonly double[] _axial;

    // One row a mode: moment per coordinate, moment per acceleration, deflection per coordinate.
    private readonly double[] _standing;
    private readonly double[] _inertia;
    private readonly double[] _shapes;

    /// <summary>Prepares the rows.</summary>
    /// <param name="heights">Stations, ascending, m.</param>
    /// <param name="modes">Number of modes.</param>
    /// <param name="section">Section modulus, m3, and area, m2, at a station.</param>
    /// <param name="unloaded">Moment, N m, and axial force, N, at a station of the spar without loads.</param>
    /// <param name="shape">Deflection of a mode at a station, kg^-1/2.</param>
    public StationRows(
        ReadOnlySpan<double> heights, int modes, Func<int, (double Modulus, double Area)> section,
        Unloaded unloaded, Func<int, int, double> shape)
    {
        _modes = modes;
        _padded = (heights.Length + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
        _heights = new double[_padded];
        _perModulus = new double[_padded];
        _perArea = new double[_padded];
        _axial = new double[_padded];
        _standing = new double[_padded * modes];
        _inertia = new double[_padded * modes];
        _shapes = new double[_padded * modes];
        double[] none = new double[modes];
        double[] unit = new double[modes];
        for (int k = 0; k < heights.Length; k++)
        {
            var (modulus, area) = section(k);
            _heights[k] = heights[k];
            _perModulus[k] = 1 / modulus;
            _perArea[k] = 1 / area;
            _axial[k] = unloaded(k, none, none).Axial;
            for (int i = 0; i < modes; i++)
            {
                unit[i] = 1;
                _standing[(i * _padded) + k] = unloaded(k, unit, none).Moment;
                _inertia[(i * _padded) + k] = unloaded(k, none, unit).Moment;
                _shapes[(i * _padded) + k] = shape(k, i);
                unit[i] = 0;
            }
        }
    }

    /// <summary>Moment and axial force at a station of the spar without loads.</summary>
    public delegate (double Moment, double Axial) Unloaded(int station, ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration);

    /// <summary>Largest stress, Pa, and its height, m: |M|/W + |N|/A.</summary>
    public (double Stress, double Height) Worst(
        ReadOnlySpan<double> q, ReadOnlySpan<double> acceleration, ReadOnlySpan<SparLoad> loads, ReadOnlySpan<double> deflections)
    {
        (double Stress, double Height) worst = (0, 0);
        for (int at = 0; at < _padded; at += Vector<double>.Count)
        {
            var moment = Vector<double>.Zero;
            var here = Vector<double>.Zero;
            for (int i = 0; i < _modes; i++)
            {
                int row = (i * _padded) + at;
                moment += (q[i] * new Vector<double>(_standing, row)) + (acceleration[i] * new Vector<double>(_inertia, row));
                here += q[i] * new Vector<double>(_shapes, row);
            }

            var z = new Vector<double>(_heights, at);
            var axial = new Vector<double>(_axial, at);
            for (int j = 0; j < loads.Length; j++)
            {
                var load = loads[j];
                var height = new Vector<double>(load.Height);
                var bends = (load.Fx * (height - z)) - (load.Fz * (new Vector<double>(load.Offset + deflections[j]) - here));
                Vector<long> carries = Vector.GreaterThanOrEqual(height, z);
                moment += Vector.ConditionalSelect(carries, bends, Vector<double>.Zero);
                axial -= Vector.ConditionalSelect(carries, new Vector<double>(load.Fz), Vector<double>.Zero);
            }

            var stress = (Vector.Abs(moment) * new Vector<double>(_perModulus, at)) + (Vector.Abs(axial) * new Vector<double>(_perArea, at));
            if (Vector.GreaterThanAny(stress, new Vector<double>(worst.Stress)))
            {
                for (int lane = 0; lane < Vector<double>.Count; lane++)
                {
                    worst = stress[lane] > worst.Stress ? (stress[lane], _heights[at + lane]) : worst;
                }
            }
        }

        return worst;
    }
}
