using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>What is hit, in words: made from <see cref="CutReach"/> alone, wherever its facts come from. No verdict.</summary>
internal static class ReachWords
{
    /// <summary>What stands where nothing ends badly.</summary>
    internal const string Nothing = "hangs on the rope";

    /// <summary>What stands for a force that nobody knows, because the drop was over before it.</summary>
    internal const string ForceUnknown = "not known";

    /// <summary>Letters of a name that are told.</summary>
    private const int LongestName = 40;

    /// <summary>Slower than this a piece is set down, not thrown, m/s.</summary>
    private const double Gentle = 1;

    /// <summary>Which cuts reach what: a sentence for each thing, those of the plan first.</summary>
    /// <param name="reach">The facts of all cuts.</param>
    internal static IReadOnlyList<string> Headline(IReadOnlyList<CutReach> reach)
    {
        var planned = Groups(reach, c => c.AsPlanned is { } bad ? [bad] : []);
        var varied = Groups(reach, c => [.. c.Varied.Where(v => !v.IsLike(c.AsPlanned))]);
        string[] sentences =
        [
            .. planned.Select(g => $"{Cuts(g.Cuts)} {Verb(g.Sample, g.Cuts.Count > 1)}."),
            .. varied.Select(g => (g.Sample, Cuts: (IReadOnlyList<int>)[.. g.Cuts.Except(planned.Where(p => p.Sample.IsLike(g.Sample)).SelectMany(p => p.Cuts))])).Where(g => g.Cuts.Count > 0)
                .Select(g => $"{Cuts(g.Cuts)} can {Can(g.Sample)}, with other values than planned."),
        ];
        return sentences.Length > 0 ? sentences : ["No computed drop reaches the ground or an obstacle, or comes off the rope."];
    }

    /// <summary>Every cut that ends badly, in words ("log 8: hits the shed roof at 9.1 m/s, both catches").</summary>
    /// <param name="reach">The facts of all cuts.</param>
    /// <param name="units">Units wanted.</param>
    internal static IReadOnlyList<string> Lines(IReadOnlyList<CutReach> reach, UnitSystem units) =>
        [.. reach.Where(c => c.Any).OrderBy(c => c.AsPlanned ? 0 : 1).Select(c => $"{Piece(c)}: {Cut(c, units)}")];

    /// <summary>"log 8", "top 1".</summary>
    /// <param name="cut">The facts of the cut.</param>
    internal static string Piece(CutReach cut) => FormattableString.Invariant($"{(cut.Piece == PieceKind.Top ? "top" : "log")} {cut.Number}");

    /// <summary>What comes of a cut.</summary>
    /// <param name="cut">The facts of the cut.</param>
    /// <param name="units">Units wanted.</param>
    internal static string Cut(CutReach cut, UnitSystem units)
    {
        var parts = new List<string>();
        foreach (var (planned, pairs) in new[]
        {
            (true, cut.Catches.Where(c => c.AsPlanned is not null).Select(c => (c.Catch, Bad: c.AsPlanned!))),
            (false, cut.Catches.SelectMany(c => c.Varied.Where(v => !v.IsLike(c.AsPlanned)).Select(v => (c.Catch, Bad: v)))),
        })
        {
            foreach (var group in pairs.GroupBy(p => (p.Bad.Kind, p.Bad.Obstacle?.Index)))
            {
                var fastest = group.MaxBy(p => p.Bad.Speed).Bad;
                var bound = planned && group.Select(p => p.Bad.Speed).Distinct().Count() == 1 ? "at" : "at up to";
                var speed = fastest.Hits ? $" {bound} {Format.Quantity(fastest.Speed, "m/s", units)}" : "";
                parts.Add((planned ? Does(fastest) : "can " + Can(fastest)) + speed + Who(cut, [.. group.Select(p => p.Catch)]));
            }
        }

        return parts.Count == 0 ? Nothing : string.Join("; ", parts);
    }

    /// <summary>"the shed roof".</summary>
    /// <param name="obstacle">The obstacle.</param>
    internal static string Thing(TouchedObstacle obstacle) =>
        (string.Equals(obstacle.Name.Split(' ')[0], "the", StringComparison.OrdinalIgnoreCase) ? "" : "the ") + Name(obstacle.Name);

    /// <summary>A name as it is told: a name of a whole line would push everything else out of sight.</summary>
    /// <param name="name">The name in the file.</param>
    internal static string Name(string name) => name.Length <= LongestName ? name : name[..LongestName].TrimEnd() + "...";

    /// <summary>A fixed word for tables of numbers.</summary>
    /// <param name="bad">What happened; null where the rope held the piece.</param>
    internal static string Code(BadEnd? bad) => bad?.Kind switch
    {
        null => "held",
        EndKind.Ground => "ground",
        EndKind.Obstacle => "obstacle",
        EndKind.RopeBroke => "rope_broke",
        EndKind.RopeEnd => "rope_end",
        EndKind.HitchAtRiggingPoint => "hitch_at_rigging_point",
        _ => "unfinished",
    };

    /// <summary>"Cut 3", "Cuts 8 and 9", "Cuts 1, 3 to 5 and 9".</summary>
    /// <param name="numbers">Rising numbers, at least one.</param>
    internal static string Cuts(IReadOnlyList<int> numbers)
    {
        var parts = new List<string>();
        for (var i = 0; i < numbers.Count; i++)
        {
            var from = i;
            while (i + 1 < numbers.Count && numbers[i + 1] == numbers[i] + 1)
            {
                i++;
            }

            if (i - from >= 2)
            {
                parts.Add(FormattableString.Invariant($"{numbers[from]} to {numbers[i]}"));
            }
            else
            {
                parts.AddRange(numbers.Skip(from).Take(i - from + 1).Select(n => FormattableString.Invariant($"{n}")));
            }
        }

        var list = parts.Count == 1 ? parts[0] : $"{string.Join(", ", parts.Take(parts.Count - 1))} and {parts[^1]}";
        return (numbers.Count == 1 ? "Cut " : "Cuts ") + list;
    }

    private static string Who(CutReach cut, IReadOnlyList<string> catches) =>
        cut.Catches.Count == 1 ? ""
        : catches.Count == cut.Catches.Count ? (catches.Count == 2 ? ", both catches" : ", all catches")
        : $" ({string.Join(", ", catches.Select(c => Wording.Plain(c)))})";

    private static string Does(BadEnd bad) => bad.Kind switch
    {
        EndKind.Obstacle => "hits " + Thing(bad.Obstacle!),
        EndKind.Ground => bad.Speed < Gentle ? "touches the ground" : "hits the ground",
        EndKind.RopeBroke => "breaks the rope",
        EndKind.RopeEnd => "runs off the end of the rope",
        EndKind.HitchAtRiggingPoint => "is drawn up to the rigging point",
        _ => "is still moving when the computation ends",
    };

    /// <summary>The verb of a headline, which leaves the speed out.</summary>
    private static string Verb(BadEnd bad, bool many) => (bad.Kind, many) switch
    {
        (EndKind.Obstacle, true) => "reach " + Thing(bad.Obstacle!),
        (EndKind.Obstacle, false) => "reaches " + Thing(bad.Obstacle!),
        (EndKind.Ground, true) => "reach the ground",
        (EndKind.Ground, false) => "reaches the ground",
        (EndKind.RopeBroke, true) => "break the rope",
        (EndKind.RopeBroke, false) => "breaks the rope",
        (EndKind.RopeEnd, true) => "run off the end of the rope",
        (EndKind.RopeEnd, false) => "runs off the end of the rope",
        (EndKind.HitchAtRiggingPoint, true) => "come up to the rigging point",
        (EndKind.HitchAtRiggingPoint, false) => "comes up to the rigging point",
        (_, true) => "are still moving when the computation ends",
        (_, false) => "is still moving when the computation ends",
    };

    /// <summary>The verb after "can".</summary>
    private static string Can(BadEnd bad) => bad.Kind is EndKind.EndTime or EndKind.Failed ? "still be moving when the computation ends" : Verb(bad, true);

    private static List<(BadEnd Sample, IReadOnlyList<int> Cuts)> Groups(IReadOnlyList<CutReach> reach, Func<CatchReach, IReadOnlyList<BadEnd>> of) =>
    [
        .. reach.SelectMany(c => c.Catches.SelectMany(of).Select(b => (Bad: b, c.Number)))
            .GroupBy(p => (p.Bad.Kind, p.Bad.Obstacle?.Index))
            .Select(g => (Sample: g.First().Bad, Cuts: (IReadOnlyList<int>)[.. g.Select(p => p.Number).Distinct().Order()]))
            .OrderBy(g => PlanReach.Rank(g.Sample.Kind)),
    ];
}
