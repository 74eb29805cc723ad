using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Validation.Measured;

/// <summary>A mass straight below a fixed deflection point, falling onto the rope; the rope's other end is fast.</summary>
/// <remarks>
/// The rope curve, the relaxing branch with its transport and the friction network are the model's own, and so is the engine; only the
/// geometry is the experiment's. Without a belayer's leg the rope is fast at the deflection point.
/// </remarks>
internal sealed class FallOnRope : IHybridSystem
{
    private readonly RopeCurve _curve;

    public FallOnRope(FallingMass fall, RopeLaw rope)
    {
        (Fall, Rope) = (fall, rope);
        _curve = new(rope.Lasting, rope.Curve);
    }

    public FallingMass Fall { get; }

    public RopeLaw Rope { get; }

    /// <summary>Gravity, m/s2: the sources' own.</summary>
    public double Gravity { get; init; } = 9.81;

    public int StateCount => 6;

    public int GuardCount => 1;

    /// <summary>Follows the fall from the rope's first tightening.</summary>
    /// <param name="until">How long, s.</param>
    /// <param name="stopAtTurn">True to end where the mass turns round.</param>
    public RopeTrace Run(double until, bool stopAtTurn)
    {
        _guarded = stopAtTurn;
        double[] state = [0, Fall.Speed, Fall.Load, Fall.Ground, 0, 0];
        var trace = new RopeTrace();
        var options = new IntegrationOptions { RelativeTolerance = 1e-9, LargestStep = 1e-3, StepBudget = 1_000_000 };
        var outcome = new Integrator(this, options).Run(0, until, state, new Recorder(this, trace));
        if (outcome.Stop is not (StopKind.EndTime or StopKind.StoppedBySystem))
        {
            throw new InvalidOperationException($"The fall was not computed to its end: {outcome.Stop}.");
        }

        return trace;
    }

    private bool _guarded;

    public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards)
    {
        if (!guards.IsEmpty)
        {
            guards[0] = _guarded ? state[1] : double.PositiveInfinity;
        }

        if (rates.IsEmpty)
        {
            return;
        }

        var flow = Flow(state, out var e1, out var e2);
        rates[0] = state[1];
        rates[1] = Gravity - (flow.T1 / Fall.Mass);
        rates[2] = flow.Slip;
        rates[3] = -flow.Slip;
        rates[4] = (e1 - state[4]) / Rope.RelaxationTime;
        rates[5] = (e2 - state[5]) / Rope.RelaxationTime;

        // Rope that crosses brings its memory with it.
        if (flow.Slip > 0)
        {
            rates[4] += flow.Slip * (state[5] - state[4]) / state[2];
        }
        else if (flow.Slip < 0)
        {
            rates[5] -= flow.Slip * (state[4] - state[5]) / state[3];
        }
    }

    public void ErrorScales(Span<double> scales) => scales.Fill(1);

    public bool MayDip(int guard) => false;

    public EventResponse HandleEvent(double time, Span<double> state, int guard) => EventResponse.Stop;

    public bool TryPhaseless(double time, Span<double> state) => false;

    private NetworkFlow Flow(ReadOnlySpan<double> y, out double e1, out double e2)
    {
        var d1 = Fall.Load + y[0];
        e1 = (d1 / y[2]) - 1;
        e2 = 0;
        if (Fall.Ground == 0)
        {
            return new(Pull(e1, y[4], y[1] / y[2]), 0, 0, 0, 0);
        }

        e2 = (Fall.Ground / y[3]) - 1;
        var numbers = new NetworkNumbers(
            Pull(e1, y[4], y[1] / y[2]), Rope.Lasting * Rope.ViscousTime * d1 / (y[2] * y[2]),
            Pull(e2, y[5], 0), Rope.Lasting * Rope.ViscousTime * Fall.Ground / (y[3] * y[3]), Fall.Ratio, double.PositiveInfinity, double.PositiveInfinity);
        return FrictionNetwork.Flow(FrictionNetwork.Choose(true, true, numbers, Fall.Mass * Gravity, null, out _), numbers);
    }

    private double Pull(double strain, double relaxed, double rate) =>
        _curve.Tension(strain) + (Rope.Relaxing * (strain - relaxed)) + (Rope.Lasting * Rope.ViscousTime * rate);

    private sealed class Recorder(FallOnRope system, RopeTrace trace) : IRunObserver
    {
        public void OnBegin(double time, ReadOnlySpan<double> state) => Add(time, state);

        public void OnStep(DenseStep dense) => Add(dense.EndTime, dense.EndState);

        public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
        {
        }

        private void Add(double time, ReadOnlySpan<double> state)
        {
            var flow = system.Flow(state, out _, out _);
            trace.Add(time, flow.T1, flow.T2, state[0]);
        }
    }
}

/// <summary>A falling mass and the rope's path.</summary>
/// <param name="Mass">Mass, kg.</param>
/// <param name="Speed">Speed when the rope comes tight, m/s.</param>
/// <param name="Load">Rope between mass and deflection point, m.</param>
/// <param name="Ground">Rope beyond the deflection point, m; 0 where the rope is fast there.</param>
/// <param name="Ratio">Ratio of the tensions on both sides of the deflection point while rope slides.</param>
internal sealed record FallingMass(double Mass, double Speed, double Load, double Ground, double Ratio);

/// <summary>A rope per unit strain.</summary>
/// <param name="Lasting">Lasting stiffness EA, N.</param>
/// <param name="Relaxing">Stiffness of the relaxing branch, N.</param>
/// <param name="RelaxationTime">Its time constant, s.</param>
/// <param name="ViscousTime">Regularising time, s.</param>
internal sealed record RopeLaw(double Lasting, double Relaxing, double RelaxationTime, double ViscousTime)
{
    /// <summary>Points of a stretch curve; empty for a straight one.</summary>
    public IReadOnlyList<StretchPoint> Curve { get; init; } = [];

    /// <summary>
    /// A standard linear solid of a whole rope (k2 in series with k1 beside eta) as lasting and relaxing stiffness: at once it is k2, after
    /// long k1 k2 / (k1 + k2), and its force relaxes with eta / (k1 + k2). Per unit strain, times the length.
    /// </summary>
    public static RopeLaw StandardLinear(double k1, double k2, double eta, double length)
    {
        var lasting = length * k1 * k2 / (k1 + k2);
        return new(lasting, (length * k2) - lasting, eta / (k1 + k2), 1e-4);
    }
}

/// <summary>What a fall on a rope gave, at the ends of the steps (1 ms apart at most).</summary>
internal sealed class RopeTrace
{
    private readonly List<(double Time, double T1, double T2, double Travel)> _rows = [];

    public IReadOnlyList<(double Time, double T1, double T2, double Travel)> Rows => _rows;

    public (double Time, double T1, double T2, double Travel) Peak => _rows.MaxBy(r => r.T1);

    /// <summary>Largest travel of the mass after the rope came tight, m.</summary>
    public double Travel => _rows.Max(r => r.Travel);

    public void Add(double time, double t1, double t2, double travel) => _rows.Add((time, t1, t2, travel));
}
