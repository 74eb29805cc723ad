using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// A drop of a log written a second time, from the physics: nothing of DropSim's laws, phases, events or integrator is used, its input only
/// as a list of numbers. Friction is smooth (<see cref="SmoothFriction"/>), the hinge is a stiff spring that is taken away, spar modes come
/// from a chain of masses, and everything is stepped with the classical fourth-order method at one small step.
/// Ring, hard stop or a hand of constant force, straight rope with relaxing branch, knot that tightens; over a face cut or pushed off the edge; wood on
/// wood by <see cref="SecondContact"/>.
/// </summary>
internal sealed partial class SecondDrop
{
    // Places in the state.
    private const int X = 0, Z = 1, Phi = 2, Vx = 3, Vz = 4, Omega = 5, L1 = 6, L2 = 7, Run = 8, Drawn = 9, A1 = 10, A2 = 11, Modes = 12;

    private readonly DropInput _drop;
    private readonly double _eps;
    private readonly double _step;
    private readonly int _n;
    private readonly int _side;
    private readonly double _deviceX;
    private readonly SparChain? _chain;
    private readonly double[] _ringShape, _ringSlope, _topShape, _topSlope;
    private readonly double[,] _ringShortening, _topShortening;
    private readonly SecondContact _contact;
    private readonly bool _pushed;
    private readonly double[] _coordinates, _speeds, _contactForces;
    private readonly double _stiffness, _relaxing, _viscous, _ringHeight, _arm, _hingeX, _alongHinge, _acrossHinge, _alongHitch, _acrossHitch;
    private bool _hinged = true;

    /// <param name="drop">The drop.</param>
    /// <param name="eps">Speed over which friction turns round, m/s.</param>
    /// <param name="step">Fixed step, s.</param>
    /// <param name="chain">The spar's modes; null for a rigid spar.</param>
    /// <param name="side">1 where the piece falls toward larger x, -1 where everything stands and falls on the other side.</param>
    public SecondDrop(DropInput drop, double eps, double step, SparChain? chain, int side = 1)
    {
        (_drop, _eps, _step, _chain, _side) = (drop, eps, step, chain, side);
        _n = chain?.Frequencies.Length ?? 0;
        _stiffness = drop.Rope.Stiffness;
        _relaxing = drop.Rope.RelaxingStiffnessRatio * _stiffness;
        _viscous = drop.Rope.ViscousTime * _stiffness;
        var top = drop.Spar.Height;
        _ringHeight = top - drop.RiggingPoint.BelowCut;
        var foot = drop.Spar.Diameters[0];
        var head = drop.Spar.Diameters[1];
        _arm = ((foot.Diameter + ((head.Diameter - foot.Diameter) * _ringHeight / head.Height)) / 2) + drop.RiggingPoint.StandOff;
        _arm *= side;
        _deviceX = side * drop.Device.X;

        // Piece: an even log; its own axes from the centre of gravity, along to the tip and across to the face side.
        var radius = drop.Piece.ButtDiameter / 2;
        _pushed = drop.Start.Kind == StartKind.PushedOff;
        if (_pushed)
        {
            // Slid out over the front edge until its centre of gravity is right above.
            _hingeX = side * head.Diameter / 2;
            (_alongHinge, _acrossHinge) = (-drop.Piece.CentreOfGravity, 0);
        }
        else
        {
            _hingeX = side * radius * (1 - (2 * drop.Start.FaceCutDepth));
            (_alongHinge, _acrossHinge) = (-drop.Piece.CentreOfGravity, _hingeX);
        }

        (_alongHitch, _acrossHitch) = (drop.Piece.HitchHeight - drop.Piece.CentreOfGravity, side * radius);

        double[] Each(Func<int, double> value) => [.. Enumerable.Range(0, _n).Select(value)];
        _ringShape = Each(i => _chain!.Shape(i, _ringHeight));
        _ringSlope = Each(i => _chain!.Slope(i, _ringHeight));
        _topShape = Each(i => _chain!.Shape(i, top));
        _topSlope = Each(i => _chain!.Slope(i, top));
        _ringShortening = _chain?.Shortening(_ringHeight) ?? new double[0, 0];
        _topShortening = _chain?.Shortening(top) ?? new double[0, 0];
        _contact = new(drop, side, chain);
        (_coordinates, _speeds, _contactForces) = (new double[3 + _n], new double[3 + _n], new double[3 + _n]);
    }

    /// <summary>Largest force of wood on wood after the hinge let go, N.</summary>
    public double ContactPeak => _contact.Peak;

    /// <summary>x, z, lean and their rates at the end.</summary>
    public double[] End { get; private set; } = [];

    public double LoadLegPeak { get; private set; }

    public double RiggingPointPeak { get; private set; }

    public double RopeRun { get; private set; }

    /// <summary>Lowest place of the centre of gravity, m.</summary>
    public double Lowest { get; private set; } = double.PositiveInfinity;

    public double HingeBreak { get; private set; }

    /// <summary>x, z, lean and their rates at hinge break.</summary>
    public double[] Released { get; private set; } = [];

    /// <summary>x, z, lean and their rates where the load leg first pulls.</summary>
    public double[] FirstTaut { get; private set; } = [];

    /// <summary>Natural lengths of the legs at the start, m.</summary>
    public (double Load, double Ground) Lengths { get; private set; }

    /// <summary>Follows the drop for so long after the hinge breaks, s.</summary>
    public SecondDrop Follow(double after)
    {
        var y = Start();
        Lengths = (y[L1], y[L2]);
        double time = 0;
        while (_hinged)
        {
            Remember(y);
            var before = (double[])y.Clone();
            Step(y, _step);
            if (Opening(y, time + _step) <= 0)
            {
                // The face cut closes, or the edge would pull, within this step: go just as far.
                double low = 0;
                var high = _step;
                for (var k = 0; k < 40; k++)
                {
                    var middle = (low + high) / 2;
                    var trial = (double[])before.Clone();
                    Step(trial, middle);
                    (low, high) = Opening(trial, time + middle) > 0 ? (middle, high) : (low, middle);
                }

                before.CopyTo(y, 0);
                Step(y, high);
                _hinged = false;
                if (_pushed)
                {
                    _contact.LieOnEdge();
                }

                HingeBreak = time + high;
                Released = y[..(Omega + 1)];
            }
            else
            {
                time += _step;
            }
        }

        var steps = (int)Math.Ceiling(after / _step);
        for (var k = 0; k <= steps; k++)
        {
            var (rope, forceX, forceZ) = Look(y);
            Remember(y);
            FirstTaut = FirstTaut.Length == 0 && rope.T1 > 0 ? y[..(Omega + 1)] : FirstTaut;
            LoadLegPeak = Math.Max(LoadLegPeak, rope.T1);
            RiggingPointPeak = Math.Max(RiggingPointPeak, Math.Sqrt((forceX * forceX) + (forceZ * forceZ)));
            Lowest = Math.Min(Lowest, y[Z]);
            RopeRun = y[Run];
            if (k < steps)
            {
                Step(y, after / steps);
            }
        }

        End = y[..(Omega + 1)];
        return this;
    }

    /// <summary>How far it is from leaving its hinge or its edge; 0 or less once it leaves.</summary>
    private double Opening(double[] y, double time)
    {
        if (_pushed && time > HingeSettles)
        {
            // An edge pushes and does not pull.
            _ = Rates(y);
            if (_hingeZ <= 0)
            {
                return 0;
            }
        }

        double slope = 0;
        for (var i = 0; i < _n; i++)
        {
            slope += _topSlope[i] * y[Modes + i];
        }

        return _drop.Start.ReleaseAngle - (_side * (y[Phi] - slope));
    }

    private double[] Start()
    {
        var y = new double[Modes + (2 * _n)];
        var lean = Math.Atan2(_acrossHinge, _drop.Piece.CentreOfGravity) + (_side * _drop.Start.LeanPastBalance);
        var (sin, cos) = Math.SinCos(lean);
        var rate = _side * (_pushed ? _drop.Start.PushSpeed / _drop.Piece.CentreOfGravity : _drop.Start.InitialRate);
        y[X] = _hingeX - (_alongHinge * sin) - (_acrossHinge * cos);
        y[Z] = _drop.Spar.Height - (_alongHinge * cos) + (_acrossHinge * sin);
        y[Phi] = lean;
        y[Omega] = rate;

        // Velocity of the centre of gravity: it turns about the hinge, which stands at hinge - centre from it.
        y[Vx] = -rate * (_drop.Spar.Height - y[Z]);
        y[Vz] = rate * (_hingeX - y[X]);
        var hitchX = y[X] + (_alongHitch * sin) + (_acrossHitch * cos);
        var hitchZ = y[Z] + (_alongHitch * cos) - (_acrossHitch * sin);
        y[L1] = Distance(hitchX - _arm, hitchZ - _ringHeight) + _drop.Rope.Slack;
        y[L2] = Distance(_deviceX - _arm, _drop.Device.Z - _ringHeight);
        return y;
    }

    private static double Distance(double x, double z) => Math.Sqrt((x * x) + (z * z));

    private void Step(double[] y, double h)
    {
        var k1 = Rates(y);
        var k2 = Rates(Along(y, k1, h / 2));
        var k3 = Rates(Along(y, k2, h / 2));
        var k4 = Rates(Along(y, k3, h));
        for (var i = 0; i < y.Length; i++)
        {
            y[i] += h / 6 * (k1[i] + (2 * k2[i]) + (2 * k3[i]) + k4[i]);
        }
    }

    private static double[] Along(double[] y, double[] rates, double h)
    {
        var moved = new double[y.Length];
        for (var i = 0; i < y.Length; i++)
        {
            moved[i] = y[i] + (h * rates[i]);
        }

        return moved;
    }
}
