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

    /// <summary>What comes of each cut that does not end on the rope, before any number; null where all do.</summary>
    internal static ScreenTable? Reached(DismantleWords words)
    {
        var bad = words.Reach.Where(c => c.Any).OrderBy(c => c.AsPlanned ? 0 : 1).ToArray();
        return bad.Length == 0 ? null : new(
            string.Join(" ", ReachWords.Headline(words.Reach)),
            ["cut", "what happens"],
            [.. bad.Select(c => (IReadOnlyList<string>)[ReachWords.Piece(c), ReachWords.Cut(c, words.Units)])]);
    }

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
                    words.RopeLeft(c),
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
            [.. words.Result.Cuts.Select((c, row) => (IReadOnlyList<string>)
            [
                c.Plan.Number.ToString(CultureInfo.InvariantCulture),
                .. ids.SelectMany(id => Pair(c.Cases[catchIndex].Run[id], words.Reach[row].Catches[catchIndex], words.Units)),
            ])]);
    }

    /// <summary>Central value and worst; no number for what a drop that was over too soon has not shown.</summary>
    private static string[] Pair(Measure measure, CatchReach reach, UnitSystem units)
    {
        if (measure.Id == MeasureIds.Room && reach.AsPlanned is { Hits: true })
        {
            return ["none", "none"];
        }

        return reach.ForcesUnknown && measure.Id != MeasureIds.Room
            ? [ReachWords.ForceUnknown, ReachWords.ForceUnknown]
            : [Format.Value(measure, units), Format.Worst(measure, units)];
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
                new("cut"), new("kind"), new("catch"), new("reaches"), new("obstacle"), new("reached_at_m_s", "m/s"), new("varied_runs"), new("varied_ground"),
                new("varied_obstacle"), new("varied_other"), new("end"), .. common.Select(c => new StudyColumn(c.Name, c.Unit)),
                .. measures.SelectMany(m =>
                {
                    StudyColumn Column(string part) => new(m.Unit.Length == 0 ? m.Id + part : $"{m.Id}{part}_{m.Unit.Replace('/', '_').Replace(' ', '_')}", m.Unit);
                    return new[] { Column(""), new(m.Id + "_state"), Column("_low"), Column("_high"), new(m.Id + "_range_cut_short") };
                }),
            ],
            [.. result.Cuts.Zip(result.Reach).SelectMany(p => p.First.Cases.Zip(p.Second.Catches, (one, reach) => (IReadOnlyList<StudyCell>)
            [
                (double)p.First.Plan.Number, p.First.Input.Piece.Kind == PieceKind.Top ? "top" : "log", one.Case.CatchName, .. Cells(reach), one.Run.End.Description,
                .. common.Select(c => (StudyCell)c.Value(p.First)),
                .. measures.SelectMany(m => Cells(one.Run[m.Id], reach)),
            ]))]);
    }

    /// <summary>What was reached, as fixed words and counts.</summary>
    private static StudyCell[] Cells(CatchReach reach)
    {
        double Count(Func<BadEnd, bool> which) => reach.Varied.Where(which).Sum(v => v.Runs);
        return
        [
            ReachWords.Code(reach.AsPlanned), reach.AsPlanned?.Obstacle?.Name ?? "", reach.AsPlanned is { Hits: true } hit ? hit.Speed : double.NaN,
            (double)reach.Runs, Count(v => v.Kind == EndKind.Ground), Count(v => v.Kind == EndKind.Obstacle), Count(v => !v.Hits),
        ];
    }

    /// <summary>A measure; a bound that a drop over too soon gives would look like a small value and stays empty.</summary>
    private static StudyCell[] Cells(Measure m, CatchReach reach)
    {
        var empty = reach.ForcesUnknown && m.State == MeasureState.AtLeast;
        return [empty ? double.NaN : m.Value, SummaryJson.Word(m.State), empty ? double.NaN : m.Low ?? double.NaN, empty ? double.NaN : m.High ?? double.NaN, m.RangeCutShort ? "yes" : "no"];
    }
}
