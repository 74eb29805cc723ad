using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;

namespace DropSim.Studies;

/// <summary>
/// The runs of a study, in the order in which they were asked for. Where somebody cancelled, what was finished by then is
/// here and the rest says that it is not.
/// </summary>
/// <typeparam name="T">What one run gives.</typeparam>
public sealed class StudyRuns<T>
{
    private readonly T[] _results;
    private readonly bool[] _finished;

    internal StudyRuns(T[] results, bool[] finished)
    {
        _results = results;
        _finished = finished;
        Finished = finished.Count(f => f);
    }

    /// <summary>Number of runs asked for.</summary>
    public int Asked => _results.Length;

    /// <summary>Number of runs that were finished.</summary>
    public int Finished { get; }

    /// <summary>True where the study was cancelled before all was done.</summary>
    public bool CutShort => Finished < Asked;

    /// <summary>What a run gave.</summary>
    /// <param name="index">Its place in the order asked for.</param>
    /// <exception cref="InvalidOperationException">The run was not finished.</exception>
    public T this[int index] => _finished[index] ? _results[index] : throw new InvalidOperationException("This run was not finished.");

    /// <summary>Whether a run was finished.</summary>
    /// <param name="index">Its place in the order asked for.</param>
    public bool IsFinished(int index) => _finished[index];

    /// <summary>What the finished runs gave, each with its place, in order.</summary>
    public IEnumerable<(int Index, T Result)> Done =>
        Enumerable.Range(0, Asked).Where(IsFinished).Select(i => (i, _results[i]));
}

/// <summary>Computes many runs on several threads.</summary>
public static class StudyRuns
{
    /// <summary>
    /// Computes runs 0 to <paramref name="count"/> - 1, handed out in that order one at a time. The results stand in that order
    /// whatever the threads did, and are the same on any number of them where a run depends on its index alone.
    /// </summary>
    /// <typeparam name="T">What one run gives.</typeparam>
    /// <param name="count">Number of runs, 0 or more.</param>
    /// <param name="run">One run: its index and the token that cancels it between steps. What is expected to fail is a result,
    /// not an exception; an exception ends the study.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told after every run, from several threads; may be null.</param>
    /// <param name="cancellation">Cancels: no exception, but a result that is cut short.</param>
    public static StudyRuns<T> Compute<T>(
        int count, Func<int, CancellationToken, T> run, int threads, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfLessThan(threads, 1);
        var results = new T[count];
        var finished = new bool[count];
        var inOrder = Partitioner.Create(Enumerable.Range(0, count), EnumerablePartitionerOptions.NoBuffering);
        try
        {
            Parallel.ForEach(inOrder, new ParallelOptions { MaxDegreeOfParallelism = threads }, (index, loop) =>
            {
                if (cancellation.IsCancellationRequested)
                {
                    loop.Stop();
                    return;
                }

                try
                {
                    results[index] = run(index, cancellation);
                }
                catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
                {
                    loop.Stop();
                    return;
                }

                finished[index] = true;
                progress?.Invoke();
            });
        }
        catch (AggregateException several)
        {
            // As it was thrown, not wrapped, so that the caller can catch what it expects.
            ExceptionDispatchInfo.Throw(several.Flatten().InnerExceptions[0]);
        }

        return new(results, finished);
    }
}
