using BenchmarkDotNet.Attributes;
using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Benchmarks;

/// <summary>One drop: with all measures, the bare integration, and its right-hand side.</summary>
[MemoryDiagnoser]
public class DropBenchmarks
{
    private readonly RunOptions _measures = new() { Detail = RunDetail.MeasuresOnly };
    private DropInput _input = MediumLog.With(CatchKind.HardStop);
    private DropSystem? _system;
    private double[] _state = [];
    private double[] _rates = [];
    private double[] _guards = [];

    /// <summary>The catch.</summary>
    [Params(CatchKind.HardStop, CatchKind.LetRun)]
    public CatchKind Catch { get; set; }

    /// <summary>Prepares the right-hand side in the middle of the drop, both legs pulling.</summary>
    [GlobalSetup]
    public void Prepare()
    {
        _input = MediumLog.With(Catch);
        _system = Prepared.System(_input, 1.5, out _state);
        _rates = new double[_system.StateCount];
        _guards = new double[_system.GuardCount];
    }

    /// <summary>8 s with every measure and its exact extreme.</summary>
    [Benchmark(Baseline = true)]
    public DropRun DropWithMeasures() => DropSimulator.Run(_input, _measures);

    /// <summary>8 s, integration only.</summary>
    [Benchmark]
    public RunOutcome DropIntegrated() => Prepared.Integrate(_input, RungeKuttaMethod.Verner76);

    /// <summary>8 s with the checking method.</summary>
    [Benchmark]
    public RunOutcome DropIntegratedDormandPrince() => Prepared.Integrate(_input, RungeKuttaMethod.DormandPrince54);

    /// <summary>One evaluation of rates and guards.</summary>
    [Benchmark]
    public double RightHandSide()
    {
        _system!.Evaluate(1.5, _state, _rates, _guards);
        return _rates[0];
    }
}
