using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>How forces, sway, room and rope change down the stem: height upward as on the tree, one finding a picture.</summary>
internal static class DismantleCharts
{
    private const double StemShare = 0.27;

    /// <summary>Place of the stem's axis: away from zero, so that the scale, which means nothing, bears no number.</summary>
    private const double Axis0 = 10;

    /// <summary>An outlier above this many times the largest central value does not set the scale; the axis then ends there and says so.</summary>
    private const double ScaleOverCentral = 5;

    public static IReadOnlyList<Figure> Build(DismantleWords words) => [Forces(words), Sway(words), Room(words)];

    /// <summary>True where a drop has a value to show: one that was over too soon has none.</summary>
    private static bool Has(DismantleWords words, int cut, int catchIndex, string id) =>
        double.IsFinite(words.Result.Cuts[cut].Cases[catchIndex].Run[id].Value) && (id == MeasureIds.Room || !words.Reach[cut].Catches[catchIndex].ForcesUnknown);

    /// <summary>What the pictures show, in words, one sentence each.</summary>
    public static IReadOnlyList<string> Findings(DismantleWords words) => [ForcesFinding(words) + ".", SwayFinding(words) + ".", RoomFinding(words) + "."];

    private static string ForcesFinding(DismantleWords words) => Finding(words, MeasureIds.RiggingPointForce, "at the rigging point");

    private static string SwayFinding(DismantleWords words) => Finding(words, MeasureIds.ClimberMovement, "of movement at the climber's feet");

    private static string RoomFinding(DismantleWords words)
    {
        string Rope(CutResult cut) => Format.Quantity(cut.Plan.Rope.InSystem, "m", words.Units);
        return Finding(words, MeasureIds.Room, "of room under the piece") + $"; rope that catches it: {Rope(words.Result.Cuts[0])}, then {Rope(words.Result.Cuts[^1])}";
    }

    private static Figure Forces(DismantleWords words) => Picture(words, "forces-down-the-stem.png", ForcesFinding(words),
        [Measured(words, MeasureIds.RiggingPointForce, "Force on the rigging point", Palette.RiggingPoint, Palette.Ink, ["#26000000", "#40000000"])]);

    private static Figure Sway(DismantleWords words) => Picture(words, "sway-down-the-stem.png", SwayFinding(words),
        [Measured(words, MeasureIds.ClimberMovement, "Movement at the climber's feet", Palette.Climber, Palette.ClimberText, ["#30CC79A7", "#60CC79A7"])]);

    private static Figure Room(DismantleWords words) => Picture(words, "room-down-the-stem.png", RoomFinding(words),
        [Measured(words, MeasureIds.Room, "Room left under the piece", Palette.Piece, Palette.PieceText, ["#3056B4E9", "#6056B4E9"]), Rope(words)]);

    /// <summary>Smallest and largest over the cuts, where it is worst, and the worst of all ranges.</summary>
    private static string Finding(DismantleWords words, string id, string what)
    {
        var cuts = words.Result.Cuts;
        var parts = new List<string>();
        for (var k = 0; k < words.Result.Catches.Count; k++)
        {
            var name = DismantleWords.Catch(words.Result.Catches[k]);
            var all = cuts.Select((c, i) => (M: c.Cases[k].Run[id], c.Plan.Number, Index: i)).Where(m => Has(words, m.Index, k, id)).OrderBy(m => m.M.Value).ToArray();
            var text = (k == 0 ? name : char.ToLowerInvariant(name[0]) + name[1..]) + ": ";
            if (all.Length == 0)
            {
                parts.Add(text + ReachWords.ForceUnknown);
                continue;
            }

            var (least, most) = (all[0], all[^1]);
            var worst = least.M.Worse == Worse.Smaller ? least : most;
            var (low, high) = (Format.Value(least.M, words.Units), Format.Value(most.M, words.Units));
            parts.Add(text + (low == high ? low : $"{low} to {high}") + (k == 0 ? " " + what : "") + (low == high ? "" : $", {(worst.M.Worse == Worse.Smaller ? "least" : "largest")} at cut {worst.Number}"));
        }

        return string.Join("; ", parts) + WorstOfAll(words, id);
    }

    private static string WorstOfAll(DismantleWords words, string id)
    {
        var all = words.Result.Cuts.SelectMany((c, i) => c.Cases.Select((k, j) => (M: k.Run[id], c.Plan.Number, Shown: Has(words, i, j, id))))
            .Where(m => m.Shown).Select(m => (m.M, m.Number)).ToArray();
        return all.Length == 0 ? "" : "; worst of the ranges " + WorstOf(words, all);
    }

    private static string WorstOf(DismantleWords words, (Measure M, int Number)[] all)
    {
        if (all[0].M.Worse == Worse.Smaller)
        {
            var gone = all.Where(m => m.M.Low <= 0).Select(m => m.Number).Distinct().ToArray();
            if (gone.Length > 0)
            {
                var which = DismantleWords.Cuts(gone);
                return $"none left ({char.ToLowerInvariant(which[0])}{which[1..]})";
            }

            var (m, number) = all.MinBy(x => x.M.Low ?? x.M.Value);
            return $"{Format.Worst(m, words.Units)} (cut {number})";
        }

        // Of two that are equal, or where one is only a bound, the bound is the worse one.
        var (worst, cut) = all.OrderBy(x => x.M.High is { } h && double.IsFinite(h) ? h : x.M.Value).ThenBy(x => x.M.RangeCutShort).Last();
        return $"{Format.Worst(worst, words.Units)} (cut {cut})";
    }

    private static Figure Picture(DismantleWords words, string file, string title, IReadOnlyList<Panel> panels)
    {
        var width = (1 - StemShare) / panels.Count;
        return new Figure
        {
            FileName = file,
            Title = (words.Reach.Any(r => r.AsPlanned) ? ReachWords.Headline(words.Reach)[0] + " " : "") + title,
            Subtitle = words.Subtitle(),
            Footer = words.Footer(),
            Height = 1100,
            Panels = [Stem(words) with { Place = new Place(0, 0, StemShare, 1) }, .. panels.Select((p, i) => p with { Place = new Place(StemShare + (i * width), 0, width, 1) })],
        };
    }

    private static (Axis Axis, double Factor) Heights(DismantleWords words, bool shown)
    {
        var (unit, factor) = Units.Axis("m", words.Units);
        var top = words.Result.Profile[^1].Height * factor;
        return (NiceScale.Axis(shown ? "Height above the ground" : "", unit, 0, top * 1.02, 8) with { Max = top * 1.03, Shown = shown }, factor);
    }

    /// <summary>The stem with its cuts; heights to scale, widths drawn larger.</summary>
    private static Panel Stem(DismantleWords words)
    {
        var (y, factor) = Heights(words, true);
        var profile = words.Result.Profile;
        var widest = profile.Max(d => d.Diameter);
        var shapes = new List<Shape>();
        var texts = new List<Text>();
        double Half(double height) => StemCuts.DiameterAt(profile, height) / widest / 2;
        Shape Section(string name, double from, double to, string fill)
        {
            double[] heights = [from, .. profile.Select(d => d.Height).Where(h => h > from && h < to), to];
            return new Shape(name, [.. heights.Select(h => (Axis0 + Half(h), h * factor)), .. heights.Reverse().Select(h => (Axis0 - Half(h), h * factor))], fill, new Stroke(Palette.Ink, 1.4));
        }

        shapes.Add(Section("stays", 0, words.Result.Cuts[^1].Input.Spar.Height, "#FFFFFF"));
        foreach (var cut in words.Result.Cuts)
        {
            var from = cut.Input.Spar.Height;
            var to = from + cut.Input.Piece.Length;
            shapes.Add(Section($"piece {cut.Plan.Number}", from, to, cut.Plan.Number % 2 == 0 ? "#D9D9D9" : "#F0F0F0"));
            texts.Add(new Text($"{cut.Plan.Number}{(cut.Input.Piece.Kind == PieceKind.Top ? ", top" : "")}: {words.Mass(cut.Input.Piece.Mass)} {words.MassUnit}", Axis0 + 0.62, (from + to) / 2 * factor, Palette.Ink, Grip.Left));
        }

        return new Panel
        {
            Heading = "Cuts and pieces",
            X = new Axis("widths drawn larger", "", Axis0 - 0.7, Axis0 + 1.9, 10 * Axis0),
            Y = y,
            Shapes = shapes,
            Texts = texts,
        };
    }

    private static Panel Measured(DismantleWords words, string id, string title, string colour, string text, string[] fill)
    {
        var (y, height) = Heights(words, false);
        var cuts = words.Result.Cuts;
        var (unit, factor) = Format.IsSmallLength(id) ? Units.SmallLength(words.Units) : Units.Axis(cuts[0].Cases[0].Run[id].Unit, words.Units);
        var x = NiceScale.Axis(title, unit, 0, ScaleEnd(words, id, factor) * 1.05, 6);
        var shapes = new List<Shape>();
        var curves = new List<Curve>();
        var dots = new List<Dot>();
        var labels = new List<Label>();
        var texts = Hits(words, x, height);
        for (var k = 0; k < words.Result.Catches.Count; k++)
        {
            var measures = cuts.Select((c, i) => (Height: c.Input.Spar.Height * height, M: c.Cases[k].Run[id], Has: Has(words, i, k, id)))
                .Select(m => (m.Height, M: m.Has ? m.M : m.M with { Value = double.NaN, Low = null, High = null })).ToArray();
            var dash = k == 0 ? Dash.Solid : Dash.Long;
            var ranged = measures.Where(m => m.M.Low is { } l && m.M.High is { } h && double.IsFinite(l) && double.IsFinite(h)).ToArray();
            if (ranged.Length > 1)
            {
                shapes.Add(new Shape($"range, {words.Result.Catches[k]}",
                    [.. ranged.Select(m => (Math.Max(0, m.M.Low!.Value * factor), m.Height)), .. ranged.Reverse().Select(m => (Math.Min(x.Max, m.M.High!.Value * factor), m.Height))],
                    k == 0 ? fill[0] : fill[1], new Stroke(colour, 1.6, dash)));
                var smaller = ranged[0].M.Worse == Worse.Smaller;
                var (at, worst) = smaller ? ranged.MinBy(m => m.M.Low!.Value) : ranged.MaxBy(m => m.M.High!.Value);
                labels.Add(new Label($"worst, {DismantleWords.Catch(words.Result.Catches[k]).ToLowerInvariant()}: {(smaller && worst.Low <= 0 ? "none left" : Format.Worst(worst, words.Units))}",
                    smaller ? Math.Max(0, worst.Low!.Value * factor) : Math.Min(x.Max, worst.High!.Value * factor), at, Palette.Quiet, smaller ? Toward.UpLeft : Toward.UpRight));
            }

            curves.Add(new Curve(words.Result.Catches[k], [.. measures.Select(m => m.M.Value * factor)], [.. measures.Select(m => m.Height)], new Stroke(colour, k == 0 ? 4 : 2.6, dash)));
            dots.AddRange(measures.Where(m => double.IsFinite(m.M.Value)).Select(m => new Dot(words.Result.Catches[k], m.M.Value * factor, m.Height, colour, 5, m.M.State == MeasureState.AtLeast)));
            var shown = measures.Where(m => double.IsFinite(m.M.Value)).ToArray();
            if (shown.Length == 0)
            {
                continue;
            }

            var named = shown[k == 0 ? shown.Length / 3 : shown.Length / 2];
            labels.Add(new Label(DismantleWords.Catch(words.Result.Catches[k]), named.M.Value * factor, named.Height, text, k == 0 ? Toward.UpRight : Toward.DownRight, k == 0));
        }

        return new Panel { Heading = title, X = x, Y = y, Shapes = shapes, Curves = curves, Dots = dots, Labels = labels, Texts = texts };
    }

    /// <summary>The end of the scale, in its unit.</summary>
    private static double ScaleEnd(DismantleWords words, string id, double factor)
    {
        var shown = words.Result.Cuts.SelectMany((c, i) => c.Cases.Where((_, k) => Has(words, i, k, id)).Select(k => k.Run[id])).ToArray();
        double Most(Func<Measure, double> of) => shown.Select(of).Where(v => double.IsFinite(v) && v > 0).DefaultIfEmpty(1).Max() * factor;
        return Math.Min(Most(m => m.High ?? m.Value), ScaleOverCentral * Most(m => m.Value));
    }

    /// <summary>What planned drops hit, at the height of their cut: words in place of a value.</summary>
    private static List<Text> Hits(DismantleWords words, Axis x, double height) =>
    [
        .. words.Result.Cuts.Zip(words.Reach).Where(p => p.Second.AsPlanned)
            .Select(p => new Text(
                $"{ReachWords.Piece(p.Second)} {ReachWords.Cut(p.Second with { Catches = [.. p.Second.Catches.Select(c => c with { Varied = [] })] }, words.Units)}",
                x.Max, (p.First.Input.Spar.Height - (0.2 * p.First.Input.Piece.Length)) * height, Palette.Ink, Grip.Right, true)),
    ];

    private static Panel Rope(DismantleWords words)
    {
        var (y, factor) = Heights(words, false);
        var points = words.Result.Cuts.Select(c => (X: c.Plan.Rope.InSystem * factor, Y: c.Input.Spar.Height * factor)).ToArray();
        var (unit, _) = Units.Axis("m", words.Units);
        return new Panel
        {
            Heading = "Rope in the system",
            X = NiceScale.Axis("Rope from piece to device before the cut", unit, 0, points.Max(p => p.X) * 1.05, 5),
            Y = y,
            Curves = [new Curve("rope in the system", [.. points.Select(p => p.X)], [.. points.Select(p => p.Y)], new Stroke(Palette.GroundLeg, 3.4))],
            Dots = [.. points.Select(p => new Dot("rope", p.X, p.Y, Palette.GroundLeg, 5))],
            Labels = [new Label("less rope, a harder catch", points[^1].X, points[^1].Y, Palette.GroundLegText, Toward.UpRight)],
        };
    }
}
