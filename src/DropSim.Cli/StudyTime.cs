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
    private const int FewDrops = 500;

    /// <summary>What takes less is not told.</summary>
    private static readonly TimeSpan Short = TimeSpan.FromSeconds(10);

    /// <summary>Time spent on timing each batch.</summary>
    private static readonly TimeSpan Trial = TimeSpan.FromSeconds(1);

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

        var time = TimeSpan.FromSeconds(batches.Where(b => b.Count > 0).Sum(b => b.Count * SecondsOfOne(samples, b.How, threads, cancellation)));
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
    private static double SecondsOfOne(IReadOnlyList<DropInput> samples, RunOptions how, int threads, CancellationToken cancellation)
    {
        // The first drop of a process is compiled while it is computed.
        DropOutcome.Of(samples[0], how, cancellation);
        using var enough = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var watch = Stopwatch.StartNew();
        var finished = 0;
        var seconds = double.NaN;
        var gate = new Lock();
        StudyRuns.Compute(
            int.MaxValue / 1024,
            (i, token) => DropOutcome.Of(samples[i % samples.Count], how, cancellation),
            threads,
            () =>
            {
                lock (gate)
                {
                    finished++;
                    seconds = watch.Elapsed.TotalSeconds / finished;
                    if (watch.Elapsed > Trial)
                    {
                        enough.Cancel();
                    }
                }
            },
            enough.Token);
        return seconds;
    }
}
