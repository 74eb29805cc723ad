using System.Globalization;
using DropSim.Model;
using DropSim.Reporting;
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
            + $"{Events(verification)}.";
        yield return "Each: " + string.Join(", ", shown.Select(m => $"{m.Id} {Format.Moved(verification.Moved.Single(v => v.Id == m.Id).Relative)}")) + ".";

        var lost = verification.Moved.Where(m => !double.IsFinite(m.Relative)).Select(m => m.Id).ToArray();
        if (lost.Length > 0)
        {
            yield return $"No percentage can be given for {string.Join(", ", lost)}: zero or without a value in one of the two runs only.";
        }
    }

    private static string Largest(IEnumerable<MovedMeasure> moved) =>
        moved.Where(m => double.IsFinite(m.Relative)).MaxBy(m => m.Relative) is { } most ? $"{Format.Moved(most.Relative)} ({most.Id})" : "an unknown amount";

    /// <summary>Which events came or went, and how little energy they carried.</summary>
    private static string Events(Verification verification)
    {
        var counted = verification.OnlyInOne.Where(e => !e.IsSlight).ToArray();
        if (!verification.SameEvents)
        {
            return "the sequence of events was different" + (counted.Length == 0 ? "" : ": "
                + string.Join(", ", counted.Select(e => string.Create(CultureInfo.InvariantCulture, $"{e.Event.Kind} at {e.Event.Time:0.000} s only in the {(e.InTighterRun ? "repeated" : "first")} run"))));
        }

        return "the sequence of events was the same" + (verification.OnlyInOne.Count == 0 ? "" : string.Create(CultureInfo.InvariantCulture,
            $" but for {verification.OnlyInOne.Count} with {100 * verification.OnlyInOne.Max(e => e.Share):0.0000} % of the energy that fell or less ({string.Join(", ", verification.OnlyInOne.Select(e => e.Event.Name).Distinct())})"));
    }
}
