using System.Globalization;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The words of the crew sheet. What a crew does is common practice without a source; where a local rule says otherwise, the rule wins.</summary>
internal static class CrewSheetText
{
    /// <summary>Drop zone round the landing line in lengths of the piece. Common practice, no source.</summary>
    internal const double ZoneLow = 1.5, ZoneHigh = 2;

    public static CrewSheet Build(DismantleResult result, ReportOptions options)
    {
        var words = new DismantleWords(result, options);
        var first = result.Cuts[0];
        return new CrewSheet
        {
            Title = "Crew sheet: " + result.Title,
            Head =
            [
                words.Subtitle()[(result.Title.Length + 2)..],
                "A plan to talk over, not a permission. Local rules and licensed practice come first. Anyone may stop the work.",
            ],
            Columns = Columns(words),
            Rows = [.. result.Cuts.Select(c => Row(c, words))],
            Notes = Notes(words, first),
            Blocks = [Names(), Each(words), Talk(), Zone(words), Weigh(words), Stop()],
            Foot =
            [
                Cautions.NotModelledSentence,
                string.Join(" ", Cautions.Reading),
                $"DropSim {options.ProgramVersion}; spar {result.Name}, file hash {result.SourceHash}. Invented, estimated or measured: the file says which; the sheet is only as good as the file.",
            ],
        };
    }

    private static List<SheetColumn> Columns(DismantleWords words)
    {
        var (m, kg) = (words.LengthUnit, words.MassUnit);
        List<SheetColumn> columns =
        [
            new(["cut", ""], true), new(["cut at", m], true), new(["piece", $"long, {m}"]), new(["mass, " + kg, "(range)"]),
            new([$"{DismantleWords.Point(words.Result.Cuts[0].Input.RiggingPoint.Kind)} at", m]), new(["hitch", $"{m} over cut"]), new(["wraps", "(band)"], true),
        ];
        foreach (var name in words.Result.Catches)
        {
            columns.Add(new([DismantleWords.Catch(name).ToLowerInvariant(), $"{ForceUnit(words)}, worst"]));
        }

        columns.Add(new(["room left", $"{m}, least"]));
        columns.Add(new(["feet move", $"{SmallUnit(words)}, worst"]));
        columns.Add(new(["rope left", m + ", down"]));
        columns.Add(new(["zone", m]));
        return columns;
    }

    private static IReadOnlyList<string> Row(CutResult cut, DismantleWords words)
    {
        var input = cut.Input;
        var (mass, low, high) = DismantleWords.MassRange(cut);
        var rooms = cut.Cases.Select(c => c.Run[MeasureIds.Room]).ToArray();
        var feet = cut.Cases.Select(c => c.Run[MeasureIds.ClimberMovement]).ToArray();
        var length = input.Piece.Length;
        return
        [
            cut.Plan.Number.ToString(CultureInfo.InvariantCulture) + (input.Piece.Kind == PieceKind.Top ? " top" : ""),
            words.Length(input.Spar.Height),
            words.Length(length),
            $"{words.Mass(mass)} ({words.Mass(low)}-{words.Mass(high)})",
            words.Length(input.Spar.Height - input.RiggingPoint.BelowCut),
            words.Length(input.Piece.HitchHeight),
            $"{DismantleWords.Turns(cut.Plan.Wraps.Planned)} ({DismantleWords.Turns(cut.Plan.Wraps.Low)}-{DismantleWords.Turns(cut.Plan.Wraps.High)})",
            .. cut.Cases.Select(c => Pair(c.Run[MeasureIds.RiggingPointForce], ForceUnit(words), words)),
            rooms.Any(r => r.Low <= 0) ? "none" : rooms.Any(r => r.State == MeasureState.NotReached) ? "unknown" : (rooms.Any(r => r.RangeCutShort) ? "under " : "") + Format.Number((rooms.Min(r => r.Low ?? r.Value)) * Units.Plain("m", words.Units).Factor),
            (feet.Any(f => f.RangeCutShort) ? "over " : "") + Format.Number(feet.Max(f => f.High ?? f.Value) * Units.SmallLength(words.Units).Factor),
            double.IsNaN(cut.Plan.Rope.LeftWhenDown) ? "?" : cut.Plan.Rope.LeftWhenDown < 0 ? "too short" : words.Length(cut.Plan.Rope.LeftWhenDown),
            input.Piece.Kind == PieceKind.Top ? $"over {Zone(ZoneHigh * length, words)}" : $"{Zone(ZoneLow * length, words)}-{Zone(ZoneHigh * length, words)}",
        ];
    }

    /// <summary>"3.1, 9.4": central and worst, "over" where a run was cut short.</summary>
    private static string Pair(Measure measure, string unit, DismantleWords words)
    {
        var factor = unit == "kN" ? 1e-3 : Units.Plain("N", words.Units).Factor;
        var central = double.IsFinite(measure.Value) ? (measure.State == MeasureState.AtLeast ? "over " : "") + Format.Number(measure.Value * factor) : "?";
        return measure.High is { } high && double.IsFinite(high) ? $"{central}, {(measure.RangeCutShort ? "over " : "")}{Format.Number(high * factor)}" : central;
    }

    private static string ForceUnit(DismantleWords words) => words.Units == UnitSystem.Si ? "kN" : "lbf";

    private static string SmallUnit(DismantleWords words) => Units.SmallLength(words.Units).Unit;

    private static string Zone(double metres, DismantleWords words) => Format.Number(metres * Units.Plain("m", words.Units).Factor);

    private static IReadOnlyList<string> Notes(DismantleWords words, CutResult first)
    {
        var tested = first.Plan.Wraps.Tested;
        return
        [
            "Forces: at the rigging point, central value, then the worst of the range; room left and movement at the climber's feet: the worst of all. \"Over\", \"under\": a run was cut short, the true value is worse. "
                + "Rope left: on the hand side once the piece lies on the ground. Zone: from the landing line, to every side.",
            tested
                ? "Wraps: from a hold test of this rope on this gear; the band is what the test leaves open."
                : "Wraps: without a hold test the band is what counts, not the number before it. Hang a known mass, find the wraps that hold it with a light hand, and plan again.",
        ];
    }

    private static SheetBlock Names() => new("Names and words",
    [
        new("Commands, one voice only:", SheetMark.Blank),
        new("Climber:", SheetMark.Blank),
        new("On the rope:", SheetMark.Blank),
        new("Lookout at the zone:", SheetMark.Blank),
        new("Rescue climber, kit at the foot:", SheetMark.Blank),
        new("Stop word, anyone may call it:", SheetMark.Blank),
        new("Word before the saw runs, and its answer:", SheetMark.Blank),
        new("Date, place, nearest help, its number:", SheetMark.Blank),
    ]);

    private static SheetBlock Each(DismantleWords words) => new("Before every cut, said aloud",
    [
        new("Ring threaded before the knot is tied; sling seated below the cut.", SheetMark.Box),
        new($"Hitch set at its height over the cut ({Hitch(words)}), knot dressed and loaded by hand.", SheetMark.Box),
        new("Rope clear of the cut, of the saw, and of the climbing line.", SheetMark.Box),
        new("Climber's lanyard and second tie-in: clear of the rigging and below the rigging point.", SheetMark.Box),
        new("Climber's escape path clear, the way down free.", SheetMark.Box),
        new("Wraps set as planned and counted aloud. No wraps added once the saw runs.", SheetMark.Box),
        new("Hand side flaked and free to run; nobody in the bight or in line with the rope.", SheetMark.Box),
        new("Zone empty, lookout answers.", SheetMark.Box),
    ]);

    private static string Hitch(DismantleWords words)
    {
        var heights = words.Result.Cuts.Select(c => c.Input.Piece.HitchHeight).ToArray();
        var (low, high) = (words.Length(heights.Min()), words.Length(heights.Max()));
        return low == high ? $"{low} {words.LengthUnit}" : $"{low} to {high} {words.LengthUnit}";
    }

    private static SheetBlock Talk() => new("Agreed before the first cut",
    [
        new("Stem looked over and sounded: cracks, hollows, root:", SheetMark.Blank),
        new("Wind limit and who watches it:", SheetMark.Blank),
        new("Knot at the piece:", SheetMark.Blank),
        new("Rescue plan, who goes up, how long it takes:", SheetMark.Blank),
        new("Let run or locked off, at which cuts:", SheetMark.Blank),
    ]);

    private static SheetBlock Zone(DismantleWords words)
    {
        var longest = words.Result.Cuts.Where(c => c.Input.Piece.Kind == PieceKind.Log).Select(c => c.Input.Piece.Length).DefaultIfEmpty(0).Max();
        return new("Drop zone",
        [
            new($"Common practice: {ZoneLow.ToString(CultureInfo.InvariantCulture)} to {ZoneHigh.ToString(CultureInfo.InvariantCulture)} piece lengths round the landing line, more for a top; for the longest log {Zone(ZoneLow * longest, words)} to {Zone(ZoneHigh * longest, words)} {words.LengthUnit}. A local rule wins."),
            new("Local rule, marked out at:", SheetMark.Blank),
        ]);
    }

    private static SheetBlock Weigh(DismantleWords words)
    {
        var smallest = words.Result.Cuts.MinBy(c => c.Input.Piece.Mass)!;
        return new("Small first, then weigh",
        [
            new($"Smallest drop first: make the first piece shorter than planned where it can be (the lightest planned one is cut {smallest.Plan.Number}, {words.Mass(smallest.Input.Piece.Mass)} {words.MassUnit}). Watch rope, ring, stem and root before the next."),
            new($"Weigh the first piece ({words.MassUnit}); outside its range: stop, correct the file, plan again:", SheetMark.Blank),
        ]);
    }

    private static SheetBlock Stop() => new("Stop and come down",
    [
        new("The stop word; anyone in the zone; a hand or a foot in the rope."),
        new("A piece heavier than its range, or more rope run than the room allows."),
        new("The stem cracks, the root moves, or the cut shows rot or a hollow."),
        new("The piece strikes the stem hard, or sling, ring or device has moved."),
        new("Rope glazed, cut or too hot to touch; the wind at its limit; light failing."),
    ]);
}
