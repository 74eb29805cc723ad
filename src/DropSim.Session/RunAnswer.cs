using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Session;

/// <summary>A run as the page gets it: words, numbers and the shapes of the side view.</summary>
internal static class RunAnswer
{
    /// <summary>Everything about a run but its curves.</summary>
    public static RunDto Of(StoredRun stored, Wording wording, CaseCurves curves, UnitSystem units)
    {
        DropRun run = stored.Result.Run;
        CaseTable table = HeadlineTable.Case(stored.Result, units);
        Clock everything = new(double.NegativeInfinity, double.PositiveInfinity);
        IReadOnlyList<Tick> ticks = wording.Ticks(curves, everything);
        return new RunDto
        {
            Run = stored.Handle,
            Case = stored.Index,
            Label = ScenarioAnswer.CaseLabel(stored.Scenario, stored.Result.Case),
            Setup = stored.Result.Case.Setup,
            Catch = stored.Result.Case.CatchName,
            Subtitle = wording.Subtitle(stored.Result.Case),
            Columns = [.. stored.Table.Columns.Select(c => c.Name), "wraps"],
            Model = Model(run),
            Events = [.. run.Events.Select(e => new EventDto(e.Time, Snake(e.Kind), e.Name, e.Kind == EventKind.End ? Format.Ending(run.End, units) : e.Detail, e.Marked, e.Marked ? ticks.FirstOrDefault(t => t.At == e.Time)?.Name : null))],
            Phases = [.. Wording.Bands(curves, everything).Zip(curves.Phases(), (b, p) => new PhaseDto(p.From, p.To, p.Name, b.Name))],
            Window = new(curves.Window.From, curves.Window.To),
            Measures = Measures(stored, units),
            Facts = table.Facts,
            Warnings = [.. table.Warnings.Distinct()],
            End = new(Snake(run.End.Kind), run.End.Time, run.End.Speed, run.End.Energy, run.End.Obstacle?.Index, run.End.CutsShort, Format.Unfinished(run.End), Format.Ending(run.End, units)),
            Ledger = new(run.Ledger.Fallen, run.Ledger.LargestImbalance, [.. run.Ledger.Places.Select(p => new PlaceDto(p.Column, p.Label, p.Energy))]),
            Strikes = [.. run.Strikes.Select(s => new StrikeDto(s.Time, s.Place, s.Height, s.ClosingSpeed, s.Energy, s.Impulse))],
            Drawn = DrawnAnswer.Of(stored, units),
        };
    }

    /// <summary>The measures, in words and in SI.</summary>
    public static IReadOnlyList<MeasureDto> Measures(StoredRun stored, UnitSystem units) =>
        [.. stored.Result.Run.Measures.Select(m => new MeasureDto(
            m.Id, m.Label, m.Headline, m.Unit, m.Value, m.Time, Snake(Told(m)), Format.Value(m, units)))];

    /// <summary>A value that is no number is unknown, whatever else holds.</summary>
    private static MeasureState Told(Measure measure) =>
        double.IsNaN(measure.Value) && measure.State != MeasureState.NotReached ? MeasureState.Unknown : measure.State;

    /// <summary>A comparison's parts. How sure it is, set-ups like these say.</summary>
    public static IReadOnlyList<PartDto> Parts(Comparison comparison) =>
        [.. comparison.Parts.Where(p => p.Kind is not (ComparisonPartKind.Certainty or ComparisonPartKind.NoRanges)).Select(p => new PartDto(Snake(p.Kind), p.Heading, p.Text))];

    /// <summary>What the spar does.</summary>
    public static MovementDto Movement(MovementFinding found) => new(found.Head, found.Rest, found.Text, found.Alike);

    /// <summary>The numbers of the curves, column after column; the wraps on the device last.</summary>
    public static double[] Curves(StoredRun stored)
    {
        TraceTable table = stored.Table;
        int rows = table.RowCount;
        double[] numbers = new double[rows * (table.Columns.Count + 1)];
        for (int c = 0; c < table.Columns.Count; c++)
        {
            table.Columns[c].Values.Span.CopyTo(numbers.AsSpan(c * rows, rows));
        }

        DropInput input = stored.Result.Run.Input;
        ReadOnlySpan<double> time = table["time_s"];
        for (int r = 0; r < rows; r++)
        {
            numbers[(table.Columns.Count * rows) + r] = time[r] >= (input.Catch.WrapsChangeTime ?? double.PositiveInfinity) ? input.Catch.WrapsAfterChange : input.Device.Wraps;
        }

        return numbers;
    }

    private static ModelDto Model(DropRun run)
    {
        DropInput input = run.Input;
        DropShapes shapes = run.Traces!.Shapes;
        PieceInput piece = input.Piece;
        return new ModelDto(
            [.. shapes.Piece.Select(p => new[] { p.Eta, p.Xi })],
            [shapes.Hitch.Eta, shapes.Hitch.Xi],
            new(Snake(piece.Kind), piece.Length, piece.ButtDiameter, piece.TipDiameter, piece.Mass, piece.Mass * input.Computation.Gravity),
            input.Start.Kind == StartKind.FaceCut ? "face-cut" : "pushed-off",
            new(input.Spar.Height, shapes.SparHeights, shapes.SparRadii, shapes.SparShapes, input.Spar.Rigid),
            shapes.ClimberHeight,
            shapes.ClimberShapes,
            new(
                input.RiggingPoint.Kind switch { RiggingPointKind.Block => "block", RiggingPointKind.NaturalUnion => "natural-union", _ => "ring" },
                input.Spar.Height - input.RiggingPoint.BelowCut, input.RiggingPoint.StandOff, input.RiggingPoint.BendDiameter),
            new(input.Device.X, input.Device.Z, input.Device.Wraps, input.Device.OnSpar),
            input.Rope.Diameter,
            [.. input.Site.Obstacles.Select(o => new ObstacleDto(o.Name, o.XFrom, o.XTo, o.ZFrom, o.ZTo))]);
    }

    private static string Snake<T>(T value)
        where T : struct, Enum => System.Text.Json.JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());
}
