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
    /// <param name="c">The case.</param>
    /// <param name="scale">The measure.</param>
    internal string Finding(int c, VaryScale scale) => Extremes(c, scale) + Way(c, scale, true);

    /// <summary>Places of the first input whose values the sentences name: a table shows them all.</summary>
    /// <param name="scale">The measure of the table.</param>
    internal IReadOnlySet<int> Named(VaryScale scale)
    {
        var named = new HashSet<int>();
        for (var c = 0; c < result.Cases.Count; c++)
        {
            if (Ends(c, scale) is { } ends)
            {
                named.UnionWith([ends.Low.I, ends.High.I]);
            }

            if (WayOf(c, scale) is { Kind: TrendKind.Neither } trend)
            {
                named.Add(trend.TurnsAt);
            }

            foreach (var group in Groups(c))
            {
                named.UnionWith([group.Places.Min(p => p.I), group.Places.Max(p => p.I)]);
            }
        }

        return named;
    }

    private string Extremes(int c, VaryScale scale)
    {
        if (Ends(c, scale) is not { } ends)
        {
            return "no drop gave a value that is more than a bound";
        }

        var (low, high) = (Value(c, scale, ends.Low), Value(c, scale, ends.High));
        return IsLevel(low, high) ? $"{scale.Say(high)} everywhere" : $"{scale.Say(low)} at {Where(ends.Low)}, {scale.Say(high)} at {Where(ends.High)}";
    }

    private static bool IsLevel(double low, double high) => high - low <= Trend.Slight * Math.Abs(high);

    private double Value(int c, VaryScale scale, (int I, int J) place) => result.Exact(c, place.I, place.J, scale.Place);

    /// <summary>Where the smallest and the largest value are; null where there is none.</summary>
    private ((int I, int J) Low, (int I, int J) High)? Ends(int c, VaryScale scale)
    {
        var known = Places().Where(p => double.IsFinite(Value(c, scale, p))).ToArray();
        return known.Length == 0 ? null : (known.MinBy(p => Value(c, scale, p)), known.MaxBy(p => Value(c, scale, p)));
    }

    /// <summary>Which way a measure goes with the input; null where there are two inputs, or words, or nothing to tell.</summary>
    private Trend? WayOf(int c, VaryScale scale) =>
        result.Axes.Count > 1 || result.Axes[0].AreWords || Ends(c, scale) is not { } ends || IsLevel(Value(c, scale, ends.Low), Value(c, scale, ends.High)) ? null
        : Trend.Of([.. Enumerable.Range(0, result.FirstCount).Select(i => result.Exact(c, i, 0, scale.Place))]);

    /// <summary>"; of 25 drops 4 were cut short" or "".</summary>
    internal string CutWords(int c)
    {
        var cut = Places().Count(p => result.At(c, p.I, p.J) is { CutShort: true });
        return cut == 0 ? "" : $"; {cut} of {Places().Count()} drops were not caught";
    }

    private string Way(int c, VaryScale scale, bool full)
    {
        var name = result.Axes[0].Name;
        return WayOf(c, scale) switch
        {
            { Kind: TrendKind.Rising } => full ? $", rising with {name} all the way" : "",
            { Kind: TrendKind.Falling } => full ? $", falling with {name} all the way" : "",
            { Kind: TrendKind.Neither } turn => ", neither rising nor falling all the way"
                + (full ? $": it turns at {result.Axes[0].Texts[turn.TurnsAt]} ({scale.Say(result.Exact(c, turn.TurnsAt, 0, scale.Place))})" : ""),
            _ => "",
        };
    }

    /// <summary>Drops that ended badly in the same way.</summary>
    /// <param name="End">How they ended; null where they could not be computed.</param>
    /// <param name="Why">Why they could not be computed.</param>
    /// <param name="Places">Where they are.</param>
    private sealed record Group(EndKind? End, string Why, IReadOnlyList<(int I, int J)> Places);

    private IEnumerable<Group> Groups(int c) => Finished(c)
        .Where(d => d.Drop.CutShort || d.Drop.End is null)
        .GroupBy(d => (d.Drop.End, Why: d.Drop.End is null ? d.Drop.Ending : ""))
        .OrderBy(g => g.Key.End is null)
        .Select(g => new Group(g.Key.End, g.Key.Why, [.. g.Select(d => d.Place)]));

    private IEnumerable<((int I, int J) Place, VariedDrop Drop)> Finished(int c) =>
        Places().Select(p => (Place: p, Drop: result.At(c, p.I, p.J))).Where(d => d.Drop is not null).Select(d => (d.Place, d.Drop!));

    private IEnumerable<string> Endings(int c)
    {
        var drops = Finished(c).Count();
        foreach (var group in Groups(c))
        {
            if (group.End is null)
            {
                yield return $"{CaseName(c)}: {group.Places.Count} of {drops} drops could not be computed ({From(group.Places)}): {group.Why}.";
                continue;
            }

            var what = group.End switch
            {
                EndKind.Ground => "the piece reached the ground at more than 1 m/s",
                EndKind.Obstacle => "the piece reached an obstacle at more than 1 m/s",
                EndKind.RopeEnd => "the end of the rope passed the device",
                EndKind.RopeBroke => "the rope's breaking strength was exceeded",
                EndKind.HitchAtRiggingPoint => "the hitch was drawn up to the rigging point",
                _ => "the drop was not over when the computation ended",
            };
            yield return $"{CaseName(c)}: in {group.Places.Count} of {drops} drops {what} ({From(group.Places)}). Their peaks read 'at least' and are marked, never drawn as small.";
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
        var parts = cases.Select(c => $"{CaseName(c)}: {Extremes(c, scale)}{Way(c, scale, false)}{CutWords(c)}");
        return Wording.Capital($"{scale.Measure.Label}. {string.Join(". ", parts)}");
    }
}
