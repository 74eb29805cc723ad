using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using DropSim.Integration;

namespace DropSim.Model;

/// <content>The laws: from state to forces to rates.</content>
internal sealed partial class DropSystem
{
    /// <summary>Rate at which drift of the hinge constraint is removed, 1/s: fast against a tip of half a second, slow against the step.</summary>
    private const double HingeStabilisation = 50;

    /// <summary>
    /// A distance that does not matter, squared, m2: 1 micrometre. With a tenth of a millimetre a drop at a quarter of the size differed by a
    /// hundredth in the energy of its thirtieth strike from what the scaling law asks.
    /// </summary>
    private const double SmallestDistanceSquared = 1e-12;

    /// <summary>
    /// Where everything is and pulls at one instant; rates too where a span is given (empty: forces and accelerations only).
    /// Writes whatever of <paramref name="at"/> it or a caller reads: it need not be cleared. With <paramref name="justRates"/> it leaves
    /// out what the present phase's rates do not hang on (limits of what sticks, distances of what does not touch), and nothing else of
    /// <paramref name="at"/> may be read: half of the stages of every step ask for no more.
    /// </summary>
    public void Solve(double time, ReadOnlySpan<double> y, ref Instant at, Span<double> rates, bool justRates = false)
    {
        at.HingeX = 0;
        at.HingeZ = 0;
        at.ContactForce = 0;
        at.ContactCount = 0;
        at.ContactEnergy = 0;
        at.ContactLoss = 0;
        at.PushX = 0;
        at.PushZ = 0;
        at.PushLean = 0;
        Place(y, ref at);
        Rope(time, y, ref at, justRates);
        Move(y, ref at, rates, justRates);
    }

    private void Place(ReadOnlySpan<double> y, ref Instant at)
    {
        var (sin, cos) = Elementary.SinCos(y[StateLayout.Lean]);
        at.Sin = sin;
        at.Cos = cos;

        ReadOnlySpan<PlacedMode> modes = _modes;
        var q = y.Slice(_q, modes.Length);
        var qRate = y.Slice(_qRate, modes.Length);
        double w = 0, slope = 0, wRate = 0, slopeRate = 0, shortening = 0, shorteningRate = 0;
        for (var i = 0; i < modes.Length; i++)
        {
            ref readonly var mode = ref modes[i];
            double gq = 0;
            for (var j = 0; j < q.Length; j++)
            {
                gq += _ringShortening[(i * q.Length) + j] * q[j];
            }

            w += mode.Ring * q[i];
            slope += mode.RingSlope * q[i];
            wRate += mode.Ring * qRate[i];
            slopeRate += mode.RingSlope * qRate[i];
            at.RingShortening[i] = gq;
            shortening += q[i] * gq;
            shorteningRate += qRate[i] * gq;
        }

        at.SparDeflection = w;
        at.SparSlope = slope;
        var ringX = _ringOffset + w;
        var ringZ = _ringHeight - (_ringOffset * slope) - (shortening / 2);
        var ringVx = wRate;
        var ringVz = -(_ringOffset * slopeRate) - shorteningRate;
        at.RingX = ringX;
        at.RingZ = ringZ;
        at.RingVx = ringVx;
        at.RingVz = ringVz;

        var rate = y[StateLayout.LeanRate];
        var across = (_body.Hitch.Xi * cos) - (_body.Hitch.Eta * sin);
        var along = (_body.Hitch.Xi * sin) + (_body.Hitch.Eta * cos);
        var hitchX = y[StateLayout.PieceX] + along;
        var hitchZ = y[StateLayout.PieceZ] + across;
        var hitchVx = y[StateLayout.PieceVx] + (rate * across);
        var hitchVz = y[StateLayout.PieceVz] - (rate * along);
        at.HitchX = hitchX;
        at.HitchZ = hitchZ;
        at.HitchVx = hitchVx;
        at.HitchVz = hitchVz;
        at.HitchAcross = across;
        at.HitchAlong = along;

        var dx = hitchX - ringX;
        var dz = hitchZ - ringZ;
        at.FromRingX = dx;
        at.FromRingZ = dz;

        var gx = _deviceX - ringX;
        var gz = _deviceZ - ringZ;
        at.ToDeviceX = gx;
        at.ToDeviceZ = gz;

        // Both legs at once. A slack hitch may pass right by the ring: its direction must stay a number there.
        var lengths = Vector128.Sqrt(Vector128.Create((dx * dx) + (dz * dz) + SmallestDistanceSquared, (gx * gx) + (gz * gz)));
        var perLength = Vector128<double>.One / lengths;
        var perD1 = perLength.ToScalar();
        var perD2 = perLength.GetElement(1);
        var u1X = dx * perD1;
        var u1Z = dz * perD1;
        var vx = hitchVx - ringVx;
        var vz = hitchVz - ringVz;
        at.D1 = lengths.ToScalar();
        at.U1X = u1X;
        at.U1Z = u1Z;
        at.D1Rate = (u1X * vx) + (u1Z * vz);
        var u2X = gx * perD2;
        var u2Z = gz * perD2;
        at.D2 = lengths.GetElement(1);
        at.U2X = u2X;
        at.U2Z = u2Z;
        at.D2Rate = -((u2X * ringVx) + (u2Z * ringVz));

        // How fast the load leg turns less how fast the ground leg does.
        at.LegAngleRate = (((u1X * vz) - (u1Z * vx)) * perD1) + (((u2X * ringVz) - (u2Z * ringVx)) * perD2);
    }

    private void Move(ReadOnlySpan<double> y, ref Instant at, Span<double> rates, bool justRates)
    {
        var t1 = at.Flow.T1;
        var t2 = at.Flow.T2;
        var pullX = t1 * at.U1X;
        var pullZ = t1 * at.U1Z;
        var forceX = pullX + (t2 * at.U2X);
        var forceZ = pullZ + (t2 * at.U2Z);
        at.ForceX = forceX;
        at.ForceZ = forceZ;

        // Piece: weight, rope, air.
        var vx = y[StateLayout.PieceVx];
        var vz = y[StateLayout.PieceVz];
        var leanRate = y[StateLayout.LeanRate];
        var qx = -pullX;
        var qz = -pullZ - _weight;
        var qLean = (pullZ * at.HitchAlong) - (pullX * at.HitchAcross);
        double dragLoss = 0;
        if (_drag > 0)
        {
            var speed = Math.Sqrt((vx * vx) + (vz * vz));
            qx -= _drag * speed * vx;
            qz -= _drag * speed * vz;
            dragLoss = _drag * speed * speed * speed;
        }

        // Spar modes: Q_i = F_x phi_i - e F_z phi_i' - F_z (G q)_i.
        ReadOnlySpan<PlacedMode> modes = _modes;
        var q = y.Slice(_q, modes.Length);
        var qRate = y.Slice(_qRate, modes.Length);
        double dampingLoss = 0;
        for (var i = 0; i < modes.Length; i++)
        {
            ref readonly var mode = ref modes[i];
            at.ModeAcceleration[i] = (forceX * mode.Ring) - (forceZ * ((_ringOffset * mode.RingSlope) + at.RingShortening[i]))
                - (mode.FrequencySquared * q[i]) - (mode.DampingRate * qRate[i]);
            dampingLoss += mode.DampingRate * qRate[i] * qRate[i];
        }

        if (_phase.Hinged)
        {
            for (var place = 0; place < _contacts.Count; place++)
            {
                at.ContactGuard[place] = double.PositiveInfinity;
            }
        }
        else if (!justRates || _phase.Presses)
        {
            _contacts.Evaluate(y, q, qRate, _phase.Contacts, justRates, ref at);
        }

        at.Ax = (qx + at.PushX) * _perMass;
        at.Az = (qz + at.PushZ) * _perMass;
        at.LeanAcceleration = (qLean + at.PushLean) * _perInertia;
        double hingeLoss = 0;
        if (_phase.Hinged)
        {
            hingeLoss = HoldHinge(y, ref at);
        }

        if (rates.IsEmpty)
        {
            return;
        }

        rates[StateLayout.PieceX] = vx;
        rates[StateLayout.PieceZ] = vz;
        rates[StateLayout.Lean] = leanRate;
        rates[StateLayout.PieceVx] = at.Ax;
        rates[StateLayout.PieceVz] = at.Az;
        rates[StateLayout.LeanRate] = at.LeanAcceleration;
        for (var i = 0; i < qRate.Length; i++)
        {
            rates[_q + i] = qRate[i];
            rates[_qRate + i] = at.ModeAcceleration[i];
        }

        rates[StateLayout.LostSpar] = dampingLoss;
        rates[StateLayout.LostContact] = at.ContactLoss;
        rates[StateLayout.LostDrag] = dragLoss;
        rates[StateLayout.LostHinge] = hingeLoss;
        Pay(y, ref at, rates);
    }

    /// <summary>
    /// Two reactions equate the accelerations of the hinge point on the piece and on the spar; they act on both.
    /// Returns the power that stabilising the constraint takes out.
    /// </summary>
    private double HoldHinge(ReadOnlySpan<double> y, ref Instant at)
    {
        var n = _n;
        var h = _body.Hinge;
        var leanRate = y[StateLayout.LeanRate];
        var across = (h.Xi * at.Cos) - (h.Eta * at.Sin);
        var along = (h.Xi * at.Sin) + (h.Eta * at.Cos);

        double w = 0, z = 0, wRate = 0, zRate = 0, wAcc = 0, zAcc = 0;
        double kxx = 0, kxz = 0, kzz = 0;
        Modes zShape = default;
        for (var i = 0; i < n; i++)
        {
            double gq = 0;
            double gqRate = 0;
            for (var j = 0; j < n; j++)
            {
                gq += _topShortening[(i * n) + j] * y[_q + j];
                gqRate += _topShortening[(i * n) + j] * y[_qRate + j];
            }

            var q = y[_q + i];
            var qRate = y[_qRate + i];
            zShape[i] = -(_body.HingeX * _modes[i].TopSlope) - gq;
            w += _modes[i].Top * q;
            z -= (_body.HingeX * _modes[i].TopSlope * q) + (q * gq / 2);
            wRate += _modes[i].Top * qRate;
            zRate += zShape[i] * qRate;
            wAcc += _modes[i].Top * at.ModeAcceleration[i];
            zAcc += (zShape[i] * at.ModeAcceleration[i]) - (qRate * gqRate);
            kxx += _modes[i].Top * _modes[i].Top;
            kxz += _modes[i].Top * zShape[i];
            kzz += zShape[i] * zShape[i];
        }

        var gapX = y[StateLayout.PieceX] + along - (_body.HingeX + w);
        var gapZ = y[StateLayout.PieceZ] + across - (_input.Spar.Height + z);
        var gapVx = y[StateLayout.PieceVx] + (leanRate * across) - wRate;
        var gapVz = y[StateLayout.PieceVz] - (leanRate * along) - zRate;
        const double Beta = HingeStabilisation;
        var rx = at.Ax + (at.LeanAcceleration * across) - (leanRate * leanRate * along) - wAcc + (2 * Beta * gapVx) + (Beta * Beta * gapX);
        var rz = at.Az - (at.LeanAcceleration * along) - (leanRate * leanRate * across) - zAcc + (2 * Beta * gapVz) + (Beta * Beta * gapZ);
        kxx += _perMass + (across * across * _perInertia);
        kxz -= across * along * _perInertia;
        kzz += _perMass + (along * along * _perInertia);
        var determinant = (kxx * kzz) - (kxz * kxz);
        at.HingeX = ((-rx * kzz) + (rz * kxz)) / determinant;
        at.HingeZ = ((-rz * kxx) + (rx * kxz)) / determinant;

        at.Ax += at.HingeX * _perMass;
        at.Az += at.HingeZ * _perMass;
        at.LeanAcceleration += ((at.HingeX * across) - (at.HingeZ * along)) * _perInertia;
        for (var i = 0; i < n; i++)
        {
            at.ModeAcceleration[i] -= (at.HingeX * _modes[i].Top) + (at.HingeZ * zShape[i]);
        }

        return -((at.HingeX * gapVx) + (at.HingeZ * gapVz));
    }

    /// <summary>Rates of the rope's lengths and memory, and where its energy goes (docs/theory/ledger.md).</summary>
    private void Pay(ReadOnlySpan<double> y, ref Instant at, Span<double> rates)
    {
        var l1 = y[StateLayout.LoadLength];
        var l2 = y[StateLayout.GroundLength];
        var relaxed1 = y[StateLayout.LoadRelaxed];
        var relaxed2 = y[StateLayout.GroundRelaxed];
        ref readonly var flow = ref at.Flow;
        var (t1, t2, slip, hitch, device) = (flow.T1, flow.T2, flow.Slip, flow.Hitch, flow.Device);
        var taut1 = at.Branch.LoadTaut;
        var taut2 = at.Branch.GroundTaut;

        // A slack leg's material sits at its free stretch.
        var e1 = taut1 ? at.E1 : at.Free1;
        var e2 = taut2 ? at.E2 : at.Free2;
        var m1 = _relaxing * (e1 - relaxed1);
        var m2 = _relaxing * (e2 - relaxed2);
        var own1 = (e1 - relaxed1) * _relaxationRate;
        var own2 = (e2 - relaxed2) * _relaxationRate;
        var l1Rate = slip + hitch;
        var l2Rate = device - slip;
        rates[StateLayout.LoadLength] = l1Rate;
        rates[StateLayout.GroundLength] = l2Rate;
        rates[StateLayout.RopeRun] = at.WrapsGive ? 0 : device;
        rates[StateLayout.WrapsTaken] = at.WrapsGive ? device : 0;
        rates[StateLayout.HitchTaken] = hitch;
        if (slip == 0 && hitch == 0 && device == 0)
        {
            // Rope that lies still carries nothing along.
            rates[StateLayout.LoadRelaxed] = own1;
            rates[StateLayout.GroundRelaxed] = own2;
            rates[StateLayout.LostRiggingPoint] = 0;
            rates[StateLayout.LostTransport] = 0;
            rates[StateLayout.LostHitch] = 0;
            rates[StateLayout.LostDevice] = 0;
        }
        else
        {
            var u1 = _curve.Energy(e1) + (m1 * (e1 - relaxed1) / 2);
            var u2 = _curve.Energy(e2) + (m2 * (e2 - relaxed2) / 2);
            var g1 = (t1 * (1 + e1)) - u1;
            var g2 = (t2 * (1 + e2)) - u2;

            // Rope that crosses the rigging point carries its memory along; rope from the device and the knot has none.
            var crossing1 = slip > 0 ? slip * (relaxed2 - relaxed1) : 0;
            var crossing2 = slip < 0 ? -slip * (relaxed1 - relaxed2) : 0;
            rates[StateLayout.LoadRelaxed] = own1 + ((crossing1 - (hitch * relaxed1)) * at.PerL1);
            rates[StateLayout.GroundRelaxed] = own2 + ((crossing2 - (device * relaxed2)) * at.PerL2);

            var friction = slip * (t1 - t2) * (1 + (slip > 0 ? e2 : e1));
            rates[StateLayout.LostRiggingPoint] = friction;
            rates[StateLayout.LostTransport] = (slip * (g1 - g2)) - friction + (m1 * crossing1) + (m2 * crossing2);
            rates[StateLayout.LostHitch] = (hitch * g1) - (m1 * hitch * relaxed1);
            rates[StateLayout.LostDevice] = (device * g2) - (m2 * device * relaxed2);
        }

        // What damping takes: (T - S - m) L edot where the leg is taut, m L adot of its own in either case.
        var loss = (m1 * own1 * l1) + (m2 * own2 * l2);
        if (taut1)
        {
            var edotTimesLength = at.D1Rate - ((1 + e1) * l1Rate);
            loss += (t1 - at.Lasting1 - m1) * edotTimesLength;
        }

        if (taut2)
        {
            var edotTimesLength = at.D2Rate - ((1 + e2) * l2Rate);
            loss += (t2 - at.Lasting2 - m2) * edotTimesLength;
        }

        rates[StateLayout.LostRope] = loss;
    }
}
