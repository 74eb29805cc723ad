using DropSim.Integration;
using Mi = DropSim.Model.MeasureIds;

namespace DropSim.Model;

/// <summary>Turns an integrated drop into what people read.</summary>
internal sealed partial class RunSummary
{
    /// <summary>An end at more than this speed cuts the drop short: what would have come is not known, m/s.</summary>
    private const double CutShortSpeed = 1;

    /// <summary>Specific heat of polyester or nylon, J/(kg K), from memory.</summary>
    private const double RopeHeatCapacity = 1200;

    /// <summary>Conductivity times density times specific heat of steel, W2 s/(m4 K2), from memory: 50 x 7850 x 490.</summary>
    private const double SteelEffusivitySquared = 50.0 * 7850 * 490;

    private readonly DropInput _input;
    private readonly ModalSpar _spar;
    private readonly DropSystem _system;
    private readonly DropRecorder _recorder;
    private readonly RunOutcome _outcome;
    private readonly double[] _state;
    private readonly Trajectory? _trajectory;
    private readonly double _weight;
    private readonly double _zero;
    private readonly List<Measure> _measures = [];
    private readonly List<Remark> _remarks = [];
    private double _buckling;
    private RunEnd _end = new(EndKind.Failed, 0, 0, false, "");

    public RunSummary(
        DropInput input, ModalSpar spar, DropSystem system, DropRecorder recorder, RunOutcome outcome, double[] state, Trajectory? trajectory)
    {
        _input = input;
        _spar = spar;
        _system = system;
        _recorder = recorder;
        _outcome = outcome;
        _state = state;
        _trajectory = trajectory;
        _weight = input.Piece.Mass * input.Computation.Gravity;
        _zero = double.IsNaN(system.HingeBreakTime) ? 0 : system.HingeBreakTime;
    }

    public DropRun Compose(bool pathMeasures, WatchedChannels watched)
    {
        _end = End();
        var fallen = Math.Max(_weight * _recorder.LargestDrop, double.Epsilon);
        DropTraces? traces = null;
        if (_trajectory is not null)
        {
            var start = new double[_system.StateCount];
            _trajectory.At(_trajectory.StartTime, start);
            _system.Phase = _recorder.Stretches[0].Phase;
            traces = new DropTraces(
                _system, _input, _spar, _trajectory, _recorder.Stretches, _zero, InitialEnergy(start),
                (start[StateLayout.PieceZ] - _recorder.LargestDrop) * _weight, fallen);
        }

        Measures(pathMeasures ? traces : null);
        Withhold(watched);
        Warn(fallen);
        return new DropRun
        {
            Input = _input,
            End = _end,
            HingeBreakTime = _system.HingeBreakTime,
            Events = Events(),
            Phases = Phases(),
            Measures = _measures,
            Strikes = [.. _recorder.Strikes.Select(s => s with { Time = s.Time - _zero })],
            Ledger = Ledger(fallen),
            Statistics = _outcome.Statistics,
            Remarks = _remarks,
            Traces = traces,
        };
    }

    private double InitialEnergy(double[] start)
    {
        Instant at = default;
        _system.Solve(0, start, ref at, []);
        var (potential, kinetic, rope, spar, contact) = _system.Energies(start, ref at);
        return potential + kinetic + rope + spar + contact;
    }

    /// <summary>As everywhere a speed is shown: more digits than two are not known.</summary>

    private RunEnd End()
    {
        var time = _outcome.Time - _zero;
        var y = _state;
        var speed = double.Hypot(y[StateLayout.PieceVx], y[StateLayout.PieceVz]);
        if (_outcome.Stop == StopKind.EndTime)
        {
            // Before the load leg has come taut, while it is slack again or while rope still runs, the drop is not over: the worst may be
            // yet to come.
            var last = _recorder.Stretches[^1].Phase;
            var unfinished = NeverCaught || last.Runs || !last.Pulls;
            return new(EndKind.EndTime, time, speed, unfinished, FormattableString.Invariant($"still moving when the computation ended after {_outcome.Time:0.#} s"));
        }

        if (_outcome.Stop != StopKind.StoppedBySystem || _system.Ended is not { } kind)
        {
            return new(EndKind.Failed, time, speed, true, FormattableString.Invariant(
                $"the computation stopped at {_outcome.Time:0.####} s ({_outcome.Stop}, guard {_outcome.Guard}, state {_outcome.Component}, phase: {PhaseNames.Detail(_system.Phase)})"));
        }

        var where = new PlanePoint(_state[StateLayout.PieceX], _state[StateLayout.PieceZ]);
        if (kind is EndKind.Ground or EndKind.Obstacle)
        {
            (where, speed) = Touch(kind);
        }

        var cut = kind != EndKind.Settled && (speed > CutShortSpeed || NeverCaught);
        var what = kind switch
        {
            EndKind.Ground => "the piece touches the ground at",
            EndKind.Obstacle => $"the piece touches {_input.Site.Obstacles[_system.TouchedObstacle].Name} at",
            EndKind.RopeEnd => "the end of the rope passes the device, the piece at",
            EndKind.RopeBroke => "the rope's breaking strength is exceeded, the piece at",
            _ => null,
        };
        return new(kind, time, speed, cut, what is not null ? $"{what} {new Amount(speed, "m/s")}" : kind == EndKind.Settled ? "the piece hangs still" : "the hitch is drawn up to the rigging point")
        {
            BeforeSpeed = what,
            Where = where,
            Obstacle = kind == EndKind.Obstacle ? new(_system.TouchedObstacle, _input.Site.Obstacles[_system.TouchedObstacle].Name) : null,
        };
    }

    /// <summary>True where the run was over before the rope came to bear: however slow its end, a force of zero is then no result.</summary>
    private bool NeverCaught => double.IsNaN(_system.HingeBreakTime) || double.IsNaN(_recorder.FirstTaut);

    /// <summary>The point of the piece that touches, and how fast it moves.</summary>
    private (PlanePoint Point, double Speed) Touch(EndKind kind)
    {
        var y = _state;
        var (sin, cos) = Elementary.SinCos(y[StateLayout.Lean]);
        var best = double.PositiveInfinity;
        (PlanePoint Point, double Speed) touch = default;
        foreach (var p in _system.Body.Outline)
        {
            var along = (p.Xi * sin) + (p.Eta * cos);
            var across = (p.Xi * cos) - (p.Eta * sin);
            var x = y[StateLayout.PieceX] + along;
            var z = y[StateLayout.PieceZ] + across;
            var distance = z;
            if (kind == EndKind.Obstacle)
            {
                var o = _input.Site.Obstacles[_system.TouchedObstacle];
                distance = double.Hypot(Math.Max(0, Math.Max(o.XFrom - x, x - o.XTo)), Math.Max(0, Math.Max(o.ZFrom - z, z - o.ZTo)));
            }

            if (distance < best)
            {
                best = distance;
                touch = (new(x, z), double.Hypot(y[StateLayout.PieceVx] + (y[StateLayout.LeanRate] * across), y[StateLayout.PieceVz] - (y[StateLayout.LeanRate] * along)));
            }
        }

        return touch;
    }

    private void Measures(DropTraces? traces)
    {
        var x = _recorder.Extremes;
        var peak = _end.CutsShort ? MeasureState.AtLeast : MeasureState.Exact;
        double? When(int channel) => x.When[channel] - _zero;

        void Add(string id, string label, string unit, double value, double? time, MeasureState state, Worse worse, string how, bool headline = false) =>
            _measures.Add(new(id, label, unit, value, time, state, worse, headline, how));

        var firstStrike = _recorder.Strikes.Count > 0 ? _recorder.Strikes[0].Time : double.PositiveInfinity;
        void Peak(string id, string label, string unit, int channel, string how, bool headline = false) =>
            Add(id, label, unit, x.Largest[channel], When(channel), peak, Worse.Larger,
                x.When[channel] > firstStrike ? how + "; after a strike, so it also depends on how hard piece and spar meet" : how, headline);

        Peak(Mi.RiggingPointForce, "Force on the rigging point", "N", Channel.RiggingPoint, "largest resultant of both legs", true);
        var nearest = x.RoomNearest < 0 ? "the ground" : _input.Site.Obstacles[x.RoomNearest].Name;
        Add(Mi.Room, "Room left under the piece", "m", Math.Max(0, -x.Largest[Channel.Room]), When(Channel.Room),
            (_end.CutsShort && _end.Kind is not (EndKind.Ground or EndKind.Obstacle)) || _end.Kind == EndKind.Failed ? MeasureState.NotReached : MeasureState.Exact,
            Worse.Smaller, $"smallest gap between outline and {nearest}", true);
        Peak(Mi.ClimberMovement, "Movement at the climber's feet", "m", Channel.ClimberDeflection, "largest deflection of the spar there", true);
        Peak(Mi.HandForce, "Force the hand must hold", "N", Channel.Hand,
            _input.Catch.Kind == CatchKind.HardStop ? "locked off: what a hand would have had to hold, T2 over the device's hold ratio"
            : _input.Catch.SnagAfterRun is null ? "largest pull on the hand side" : "largest pull on the hand side; after the snag it is what the snag bears, not the hand", true);
        Add(Mi.RopeRun, "Rope run through the device", "m", _state[StateLayout.RopeRun], null, _input.Catch.Kind == CatchKind.HardStop ? MeasureState.Exact : peak, Worse.Larger, "length of rope given", true);

        Peak(Mi.LoadLegTension, "Load-leg tension", "N", Channel.LoadLeg, "largest");
        Add(Mi.LoadLegTimesWeight, "Load-leg tension over the piece's weight", "", x.Largest[Channel.LoadLeg] / _weight, When(Channel.LoadLeg), peak, Worse.Larger, "largest tension / (m g)");
        Peak(Mi.GroundLegTension, "Ground-leg tension", "N", Channel.GroundLeg, "largest");
        Add(Mi.RiggingPointTimesWeight, "Rigging-point force over the piece's weight", "", x.Largest[Channel.RiggingPoint] / _weight, When(Channel.RiggingPoint), peak, Worse.Larger, "largest force / (m g)");
        Peak(Mi.ClimberSpeed, "Speed of the spar at the climber's feet", "m/s", Channel.ClimberSpeed, "largest");
        var w1 = _spar.ModeCount > 0 ? _spar.AngularFrequencies[0] : double.NaN;
        Add(Mi.SettleTime, "Time for the sway to die down to a twentieth", "s",
            _spar.ModeCount > 0 && _spar.DampingRatio > 0 ? Elementary.Log(20) / (_spar.DampingRatio * w1) : double.NaN, null,
            _spar.ModeCount > 0 && _spar.DampingRatio > 0 ? MeasureState.Exact : MeasureState.Unknown, Worse.Larger, "ln 20 / (damping ratio x 2 pi x sway frequency), bare spar with climber");
        Add(Mi.SwayFrequency, "Sway frequency of the spar with the climber", "Hz", w1 / (2 * Math.PI), null,
            _spar.ModeCount > 0 ? MeasureState.Exact : MeasureState.Unknown, Worse.Neither, "first mode");
        Add(Mi.ClimberAcceleration, "Acceleration at the climber's feet, raw", "m/s2", x.Largest[Channel.ClimberAcceleration], When(Channel.ClimberAcceleration),
            _recorder.Strikes.Count > 0 ? MeasureState.Indicative : peak, Worse.Larger, "largest; in a strike it depends on the modes kept");
        Peak(Mi.TipDeflection, "Deflection at the top of the spar", "m", Channel.TipDeflection, "largest");
        Add(Mi.RopeSlip, "Rope slipped over the rigging point toward the piece", "m", _system.RopeSlip(_state), null, peak, Worse.Neither, "at the end of the run");
        Peak(Mi.RopeSpeed, "Speed of rope through the device", "m/s", Channel.RopeSpeed, "largest at which the moving piece draws rope; the spring-back of stretched rope left out");
        Peak(Mi.BaseMoment, "Bending moment at the spar's base", "N m", Channel.BaseMoment, "statics of the loads less inertia, strikes left out");
        Add(Mi.BaseMomentWithStrikes, "Bending moment at the spar's base, strikes included", "N m", x.Largest[Channel.BaseMomentWithStrikes],
            When(Channel.BaseMomentWithStrikes), _recorder.Strikes.Count > 0 ? MeasureState.Indicative : peak, Worse.Larger, "as above; a strike's force depends on the contact stiffness alone");
        Peak(Mi.SparStress, "Largest stress in the spar", "Pa", Channel.Stress, "bending and compression, round sound section, strikes left out");
        Add(Mi.SparStressHeight, "Height of the largest stress", "m", x.StressHeight, When(Channel.Stress), MeasureState.Exact, Worse.Neither, "where the largest stress is");
        Peak(Mi.HingeForce, "Force on the hinge", "N", Channel.HingeForce, "largest before it breaks");
        Chain(Add, peak);
        _buckling = x.Largest[Channel.VerticalLoad] / _spar.BucklingLoadAt(_system.RingHeight);
        Add(Mi.BucklingFraction, "Vertical load as a fraction of the spar's buckling load", "", Math.Max(0, _buckling),
            When(Channel.VerticalLoad), peak, Worse.Larger, "largest downward load / dead load at which the stem's stiffness vanishes");
        Heat(Add, peak);

        var strongest = _recorder.Strikes.OrderByDescending(s => s.Energy).FirstOrDefault();
        Add(Mi.StrikeEnergy, "Strongest strike, energy along the normal", "J", strongest?.Energy ?? 0, strongest is null ? null : strongest.Time - _zero,
            peak, Worse.Larger, strongest is null ? "the piece does not strike the spar" : strongest.Place);
        Add(Mi.TimeToTaut, "Time from hinge break to first taut", "s", _recorder.FirstTaut - _zero, _recorder.FirstTaut - _zero,
            double.IsNaN(_recorder.FirstTaut) ? MeasureState.NotReached : MeasureState.Exact, Worse.Neither, "event");
        Add(Mi.TimeToPeak, "Time from hinge break to the largest load-leg tension", "s", x.When[Channel.LoadLeg] - _zero, x.When[Channel.LoadLeg] - _zero, peak, Worse.Neither, "time of the peak");
        var (start, taut) = _recorder.Heights;
        Add(Mi.DropToTaut, "Drop of the centre of gravity to first taut", "m", start - taut, _recorder.FirstTaut - _zero,
            double.IsNaN(taut) ? MeasureState.NotReached : MeasureState.Exact, Worse.Neither, "from the start to first taut");
        Add(Mi.HandDropToTaut, "Drop to taut worked out by hand, an upper value", "m",
            (2 * _input.Piece.CentreOfGravity) + (2 * _input.RiggingPoint.BelowCut) + _input.Rope.Slack, null, MeasureState.Exact, Worse.Neither,
            "2 x (butt to centre of gravity) + 2 x (cut to rigging point) + slack");
        if (traces is not null)
        {
            Comfort(traces, Add, peak);
            new PathMeasures(_input, _system, _recorder, _trajectory!, _zero, _end).AddTo(Add);
        }
    }

    /// <summary>What was not watched, or follows modes that were followed coarsely, says nothing.</summary>
    private void Withhold(WatchedChannels watched)
    {
        for (var i = 0; i < _measures.Count; i++)
        {
            if (!watched.Tells(_measures[i].Id))
            {
                _measures[i] = _measures[i] with { Value = double.NaN, Time = null, State = MeasureState.Unknown, HowFound = "not worked out in this run" };
            }
        }
    }

    /// <summary>Comfort measures of ISO 2631-1:1997 for sideways movement (Wd). They say nothing about injury.</summary>
    private void Comfort(DropTraces traces, MeasureAdder add, MeasureState state)
    {
        var acceleration = traces.ClimberAcceleration(ComfortSampling);
        var weighted = IsoWeighting.Wd.Weight(acceleration, ComfortSampling);
        var shown = _recorder.Strikes.Count > 0 ? MeasureState.Indicative : state;
        add(Mi.ClimberMtvv, "Largest 1 s running r.m.s. of the weighted acceleration (MTVV)", "m/s2", IsoWeighting.MaximumTransientVibrationValue(weighted, ComfortSampling), null, shown, Worse.Larger,
            "ISO 2631-1:1997, weighting Wd; a comfort measure, not an injury limit; Wd filters out much of a tall spar's sway");
        add(Mi.ClimberVdv, "Vibration dose value of the weighted acceleration (VDV)", "m/s^1.75", IsoWeighting.VibrationDoseValue(weighted, ComfortSampling), null, shown, Worse.Larger,
            "ISO 2631-1:1997, weighting Wd; a comfort measure, not an injury limit");
    }

    /// <summary>Sampling for the weighting filter, s: Wd ends at 100 Hz.</summary>
    private const double ComfortSampling = 1e-3;

    /// <summary>Heat at the device as two bounds: all into the rope, or all into the device's skin.</summary>
    private void Heat(MeasureAdder add, MeasureState state)
    {
        var pull = _recorder.Extremes.Largest[Channel.BrakePull];
        if (_input.Rope.MassPerLength is { } line)
        {
            add(Mi.RopeHeat, "Rope's temperature rise going once round the device, all heat into the rope", "K", Math.Max(0, pull) / (line * RopeHeatCapacity),
                null, state, Worse.Larger, "bound, mean over the rope's section: (T2 - T3) / (mass per metre x specific heat from memory)");
        }
        else
        {
            add(Mi.RopeHeat, "Rope's temperature rise going once round the device, all heat into the rope", "K", double.NaN, null, MeasureState.Unknown, Worse.Larger, "the rope's mass per metre is not known");
        }

        var running = _recorder.RunningTime;
        if (_input.Device.BollardDiameter is { } diameter && _input.Device.Wraps > 0)
        {
            var area = _input.Device.Wraps * Math.PI * diameter * _input.Rope.Diameter;
            var energy = Math.Max(0, _state[StateLayout.LostDevice]);
            var rise = running > 0 ? 2 * (energy / (area * running)) * Math.Sqrt(running / (Math.PI * SteelEffusivitySquared)) : 0;
            add(Mi.DeviceHeat, "Device's skin temperature rise, all heat into a steel bollard", "K", rise, null, state, Worse.Larger,
                "bound for a steady, even flux: 2 q sqrt(t / (pi k rho c)) over the rope's contact; the last turn sees more; steel's values from memory");
        }
        else
        {
            add(Mi.DeviceHeat, "Device's skin temperature rise, all heat into a steel bollard", "K", double.NaN, null, MeasureState.Unknown, Worse.Larger, "the bollard's diameter is not known");
        }
    }

    /// <summary>The weakest link of the load chain: each link's load over its breaking strength, new and dry.</summary>
    private void Chain(MeasureAdder add, MeasureState state)
    {
        var x = _recorder.Extremes;
        var strength = _input.Strength;
        var links = new List<(string Name, double Fraction, int Channel)>();
        var unknown = new List<string>();

        void Link(string name, double? breaking, int channel, double factor = 1)
        {
            if (breaking is { } b)
            {
                links.Add((name, factor * x.Largest[channel] / b, channel));
            }
            else
            {
                unknown.Add(name);
            }
        }

        var rope = strength.Rope * strength.WetFactor * strength.AgeFactor;
        Link("rope at the hitch's knot", rope * strength.KnotEfficiency, Channel.LoadLeg);
        Link("rope over the rigging point", rope * strength.RingBendEfficiency,
            x.Largest[Channel.LoadLeg] >= x.Largest[Channel.GroundLeg] ? Channel.LoadLeg : Channel.GroundLeg);
        Link("rope over the bollard", rope * strength.BollardBendEfficiency, Channel.GroundLeg);
        if (_input.RiggingPoint.Kind != RiggingPointKind.NaturalUnion)
        {
            Link("sling", strength.Sling, Channel.RiggingPoint);
            Link(_input.RiggingPoint.Kind == RiggingPointKind.Block ? "block" : "ring", strength.RingOrBlock, Channel.RiggingPoint);
        }

        Link("friction device", strength.Device, Channel.GroundLeg);
        if (_input.Spar is { Condition: StemCondition.Sound, BendingStrength: { } bending })
        {
            links.Add(("spar in bending", x.Largest[Channel.Stress] / bending, Channel.Stress));
        }
        else
        {
            unknown.Add(_input.Spar.Condition == StemCondition.Sound ? "spar" : $"spar (condition {_input.Spar.Condition.ToString().ToLowerInvariant()}: its strength is withheld)");
        }

        var label = strength.WetFactor * strength.AgeFactor == 1
            ? "Load on the weakest known link, of breaking strength new and dry"
            : "Load on the weakest known link, of breaking strength; rope with its wet and age factors";
        var missing = unknown.Count == 0 ? "" : "; unknown: " + string.Join(", ", unknown);
        if (links.Count == 0)
        {
            add(Mi.WeakestLink, label, "", double.NaN, null, MeasureState.Unknown, Worse.Larger, "no strength is known" + missing);
            return;
        }

        var worst = links.MaxBy(l => l.Fraction);
        var factor = strength.DesignFactor is { } design ? FormattableString.Invariant($"; your design factor {design:0.##} corresponds to {new Amount(100 / design, "%")}") : "";
        add(Mi.WeakestLink, label, "", worst.Fraction, x.When[worst.Channel] - _zero, state, Worse.Larger,
            worst.Name + factor + missing);
    }

    private List<RunEvent> Events()
    {
        var seen = new HashSet<string>();
        var list = new List<RunEvent>();
        foreach (var e in _recorder.Events)
        {
            var first = seen.Add(e.Kind);
            list.Add(new(e.Time - _zero, e.Kind, e.Detail, first || e.Kind == "strike") { Energy = e.Energy });
        }

        if (_end.Kind is not (EndKind.EndTime or EndKind.Failed))
        {
            list.Add(new(_end.Time, "end", _end.Description, true));
        }

        return list;
    }

    private List<PhaseSpan> Phases()
    {
        var list = new List<PhaseSpan>();
        for (var k = 0; k < _recorder.Stretches.Count; k++)
        {
            var (from, phase) = _recorder.Stretches[k];
            var to = k + 1 < _recorder.Stretches.Count ? _recorder.Stretches[k + 1].From : _outcome.Time;
            if (to > from)
            {
                list.Add(new(from - _zero, to - _zero, PhaseNames.Coarse(phase), PhaseNames.Detail(phase)));
            }
        }

        return list;
    }

    private LedgerReport Ledger(double fallen)
    {
        Instant at = default;
        _system.Phase = _recorder.Stretches[^1].Phase;
        _system.Solve(_outcome.Time, _state, ref at, []);
        var (potential, kinetic, rope, spar, contact) = _system.Energies(_state, ref at);
        var y = _state;
        return new(fallen,
        [
            new("energy_potential_J", "height still to fall", potential - _recorder.LowestPotential(_weight)),
            new("energy_kinetic_J", "motion of the piece", kinetic),
            new("energy_rope_J", "stretch of the rope", rope),
            new("energy_spar_J", "sway of the spar", spar),
            new("energy_contact_J", "piece pressing on the spar", contact),
            new("lost_rigging_point_J", "friction at the rigging point", y[StateLayout.LostRiggingPoint]),
            new("lost_device_J", "friction device and hand", y[StateLayout.LostDevice]),
            new("lost_hitch_J", "tightening of the hitch", y[StateLayout.LostHitch]),
            new("lost_rope_J", "heat in the rope", y[StateLayout.LostRope] + y[StateLayout.LostTransport]),
            new("lost_spar_J", "damping of the spar", y[StateLayout.LostSpar]),
            new("lost_contact_J", "strikes", y[StateLayout.LostContact]),
            new("lost_drag_J", "air", y[StateLayout.LostDrag]),
            new("lost_hinge_J", "holding the hinge together", y[StateLayout.LostHinge]),
        ], _recorder.LargestImbalance / fallen);
    }

    private void Warn(double fallen)
    {
        var x = _recorder.Extremes;
        void Say(FormattableString text) => _remarks.Add(new Remark(text));

        if (_end.Kind == EndKind.Failed)
        {
            Say($"The computation could not be completed: {_end.Description}.");
        }

        if (_end.CutsShort)
        {
            const string Reads = "every peak reads 'at least'; what had not yet come about reads 'not reached'.";
            if (_end.BeforeSpeed is { } before)
            {
                Say($"The run was cut short ({before} {new Amount(_end.Speed, "m/s")}): {Reads}");
            }
            else
            {
                Say($"The run was cut short ({_end.Description}): {Reads}");
            }
        }

        var lean = _system.Body.BalanceLean;
        if (lean > LeanWorthAWord)
        {
            Say($"The piece balances only at {lean * 180 / Math.PI:0} degrees of lean: it must be pulled or wedged over, which is not computed.");
        }

        if (double.IsNaN(_system.HingeBreakTime))
        {
            Say($"The hinge did not break before the run ended; times are from the start.");
        }
        else if (_recorder.FirstTaut < _system.HingeBreakTime)
        {
            Say($"The load leg came taut while the piece still stood on its hinge.");
        }

        var length = _system.InitialState();
        var stiffness = _input.Rope.Stiffness / (length[StateLayout.LoadLength] + length[StateLayout.GroundLength]);
        var damping = _input.Rope.ViscousTime * Math.Sqrt(stiffness / _input.Piece.Mass);
        if (damping > LargestRegularising)
        {
            Say($"The rope's viscous time takes more than its small share of the catch (tau_v sqrt(k/m) = {damping:0.000} > {LargestRegularising}): forces may be flattered.");
        }

        if (_system.SteepTakeUp)
        {
            Say($"A take-up gives less than a fiftieth of its leg's own stretch and is counted as none.");
        }

        if (x.Largest[Channel.RopeSpeed] > CatchInput.FastestRope)
        {
            Say($"Rope runs through the device at up to {new Amount(x.Largest[Channel.RopeSpeed], "m/s")}: faster than about {new Amount(CatchInput.FastestRope, "m/s", Round: true)} a hand cannot hold it (common practice, no source).");
        }

        if (_buckling > LargestBuckling)
        {
            Say($"The downward pull reaches {_buckling:0.00} of the spar's buckling load: the spar's modes are no longer exact above {LargestBuckling}.");
        }

        if (_recorder.LargestImbalance > LargestImbalance * fallen)
        {
            Say($"The energy books are open by {_recorder.LargestImbalance / fallen:0.0e0} of the energy that fell: do not use this run.");
        }

        if (_recorder.Strikes.Count > 0)
        {
            Say($"The piece strikes the spar {Times(_recorder.Strikes.Count)}; forces and accelerations in strikes are indicative only.");
        }

        if (_outcome.Statistics.StiffnessSuspected > _outcome.Statistics.AcceptedSteps / 2 && _outcome.Statistics.AcceptedSteps > 20_000)
        {
            Say($"The equations were stiff for this method ({_outcome.Statistics.AcceptedSteps} steps).");
        }
    }

    private static string Times(int count) => count switch { 1 => "once", 2 => "twice", _ => FormattableString.Invariant($"{count} times") };

    /// <summary>Lean at balance above which a word is due, rad (15 degrees; common practice, no source).</summary>
    private const double LeanWorthAWord = 15 * Math.PI / 180;

    /// <summary>Largest share of the viscous time in a catch: above it the small regularising loss is no longer small.</summary>
    private const double LargestRegularising = 0.05;

    /// <summary>Share of the buckling load above which second-order effects matter.</summary>
    private const double LargestBuckling = 0.3;

    /// <summary>Imbalance of the energy books, as a fraction of the energy that fell, above which a run is not good.</summary>
    private const double LargestImbalance = 1e-4;
}

/// <summary>Adds a measure.</summary>
internal delegate void MeasureAdder(
    string id, string label, string unit, double value, double? time, MeasureState state, Worse worse, string how, bool headline = false);
