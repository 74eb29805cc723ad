using System.Runtime.CompilerServices;
namespace DropSim.Model;

/// <summary>Slots of the drop's guards.</summary>
internal static class Guard
{
    public const int LoadLeg = 0;
    public const int GroundLeg = 1;
    public const int SlipOut = 2;
    public const int SlipBack = 3;
    public const int Hitch = 4;
    public const int HitchSpent = 5;
    public const int Device = 6;
    public const int WrapsSpent = 7;
    public const int WrapsOrHand = 8;
    public const int WrapAngle = 9;
    public const int Bearing = 10;
    public const int Hand = 11;
    public const int Instant = 12;
    public const int Snag = 13;
    public const int RopeEnd = 14;
    public const int Release = 15;
    public const int HingeForce = 16;
    public const int Ground = 17;
    public const int Obstacle = 18;
    public const int HitchAtRiggingPoint = 19;
    public const int RopeBreaks = 20;
    public const int Phaseless = 21;
    public const int FirstContact = 22;
    public const int Count = FirstContact + ContactPlaces.Most;
}

/// <content>What ends a phase.</content>
internal sealed partial class DropSystem
{
    private double _snagRun;
    private double _ropeEndRun;
    private double _breakLoadLeg;
    private double _breakGroundLeg;

    /// <summary>
    /// With the load leg slack the ground leg can pull nothing: rope slides over. Less stretch than this is left to lie there, so
    /// that a trembling spar does not start and stop a slip of some micrometres at every tremble. It is worth 10 N on a rope of 200 kN,
    /// what ten metres of it weigh, and that weight is left out. Measured against a thousandth of it: no peak of a shipped
    /// scenario moves by 1e-4, and drops cost a fifth less (docs/numerics.md).
    /// </summary>
    private const double IdleStretch = 5e-5;

    /// <summary>Smallest load leg before the hitch counts as drawn up to the rigging point, m.</summary>
    private const double SmallestLoadLeg = 0.03;

    /// <inheritdoc/>
    public int GuardCount => Guard.Count;

    private void PrepareLimits()
    {
        var rope = _input.Rope;
        _snagRun = _input.Catch.SnagAfterRun ?? double.PositiveInfinity;
        var y = InitialState();
        var inUse = y[StateLayout.LoadLength] + y[StateLayout.GroundLength];
        _ropeEndRun = rope.RopeLeftAtDevice ?? (rope.TotalLength is { } length ? length - inUse : double.PositiveInfinity);
        _phase.HitchSpent = !Gives(rope.HitchTakeUp, y[StateLayout.LoadLength]);
        _phase.WrapsSpent = !Gives(rope.WrapsTakeUp, y[StateLayout.GroundLength]);
        SteepTakeUp = (_phase.HitchSpent && rope.HitchTakeUp.Length > 0) || (_phase.WrapsSpent && rope.WrapsTakeUp.Length > 0);
        var strength = _input.Strength;
        _breakLoadLeg = double.PositiveInfinity;
        _breakGroundLeg = double.PositiveInfinity;
        if (strength is { BreakRope: true, Rope: { } mbs })
        {
            mbs *= strength.WetFactor * strength.AgeFactor;
            _breakLoadLeg = mbs * Math.Min(strength.KnotEfficiency ?? 1, strength.RingBendEfficiency ?? 1);
            _breakGroundLeg = mbs * Math.Min(strength.BollardBendEfficiency ?? 1, strength.RingBendEfficiency ?? 1);
        }
    }

    /// <summary>
    /// A take-up that stiffens this many times as fast as its leg itself gives less rope than a fiftieth of the leg's stretch, and follows the
    /// leg's pull so fast that a step sees noise. It is counted as none, which makes forces larger.
    /// </summary>
    private const double SteepestTakeUp = 50;

    /// <summary>True where a take-up was too steep to count.</summary>
    public bool SteepTakeUp { get; private set; }

    private bool Gives(TakeUpInput takeUp, double leg) =>
        takeUp.Length > 0 && new TakeUpLine(takeUp).Slope * leg <= SteepestTakeUp * (_curve.InitialSlope + _relaxing);

    private void Guards(double time, ReadOnlySpan<double> y, ref Instant at, Span<double> g)
    {
        g.Fill(double.PositiveInfinity);
        if (_phase.Phaseless)
        {
            g[Guard.Phaseless] = _phase.PhaselessUntil - time;
        }
        else
        {
            NetworkGuards(y, ref at, g);
        }

        if (!_frictionless)
        {
            g[Guard.WrapAngle] = at.Wrap;
            if (_isBlock && !_phase.Phaseless && at.Wrap > 0)
            {
                var margin = at.RhoSliding - at.RhoBearing;
                g[Guard.Bearing] = _phase.BearingTurns ? margin : -margin;
            }
        }

        var run = y[StateLayout.RopeRun];
        if (!_phase.Locked)
        {
            g[Guard.Hand] = _hand.Guard(_phase.HandNow, time, run);
            g[Guard.Snag] = _snagRun - run;
        }

        g[Guard.Instant] = _phase.NextInstant - time;
        g[Guard.RopeEnd] = _ropeEndRun - run;
        if (_phase.Hinged)
        {
            double slope = 0;
            for (var i = 0; i < _n; i++)
            {
                slope += _modes[i].TopSlope * y[_q + i];
            }

            g[Guard.Release] = _input.Start.ReleaseAngle - (y[StateLayout.Lean] - slope);
            if (_input.Start.Kind == StartKind.PushedOff)
            {
                // An edge can push, not pull.
                g[Guard.HingeForce] = at.HingeZ / _weight;
            }
            else if (double.IsFinite(_input.Start.HingeStrength))
            {
                g[Guard.HingeForce] = (_input.Start.HingeStrength - double.Hypot(at.HingeX, at.HingeZ)) / _weight;
            }
        }

        // Farther than this the piece cannot be in any lean: exact room is for where it counts.
        var high = y[StateLayout.PieceZ] - _body.Reach;
        g[Guard.Ground] = high > FarEnough ? high : Lowest(y, at.Sin, at.Cos);
        if (_obstacles.Length > 0)
        {
            var far = ObstaclesFrom(y[StateLayout.PieceX], y[StateLayout.PieceZ]) - _body.Reach;
            g[Guard.Obstacle] = far > FarEnough ? far : ObstacleRoom(y, at.Sin, at.Cos, out _);
        }

        g[Guard.HitchAtRiggingPoint] = y[StateLayout.LoadLength] - SmallestLoadLeg;
        if (double.IsFinite(_breakLoadLeg) || double.IsFinite(_breakGroundLeg))
        {
            g[Guard.RopeBreaks] = Math.Min(1 - (at.Flow.T1 / _breakLoadLeg), 1 - (at.Flow.T2 / _breakGroundLeg));
        }

        for (var place = 0; place < _contacts.Count; place++)
        {
            g[Guard.FirstContact + place] = at.ContactGuard[place];
        }
    }

    private void NetworkGuards(ReadOnlySpan<double> y, ref Instant at, Span<double> g)
    {
        ref readonly var flow = ref at.Flow;
        ref readonly var n = ref at.Numbers;
        ref readonly var branch = ref at.Branch;
        var pull1 = n.A1 - (n.B1 * (flow.Slip + flow.Hitch));
        var pull2 = n.A2 + (n.B2 * (flow.Slip - flow.Device));
        var scale = _input.Rope.Stiffness;
        if (!branch.LoadTaut || !branch.GroundTaut)
        {
            // Slack until it is both straight and pulling; a leg that runs free pulls nothing: watch what it would pull.
            g[Guard.LoadLeg] = branch.LoadTaut ? n.A1 : -Math.Min((at.E1 - at.Free1) * scale, pull1);
            var idle = branch.LoadTaut ? 0 : IdleStretch;
            g[Guard.GroundLeg] = branch.GroundTaut ? n.A2 : -Math.Min((at.E2 - at.Free2 - idle) * scale, pull2);
            return;
        }

        g[Guard.LoadLeg] = flow.T1;
        g[Guard.GroundLeg] = flow.T2;
        switch (branch.Ring)
        {
            case RingState.Stick:
                if (!_frictionless)
                {
                    g[Guard.SlipOut] = (n.Rho * flow.T2) - flow.T1;
                    g[Guard.SlipBack] = (n.Rho * flow.T1) - flow.T2;
                }

                break;
            case RingState.Out:
                g[Guard.SlipOut] = _frictionless ? double.PositiveInfinity : flow.Slip;
                break;
            default:
                g[Guard.SlipBack] = _frictionless ? double.PositiveInfinity : -flow.Slip;
                break;
        }

        if (!_phase.HitchSpent)
        {
            g[Guard.Hitch] = branch.HitchDraws ? flow.Hitch : n.HitchCapacity - flow.T1;
            g[Guard.HitchSpent] = branch.HitchDraws ? _input.Rope.HitchTakeUp.Length - y[StateLayout.HitchTaken] : double.PositiveInfinity;
        }

        if (branch.DeviceGives)
        {
            g[Guard.Device] = flow.Device;
            if (!_phase.WrapsSpent)
            {
                g[Guard.WrapsOrHand] = at.HandCapacity - at.WrapsCapacity;
                g[Guard.WrapsSpent] = _input.Rope.WrapsTakeUp.Length - y[StateLayout.WrapsTaken];
            }
        }
        else
        {
            g[Guard.Device] = Math.Min(at.HandCapacity, at.WrapsCapacity) - flow.T2;
        }
    }

    /// <inheritdoc/>
    public bool MayDip(int guard) => guard is Guard.LoadLeg or Guard.GroundLeg or Guard.SlipOut or Guard.SlipBack
        or Guard.Hitch or Guard.Device or Guard.HingeForce or Guard.Ground or Guard.Obstacle or Guard.RopeBreaks or Guard.WrapAngle
        or Guard.HitchAtRiggingPoint or >= Guard.FirstContact;

    /// <summary>With this much room whatever the lean, m, a guard need not know exactly how much.</summary>
    private const double FarEnough = 0.25;

    /// <summary>Distance of a point from the nearest obstacle, m.</summary>
    private double ObstaclesFrom(double x, double z)
    {
        var nearest = double.PositiveInfinity;
        foreach (var box in _obstacles)
        {
            var dx = Math.Max(0, Math.Max(box.XFrom - x, x - box.XTo));
            var dz = Math.Max(0, Math.Max(box.ZFrom - z, z - box.ZTo));
            nearest = Math.Min(nearest, (dx * dx) + (dz * dz));
        }

        return Math.Sqrt(nearest);
    }

    /// <summary>Height of the lowest point of the outline, m.</summary>
    public double Lowest(ReadOnlySpan<double> y, double sin, double cos)
    {
        var lowest = double.PositiveInfinity;
        foreach (var p in _body.Outline)
        {
            lowest = Math.Min(lowest, (p.Xi * cos) - (p.Eta * sin));
        }

        return y[StateLayout.PieceZ] + lowest;
    }

    /// <summary>
    /// Smallest gap between outline and obstacles, m: the widest separating strip over the directions of all edges
    /// (a lower bound of the distance, exact where a corner faces an edge); negative when they overlap.
    /// </summary>
    public double ObstacleRoom(ReadOnlySpan<double> y, double sin, double cos, out int nearest)
    {
        var outline = _body.Outline;
        Span<double> xs = stackalloc double[outline.Length];
        Span<double> zs = stackalloc double[outline.Length];
        for (var i = 0; i < outline.Length; i++)
        {
            xs[i] = y[StateLayout.PieceX] + (outline[i].Xi * sin) + (outline[i].Eta * cos);
            zs[i] = y[StateLayout.PieceZ] + (outline[i].Xi * cos) - (outline[i].Eta * sin);
        }

        nearest = -1;
        var room = double.PositiveInfinity;
        for (var k = 0; k < _obstacles.Length; k++)
        {
            var gap = ConvexGap.ToRectangle(xs, zs, _obstacles[k]);
            if (gap < room)
            {
                room = gap;
                nearest = k;
            }
        }

        return room;
    }
}
