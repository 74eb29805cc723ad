using DropSim.Model;

namespace DropSim.Studies.Uncertainty;

/// <summary>Keeps the curves of the sampled drops on one clock and makes bands of them.</summary>
internal sealed class BandRecorder
{
    /// <summary>Distance of the times, s: a load pulse lasts about 0.1 s.</summary>
    private const double Interval = 0.005;

    /// <summary>First time, s from hinge break.</summary>
    private const double From = -0.3;

    /// <summary>Two times nearer than this are one, s.</summary>
    private const double Same = 1e-9;

    private static readonly (string Name, string Unit)[] Columns =
    [
        ("rigging_point_force_N", "N"), ("load_leg_tension_N", "N"), ("ground_leg_tension_N", "N"), ("hand_tension_N", "N"),
        ("lowest_point_m", "m"), ("rope_run_m", "m"), ("climber_deflection_m", "m"),
    ];

    private readonly double[] _time;

    /// <summary>Makes a clock that ends with the central run, or later drops, at most at the longest time.</summary>
    /// <param name="central">The central run.</param>
    public BandRecorder(DropRun central)
    {
        var end = central.Input.Computation.EndTime - (double.IsNaN(central.HingeBreakTime) ? 0 : central.HingeBreakTime);
        _time = [.. Enumerable.Range(0, (int)Math.Floor((end - From) / Interval)).Select(k => From + (k * Interval))];
    }

    /// <summary>The curves of one drop on the clock: column by column; not a number after a drop that was cut short or not computed that far.</summary>
    /// <param name="run">The drop; it must have curves.</param>
    public float[][] Keep(DropRun run)
    {
        var table = run.Traces!.Sample(Interval);
        var time = table["time_s"];
        var read = Columns.Select(c => table.Columns.First(t => t.Name == c.Name).Values).ToArray();
        var kept = Columns.Select(_ => new float[_time.Length]).ToArray();

        // A piece that hangs still goes on hanging still; nothing is known of a drop that was cut short.
        var stays = run.End.Kind == EndKind.Settled;
        var row = 0;
        for (var k = 0; k < _time.Length; k++)
        {
            while (row + 1 < time.Length && time[row + 1] <= _time[k] + Same)
            {
                row++;
            }

            var known = stays || _time[k] <= time[^1] + Same;
            for (var c = 0; c < Columns.Length; c++)
            {
                kept[c][k] = known ? (float)read[c].Span[row] : float.NaN;
            }
        }

        return kept;
    }

    /// <summary>Bands over the drops kept.</summary>
    /// <param name="drops">Curves of the drops that could be computed.</param>
    /// <param name="count">Number of all drops.</param>
    public TraceBands Bands(IReadOnlyList<float[][]> drops, int count)
    {
        var shares = UncertaintyOptions.Shares;
        var following = new double[_time.Length];
        var curves = Columns.Select(c => new TraceBand(c.Name, c.Unit, [.. shares.Select(_ => new double[_time.Length])])).ToArray();
        var column = new double[drops.Count];
        for (var k = 0; k < _time.Length; k++)
        {
            for (var c = 0; c < Columns.Length; c++)
            {
                var n = 0;
                foreach (var drop in drops)
                {
                    if (!float.IsNaN(drop[c][k]))
                    {
                        column[n++] = drop[c][k];
                    }
                }

                var values = column[..n];
                Array.Sort(values);
                for (var s = 0; s < shares.Count; s++)
                {
                    curves[c].Values[s][k] = n == 0 ? double.NaN : Quantiles.Sorted(values, shares[s]);
                }

                following[k] = (double)n / count;
            }
        }

        return new(_time, following, curves);
    }
}
