using System.Runtime.CompilerServices;
using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// Where the piece can strike the spar: each hard corner of the piece against the spar's side below the cut, and the
/// front corner of the spar's top against the piece's front flank.
/// Law (docs/theory/contact.md): Hunt and Crossley, F = k delta^1.5 (1 + d deltadot), along the gradient of the penetration delta.
/// For a corner, delta = r(z) + w(z) - x, measured horizontally to the bent, tapered side. For the spar's top corner,
/// delta = flank(xi) - eta in the piece's own axes.
/// A corner can strike only once it has been below the cut and clear of the spar.
/// Left out: friction in the contact, crushing, the far side of the spar.
/// </summary>
internal sealed class ContactPlaces
{
    /// <summary>Most places of contact.</summary>
    public const int Most = 6;

    /// <summary>A corner that is farther than this from anywhere the bent side can be is not measured to it exactly, m.</summary>
    private const double Margin = 0.01;

    /// <summary>Stations at which the largest deflection of each mode is looked for.</summary>
    private const int ReachStations = 64;

    private readonly PieceBody _body;
    private readonly ModalSpar _spar;
    private readonly double _height;
    private readonly double _topRadius;
    private readonly double _stiffness;
    private readonly double _damping;
    private readonly double[] _topShape;
    private readonly double[] _topSlope;
    private readonly BodyPoint[] _corners;
    private readonly double _widest;

    // How far a unit of each mode moves any point of the side or of the top's edge, at most.
    private readonly double[] _reach;
    private readonly double _flankSlope;
    private readonly int _modes;

    public ContactPlaces(PieceBody body, ModalSpar spar, SparInput sparInput, ComputationInput computation)
    {
        _body = body;
        _spar = spar;
        _height = sparInput.Height;
        _topRadius = spar.RadiusAt(_height);
        _stiffness = computation.ContactStiffness;
        _damping = computation.ContactDamping;
        _modes = spar.ModeCount;
        _topShape = new double[_modes];
        _topSlope = new double[_modes];
        spar.ShapeAt(_height, _topShape, _topSlope);
        _corners = body.HardCorners;
        _widest = spar.Taper.LargestRadius;
        _reach = new double[_modes];
        var shape = new double[_modes];
        var slope = new double[_modes];
        for (var k = 0; k <= ReachStations; k++)
        {
            spar.ShapeAt(_height * k / ReachStations, shape, slope);
            for (var i = 0; i < _modes; i++)
            {
                // A little more than seen, for what lies between the stations.
                _reach[i] = Math.Max(_reach[i], 1.02 * Math.Abs(shape[i]));
            }
        }

        for (var i = 0; i < _modes; i++)
        {
            // The top's edge also goes up and down as the top tilts.
            _reach[i] += Math.Abs(_topRadius * _topSlope[i]);
        }

        _flankSlope = (body.FlankEnd.Eta - body.Mouth.Eta) / (body.FlankEnd.Xi - body.Mouth.Xi);
        Names = [.. body.HardCornerNames, "front edge of the spar's top against the piece"];
    }

    public int Count => _body.HardCorners.Length + 1;

    public string[] Names { get; }

    /// <summary>Height on the spar at which a place of contact acts, m.</summary>
    public double HeightOf(int place, double sin, double cos, double pieceZ) => place == _body.HardCorners.Length
        ? _height
        : pieceZ + (_body.HardCorners[place].Xi * cos) - (_body.HardCorners[place].Eta * sin);

    /// <summary>
    /// Guards of all places, and the force of those that press: its generalised forces on the piece (x, z, lean) go to
    /// <see cref="Instant.PushX"/> and its neighbours, those on the spar's modes to their accelerations. With <paramref name="justForces"/>
    /// places that do not press are passed over.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Evaluate(
        ReadOnlySpan<double> y, ReadOnlySpan<double> q, ReadOnlySpan<double> qRate, ReadOnlySpan<ContactState> states, bool justForces, ref Instant at)
    {
        double reach = 0;
        for (var i = 0; i < q.Length; i++)
        {
            reach += _reach[i] * Math.Abs(q[i]);
        }

        var (sin, cos) = (at.Sin, at.Cos);
        var (pieceX, pieceZ) = (y[StateLayout.PieceX], y[StateLayout.PieceZ]);
        var corners = _corners;
        for (var place = 0; place < corners.Length; place++)
        {
            var state = states[place];
            if (justForces && state != ContactState.Pressing)
            {
                continue;
            }

            var p = corners[place];
            var armX = (p.Xi * cos) - (p.Eta * sin);
            var armZ = -(p.Xi * sin) - (p.Eta * cos);
            var x = pieceX - armZ;
            var z = pieceZ + armX;
            if (state == ContactState.Pressing || !IsFar(state, x, z, reach, out var guard))
            {
                Corner(y, q, qRate, state, place, x, z, armX, armZ, ref at);
                continue;
            }

            // Where it is not measured it is far: nothing may take it for touching.
            at.Penetration[place] = double.NegativeInfinity;
            at.ContactGuard[place] = guard;
        }

        var top = corners.Length;
        if (justForces && states[top] != ContactState.Pressing)
        {
            return;
        }

        if (states[top] == ContactState.Disarmed)
        {
            // Beyond the ends of the flank by more than bending can make good: it stays so.
            var xi = ((_topRadius - pieceX) * sin) + ((_height - pieceZ) * cos);
            var beyond = Math.Max(_body.Mouth.Xi - xi, xi - _body.FlankEnd.Xi) - reach;
            if (beyond > Margin)
            {
                at.Penetration[top] = double.NegativeInfinity;
                at.ContactGuard[top] = beyond;
                return;
            }
        }

        Top(y, q, qRate, states[top], top, ref at);
    }

    /// <summary>
    /// Guard of a place that does not press: a disarmed one is armed once it is within the part it can meet and clear of it, an armed
    /// one ends where it touches or leaves that part.
    /// </summary>
    private static double Clear(ContactState state, double within, double depth) =>
        state == ContactState.Disarmed ? Math.Max(-within, depth) : Math.Min(-depth, within);

    /// <summary>A corner above the cut, or farther from the side than bending can bring it, has a guard without being measured exactly.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool IsFar(ContactState state, double x, double z, double reach, out double guard)
    {
        var below = _height - z;
        if (below < 0)
        {
            // Above the cut: a disarmed corner stays so, an armed one is disarmed.
            guard = state == ContactState.Disarmed ? -below : below;
            return true;
        }

        var nearest = _widest + reach - x;
        if (nearest >= -Margin)
        {
            nearest = _spar.RadiusAt(z) + reach - x;
        }

        guard = Clear(state, below, nearest);
        return nearest < -Margin;
    }

    private void Corner(
        ReadOnlySpan<double> y, ReadOnlySpan<double> q, ReadOnlySpan<double> qRate, ContactState state, int place,
        double x, double z, double armX, double armZ, ref Instant at)
    {
        var below = _height - z;
        if (state != ContactState.Pressing)
        {
            // How deep is enough to know whether it touches.
            var depth = _spar.RadiusAt(z) + _spar.DeflectionAt(z, q) - x;
            at.Penetration[place] = depth;
            at.ContactGuard[place] = Clear(state, below, depth);
            return;
        }

        Modes shape = default;
        Modes slope = default;
        _spar.ShapeAt(Math.Min(z, _height), ((Span<double>)shape)[.._modes], ((Span<double>)slope)[.._modes]);
        double w = 0;
        double wSlope = 0;
        double wRate = 0;
        for (var i = 0; i < _modes; i++)
        {
            if (below < 0)
            {
                shape[i] -= slope[i] * below;
            }

            w += shape[i] * q[i];
            wSlope += slope[i] * q[i];
            wRate += shape[i] * qRate[i];
        }

        var gradientZ = (below < 0 ? 0 : _spar.RadiusSlopeAt(z)) + wSlope;
        var delta = (below < 0 ? _topRadius : _spar.RadiusAt(z)) + w - x;
        var vx = y[StateLayout.PieceVx] + (y[StateLayout.LeanRate] * armX);
        var vz = y[StateLayout.PieceVz] + (y[StateLayout.LeanRate] * armZ);
        var deltaRate = (gradientZ * vz) + wRate - vx;
        at.Penetration[place] = delta;
        at.PenetrationRate[place] = deltaRate;
        var force = Force(delta, deltaRate, place, ref at);

        // Generalised forces are -F times the gradient of delta: (-1, gradientZ) for the corner, shape for the modes.
        var fx = force;
        var fz = -force * gradientZ;
        at.PushX += fx;
        at.PushZ += fz;
        at.PushLean += (fx * armX) + (fz * armZ);
        for (var i = 0; i < _modes; i++)
        {
            at.ModeAcceleration[i] -= force * shape[i];
        }

        AddContact(ref at, -fx, -fz, z, _spar.RadiusAt(Math.Min(z, _height)));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Top(
        ReadOnlySpan<double> y, ReadOnlySpan<double> q, ReadOnlySpan<double> qRate, ContactState state, int place, ref Instant at)
    {
        double cx = _topRadius;
        var cz = _height;
        double vcx = 0;
        double vcz = 0;
        for (var i = 0; i < _modes; i++)
        {
            cx += _topShape[i] * q[i];
            cz -= _topRadius * _topSlope[i] * q[i];
            vcx += _topShape[i] * qRate[i];
            vcz -= _topRadius * _topSlope[i] * qRate[i];
        }

        var dx = cx - y[StateLayout.PieceX];
        var dz = cz - y[StateLayout.PieceZ];
        var xi = (dx * at.Sin) + (dz * at.Cos);
        var eta = (dx * at.Cos) - (dz * at.Sin);
        var inside = Math.Min(xi - _body.Mouth.Xi, _body.FlankEnd.Xi - xi);
        var delta = _body.Mouth.Eta + (_flankSlope * (xi - _body.Mouth.Xi)) - eta;
        at.Penetration[place] = delta;
        var gx = (_flankSlope * at.Sin) - at.Cos;
        var gz = (_flankSlope * at.Cos) + at.Sin;
        var gLean = (_flankSlope * eta) + xi;
        var deltaRate = (gx * (vcx - y[StateLayout.PieceVx])) + (gz * (vcz - y[StateLayout.PieceVz])) + (gLean * y[StateLayout.LeanRate]);
        at.PenetrationRate[place] = deltaRate;
        if (state != ContactState.Pressing)
        {
            at.ContactGuard[place] = Clear(state, inside, delta);
            return;
        }

        var force = Force(delta, deltaRate, place, ref at);
        at.ContactGuard[place] = Math.Min(at.ContactGuard[place], inside);
        at.PushX += force * gx;
        at.PushZ += force * gz;
        at.PushLean -= force * gLean;
        for (var i = 0; i < _modes; i++)
        {
            at.ModeAcceleration[i] -= force * ((gx * _topShape[i]) - (gz * _topRadius * _topSlope[i]));
        }

        AddContact(ref at, -force * gx, -force * gz, _height, _topRadius);
    }

    /// <summary>How far the front corner of the spar's top is within the ends of the piece's front flank, m; negative beyond them.</summary>
    public double RoomOnFlank(ReadOnlySpan<double> y, int firstMode, double sin, double cos)
    {
        double dx = _topRadius - y[StateLayout.PieceX];
        var dz = _height - y[StateLayout.PieceZ];
        for (var i = 0; i < _modes; i++)
        {
            dx += _topShape[i] * y[firstMode + i];
            dz -= _topRadius * _topSlope[i] * y[firstMode + i];
        }

        var xi = (dx * sin) + (dz * cos);
        return Math.Min(xi - _body.Mouth.Xi, _body.FlankEnd.Xi - xi);
    }

    private double Force(double delta, double deltaRate, int place, ref Instant at)
    {
        var stretch = Math.Max(delta, 0);
        var root = Math.Sqrt(stretch);
        var elastic = _stiffness * stretch * root;
        var push = 1 + (_damping * deltaRate);

        // Pressing ends where the force would end: at no penetration, or where damping would pull.
        at.ContactGuard[place] = Math.Min(delta, push);
        at.ContactLoss += elastic * _damping * deltaRate * deltaRate;
        at.ContactEnergy += elastic * stretch / 2.5;
        return elastic * push;
    }

    /// <summary>Energy stored at a penetration, J.</summary>
    public double StoredEnergy(double penetration) => _stiffness * Elementary.Pow(Math.Max(penetration, 0), 2.5) / 2.5;

    private static void AddContact(ref Instant at, double onSparX, double onSparZ, double height, double offset)
    {
        var size = Math.Sqrt((onSparX * onSparX) + (onSparZ * onSparZ));
        at.ContactX += onSparX;
        at.ContactZ += onSparZ;
        at.ContactForce += size;
        at.ContactHeight = height;
        at.ContactOffset = offset;
    }

    /// <summary>
    /// Mass that a place of contact feels along its normal, kg: 1 / (n.n/m + (r x n)^2 / I) with n the gradient of the penetration; half of it times the closing speed squared is the energy of a strike.
    /// </summary>
    public double EffectiveMass(int place, ReadOnlySpan<double> y, double sin, double cos)
    {
        double nx = -1;
        double nz = 0;
        double arm;
        if (place < _body.HardCorners.Length)
        {
            var p = _body.HardCorners[place];
            var z = y[StateLayout.PieceZ] + (p.Xi * cos) - (p.Eta * sin);
            nz = z < _height ? _spar.RadiusSlopeAt(z) : 0;
            arm = (nx * ((p.Xi * cos) - (p.Eta * sin))) - (nz * ((p.Xi * sin) + (p.Eta * cos)));
        }
        else
        {
            var dx = _topRadius - y[StateLayout.PieceX];
            var dz = _height - y[StateLayout.PieceZ];
            nx = -((_flankSlope * sin) - cos);
            nz = -((_flankSlope * cos) + sin);
            arm = (_flankSlope * ((dx * cos) - (dz * sin))) + (dx * sin) + (dz * cos);
        }

        var norm = (nx * nx) + (nz * nz);
        return 1 / ((norm / _body.Mass) + (arm * arm / _body.Inertia));
    }
}
