using DropSim.Integration;

namespace DropSim.Model;

/// <content>What an event changes.</content>
internal sealed partial class DropSystem
{
    /// <summary>How long the network is solved anew in every evaluation once its phases chatter, s.</summary>
    private const double PhaselessSpell = 2e-3;

    /// <summary>Less than this counts as no penetration, m.</summary>
    private const double ClearPenetration = 1e-9;

    private readonly List<ScheduledInstant> _schedule = [];
    private double _hingeBreakTime = double.NaN;
    private bool _cueSeen;

    /// <summary>When the hinge broke, s from the start; NaN before.</summary>
    public double HingeBreakTime => _hingeBreakTime;

    /// <summary>Why the system stopped the run; null while it has not.</summary>
    public EndKind? Ended { get; private set; }

    /// <summary>Index of the obstacle that was touched.</summary>
    public int TouchedObstacle { get; private set; } = -1;

    /// <summary>Asked at the settle instants: has everything come to rest?</summary>
    public Func<double, bool>? IsSettled { get; set; }

    private enum Scheduled
    {
        React,
        WrapsChange,
        HandLost,
        GripEarly,
        SettleCheck,
    }

    private readonly record struct ScheduledInstant(double Time, Scheduled What);

    /// <summary>Chooses the first phase; call once before a run.</summary>
    public void Begin(double time, double[] state)
    {
        SetWraps(_input.Device.Wraps);
        _phase.Locked = _input.Catch.Kind == CatchKind.HardStop;
        if (_input.Catch.Kind == CatchKind.Held)
        {
            _phase.Hand = Hand.GripNow(time, 0);
        }

        if (_input.Computation.StopWhenSettled && _n > 0)
        {
            Schedule(time + SettlePeriod, Scheduled.SettleCheck);
        }

        Instant at = default;
        Place(state, ref at);
        _phase.WrapSign = 1;
        Rope(time, state, ref at);
        if (at.LegAngle > Math.PI)
        {
            _phase.WrapSign = -1;
        }

        Resolve(time, state, null);
    }

    /// <summary>One period of the first mode, s: the window over which rest is judged.</summary>
    public double SettlePeriod => _n > 0 ? 2 * Math.PI / Math.Sqrt(_modes[0].FrequencySquared) : 1;

    /// <inheritdoc/>
    public EventResponse HandleEvent(double time, Span<double> state, int guard)
    {
        _solved.Forget();
        NetworkBranch? avoid = null;
        switch (guard)
        {
            case Guard.LoadLeg or Guard.GroundLeg or Guard.SlipOut or Guard.SlipBack or Guard.Hitch or Guard.Device:
                avoid = _phase.Network;
                break;
            case Guard.WrapsOrHand:
                break;
            case Guard.HitchSpent:
                _phase.HitchSpent = true;
                break;
            case Guard.WrapsSpent:
                _phase.WrapsSpent = true;
                break;
            case Guard.WrapAngle:
                _phase.WrapSign = -_phase.WrapSign;
                break;
            case Guard.Bearing:
                _phase.BearingTurns = !_phase.BearingTurns;
                break;
            case Guard.Hand:
                _phase.Hand = _hand.Resolve(_phase.Hand, time, state[StateLayout.RopeRun]);
                break;
            case Guard.Instant:
                if (Happen(time, state))
                {
                    return Stop(EndKind.Settled);
                }

                break;
            case Guard.Snag:
                _phase.Locked = true;
                break;
            case Guard.Release or Guard.HingeForce:
                ReleaseHinge(time, state);
                break;
            case Guard.RopeEnd:
                return Stop(EndKind.RopeEnd);
            case Guard.Ground:
                return Stop(EndKind.Ground);
            case Guard.Obstacle:
                var (sin, cos) = Elementary.SinCos(state[StateLayout.Lean]);
                ObstacleRoom(state, sin, cos, out var touched);
                TouchedObstacle = touched;
                return Stop(EndKind.Obstacle);
            case Guard.HitchAtRiggingPoint:
                return Stop(EndKind.HitchAtRiggingPoint);
            case Guard.RopeBreaks:
                return Stop(EndKind.RopeBroke);
            case Guard.Phaseless:
                // The branch that held to the end of the spell, not the one before it, is what the next one follows.
                _phase.Network = BranchNow(time, state);
                _phase.Phaseless = false;
                _phase.PhaselessUntil = double.NegativeInfinity;
                break;
            default:
                ChangeContact(time, state, guard - Guard.FirstContact);
                return EventResponse.Continue;
        }

        if (!_phase.Phaseless)
        {
            Resolve(time, state, avoid);
        }

        return EventResponse.Continue;
    }

    /// <inheritdoc/>
    public bool TryPhaseless(double time, Span<double> state)
    {
        _solved.Forget();
        if (_phase.Phaseless)
        {
            return false;
        }

        var before = _phase.Network;
        _phase.Phaseless = true;
        _phase.PhaselessUntil = time + PhaselessSpell;
        Instant at = default;
        Place(state, ref at);
        Rope(time, state, ref at);
        BookJump(state, ref at, before, at.Branch);
        return true;
    }

    private void SetWraps(double wraps)
    {
        _phase.Wraps = wraps;
        _phase.DeviceRatio = Elementary.Exp(2 * Math.PI * wraps * _input.Device.Friction);
    }

    private EventResponse Stop(EndKind kind)
    {
        Ended = kind;
        return EventResponse.Stop;
    }

    private void ReleaseHinge(double time, ReadOnlySpan<double> state)
    {
        if (_input.Start.Kind == StartKind.PushedOff)
        {
            // The flat of the butt lies on the edge at this instant: pressed on where it was, clear where the edge would have had to pull.
            Instant at = default;
            Solve(time, state, ref at, []);
            _phase.Contacts[_contacts.Butt] = _contacts.PushOn(_contacts.Butt, at.HingeX, at.HingeZ, at.Sin, at.Cos) > 0
                ? ContactState.Pressing : ContactState.Armed;
        }

        _phase.Hinged = false;
        _hingeBreakTime = time;
        if (_input.Catch.Cue == Cue.HingeBreaks)
        {
            CueSeen(time);
        }

        ScheduleAfterBreak(_input.Catch.WrapsChangeTime, Scheduled.WrapsChange);
        ScheduleAfterBreak(_input.Catch.HandLostTime, Scheduled.HandLost);
        ScheduleAfterBreak(_input.Catch.GripEarlyTime, Scheduled.GripEarly);
    }

    private void ScheduleAfterBreak(double? after, Scheduled what)
    {
        if (after is { } seconds)
        {
            Schedule(_hingeBreakTime + Math.Max(0, seconds), what);
        }
    }

    private void CueSeen(double time)
    {
        if (_cueSeen || _input.Catch.Kind != CatchKind.LetRun)
        {
            return;
        }

        _cueSeen = true;
        Schedule(time + _input.Catch.ReactionTime, Scheduled.React);
    }

    private void Schedule(double time, Scheduled what)
    {
        _schedule.Add(new(time, what));
        _phase.NextInstant = Math.Min(_phase.NextInstant, time);
    }

    /// <summary>What was planned for this instant happens; true where the drop has come to rest.</summary>
    private bool Happen(double time, Span<double> state)
    {
        var settled = false;
        var run = state[StateLayout.RopeRun];
        var due = _schedule.Where(s => s.Time <= time + 1e-9).OrderBy(s => s.Time).ThenBy(s => s.What).ToArray();
        _schedule.RemoveAll(s => s.Time <= time + 1e-9);
        foreach (var item in due)
        {
            switch (item.What)
            {
                case Scheduled.React:
                    if (_phase.Hand.Part == HandPart.Light)
                    {
                        _phase.Hand = _hand.React(time, run);
                    }

                    break;
                case Scheduled.WrapsChange:
                    SetWraps(_input.Catch.WrapsAfterChange);
                    break;
                case Scheduled.HandLost:
                    _phase.Hand = new(HandPart.Lost, 0, time, run);
                    break;
                case Scheduled.GripEarly:
                    if (_phase.Hand.Part != HandPart.Lost)
                    {
                        _phase.Hand = Hand.GripNow(time, run);
                    }

                    break;
                default:
                    settled = !_phase.Hinged && IsSettled?.Invoke(time) == true;
                    Schedule(time + SettlePeriod, Scheduled.SettleCheck);
                    break;
            }
        }

        _phase.NextInstant = _schedule.Count == 0 ? double.PositiveInfinity : _schedule.Min(s => s.Time);
        return settled;
    }

    private void ChangeContact(double time, Span<double> state, int place)
    {
        Instant at = default;
        Solve(time, state, ref at, []);
        var before = _phase.Contacts[place];
        _phase.Contacts[place] = before switch
        {
            ContactState.Disarmed => ContactState.Armed,
            ContactState.Armed => Strikes(state, ref at, place) ? ContactState.Pressing : ContactState.Disarmed,

            // Pressing ends at no penetration (clear again) or where damping would pull (not clear: it must get clear first).
            _ => at.Penetration[place] < ClearPenetration ? ContactState.Armed : ContactState.Disarmed,
        };
        if (before == ContactState.Pressing)
        {
            // What is still stored where the force ends before the touch does is lost in the wood.
            state[StateLayout.LostContact] += _contacts.StoredEnergy(at.Penetration[place]);
        }
    }

    /// <summary>
    /// An armed place fired: did it meet what it can meet (true), or leave the part of it that it can meet (false)? Whichever is nearer
    /// to happening has happened: an event is found from its near side, where neither has yet.
    /// </summary>
    private bool Strikes(ReadOnlySpan<double> state, ref Instant at, int place)
    {
        var room = place < _body.HardCorners.Length
            ? _input.Spar.Height - _contacts.HeightOf(place, at.Sin, at.Cos, state[StateLayout.PieceZ])
            : _contacts.RoomOnFace(place, state, _q, at.Sin, at.Cos);
        return -at.Penetration[place] <= room;
    }
}
