using BenchmarkDotNet.Running;
using DropSim.Benchmarks;

if (args is ["quick", ..])
{
    QuickTimes.Print(Console.Out);
    QuickTimes.PrintStudy(Console.Out, args.Length > 1 ? args[1] : "scenarios/medium-log.toml");
    return;
}

if (args is ["studies", ..])
{
    StudyTimes.Print(Console.Out, args.Length > 1 ? args[1] : "scenarios");
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(DropBenchmarks).Assembly).Run(args);
