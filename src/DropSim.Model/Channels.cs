using System.Runtime.CompilerServices;

namespace DropSim.Model;

/// <summary>Quantities that are watched for their extremes while a drop is integrated.</summary>
internal static class Channel
{
    public const int LoadLeg = 0;
    public const int GroundLeg = 1;
    public const int Hand = 2;
    public const int RiggingPoint = 3;
    public const int Room = 4;
    public const int ClimberDeflection = 5;
    public const int ClimberSpeed = 6;
    public const int ClimberAcceleration = 7;
    public const int BaseMoment = 8;
    public const int BaseMomentWithStrikes = 9;
    public const int Stress = 10;
    public const int HingeForce = 11;
    public const int TipDeflection = 12;
    public const int RopeSpeed = 13;
    public const int VerticalLoad = 14;
    public const int Contact = 15;
    public const int BrakePull = 16;

    /// <summary>How far the foot of the stem turns in its root, rad.</summary>
    public const int FootTurn = 17;
    public const int Count = 18;

    // Not watched for extremes, but seen in the same evaluation.
    public const int StressHeight = 18;
    public const int RoomNearest = 19;
    public const int Energy = 20;
    public const int TipSpeed = 21;
    public const int All = 22;
}

/// <content>What can be seen at one instant.</content>
internal sealed partial class DropSystem
{
    private readonly double _initialLoadLength;
    private readonly SparSections _sections;

    /// <summary>Channels at one instant; the present phase must be the one that holds there. Magnitudes where a sign means nothing.</summary>
    /// <param name="time">Time, s.</param>
    /// <param name="y">State.</param>
    /// <param name="channels">Receives them.</param>
    /// <param name="fastModes">False to leave out acceleration, moments and stress, of which the last cost as much as all else: they are not numbers then.</param>
    public void Observe(double time, ReadOnlySpan<double> y, Span<double> channels, bool fastModes = true)
    {
        if (!_solved.Is(time, y))
        {
            Solve(time, y, ref _solved.At, []);
            _solved.Remember(time, y);
        }

        ref var at = ref _solved.At;
        channels[Channel.LoadLeg] = at.Flow.T1;
        channels[Channel.GroundLeg] = at.Flow.T2;
        channels[Channel.Hand] = HandTension(ref at);
        channels[Channel.RiggingPoint] = Math.Sqrt((at.ForceX * at.ForceX) + (at.ForceZ * at.ForceZ));
        channels[Channel.Room] = Lowest(y, at.Sin, at.Cos);
        channels[Channel.RoomNearest] = -1;
        if (_obstacles.Length > 0)
        {
            var room = ObstacleRoom(y, at.Sin, at.Cos, out var nearest);
            if (room < channels[Channel.Room])
            {
                channels[Channel.Room] = room;
                channels[Channel.RoomNearest] = nearest;
            }
        }

        var (climber, climberSpeed, climberAcceleration, tip) = Sway(y, ref at);
        double tipSpeed = 0;
        for (var i = 0; i < _n; i++)
        {
            tipSpeed += _modes[i].Top * y[_qRate + i];
        }

        channels[Channel.FootTurn] = FootTurn(y);

        channels[Channel.ClimberDeflection] = Math.Abs(climber);
        channels[Channel.ClimberSpeed] = Math.Abs(climberSpeed);
        channels[Channel.ClimberAcceleration] = Math.Abs(climberAcceleration);
        channels[Channel.TipDeflection] = Math.Abs(tip);
        channels[Channel.TipSpeed] = Math.Abs(tipSpeed);
        channels[Channel.HingeForce] = Math.Sqrt((at.HingeX * at.HingeX) + (at.HingeZ * at.HingeZ));

        // What the moving piece draws through the device. When a hand is lost the stretched rope also springs back for some
        // milliseconds; without mass it would do so at a speed that no rope has.
        channels[Channel.RopeSpeed] = at.WrapsGive ? 0 : Math.Clamp(at.D1Rate + at.D2Rate, 0, Math.Max(at.Flow.Device, 0));
        channels[Channel.BrakePull] = !at.WrapsGive && at.Flow.Device > 0 ? at.Flow.T2 - at.HandForce : 0;
        channels[Channel.VerticalLoad] = -at.ForceZ;
        channels[Channel.Contact] = at.ContactForce;
        channels[Channel.Energy] = Energy(y, ref at);
        if (fastModes)
        {
            Sections(y, ref at, channels);
        }
        else
        {
            channels[Channel.ClimberAcceleration] = double.NaN;
            channels[Channel.BaseMoment] = double.NaN;
            channels[Channel.BaseMomentWithStrikes] = double.NaN;
            channels[Channel.Stress] = double.NaN;
        }
    }

    /// <summary>How far the stem's foot is turned in its root, rad.</summary>
    internal double FootTurn(ReadOnlySpan<double> y)
    {
        double foot = 0;
        for (var i = 0; i < _n; i++)
        {
            foot += _modes[i].FootSlope * y[_q + i];
        }

        return Math.Abs(foot);
    }

    /// <summary>What the hand holds, N: where the rope is locked off, what a hand would have had to hold.</summary>
    internal double HandTension(ref Instant at) => _phase.Locked ? at.Flow.T2 / at.DeviceRatio : Math.Min(at.HandForce, Math.Max(at.Flow.T2 / at.DeviceRatio, 0));

    /// <summary>At most how fast any point of the piece nears the ground, or an obstacle where there is one, or goes away from it, m/s.</summary>
    public double FastestNearing(ReadOnlySpan<double> y)
    {
        var vx = _obstacles.Length > 0 ? y[StateLayout.PieceVx] : 0;
        var vz = y[StateLayout.PieceVz];
        return Math.Sqrt((vx * vx) + (vz * vz)) + (Math.Abs(y[StateLayout.LeanRate]) * _body.Reach);
    }

    /// <summary>Deflection of the spar's axis at a height, m.</summary>
    public double DeflectionAt(double height, ReadOnlySpan<double> y) => _spar.DeflectionAt(height, y.Slice(_q, _n));

    /// <summary>Movement at the climber's feet (m, m/s, m/s2) and at the tip (m), with sign.</summary>
    internal (double Climber, double Speed, double Acceleration, double Tip) Sway(ReadOnlySpan<double> y, ref Instant at)
    {
        double climber = 0, speed = 0, acceleration = 0, tip = 0;
        for (var i = 0; i < _n; i++)
        {
            climber += _modes[i].Climber * y[_q + i];
            speed += _modes[i].Climber * y[_qRate + i];
            acceleration += _modes[i].Climber * at.ModeAcceleration[i];
            tip += _modes[i].Top * y[_q + i];
        }

        return (climber, speed, acceleration, tip);
    }

    /// <summary>Rope that has slipped over the rigging point toward the piece, m.</summary>
    internal double RopeSlip(ReadOnlySpan<double> y) => y[StateLayout.LoadLength] - _initialLoadLength - y[StateLayout.HitchTaken];

    /// <summary>Bending moment at the base, N m, strikes included, positive toward the fall.</summary>
    internal double BaseMoment(ReadOnlySpan<double> y, ref Instant at)
    {
        Span<SparLoad> loads = stackalloc SparLoad[MostLoads];
        Span<double> deflections = stackalloc double[MostLoads];
        var count = Loads(y, ref at, loads, deflections);
        return _sections.BaseMoment(y.Slice(_q, _n), Accelerations(ref at), loads[..count], deflections);
    }

    private ReadOnlySpan<double> Accelerations(ref Instant at) => ((ReadOnlySpan<double>)at.ModeAcceleration)[.._n];

    /// <summary>Most forces on the spar at once: rope, device, hinge or contacts.</summary>
    private const int MostLoads = 2 + ContactPlaces.Most;

    /// <summary>Forces on the spar now, those of contacts last and each at its own height, and the deflection of the axis at each, m.</summary>
    private int Loads(ReadOnlySpan<double> y, ref Instant at, Span<SparLoad> loads, Span<double> deflections)
    {
        deflections[0] = at.SparDeflection;
        loads[0] = new(_ringHeight, _ringOffset, at.ForceX, at.ForceZ);
        var count = 1;
        if (_input.Device.OnSpar)
        {
            double w = 0;
            for (var i = 0; i < _n; i++)
            {
                w += _modes[i].Device * y[_q + i];
            }

            deflections[count] = w;
            loads[count++] = new(_deviceZ, _deviceX, -at.Flow.T2 * at.U2X, -at.Flow.T2 * at.U2Z);
        }

        if (_phase.Hinged)
        {
            deflections[count] = DeflectionAt(_input.Spar.Height, y);
            loads[count++] = new(_input.Spar.Height, _body.HingeX, -at.HingeX, -at.HingeZ);
        }

        for (var i = 0; i < at.ContactCount; i++)
        {
            deflections[count] = DeflectionAt(at.Contacts[i].Height, y);
            loads[count++] = at.Contacts[i];
        }

        return count;
    }

    [SkipLocalsInit]
    private void Sections(ReadOnlySpan<double> y, ref Instant at, Span<double> channels)
    {
        Span<SparLoad> loads = stackalloc SparLoad[MostLoads];
        Span<double> deflections = stackalloc double[MostLoads];
        var count = Loads(y, ref at, loads, deflections);
        var q = y.Slice(_q, _n);
        var acceleration = Accelerations(ref at);
        var moment = Math.Abs(_sections.BaseMoment(q, acceleration, loads[..count], deflections));
        channels[Channel.BaseMomentWithStrikes] = moment;
        if (at.ContactForce > 0)
        {
            // Strikes are indicative: moments and stresses that a reader may lean on are those outside them.
            channels[Channel.BaseMoment] = 0;
            channels[Channel.Stress] = 0;
            channels[Channel.StressHeight] = 0;
            return;
        }

        channels[Channel.BaseMoment] = moment;
        (channels[Channel.Stress], channels[Channel.StressHeight]) = _sections.WorstStress(q, acceleration, loads[..count], deflections);
    }

    /// <summary>Energies by place, J: potential, kinetic, rope, spar, contact.</summary>
    internal (double Potential, double Kinetic, double Rope, double Spar, double Contact) Energies(ReadOnlySpan<double> y, ref Instant at)
    {
        var vx = y[StateLayout.PieceVx];
        var vz = y[StateLayout.PieceVz];
        var rate = y[StateLayout.LeanRate];
        var kinetic = ((_mass * ((vx * vx) + (vz * vz))) + (_inertia * rate * rate)) / 2;
        double spar = 0;
        for (var i = 0; i < _n; i++)
        {
            spar += ((y[_qRate + i] * y[_qRate + i]) + (_modes[i].FrequencySquared * y[_q + i] * y[_q + i])) / 2;
        }

        var rope = (y[StateLayout.LoadLength] * Stored(at.Branch.LoadTaut ? at.E1 : at.Free1, y[StateLayout.LoadRelaxed]))
            + (y[StateLayout.GroundLength] * Stored(at.Branch.GroundTaut ? at.E2 : at.Free2, y[StateLayout.GroundRelaxed]));
        return (_weight * y[StateLayout.PieceZ], kinetic, rope, spar, at.ContactEnergy);
    }

    private double Energy(ReadOnlySpan<double> y, ref Instant at)
    {
        var (potential, kinetic, rope, spar, contact) = Energies(y, ref at);
        var sum = potential + kinetic + rope + spar + contact;
        for (var i = StateLayout.LostRiggingPoint; i <= StateLayout.LostHinge; i++)
        {
            sum += y[i];
        }

        return sum;
    }
}
