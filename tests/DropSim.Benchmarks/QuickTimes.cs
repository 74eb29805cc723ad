using System.Diagnostics;
using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Benchmarks;

/// <summary>The same drops in a minute: best of many, with the accuracy that the time bought.</summary>
internal static class QuickTimes
{
    private const int Warm = 150;
    private const int Best = 60;

    /// <summary>Factor on the default tolerance at which the largest forces are known to 1e-5.</summary>
    private const double ForForces = 10;

    public static void Print(TextWriter output)
    {
        foreach (var kind in new[] { CatchKind.HardStop, CatchKind.LetRun })
        {
            var input = MediumLog.With(kind);
            var all = new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(input) };
            var forces = all with { Only = [MeasureIds.LoadLegTension, MeasureIds.RiggingPointForce], ToleranceFactor = ForForces };
            var exact = DropSimulator.Run(input, all with { ToleranceFactor = 1e-5 });
            output.WriteLine($"{kind}:");
            Tell("forces to 1e-5", forces);
            Tell("every measure at the default tolerance", all);
            output.WriteLine(FormattableString.Invariant($"  integration alone, at the default tolerance: {Milliseconds(() => Prepared.Integrate(input, RungeKuttaMethod.Verner76)):0.00} ms"));

            void Tell(string what, RunOptions options)
            {
                var run = DropSimulator.Run(input, options);
                string Moved(string id) => FormattableString.Invariant($"{Math.Abs((run[id].Value / exact[id].Value) - 1):e1}");
                var acceleration = options.Only is null ? $", climber's acceleration {Moved(MeasureIds.ClimberAcceleration)}" : "";
                output.WriteLine(FormattableString.Invariant(
                    $"  {what}: {Milliseconds(() => DropSimulator.Run(input, options)):0.00} ms; {run.Statistics.AcceptedSteps} steps, {run.Statistics.Evaluations} evaluations, {run.Statistics.Events} events; against a tolerance of 1e-11 load leg {Moved(MeasureIds.LoadLegTension)}, rigging point {Moved(MeasureIds.RiggingPointForce)}{acceleration}"));
            }
        }
    }

    /// <summary>A map of the medium log as shipped over wraps and slack: drops a minute on all cores.</summary>
    public static void PrintStudy(TextWriter output, string scenario)
    {
        const int Side = 24;
        var draft = ScenarioDraft.Open(scenario);
        var central = draft.Build().Scenario!.Cases[1].Input;
        (DropInput?, string) At(int i) => (draft.Build([KeyChange.Of("device.wraps", 2 + (2.0 * (i / Side) / Side)), KeyChange.Of("rope.slack", 0.5 * (i % Side) / Side)]).Scenario?.Cases[1].Input, "");
        var options = new VaryOptions([MeasureIds.RiggingPointForce, MeasureIds.RopeRun], VaryStudy.DefaultTolerance, Environment.ProcessorCount);
        VaryStudy.Compute(Side * Side / 4, At, central, options);
        var watch = Stopwatch.StartNew();
        var runs = VaryStudy.Compute(Side * Side, At, central, options);
        var minutes = watch.Elapsed.TotalMinutes;
        watch.Restart();
        VaryStudy.Compute(Side * Side, At, central, options with { Tolerance = central.Computation.RelativeTolerance });
        var tighter = watch.Elapsed.TotalMinutes;
        var check = VaryStudy.Check(runs, At, options);
        output.WriteLine(FormattableString.Invariant(
            $"vary, medium log let run, {Side * Side} drops on {Environment.ProcessorCount} threads: {Side * Side / minutes:0} drops a minute; 100,000 drops in {1e5 * minutes / Side / Side:0.0} min; {tighter / minutes:0.00} times as fast as at the default tolerance"));
        output.WriteLine(FormattableString.Invariant(
            $"  at a tolerance of {VaryStudy.DefaultTolerance:0e0}, against {check.Drops} runs at a tenth of the default one: rigging point {check.Largest[0]:e1}, rope run {check.Largest[1]:e1}"));
    }

    private static double Milliseconds(Action action)
    {
        for (var k = 0; k < Warm; k++)
        {
            action();
        }

        var best = double.PositiveInfinity;
        for (var k = 0; k < Best; k++)
        {
            var watch = Stopwatch.StartNew();
            action();
            best = Math.Min(best, watch.Elapsed.TotalMilliseconds);
        }

        return best;
    }
}
