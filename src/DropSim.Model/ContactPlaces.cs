using System.Runtime.CompilerServices;
using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// Where the piece can hit the spar: each hard corner of the piece against the spar's side below the cut, and the
/// front edge of the spar's top against the piece's front flank and against the flat of its butt.
/// Law (docs/theory/contact.md): Hunt and Crossley, F = k delta^1.5 (1 + d deltadot), along the gradient of the penetration delta, and
/// friction across it, F_t = -mu N v_t / sqrt(v_t^2 + v_s^2).
/// For a corner, delta = r(z) + w(z) - x, measured horizontally to the bent, tapered side. For the spar's edge, delta is measured in the
/// piece's own axes to the face that it meets (<see cref="PieceFace"/>).
/// A corner can hit only once it has been below the cut and clear of the spar, the edge a face only once it has been before it and clear.
/// Left out: crushing, the far side of the spar, the slope of the face cut against the edge.
/// </summary>
internal sealed class ContactPlaces
{
    /// <summary>Most places of contact.</summary>
    public const int Most = 7;

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
    private readonly double _friction;
    private readonly double _stillSpeed;
    private readonly double[] _topShape;
    private readonly double[] _topSlope;

    // q.G q / 2 is how far bending lowers the top; row by row.
    private readonly double[] _topShortening;
    private readonly BodyPoint[] _corners;
    private readonly double _widest;

    // How far a unit of each mode moves any point of the side or of the top's edge, at most.
    private readonly double[] _reach;
    private readonly PieceFace[] _faces;
    private readonly int _modes;

    public ContactPlaces(PieceBody body, ModalSpar spar, SparInput sparInput, ComputationInput computation)
    {
        _body = body;
        _spar = spar;
        _height = sparInput.Height;
        _topRadius = spar.RadiusAt(_height);
        _stiffness = computation.ContactStiffness;
        _damping = computation.ContactDamping;
        _friction = computation.ContactFriction;
        _stillSpeed = computation.ContactStillSpeed;
        _modes = spar.ModeCount;
        _topShape = new double[_modes];
        _topSlope = new double[_modes];
        spar.ShapeAt(_height, _topShape, _topSlope);
        _topShortening = spar.ShorteningAt(_height);
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

        _faces = body.Faces;
        Names = [.. body.HardCornerNames, .. _faces.Select(f => f.Name)];
    }

    public int Count => _corners.Length + _faces.Length;

    /// <summary>The place where the spar's edge meets the flat of the butt.</summary>
    public int Butt => Count - 1;

    public string[] Names { get; }

    /// <summary>Height on the spar at which a place of contact acts, m.</summary>
    public double HeightOf(int place, double sin, double cos, double pieceZ) => place >= _corners.Length
        ? _height
        : pieceZ + (_corners[place].Xi * cos) - (_corners[place].Eta * sin);

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

        for (var k = 0; k < _faces.Length; k++)
        {
            var place = corners.Length + k;
            var state = states[place];
            if (justForces && state != ContactState.Pressing)
            {
                continue;
            }

            if (state == ContactState.Disarmed)
            {
                // Beyond the ends of the face by more than bending can make good: it stays so.
                var dx = _topRadius - pieceX;
                var dz = _height - pieceZ;
                var beyond = -_faces[k].Within((dx * sin) + (dz * cos), (dx * cos) - (dz * sin)) - reach;
                if (beyond > Margin)
                {
                    at.Penetration[place] = double.NegativeInfinity;
                    at.ContactGuard[place] = beyond;
                    continue;
                }
            }

            Edge(y, q, qRate, state, place, _faces[k], ref at);
        }
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
        double slopeRate = 0;
        for (var i = 0; i < _modes; i++)
        {
            if (below < 0)
            {
                shape[i] -= slope[i] * below;
            }

            w += shape[i] * q[i];
            wSlope += slope[i] * q[i];
            wRate += shape[i] * qRate[i];
            slopeRate += slope[i] * qRate[i];
        }

        var gradientZ = (below < 0 ? 0 : _spar.RadiusSlopeAt(z)) + wSlope;
        var delta = (below < 0 ? _topRadius : _spar.RadiusAt(z)) + w - x;
        var vx = y[StateLayout.PieceVx] + (y[StateLayout.LeanRate] * armX);
        var vz = y[StateLayout.PieceVz] + (y[StateLayout.LeanRate] * armZ);
        var deltaRate = (gradientZ * vz) + wRate - vx;
        at.Penetration[place] = delta;
        at.PenetrationRate[place] = deltaRate;
        var force = Force(delta, deltaRate, place, ref at);

        // Along the side: the bark there moves with the deflection, and up and down as the section turns.
        var radius = _spar.RadiusAt(Math.Min(z, _height));
        var size = Math.Sqrt(1 + (gradientZ * gradientZ));
        var tangentX = gradientZ / size;
        var tangentZ = 1 / size;
        var along = (tangentX * (vx - wRate)) + (tangentZ * (vz + (radius * slopeRate)));
        var rub = Rub(force * size, along, ref at);

        // Generalised forces are -F times the gradient of delta: (-1, gradientZ) for the corner, shape for the modes; the rub along the side.
        var fx = force + (rub * tangentX);
        var fz = -(force * gradientZ) + (rub * tangentZ);
        at.PushX += fx;
        at.PushZ += fz;
        at.PushLean += (fx * armX) + (fz * armZ);
        for (var i = 0; i < _modes; i++)
        {
            at.ModeAcceleration[i] -= (fx * shape[i]) - (rub * tangentZ * radius * slope[i]);
        }

        AddContact(ref at, -fx, -fz, z, radius);
    }

    private void Edge(
        ReadOnlySpan<double> y, ReadOnlySpan<double> q, ReadOnlySpan<double> qRate, ContactState state, int place, in PieceFace face, ref Instant at)
    {
        var (xi, eta, dx, dz) = EdgeSeen(y, q, at.Sin, at.Cos);
        double vcx = 0;
        double vcz = 0;
        Modes lowers = default;
        for (var i = 0; i < _modes; i++)
        {
            lowers[i] = (_topRadius * _topSlope[i]) + Shortening(i, q);
            vcx += _topShape[i] * qRate[i];
            vcz -= lowers[i] * qRate[i];
        }

        var inside = face.Within(xi, eta);
        var delta = face.Depth(xi, eta);
        at.Penetration[place] = delta;
        var (gx, gz, gLean) = face.Gradient(xi, eta, at.Sin, at.Cos);
        var deltaRate = (gx * (vcx - y[StateLayout.PieceVx])) + (gz * (vcz - y[StateLayout.PieceVz])) + (gLean * y[StateLayout.LeanRate]);
        at.PenetrationRate[place] = deltaRate;
        if (state != ContactState.Pressing)
        {
            at.ContactGuard[place] = Clear(state, inside, delta);
            return;
        }

        var force = Force(delta, deltaRate, place, ref at);
        at.ContactGuard[place] = Math.Min(at.ContactGuard[place], inside);

        // Along the face: how fast the piece's wood passes the edge.
        var size = Math.Sqrt((gx * gx) + (gz * gz));
        var tangentX = -gz / size;
        var tangentZ = gx / size;
        var leanRate = y[StateLayout.LeanRate];
        var along = (tangentX * (y[StateLayout.PieceVx] + (leanRate * dz) - vcx)) + (tangentZ * (y[StateLayout.PieceVz] - (leanRate * dx) - vcz));
        var rub = Rub(force * size, along, ref at);
        var fx = (force * gx) + (rub * tangentX);
        var fz = (force * gz) + (rub * tangentZ);
        at.PushX += fx;
        at.PushZ += fz;
        at.PushLean += (rub * ((tangentX * dz) - (tangentZ * dx))) - (force * gLean);
        for (var i = 0; i < _modes; i++)
        {
            at.ModeAcceleration[i] -= (fx * _topShape[i]) - (fz * lowers[i]);
        }

        AddContact(ref at, -fx, -fz, _height, _topRadius);
    }

    /// <summary>The front edge of the spar's top as the piece sees it: along and across its axis, and level and upright from its centre of gravity, m.</summary>
    private (double Xi, double Eta, double Dx, double Dz) EdgeSeen(ReadOnlySpan<double> y, ReadOnlySpan<double> q, double sin, double cos)
    {
        var dx = _topRadius - y[StateLayout.PieceX];
        var dz = _height - y[StateLayout.PieceZ];
        for (var i = 0; i < _modes; i++)
        {
            dx += _topShape[i] * q[i];
            dz -= ((_topRadius * _topSlope[i]) + (Shortening(i, q) / 2)) * q[i];
        }

        return ((dx * sin) + (dz * cos), (dx * cos) - (dz * sin), dx, dz);
    }

    /// <summary>(G q)_i at the top: how the axis comes down as mode i grows.</summary>
    private double Shortening(int i, ReadOnlySpan<double> q)
    {
        double sum = 0;
        for (var j = 0; j < q.Length; j++)
        {
            sum += _topShortening[(i * q.Length) + j] * q[j];
        }

        return sum;
    }

    /// <summary>How far the front edge of the spar's top is within the ends of the face that it meets at this place, m; negative beyond them.</summary>
    public double RoomOnFace(int place, ReadOnlySpan<double> y, int firstMode, double sin, double cos)
    {
        var (xi, eta, _, _) = EdgeSeen(y, y.Slice(firstMode, _modes), sin, cos);
        return _faces[place - _corners.Length].Within(xi, eta);
    }

    /// <summary>How hard a reaction between piece and spar pushes the piece off the face at this place, N; negative where it would pull.</summary>
    public double PushOn(int place, double reactionX, double reactionZ, double sin, double cos)
    {
        var (gx, gz, _) = _faces[place - _corners.Length].Gradient(0, 0, sin, cos);
        return (reactionX * gx) + (reactionZ * gz);
    }

    /// <summary>Friction along the touching sides against the speed <paramref name="along"/>, N; what it loses is booked.</summary>
    private double Rub(double normal, double along, ref Instant at)
    {
        var rub = -_friction * normal * along / Math.Sqrt((along * along) + (_stillSpeed * _stillSpeed));
        at.ContactLoss -= rub * along;
        return rub;
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
        at.ContactForce += Math.Sqrt((onSparX * onSparX) + (onSparZ * onSparZ));
        at.Contacts[at.ContactCount++] = new(height, offset, onSparX, onSparZ);
    }

    /// <summary>
    /// Mass that a place of contact feels along its normal, kg: 1 / (n.n/m + (r x n)^2 / I) with n the gradient of the penetration; half of it times the closing speed squared is the energy of a hit.
    /// </summary>
    public double EffectiveMass(int place, ReadOnlySpan<double> y, double sin, double cos)
    {
        double nx = -1;
        double nz = 0;
        double arm;
        if (place < _corners.Length)
        {
            var p = _corners[place];
            var z = y[StateLayout.PieceZ] + (p.Xi * cos) - (p.Eta * sin);
            nz = z < _height ? _spar.RadiusSlopeAt(z) : 0;
            arm = (nx * ((p.Xi * cos) - (p.Eta * sin))) - (nz * ((p.Xi * sin) + (p.Eta * cos)));
        }
        else
        {
            // The spar stands straight here: what bends it turns the arm by a thousandth.
            var dx = _topRadius - y[StateLayout.PieceX];
            var dz = _height - y[StateLayout.PieceZ];
            (nx, nz, arm) = _faces[place - _corners.Length].Gradient((dx * sin) + (dz * cos), (dx * cos) - (dz * sin), sin, cos);
        }

        var norm = (nx * nx) + (nz * nz);
        return 1 / ((norm / _body.Mass) + (arm * arm / _body.Inertia));
    }
}
