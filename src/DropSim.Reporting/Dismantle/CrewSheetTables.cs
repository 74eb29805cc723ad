using System.Globalization;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The two tables of the crew sheet: how a cut is set up with what it hits, and what rope, stem and climber get.</summary>
internal static class CrewSheetTables
{
    /// <summary>How each cut is set up, what it hits first.</summary>
    internal static SheetTable SetUp(DismantleWords words)
    {
        var (m, kg) = (words.LengthUnit, words.MassUnit);
        return new(
            "Every cut, from the top down",
            [
                new("cut", true), new("what happens", true, true), new($"cut at\n{m}", true), new($"piece\nlong, {m}"), new($"mass, {kg}\n(range)"),
                new("wraps\n(range)", true), new($"slack\n{m}"), new("wraps and\nslack are"),
            ],
            [.. words.Result.Cuts.Zip(words.Reach, (cut, reach) =>
            {
                var input = cut.Input;
                var (mass, low, high) = DismantleWords.MassRange(cut);
                return new SheetRow(reach,
                [
                    cut.Plan.Number.ToString(CultureInfo.InvariantCulture) + (input.Piece.Kind == PieceKind.Top ? "\ntop" : ""),
                    ReachWords.Cut(reach, words.Units),
                    words.Length(input.Spar.Height),
                    words.Length(input.Piece.Length),
                    $"{words.Mass(mass)}\n({words.Mass(low)}-{words.Mass(high)})",
                    $"{DismantleWords.Turns(cut.Plan.Wraps.Planned)}\n({DismantleWords.Turns(cut.Plan.Wraps.Low)}-{DismantleWords.Turns(cut.Plan.Wraps.High)})",
                    words.Length(input.Rope.Slack),
                    Known(cut),
                ]);
            })]);
    }

    /// <summary>What each cut does to rope, stem and climber.</summary>
    internal static SheetTable Loads(DismantleWords words)
    {
        var m = words.LengthUnit;
        var point = DismantleWords.Point(words.Result.Cuts[0].Input.RiggingPoint.Kind);
        return new(
            "What it does: as planned, then the worst of what was tried",
            [
                new("cut", true), new($"{point}\nat, {m}"), new($"knot over\ncut, {m}"),
                .. words.Result.Catches.Select(name => new SheetColumn($"pull on {point},\n{DismantleWords.Catch(name).ToLowerInvariant()},\n{ForceUnit(words)}", true)),
                new($"room\nleft,\nleast, {m}"), new($"boots\nmove,\nmost, {Units.SmallLength(words.Units).Unit}"), new($"rope left,\npiece\ndown, {m}"),
                new($"piece\nswings out\nto, {m}"),
            ],
            [.. words.Result.Cuts.Zip(words.Reach, (cut, reach) => new SheetRow(reach,
            [
                cut.Plan.Number.ToString(CultureInfo.InvariantCulture) + (cut.Input.Piece.Kind == PieceKind.Top ? " top" : ""),
                words.Length(cut.Input.Spar.Height - cut.Input.RiggingPoint.BelowCut),
                words.Length(cut.Input.Piece.HitchHeight),
                .. cut.Cases.Zip(reach.Catches, (c, k) => Pull(c.Run[MeasureIds.RiggingPointForce], k, words)),
                Room(cut, reach, words),
                Movement(cut, reach, words),
                words.RopeLeft(cut),
                words.Out(cut),
            ]))]);
    }

    /// <summary>Where the numbers of a set-up come from.</summary>
    private static string Known(CutResult cut)
    {
        var slackGiven = cut.Plan.Cases[0].Notes.Any(n => n.Path == "rope.slack" && n.Given);
        return (cut.Plan.Wraps.Tested, slackGiven) switch
        {
            (false, false) => "assumed: test-load first",
            (false, true) => "wraps assumed: test-load first",
            (true, false) => "slack assumed: test-load first",
            (true, true) => "hold test; slack as set",
        };
    }

    /// <summary>"3.1, worst 9.4"; no number for a drop whose force nobody knows.</summary>
    private static string Pull(Measure measure, CatchReach reach, DismantleWords words)
    {
        if (reach.ForcesUnknown)
        {
            return ReachWords.ForceUnknown;
        }

        var factor = words.Units == UnitSystem.Si ? 1e-3 : Units.Plain("N", words.Units).Factor;
        var central = double.IsFinite(measure.Value) ? (measure.State == MeasureState.AtLeast ? "over " : "") + Format.Number(measure.Value * factor) : ReachWords.ForceUnknown;
        return measure.High is { } high && double.IsFinite(high) ? $"{central}, {(measure.RangeCutShort ? "over " : "")}{Format.Number(high * factor)}" : central;
    }

    private static string Room(CutResult cut, CutReach reach, DismantleWords words)
    {
        var rooms = cut.Cases.Select(c => c.Run[MeasureIds.Room]).ToArray();
        if (rooms.Any(r => r.Low <= 0) || reach.Catches.Any(c => c.All.Any(b => b.Hits)))
        {
            return "none";
        }

        var least = rooms.Select(r => r.Low ?? r.Value).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Min();
        return double.IsNaN(least) || rooms.Any(r => r.State == MeasureState.NotReached) ? ReachWords.ForceUnknown
            : (rooms.Any(r => r.RangeCutShort) ? "under " : "") + Format.Number(least * Units.Plain("m", words.Units).Factor);
    }

    private static string Movement(CutResult cut, CutReach reach, DismantleWords words)
    {
        var feet = cut.Cases.Zip(reach.Catches).Where(p => !p.Second.ForcesUnknown).Select(p => p.First.Run[MeasureIds.ClimberMovement]).ToArray();
        var most = feet.Select(f => f.High ?? f.Value).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max();
        return double.IsNaN(most) ? ReachWords.ForceUnknown
            : (feet.Length < cut.Cases.Count || feet.Any(f => f.RangeCutShort) ? "over " : "") + Format.Number(most * Units.SmallLength(words.Units).Factor);
    }

    private static string ForceUnit(DismantleWords words) => words.Units == UnitSystem.Si ? "kN" : "lbf";
}
