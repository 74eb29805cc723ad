using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The sketch of the crew sheet: stem, cuts, obstacles, ground and where pieces go, to scale.</summary>
internal static class CrewSheetSketch
{
    internal static SheetSketch Build(DismantleWords words)
    {
        var result = words.Result;
        var profile = result.Profile;
        var obstacles = result.Cuts[0].Input.Site.Obstacles;
        var lettered = obstacles.Select((o, i) => (Letter: Letter(i), o)).ToArray();
        return new SheetSketch
        {
            Stem = [.. profile.Select(d => (d.Diameter / 2, d.Height)), .. profile.Reverse().Select(d => (-d.Diameter / 2, d.Height))],
            Cuts = [.. result.Cuts.Select(c => (c.Input.Spar.Height, c.Input.Piece.ButtDiameter / 2, FormattableString.Invariant($"{c.Plan.Number}")))],
            Obstacles = [.. lettered.Select(l => (l.Letter, l.o.XFrom, l.o.XTo, l.o.ZFrom, l.o.ZTo))],
            Sweep = words.Sweep.Layers,
            Hits =
            [
                .. result.Cuts.SelectMany(c => c.Cases.Select(k => k.Run.End).Where(e => e.Kind is EndKind.Ground or EndKind.Obstacle && e.Where is not null)
                    .Select(e => (e.Where!.Value.X, e.Where!.Value.Z, c.Plan.Number))),
            ],
            Bar = words.Units == UnitSystem.Si ? (2, "2 m") : (5 * Units.MetresPerFoot, "5 ft"),
            Words =
            [
                .. Facts(words).Select(f => new SheetLine(f)),
                .. lettered.Select(l => new SheetLine($"{l.Letter}: {ReachWords.Name(l.o.Name)}, {words.Length(l.o.XFrom)} to {words.Length(l.o.XTo)} {words.LengthUnit} from the stem, top at {words.Length(l.o.ZTo)} {words.LengthUnit}.")),
                new("Numbers: the cuts. Grey: where pieces go with the planned values. A cross: where one hits. Other values can carry a piece farther."),
            ],
        };
    }

    private static IEnumerable<string> Facts(DismantleWords words)
    {
        // What only other values bring stands in the rows of the cuts.
        var lines = ReachWords.Lines([.. words.Reach.Where(r => r.AsPlanned)], words.Units);
        return lines.Count > 0 ? lines.Select(l => char.ToUpperInvariant(l[0]) + l[1..] + ".") : [];
    }

    private static string Letter(int index) => index < 26 ? ((char)('A' + index)).ToString() : FormattableString.Invariant($"A{index}");
}
