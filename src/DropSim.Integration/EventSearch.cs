namespace DropSim.Integration;

/// <summary>
/// Finds the earliest fall of a guard through zero within a step, on the continuous solution.
/// <para>
/// First a walk over a few samples for guards that may have dipped inside or that stood at zero at the start, refining
/// each low spot; it ends with a time at which some guard has fallen and an earlier one at which none has. Then a
/// bracketing search for one fallen guard at a time, until nothing else is below zero at the bracket's upper side.
/// </para>
/// </summary>
internal sealed class EventSearch
{
    // Where a suspicious step is sampled: eighths, and nearer to its ends, beyond which there is no neighbour to see a low
    // spot by. A guard dips at most once or twice within a step that the error test passes.
    private static readonly double[] _fractions = [0, 0.03125, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 0.96875, 1];

    // Steps of the search for the lowest point of a dip; each at least gains a digit where the guard is smooth.
    private const int DipSteps = 12;

    // An event's time is found to this, s (or to the digits of the time where they are coarser).
    private const double TimeTolerance = 1e-12;

    // How a guard that stood at zero left it is looked for down to this, s, before it counts as falling from the start.
    private const double NearestLook = 1e-11;

    private readonly Evaluator _evaluator;
    private readonly GuardWatch _watch;
    private readonly Stepper _stepper;
    private readonly SolverStep _step;
    private readonly double[] _state;
    private readonly double[] _times;
    private readonly double[][] _samples;
    private readonly double[][] _work;
    private double[] _below;
    private double[] _above;

    internal EventSearch(Evaluator evaluator, GuardWatch watch, Stepper stepper, SolverStep step)
    {
        _evaluator = evaluator;
        _watch = watch;
        _stepper = stepper;
        _step = step;
        _state = new double[evaluator.StateCount];
        _times = new double[_fractions.Length];
        _samples = Rows(_fractions.Length, evaluator.GuardCount);
        _work = Rows(3, evaluator.GuardCount);
        _below = new double[evaluator.GuardCount];
        _above = new double[evaluator.GuardCount];
    }

    /// <summary>The guard that fell first, -1 where none did.</summary>
    internal int Guard { get; private set; }

    /// <summary>When, s: at the lower side of the root. The step's start where the guard stood at zero and fell at once.</summary>
    internal double Time { get; private set; }

    /// <summary>Guards just before <see cref="Time"/>.</summary>
    internal ReadOnlySpan<double> Above => _above;

    /// <summary>Whether a guard was found not to be a number.</summary>
    internal bool NotFinite { get; private set; }

    /// <summary>Searches the step that the watch has just read and found suspicious.</summary>
    internal void Run()
    {
        Guard = -1;
        NotFinite = false;
        _times[0] = _stepper.Time;
        _stepper.StartGuards.CopyTo(_samples[0]);
        if (OnlyPlainFalls())
        {
            _stepper.EndGuards.CopyTo(_below);
            Locate(_times[0], _samples[0], _stepper.EndTime);
            return;
        }

        Walk();
    }

    private static double[][] Rows(int count, int length)
    {
        double[][] rows = new double[count][];
        for (int i = 0; i < count; i++)
        {
            rows[i] = new double[length];
        }

        return rows;
    }

    // Every guard worth watching stood above zero and is below it at the end: no samples are needed.
    private bool OnlyPlainFalls()
    {
        ReadOnlySpan<double> end = _stepper.EndGuards;
        for (int j = 0; j < end.Length; j++)
        {
            double threshold = _watch.Threshold(j);
            if (threshold > double.NegativeInfinity && !(threshold == 0 && end[j] < 0))
            {
                return false;
            }
        }

        return true;
    }

    private void Walk()
    {
        int last = _fractions.Length - 1;
        for (int m = 1; m <= last && !NotFinite; m++)
        {
            _times[m] = m == last ? _stepper.EndTime : _stepper.Time + (_stepper.Width * _fractions[m]);
            if (m == last)
            {
                _stepper.EndGuards.CopyTo(_samples[m]);
            }
            else
            {
                Look(_times[m], _samples[m]);
            }

            int from = m - 1;
            double to = _times[m];
            bool found = m >= 2 && FindDip(m, ref from, ref to);
            if (!found && FirstFallen(_samples[m]) >= 0)
            {
                _samples[m].CopyTo(_below, 0);
                found = true;
            }

            if (found)
            {
                Locate(_times[from], _samples[from], to);
                return;
            }
        }
    }

    private void Look(double time, double[] guards)
    {
        _step.Inside(time, _state);
        _evaluator.Evaluate(time, _state, [], guards);
        NotFinite |= GuardWatch.FirstNotFinite(guards) >= 0;
    }

    private int FirstFallen(ReadOnlySpan<double> guards)
    {
        for (int j = 0; j < guards.Length; j++)
        {
            if (guards[j] < _watch.Threshold(j))
            {
                return j;
            }
        }

        return -1;
    }

    // Looks for a dip between samples m-2 and m of each watched guard; on success _below holds the guards at its time.
    private bool FindDip(int m, ref int from, ref double to)
    {
        double lowest = to;
        bool found = false;
        for (int j = 0; j < _watch.Count; j++)
        {
            if (_watch.Threshold(j) == double.NegativeInfinity)
            {
                continue;
            }

            if (HasLowSpot(j, m) && DescendInto(j, m, out double time) && (!found || time < lowest))
            {
                found = true;
                lowest = time;
                _work[0].CopyTo(_below, 0);
            }
        }

        if (found)
        {
            to = lowest;
            from = lowest > _times[m - 1] ? m - 1 : m - 2;
        }

        return found;
    }

    // The middle one of three samples is the lowest; or, at the step's ends, the parabola through them dips beyond the outer one.
    private bool HasLowSpot(int guard, int m)
    {
        double g0 = _samples[m - 2][guard];
        double g1 = _samples[m - 1][guard];
        double g2 = _samples[m][guard];
        bool middle = g1 <= g0 && g1 <= g2;
        bool edge = m == 2 || m == _fractions.Length - 1;
        return middle || (edge && Parabola.Lowest(_times[m - 2], g0, _times[m - 1], g1, _times[m], g2, out _, out _));
    }

    // Narrows three points around a low spot by parabolas; true, with the guards in _work[0], once the guard is found fallen.
    private bool DescendInto(int guard, int m, out double time)
    {
        double x0 = _times[m - 2];
        double x1 = _times[m - 1];
        double x2 = _times[m];
        double g0 = _samples[m - 2][guard];
        double g1 = _samples[m - 1][guard];
        double g2 = _samples[m][guard];
        double threshold = _watch.Threshold(guard);
        time = x1;
        for (int i = 0; i < DipSteps && x2 - x0 > TimeTolerance; i++)
        {
            if (!Parabola.Lowest(x0, g0, x1, g1, x2, g2, out double at, out double value) || Math.Abs(at - x1) < 1e-3 * (x2 - x0))
            {
                // Where the parabola says nothing new, look into the wider side.
                at = x2 - x1 > x1 - x0 ? x1 + (0.25 * (x2 - x1)) : x1 - (0.25 * (x1 - x0));
                value = g1;
            }

            Look(at, _work[0]);
            double g = _work[0][guard];
            time = at;
            if (NotFinite || g < threshold)
            {
                return !NotFinite;
            }

            // Low spots that stay well above zero are not followed to the bottom.
            double least = Math.Min(g, g1);
            if (Math.Abs(g - value) < 0.1 * least && Math.Max(g, g1) - least < 0.1 * least)
            {
                return false;
            }

            Parabola.Narrow(at, g, ref x0, ref g0, ref x1, ref g1, ref x2, ref g2);
        }

        return false;
    }

    // From a time at which no watched guard has fallen to one at which some have (their guards in _below).
    private void Locate(double from, double[] fromGuards, double to)
    {
        for (int pass = 0; pass <= _watch.Count; pass++)
        {
            int guard = FirstFallen(_below);
            double start = from;
            double startValue = fromGuards[guard];
            if (startValue <= _watch.ZeroWidth(guard) && !FindRise(guard, from, to, out start, out startValue))
            {
                // It stood at zero and fell from there.
                fromGuards.CopyTo(_above, 0);
                Settle(guard, from);
                return;
            }

            if (NotFinite)
            {
                return;
            }

            to = Close(guard, start, startValue, to, out double above);
            if (NotFinite || FirstFallen(_above) < 0)
            {
                Settle(NotFinite ? -1 : FirstAtOrBelowZero(), to);
                return;
            }

            // Another guard had already fallen before this one did.
            (_above, _below) = (_below, _above);
            to = above;
        }
    }

    private int FirstAtOrBelowZero()
    {
        for (int j = 0; j < _below.Length; j++)
        {
            if (_watch.Threshold(j) > double.NegativeInfinity && _below[j] <= 0 && _above[j] > _below[j])
            {
                return j;
            }
        }

        return FirstFallen(_below);
    }

    private void Settle(int guard, double time)
    {
        Guard = guard;
        Time = time;
    }

    // A guard that stood at zero and is below it later may have risen first: looks nearer and nearer to where it stood.
    private bool FindRise(int guard, double from, double to, out double time, out double value)
    {
        for (double ahead = 0.5 * (to - from); ahead > NearestLook && !NotFinite; ahead *= 0.5)
        {
            time = from + ahead;
            Look(time, _work[0]);
            value = _work[0][guard];
            if (value > _watch.ZeroWidth(guard))
            {
                return true;
            }
        }

        time = from;
        value = 0;
        return NotFinite;
    }

    // Closes the bracket around one guard's root; the guards at its two ends are left in _above and _below.
    private double Close(int guard, double from, double fromValue, double to, out double above)
    {
        double tolerance = Math.Max(TimeTolerance, 4 * Math.BitIncrement(Math.Abs(to)) - (4 * Math.Abs(to)));
        var bracket = new RootBracket(from, fromValue, to, _below[guard], tolerance);
        bool aboveSeen = false;
        while (!bracket.IsClosed && !NotFinite)
        {
            double next = bracket.Next();
            double[] row = _work[1];
            Look(next, row);
            bracket.Add(next, row[guard]);
            if (row[guard] > 0)
            {
                (_above, _work[1]) = (row, _above);
                aboveSeen = true;
            }
            else
            {
                (_below, _work[1]) = (row, _below);
            }
        }

        above = bracket.Above;
        if (!aboveSeen)
        {
            Look(above, _above);
        }

        return bracket.Below;
    }
}
