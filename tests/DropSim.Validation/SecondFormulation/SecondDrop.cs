using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// A drop of a log written a second time, from the physics: nothing of DropSim's laws, phases, events or integrator is used, its input only
/// as a list of numbers. Friction is smooth (<see cref="SmoothFriction"/>), the hinge is a stiff spring that is taken away, spar modes come
/// from a chain of masses, and everything is stepped with the classical fourth-order method at one small step.
/// Ring, hard stop or a hand of constant force, straight rope with relaxing branch, knot that tightens; ends before the piece strikes the spar.
/// </summary>
internal sealed class SecondDrop
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
        _hingeX = side * radius * (1 - (2 * drop.Start.FaceCutDepth));
        (_alongHinge, _acrossHinge) = (-drop.Piece.CentreOfGravity, _hingeX);
        (_alongHitch, _acrossHitch) = (drop.Piece.HitchHeight - drop.Piece.CentreOfGravity, side * radius);

        double[] Each(Func<int, double> value) => [.. Enumerable.Range(0, _n).Select(value)];
        _ringShape = Each(i => _chain!.Shape(i, _ringHeight));
        _ringSlope = Each(i => _chain!.Slope(i, _ringHeight));
        _topShape = Each(i => _chain!.Shape(i, top));
        _topSlope = Each(i => _chain!.Slope(i, top));
        _ringShortening = _chain?.Shortening(_ringHeight) ?? new double[0, 0];
        _topShortening = _chain?.Shortening(top) ?? new double[0, 0];
    }

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
            var before = (double[])y.Clone();
            Step(y, _step);
            if (Opening(y) <= 0)
            {
                // The face cut closes within this step: go just as far.
                double low = 0;
                var high = _step;
                for (var k = 0; k < 40; k++)
                {
                    var middle = (low + high) / 2;
                    var trial = (double[])before.Clone();
                    Step(trial, middle);
                    (low, high) = Opening(trial) > 0 ? (middle, high) : (low, middle);
                }

                before.CopyTo(y, 0);
                Step(y, high);
                _hinged = false;
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
            FirstTaut = FirstTaut.Length == 0 && rope.T1 > 0 ? y[..(Omega + 1)] : FirstTaut;
            LoadLegPeak = Math.Max(LoadLegPeak, rope.T1);
            RiggingPointPeak = Math.Max(RiggingPointPeak, Math.Sqrt((forceX * forceX) + (forceZ * forceZ)));
            Lowest = Math.Min(Lowest, y[Z]);
            RopeRun = y[Run];
            Step(y, after / steps);
        }

        return this;
    }

    private double Opening(double[] y)
    {
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
        var lean = Math.Atan2(_hingeX, _drop.Piece.CentreOfGravity) + (_side * _drop.Start.LeanPastBalance);
        var (sin, cos) = Math.SinCos(lean);
        var rate = _side * _drop.Start.InitialRate;
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

    private (SmoothFriction.Result Rope, double ForceX, double ForceZ) Look(double[] y)
    {
        _ = Rates(y);
        return (_rope, _forceX, _forceZ);
    }

    private SmoothFriction.Result _rope;
    private double _forceX;
    private double _forceZ;

    private double[] Rates(double[] y)
    {
        var rates = new double[y.Length];

        // Rigging point: moved by the spar's deflection, its slope and its shortening.
        var (ringX, ringZ, ringVx, ringVz) = (_arm, _ringHeight, 0.0, 0.0);
        for (var i = 0; i < _n; i++)
        {
            var (q, v) = (y[Modes + i], y[Modes + _n + i]);
            ringX += _ringShape[i] * q;
            ringVx += _ringShape[i] * v;
            ringZ -= _arm * _ringSlope[i] * q;
            ringVz -= _arm * _ringSlope[i] * v;
            for (var j = 0; j < _n; j++)
            {
                ringZ -= 0.5 * q * _ringShortening[i, j] * y[Modes + j];
                ringVz -= v * _ringShortening[i, j] * y[Modes + j];
            }
        }

        var (sin, cos) = Math.SinCos(y[Phi]);
        var (armX, armZ) = ((_alongHitch * sin) + (_acrossHitch * cos), (_alongHitch * cos) - (_acrossHitch * sin));
        var (dx, dz) = (y[X] + armX - ringX, y[Z] + armZ - ringZ);
        var (gx, gz) = (_deviceX - ringX, _drop.Device.Z - ringZ);
        var (d1, d2) = (Distance(dx, dz), Distance(gx, gz));
        var d1Rate = ((dx * (y[Vx] + (y[Omega] * armZ) - ringVx)) + (dz * (y[Vz] - (y[Omega] * armX) - ringVz))) / d1;
        var d2Rate = -((gx * ringVx) + (gz * ringVz)) / d2;

        // Wrap: how far the rope turns from one leg's line to the other's; 0 where they lie in one line.
        var between = Math.Atan2(_side * ((gx * dz) - (gz * dx)), (gx * dx) + (gz * dz));
        var wrap = Math.Abs(Math.PI - (between < -Math.PI / 2 ? between + (2 * Math.PI) : between));

        var (e1, e2) = ((d1 / y[L1]) - 1, (d2 / y[L2]) - 1);
        var (free1, free2) = (Free(y[A1]), Free(y[A2]));
        var knot = _drop.Rope.HitchTakeUp;
        var hitch = knot.Length > y[Drawn] ? knot.ForceFrom + ((knot.ForceTo - knot.ForceFrom) * y[Drawn] / knot.Length) : double.PositiveInfinity;
        _rope = SmoothFriction.Solve(
            Leg(e1, free1, y[A1], d1, d1Rate, y[L1]), Leg(e2, free2, y[A2], d2, d2Rate, y[L2]), _drop.RiggingPoint.Friction * wrap, hitch, Capacity(), _eps);
        (_forceX, _forceZ) = ((_rope.T1 * dx / d1) + (_rope.T2 * gx / d2), (_rope.T1 * dz / d1) + (_rope.T2 * gz / d2));
        var (pullX, pullZ) = (-_rope.T1 * dx / d1, -_rope.T1 * dz / d1);

        var (fx, fz) = (pullX, pullZ - (_drop.Piece.Mass * _drop.Computation.Gravity));
        var moment = (pullX * armZ) - (pullZ * armX);
        for (var i = 0; i < _n; i++)
        {
            double shortening = 0;
            for (var j = 0; j < _n; j++)
            {
                shortening += _ringShortening[i, j] * y[Modes + j];
            }

            var w = _chain!.Frequencies[i];
            rates[Modes + i] = y[Modes + _n + i];
            rates[Modes + _n + i] = (_forceX * _ringShape[i]) - (_forceZ * ((_arm * _ringSlope[i]) + shortening))
                - (w * w * y[Modes + i]) - (2 * _drop.Spar.DampingRatio * w * y[Modes + _n + i]);
        }

        if (_hinged)
        {
            var (hx, hz) = Hinge(y, sin, cos, rates);
            var (hingeX, hingeZ) = ((_alongHinge * sin) + (_acrossHinge * cos), (_alongHinge * cos) - (_acrossHinge * sin));
            fx += hx;
            fz += hz;
            moment += (hx * hingeZ) - (hz * hingeX);
        }

        (rates[X], rates[Z], rates[Phi]) = (y[Vx], y[Vz], y[Omega]);
        (rates[Vx], rates[Vz], rates[Omega]) = (fx / _drop.Piece.Mass, fz / _drop.Piece.Mass, moment / _drop.Piece.Inertia);

        // Rope: what crosses the rigging point takes its memory along; what comes out of knot or device has none.
        var (slip, drawn, run) = (_rope.Slip, _rope.Hitch, _rope.Device);
        rates[L1] = slip + drawn;
        rates[L2] = run - slip;
        rates[Run] = run;
        rates[Drawn] = drawn;
        var (held1, held2) = (_rope.T1 > 0 ? e1 : free1, _rope.T2 > 0 ? e2 : free2);
        rates[A1] = ((held1 - y[A1]) / _drop.Rope.RelaxationTime) + (((Math.Max(slip, 0) * (y[A2] - y[A1])) - (drawn * y[A1])) / y[L1]);
        rates[A2] = ((held2 - y[A2]) / _drop.Rope.RelaxationTime) + (((Math.Max(-slip, 0) * (y[A1] - y[A2])) - (run * y[A2])) / y[L2]);
        return rates;
    }

    /// <summary>Device's hold ratio times the hand's constant force; infinite when locked off.</summary>
    private double Capacity() => _drop.Catch.Kind == CatchKind.HardStop
        ? double.PositiveInfinity
        : Math.Exp(2 * Math.PI * _drop.Device.Wraps * _drop.Device.Friction) * _drop.Catch.GripForce;

    private double Free(double relaxed) => _relaxing * relaxed / (_stiffness + _relaxing);

    private SmoothFriction.Leg Leg(double e, double free, double relaxed, double d, double dRate, double natural) => e < free
        ? default
        : new((_stiffness * e) + (_relaxing * (e - relaxed)) + (_viscous * dRate / natural), _viscous * d / (natural * natural));

    /// <summary>The hinge as a spring and damper of many times the piece's weight per millimetre between its point on the piece and on the spar.</summary>
    private (double X, double Z) Hinge(double[] y, double sin, double cos, double[] rates)
    {
        var (armX, armZ) = ((_alongHinge * sin) + (_acrossHinge * cos), (_alongHinge * cos) - (_acrossHinge * sin));
        var (gapX, gapZ) = (y[X] + armX - _hingeX, y[Z] + armZ - _drop.Spar.Height);
        var (rateX, rateZ) = (y[Vx] + (y[Omega] * armZ), y[Vz] - (y[Omega] * armX));
        var down = new double[_n];
        for (var i = 0; i < _n; i++)
        {
            down[i] = -_hingeX * _topSlope[i];
            gapX -= _topShape[i] * y[Modes + i];
            rateX -= _topShape[i] * y[Modes + _n + i];
            gapZ += _hingeX * _topSlope[i] * y[Modes + i];
            for (var j = 0; j < _n; j++)
            {
                down[i] -= _topShortening[i, j] * y[Modes + j];
                gapZ += 0.5 * y[Modes + i] * _topShortening[i, j] * y[Modes + j];
            }

            rateZ -= down[i] * y[Modes + _n + i];
        }

        var (hx, hz) = (-(HingeSpring * gapX) - (HingeDamper * rateX), -(HingeSpring * gapZ) - (HingeDamper * rateZ));
        for (var i = 0; i < _n; i++)
        {
            rates[Modes + _n + i] -= (hx * _topShape[i]) + (hz * down[i]);
        }

        return (hx, hz);
    }

    /// <summary>N/m: under 150 kg it gives by 0.015 mm.</summary>
    private const double HingeSpring = 1e8;

    /// <summary>N s/m: about critical for 100 kg.</summary>
    private const double HingeDamper = 1e5;
}
