using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <content>Where everything is, what pulls, and how it moves on.</content>
internal sealed partial class SecondDrop
{
    private (SmoothFriction.Result Rope, double ForceX, double ForceZ) Look(double[] y)
    {
        _ = Rates(y);
        return (_rope, _forceX, _forceZ);
    }

    private SmoothFriction.Result _rope;
    private double _forceX;
    private double _forceZ;
    private double _hingeZ;

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
            _hingeZ = hz;
            var (hingeX, hingeZ) = ((_alongHinge * sin) + (_acrossHinge * cos), (_alongHinge * cos) - (_acrossHinge * sin));
            fx += hx;
            fz += hz;
            moment += (hx * hingeZ) - (hz * hingeX);
        }

        Coordinates(y);
        Array.Clear(_contactForces);
        _contact.Add(_coordinates, _speeds, _contactForces);
        (fx, fz, moment) = (fx + _contactForces[0], fz + _contactForces[1], moment + _contactForces[2]);
        for (var i = 0; i < _n; i++)
        {
            rates[Modes + _n + i] += _contactForces[3 + i];
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

    private void Remember(double[] y)
    {
        Coordinates(y);
        _contact.Remember(_coordinates, _speeds);
    }

    private void Coordinates(double[] y)
    {
        (_coordinates[0], _coordinates[1], _coordinates[2]) = (y[X], y[Z], y[Phi]);
        (_speeds[0], _speeds[1], _speeds[2]) = (y[Vx], y[Vz], y[Omega]);
        for (var i = 0; i < _n; i++)
        {
            (_coordinates[3 + i], _speeds[3 + i]) = (y[Modes + i], y[Modes + _n + i]);
        }
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

    /// <summary>s: by then the spring under a log that is pushed off bears its weight.</summary>
    private const double HingeSettles = 0.02;

    /// <summary>N s/m: about critical for 100 kg.</summary>
    private const double HingeDamper = 1e5;
}
