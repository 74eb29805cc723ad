using System.Runtime.CompilerServices;
namespace DropSim.Model;

/// <summary>Which part of the hand's law holds.</summary>
internal enum HandPart
{
    /// <summary>Before it reacts.</summary>
    Light,

    /// <summary>As much as the hand can hold.</summary>
    Grip,

    /// <summary>Building up force as fast as it can.</summary>
    Rising,

    /// <summary>Following the braking plan.</summary>
    Plan,

    /// <summary>Gripping in full, whatever was planned (held from the start, or gripped too early).</summary>
    Full,

    /// <summary>Lost: only the hanging rope pulls.</summary>
    Lost,
}

/// <summary>What the hand remembers.</summary>
/// <param name="Part">Part of the law that holds.</param>
/// <param name="Segment">Segment of the braking plan: 0 before its first point, k between points k-1 and k.</param>
/// <param name="BrakingTime">When the hand reacted, s from the start; infinite before.</param>
/// <param name="PlanOrigin">Rope run from which the plan is counted, m.</param>
internal readonly record struct HandMemory(HandPart Part, int Segment, double BrakingTime, double PlanOrigin);

/// <summary>
/// What the ground worker's hand pulls on the rope behind the friction device.
/// Equation (docs/theory/hand.md): before it reacts min(light, grip); afterwards min(grip, plan(s - origin), light + R (t - t_b));
/// never below the weight of the hanging rope.
/// Left out: fatigue, a second person, a hand pulled into the device.
/// </summary>
internal sealed class Hand
{
    private readonly CatchInput _input;
    private readonly double[] _run;
    private readonly double[] _force;
    private readonly double _light;
    private readonly double _grip;

    public Hand(CatchInput input)
    {
        _input = input;
        var floor = input.HangingRopeWeight;
        _run = [.. input.Brake.Select(p => p.Run)];
        _force = [.. input.Brake.Select(p => Math.Max(p.Force, floor))];
        _grip = Math.Max(input.GripForce, floor);
        _light = Math.Max(Math.Min(input.LightForce, input.GripForce), floor);
    }

    public static HandMemory Start { get; } = new(HandPart.Light, 0, double.PositiveInfinity, 0);

    /// <summary>Force, N, in the remembered part, continued smoothly past its ends.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Force(in HandMemory memory, double time, double run) => memory.Part switch
    {
        HandPart.Light => _light,
        HandPart.Grip or HandPart.Full => _grip,
        HandPart.Rising => Rising(memory, time),
        HandPart.Plan => Plan(memory.Segment, run - memory.PlanOrigin),
        _ => _input.HangingRopeWeight,
    };

    /// <summary>Rise of the force per rope run in the remembered part, N/m.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Slope(in HandMemory memory)
    {
        var k = memory.Segment;
        return memory.Part != HandPart.Plan || k == 0 || k == _run.Length ? 0 : (_force[k] - _force[k - 1]) / (_run[k] - _run[k - 1]);
    }

    /// <summary>Rise of the force in time by itself in the remembered part, N/s.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Rate(in HandMemory memory) => memory.Part == HandPart.Rising ? _input.ForceRate : 0;

    /// <summary>Positive while the remembered part holds, N (or m at a point of the plan, scaled by 1 N/m).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Guard(in HandMemory memory, double time, double run)
    {
        if (memory.Part is HandPart.Light or HandPart.Full or HandPart.Lost)
        {
            return double.PositiveInfinity;
        }

        var x = run - memory.PlanOrigin;
        var segment = memory.Part == HandPart.Plan ? memory.Segment : SegmentAt(x);
        var plan = Plan(segment, x);
        var rising = Rising(memory, time);
        return memory.Part switch
        {
            HandPart.Grip => Math.Min(plan, rising) - _grip,
            HandPart.Rising => Math.Min(plan, _grip) - rising,
            _ => Math.Min(Math.Min(rising, _grip) - plan, segment < _run.Length ? _run[segment] - x : double.PositiveInfinity),
        };
    }

    /// <summary>The part that holds now, for a hand that has reacted.</summary>
    public HandMemory Resolve(in HandMemory memory, double time, double run)
    {
        if (memory.Part is HandPart.Light or HandPart.Full or HandPart.Lost)
        {
            return memory;
        }

        var x = run - memory.PlanOrigin;

        // A point of the plan belongs to the segment after it.
        var segment = SegmentAt(x + PlanPointWidth);
        var plan = Plan(segment, x);
        var rising = Rising(memory, time);

        // The smallest of the three holds. At a tie it is not the part that has just ended: its guard fell because it grows faster
        // than another one (a different segment of the plan counts as another part).
        var part = HandPart.Rising;
        var least = double.PositiveInfinity;
        foreach (var (candidate, force) in ((HandPart, double)[])[(HandPart.Rising, rising), (HandPart.Plan, plan), (HandPart.Grip, _grip)])
        {
            var ended = candidate == memory.Part && (candidate != HandPart.Plan || segment == memory.Segment);
            var cost = ended ? force + TieForce : force;
            if (cost < least)
            {
                least = cost;
                part = candidate;
            }
        }

        return memory with { Part = part, Segment = segment };
    }

    /// <summary>The hand reacts now.</summary>
    public HandMemory React(double time, double run)
    {
        var reacted = new HandMemory(HandPart.Rising, 0, time, Math.Max(run, _input.BrakeFrom));
        return Resolve(reacted, time, run);
    }

    /// <summary>The hand grips in full now, and goes on.</summary>
    public static HandMemory GripNow(double time, double run) => new(HandPart.Full, 0, time, run);

    private const double PlanPointWidth = 1e-11;

    /// <summary>Two forces nearer than this are equal: far more than what locating an event leaves, far less than a hand can feel, N.</summary>
    private const double TieForce = 2e-7;

    private double Rising(in HandMemory memory, double time) => _light + (_input.ForceRate * (time - memory.BrakingTime));

    private int SegmentAt(double x)
    {
        var k = 0;
        while (k < _run.Length && x >= _run[k])
        {
            k++;
        }

        return k;
    }

    private double Plan(int segment, double x)
    {
        if (segment == 0)
        {
            return _force[0];
        }

        if (segment == _run.Length)
        {
            return _force[^1];
        }

        var (x0, x1, f0, f1) = (_run[segment - 1], _run[segment], _force[segment - 1], _force[segment]);
        return f0 + ((f1 - f0) * (x - x0) / (x1 - x0));
    }
}
