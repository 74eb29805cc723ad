using DropSim.Reporting;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Session;

/// <summary>A drop that was computed, under the number by which the page knows it.</summary>
/// <param name="Handle">The number.</param>
/// <param name="Scenario">The scenario it belongs to.</param>
/// <param name="Index">Index of the case.</param>
/// <param name="Result">The run.</param>
internal sealed record StoredRun(int Handle, Scenario Scenario, int Index, CaseResult Result)
{
    /// <summary>What set-ups like it say; null until they are drawn.</summary>
    public ToldCase? Told { get; init; }

    /// <summary>The curves that were sent with it.</summary>
    public required Model.TraceTable Table { get; init; }

    /// <summary>The inputs as they were, to say what changed.</summary>
    public required IReadOnlyList<InputDto> Inputs { get; init; }
}

/// <summary>The latest runs, and those that the page asked to keep.</summary>
internal sealed class RunStore
{
    /// <summary>Runs remembered besides the kept ones: enough for a page that compares before and after.</summary>
    private const int Remembered = 40;

    private readonly Dictionary<int, StoredRun> _runs = [];
    private readonly Queue<int> _latest = [];
    private readonly HashSet<int> _kept = [];
    private int _next = 1;

    public int NextHandle() => _next++;

    public void Add(StoredRun run)
    {
        _runs[run.Handle] = run;
        _latest.Enqueue(run.Handle);
        while (_latest.Count > Remembered)
        {
            int oldest = _latest.Dequeue();
            if (!_kept.Contains(oldest))
            {
                _runs.Remove(oldest);
            }
        }
    }

    public void Replace(StoredRun run)
    {
        if (_runs.ContainsKey(run.Handle))
        {
            _runs[run.Handle] = run;
        }
    }

    public StoredRun this[int handle] =>
        _runs.GetValueOrDefault(handle) ?? throw new InvalidOperationException(FormattableString.Invariant($"Run {handle} is no longer remembered."));

    public void Keep(int handle) => _kept.Add(handle);

    public void Release(int handle)
    {
        _kept.Remove(handle);
        if (!_latest.Contains(handle))
        {
            _runs.Remove(handle);
        }
    }
}
