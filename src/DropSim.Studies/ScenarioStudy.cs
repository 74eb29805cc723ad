using DropSim.Model;
using DropSim.Studies.Draws;

namespace DropSim.Studies;

/// <summary>Computes all cases of a scenario and says which are compared.</summary>
public static class ScenarioStudy
{
    /// <summary>Runs per case, about: for progress.</summary>
    /// <param name="dropCase">The case.</param>
    public static int RunsOf(DropCase dropCase)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        return (dropCase.Ranges.Count == 0 ? 1 : 1 + (2 * dropCase.Ranges.Count) + RangeStudy.SpreadPoints + 6)
            + (dropCase.Uncertain.Count == 0 ? 0 : new DrawPlan(0).Count);
    }

    /// <summary>Computes a scenario.</summary>
    /// <param name="name">File-name-safe name.</param>
    /// <param name="title">Title.</param>
    /// <param name="description">Description; may be empty.</param>
    /// <param name="sourceHash">Hash of the source.</param>
    /// <param name="cases">Cases in the file's order.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told after every run; may be null.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    /// <exception cref="DropInputException">A case cannot be computed; the message names it.</exception>
    /// <exception cref="UnstableSparException">A stem would fall by itself; the message names the case.</exception>
    public static ScenarioResult Compute(
        string name, string title, string description, string sourceHash, IReadOnlyList<DropCase> cases, int threads,
        Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(cases);
        var results = cases.Select(c => Compute(c, threads, progress, cancellation)).ToArray();
        var pairs = Pairs(cases);
        return new(name, title, description, sourceHash, results, pairs) { Told = Draw(name, cases, results, pairs, threads, progress, cancellation) };
    }

    /// <summary>Set-ups like those of a scenario, all cases on the same draws; null where nothing is unknown.</summary>
    private static ToldScenario? Draw(
        string name, IReadOnlyList<DropCase> cases, CaseResult[] results, IReadOnlyList<Comparison> pairs, int threads, Action? progress, CancellationToken cancellation)
    {
        if (cases.All(c => c.Uncertain.Count == 0))
        {
            return null;
        }

        var drawn = DrawStudy.Compute(cases, new DrawPlan(DrawStudy.SeedOf(name)) { Threads = threads }, progress, cancellation);
        cancellation.ThrowIfCancellationRequested();
        return ToldScenario.Of(drawn, [.. results.Select(r => r.Run)], pairs.Select(p => (p.First, p.Second)), cancellation);
    }

    /// <summary>Computes one case; what goes wrong names it.</summary>
    internal static CaseResult Compute(DropCase dropCase, int threads, Action? progress, CancellationToken cancellation)
    {
        try
        {
            return RangeStudy.Compute(dropCase, threads, progress, cancellation);
        }
        catch (DropInputException e)
        {
            throw new DropInputException($"{dropCase.Name}: {e.Message}", e);
        }
        catch (UnstableSparException e)
        {
            throw new UnstableSparException($"{dropCase.Name}: {e.Message}", e);
        }
    }

    /// <summary>
    /// Which cases are compared: within a set-up every catch with the first hard stop (or the first catch), and within a catch
    /// every set-up with the first one.
    /// </summary>
    /// <param name="cases">Cases in the file's order.</param>
    public static IReadOnlyList<Comparison> Pairs(IReadOnlyList<DropCase> cases)
    {
        ArgumentNullException.ThrowIfNull(cases);
        var pairs = new List<Comparison>();
        var indexed = cases.Select((c, i) => (Case: c, Index: i)).ToArray();
        foreach (var group in indexed.GroupBy(c => c.Case.Setup))
        {
            var members = group.ToArray();
            var reference = members.FirstOrDefault(m => m.Case.Input.Catch.Kind == CatchKind.HardStop, members[0]);
            foreach (var other in members.Where(m => m.Index != reference.Index))
            {
                pairs.Add(new(other.Index, reference.Index, "", ""));
            }
        }

        foreach (var group in indexed.GroupBy(c => c.Case.CatchName))
        {
            var members = group.ToArray();
            foreach (var other in members.Skip(1))
            {
                pairs.Add(new(other.Index, members[0].Index, "", ""));
            }
        }

        return pairs;
    }

    /// <summary>
    /// The two cases that show best what a scenario is about, both of the same set-up or both of the same catch: a catch in which something goes
    /// wrong and what it is held against; otherwise the first set-up and the next one; otherwise the catch that can be made gentler and the next one.
    /// </summary>
    /// <param name="cases">Cases in the file's order; at least one.</param>
    public static OpeningPair Opening(IReadOnlyList<DropCase> cases)
    {
        ArgumentNullException.ThrowIfNull(cases);
        var pairs = Pairs(cases);
        bool BetweenCatches(Comparison p) => cases[p.First].Setup == cases[p.Second].Setup;
        if (pairs.FirstOrDefault(p => BetweenCatches(p) && cases[p.First].Input.Catch.HasMishap && !cases[p.Second].Input.Catch.HasMishap) is { } mishap)
        {
            return new(mishap.First, mishap.Second);
        }

        var setups = pairs.Where(p => !BetweenCatches(p)).ToArray();
        if ((setups.FirstOrDefault(p => cases[p.First].Input.Catch.Kind == CatchKind.HardStop) ?? setups.FirstOrDefault()) is { } change)
        {
            return new(change.Second, change.First);
        }

        return pairs.Count > 0 ? new(pairs[0].Second, pairs[0].First) : new(0, null);
    }
}

/// <summary>Which two of a scenario's cases are looked at first.</summary>
/// <param name="First">Index of the case looked at.</param>
/// <param name="Second">Index of the case beside it; null where there is one case only.</param>
public sealed record OpeningPair(int First, int? Second);
