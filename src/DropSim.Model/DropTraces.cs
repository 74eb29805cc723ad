using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// The curves of one drop. Only states are kept; every force is worked out again by the functions that drove the
/// integration, with the phase put back that held at the time, so that a curve and a peak cannot disagree.
/// Not safe for use from several threads at once.
/// </summary>
internal sealed partial class DropTraces : IDropTraces
{
    private readonly DropSystem _system;
    private readonly DropInput _input;
    private readonly Trajectory _trajectory;
    private readonly List<(double From, DropPhase Phase)> _stretches;
    private readonly double _zero;
    private readonly double _initialEnergy;
    private readonly double _lowestPotential;
    private readonly double _fallen;
    private readonly ModalSpar _spar;

    public DropTraces(
        DropSystem system, DropInput input, ModalSpar spar, Trajectory trajectory, List<(double From, DropPhase Phase)> stretches,
        double zero, double initialEnergy, double lowestPotential, double fallen)
    {
        _system = system;
        _input = input;
        _spar = spar;
        _trajectory = trajectory;
        _stretches = stretches;
        _zero = zero;
        _initialEnergy = initialEnergy;
        _lowestPotential = lowestPotential;
        _fallen = fallen;
    }

    /// <inheritdoc/>
    public double StartTime => _trajectory.StartTime - _zero;

    /// <inheritdoc/>
    public double EndTime => _trajectory.EndTime - _zero;

    /// <summary>The columns: name and unit, in the order of <see cref="Row"/>.</summary>
    internal static readonly (string Name, string Unit)[] Columns =
    [
        ("time_s", "s"), ("load_leg_tension_N", "N"), ("ground_leg_tension_N", "N"), ("hand_tension_N", "N"),
        ("rigging_point_force_N", "N"), ("rigging_point_force_x_N", "N"), ("rigging_point_force_z_N", "N"),
        ("piece_x_m", "m"), ("piece_z_m", "m"), ("piece_lean_rad", "rad"), ("piece_speed_m_s", "m/s"), ("lowest_point_m", "m"),
        ("rope_run_m", "m"), ("rope_slip_m", "m"), ("rigging_point_deflection_m", "m"), ("tip_deflection_m", "m"),
        ("climber_deflection_m", "m"), ("climber_velocity_m_s", "m/s"), ("climber_acceleration_m_s2", "m/s2"),
        ("spar_base_moment_N_m", "N m"), ("contact_force_N", "N"), ("hinge_force_N", "N"), ("rope_speed_at_device_m_s", "m/s"),
        ("hitch_take_up_m", "m"), ("wraps_take_up_m", "m"), ("wrap_angle_rad", "rad"),
        ("energy_imbalance", ""), ("energy_potential_J", "J"), ("energy_kinetic_J", "J"), ("energy_rope_J", "J"), ("energy_spar_J", "J"),
        ("energy_contact_J", "J"), ("lost_rigging_point_J", "J"), ("lost_device_J", "J"), ("lost_hitch_J", "J"), ("lost_rope_J", "J"),
        ("lost_spar_J", "J"), ("lost_contact_J", "J"), ("lost_drag_J", "J"), ("lost_hinge_J", "J"),
    ];

    /// <inheritdoc/>
    public TraceTable Sample(double interval) => Sample(interval, Columns, motion: false);

    private TraceTable Sample(double interval, (string Name, string Unit)[] names, bool motion)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(interval);
        var rows = Instants(interval);
        var columns = new double[names.Length][];
        for (var c = 0; c < columns.Length; c++)
        {
            columns[c] = new double[rows.Count];
        }

        var phase = new string[rows.Count];
        var state = new double[_system.StateCount];
        Span<double> row = stackalloc double[names.Length];
        for (var r = 0; r < rows.Count; r++)
        {
            var (time, stretch) = rows[r];
            _system.Phase = _stretches[stretch].Phase;
            StateIn(time, stretch, state);
            var at = Row(time, state, row);
            if (motion)
            {
                Motion(in at, state, row[Columns.Length..]);
            }

            for (var c = 0; c < columns.Length; c++)
            {
                columns[c][r] = row[c];
            }

            phase[r] = PhaseNames.Of(PhaseNames.Coarse(_system.Phase));
        }

        return new([.. names.Select((c, i) => new TraceColumn(c.Name, c.Unit, columns[i]))], phase);
    }

    /// <inheritdoc/>
    public DropScene SceneAt(double time)
    {
        var t = Math.Clamp(time + _zero, _trajectory.StartTime, _trajectory.EndTime);
        var stretch = Math.Max(0, _stretches.FindLastIndex(s => s.From <= t + SameInstant));
        var state = new double[_system.StateCount];
        Instant at = default;
        Look(stretch, ref at);

        // Forces may jump at an event (a hand is lost): the larger side is the one whose peak is told.
        var force = double.Hypot(at.ForceX, at.ForceZ);
        for (var s = stretch; s > 0 && Math.Abs(_stretches[s].From - t) <= SameInstant; s--)
        {
            Look(s - 1, ref at);
            var before = double.Hypot(at.ForceX, at.ForceZ);
            (stretch, force) = before > force ? (s - 1, before) : (stretch, force);
        }

        Look(stretch, ref at);
        void Look(int held, ref Instant seen)
        {
            _system.Phase = _stretches[held].Phase;
            var end = held + 1 < _stretches.Count ? _stretches[held + 1].From : double.PositiveInfinity;
            if (t >= end - SameInstant && end > _stretches[held].From)
            {
                _trajectory.AtLeft(end, state);
            }
            else
            {
                _trajectory.At(Math.Max(t, _stretches[held].From), state);
            }

            _system.Solve(t, state, ref seen, []);
        }

        var (sin, cos) = (at.Sin, at.Cos);
        PlanePoint Point(BodyPoint p) => new(
            state[StateLayout.PieceX] + (p.Xi * sin) + (p.Eta * cos), state[StateLayout.PieceZ] + (p.Xi * cos) - (p.Eta * sin));

        var axis = new PlanePoint[Stations + 1];
        var radius = new double[Stations + 1];
        for (var k = 0; k <= Stations; k++)
        {
            var z = _input.Spar.Height * k / Stations;
            axis[k] = new(_system.DeflectionAt(z, state), z);
            radius[k] = _spar.RadiusAt(z);
        }

        return new DropScene
        {
            Time = t - _zero,
            Piece = [.. _system.Body.Outline.Select(Point)],
            CentreOfGravity = new(state[StateLayout.PieceX], state[StateLayout.PieceZ]),
            SparAxis = axis,
            SparRadius = radius,
            Hitch = new(at.HitchX, at.HitchZ),
            RiggingPoint = new(at.RingX, at.RingZ),
            Device = new(_input.Device.X, _input.Device.Z),
            Climber = _input.Spar.ClimberMass > 0 ? new(_system.DeflectionAt(_system.ClimberHeight, state), _system.ClimberHeight) : null,
            LoadLegTension = at.Flow.T1,
            GroundLegTension = at.Flow.T2,
            RiggingForceX = at.ForceX,
            RiggingForceZ = at.ForceZ,
        };
    }

    /// <summary>Times from the hinge's break and from the start differ by rounding: what lies nearer than this to an event is at it, s.</summary>
    private const double SameInstant = 1e-9;

    /// <summary>Acceleration at the climber's feet on a uniform grid from the start, m/s2.</summary>
    internal double[] ClimberAcceleration(double interval)
    {
        var count = (int)Math.Floor((_trajectory.EndTime - _trajectory.StartTime) / interval) + 1;
        var values = new double[count];
        var state = new double[_system.StateCount];
        var stretch = 0;
        for (var k = 0; k < count; k++)
        {
            // The last instant may round past the end.
            var time = Math.Min(_trajectory.StartTime + (k * interval), _trajectory.EndTime);
            while (stretch + 1 < _stretches.Count && _stretches[stretch + 1].From <= time)
            {
                stretch++;
            }

            _system.Phase = _stretches[stretch].Phase;
            _trajectory.At(time, state);
            Instant at = default;
            _system.Solve(time, state, ref at, []);
            values[k] = _system.Sway(state, ref at).Acceleration;
        }

        return values;
    }

    private void StateIn(double time, int stretch, double[] state)
    {
        // At the end of a stretch the left-hand value belongs to it.
        if (stretch + 1 < _stretches.Count && time == _stretches[stretch + 1].From && time > _stretches[stretch].From)
        {
            _trajectory.AtLeft(time, state);
        }
        else
        {
            _trajectory.At(time, state);
        }
    }

    /// <summary>Grid instants in order, and both sides of every event (of several at one instant only the first left and the last right side).</summary>
    private List<(double Time, int Stretch)> Instants(double interval)
    {
        var list = new List<(double, int)>();
        var k = (long)Math.Ceiling((_trajectory.StartTime - _zero) / interval);
        for (var s = 0; s < _stretches.Count; s++)
        {
            var from = _stretches[s].From;
            var end = s + 1 < _stretches.Count ? _stretches[s + 1].From : _trajectory.EndTime;
            if (end <= from && s + 1 < _stretches.Count)
            {
                continue;
            }

            list.Add((from, s));
            for (; (k * interval) + _zero < end; k++)
            {
                if ((k * interval) + _zero > from)
                {
                    list.Add(((k * interval) + _zero, s));
                }
            }

            if (end > from)
            {
                list.Add((end, s));
            }

            if ((k * interval) + _zero == end)
            {
                k++;
            }
        }

        return list;
    }

    private Instant Row(double time, ReadOnlySpan<double> y, Span<double> row)
    {
        Instant at = default;
        _system.Solve(time, y, ref at, []);
        var (climber, climberRate, climberAcceleration, tip) = _system.Sway(y, ref at);
        var (potential, kinetic, rope, spar, contact) = _system.Energies(y, ref at);
        var lost = y.Slice(StateLayout.LostRiggingPoint, StateLayout.LostHinge - StateLayout.LostRiggingPoint + 1);
        double sum = potential + kinetic + rope + spar + contact;
        foreach (var l in lost)
        {
            sum += l;
        }

        var c = 0;
        row[c++] = time - _zero;
        row[c++] = at.Flow.T1;
        row[c++] = at.Flow.T2;
        row[c++] = _system.HandTension(ref at);
        row[c++] = double.Hypot(at.ForceX, at.ForceZ);
        row[c++] = at.ForceX;
        row[c++] = at.ForceZ;
        row[c++] = y[StateLayout.PieceX];
        row[c++] = y[StateLayout.PieceZ];
        row[c++] = y[StateLayout.Lean];
        row[c++] = double.Hypot(y[StateLayout.PieceVx], y[StateLayout.PieceVz]);
        row[c++] = _system.Lowest(y, at.Sin, at.Cos);
        row[c++] = y[StateLayout.RopeRun];
        row[c++] = _system.RopeSlip(y);
        row[c++] = at.SparDeflection;
        row[c++] = tip;
        row[c++] = climber;
        row[c++] = climberRate;
        row[c++] = climberAcceleration;
        row[c++] = _system.BaseMoment(y, ref at);
        row[c++] = at.ContactForce;
        row[c++] = double.Hypot(at.HingeX, at.HingeZ);
        row[c++] = at.WrapsGive ? 0 : at.Flow.Device;
        row[c++] = y[StateLayout.HitchTaken];
        row[c++] = y[StateLayout.WrapsTaken];
        row[c++] = Math.Abs(Math.PI - at.LegAngle);
        row[c++] = (sum - _initialEnergy) / _fallen;
        row[c++] = potential - _lowestPotential;
        row[c++] = kinetic;
        row[c++] = rope;
        row[c++] = spar;
        row[c++] = contact;
        row[c++] = y[StateLayout.LostRiggingPoint];
        row[c++] = y[StateLayout.LostDevice];
        row[c++] = y[StateLayout.LostHitch];

        // Energy carried over the rigging point with moving rope has no sign of its own: it is shown with the rope.
        row[c++] = y[StateLayout.LostRope] + y[StateLayout.LostTransport];
        row[c++] = y[StateLayout.LostSpar];
        row[c++] = y[StateLayout.LostContact];
        row[c++] = y[StateLayout.LostDrag];
        row[c] = y[StateLayout.LostHinge];
        return at;
    }
}

/// <summary>Names of phases.</summary>
internal static class PhaseNames
{
    /// <summary>The coarse phase, for bands in charts and the CSV's phase column.</summary>
    public static PhaseKind Coarse(DropPhase phase) =>
        phase.Hinged ? PhaseKind.Hinged : !phase.Pulls ? PhaseKind.Free : phase.Runs ? PhaseKind.Running : PhaseKind.Taut;

    /// <summary>A coarse phase as files name it.</summary>
    public static string Of(PhaseKind kind) => kind switch
    {
        PhaseKind.Hinged => "hinged",
        PhaseKind.Free => "free",
        PhaseKind.Taut => "taut",
        _ => "running",
    };

    /// <summary>The whole discrete state in words.</summary>
    public static string Detail(DropPhase phase)
    {
        var n = phase.Network;
        var legs = phase.Pulls ? "both legs pull" : n.LoadTaut ? "load leg runs free" : n.GroundTaut ? "ground leg runs free" : "rope slack";
        var ring = !phase.Pulls ? "" : n.Ring switch
        {
            RingState.Out => ", slips toward the piece",
            RingState.Back => ", slips toward the device",
            _ => ", sticks at the rigging point",
        };
        return legs + ring + (n.HitchDraws ? ", hitch tightens" : "")
            + (!n.DeviceGives ? "" : phase.WrapsGive ? ", wraps tighten" : ", device runs")
            + (phase.Hinged ? ", on the hinge" : "")
            + (phase.Contacts.Contains(ContactState.Pressing) ? ", piece against the spar" : "");
    }
}
