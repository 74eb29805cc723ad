using DropSim.Integration;

namespace DropSim.Model;

/// <content>The laws: from state to forces to rates.</content>
internal sealed partial class DropSystem
{
    /// <summary>Rate at which drift of the hinge constraint is removed, 1/s: fast against a tip of half a second, slow against the step.</summary>
    private const double HingeStabilisation = 50;

    /// <summary>A distance that does not matter, squared, m2: 0.1 mm.</summary>
    private const double SmallestDistanceSquared = 1e-8;

    /// <summary>
    /// Where everything is and pulls at one instant; rates too where a span is given (empty: forces and accelerations only).
    /// Writes whatever of <paramref name="at"/> it or a caller reads: it need not be cleared.
    /// </summary>
    public void Solve(double time, ReadOnlySpan<double> y, ref Instant at, Span<double> rates)
    {
        at.HingeX = 0;
        at.HingeZ = 0;
        at.ContactX = 0;
        at.ContactZ = 0;
        at.ContactForce = 0;
        at.ContactHeight = 0;
        at.ContactOffset = 0;
        at.ContactEnergy = 0;
        Place(y, ref at);
        Rope(time, y, ref at);
        Move(y, ref at, rates);
    }

    internal void Place(ReadOnlySpan<double> y, ref Instant at)
    {
        var n = _n;
        double w = 0, slope = 0, wRate = 0, slopeRate = 0, shortening = 0, shorteningRate = 0;
        for (var i = 0; i < n; i++)
        {
            var q = y[_q + i];
            var qRate = y[_qRate + i];
            double gq = 0;
            for (var j = 0; j < n; j++)
            {
                gq += _ringShortening[(i * n) + j] * y[_q + j];
            }

            w += _ringShape[i] * q;
            slope += _ringSlope[i] * q;
            wRate += _ringShape[i] * qRate;
            slopeRate += _ringSlope[i] * qRate;
            at.RingShortening[i] = gq;
            shortening += q * gq;
            shorteningRate += qRate * gq;
        }

        at.SparDeflection = w;
        at.SparSlope = slope;
        at.RingX = _ringOffset + w;
        at.RingZ = _ringHeight - (_ringOffset * slope) - (shortening / 2);
        at.RingVx = wRate;
        at.RingVz = -(_ringOffset * slopeRate) - shorteningRate;

        (at.Sin, at.Cos) = Elementary.SinCos(y[StateLayout.Lean]);
        var rate = y[StateLayout.LeanRate];
        var across = (_body.Hitch.Xi * at.Cos) - (_body.Hitch.Eta * at.Sin);
        var along = (_body.Hitch.Xi * at.Sin) + (_body.Hitch.Eta * at.Cos);
        at.HitchX = y[StateLayout.PieceX] + along;
        at.HitchZ = y[StateLayout.PieceZ] + across;
        at.HitchVx = y[StateLayout.PieceVx] + (rate * across);
        at.HitchVz = y[StateLayout.PieceVz] - (rate * along);

        var dx = at.HitchX - at.RingX;
        var dz = at.HitchZ - at.RingZ;

        // A slack hitch may pass right by the ring: its direction must stay a number there.
        at.D1 = Math.Sqrt((dx * dx) + (dz * dz) + SmallestDistanceSquared);
        at.PerD1 = 1 / at.D1;
        at.U1X = dx * at.PerD1;
        at.U1Z = dz * at.PerD1;
        at.D1Rate = (at.U1X * (at.HitchVx - at.RingVx)) + (at.U1Z * (at.HitchVz - at.RingVz));
        dx = _deviceX - at.RingX;
        dz = _deviceZ - at.RingZ;
        at.D2 = Math.Sqrt((dx * dx) + (dz * dz));
        at.PerD2 = 1 / at.D2;
        at.U2X = dx * at.PerD2;
        at.U2Z = dz * at.PerD2;
        at.D2Rate = -((at.U2X * at.RingVx) + (at.U2Z * at.RingVz));
    }

    internal void Rope(double time, ReadOnlySpan<double> y, ref Instant at)
    {
        at.PerL1 = 1 / y[StateLayout.LoadLength];
        at.PerL2 = 1 / y[StateLayout.GroundLength];
        at.E1 = (at.D1 * at.PerL1) - 1;
        at.E2 = (at.D2 * at.PerL2) - 1;

        // Angle from ground leg to load leg, counter-clockwise: pi where they lie in one line, 0 when both hang down, negative when
        // they cross. The legs' own directions say which turn it is on, so that it stays continuous wherever the device stands.
        var cross = (at.U2X * at.U1Z) - (at.U2Z * at.U1X);
        var dot = (at.U2X * at.U1X) + (at.U2Z * at.U1Z);
        at.LegAngle = Elementary.Atan2(cross, dot);
        if (at.U1Z >= 0)
        {
            // With both legs pointing down the two directions are less than half a turn apart: there is only one turn to be on.
            var turned = DirectionOfLoadLeg(at.U1X, at.U1Z) - Elementary.Atan2(at.U2Z, at.U2X);
            at.LegAngle += 2 * Math.PI * Math.Round((turned - at.LegAngle) / (2 * Math.PI));
        }

        at.Wrap = _phase.WrapSign * (Math.PI - at.LegAngle);
        var rho = Ratio(ref at);

        at.HandForce = _hand.Force(_phase.Hand, time, y[StateLayout.RopeRun]);
        at.DeviceRatio = _phase.DeviceRatio;
        var b1 = _viscous * at.D1 * at.PerL1 * at.PerL1;
        var b2 = _viscous * at.D2 * at.PerL2 * at.PerL2;
        at.Lasting1 = _curve.Tension(at.E1);
        at.Lasting2 = _curve.Tension(at.E2);
        var a1 = at.Lasting1 + (_relaxing * (at.E1 - y[StateLayout.LoadRelaxed])) + (_viscous * at.D1Rate * at.PerL1);
        var a2 = at.Lasting2 + (_relaxing * (at.E2 - y[StateLayout.GroundRelaxed])) + (_viscous * at.D2Rate * at.PerL2);
        at.HandCapacity = _phase.Locked ? double.PositiveInfinity : at.DeviceRatio * at.HandForce;
        at.WrapsCapacity = WrapsCapacity(y);
        var wrapsWeaker = at.WrapsCapacity < at.HandCapacity;
        at.WrapsGive = _phase.Phaseless ? wrapsWeaker : _phase.WrapsGive;
        var wrapsLimit = _phase.Network.DeviceGives && !_phase.Phaseless ? _phase.WrapsGive : wrapsWeaker;
        var device = wrapsLimit ? at.WrapsCapacity : at.HandCapacity;
        at.Numbers = new(a1, b1, a2, b2, rho, HitchCapacity(y), device)
        {
            HitchSlope = Slope(_input.Rope.HitchTakeUp),
            DeviceSlope = wrapsLimit ? Slope(_input.Rope.WrapsTakeUp) : at.DeviceRatio * _hand.Slope(_phase.Hand),
            DeviceRate = wrapsLimit ? 0 : at.DeviceRatio * _hand.Rate(_phase.Hand),
            RhoRate = RatioRate(ref at),
        };
        at.Branch = _phase.Network;
        if (_phase.Phaseless || !at.Branch.LoadTaut || !at.Branch.GroundTaut)
        {
            FindFreeStrains(y, ref at);
        }

        if (_phase.Phaseless)
        {
            at.Branch = ChooseBranch(ref at, null);
        }

        at.Flow = FrictionNetwork.Flow(at.Branch, at.Numbers);
    }

    /// <summary>Stretches at which the legs would pull nothing; needed only where one is, or may become, slack.</summary>
    private void FindFreeStrains(ReadOnlySpan<double> y, ref Instant at)
    {
        at.Free1 = _curve.FreeStrain(_relaxing, y[StateLayout.LoadRelaxed]);
        at.Free2 = _curve.FreeStrain(_relaxing, y[StateLayout.GroundRelaxed]);
    }

    /// <summary>
    /// The load leg's direction is followed from -210 to 150 degrees from the horizontal toward the fall: the hitch starts above the
    /// rigging point and falls on the fall side; a piece that swings farther round has wrapped the spar. The ground leg points down,
    /// from -180 to 0 degrees, since the device stands below the rigging point.
    /// </summary>
    private const double LoadLegCut = 150 * Math.PI / 180;

    private static double DirectionOfLoadLeg(double x, double z)
    {
        var direction = Elementary.Atan2(z, x);
        return direction > LoadLegCut ? direction - (2 * Math.PI) : direction;
    }

    private double Ratio(ref Instant at)
    {
        at.RhoSliding = Elementary.Exp(_friction * at.Wrap);
        at.RhoBearing = at.RhoSliding;
        if (_frictionless)
        {
            return 1;
        }

        if (!_isBlock)
        {
            return at.RhoSliding;
        }

        at.RhoBearing = 1 + (_bearing * Elementary.SinCos(at.Wrap / 2).Sin);
        return _phase.Phaseless ? Math.Min(at.RhoBearing, at.RhoSliding) : _phase.BearingTurns ? at.RhoBearing : at.RhoSliding;
    }

    /// <summary>How fast the ratio at the rigging point changes as the legs turn, 1/s.</summary>
    private double RatioRate(ref Instant at)
    {
        if (_frictionless)
        {
            return 0;
        }

        var load = ((at.U1X * (at.HitchVz - at.RingVz)) - (at.U1Z * (at.HitchVx - at.RingVx))) * at.PerD1;
        var ground = -((at.U2X * at.RingVz) - (at.U2Z * at.RingVx)) * at.PerD2;
        var wrapRate = -_phase.WrapSign * (load - ground);
        var bearing = _isBlock && (_phase.Phaseless ? at.RhoBearing < at.RhoSliding : _phase.BearingTurns);
        return wrapRate * (bearing ? _bearing * Elementary.SinCos(at.Wrap / 2).Cos / 2 : _friction * at.RhoSliding);
    }

    private static double Slope(TakeUpInput takeUp) => takeUp.Length > 0 ? (takeUp.ForceTo - takeUp.ForceFrom) / takeUp.Length : 0;

    private double HitchCapacity(ReadOnlySpan<double> y) => TakeUpForce(_input.Rope.HitchTakeUp, y[StateLayout.HitchTaken], _phase.HitchSpent);

    private double WrapsCapacity(ReadOnlySpan<double> y) => TakeUpForce(_input.Rope.WrapsTakeUp, y[StateLayout.WrapsTaken], _phase.WrapsSpent);

    private static double TakeUpForce(TakeUpInput takeUp, double taken, bool spent) => spent
        ? double.PositiveInfinity
        : takeUp.ForceFrom + ((takeUp.ForceTo - takeUp.ForceFrom) * taken / takeUp.Length);

    internal void Move(ReadOnlySpan<double> y, ref Instant at, Span<double> rates)
    {
        var n = _n;
        var t1 = at.Flow.T1;
        var t2 = at.Flow.T2;
        at.ForceX = (t1 * at.U1X) + (t2 * at.U2X);
        at.ForceZ = (t1 * at.U1Z) + (t2 * at.U2Z);

        // Piece: weight, rope, air.
        var vx = y[StateLayout.PieceVx];
        var vz = y[StateLayout.PieceVz];
        var leanRate = y[StateLayout.LeanRate];
        var qx = -t1 * at.U1X;
        var qz = (-t1 * at.U1Z) - _weight;
        var hitchAcross = (_body.Hitch.Xi * at.Cos) - (_body.Hitch.Eta * at.Sin);
        var hitchAlong = (_body.Hitch.Xi * at.Sin) + (_body.Hitch.Eta * at.Cos);
        var qLean = -(t1 * at.U1X * hitchAcross) + (t1 * at.U1Z * hitchAlong);
        double dragLoss = 0;
        if (_drag > 0)
        {
            var speed = Math.Sqrt((vx * vx) + (vz * vz));
            qx -= _drag * speed * vx;
            qz -= _drag * speed * vz;
            dragLoss = _drag * speed * speed * speed;
        }

        // Spar modes: Q_i = F_x phi_i - e F_z phi_i' - F_z (G q)_i.
        Modes onModes = default;
        double dampingLoss = 0;
        for (var i = 0; i < n; i++)
        {
            onModes[i] = (at.ForceX * _ringShape[i]) - (at.ForceZ * ((_ringOffset * _ringSlope[i]) + at.RingShortening[i]))
                - (_frequencySquared[i] * y[_q + i]) - (_dampingRate[i] * y[_qRate + i]);
            dampingLoss += _dampingRate[i] * y[_qRate + i] * y[_qRate + i];
        }

        double contactLoss = 0;
        if (_phase.Hinged)
        {
            for (var place = 0; place < _contacts.Count; place++)
            {
                at.ContactGuard[place] = double.PositiveInfinity;
            }
        }
        else
        {
            _contacts.Evaluate(y, _q, _qRate, _phase.Contacts, ref at, ref qx, ref qz, ref qLean, ref onModes, ref contactLoss);
        }

        at.Ax = qx * _perMass;
        at.Az = qz * _perMass;
        at.LeanAcceleration = qLean * _perInertia;
        at.ModeAcceleration = onModes;
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
        for (var i = 0; i < n; i++)
        {
            rates[_q + i] = y[_qRate + i];
            rates[_qRate + i] = at.ModeAcceleration[i];
        }

        rates[StateLayout.LostSpar] = dampingLoss;
        rates[StateLayout.LostContact] = contactLoss;
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
            zShape[i] = -(_body.HingeX * _topSlope[i]) - gq;
            w += _topShape[i] * q;
            z -= (_body.HingeX * _topSlope[i] * q) + (q * gq / 2);
            wRate += _topShape[i] * qRate;
            zRate += zShape[i] * qRate;
            wAcc += _topShape[i] * at.ModeAcceleration[i];
            zAcc += (zShape[i] * at.ModeAcceleration[i]) - (qRate * gqRate);
            kxx += _topShape[i] * _topShape[i];
            kxz += _topShape[i] * zShape[i];
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
            at.ModeAcceleration[i] -= (at.HingeX * _topShape[i]) + (at.HingeZ * zShape[i]);
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
        var (t1, t2, slip, hitch, device) = at.Flow;
        var taut1 = at.Branch.LoadTaut;
        var taut2 = at.Branch.GroundTaut;

        // A slack leg's material sits at its free stretch.
        var e1 = taut1 ? at.E1 : at.Free1;
        var e2 = taut2 ? at.E2 : at.Free2;
        var m1 = _relaxing * (e1 - relaxed1);
        var m2 = _relaxing * (e2 - relaxed2);
        var u1 = _curve.Energy(e1) + (m1 * (e1 - relaxed1) / 2);
        var u2 = _curve.Energy(e2) + (m2 * (e2 - relaxed2) / 2);
        var g1 = (t1 * (1 + e1)) - u1;
        var g2 = (t2 * (1 + e2)) - u2;

        var l1Rate = slip + hitch;
        var l2Rate = device - slip;
        rates[StateLayout.LoadLength] = l1Rate;
        rates[StateLayout.GroundLength] = l2Rate;
        rates[StateLayout.RopeRun] = at.WrapsGive ? 0 : device;
        rates[StateLayout.WrapsTaken] = at.WrapsGive ? device : 0;
        rates[StateLayout.HitchTaken] = hitch;

        // Rope that crosses the rigging point carries its memory along; rope from the device and the knot has none.
        var crossing1 = slip > 0 ? slip * (relaxed2 - relaxed1) : 0;
        var crossing2 = slip < 0 ? -slip * (relaxed1 - relaxed2) : 0;
        var own1 = (e1 - relaxed1) * _relaxationRate;
        var own2 = (e2 - relaxed2) * _relaxationRate;
        rates[StateLayout.LoadRelaxed] = own1 + ((crossing1 - (hitch * relaxed1)) * at.PerL1);
        rates[StateLayout.GroundRelaxed] = own2 + ((crossing2 - (device * relaxed2)) * at.PerL2);

        var friction = slip * (t1 - t2) * (1 + (slip > 0 ? e2 : e1));
        rates[StateLayout.LostRiggingPoint] = friction;
        rates[StateLayout.LostTransport] = (slip * (g1 - g2)) - friction + (m1 * crossing1) + (m2 * crossing2);
        rates[StateLayout.LostHitch] = (hitch * g1) - (m1 * hitch * relaxed1);
        rates[StateLayout.LostDevice] = (device * g2) - (m2 * device * relaxed2);

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
