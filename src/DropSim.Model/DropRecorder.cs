using DropSim.Integration;

namespace DropSim.Model;

/// <summary>Watches a drop while it is integrated: extremes, events, phases, strikes, rest, and the largest imbalance of the energy books.</summary>
internal sealed class DropRecorder : IRunObserver
{
    /// <summary>Load-leg tension within this fraction of the weight counts as still.</summary>
    private const double StillTension = 0.05;

    /// <summary>Tip speed below this fraction of its largest counts as still.</summary>
    private const double StillTip = 0.01;

    private readonly DropSystem _system;
    private readonly Trajectory? _trajectory;
    private readonly double _weight;
    private readonly double[] _rates;
    private readonly double[] _guards;
    private readonly OpenStrike?[] _open;
    private readonly Spell _slipping;
    private readonly Spell _running = new(StateLayout.LostDevice);
    private readonly Spell _hitch = new(StateLayout.LostHitch);
    private readonly Spell _wraps = new(StateLayout.LostDevice);
    private DropPhase _last;
    private double _initialEnergy;
    private double _startHeight;
    private double _lowest;
    private double _largestImbalance;
    private double _windowTip;
    private double _largestTip;
    private bool _windowStill;

    /// <param name="system">The drop.</param>
    /// <param name="weight">The piece's weight, N.</param>
    /// <param name="trajectory">Receives the curves; null for none.</param>
    /// <param name="watched">Whose extremes are wanted.</param>
    public DropRecorder(DropSystem system, double weight, Trajectory? trajectory, WatchedChannels watched)
    {
        _system = system;
        _weight = weight;
        _trajectory = trajectory;
        Extremes = new ExtremeTracker(system, watched);
        _rates = new double[system.StateCount];
        _guards = new double[system.GuardCount];
        _open = new OpenStrike?[system.Contacts.Count];

        // Without friction a slip costs nothing, however long: its energy would say that nothing had slipped.
        _slipping = new(system.IsFrictionless ? null : StateLayout.LostRiggingPoint);
        _last = system.Phase.Copy();
        Stretches.Add((0, _last));
        system.IsSettled = TakeStill;
    }

    public ExtremeTracker Extremes { get; }

    /// <summary>The phase that held from each time on, s from the start.</summary>
    public List<(double From, DropPhase Phase)> Stretches { get; } = [];

    /// <summary>Events with times from the start.</summary>
    public List<SeenEvent> Events { get; } = [];

    /// <summary>Strikes with times from the start.</summary>
    public List<Strike> Strikes { get; } = [];

    public double FirstTaut { get; private set; } = double.NaN;

    /// <summary>Height of the piece's centre of gravity at the start and at first taut, m.</summary>
    public (double Start, double Taut) Heights { get; private set; } = (double.NaN, double.NaN);

    /// <summary>Largest drop of the piece's centre of gravity, m.</summary>
    public double LargestDrop => _startHeight - _lowest;

    /// <summary>Potential energy at the lowest point reached, J.</summary>
    public double LowestPotential(double weight) => weight * _lowest;

    /// <summary>Time for which rope ran through the device, s.</summary>
    public double RunningTime { get; private set; }

    /// <summary>Time for which the stem's foot was turned beyond its root's straight range, s.</summary>
    public double FootTurnedTime { get; private set; }

    /// <summary>Largest imbalance, J.</summary>
    public double LargestImbalance => _largestImbalance;

    public void OnBegin(double time, ReadOnlySpan<double> state)
    {
        _trajectory?.OnBegin(time, state);
        _startHeight = state[StateLayout.PieceZ];
        _lowest = _startHeight;
        Heights = (state[StateLayout.PieceZ], double.NaN);
        _system.Evaluate(time, state, _rates, _guards);
        Extremes.Restart(time, state, _rates);
        _initialEnergy = Extremes.Now[Channel.Energy];
        _windowStill = true;
    }

    public void OnStep(DenseStep dense)
    {
        _trajectory?.OnStep(dense);
        Extremes.Step(dense);
        _lowest = Math.Min(_lowest, dense.EndState[StateLayout.PieceZ]);
        _largestImbalance = Math.Max(_largestImbalance, Math.Abs(Extremes.Now[Channel.Energy] - _initialEnergy));
        _windowTip = Math.Max(_windowTip, Extremes.Now[Channel.TipSpeed]);
        _largestTip = Math.Max(_largestTip, _windowTip);
        _windowStill &= Math.Abs(Extremes.Now[Channel.LoadLeg] - _weight) < StillTension * _weight;
        RunningTime += _last.Runs ? dense.EndTime - dense.StartTime : 0;
        FootTurnedTime += TurnedTime(dense);
        FeelStrikes(dense);
    }

    public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
    {
        _trajectory?.OnEvent(time, state, guard);
        var phase = _system.Phase.Copy();
        Tell(time, state, guard, _last, phase);
        Stretches.Add((time, phase));
        _last = phase;
        _system.Evaluate(time, state, _rates, _guards);
        Extremes.Restart(time, state, _rates);
    }

    /// <summary>For how much of a step the foot was turned beyond its root's straight range, s; one crossing a step, found by halving.</summary>
    private double TurnedTime(DenseStep dense)
    {
        bool Beyond(ReadOnlySpan<double> y) => _system.FootTurn(y) > RootLaw.StraightTurn;
        var (before, after) = (Beyond(dense.StartState), Beyond(dense.EndState));
        var length = dense.EndTime - dense.StartTime;
        if (before == after)
        {
            return before ? length : 0;
        }

        var (low, high) = (0.0, length);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            dense.Interpolate(dense.StartTime + middle, _rates);
            (low, high) = Beyond(_rates) == before ? (middle, high) : (low, middle);
        }

        return before ? low : length - low;
    }

    /// <summary>A step of some milliseconds halved so often is found to a nanosecond.</summary>
    private const int Halvings = 25;

    /// <summary>Whether everything was still since the last time this was asked.</summary>
    private bool TakeStill(double time)
    {
        var still = _windowStill && _windowTip < StillTip * _largestTip;
        _windowStill = true;
        _windowTip = 0;
        return still;
    }

    private void Tell(double time, ReadOnlySpan<double> state, int guard, DropPhase before, DropPhase after)
    {
        SeenEvent Say(EventKind kind, string detail = "")
        {
            Events.Add(new(time, kind, detail));
            return Events[^1];
        }

        switch (guard)
        {
            case Guard.Release:
                Say(EventKind.HingeBreaks, "the face cut has closed");
                break;
            case Guard.HingeForce:
                Say(EventKind.HingeBreaks, "its strength was exceeded, or the edge would have had to pull");
                break;
            case Guard.Snag:
                Say(EventKind.HandSideSnags);
                break;
            case Guard.WrapAngle:
                Say(EventKind.RopePassesOver);
                break;
            case Guard.HitchSpent:
                Say(EventKind.HitchHasTightened);
                break;
            case Guard.WrapsSpent:
                Say(EventKind.WrapsHaveTightened);
                break;
            case Guard.Instant when after.Wraps != before.Wraps:
                Say(EventKind.WrapsChange, FormattableString.Invariant($"now {after.Wraps:0.##}"));
                break;
            default:
                break;
        }

        if (before.Hand.Part != after.Hand.Part)
        {
            Say(after.Hand.Part == HandPart.Lost ? EventKind.HandLost : before.Hand.Part == HandPart.Light ? EventKind.HandReacts : EventKind.HandChanges, after.Hand.Part switch
            {
                HandPart.Grip or HandPart.Full => "full grip",
                HandPart.Rising => "building up force",
                HandPart.Plan => "following the braking plan",
                _ => "",
            });
        }

        if (before.Pulls != after.Pulls)
        {
            Say(after.Pulls ? EventKind.LoadLegTaut : EventKind.LoadLegSlack);
            if (after.Pulls && double.IsNaN(FirstTaut))
            {
                FirstTaut = time;
                Heights = Heights with { Taut = state[StateLayout.PieceZ] };
            }
        }

        if (before.Runs != after.Runs)
        {
            _running.Turn(after.Runs, Say(after.Runs ? EventKind.DeviceRuns : EventKind.DeviceHolds), state);
        }

        if (before.Network.HitchDraws != after.Network.HitchDraws)
        {
            _hitch.Turn(after.Network.HitchDraws, after.Network.HitchDraws ? Say(EventKind.HitchTightens) : null, state);
        }

        if (before.TightensWraps != after.TightensWraps)
        {
            _wraps.Turn(after.TightensWraps, after.TightensWraps ? Say(EventKind.WrapsTighten) : null, state);
        }

        if (after.Pulls && before.Network.Ring != after.Network.Ring)
        {
            var said = Say(after.Network.Ring switch
            {
                RingState.Out => EventKind.RopeSlipsToPiece,
                RingState.Back => EventKind.RopeSlipsToDevice,
                _ => EventKind.RopeSticks,
            });
            _slipping.Turn(after.Network.Ring != RingState.Stick, said, state);
        }
        else if (before.Pulls && !after.Pulls)
        {
            _slipping.Turn(false, null, state);
        }

        for (var place = 0; place < after.Contacts.Length; place++)
        {
            if (before.Contacts[place] != ContactState.Pressing && after.Contacts[place] == ContactState.Pressing)
            {
                BeginStrike(time, state, place);
            }
            else if (before.Contacts[place] == ContactState.Pressing && after.Contacts[place] != ContactState.Pressing)
            {
                EndStrike(place);
            }
        }
    }

    private void BeginStrike(double time, ReadOnlySpan<double> state, int place)
    {
        Instant at = default;
        _system.Solve(time, state, ref at, []);
        var speed = Math.Max(0, at.PenetrationRate[place]);
        var mass = _system.Contacts.EffectiveMass(place, state, at.Sin, at.Cos);
        var height = _system.Contacts.HeightOf(place, at.Sin, at.Cos, state[StateLayout.PieceZ]);
        _open[place] = new(time, place, height, speed, mass * speed * speed / 2, Extremes.Largest[Channel.ClimberDeflection]);
        Events.Add(new(time, EventKind.Strike, FormattableString.Invariant($"{_system.Contacts.Names[place]}, {height:0.0} m up, {speed:0.0} m/s"))
        {
            Energy = mass * speed * speed / 2,
        });
    }

    private void EndStrike(int place)
    {
        if (_open[place] is { } strike)
        {
            Strikes.Add(new(strike.Time, _system.Contacts.Names[place], strike.Height, strike.Speed, strike.Energy, strike.Impulse, strike.Peak) { FeetBefore = strike.FeetBefore });
            _open[place] = null;
        }
    }

    /// <summary>What is still going on when the run ends.</summary>
    /// <param name="state">The last state.</param>
    public void Finish(ReadOnlySpan<double> state)
    {
        foreach (var spell in (Spell[])[_slipping, _running, _hitch, _wraps])
        {
            spell.Turn(false, null, state);
        }

        for (var place = 0; place < _open.Length; place++)
        {
            EndStrike(place);
        }

        Strikes.Sort((a, b) => a.Time.CompareTo(b.Time));
    }

    private void FeelStrikes(DenseStep dense)
    {
        OpenStrike? open = null;
        foreach (var strike in _open)
        {
            open ??= strike;
        }

        if (open is null)
        {
            return;
        }

        // Where two places press at once the force is the first one's and the other's together.
        var (impulse, peak) = Extremes.ContactOver(dense.EndTime - dense.StartTime);
        open.Impulse += impulse;
        open.Peak = Math.Max(open.Peak, peak);
    }

    private sealed class OpenStrike(double time, int place, double height, double speed, double energy, double feetBefore)
    {
        public double Time { get; } = time;

        public int Place { get; } = place;

        public double Height { get; } = height;

        public double Speed { get; } = speed;

        public double Energy { get; } = energy;

        public double FeetBefore { get; } = feetBefore;

        public double Impulse { get; set; }

        public double Peak { get; set; }
    }
}
