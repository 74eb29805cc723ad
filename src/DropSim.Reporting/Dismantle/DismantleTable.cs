using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>The cuts of a whole spar as tables: for the screen in words, for CSV and JSON in numbers.</summary>
internal static class DismantleTable
{
    private static readonly string[] Ids =
    [
        MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun,
        MeasureIds.LoadLegTension, MeasureIds.GroundLegTension, MeasureIds.ClimberSpeed, MeasureIds.SparStress, MeasureIds.RopeSpeed,
        MeasureIds.SwayFrequency, MeasureIds.WeakestLink,
    ];

    /// <summary>The pieces on the screen: cut, length, mass, rigging point, wraps, rope.</summary>
    internal static ScreenTable Pieces(DismantleWords words)
    {
        var (m, kg) = (words.LengthUnit, words.MassUnit);
        return new(
            "Cuts, from the tip down",
            ["cut", $"at {m}", $"long {m}", $"mass {kg} (range)", $"{DismantleWords.Point(words.Result.Cuts[0].Input.RiggingPoint.Kind)} at {m}", "wraps (band)", $"rope in system {m}", $"left {m}", $"left when down {m}"],
            [.. words.Result.Cuts.Select(c =>
            {
                var (mass, low, high) = DismantleWords.MassRange(c);
                var input = c.Input;
                return (IReadOnlyList<string>)
                [
                    c.Plan.Number.ToString(CultureInfo.InvariantCulture) + (input.Piece.Kind == PieceKind.Top ? " top" : ""),
                    words.Length(input.Spar.Height),
                    words.Length(input.Piece.Length),
                    $"{words.Mass(mass)} ({words.Mass(low)} to {words.Mass(high)})",
                    words.Length(input.Spar.Height - input.RiggingPoint.BelowCut),
                    $"{DismantleWords.Turns(c.Plan.Wraps.Planned)} ({DismantleWords.Turns(c.Plan.Wraps.Low)} to {DismantleWords.Turns(c.Plan.Wraps.High)})",
                    words.Length(c.Plan.Rope.InSystem),
                    double.IsNaN(c.Plan.Rope.Left) ? "unknown" : words.Length(c.Plan.Rope.Left),
                    double.IsNaN(c.Plan.Rope.LeftWhenDown) ? "unknown" : c.Plan.Rope.LeftWhenDown < 0 ? "too short" : words.Length(c.Plan.Rope.LeftWhenDown),
                ];
            })]);
    }

    /// <summary>One catch at every cut on the screen: central value and worst of the range of each headline measure.</summary>
    internal static ScreenTable Catch(DismantleWords words, int catchIndex)
    {
        string[] ids = [MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun];
        string[] names = ["rigging point", "room left", "feet move", "hand must hold", "rope run"];
        return new(
            $"{DismantleWords.Catch(words.Result.Catches[catchIndex])}: central value and worst of the range",
            ["cut", .. names.SelectMany(n => new[] { n, "worst" })],
            [.. words.Result.Cuts.Select(c => (IReadOnlyList<string>)
            [
                c.Plan.Number.ToString(CultureInfo.InvariantCulture),
                .. ids.SelectMany(id => new[] { Format.Value(c.Cases[catchIndex].Run[id], words.Units), Format.Worst(c.Cases[catchIndex].Run[id], words.Units) }),
            ])]);
    }

    /// <summary>One row for each cut and catch, SI, all digits.</summary>
    internal static StudyTable Numbers(DismantleResult result)
    {
        (string Name, string Unit, Func<CutResult, double> Value)[] common =
        [
            ("cut_height_m", "m", c => c.Input.Spar.Height), ("piece_length_m", "m", c => c.Input.Piece.Length),
            ("piece_mass_kg", "kg", c => DismantleWords.MassRange(c).Value), ("piece_mass_low_kg", "kg", c => DismantleWords.MassRange(c).Low),
            ("piece_mass_high_kg", "kg", c => DismantleWords.MassRange(c).High), ("butt_diameter_m", "m", c => c.Input.Piece.ButtDiameter),
            ("rigging_point_height_m", "m", c => c.Input.Spar.Height - c.Input.RiggingPoint.BelowCut), ("hitch_above_cut_m", "m", c => c.Input.Piece.HitchHeight),
            ("wraps", "", c => c.Plan.Wraps.Planned), ("wraps_band_low", "", c => c.Plan.Wraps.Low), ("wraps_band_high", "", c => c.Plan.Wraps.High),
            ("rope_in_system_m", "m", c => c.Plan.Rope.InSystem), ("rope_left_m", "m", c => c.Plan.Rope.Left), ("rope_left_when_down_m", "m", c => c.Plan.Rope.LeftWhenDown),
        ];
        var sample = result.Cuts[0].Cases[0].Run;
        var measures = Ids.Where(id => sample.Measures.Any(m => m.Id == id)).Select(id => sample[id]).ToArray();
        return new(
            "cuts",
            [
                new("cut"), new("kind"), new("catch"), new("end"), .. common.Select(c => new StudyColumn(c.Name, c.Unit)),
                .. measures.SelectMany(m =>
                {
                    StudyColumn Column(string part) => new(m.Unit.Length == 0 ? m.Id + part : $"{m.Id}{part}_{m.Unit.Replace('/', '_').Replace(' ', '_')}", m.Unit);
                    return new[] { Column(""), new(m.Id + "_state"), Column("_low"), Column("_high"), new(m.Id + "_range_cut_short") };
                }),
            ],
            [.. result.Cuts.SelectMany(cut => cut.Cases.Select(one => (IReadOnlyList<StudyCell>)
            [
                (double)cut.Plan.Number, cut.Input.Piece.Kind == PieceKind.Top ? "top" : "log", one.Case.CatchName, one.Run.End.Description,
                .. common.Select(c => (StudyCell)c.Value(cut)),
                .. measures.SelectMany(m => Cells(one.Run[m.Id])),
            ]))]);
    }

    private static StudyCell[] Cells(Measure m) =>
        [m.Value, SummaryJson.Word(m.State), m.Low ?? double.NaN, m.High ?? double.NaN, m.RangeCutShort ? "yes" : "no"];
}
