namespace DropSim.Integration;

/// <summary>
/// Integrates a <see cref="IHybridSystem"/> from event to event. Owns all its work arrays, may be used for any number of
/// runs one after another, allocates nothing while running, and gives the same bits for the same system and options.
/// Not safe for use from several threads at once; give each its own.
/// </summary>
public sealed class Integrator
{
    // How soon after a restart a guard just below zero is looked at again, and within which time it must be back at
    // zero to count as having been at zero, s.
    private const double SoonAfter = 1e-8;
    private const double BackWithin = 1e-10;

    private readonly IHybridSystem _system;
    private readonly IntegrationOptions _options;
    private readonly Evaluator _evaluator;
    private readonly Stepper _stepper;
    private readonly StepControl _control;
    private readonly SolverStep _step;
    private readonly GuardWatch _watch;
    private readonly EventSearch _search;
    private readonly ZeroTimeCounter _instant = new();
    private readonly double[] _cutGuards;

    private double _endTime;
    private IRunObserver? _observer;
    private int _accepted;
    private int _rejected;
    private int _tried;
    private int _events;
    private int _spells;
    private int _stiff;
    private int _guard;
    private int _badGuard;
    private int _component;
    private StopKind? _stop;
    private bool _sawNotFinite;

    /// <summary>Prepares to integrate a system.</summary>
    /// <param name="system">The system; its counts must not change later.</param>
    /// <param name="options">Tolerance, method and limits.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option is outside its range.</exception>
    public Integrator(IHybridSystem system, IntegrationOptions options)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(options.Method, nameof(options));
        ThrowUnless(options.RelativeTolerance is >= 1e-13 and <= 1e-2, nameof(options.RelativeTolerance), options.RelativeTolerance);
        ThrowUnless(options.LargestStep is > 0 and < double.PositiveInfinity, nameof(options.LargestStep), options.LargestStep);
        ThrowUnless(options.InitialStep is >= 0 and < double.PositiveInfinity, nameof(options.InitialStep), options.InitialStep);
        ThrowUnless(options.StepBudget > 0, nameof(options.StepBudget), options.StepBudget);
        _system = system;
        _options = options;
        _evaluator = new Evaluator(system);
        _stepper = new Stepper(_evaluator, options.Method, options.RelativeTolerance, options.SeesDips);
        _control = new StepControl(options.LargestStep, options.Method.Table.ErrorOrder);
        _step = new SolverStep(_stepper, _evaluator.StateCount);
        _watch = new GuardWatch(system, options.Method, options.RelativeTolerance, options.SeesDips);
        _search = new EventSearch(_evaluator, _watch, _stepper, _step);
        _cutGuards = new double[_evaluator.GuardCount];
    }

    /// <summary>Integrates from one time to another.</summary>
    /// <param name="startTime">Start, s.</param>
    /// <param name="endTime">End, s, not before the start.</param>
    /// <param name="state">In: the initial state. Out: the state at the time at which the run stopped.</param>
    /// <param name="observer">Sees every step and event, or null.</param>
    /// <param name="cancellation">Asked before every step.</param>
    /// <returns>Why and when the run stopped, with counts. A run that fails is a result, not an exception.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A time is not finite, the end lies before the start, or the state has the wrong length.</exception>
    public RunOutcome Run(
        double startTime, double endTime, Span<double> state, IRunObserver? observer = null, CancellationToken cancellation = default)
    {
        ThrowUnless(double.IsFinite(startTime), nameof(startTime), startTime);
        ThrowUnless(double.IsFinite(endTime) && endTime >= startTime, nameof(endTime), endTime);
        ThrowUnless(state.Length == _evaluator.StateCount, nameof(state), state.Length);

        Begin(endTime, observer);
        state.CopyTo(_stepper.StartState);
        observer?.OnBegin(startTime, state);
        Restart(startTime);
        if (_stop is null && endTime > startTime)
        {
            _control.Start(_options.InitialStep > 0 ? _options.InitialStep : _stepper.GuessStep(_options.LargestStep));
        }

        while (_stop is null)
        {
            Advance(cancellation);
        }

        _observer = null;
        _stepper.StartState.CopyTo(state);
        var statistics = new RunStatistics(_accepted, _rejected, _evaluator.Count, _step.Builds, _events, _spells, _stiff);
        int guard = _stop is StopKind.StoppedBySystem or StopKind.Chatter ? _guard : _badGuard;
        return new RunOutcome(_stop.Value, _stepper.Time, guard, _component, statistics);
    }

    private static void ThrowUnless<T>(bool valid, string name, T value)
    {
        if (!valid)
        {
            throw new ArgumentOutOfRangeException(name, value, "The value is outside its range.");
        }
    }

    private void Begin(double endTime, IRunObserver? observer)
    {
        _endTime = endTime;
        _observer = observer;
        _accepted = 0;
        _rejected = 0;
        _tried = 0;
        _events = 0;
        _spells = 0;
        _stiff = 0;
        _guard = -1;
        _badGuard = -1;
        _component = -1;
        _stop = null;
        _sawNotFinite = false;
        _evaluator.Reset();
        _step.ResetCount();
        _watch.Begin();
        _instant.Begin();
    }

    // One step tried, and what follows from it.
    private void Advance(CancellationToken cancellation)
    {
        if (_stepper.Time >= _endTime)
        {
            _stop = StopKind.EndTime;
        }
        else if (cancellation.IsCancellationRequested)
        {
            _stop = StopKind.Cancelled;
        }
        else if (_tried >= _options.StepBudget)
        {
            _stop = StopKind.StepBudgetSpent;
        }
        else
        {
            _tried++;
            double error = _stepper.Try(PlannedEnd());
            if (!double.IsFinite(error))
            {
                RejectNotFinite();
            }
            else if (error > 1)
            {
                _rejected++;
                _control.Rejected(_stepper.Width, error);
                StopIfTooSmall(StopKind.StepTooSmall);
            }
            else
            {
                Pass(error);
            }
        }
    }

    // The end of the next step: the run's end exactly where that is near, and never a sliver before it.
    private double PlannedEnd()
    {
        double remaining = _endTime - _stepper.Time;
        double step = _control.Step;
        if (step >= 0.999 * remaining)
        {
            return _endTime;
        }

        double end = _stepper.Time + (step > 0.5 * remaining ? 0.5 * remaining : step);
        return end > _stepper.Time ? end : Math.Min(Math.BitIncrement(_stepper.Time), _endTime);
    }

    // A step that passed the error test: guards next.
    private void Pass(double error)
    {
        if (!_stepper.CompleteEnd())
        {
            RejectNotFinite();
            return;
        }

        bool stiff = _stepper.SeemsStiff();
        GuardSight sight = _watch.Read(_stepper);
        _step.Load();
        if (sight == GuardSight.Suspicious)
        {
            _search.Run();
            if (_search.NotFinite)
            {
                RejectNotFinite();
                return;
            }

            if (_search.Guard >= 0)
            {
                TakeCut();
                return;
            }
        }
        else if (sight == GuardSight.NotFinite)
        {
            RejectNotFinite();
            return;
        }

        _accepted++;
        _stiff += stiff ? 1 : 0;
        _sawNotFinite = false;
        _observer?.OnStep(_step);
        _control.Accepted(_stepper.Width, error);
        _stepper.Advance();
        _watch.Stand(_stepper.StartGuards);
    }

    // A step that ends at an event, or none where a guard that stood at zero falls from the start.
    private void TakeCut()
    {
        double time = _search.Time;
        int guard = _search.Guard;
        double width = _stepper.Width;
        if (time > _stepper.Time)
        {
            _step.Cut(time, _evaluator, _cutGuards);
            _watch.Located(_search.Above, _cutGuards);
            _accepted++;
            _sawNotFinite = false;
            _observer?.OnStep(_step);
            _step.EndState.CopyTo(_stepper.StartState);
        }

        _control.Event(width);
        if (Handle(time, guard))
        {
            Restart(time);
        }
        else
        {
            _stepper.StopAt(time);
        }
    }

    private bool Handle(double time, int guard)
    {
        _events++;
        _guard = guard;
        Span<double> state = _stepper.StartState;
        EventResponse response = _system.HandleEvent(time, state, guard);
        if (response == EventResponse.Stop)
        {
            _stop = StopKind.StoppedBySystem;
        }
        else if (_instant.Count(time))
        {
            BeginSpell(time, state);
        }

        _observer?.OnEvent(time, state, guard);
        return _stop is null;
    }

    private void BeginSpell(double time, Span<double> state)
    {
        if (!_instant.BeginSpell())
        {
            _stop = StopKind.Chatter;
            return;
        }

        _spells++;
        if (!_system.TryPhaseless(time, state))
        {
            _stop = StopKind.Chatter;
        }
    }

    // Evaluates afresh; guards that are clearly below zero fire at once, one after another.
    private void Restart(double time)
    {
        while (true)
        {
            _stepper.Restart(time);
            _component = _stepper.NotFiniteAtStart();
            _badGuard = _component < 0 ? GuardWatch.FirstNotFinite(_stepper.StartGuards) : -1;
            if (_component >= 0 || _badGuard >= 0)
            {
                _stop = StopKind.NotFinite;
                return;
            }

            _watch.Restart();
            int guard = FirstReallyBelow(time);
            if (guard < 0)
            {
                _watch.Stand(_stepper.StartGuards);
                return;
            }

            if (!Handle(time, guard))
            {
                return;
            }
        }
    }

    // A guard below zero that is back at zero almost at once was only rounded below it.
    private int FirstReallyBelow(double time)
    {
        ReadOnlySpan<double> guards = _stepper.StartGuards;
        int guard = _watch.FirstBelow(guards, 0);
        if (guard < 0)
        {
            return -1;
        }

        double soon = Math.Max(SoonAfter, 1e6 * (Math.BitIncrement(Math.Abs(time)) - Math.Abs(time)));
        ReadOnlySpan<double> later = _stepper.GuardsSoonAfterStart(soon);
        while (guard >= 0)
        {
            double rise = (later[guard] - guards[guard]) * (BackWithin / soon);
            if (!(rise >= -guards[guard]))
            {
                return guard;
            }

            _watch.CountAsZero(guard, guards[guard]);
            guard = _watch.FirstBelow(guards, guard + 1);
        }

        return -1;
    }

    private void RejectNotFinite()
    {
        _rejected++;
        _sawNotFinite = true;
        _control.NotFinite(_stepper.Width);
        StopIfTooSmall(StopKind.NotFinite);
    }

    private void StopIfTooSmall(StopKind kind)
    {
        double time = Math.Max(Math.Abs(_stepper.Time), Math.Abs(_endTime));
        if (_control.Step > 4 * (Math.BitIncrement(time) - time))
        {
            return;
        }

        _stop = _sawNotFinite ? StopKind.NotFinite : kind;
        if (_stop == StopKind.NotFinite)
        {
            _component = _stepper.NotFiniteInStep();
            _badGuard = _component < 0 ? _stepper.NotFiniteGuard() : -1;
        }
    }
}
