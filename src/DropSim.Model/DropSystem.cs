using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// The drop as an ordinary differential equation with events: the equations of docs/theory put together.
/// Rates are a pure function of time, state and <see cref="DropPhase"/>; only <see cref="HandleEvent"/> changes the phase.
/// </summary>
internal sealed partial class DropSystem : IHybridSystem
{
    private readonly DropInput _input;
    private readonly PieceBody _body;
    private readonly ModalSpar _spar;
    private readonly StateLayout _layout;
    private readonly RopeCurve _curve;
    private readonly ContactPlaces _contacts;
    private readonly Hand _hand;
    private DropPhase _phase;
    private SolvedInstant _solved;

    private readonly int _n;
    private readonly int _q;
    private readonly int _qRate;

    private readonly double _mass;
    private readonly double _inertia;
    private readonly double _perMass;
    private readonly double _perInertia;
    private readonly double _weight;
    private readonly double _drag;
    private readonly double _relaxing;
    private readonly double _relaxationRate;
    private readonly double _viscous;
    private readonly double _ringHeight;
    private readonly double _ringOffset;
    private readonly double _deviceX;
    private readonly double _deviceZ;
    private readonly double _friction;
    private readonly double _bearing;
    private readonly bool _isBlock;
    private readonly bool _frictionless;

    private readonly ObstacleInput[] _obstacles;
    private readonly PlacedMode[] _modes;

    // q.G q / 2 is how far bending lowers the rigging point, and the top; row by row.
    private readonly double[] _ringShortening;
    private readonly double[] _topShortening;

    // The take-ups as a straight line: where the force starts, and its rise per rope drawn.
    private readonly TakeUpLine _hitch;
    private readonly TakeUpLine _wraps;

    /// <summary>Puts a drop together.</summary>
    /// <param name="input">The drop; must be valid (see DropCheck).</param>
    /// <param name="spar">The spar's modes.</param>
    public DropSystem(DropInput input, ModalSpar spar)
    {
        _input = input;
        _spar = spar;
        _body = new PieceBody(input);
        _curve = new RopeCurve(input.Rope.Stiffness, input.Rope.StretchCurve);
        _contacts = new ContactPlaces(_body, spar, input.Spar, input.Computation);
        _hand = new Hand(input.Catch);
        _phase = new DropPhase(_contacts.Count);
        _n = spar.ModeCount;
        _layout = new StateLayout(_n);
        _q = StateLayout.FirstMode;
        _qRate = _layout.FirstModeRate;

        _mass = _body.Mass;
        _inertia = _body.Inertia;
        _perMass = 1 / _mass;
        _perInertia = 1 / _inertia;
        _weight = _mass * input.Computation.Gravity;
        _drag = input.Computation.AirDensity * input.Piece.DragArea / 2;
        _relaxing = input.Rope.Stiffness * input.Rope.RelaxingStiffnessRatio;
        _relaxationRate = 1 / input.Rope.RelaxationTime;
        _viscous = input.Rope.Stiffness * input.Rope.ViscousTime;
        _ringHeight = input.Spar.Height - input.RiggingPoint.BelowCut;
        _ringOffset = spar.RadiusAt(_ringHeight) + input.RiggingPoint.StandOff;
        _deviceX = input.Device.X;
        _deviceZ = input.Device.Z;
        _friction = input.RiggingPoint.Friction;
        _isBlock = input.RiggingPoint.Kind == RiggingPointKind.Block;
        _bearing = (1 / input.RiggingPoint.Efficiency) - 1;
        _frictionless = _friction == 0 || (_isBlock && _bearing == 0);

        _obstacles = [.. input.Site.Obstacles];
        _modes = PlaceModes(spar);
        _sections = new SparSections(spar, [_ringHeight, _deviceZ]);
        _ringShortening = spar.ShorteningAt(_ringHeight);
        _topShortening = spar.ShorteningAt(input.Spar.Height);
        _hitch = new(input.Rope.HitchTakeUp);
        _wraps = new(input.Rope.WrapsTakeUp);
        _initialLoadLength = InitialState()[StateLayout.LoadLength];
        PrepareLimits();
    }

    private PlacedMode[] PlaceModes(ModalSpar spar)
    {
        var (ring, top, climber, device) = (new double[_n], new double[_n], new double[_n], new double[_n]);
        var (ringSlope, topSlope, footSlope, unused) = (new double[_n], new double[_n], new double[_n], new double[_n]);
        spar.ShapeAt(_ringHeight, ring, ringSlope);
        spar.ShapeAt(_input.Spar.Height, top, topSlope);
        spar.ShapeAt(ClimberHeight, climber, unused);
        spar.ShapeAt(_deviceZ, device, unused);
        spar.ShapeAt(0, unused, footSlope);
        var modes = new PlacedMode[_n];
        for (var i = 0; i < _n; i++)
        {
            var w = spar.AngularFrequencies[i];
            modes[i] = new(ring[i], ringSlope[i], top[i], topSlope[i], climber[i], device[i], footSlope[i], w * w, 2 * spar.DampingRatio * w);
        }

        return modes;
    }

    /// <inheritdoc/>
    public int StateCount => _layout.Count;

    public StateLayout Layout => _layout;

    /// <summary>The phase that holds; a trajectory is read by putting back the phase that held there.</summary>
    public DropPhase Phase
    {
        get => _phase;
        set
        {
            _phase = value;
            _solved.Forget();
        }
    }

    /// <summary>Rope passes the rigging point without friction.</summary>
    public bool IsFrictionless => _frictionless;

    public PieceBody Body => _body;

    public ContactPlaces Contacts => _contacts;

    public double ClimberHeight => Math.Max(0, _input.Spar.Height - _input.Spar.ClimberBelowCut);

    public double RingHeight => _ringHeight;

    /// <summary>The state at the start: just past balance on the hinge, spar straight, rope slack.</summary>
    public double[] InitialState()
    {
        var y = new double[StateCount];
        var start = _input.Start;
        var faceCut = start.Kind == StartKind.FaceCut;
        var lean = _body.BalanceLean + start.LeanPastBalance;
        var rate = faceCut ? start.InitialRate : start.PushSpeed / _input.Piece.CentreOfGravity;
        var (sin, cos) = Elementary.SinCos(lean);

        // The hinge point of the piece stands on the hinge point of the spar.
        y[StateLayout.PieceX] = _body.HingeX - ((_body.Hinge.Xi * sin) + (_body.Hinge.Eta * cos));
        y[StateLayout.PieceZ] = _input.Spar.Height - ((_body.Hinge.Xi * cos) - (_body.Hinge.Eta * sin));
        y[StateLayout.Lean] = lean;
        y[StateLayout.PieceVx] = -rate * ((_body.Hinge.Xi * cos) - (_body.Hinge.Eta * sin));
        y[StateLayout.PieceVz] = rate * ((_body.Hinge.Xi * sin) + (_body.Hinge.Eta * cos));
        y[StateLayout.LeanRate] = rate;

        var hitchX = y[StateLayout.PieceX] + (_body.Hitch.Xi * sin) + (_body.Hitch.Eta * cos);
        var hitchZ = y[StateLayout.PieceZ] + (_body.Hitch.Xi * cos) - (_body.Hitch.Eta * sin);
        y[StateLayout.LoadLength] = double.Hypot(hitchX - _ringOffset, hitchZ - _ringHeight) + _input.Rope.Slack;
        y[StateLayout.GroundLength] = double.Hypot(_deviceX - _ringOffset, _deviceZ - _ringHeight);
        return y;
    }

    /// <inheritdoc/>
    public void ErrorScales(Span<double> scales)
    {
        scales.Clear();
        scales[StateLayout.PieceX] = PositionScale;
        scales[StateLayout.PieceZ] = PositionScale;
        scales[StateLayout.Lean] = PositionScale / _input.Piece.Length;
        scales[StateLayout.PieceVx] = SpeedScale;
        scales[StateLayout.PieceVz] = SpeedScale;
        scales[StateLayout.LeanRate] = SpeedScale / _input.Piece.Length;
        scales[StateLayout.LoadLength] = RopeScale;
        scales[StateLayout.GroundLength] = RopeScale;

        // What a take-up errs by, its force errs by in proportion.
        scales[StateLayout.HitchTaken] = _phase.HitchSpent ? 0 : _input.Rope.HitchTakeUp.Length;
        scales[StateLayout.WrapsTaken] = _phase.WrapsSpent ? 0 : _input.Rope.WrapsTakeUp.Length;
        scales[StateLayout.LoadRelaxed] = 1;
        scales[StateLayout.GroundRelaxed] = 1;

        // Modes by what they do at the rigging point and at the climber's feet.
        for (var i = 0; i < _n; i++)
        {
            var reach = Math.Max(Math.Abs(_modes[i].Ring), Math.Abs(_modes[i].Climber));
            var scale = ModeScale * Math.Min(1, FastMode * FastMode / _modes[i].FrequencySquared) / reach;
            scales[_q + i] = scale;
            scales[_qRate + i] = scale * Math.Sqrt(_modes[i].FrequencySquared);
        }
    }

    /// <summary>
    /// Height above the ground and length of a leg say nothing about how exact a place or a flow has to be: a drop from twice the
    /// height would be computed half as exactly.
    /// </summary>
    /// <param name="state">Index of the state.</param>
    public bool IsFromAnywhere(int state) =>
        state is StateLayout.PieceX or StateLayout.PieceZ or StateLayout.LoadLength or StateLayout.GroundLength;

    /// <inheritdoc/>
    public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards)
    {
        if (guards.IsEmpty)
        {
            _solved.Forget();
            Solve(time, state, ref _solved.At, rates, justRates: true);
            return;
        }

        Solve(time, state, ref _solved.At, rates);
        Guards(time, state, ref _solved.At, guards);
        _solved.Remember(time, state);
    }

    /// <summary>1 m: a step may not misplace the piece by more than the tolerance times this.</summary>
    private const double PositionScale = 1;

    /// <summary>
    /// 0.3 m: what a leg's length errs by, rope that runs or slips errs by over tau_v. With 1 m rope seemed to stop and start again
    /// where it ran at a few mm/s (measured: docs/numerics.md).
    /// </summary>
    private const double RopeScale = 0.3;

    /// <summary>30 m/s: with stiffness and damping in play, what a speed does to a force is this much smaller.</summary>
    private const double SpeedScale = 30;

    /// <summary>Scale of a mode by its movement at the rigging point and the climber's feet, m (measured: docs/numerics.md).</summary>
    private const double ModeScale = 0.3;

    /// <summary>
    /// Above this angular frequency a mode's scale falls with its square, rad/s: what then stays bounded is the acceleration, so
    /// that a short stiff stem's high modes neither shake the climber with the step's error nor leak energy from the books.
    /// </summary>
    private const double FastMode = 250;
}
