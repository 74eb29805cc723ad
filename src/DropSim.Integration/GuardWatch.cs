using System.Numerics;
using System.Runtime.CompilerServices;

namespace DropSim.Integration;

/// <summary>What a step's free guard values say.</summary>
internal enum GuardSight
{
    /// <summary>No guard can have fallen.</summary>
    Clear,

    /// <summary>A guard is below zero at the end, or may have been inside.</summary>
    Suspicious,

    /// <summary>A guard was not a number or minus infinity.</summary>
    NotFinite,
}

/// <summary>
/// Remembers how each guard stands (clearly above zero, or at zero) and reads the guards of a step's stages.
/// <para>
/// A guard is at zero where |g| is no more than what it cannot be trusted to: <see cref="ZeroFloor"/> in its own unit,
/// <see cref="RoundOff"/> of the largest value it has had, or its change over the last bracket of an event's time.
/// A guard clearly above zero fires when it is found below zero. A guard at zero at a step's start fires only when it
/// is found clearly below zero, and then where it left zero; rising from zero it becomes an ordinary guard again.
/// </para>
/// </summary>
internal sealed class GuardWatch
{
    // Smaller than any metre, newton or second that matters; guards that start a run at zero need some floor.
    private const double ZeroFloor = 1e-14;

    // About five hundred units in the last place: what a guard computed as a difference of lengths or forces may be wrong by.
    private const double RoundOff = 1e-13;

    // Share of a guard's range over the step by which stage values may mislead, times theta^2 (1 - theta): early stages
    // and the end are accurate, late stages (of low stage order) are not. Measured: 0.5 misses none of 1,600 dips in a test.
    private const double StageDoubt = 0.5;

    private readonly IHybridSystem _system;
    private readonly double[] _nodes;
    private readonly double _tolerance;
    private readonly bool _seesDips;
    private readonly bool[] _mayDip;
    // All bits set where the guard stands clearly above zero.
    private readonly long[] _above;
    private readonly double[] _size;
    private readonly double[] _doubt;
    private readonly double[] _threshold;
    private readonly double[] _least;
    private readonly double[] _most;
    private readonly double[] _x;
    private readonly double[] _g;

    internal GuardWatch(IHybridSystem system, RungeKuttaMethod method, double relativeTolerance, bool seesDips)
    {
        _seesDips = seesDips;
        _system = system;
        _nodes = method.Nodes;
        _tolerance = relativeTolerance;
        int count = system.GuardCount;
        _mayDip = new bool[count];
        _above = new long[count];
        _size = new double[count];
        _doubt = new double[count];
        _threshold = new double[count];
        _least = new double[count];
        _most = new double[count];
        _x = new double[method.GuardStages.Length + 2];
        _g = new double[method.GuardStages.Length + 2];
    }

    internal int Count => _above.Length;

    /// <summary>Forgets everything, for a new run.</summary>
    internal void Begin()
    {
        Array.Clear(_size);
        Array.Clear(_doubt);
    }

    /// <summary>
    /// The value below which a guard counts as fallen within the step just read: 0 for one that stood above zero and is
    /// below it at the end, less for one that stood at zero, less than a dip that the tolerance cannot tell from a touch
    /// for one that is back above zero at the end; minus infinity for a guard not worth watching.
    /// </summary>
    internal double Threshold(int guard) => _threshold[guard];

    /// <summary>How far from zero a guard must be to stand clearly off it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal double ZeroWidth(int guard) => Math.Max(Math.Max(ZeroFloor, RoundOff * _size[guard]), _doubt[guard]);

    /// <summary>Takes in what is known of an event's place: each guard is in doubt by its change over the bracket.</summary>
    internal void Located(ReadOnlySpan<double> above, ReadOnlySpan<double> below)
    {
        for (int j = 0; j < _doubt.Length; j++)
        {
            double change = 2 * Math.Abs(above[j] - below[j]);
            _doubt[j] = double.IsFinite(change) ? change : 0;
        }
    }

    /// <summary>Widens a guard's zero to hold a value that is only just below it.</summary>
    internal void CountAsZero(int guard, double value) => _doubt[guard] = Math.Max(_doubt[guard], 2 * Math.Abs(value));

    /// <summary>Asks the system which guards may dip: at the beginning and after each event.</summary>
    internal void Restart()
    {
        for (int j = 0; j < _mayDip.Length; j++)
        {
            _mayDip[j] = _seesDips && _system.MayDip(j);
        }
    }

    /// <summary>The first guard clearly below zero at or after <paramref name="from"/>, or -1.</summary>
    internal int FirstBelow(ReadOnlySpan<double> guards, int from)
    {
        for (int j = from; j < guards.Length; j++)
        {
            if (guards[j] < -ZeroWidth(j))
            {
                return j;
            }
        }

        return -1;
    }

    /// <summary>The first guard that is not a number or minus infinity, or -1.</summary>
    internal static int FirstNotFinite(ReadOnlySpan<double> guards)
    {
        for (int j = 0; j < guards.Length; j++)
        {
            if (!(guards[j] > double.NegativeInfinity))
            {
                return j;
            }
        }

        return -1;
    }

    /// <summary>Notes how the guards stand at the start of a step.</summary>
    internal void Stand(ReadOnlySpan<double> guards)
    {
        int width = Vector<double>.Count;
        var everything = new Vector<double>(double.PositiveInfinity);
        int j = 0;
        for (; j + width <= guards.Length; j += width)
        {
            Vector<double> g = new(guards.Slice(j, width));
            Vector<double> now = Vector.Abs(g);
            Vector<double> size = new(_size, j);
            size = Vector.ConditionalSelect(Vector.GreaterThan(now, size) & Vector.LessThan(now, everything), now, size);
            size.CopyTo(_size, j);
            Vector<double> doubt = new(_doubt, j);
            Vector<double> zero = Vector.Max(Vector.Max(new Vector<double>(ZeroFloor), new Vector<double>(RoundOff) * size), doubt);
            Vector<long> above = Vector.GreaterThan(g, zero);
            above.CopyTo(_above, j);
            Vector.ConditionalSelect(above, Vector<double>.Zero, doubt).CopyTo(_doubt, j);
        }

        for (; j < guards.Length; j++)
        {
            double g = guards[j];
            double size = Math.Abs(g);
            if (size > _size[j] && size < double.PositiveInfinity)
            {
                _size[j] = size;
            }

            bool above = g > ZeroWidth(j);
            _above[j] = above ? -1 : 0;
            if (above)
            {
                _doubt[j] = 0;
            }
        }
    }

    /// <summary>Reads the guards of a step that passed the error test and sets the thresholds for the search.</summary>
    internal GuardSight Read(Stepper step)
    {
        ReadOnlySpan<double> end = step.EndGuards;
        if (!FindRanges(step.GuardRows))
        {
            return GuardSight.Clear;
        }

        GuardSight sight = GuardSight.Clear;
        for (int j = 0; j < end.Length; j++)
        {
            double threshold = _above[j] != 0 ? 0 : -ZeroWidth(j);
            if (end[j] >= threshold)
            {
                threshold = _mayDip[j] || _above[j] == 0 ? DipThreshold(j, step) : double.NegativeInfinity;
            }

            _threshold[j] = threshold;
            if (double.IsNaN(threshold) || !(end[j] > double.NegativeInfinity))
            {
                return GuardSight.NotFinite;
            }

            if (threshold > double.NegativeInfinity)
            {
                sight = GuardSight.Suspicious;
            }
        }

        return sight;
    }

    // The depth from which a dip inside the step counts, where the stage values leave one possible; minus infinity where
    // they do not; not a number where a stage value is not finite.
    private double DipThreshold(int guard, Stepper step)
    {
        double least = _least[guard];
        double most = _most[guard];
        if (double.IsNaN(least))
        {
            return double.NaN;
        }

        double range = most - least;
        if (least > range || !(most > double.NegativeInfinity))
        {
            return double.NegativeInfinity;
        }

        int count = CollectStageValues(guard, step);
        return MayFallInside(count, range) ? -(ZeroWidth(guard) + (_tolerance * range)) : double.NegativeInfinity;
    }

    // Smallest and largest finite value of every guard over the step; the smallest is not a number where any value is none or minus infinity.
    // False where every guard stays farther above zero than it moves: nothing can have fallen, whatever lies between.
    private bool FindRanges(ReadOnlySpan<double> rows)
    {
        int guards = Count;
        int width = Vector<double>.Count;
        var nothing = new Vector<double>(double.NegativeInfinity);
        var everything = new Vector<double>(double.PositiveInfinity);
        Vector<long> clear = Vector<long>.AllBitsSet;
        int j = 0;
        for (; j + width <= guards; j += width)
        {
            Vector<double> least = everything;
            Vector<double> most = nothing;
            Vector<long> good = Vector<long>.AllBitsSet;
            for (int at = j; at + width <= rows.Length; at += guards)
            {
                Vector<double> g = new(rows.Slice(at, width));
                good &= Vector.GreaterThan(g, nothing);
                least = Vector.ConditionalSelect(Vector.LessThan(g, least), g, least);
                most = Vector.ConditionalSelect(Vector.GreaterThan(g, most) & Vector.LessThan(g, everything), g, most);
            }

            // What is farther above zero than it moves is above it. An unused slot has no largest finite value: it moves by minus infinity.
            clear &= good & Vector.GreaterThan(least, most - least);
            Vector.ConditionalSelect(good, least, new Vector<double>(double.NaN)).CopyTo(_least, j);
            most.CopyTo(_most, j);
        }

        bool doubtful = !Vector.EqualsAll(clear, Vector<long>.AllBitsSet);
        for (; j < guards; j++)
        {
            double least = double.PositiveInfinity;
            double most = double.NegativeInfinity;
            for (int at = j; at < rows.Length && !double.IsNaN(least); at += guards)
            {
                double g = rows[at];
                least = !(g > double.NegativeInfinity) ? double.NaN : g < least ? g : least;
                most = g > most && g < double.PositiveInfinity ? g : most;
            }

            _least[j] = least;
            _most[j] = most;
            doubtful |= !(least > most - least);
        }

        return doubtful;
    }

    private int CollectStageValues(int guard, Stepper step)
    {
        int count = 0;
        _x[count] = 0;
        _g[count++] = step.StartGuards[guard];
        foreach (int stage in step.GuardStages)
        {
            _x[count] = _nodes[stage];
            _g[count] = step.GuardRows[(count * Count) + guard];
            count++;
        }

        _x[count] = 1;
        _g[count++] = step.EndGuards[guard];
        return count;
    }

    // A stage value below the doubt, or a parabola through three neighbours whose lowest point is.
    private bool MayFallInside(int count, double range)
    {
        for (int i = 1; i < count - 1; i++)
        {
            if (_g[i] < Doubt(_x[i], range))
            {
                return true;
            }

            if (Parabola.Lowest(_x[i - 1], _g[i - 1], _x[i], _g[i], _x[i + 1], _g[i + 1], out double at, out double value)
                && value < Doubt(at, range))
            {
                return true;
            }
        }

        return false;
    }

    private static double Doubt(double theta, double range) => StageDoubt * range * theta * theta * (1 - theta);
}
