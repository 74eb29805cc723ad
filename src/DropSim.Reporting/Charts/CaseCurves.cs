using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Charts;

/// <summary>A part of the clock, s from hinge break.</summary>
internal readonly record struct Clock(double From, double To);

/// <summary>One case's curves, read once and shared by its pictures.</summary>
internal sealed class CaseCurves
{
    /// <summary>Distance of the rows, s: a load pulse lasts about 0.1 s.</summary>
    private const double Interval = 0.001;

    /// <summary>Shown before the hinge breaks, s.</summary>
    private const double LeadIn = 0.3;

    /// <summary>Shown after the last of the largest peaks, s.</summary>
    private const double AfterLastPeak = 1.5;

    /// <summary>Nearly as low as ever: within this share of the whole drop.</summary>
    private const double NearlyLowestShare = 0.03;

    /// <summary>Nearly as large as ever.</summary>
    private const double NearlyLargestShare = 0.98;

    /// <summary>Longest stretch shown, s.</summary>
    private const double Longest = 8;

    private readonly TraceTable _table;

    /// <summary>Reads a case's curves.</summary>
    /// <param name="result">A case with traces.</param>
    /// <exception cref="ArgumentException">The run was made without traces.</exception>
    internal CaseCurves(CaseResult result)
        : this(result, null)
    {
    }

    /// <summary>Takes a case's curves as somebody has read them already.</summary>
    /// <param name="result">A case with traces.</param>
    /// <param name="table">Its curves; null to read them here.</param>
    /// <exception cref="ArgumentException">The run was made without traces.</exception>
    internal CaseCurves(CaseResult result, TraceTable? table)
    {
        Result = result;
        Traces = result.Run.Traces ?? throw new ArgumentException($"The case '{result.Case.Name}' has no curves.", nameof(result));
        _table = table ?? Traces.Sample(Interval);
        Time = _table["time_s"].ToArray();
        Window = Story();
    }

    internal CaseResult Result { get; }

    internal DropRun Run => Result.Run;

    internal DropInput Input => Result.Run.Input;

    internal IDropTraces Traces { get; }

    /// <summary>Times, s from hinge break.</summary>
    internal double[] Time { get; }

    /// <summary>From a little before the hinge breaks to where the story ends.</summary>
    internal Clock Window { get; }

    /// <summary>Weight of the piece, N.</summary>
    internal double Weight => Input.Piece.Mass * Input.Computation.Gravity;

    /// <summary>A column times a factor.</summary>
    /// <param name="name">SI name.</param>
    /// <param name="factor">From SI to the units shown.</param>
    internal double[] Column(string name, double factor = 1)
    {
        var values = _table[name].ToArray();
        for (var i = 0; i < values.Length; i++)
        {
            values[i] *= factor;
        }

        return values;
    }

    /// <summary>Smallest and largest value of a column within a clock.</summary>
    internal (double Low, double High) Reach(string name, Clock clock)
    {
        var values = _table[name];
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        for (var i = 0; i < values.Length; i++)
        {
            if (Time[i] >= clock.From && Time[i] <= clock.To && double.IsFinite(values[i]))
            {
                low = Math.Min(low, values[i]);
                high = Math.Max(high, values[i]);
            }
        }

        return low <= high ? (low, high) : (0, 0);
    }

    /// <summary>The value of a column at a time (the nearest row at or after it).</summary>
    internal double At(string name, double time)
    {
        var i = Array.BinarySearch(Time, time);
        return _table[name][Math.Clamp(i < 0 ? ~i : i, 0, Time.Length - 1)];
    }

    /// <summary>When a column is smallest within a clock, s.</summary>
    internal double Least(string name, Clock clock)
    {
        var values = _table[name];
        var best = -1;
        for (var i = 0; i < values.Length; i++)
        {
            if (Time[i] >= clock.From && Time[i] <= clock.To && (best < 0 || values[i] < values[best]))
            {
                best = i;
            }
        }

        return best < 0 ? clock.From : Time[best];
    }

    /// <summary>The row within a clock where a column is largest in size.</summary>
    internal (double Time, double Value) Extreme(string name, Clock clock)
    {
        var values = _table[name];
        var (time, value) = (clock.From, 0.0);
        for (var i = 0; i < values.Length; i++)
        {
            if (Time[i] >= clock.From && Time[i] <= clock.To && Math.Abs(values[i]) > Math.Abs(value))
            {
                (time, value) = (Time[i], values[i]);
            }
        }

        return (time, value);
    }

    /// <summary>The coarse phases, neighbours of one name joined.</summary>
    internal IReadOnlyList<PhaseSpan> Phases()
    {
        var joined = new List<PhaseSpan>();
        foreach (var span in Run.Phases.Where(p => p.To > p.From))
        {
            if (joined.Count > 0 && joined[^1].Kind == span.Kind)
            {
                joined[^1] = joined[^1] with { To = span.To };
            }
            else
            {
                joined.Add(span);
            }
        }

        return joined;
    }

    /// <summary>When the piece first comes nearly as low as it ever does, s: what follows is a slow sinking that nobody needs to see.</summary>
    private double NearlyLowest()
    {
        var heights = _table["lowest_point_m"];
        var least = double.PositiveInfinity;
        foreach (var height in heights)
        {
            least = Math.Min(least, height);
        }

        var limit = least + (NearlyLowestShare * (heights[0] - least));
        for (var i = 0; i < heights.Length; i++)
        {
            if (heights[i] <= limit)
            {
                return Time[i];
            }
        }

        return 0;
    }

    /// <summary>When a column first comes nearly as large as it ever does, s: where a device slips, a force comes back to the same height again and again.</summary>
    /// <param name="name">SI name.</param>
    internal double NearlyLargest(string name)
    {
        var values = _table[name];
        var largest = 0.0;
        foreach (var value in values)
        {
            largest = Math.Max(largest, Math.Abs(value));
        }

        for (var i = 0; i < values.Length && largest > 0; i++)
        {
            if (Math.Abs(values[i]) >= NearlyLargestShare * largest)
            {
                return Time[i];
            }
        }

        return 0;
    }

    private Clock Story()
    {
        var taut = Run.Events.Where(e => e.Kind == EventKind.LoadLegTaut).Select(e => e.Time).DefaultIfEmpty(double.PositiveInfinity).Min();
        var from = double.IsNaN(Run.HingeBreakTime) ? Traces.StartTime : Math.Max(Traces.StartTime, Math.Min(-LeadIn, taut - 0.1));
        string[] peaks = ["rigging_point_force_N", "load_leg_tension_N", "ground_leg_tension_N", "hand_tension_N", "climber_deflection_m"];
        var last = peaks.Max(NearlyLargest);
        var end = Math.Max(last + AfterLastPeak, NearlyLowest() + (LeadIn / 2));
        return new Clock(from, Math.Max(from + 0.1, Math.Min(Math.Min(end, Traces.EndTime), from + Longest)));
    }
}
