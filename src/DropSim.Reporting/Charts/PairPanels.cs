using DropSim.Model;
using DropSim.Reporting.Told;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Charts;

/// <summary>
/// Two cases compared draw by draw, as twenty dots of the first over the second: left of the middle line the first has less.
/// Set-ups that are not caught in both have no ratio; they stand below as crosses, with their names.
/// </summary>
internal static class PairPanels
{
    /// <summary>Room for the dots and words of one panel, pixels.</summary>
    private const double Wide = 567;

    private const double High = 500;
    private const double AxisAt = 228;
    private const double DotsFrom = AxisAt + 15;
    private const double DotsTo = 440;

    /// <summary>There is room for larger dots than usual.</summary>
    private const double Larger = 1.4;

    /// <summary>Space beside the outermost words of the axis, pixels.</summary>
    private const double Beside = 48;

    private static readonly (string Id, string Heading, string Colour)[] _compared =
    [
        (MeasureIds.RiggingPointForce, "Force on the rigging point", Palette.RiggingPoint),
        (MeasureIds.ClimberMovement, "Movement at the climber's feet", Palette.Climber),
    ];

    /// <summary>A panel for the force on the rigging point and one for movement at the feet, on one axis.</summary>
    /// <param name="told">The draws.</param>
    /// <param name="pair">The comparison.</param>
    /// <param name="nameA">What the first is called.</param>
    /// <param name="nameB">What the second is called.</param>
    /// <param name="left">Where the panels begin, as a fraction of the picture.</param>
    internal static IEnumerable<Panel> Build(ToldScenario told, ToldPair pair, string nameA, string nameB, double left)
    {
        var (a, b) = (told.Cases[pair.First], told.Cases[pair.Second]);
        var dots = _compared.Select(c => PairDots.Of(told.Drawn, pair.First, pair.Second, pair[c.Id])).ToArray();
        var central = _compared.Select(c => Central(a, b, c.Id)).ToArray();
        var beyond = string.Join(", ", new[] { (Told: a, Name: nameA), (Told: b, Name: nameB) }.Where(c => c.Told.FootBeyond > 0).Select(c => $"{Wording.Lower(c.Name)} {CountWords.Of(c.Told.FootBeyond, c.Told.Drawn)}"));
        var axis = AxisOf(dots.SelectMany(d => d.All).Concat(central.OfType<double>()));
        for (var i = 0; i < dots.Length; i++)
        {
            var place = new Place(left, i / (double)dots.Length, 1 - left, 1.0 / dots.Length);
            yield return One(dots[i], central[i], axis, _compared[i].Heading, _compared[i].Colour, nameA, nameB, _compared[i].Id == MeasureIds.ClimberMovement ? beyond : "") with { Place = place };
        }
    }

    /// <summary>This drop's own ratio; null where one of the two is not caught, or there is nothing to divide by.</summary>
    private static double? Central(ToldCase a, ToldCase b, string id)
    {
        var ratio = a.Run[id].Value / b.Run[id].Value;
        return a.Ending == DrawEnding.Caught && b.Ending == DrawEnding.Caught && double.IsFinite(ratio) && ratio > 0 ? ratio : null;
    }

    private static Panel One(PairDots dots, double? central, Axis axis, string heading, string colour, string nameA, string nameB, string beyond)
    {
        var answer = dots.Answer;
        var pixel = (axis.Max - axis.Min) / Wide;
        List<Text> texts = [];
        List<Curve> lines = [Line(axis.Min, AxisAt, axis.Max, AxisAt, new Stroke(Palette.Quiet, 1.2))];
        List<Dot> marks = [.. DotStack.Dots("pair", [.. dots.All.Select(Math.Log2)], pixel, DotsFrom, DotsTo - DotsFrom, colour, Larger)];
        foreach (var (at, words) in TicksOf(axis))
        {
            lines.Add(Line(at, AxisAt - 6, at, DotsTo + 8, at == 0 ? new Stroke(Palette.Ink, 1.6) : new Stroke(Palette.Grid, 1.2)));
            texts.Add(new Text(words, at, AxisAt - 46, Palette.Quiet, Grip.Middle));
        }

        if (central is { } ratio)
        {
            var at = Math.Log2(ratio);
            var rightward = at < (axis.Min + axis.Max) / 2;
            marks.Add(new Dot("this drop", at, AxisAt - 14, Palette.Ink, DotStack.Radius, true, Sign.Triangle));
            texts.Add(new Text("this drop", at + ((rightward ? 14 : -14) * pixel), AxisAt - 18, Palette.Ink, rightward ? Grip.Left : Grip.Right));
        }

        var twenty = answer.Twenty;
        string Counted(int outcome, int count) => CountWords.Shared(twenty[outcome], count, answer.Drawn);
        texts.Add(new Text($"{nameA} less: {Counted(0, answer.FirstLower)}", axis.Min, High - 15, Palette.Ink, Grip.Left, true));
        texts.Add(new Text($"more: {Counted(2, answer.SecondLower)}", axis.Max, High - 15, Palette.Ink, Grip.Right, true));
        if (answer.Level > 0)
        {
            texts.Add(new Text($"level, within {100 * PairAnswer.LevelWidth:0} %: {Counted(1, answer.Level)}", axis.Min, High - 41, Palette.Ink, Grip.Left));
        }

        texts.Add(new Text(Typical(answer), axis.Min, AxisAt - 78, Palette.Ink, Grip.Left));
        var y = AxisAt - 104;
        if (answer.Both > 0 && answer.Both < answer.Drawn)
        {
            texts.Add(new Text($"where both are caught: less in {CountWords.Of(answer.FirstLower, answer.Both)}", axis.Min, y, Palette.Ink, Grip.Left));
            y -= 26;
        }

        (string Words, int Twenty, int Count)[] apart =
        [
            ($"only {Wording.Lower(nameA)} is caught", twenty[3], answer.OnlyFirst), ($"only {Wording.Lower(nameB)} is caught", twenty[4], answer.OnlySecond), ("neither is caught", twenty[5], answer.Neither),
        ];
        foreach (var (words, n, count) in apart.Where(o => o.Count > 0))
        {
            marks.AddRange(DotStack.Crosses(words, n, axis.Min, DotStack.Pitch * pixel, y));
            texts.Add(new Text($"{words}: {CountWords.Shared(n, count, answer.Drawn)}", axis.Min + (n > MostBeside ? 0 : ((n * DotStack.Pitch) + (n > 0 ? 8 : 0)) * pixel), n > MostBeside ? y - 24 : y, Palette.Ink, Grip.Left));
            y -= n > MostBeside ? 50 : 26;
        }

        if (beyond.Length > 0)
        {
            // Feet move more than said there: it stands where they are compared.
            texts.Add(new Text("The stem's foot turns more than a root bears as a spring,", axis.Min, y, Palette.Ink, Grip.Left));
            texts.Add(new Text($"and feet move more than said: {beyond}.", axis.Min, y - 24, Palette.Ink, Grip.Left));
        }

        return new Panel
        {
            Heading = heading,
            X = axis,
            Y = new Axis("", "", 0, High, 0, false),
            Shapes = [new Shape("level", HeightsChart.Box(Math.Log2(1 - PairAnswer.LevelWidth), -Math.Log2(1 - PairAnswer.LevelWidth), AxisAt, DotsTo), LevelFill, default)],
            Curves = lines,
            Dots = marks,
            Texts = texts,
        };
    }

    /// <summary>Words stand beside so many crosses; beside more there is no room.</summary>
    private const int MostBeside = 13;

    private const string LevelFill = "#EEEEEE";

    private static string Typical(PairAnswer answer) => !answer.HasRatio
        ? (answer.Both == 0 ? "no draw in which both are caught: nothing to compare" : $"both are caught in {answer.Both} of {answer.Drawn}: no ratio")
        : $"typically {CountWords.Ratio(answer.Typical)}; 18 of 20: {Format.Number(answer.Low)} to {Format.Number(answer.High)} times";

    /// <summary>Doublings from the middle; at least half and twice are shown, and words at the ends have room.</summary>
    private static Axis AxisOf(IEnumerable<double> ratios)
    {
        var octaves = ratios.Select(Math.Log2).ToArray();
        var low = Math.Min(-1, Math.Floor(octaves.DefaultIfEmpty(0).Min() + 0.2));
        var high = Math.Max(1, Math.Ceiling(octaves.DefaultIfEmpty(0).Max() - 0.2));
        var beside = Math.Max(0.25, (high - low) * Beside / (Wide - (2 * Beside)));
        return new Axis("", "", low - beside, high + beside, 0, false);
    }

    private static IEnumerable<(double At, string Words)> TicksOf(Axis axis)
    {
        var step = axis.Max - axis.Min > 7 ? 2 : 1;
        for (var k = (int)Math.Ceiling(axis.Min); k <= axis.Max; k++)
        {
            if (k % step == 0)
            {
                yield return (k, k switch { 0 => "as much", -1 => "half", -2 => "a quarter", 1 => "twice", < 0 => $"1/{1 << -k}", _ => $"{1 << k} times" });
            }
        }
    }

    private static Curve Line(double x1, double y1, double x2, double y2, Stroke stroke) => new("", [x1, x2], [y1, y2], stroke);

}
