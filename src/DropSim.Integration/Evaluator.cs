using System.Runtime.CompilerServices;
namespace DropSim.Integration;

/// <summary>The system's right-hand side, counted.</summary>
internal sealed class Evaluator
{
    internal Evaluator(IHybridSystem system)
    {
        System = system;
        StateCount = system.StateCount;
        GuardCount = system.GuardCount;
        ArgumentOutOfRangeException.ThrowIfLessThan(StateCount, 1, nameof(system));
        ArgumentOutOfRangeException.ThrowIfNegative(GuardCount, nameof(system));
    }

    internal IHybridSystem System { get; }

    internal int StateCount { get; }

    internal int GuardCount { get; }

    internal int Count { get; private set; }

    internal void Reset() => Count = 0;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates, Span<double> guards)
    {
        Count++;
        System.Evaluate(time, state, rates, guards);
    }
}
