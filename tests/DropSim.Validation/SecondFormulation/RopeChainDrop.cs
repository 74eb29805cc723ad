using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// The catch with a rope that has mass: both legs as chains of masses, hung between hitch and rigging point and between rigging point and
/// device, free to fall, swing and carry waves in the plane. Rigid spar, locked off, straight rope without a relaxing branch.
/// Each leg keeps its number of links while rope slips over the rigging point: a node at the share s of the leg's length L (0 at hitch or device, 1 at the
/// rigging point) moves through the rope at s dL/dt, so that
///   dx/dt = v + s dL/dt dx/dS,   dv/dt = a + s dL/dt dv/dS,   and at the rigging point the rope itself moves at -dL/dt dx/dS.
/// </summary>
internal sealed class RopeChainDrop
{
    private readonly DropInput _drop;
    private readonly double _massPerLength;
    private readonly int _links1;
    private readonly int _links2;
    private readonly double _eps;
    private readonly double _ringX, _ringZ, _along, _across;
    private double[] _y = [];

    // State: x, z, lean and rates of the piece; L1, L2; then of each inner node of the load leg x, z, vx, vz; then of the ground leg.
    private const int Phi = 2, Omega = 5, L1 = 6, L2 = 7, Nodes = 8;

    public RopeChainDrop(DropInput drop, double massPerLength, int links1, int links2, double eps)
    {
        (_drop, _massPerLength, _links1, _links2, _eps) = (drop, massPerLength, links1, links2, eps);
        _ringZ = drop.Spar.Height - drop.RiggingPoint.BelowCut;
        var (foot, head) = (drop.Spar.Diameters[0], drop.Spar.Diameters[1]);
        _ringX = ((foot.Diameter + ((head.Diameter - foot.Diameter) * _ringZ / head.Height)) / 2) + drop.RiggingPoint.StandOff;
        (_along, _across) = (drop.Piece.HitchHeight - drop.Piece.CentreOfGravity, drop.Piece.ButtDiameter / 2);
    }

    public double HitchPeak { get; private set; }

    public double LoadLegPeak { get; private set; }

    public double RiggingPointPeak { get; private set; }

    /// <summary>Follows the drop from hinge break or first taut on.</summary>
    /// <param name="released">x, z, lean and their rates then.</param>
    /// <param name="lengths">Natural lengths of the legs then, m.</param>
    /// <param name="after">For so long, s.</param>
    public RopeChainDrop Follow(double[] released, (double Load, double Ground) lengths, double after)
    {
        Hang(released, lengths);
        var dt = LongestStep(lengths);
        var steps = (int)Math.Ceiling(after / dt);
        var h = after / steps;
        var (k1, k2, k3, k4, s) = (new double[_y.Length], new double[_y.Length], new double[_y.Length], new double[_y.Length], new double[_y.Length]);
        for (var step = 0; step < steps; step++)
        {
            Rates(_y, k1);
            HitchPeak = Math.Max(HitchPeak, _atHitch);
            LoadLegPeak = Math.Max(LoadLegPeak, _t1);
            RiggingPointPeak = Math.Max(RiggingPointPeak, _onRing);
            Along(s, k1, h / 2);
            Rates(s, k2);
            Along(s, k2, h / 2);
            Rates(s, k3);
            Along(s, k3, h);
            Rates(s, k4);
            for (var i = 0; i < _y.Length; i++)
            {
                _y[i] += h / 6 * (k1[i] + (2 * k2[i]) + (2 * k3[i]) + k4[i]);
            }
        }

        return this;
    }

    private void Along(double[] s, double[] k, double h)
    {
        for (var i = 0; i < s.Length; i++)
        {
            s[i] = _y[i] + (h * k[i]);
        }
    }

    /// <summary>Half of what the fastest wave in a link and the damping of a link allow the classical method.</summary>
    private double LongestStep((double Load, double Ground) lengths)
    {
        var link = Math.Min(lengths.Load / _links1, lengths.Ground / _links2);
        var wave = 2 * Math.Sqrt(_drop.Rope.Stiffness / _massPerLength) / link;
        var damping = 4 * _drop.Rope.Stiffness * _drop.Rope.ViscousTime / (_massPerLength * link * link);
        return Math.Min(Math.Min(1.4 / wave, 1.4 / damping), 2e-5);
    }

    /// <summary>Both legs in straight lines, the slack spread evenly, moving as their ends do.</summary>
    private void Hang(double[] released, (double Load, double Ground) lengths)
    {
        _y = new double[Nodes + (4 * (_links1 + _links2 - 2))];
        released.CopyTo(_y, 0);
        (_y[L1], _y[L2]) = lengths;
        var (hx, hz, hvx, hvz) = Hitch(_y);
        for (var i = 1; i < _links1; i++)
        {
            var share = (double)i / _links1;
            var at = Nodes + (4 * (i - 1));
            (_y[at], _y[at + 1]) = (hx + (share * (_ringX - hx)), hz + (share * (_ringZ - hz)));
            (_y[at + 2], _y[at + 3]) = ((1 - share) * hvx, (1 - share) * hvz);
        }

        for (var i = 1; i < _links2; i++)
        {
            var share = (double)i / _links2;
            var at = Nodes + (4 * (_links1 - 1 + i - 1));
            (_y[at], _y[at + 1]) = (_drop.Device.X + (share * (_ringX - _drop.Device.X)), _drop.Device.Z + (share * (_ringZ - _drop.Device.Z)));
        }
    }

    private (double X, double Z, double Vx, double Vz) Hitch(double[] y)
    {
        var (sin, cos) = Math.SinCos(y[Phi]);
        var (armX, armZ) = ((_along * sin) + (_across * cos), (_along * cos) - (_across * sin));
        return (y[0] + armX, y[1] + armZ, y[3] + (y[Omega] * armZ), y[4] - (y[Omega] * armX));
    }

    private double _t1, _atHitch, _onRing;

    private void Rates(double[] y, double[] rates)
    {
        var (hx, hz, hvx, hvz) = Hitch(y);
        var last1 = Nodes + (4 * (_links1 - 2));
        var last2 = Nodes + (4 * (_links1 - 1 + _links2 - 2));
        var load = AtRing(y, last1, y[L1] / _links1, out var ux, out var uz);
        var ground = AtRing(y, last2, y[L2] / _links2, out var gx, out var gz);
        var between = Math.Atan2((gx * uz) - (gz * ux), (gx * ux) + (gz * uz));
        var wrap = Math.Abs(Math.PI - (between < -Math.PI / 2 ? between + (2 * Math.PI) : between));
        var rope = SmoothFriction.Solve(load, ground, _drop.RiggingPoint.Friction * wrap, double.PositiveInfinity, double.PositiveInfinity, _eps);
        _t1 = rope.T1;
        _onRing = double.Hypot((rope.T1 * ux) + (rope.T2 * gx), (rope.T1 * uz) + (rope.T2 * gz));

        var (pullX, pullZ) = Leg(y, rates, Nodes, _links1, y[L1], rope.Slip, rope.T1, (hx, hz, hvx, hvz));
        _atHitch = double.Hypot(pullX, pullZ);
        _ = Leg(y, rates, Nodes + (4 * (_links1 - 1)), _links2, y[L2], -rope.Slip, rope.T2, (_drop.Device.X, _drop.Device.Z, 0, 0));

        var piece = _drop.Piece;
        (rates[0], rates[1], rates[Phi]) = (y[3], y[4], y[Omega]);
        (rates[3], rates[4]) = (pullX / piece.Mass, (pullZ / piece.Mass) - _drop.Computation.Gravity);
        rates[Omega] = ((pullX * (hz - y[1])) - (pullZ * (hx - y[0]))) / piece.Inertia;
        (rates[L1], rates[L2]) = (rope.Slip, -rope.Slip);
    }

    /// <summary>The link at the rigging point as a leg of the friction law, and its direction away from the rigging point.</summary>
    private SmoothFriction.Leg AtRing(double[] y, int node, double natural, out double ux, out double uz)
    {
        var (dx, dz) = (y[node] - _ringX, y[node + 1] - _ringZ);
        var d = double.Hypot(dx, dz);
        (ux, uz) = (dx / d, dz / d);
        var e = (d / natural) - 1;
        var viscous = Viscous(e);
        return e < 0 ? default : new(
            (_drop.Rope.Stiffness * e) + (viscous * ((y[node + 2] * ux) + (y[node + 3] * uz)) / natural), Math.Max(viscous, 1e-6 * _drop.Rope.Stiffness * _drop.Rope.ViscousTime) * (1 + e) / natural);
    }

    /// <summary>
    /// C, N s, come in over the first thousandth of stretch: a link of centimetres that snaps straight would else feel, for microseconds, a
    /// damping force that goes up without bound as links get shorter.
    /// </summary>
    private double Viscous(double e) => _drop.Rope.Stiffness * _drop.Rope.ViscousTime * (1 - Math.Exp(-Math.Max(e, 0) / 1e-3));

    /// <summary>Rates of a leg's inner nodes; returns the pull of its first link on whatever holds its far end.</summary>
    private (double X, double Z) Leg(
        double[] y, double[] rates, int first, int links, double length, double lengthRate, double atRing, (double X, double Z, double Vx, double Vz) end)
    {
        var natural = length / links;
        var (pullX, pullZ) = (0.0, 0.0);
        var (beforeX, beforeZ) = (0.0, 0.0);
        var (px, pz, pvx, pvz) = end;
        for (var i = 1; i <= links; i++)
        {
            var at = first + (4 * (i - 1));
            double x, z, vx, vz;
            if (i < links)
            {
                (x, z, vx, vz) = (y[at], y[at + 1], y[at + 2], y[at + 3]);
            }
            else
            {
                (x, z) = (_ringX, _ringZ);
                (vx, vz) = (-lengthRate * (x - px) / natural, -lengthRate * (z - pz) / natural);
            }

            // Link from the node before to this one.
            var (dx, dz) = (x - px, z - pz);
            var d = Math.Sqrt((dx * dx) + (dz * dz));
            var e = (d / natural) - 1;
            double tension = 0;
            if (i == links)
            {
                tension = atRing;
            }
            else if (e > 0)
            {
                tension = Math.Max(0, (_drop.Rope.Stiffness * e) + (Viscous(e) * (((vx - pvx) * dx) + ((vz - pvz) * dz)) / (d * natural)));
            }

            var (tx, tz) = (tension * dx / d, tension * dz / d);
            if (i == 1)
            {
                (pullX, pullZ) = (tx, tz);
            }
            else
            {
                // The node before this link now has both its links.
                var node = first + (4 * (i - 2));
                var through = (i - 1.0) / links * lengthRate / (2 * natural);
                var (bx, bz, bvx, bvz) = i == 2 ? end : (y[node - 4], y[node - 3], y[node - 2], y[node - 1]);
                rates[node] = pvx + (through * (x - bx));
                rates[node + 1] = pvz + (through * (z - bz));
                rates[node + 2] = ((tx - beforeX) / (_massPerLength * natural)) + (through * (vx - bvx));
                rates[node + 3] = ((tz - beforeZ) / (_massPerLength * natural)) + (through * (vz - bvz)) - _drop.Computation.Gravity;
            }

            (beforeX, beforeZ) = (tx, tz);
            (px, pz, pvx, pvz) = (x, z, vx, vz);
        }

        return (pullX, pullZ);
    }
}
