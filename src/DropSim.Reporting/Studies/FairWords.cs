using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>A fair comparison in sentences, computed from its runs.</summary>
internal sealed class FairWords(FairResult result, UnitSystem units)
{
    /// <summary>A difference smaller than this counts as none in words.</summary>
    private const double Noticeable = 0.03;

    /// <summary>What is held equal.</summary>
    internal static string Way(FairWay way) => way switch
    {
        FairWay.SameSetting => "Same wraps and hands",
        FairWay.SameRun => "Same rope run to a stop",
        _ => "Same largest force on the rigging point",
    };

    /// <summary>"Ring, let run".</summary>
    internal string Name(int variant) => Wording.Capital($"{Wording.Plain(result.Variants[variant].Gear)}, {Wording.Plain(result.Variants[variant].Case.CatchName)}");

    /// <summary>"5 of 8 comparisons".</summary>
    internal string Finished() => FormattableString.Invariant($"{result.Rows.Count} of {result.Asked} comparisons");

    /// <summary>The sentences, headline first.</summary>
    internal IEnumerable<string> Findings()
    {
        yield return Title();
        if (result.Reference < 0)
        {
            yield return "No rope runs in any of these drops: there is no rope run or peak that wraps could make equal, so only the same settings are compared.";
        }

        for (var v = 0; v < result.Variants.Count; v++)
        {
            if (v != result.Reference && result.Reference >= 0 && result.Variants[v].Case.CatchName == result.Variants[result.Reference].Case.CatchName && Why(v) is { Length: > 0 } why)
            {
                yield return why;
            }
        }

        foreach (var sentence in EfficiencyWords())
        {
            yield return sentence;
        }

        foreach (var row in result.Rows.Where(r => r.Note.Length > 0))
        {
            yield return $"{Way(row.Way)}, {Small(Name(row.Variant))}: {row.Note}.";
        }

        if (result.Variants.Any(v => v.Locked) && result.Reference >= 0)
        {
            yield return "Locked off no rope runs, so a hard stop stands with the same settings only: wraps do not change its peak.";
        }

        yield return "Wraps between quarter turns are computed, not set: nobody counts a tenth of a turn on a bollard. The worst of the range beside each value covers what is uncertain about the other inputs.";
    }

    /// <summary>The three ways in one sentence, for the catch that the others are held against.</summary>
    internal string Title()
    {
        var held = result.Variants[Math.Max(result.Reference, 0)].Case.CatchName;
        string Gear(FairRow row) => Wording.Plain(result.Variants[row.Variant].Gear);
        string Force(FairRow row) => Format.Value(row.Result!.Run[MeasureIds.RiggingPointForce], units);
        string Run(FairRow row) => Format.Value(row.Result!.Run[MeasureIds.RopeRun], units);
        string Part(FairWay way, Func<FairRow, string> shown) =>
            string.Join(", ", result.Rows.Where(r => r.Way == way && r.Result is not null && result.Variants[r.Variant].Case.CatchName == held).Select(r => $"{Gear(r)} {shown(r)}"));
        var parts = new[]
        {
            (Words: "same wraps and hands", Shown: Part(FairWay.SameSetting, Force)), (Words: "same rope run", Shown: Part(FairWay.SameRun, Force)),
            (Words: "same peak, rope run", Shown: Part(FairWay.SamePeak, Run)),
        };
        return $"{Wording.Capital(Wording.Plain(held))}, force on the rigging point: " + string.Join("; ", parts.Where(p => p.Shown.Length > 0).Select(p => $"{p.Words}: {p.Shown}"));
    }

    /// <summary>"6.8 kN (worst of the range 17 kN)".</summary>
    internal string Force(FairRow row)
    {
        var force = row.Result!.Run[MeasureIds.RiggingPointForce];
        return $"{Format.Value(force, units)}{(Wording.HasRange(force) ? $" (worst of the range {Format.Worst(force, units)})" : "")}";
    }

    /// <summary>Why the same settings and the same run tell different stories, from the numbers of both.</summary>
    private string Why(int v)
    {
        var (a1, b1) = (result.Row(FairWay.SameSetting, result.Reference)?.Result?.Run, result.Row(FairWay.SameSetting, v)?.Result?.Run);
        var (a2, b2) = (result.Row(FairWay.SameRun, result.Reference)?.Result?.Run, result.Row(FairWay.SameRun, v)?.Result?.Run);
        if (a1 is null || b1 is null || a2 is null || b2 is null)
        {
            return "";
        }

        var (a, b) = (Wording.Plain(result.Variants[result.Reference].Gear), Wording.Plain(result.Variants[v].Gear));
        var first = Ratio(a1, b1, MeasureIds.RiggingPointForce);
        var second = Ratio(a2, b2, MeasureIds.RiggingPointForce);
        string Say(double ratio, string where) => double.IsNaN(ratio) ? $"cannot be told {where}, because a drop was not caught"
            : Math.Abs(ratio - 1) < Noticeable ? $"about the same {where}" : $"{Percent(ratio)} {(ratio > 1 ? "higher" : "lower")} {where}";
        double Hold(DropRun run) => run[MeasureIds.GroundLegTension].Value / run[MeasureIds.LoadLegTension].Value;
        var runs = $"{Format.Value(a1[MeasureIds.RopeRun], units)} of rope run against {Format.Value(b1[MeasureIds.RopeRun], units)}";
        var disagree = !double.IsNaN(first) && !double.IsNaN(second) && (first > 1 + Noticeable != second > 1 + Noticeable || first < 1 - Noticeable != second < 1 - Noticeable);
        return $"{Wording.Capital(a)} against {b}, {Wording.Plain(result.Variants[v].Case.CatchName)}: the force on the rigging point is {Say(first, "with the same wraps and hands")} and {Say(second, "with the same rope run")}. "
            + (disagree ? "Why the two disagree: " : "What stands behind it: ")
            + $"with the same wraps and hands the ground leg pulls at most {Format.Number(Hold(a1))} of what the load leg pulls with {a}, {Format.Number(Hold(b1))} with {b}. What the rigging point itself holds back helps the wraps, so they are not the same brake: {runs}. "
            + "A shorter way to stop means a larger mean force, whatever the gear. "
            + $"With the same rope run the load leg's peak is {Say(Ratio(a2, b2, MeasureIds.LoadLegTension), $"({Format.Value(a2[MeasureIds.LoadLegTension], units)} against {Format.Value(b2[MeasureIds.LoadLegTension], units)})")}; "
            + $"what is left is the ground leg, {Format.Value(a2[MeasureIds.GroundLegTension], units)} against {Format.Value(b2[MeasureIds.GroundLegTension], units)}, which the rigging point bears as well.";
    }

    private static double Ratio(DropRun a, DropRun b, string id) =>
        a[id].State == MeasureState.Exact && b[id].State == MeasureState.Exact ? a[id].Value / b[id].Value : double.NaN;

    private static string Percent(double ratio) => FormattableString.Invariant($"{Math.Round(100 * Math.Abs(ratio - 1)):0} %");

    private IEnumerable<string> EfficiencyWords()
    {
        foreach (var row in result.Rows.Where(r => r.Efficiencies.Count > 0 && r.Way != FairWay.SamePeak))
        {
            var caught = row.Efficiencies.Where(e => e.Match.Run?[MeasureIds.RiggingPointForce].State == MeasureState.Exact).ToArray();
            var missing = row.Efficiencies.Count - caught.Length;
            if (caught.Length < 2)
            {
                continue;
            }

            double Peak(FairEfficiency e) => e.Match.Run![MeasureIds.RiggingPointForce].Value;
            double Rope(FairEfficiency e) => e.Match.Run![MeasureIds.RopeRun].Value;
            yield return $"Block efficiency under shock is not known: {Small(Way(row.Way))}, {Small(Name(row.Variant))}, from {Format.Number(caught[0].Efficiency)} to {Format.Number(caught[^1].Efficiency)}: "
                + $"{Format.Quantity(caught.Min(Peak), "N", units)} to {Format.Quantity(caught.Max(Peak), "N", units)} at the rigging point"
                + (row.Way == FairWay.SameRun || result.Variants[row.Variant].Locked ? "" : $", {Format.Quantity(caught.Min(Rope), "m", units)} to {Format.Quantity(caught.Max(Rope), "m", units)} of rope")
                + (row.Way == FairWay.SameSetting || result.By == MatchBy.Hand ? "" : $", {Format.Number(caught.Min(e => e.Match.Setting))} to {Format.Number(caught.Max(e => e.Match.Setting))} wraps")
                + (missing > 0 ? $"; at {missing} of {row.Efficiencies.Count} points none was found or the piece was not caught" : "") + ".";
        }
    }

    internal static string Small(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];
}
