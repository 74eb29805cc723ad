using System.Globalization;
using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The words of the crew sheet. What a crew does is common practice without a source; where a local rule says otherwise, the rule wins.</summary>
internal static class CrewSheetText
{
    /// <summary>How far people stay beyond where a piece comes down, in lengths of the piece. Common practice, no source.</summary>
    internal const double ClearLow = 1.5, ClearHigh = 2;

    public static CrewSheet Build(DismantleResult result, ReportOptions options)
    {
        var words = new DismantleWords(result, options);
        return new CrewSheet
        {
            Title = "Crew sheet: " + result.Title,
            Headline = ReachWords.Headline(words.Reach),
            Parts =
            [
                new SheetText($"{words.Plan()} A plan to talk over, not a permission. Local rules and licensed practice come first. Anyone may stop the work."),
                CrewSheetSketch.Build(words),
                CrewSheetTables.SetUp(words),
                new SheetText(Wraps(result.Cuts[0].Plan.Wraps.Tested)),
                CrewSheetTables.Loads(words),
                new SheetText("\"Over\" and \"under\": at least one drop ended early, the true value is worse. \"Not known\": the drop ended before its largest pull. Rope left: on the hand side."),
                new SheetText(Cautions.NotModelledSentence),
                new SheetText(string.Join(" ", Cautions.Reading)),
                new SheetText($"DropSim {options.ProgramVersion}; spar {result.Name}, file hash {result.SourceHash}. Invented, estimated or measured: the file says which. The sheet is only as good as the file."),
                new SheetLists([Site(), Names(), Stop(), Calls(), Rescue(), Talk(), Each(words), Clear(words), Weigh(words)]),
            ],
        };
    }

    private static string Wraps(bool tested) => tested
        ? "Wraps: from a hold test of this rope on this gear. In brackets: what the test leaves open."
        : "Wraps: no hold test was made, so the range counts, not the number before it. Hang a known mass, find the wraps that hold it with a light hand, and plan again.";

    private static SheetBlock Site() => new("Site and date",
    [
        new("Site, address for the ambulance:", SheetMark.Blank),
        new("Date:", SheetMark.Blank),
        new("Wind limit, and who watches it:", SheetMark.Blank),
    ]);

    private static SheetBlock Names() => new("Who does what",
    [
        new("Commands, one voice only:", SheetMark.Blank),
        new("Climber:", SheetMark.Blank),
        new("Holds the rope:", SheetMark.Blank),
        new("Lookout at the drop zone:", SheetMark.Blank),
    ]);

    private static SheetBlock Calls() => new("Calls",
    [
        new("Stop word, anyone may call it:", SheetMark.Blank),
        new("Climber, before the saw runs:", SheetMark.Blank),
        new("Rope answers:", SheetMark.Blank),
        new("Lookout answers:", SheetMark.Blank),
        new("Hold / let run / lower:", SheetMark.Blank),
    ]);

    private static SheetBlock Rescue() => new("Rescue plan",
    [
        new("Rescue climber, kit at the foot:", SheetMark.Blank),
        new("Way up and way down:", SheetMark.Blank),
        new("How long it takes:", SheetMark.Blank),
        new("Nearest help, its number:", SheetMark.Blank),
    ]);

    private static SheetBlock Each(DismantleWords words) => new("Before every cut, said aloud",
    [
        new("Ring threaded before the knot is tied; sling seated below the cut.", SheetMark.Box),
        new($"Knot at its height over the cut ({Knot(words)}), dressed and loaded by hand.", SheetMark.Box),
        new("Rope clear of the cut, of the saw, and of the climbing line.", SheetMark.Box),
        new("Climber's lanyard and second tie-in: clear of the rigging and below the rigging point.", SheetMark.Box),
        new("Climber's escape path clear, the way down free.", SheetMark.Box),
        new("Wraps set as planned and counted aloud. No wraps added once the saw runs.", SheetMark.Box),
        new("Hand side flaked and free to run; nobody in the bight or in line with the rope.", SheetMark.Box),
        new("Drop zone empty, lookout answers.", SheetMark.Box),
    ]);

    private static string Knot(DismantleWords words)
    {
        var heights = words.Result.Cuts.Select(c => c.Input.Piece.HitchHeight).ToArray();
        var (low, high) = (words.Length(heights.Min()), words.Length(heights.Max()));
        return low == high ? $"{low} {words.LengthUnit}" : $"{low} to {high} {words.LengthUnit}";
    }

    private static SheetBlock Talk() => new("Agreed before the first cut",
    [
        new("Stem looked over and sounded: cracks, hollows, root:", SheetMark.Blank),
        new("Knot at the piece:", SheetMark.Blank),
        new("Let run or locked off, at which cuts:", SheetMark.Blank),
    ]);

    private static SheetBlock Clear(DismantleWords words)
    {
        var longest = words.Result.Cuts.Where(c => c.Input.Piece.Kind == PieceKind.Log).Select(c => c.Input.Piece.Length).DefaultIfEmpty(0).Max();
        var factor = Units.Plain("m", words.Units).Factor;
        var practice = $"Common practice: everybody stays {Text(ClearLow)} to {Text(ClearHigh)} piece lengths beyond where a piece can come down, to every side, more for a top.";
        return new("Drop zone",
        [
            new(longest > 0 ? $"{practice} For the longest log that is {Format.Number(ClearLow * longest * factor)} to {Format.Number(ClearHigh * longest * factor)} {words.LengthUnit}. A local rule wins." : practice + " A local rule wins."),
            new("Local rule, marked out at:", SheetMark.Blank),
        ]);
    }

    private static SheetBlock Weigh(DismantleWords words)
    {
        var smallest = words.Result.Cuts.MinBy(c => c.Input.Piece.Mass)!;
        return new("Small first, then weigh",
        [
            new($"Smallest drop first: make the first piece shorter than planned where it can be. The lightest planned one is cut {smallest.Plan.Number}, {words.Mass(smallest.Input.Piece.Mass)} {words.MassUnit}. Watch rope, ring, stem and root before the next."),
            new($"Weigh the first piece ({words.MassUnit}); outside its range: stop, correct the file, plan again:", SheetMark.Blank),
        ]);
    }

    private static SheetBlock Stop() => new("Stop and come down",
    [
        new("The stop word; anyone in the drop zone; a hand or a foot in the rope."),
        new("A piece heavier than its range, or more rope run than the room allows."),
        new("The stem cracks, the root moves, or the cut shows rot or a hollow."),
        new("The piece strikes the stem hard, or sling, ring or device has moved."),
        new("Rope glazed, cut or too hot to touch; the wind at its limit; light failing."),
    ]);

    private static string Text(double number) => number.ToString(CultureInfo.InvariantCulture);
}
