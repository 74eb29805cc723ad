using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>y' = f(t, y) without guards, scale 1 for every state.</summary>
internal sealed class SmoothSystem(int states, SmoothSystem.RightHandSide f, double scale = 1) : IHybridSystem
{
    internal delegate void RightHandSide(double time, ReadOnlySpan<double> y, Span<double> rates);

    public int StateCount => states;

    public int GuardCount => 0;

    public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards) => f(time, state, rates);

    public void ErrorScales(Span<double> scales) => scales.Fill(scale);

    public bool MayDip(int guard) => false;

    public EventResponse HandleEvent(double time, Span<double> state, int guard) => throw new InvalidOperationException("No guards.");

    public bool TryPhaseless(double time, Span<double> state) => false;
}

/// <summary>A system with guards put together from delegates; the handler keeps the phase in its closure.</summary>
internal sealed class GuardedSystem(int states, int guards) : IHybridSystem
{
    internal delegate void RightHandSide(double time, ReadOnlySpan<double> y, Span<double> rates, Span<double> guards);

    internal delegate EventResponse Handler(double time, Span<double> y, int guard);

    public int StateCount => states;

    public int GuardCount => guards;

    internal required RightHandSide Rates { get; init; }

    internal Handler OnEvent { get; init; } = (_, _, _) => EventResponse.Continue;

    internal bool Dips { get; init; }

    internal Func<bool> Phaseless { get; init; } = () => false;

    internal double Scale { get; init; } = 1;

    internal List<(double Time, int Guard)> Fired { get; } = [];

    private readonly double[] _rates = new double[Math.Max(states, 0)];
    private readonly double[] _guards = new double[Math.Max(guards, 0)];

    public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards) =>
        Rates(time, state, rates.IsEmpty ? _rates : rates, guards.IsEmpty ? _guards : guards);

    public void ErrorScales(Span<double> scales) => scales.Fill(Scale);

    public bool MayDip(int guard) => Dips;

    public EventResponse HandleEvent(double time, Span<double> state, int guard)
    {
        Fired.Add((time, guard));
        return OnEvent(time, state, guard);
    }

    public bool TryPhaseless(double time, Span<double> state) => Phaseless();
}

/// <summary>Methods by name, so that theories read well.</summary>
internal static class Methods
{
    internal const string Verner = "Verner 7(6)";
    internal const string DormandPrince = "Dormand-Prince 5(4)";

    internal static RungeKuttaMethod Named(string name) =>
        name == Verner ? RungeKuttaMethod.Verner76 : RungeKuttaMethod.DormandPrince54;
}

/// <summary>Runs a smooth problem and gives the state at the end.</summary>
internal static class Solve
{
    internal static double[] Smooth(
        SmoothSystem.RightHandSide f, double[] y0, double end, double tolerance, string method = Methods.Verner, double largest = 10)
    {
        double[] y = [.. y0];
        var options = new IntegrationOptions { RelativeTolerance = tolerance, Method = Methods.Named(method), LargestStep = largest };
        RunOutcome outcome = new Integrator(new SmoothSystem(y.Length, f), options).Run(0, end, y);
        outcome.Stop.Should().Be(StopKind.EndTime);
        outcome.Time.Should().Be(end);
        return y;
    }
}
