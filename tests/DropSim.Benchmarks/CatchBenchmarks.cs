using BenchmarkDotNet.Attributes;
using DropSim.Integration;
using DropSim.Model;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.OdeSolvers;

namespace DropSim.Benchmarks;

/// <summary>
/// The first 30 ms of a hard stop, one phase (rope slipping over the ring), by our integrator and by the fixed-step
/// Runge-Kutta method of MathNet with as many steps as it needs to err as little.
/// </summary>
[MemoryDiagnoser]
public class CatchBenchmarks
{
    private const double Window = 0.030;
    private DropSystem? _system;
    private double[] _start = [];
    private double _time;
    private int _steps;

    /// <summary>Finds first taut, and the number of fixed steps for equal error.</summary>
    [GlobalSetup]
    public void Prepare()
    {
        var input = MediumLog.With(CatchKind.HardStop);
        var run = DropSimulator.Run(input);
        _time = run.HingeBreakTime + run[MeasureIds.TimeToTaut].Value + 0.005;
        _system = Prepared.System(input, _time, out _start);
        var exact = Ours(1e-12);
        var error = Distance(Ours(1e-6), exact);
        _steps = 8;
        while (Distance(Theirs(), exact) > error && _steps < 1 << 20)
        {
            _steps *= 2;
        }

        Console.WriteLine(FormattableString.Invariant($"// error {error:e1}; fixed steps for the same: {_steps}"));
    }

    /// <summary>Our integrator.</summary>
    [Benchmark(Baseline = true)]
    public double[] Verner() => Ours(1e-6);

    /// <summary>MathNet's fixed-step Runge-Kutta method of order four.</summary>
    [Benchmark]
    public double[] MathNetFourthOrder() => Theirs();

    private double[] Ours(double tolerance)
    {
        var state = (double[])_start.Clone();
        new Integrator(_system!, new IntegrationOptions { RelativeTolerance = tolerance }).Run(_time, _time + Window, state);
        return state;
    }

    private double[] Theirs()
    {
        var guards = new double[_system!.GuardCount];
        var path = RungeKutta.FourthOrder(Vector<double>.Build.DenseOfArray(_start), _time, _time + Window, _steps + 1, (t, y) =>
        {
            var rates = new double[_system.StateCount];
            _system.Evaluate(t, y.AsArray(), rates, guards);
            return Vector<double>.Build.Dense(rates);
        });
        return path[^1].AsArray();
    }

    private static double Distance(double[] a, double[] b) => Enumerable.Range(0, 13).Max(i => Math.Abs(a[i] - b[i]));
}
