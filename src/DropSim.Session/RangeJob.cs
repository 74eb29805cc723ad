using System.Diagnostics;
using DropSim.Reporting;
using DropSim.Studies;

namespace DropSim.Session;

/// <summary>The ranges of some runs, worked on in short pieces of time.</summary>
internal sealed class RangeJob
{
    private readonly (StoredRun Run, RangeStudy.Pieces Pieces)[] _work;

    /// <summary>Begins; a run whose ranges are known already costs nothing.</summary>
    public RangeJob(IReadOnlyList<StoredRun> runs, UnitSystem units)
    {
        Units = units;
        _work = [.. runs.Select(r => (r, new RangeStudy.Pieces(r.Result.Case, r.Result.Run)))];
    }

    public UnitSystem Units { get; }

    public int Done => _work.Sum(w => Known(w.Run) ? 0 : w.Pieces.Done);

    public int Total => _work.Sum(w => Known(w.Run) ? 0 : w.Pieces.Total);

    public bool IsComplete => _work.All(w => Known(w.Run) || w.Pieces.IsComplete);

    /// <summary>The runs, with the ranges known so far.</summary>
    public IReadOnlyList<StoredRun> Runs => [.. _work.Select(w => Known(w.Run) ? w.Run : w.Run with
    {
        Result = w.Pieces.Done == 0 ? w.Run.Result : w.Pieces.Result,
        RangeState = w.Pieces.IsComplete ? "whole" : w.Pieces.Done > 0 ? "partial" : "none",
    })];

    /// <summary>Computes until the time is over or nothing is left; at least one run where there is any time.</summary>
    public void Work(TimeSpan piece)
    {
        if (piece <= TimeSpan.Zero)
        {
            return;
        }

        Stopwatch watch = Stopwatch.StartNew();
        while (watch.Elapsed < piece)
        {
            // The one that is furthest behind, so that cases under comparison are known equally well.
            RangeStudy.Pieces? next = _work.Where(w => !Known(w.Run) && !w.Pieces.IsComplete).Select(w => w.Pieces).MinBy(p => p.Done);
            if (next is null)
            {
                return;
            }

            next.Next();
        }
    }

    private static bool Known(StoredRun run) => run.RangeState == "whole";
}
