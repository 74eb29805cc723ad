using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Studies;

/// <summary>What a vary study found, in sentences computed from its drops.</summary>
internal sealed class VaryWords(VaryResult result, IReadOnlyList<VaryScale> scales)
{
    private bool SeveralSetups => result.Cases.Select(c => c.Central.Setup).Distinct().Count() > 1;

    /// <summary>Name of a case.</summary>
    internal string CaseName(int c) => StudyWording.CaseName(result.Cases[c].Central.Setup, result.Cases[c].Central.CatchName, SeveralSetups);

    /// <summary>The sentences, headline first.</summary>
    internal IEnumerable<string> Findings()
    {
        foreach (var scale in scales)
        {
            for (var c = 0; c < result.Cases.Count; c++)
            {
                yield return $"{CaseName(c)}, {Small(scale.Measure.Label)}: {Finding(c, scale)}. As the scenario has it: {scale.AsGiven(result.Cases[c])}.";
            }
        }

        for (var c = 0; c < result.Cases.Count; c++)
        {
            foreach (var sentence in Endings(c))
            {
                yield return sentence;
            }
        }

        yield return OthersStay;
        yield return Exactness();
    }

    /// <summary>What the curves leave out.</summary>
    internal const string OthersStay =
        "Every other input stays at its central value: what is uncertain about them is in the worst of the range, not in these curves.";

    /// <summary>The smallest and largest value with their places, and which way it goes.</summary>
    internal string Finding(int c, VaryScale scale) => Finding(c, scale, Way);

    private string Finding(int c, VaryScale scale, Func<int, VaryScale, string> way)
    {
        var known = Places().Where(p => double.IsFinite(result.Exact(c, p.I, p.J, scale.Place))).ToArray();
        if (known.Length == 0)
        {
            return "no drop gave a value that is more than a bound";
        }

        double Value((int I, int J) p) => result.Exact(c, p.I, p.J, scale.Place);
        var (low, high) = (known.MinBy(Value), known.MaxBy(Value));
        return Value(high) - Value(low) <= Trend.Slight * Math.Abs(Value(high))
            ? $"{scale.Say(Value(high))} everywhere"
            : $"{scale.Say(Value(low))} at {Where(low)}, {scale.Say(Value(high))} at {Where(high)}{way(c, scale)}";
    }

    /// <summary>"; of 25 drops 4 were cut short" or "".</summary>
    internal string CutWords(int c)
    {
        var cut = Places().Count(p => result.At(c, p.I, p.J) is { CutShort: true });
        return cut == 0 ? "" : $"; {cut} of {Places().Count()} drops were not caught";
    }

    private string Way(int c, VaryScale scale)
    {
        var row = Row(c, scale);
        var trend = Trend.Of(row);
        return !HasWay ? "" : trend.Kind switch
        {
            TrendKind.Rising => $", rising with {result.Axes[0].Name} all the way",
            TrendKind.Falling => $", falling with {result.Axes[0].Name} all the way",
            TrendKind.Neither => $"{NeitherWay}: it turns at {result.Axes[0].Texts[trend.TurnsAt]} ({scale.Say(row[trend.TurnsAt])})",
            _ => "",
        };
    }

    /// <summary>In a title only what the ends do not show: that it goes neither way.</summary>
    private string WayInTitle(int c, VaryScale scale) => HasWay && Trend.Of(Row(c, scale)).Kind == TrendKind.Neither ? NeitherWay : "";

    private const string NeitherWay = ", neither rising nor falling all the way";

    private bool HasWay => result.Axes.Count == 1 && !result.Axes[0].AreWords;

    private double[] Row(int c, VaryScale scale) => [.. Enumerable.Range(0, result.FirstCount).Select(i => result.Exact(c, i, 0, scale.Place))];

    private IEnumerable<string> Endings(int c)
    {
        var drops = Places().Select(p => (Place: p, Drop: result.At(c, p.I, p.J))).Where(d => d.Drop is not null).ToArray();
        foreach (var group in drops.Where(d => d.Drop!.CutShort).GroupBy(d => d.Drop!.End!.Value))
        {
            var what = group.Key switch
            {
                EndKind.Ground => "the piece reached the ground at more than 1 m/s",
                EndKind.Obstacle => "the piece reached an obstacle at more than 1 m/s",
                EndKind.RopeEnd => "the end of the rope passed the device",
                EndKind.RopeBroke => "the rope's breaking strength was exceeded",
                EndKind.HitchAtRiggingPoint => "the hitch was drawn up to the rigging point",
                _ => "the drop was not over when the computation ended",
            };
            yield return $"{CaseName(c)}: in {group.Count()} of {drops.Length} drops {what} ({From(group.Select(g => g.Place))}). Their peaks read 'at least' and are marked, never drawn as small.";
        }

        foreach (var group in drops.Where(d => d.Drop!.End is null).GroupBy(d => d.Drop!.Ending))
        {
            yield return $"{CaseName(c)}: {group.Count()} of {drops.Length} drops could not be computed ({From(group.Select(g => g.Place))}): {group.Key}.";
        }
    }

    private string From(IEnumerable<(int I, int J)> places)
    {
        var all = places.ToArray();
        static string Span(VariedAxis axis, IEnumerable<int> at)
        {
            var (first, last) = (at.Min(), at.Max());
            return first == last ? $"{axis.Name} {axis.Texts[first]}" : $"{axis.Name} {axis.Texts[first]} to {axis.Texts[last]}";
        }

        return string.Join(", ", result.Axes.Select((a, k) => Span(a, all.Select(p => k == 0 ? p.I : p.J))));
    }

    private string Exactness()
    {
        if (result.Check.Drops == 0)
        {
            return "No drop was repeated as a check.";
        }

        var moved = scales.Select(s => $"{s.Id} {Percent(result.Check.Largest[s.Place])}");
        return string.Create(CultureInfo.InvariantCulture, $"Computed at a tolerance of {result.Options.Tolerance:0.#e0}; {result.Check.Drops} drops spread over all were repeated at a tenth of the scenario's own tolerance: largest change {string.Join(", ", moved)}; ")
            + (result.Check.EndsChanged == 0 ? "each ended the same way." : $"{result.Check.EndsChanged} ended in another way: near such borders the picture is not exact.");
    }

    internal static string Percent(double relative) => relative == 0 ? "0 %" : relative < 1e-6 ? "below 0.0001 %" : (100 * relative).ToString("0.####", CultureInfo.InvariantCulture) + " %";

    /// <summary>All places of a case.</summary>
    private IEnumerable<(int I, int J)> Places() =>
        Enumerable.Range(0, result.FirstCount).SelectMany(i => Enumerable.Range(0, result.SecondCount).Select(j => (i, j)));

    private string Where((int I, int J) place) => result.Axes.Count == 1 || result.SecondCount == 1
        ? $"{result.Axes[0].Name} {result.Axes[0].Texts[place.I]}"
        : $"{result.Axes[0].Name} {result.Axes[0].Texts[place.I]} with {result.Axes[1].Name} {result.Axes[1].Texts[place.J]}";

    private static string Small(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];

    /// <summary>Title of a picture.</summary>
    internal string Title(VaryScale scale, IEnumerable<int> cases)
    {
        var parts = cases.Select(c => $"{CaseName(c)}: {Finding(c, scale, WayInTitle)}{CutWords(c)}");
        return Wording.Capital($"{scale.Measure.Label}. {string.Join(". ", parts)}");
    }
}
