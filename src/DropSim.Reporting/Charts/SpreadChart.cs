using DropSim.Model;
using DropSim.Reporting.Told;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Charts;

/// <summary>Set-ups like those of a scenario: for each case twenty signs, dots where the drop is caught and crosses where it is not.</summary>
internal static class SpreadChart
{
    internal const string FileName = "set-ups-like-it.png";

    /// <summary>Width of the part with the dots; the rest names what is not caught.</summary>
    private const double DotsWidth = 0.74;

    /// <summary>Room for dots and for crosses, pixels.</summary>
    private const double Wide = 1081;

    private const double CrossesWide = 355;
    private const double SignRoom = 30;
    private const double WordsRoom = 30;
    private const double Gap = 12;
    private const double Line = 24;
    private const double PanelFrame = 64;
    private const double NumbersHeight = 24;
    private const int MostLevels = 6;

    /// <summary>Kinds of endings that are named; the rest together.</summary>
    private const int MostKinds = 3;

    private static readonly (string Id, string Heading, string Colour)[] _told =
    [
        (MeasureIds.RiggingPointForce, "Force on the rigging point", Palette.RiggingPoint),
        (MeasureIds.ClimberMovement, "Movement at the climber's feet", Palette.Climber),
        (MeasureIds.Room, "Room left under the piece", Palette.Piece),
    ];

    internal static Figure Build(ToldScenario told, Wording wording, UnitSystem units)
    {
        var strips = _told.Select(t => StripOf(told, t.Id, units)).ToArray();
        var heights = strips.Select(s => s.Rows.Sum() + PanelFrame).ToArray();
        var panels = new List<Panel>();
        for (var i = 0; i < strips.Length; i++)
        {
            var top = heights.Take(i).Sum() / heights.Sum();
            var share = heights[i] / heights.Sum();
            panels.Add(Dots(told, strips[i], wording, _told[i].Heading, _told[i].Colour, units) with { Place = new Place(0, top, DotsWidth, share) });
            panels.Add(NotCaught(told, strips[i]) with { Place = new Place(DotsWidth, top, 1 - DotsWidth, share) });
        }

        var title = Title(told, wording, units);
        return new Figure
        {
            FileName = FileName,
            Title = title,
            Subtitle = $"{wording.ScenarioTitle}. Each dot or cross is one of 20 set-ups that fit what was entered, drawn {told.Drawn.Count} times. "
                + "It is no repetition: in one yard the same set-up ends the same way. Triangle: this drop, the inputs as entered or by default.",
            Footer = wording.Footer(),
            Height = Math.Ceiling(heights.Sum() + 240 + (title.Length > 88 ? 40 : 0)),
            Panels = panels,
        };
    }

    /// <summary>Axis and height of the rows of one quantity, shared by all cases.</summary>
    /// <param name="Id">Id of the measure.</param>
    /// <param name="Axis">The axis.</param>
    /// <param name="Factor">From SI.</param>
    /// <param name="Rows">Height of each case's row, pixels.</param>
    private sealed record Strip(string Id, Axis Axis, double Factor, double[] Rows)
    {
        internal double Pixel => (Axis.Max - Axis.Min) / Wide;

        /// <summary>Foot of a row, pixels from the bottom.</summary>
        internal double Foot(int row) => Rows.Skip(row + 1).Sum();
    }

    private static Strip StripOf(ToldScenario told, string id, UnitSystem units)
    {
        var (unit, factor) = Format.IsSmallLength(id) ? Units.SmallLength(units) : Units.Axis(told.Cases[0].Run[id].Unit, units);
        double[] values = [.. told.Cases.SelectMany(c => c.Ending == DrawEnding.Caught ? c[id].Dots.Append(c.Run[id].Value) : c[id].Dots).Where(double.IsFinite)];
        var (low, high) = (Math.Min(0, values.DefaultIfEmpty(0).Min()) * factor, Math.Max(0, values.DefaultIfEmpty(0).Max()) * factor);
        var axis = NiceScale.Axis("", unit, low, high > low ? high : low + 1, 8);
        var beside = 0.012 * (axis.Max - axis.Min);
        axis = axis with { Min = axis.Min - beside, Max = axis.Max + beside };
        var width = DotStack.Pitch * (axis.Max - axis.Min) / Wide;
        return new(id, axis, factor, [.. told.Cases.Select(c => RowHeight(c, [.. c[id].Dots.Select(d => d * factor)], width))]);
    }

    private static double RowHeight(ToldCase told, IReadOnlyList<double> dots, double width)
    {
        var levels = Math.Clamp(DotStack.Levels(dots, width).DefaultIfEmpty(0).Max() + 1, 1, MostLevels);
        var lines = Kinds(told).Sum(k => k.Twenty > 0 ? 2 : 1) + (told.Ending == DrawEnding.Caught ? 0 : 1);
        return Gap + Math.Max(SignRoom + (levels * DotStack.Pitch) + WordsRoom, (lines * Line) + 6);
    }

    private static Panel Dots(ToldScenario told, Strip strip, Wording wording, string heading, string colour, UnitSystem units)
    {
        List<Dot> dots = [];
        List<Text> texts = [];
        List<Curve> lines = [];
        for (var i = 0; i < told.Cases.Count; i++)
        {
            var c = told.Cases[i];
            var foot = strip.Foot(i);
            var name = wording.CaseName(c.Case);
            lines.Add(new Curve("", [strip.Axis.Min, strip.Axis.Max], [foot + SignRoom, foot + SignRoom], new Stroke(Palette.Event, 1)));
            dots.AddRange(DotStack.Dots(c.Case.Name, [.. c[strip.Id].Dots.Select(d => d * strip.Factor)], strip.Pixel, foot + SignRoom + 10, MostLevels * DotStack.Pitch, colour));
            texts.Add(new Text($"{name}: {Spread(c, strip.Id, units)}{Beyond(c, strip.Id)}", strip.Axis.Min + (4 * strip.Pixel), foot + strip.Rows[i] - 18, Palette.Ink, Grip.Left, true));
            if (c.Ending == DrawEnding.Caught && double.IsFinite(c.Run[strip.Id].Value))
            {
                var at = c.Run[strip.Id].Value * strip.Factor;
                var rightward = at < (strip.Axis.Min + strip.Axis.Max) / 2;
                dots.Add(new Dot("this drop", at, foot + SignRoom - 11, Palette.Ink, DotStack.Radius, true, Sign.Triangle));
                texts.Add(new Text($"this drop {wording.Value(c.Run[strip.Id])}", at + ((rightward ? 14 : -14) * strip.Pixel), foot + SignRoom - 14, Palette.Ink, rightward ? Grip.Left : Grip.Right));
            }
        }

        return new Panel
        {
            Heading = $"{heading} ({strip.Axis.Unit})",
            X = strip.Axis,
            Y = new Axis("", "", 0, strip.Rows.Sum(), 0, false),
            Curves = lines,
            Dots = dots,
            Texts = texts,
        };
    }

    /// <summary>"18 of 20 between 13 and 24 kN", of the caught ones where that is not all.</summary>
    private static string Spread(ToldCase told, string id, UnitSystem units)
    {
        var caught = told[id];
        if (double.IsNaN(caught.Low))
        {
            return told.CaughtCount == 0 ? "none is caught" : $"{told.CaughtCount} of {told.Drawn} caught, too few for a spread";
        }

        ShownQuantity Shown(double value) => Format.Shown(value, told.Run[id].Unit, Format.IsSmallLength(id), units);
        var (low, high) = (Shown(caught.Low), Shown(caught.High));
        return low == high ? $"{low} in 18 of 20" : $"{Wording.OfCaught(told)}18 of 20: {ShownQuantity.Join(low, "to", high)}";
    }

    /// <summary>Feet move more than said where the root gives more than a spring would.</summary>
    private static string Beyond(ToldCase told, string id) =>
        id == MeasureIds.ClimberMovement && told.FootBeyond > 0 ? $"; more where the root gives beyond a spring, {CountWords.Of(told.FootBeyond, told.Drawn)}" : "";

    private static Panel NotCaught(ToldScenario told, Strip strip)
    {
        List<Dot> dots = [];
        List<Text> texts = [];
        for (var i = 0; i < told.Cases.Count; i++)
        {
            var c = told.Cases[i];
            var y = strip.Foot(i) + strip.Rows[i] - 18;
            var obstacles = c.Case.Input.Site.Obstacles;
            if (c.Missed.Count == 0)
            {
                texts.Add(new Text(CountWords.Of(0, c.Drawn), 0, y, Palette.Quiet, Grip.Left));
            }

            foreach (var (kind, twenty, count) in Kinds(c))
            {
                var words = kind is null ? "ends otherwise" : CountWords.Ends(kind.Ending, kind.Obstacle, obstacles);
                texts.Add(new Text($"{words}, {CountWords.Shared(twenty, count, c.Drawn)}", 0, y, Palette.Ink, Grip.Left));
                y -= Line;
                if (twenty > 0)
                {
                    dots.AddRange(DotStack.Crosses(c.Case.Name, twenty, 0, DotStack.Pitch, y));
                    y -= Line;
                }
            }

            if (c.Ending != DrawEnding.Caught)
            {
                dots.Add(new Dot("this drop", 8, y, Palette.Ink, DotStack.Radius, true, Sign.Triangle));
                texts.Add(new Text($"this drop {CountWords.Ends(c.Ending, c.Run.End.Obstacle?.Index ?? -1, obstacles)}", 22, y, Palette.Ink, Grip.Left, true));
            }
        }

        return new Panel
        {
            Heading = "Not caught",
            X = new Axis("", "", 0, CrossesWide, 0, false),
            Y = new Axis("", "", -NumbersHeight, strip.Rows.Sum(), 0, false),
            Dots = dots,
            Texts = texts,
        };
    }

    /// <summary>How draws end that are not caught, the rarest together, each with its share of what the dots leave of 20.</summary>
    internal static IReadOnlyList<(Missed? Kind, int Twenty, int Count)> Kinds(ToldCase told)
    {
        if (told.Missed.Count == 0)
        {
            return [];
        }

        var named = told.Missed.Count <= MostKinds ? told.Missed.Count : MostKinds - 1;
        List<(Missed? Kind, int Count)> kinds = [.. told.Missed.Take(named).Select(m => ((Missed?)m, m.Count))];
        if (named < told.Missed.Count)
        {
            kinds.Add((null, told.Missed.Skip(named).Sum(m => m.Count)));
        }

        var all = kinds.Sum(k => k.Count);
        var left = 20 - told[MeasureIds.RiggingPointForce].Dots.Count;
        var whole = kinds.Select(k => left * k.Count / all).ToArray();
        foreach (var i in Enumerable.Range(0, kinds.Count).OrderByDescending(i => left * kinds[i].Count % all).ThenBy(i => i).Take(left - whole.Sum()).ToArray())
        {
            whole[i]++;
        }

        return [.. kinds.Select((k, i) => (k.Kind, whole[i], k.Count))];
    }

    /// <summary>How often each is caught, and what it then typically pulls; of more than two those at the ends.</summary>
    private static string Title(ToldScenario told, Wording wording, UnitSystem units)
    {
        string Name(ToldCase c) => Wording.Lower(wording.CaseName(c.Case));
        string Pull(ToldCase c) => Format.Quantity(c[MeasureIds.RiggingPointForce].Typical, "N", units);
        bool Pulls(ToldCase c) => double.IsFinite(c[MeasureIds.RiggingPointForce].Typical);
        if (told.Cases.Count <= 2)
        {
            return "Set-ups like it: " + string.Join("; ", told.Cases.Select(c => $"{Name(c)} is caught in {CountWords.Of(c.CaughtCount, c.Drawn)}{(Pulls(c) ? $" and typically pulls {Pull(c)}" : "")}"));
        }

        var worst = told.Cases.MinBy(c => c.CaughtCount)!;
        var caught = worst.Missed.Count == 0 ? "all are caught" : $"{Name(worst)} is not caught in {CountWords.Of(worst.Drawn - worst.CaughtCount, worst.Drawn)}";
        ToldCase[] pulling = [.. told.Cases.Where(Pulls).OrderByDescending(c => c[MeasureIds.RiggingPointForce].Typical)];
        return $"Set-ups like it: {caught}" + (pulling.Length < 2 ? "" : $"; typically {Pull(pulling[0])} with {Name(pulling[0])}, {Pull(pulling[^1])} with {Name(pulling[^1])}");
    }
}
