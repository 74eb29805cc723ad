using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Options;

/// <summary>What less force costs in room, and how the peak falls with the length of the piece.</summary>
internal static class OptionsCharts
{
    /// <summary>Dots beyond this many times the largest force inside the limits do not set the scale.</summary>
    private const double ScaleOverKept = 1.4;

    /// <summary>Radius of a dot, pixels: the longer the piece, the larger the dot.</summary>
    private const double SmallestDot = 2.5, LongestMore = 4.5;

    public static IReadOnlyList<Figure> Build(OptionsWords words)
    {
        List<Figure> figures = [Front(words)];
        if (words.Catches.Any(c => words.ByLength(c).Count > 1))
        {
            figures.Add(Lengths(words));
        }

        return figures;
    }

    private static Figure Front(OptionsWords words)
    {
        var result = words.Result;
        var (force, forceFactor) = Units.Axis("N", words.Units);
        var (room, roomFactor) = Units.Axis("m", words.Units);
        (double X, double Y) At(OptionOutcome o) => (o.Measures[MeasureIds.Room].Worst * roomFactor, o.Measures[MeasureIds.RiggingPointForce].Worst * forceFactor);
        var placed = result.Outcomes.Where(o => o.Complete && double.IsFinite(At(o).X) && double.IsFinite(At(o).Y)).ToArray();
        var fronts = result.Fronts;
        var named = OptionsDocument.Named(result);
        var largest = result.Kept.Count > 0 ? result.Kept.Max(o => At(o).Y) * ScaleOverKept : double.PositiveInfinity;
        var x = NiceScale.Axis("Room left under the piece, worse end of the draws", room, 0, placed.Select(o => At(o).X).DefaultIfEmpty(1).Max() * 1.05, 8);
        var y = NiceScale.Axis("Force on the rigging point, worse end of the draws", force, 0, Math.Min(largest, placed.Select(o => At(o).Y).DefaultIfEmpty(1).Max()) * 1.05, 6);
        string Both(OptionOutcome o) => $"{words.Value(MeasureIds.RiggingPointForce, o.Measures[MeasureIds.RiggingPointForce].Worst)} and {words.Value(MeasureIds.Room, o.Measures[MeasureIds.Room].Worst)}";
        bool Shown(OptionOutcome o) => At(o).Y <= y.Max;
        var longest = result.Outcomes.Max(o => o.Setting.Case.Input.Piece.Length);
        double Radius(OptionOutcome o) => SmallestDot + (LongestMore * o.Setting.Case.Input.Piece.Length / longest);
        bool Locked(OptionOutcome o) => o.Setting.Case.Input.Catch.Kind == CatchKind.HardStop;
        var limit = result.Limits.FirstOrDefault(l => l.Key == "room");
        var early = result.Outcomes.Count(o => !o.Complete);
        var lost = result.Outcomes.Count - early - placed.Count(Shown);
        return new Figure
        {
            FileName = "force-against-room.png",
            Title = result.Kept.Count > 0
                ? $"{result.Kept.Count} of {result.Outcomes.Count} settings, of all pieces, keep inside {words.EveryLimit}. Less force costs room: with a piece of {words.Length(fronts[0][0].Setting.Case.Input.Piece.Length)} "
                    + (fronts[0].Count > 1 ? $"{Both(fronts[0][0])}, or {Both(fronts[0][^1])}" : "one setting is ahead in both")
                : $"None of {result.Outcomes.Count} settings keeps inside {words.EveryLimit}",
            Subtitle = $"{result.Title}. A setting is a dot, orange let run, black locked off, the larger the longer the piece: it keeps 95 % of {result.Draws} draws inside. Small, grey and hollow, it does not. "
                + $"Lines join pieces of one length, the letters are those of the table.{Missing(early, lost)}",
            Footer = words.Footer(),
            Height = 1000,
            Panels =
            [
                new Panel
                {
                    X = x,
                    Y = y,
                    Curves =
                    [
                        .. limit is null ? (Curve[])[] : [new Curve("limit of room", [limit.Value * roomFactor, limit.Value * roomFactor], [0, y.Max], new Stroke(Palette.Quiet, 1.6, Dash.DashDot))],
                        .. fronts.Where(f => f.Count > 1).Select((f, i) => new Curve($"front {i + 1}", [.. f.Select(o => At(o).X)], [.. f.Select(o => At(o).Y)], new Stroke(Palette.Ink, Math.Max(1.4, 3.2 - (0.8 * i)), i == 0 ? Dash.Solid : i == 1 ? Dash.Long : Dash.Dots))),
                    ],
                    Dots =
                    [
                        .. placed.Where(o => !o.Kept && Shown(o)).Select(o => new Dot("outside", At(o).X, At(o).Y, "#B0B0B0", 3, true)),
                        .. placed.Where(o => o.Kept && !Locked(o)).Select(o => new Dot("let run", At(o).X, At(o).Y, Palette.GroundLeg, Radius(o))),
                        .. placed.Where(o => o.Kept && Locked(o)).Select(o => new Dot("locked off", At(o).X, At(o).Y, Palette.RiggingPoint, Radius(o))),
                    ],
                    Labels =
                    [
                        // The longer labels first, while there is room.
                        .. named.OrderByDescending(n => fronts.Any(f => f[0] == n.Outcome)).Select(n => new Label(
                            fronts.Any(f => f[0] == n.Outcome) ? $"{words.Length(n.Outcome.Setting.Case.Input.Piece.Length)}: {n.Name}" : n.Name,
                            At(n.Outcome).X, At(n.Outcome).Y, Palette.Ink, Toward.UpLeft, true)),
                        .. limit is null ? (Label[])[] : [new Label($"limit: {words.Limit(limit)} of room", limit.Value * roomFactor, y.Max * 0.97, Palette.Quiet, Toward.Right, false, false)],
                    ],
                },
            ],
        };
    }

    private static string Missing(int early, int far)
    {
        string[] parts = [.. new[] { (Count: early, Why: "given up once they could not be listed"), (Count: far, Why: "far outside") }.Where(p => p.Count > 0).Select(p => $"{p.Count} {p.Why}")];
        return parts.Length == 0 ? "" : $" Not shown: {string.Join(", ", parts)}.";
    }

    private static Figure Lengths(OptionsWords words)
    {
        var result = words.Result;
        var (force, forceFactor) = Units.Axis("N", words.Units);
        var (metre, metreFactor) = Units.Axis("m", words.Units);
        var curves = new List<Curve>();
        var dots = new List<Dot>();
        var labels = new List<Label>();
        var longest = 0.0;
        var most = 0.0;
        double[] ends = [.. words.Catches.Select(words.ByLength).Where(l => l.Count > 0)
            .SelectMany(l => new[] { l[^1].Measures[MeasureIds.RiggingPointForce].Median, l[^1].Measures[MeasureIds.RiggingPointForce].Worst }).Where(double.IsFinite).Select(v => v * forceFactor).Order()];
        for (var k = 0; k < words.Catches.Count; k++)
        {
            var line = words.ByLength(words.Catches[k]);
            var x = line.Select(o => o.Setting.Case.Input.Piece.Length * metreFactor).ToArray();
            var name = Wording.Capital(Wording.Plain(words.Catches[k])) + (line.Count > 0 && line[0].Setting.Case.Input.Catch.Kind != CatchKind.HardStop && line.All(o => OptionsWords.Turns(o.Setting) == OptionsWords.Turns(line[0].Setting)) ? $", {OptionsWords.Turns(line[0].Setting)} turns" : "");
            foreach (var (worst, part, width, dash) in new[] { (false, "median", 4.0, k == 0 ? Dash.Solid : Dash.Long), (true, "95 % stay below", 2.0, k == 0 ? Dash.Solid : Dash.Long) })
            {
                double[] y = [.. line.Select(o => worst ? o.Measures[MeasureIds.RiggingPointForce].Worst : o.Measures[MeasureIds.RiggingPointForce].Median).Select(v => double.IsFinite(v) ? v * forceFactor : double.NaN)];
                curves.Add(new Curve($"{name}, {part}", x, y, new Stroke(Palette.RiggingPoint, width, dash)));
                for (var i = 0; i < x.Length; i++)
                {
                    if (double.IsFinite(y[i]))
                    {
                        dots.Add(new Dot(name, x[i], y[i], Palette.RiggingPoint, worst ? 4 : 6, worst));
                        most = Math.Max(most, y[i]);
                    }

                    longest = Math.Max(longest, x[i]);
                }

                var at = Array.FindLastIndex(y, double.IsFinite);
                if (at >= 0)
                {
                    // Toward the side where the next line is farther away.
                    var (below, above) = (ends.LastOrDefault(e => e < y[at], 0), ends.FirstOrDefault(e => e > y[at], double.PositiveInfinity));
                    labels.Add(new Label($"{name}: {part}", x[at], y[at], Palette.Ink, above - y[at] >= y[at] - below ? Toward.UpLeft : Toward.DownLeft, !worst));
                }
            }
        }

        var steep = words.Catches.Select(c => (Name: c, Line: words.ByLength(c).Where(o => double.IsFinite(o.Measures[MeasureIds.RiggingPointForce].Median)).ToArray())).Where(l => l.Line.Length > 1).Select(l =>
            $"{Wording.Plain(l.Name)} {words.Value(MeasureIds.RiggingPointForce, l.Line[^1].Measures[MeasureIds.RiggingPointForce].Median)} with {words.Length(l.Line[^1].Setting.Case.Input.Piece.Length)}, {words.Value(MeasureIds.RiggingPointForce, l.Line[0].Measures[MeasureIds.RiggingPointForce].Median)} with {words.Length(l.Line[0].Setting.Case.Input.Piece.Length)}");
        var falls = words.Catches.Select(c => words.ByLength(c).Select(o => o.Measures[MeasureIds.RiggingPointForce].Median).Where(double.IsFinite).ToArray())
            .All(m => m.Zip(m.Skip(1)).All(p => p.First < p.Second));
        return new Figure
        {
            FileName = "peak-against-length.png",
            Title = (falls ? "Shorter pieces, smaller peaks, and no length at which the peak is gone: " : "Peak against length of the piece: ") + string.Join("; ", steep),
            Subtitle = $"{result.Title}. Cut, gear and slack as the file has them; {result.Draws} draws each. A point is missing where the piece was not caught in too many draws.",
            Footer = words.Footer(),
            Height = 950,
            Panels =
            [
                new Panel
                {
                    X = NiceScale.Axis("Length of the piece", metre, 0, longest * 1.06, 8),
                    Y = NiceScale.Axis("Force on the rigging point", force, 0, most * 1.12, 6),
                    Curves = curves,
                    Dots = dots,
                    Labels = labels,
                },
            ],
        };
    }
}
