using System.Diagnostics;
using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Benchmarks;

/// <summary>The same drops in a minute: best of many, with the accuracy that the time bought.</summary>
internal static class QuickTimes
{
    private const int Warm = 150;
    private const int Best = 60;

    public static void Print(TextWriter output)
    {
        foreach (var kind in new[] { CatchKind.HardStop, CatchKind.LetRun })
        {
            var input = MediumLog.With(kind);
            var options = new RunOptions { Detail = RunDetail.MeasuresOnly };
            var run = DropSimulator.Run(input, options);
            var exact = DropSimulator.Run(input, options with { ToleranceFactor = 1e-5 });
            string Moved(string id) => FormattableString.Invariant($"{Math.Abs((run[id].Value / exact[id].Value) - 1):e1}");
            output.WriteLine(FormattableString.Invariant(
                $"{kind}: with measures {Milliseconds(() => DropSimulator.Run(input, options)):0.00} ms, integration {Milliseconds(() => Prepared.Integrate(input, RungeKuttaMethod.Verner76)):0.00} ms; {run.Statistics.AcceptedSteps} steps, {run.Statistics.Evaluations} evaluations, {run.Statistics.Events} events"));
            output.WriteLine($"  against a tolerance of 1e-11: load leg {Moved(MeasureIds.LoadLegTension)}, rigging point {Moved(MeasureIds.RiggingPointForce)}, climber's acceleration {Moved(MeasureIds.ClimberAcceleration)}");
        }
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
