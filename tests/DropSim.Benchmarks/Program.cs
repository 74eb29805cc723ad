using BenchmarkDotNet.Running;
using DropSim.Benchmarks;

if (args is ["quick"])
{
    QuickTimes.Print(Console.Out);
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(DropBenchmarks).Assembly).Run(args);
