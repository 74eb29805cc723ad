using System.Globalization;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>What a repetition at a tenth of the tolerance showed, in words.</summary>
internal static class VerificationText
{
    /// <summary>The largest movement and the events first, then each headline measure and the load leg.</summary>
    /// <param name="run">The run that was repeated.</param>
    /// <param name="verification">How far its measures moved.</param>
    public static IEnumerable<string> Of(DropRun run, Verification verification)
    {
        var shown = run.Measures.Where(m => m.Headline || m.Id == MeasureIds.LoadLegTension).ToArray();
        var headline = Largest(verification.Moved.Where(m => shown.Any(s => s.Id == m.Id)));
        yield return $"Repeated at a tenth of the tolerance: headline measures moved by at most {headline}, any measure by at most {Largest(verification.Moved)}; "
            + $"the sequence of events was {(verification.SameEvents ? "the same" : "different")}.";
        yield return "Each: " + string.Join(", ", shown.Select(m => $"{m.Id} {Percent(verification.Moved.Single(v => v.Id == m.Id).Relative)}")) + ".";

        var lost = verification.Moved.Where(m => !double.IsFinite(m.Relative)).Select(m => m.Id).ToArray();
        if (lost.Length > 0)
        {
            yield return $"No percentage can be given for {string.Join(", ", lost)}: zero or without a value in one of the two runs only.";
        }
    }

    private static string Largest(IEnumerable<MovedMeasure> moved) =>
        moved.Where(m => double.IsFinite(m.Relative)).MaxBy(m => m.Relative) is { } most ? $"{Percent(most.Relative)} ({most.Id})" : "an unknown amount";

    /// <summary>A small movement is not shown as none.</summary>
    private static string Percent(double relative) =>
        !double.IsFinite(relative) ? "unknown"
        : relative == 0 ? "0 %"
        : relative < SmallestShown ? "below 0.0001 %"
        : (100 * relative).ToString("0.0000", CultureInfo.InvariantCulture) + " %";

    private const double SmallestShown = 1e-6;
}
