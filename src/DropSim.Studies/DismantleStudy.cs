using DropSim.Model;

namespace DropSim.Studies;

/// <summary>One cut computed: the same piece with each catch, with ranges.</summary>
/// <param name="Plan">The cut.</param>
/// <param name="Cases">One per catch, in the order of the file.</param>
public sealed record CutResult(PlannedCut Plan, IReadOnlyList<CaseResult> Cases)
{
    /// <summary>What every catch shares: piece, spar, rope.</summary>
    public DropInput Input => Plan.Cases[0].Input;
}

/// <summary>A whole stem computed, cut by cut.</summary>
/// <param name="Name">File-name-safe name.</param>
/// <param name="Title">Title in words.</param>
/// <param name="Description">What it shows; may be empty.</param>
/// <param name="SourceHash">First 12 hex digits of the SHA-256 of the file's bytes.</param>
/// <param name="Rule">The rule that set the cuts.</param>
/// <param name="Profile">Diameters of the stem from the ground to the tip, m.</param>
/// <param name="Cuts">The cuts that were computed, from the tip down.</param>
/// <param name="Planned">Number of cuts of the whole plan.</param>
public sealed record DismantleResult(
    string Name, string Title, string Description, string SourceHash, CutRule Rule,
    IReadOnlyList<DiameterAtHeight> Profile, IReadOnlyList<CutResult> Cuts, int Planned)
{
    /// <summary>True where somebody cancelled or a cut could not be computed: the lower cuts are missing, and what is here is no plan.</summary>
    public bool CutShort => Cuts.Count < Planned;

    /// <summary>What is hit and what else ends badly, in the order of the cuts.</summary>
    public IReadOnlyList<CutReach> Reach => PlanReach.Of(Cuts);

    /// <summary>The catches, in the order of the file.</summary>
    public IReadOnlyList<string> Catches => [.. Cuts[0].Cases.Select(c => c.Case.CatchName)];
}

/// <summary>The cuts that were computed, and why there are no more.</summary>
/// <param name="Cuts">The computed cuts, from the tip down.</param>
/// <param name="Fault">What stopped the study; null where it was finished or somebody cancelled.</param>
public sealed record ComputedCuts(IReadOnlyList<CutResult> Cuts, Exception? Fault);

/// <summary>Computes the cuts of a whole stem: each a drop of its own, with the spar that stands then, its ranges included.</summary>
public static class DismantleStudy
{
    /// <summary>Runs, about: for progress.</summary>
    /// <param name="cuts">The cuts.</param>
    public static int RunsOf(IReadOnlyList<PlannedCut> cuts) => cuts.Sum(c => c.Cases.Sum(ScenarioStudy.RunsOf));

    /// <summary>Computes the cuts, from the tip down. The result does not depend on the number of threads.</summary>
    /// <param name="cuts">The cuts from the tip down.</param>
    /// <param name="threads">Threads, 1 or more.</param>
    /// <param name="progress">Told after every run; may be null.</param>
    /// <param name="cancellation">Cancels between steps: the cuts that were finished are given.</param>
    /// <returns>The cuts, and what stopped the study where something did: what was finished by then is worth keeping.</returns>
    /// <exception cref="OperationCanceledException">Cancelled before the first cut was finished.</exception>
    /// <exception cref="DropInputException">The first cut cannot be computed; the message names it.</exception>
    /// <exception cref="UnstableSparException">The stem would fall by itself; the message names the cut.</exception>
    public static ComputedCuts Compute(
        IReadOnlyList<PlannedCut> cuts, int threads, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(cuts);
        var done = new List<CutResult>();
        foreach (var cut in cuts)
        {
            try
            {
                done.Add(new(cut, [.. cut.Cases.Select(c => ScenarioStudy.Compute(c, threads, progress, cancellation))]));
            }
            catch (OperationCanceledException) when (cancellation.IsCancellationRequested && done.Count > 0)
            {
                break;
            }
            catch (Exception fault) when (done.Count > 0 && fault is not OperationCanceledException)
            {
                return new(done, fault);
            }
        }

        return new(done, null);
    }
}
