using System.Diagnostics;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>Drops of one kind in a study.</summary>
/// <param name="Count">How many.</param>
/// <param name="How">How they are computed.</param>
internal sealed record DropBatch(long Count, RunOptions How);

/// <summary>Says before a long study starts how long it will take. Some of its own drops are computed for that, on its own threads, and timed.</summary>
internal static class StudyTime
{
    /// <summary>Most drops that are looked at as samples; they should be spread over the study.</summary>
    public const int MostSamples = 64;

    /// <summary>Fewer drops than this take a few seconds: they are not timed.</summary>
    private const int FewDrops = 2000;

    /// <summary>Most drops that are timed.</summary>
    private const int MostTimed = 100_000;

    /// <summary>What takes less is not told.</summary>
    private static readonly TimeSpan Short = TimeSpan.FromSeconds(10);

    /// <summary>Longest time spent on timing each batch.</summary>
    private static readonly TimeSpan Trial = TimeSpan.FromSeconds(3);

    /// <summary>What counts of it: before, the drops are still being compiled.</summary>
    private static readonly TimeSpan Counted = TimeSpan.FromSeconds(1);

    /// <summary>Tells on the error stream; nothing where it will not take long.</summary>
    /// <param name="terminal">Where to write.</param>
    /// <param name="samples">Drops of the study.</param>
    /// <param name="threads">Threads.</param>
    /// <param name="cancellation">Interrupts.</param>
    /// <param name="batches">What is to be computed.</param>
    public static void Tell(
        Terminal terminal, IReadOnlyList<DropInput> samples, int threads, CancellationToken cancellation, params IReadOnlyList<DropBatch> batches)
    {
        var drops = batches.Sum(b => b.Count);
        if (samples.Count == 0 || drops < FewDrops)
        {
            return;
        }

        var time = TimeSpan.FromSeconds(batches.Where(b => b.Count > 0).Sum(b => b.Count * SecondsOfOne(samples, b, threads, cancellation)));
        if (time >= Short && !cancellation.IsCancellationRequested)
        {
            terminal.Error.WriteLine(FormattableString.Invariant(
                $"{drops:N0} drops will take about {Words(time)} here. Ctrl+C stops them and keeps what is finished."));
        }
    }

    /// <summary>A span of time, as people say it.</summary>
    /// <param name="time">The time.</param>
    internal static string Words(TimeSpan time)
    {
        var minutes = (int)Math.Round(time.TotalMinutes);
        return minutes < 2 ? FormattableString.Invariant($"{Math.Max(10, 10 * Math.Round(time.TotalSeconds / 10)):F0} s")
            : minutes < 120 ? FormattableString.Invariant($"{minutes} min")
            : FormattableString.Invariant($"{Math.Round(time.TotalHours):F0} h");
    }

    /// <summary>Seconds a drop, all threads at work.</summary>
    private static double SecondsOfOne(IReadOnlyList<DropInput> samples, DropBatch batch, int threads, CancellationToken cancellation)
    {
        using var enough = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var watch = Stopwatch.StartNew();
        var ends = new List<TimeSpan>();
        StudyRuns.Compute(
            (int)Math.Min(batch.Count, MostTimed),
            (i, token) => DropOutcome.Of(samples[i % samples.Count], batch.How, token),
            threads,
            () =>
            {
                lock (ends)
                {
                    ends.Add(watch.Elapsed);
                    if (ends[^1] > Trial || (ends.Count >= samples.Count && ends[^1] * (batch.Count / ends.Count) < Short))
                    {
                        enough.Cancel();
                    }
                }
            },
            enough.Token);
        cancellation.ThrowIfCancellationRequested();
        var last = ends.Where(e => e > ends[^1] - Counted).ToArray();
        return last.Length > threads ? (last[^1] - last[0]).TotalSeconds / (last.Length - 1) : ends[^1].TotalSeconds / ends.Count;
    }
}
