using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>The quantiles of the measures and the shares past the limits, as one sheet to read in the yard.</summary>
internal static class QuantileChart
{
    private const double FirstColumn = 0.335;
    private const double LastColumn = 0.985;
    private const double ShareColumn = 0.7;

    public static Figure Build(UncertaintyWords words, UncertaintyResult result, string name)
    {
        var force = result[MeasureIds.RiggingPointForce];
        var room = result[MeasureIds.Room];
        var rows = UncertaintyWords.Rows(result);
        var limits = result.Limits;
        var upper = (double)(rows.Count + 1) / (rows.Count + limits.Count + 4);
        return new Figure
        {
            FileName = $"{name}-quantiles.png",
            Title = $"{words.CaseName(result)}: one drop in twenty puts {Above(words, force)} on the rigging point; one in twenty leaves {Below(words, room)} of room",
            Subtitle = words.Subtitle(result) + " A quantile that falls among drops that ended early reads \"at least\".",
            Footer = words.Footer(result),
            Height = 420 + (44 * (rows.Count + limits.Count + 4)),
            Panels =
            [
                Quantiles(words, rows) with { Place = new Place(0, 0, 1, upper) },
                Limits(result, limits) with { Place = new Place(0, upper, 1, 1 - upper) },
            ],
        };
    }

    /// <summary>"24 kN or more".</summary>
    private static string Above(UncertaintyWords words, MeasureSpread spread)
    {
        var text = words.Quantile(spread, spread.Quantiles[^1]);
        return UncertaintyWords.Shape(spread, spread.Quantiles[^1]) switch
        {
            QuantileShape.Unknown => "an unknown force",
            QuantileShape.AtLeast or QuantileShape.AtMost => text,
            _ => text + " or more",
        };
    }

    private static string Below(UncertaintyWords words, MeasureSpread spread)
    {
        var text = words.Quantile(spread, spread.Quantiles[0]);
        return UncertaintyWords.Shape(spread, spread.Quantiles[0]) switch
        {
            QuantileShape.Unknown or QuantileShape.AtMost or QuantileShape.AtLeast => text,
            _ when spread.Quantiles[0].Low <= 0 => "nothing",
            _ => text + " or less",
        };
    }

    private static Panel Quantiles(UncertaintyWords words, IReadOnlyList<MeasureSpread> rows)
    {
        string[] heads = ["5 % lie below", "25 %", "half", "75 %", "95 % lie below", "central run"];
        var step = (LastColumn - FirstColumn) / (heads.Length - 1);
        double X(int c) => FirstColumn + (c * step);
        var n = rows.Count + 1;
        var texts = heads.Select((h, c) => new Text(h, X(c), InputRows.Y(n, 0), Palette.Quiet, Grip.Right)).ToList();
        for (var r = 0; r < rows.Count; r++)
        {
            var y = InputRows.Y(n, r + 1);
            var spread = rows[r];
            texts.Add(new Text(UncertaintyWords.Name(spread.Central.Id), 0, y, Palette.Ink, Grip.Left));
            texts.AddRange(spread.Quantiles.Select((q, c) => new Text(words.Quantile(spread, q), X(c), y, Palette.Ink, Grip.Right, IsWorse(spread.Central, c))));
            texts.Add(new Text(words.Central(spread.Central), X(5), y, Palette.Quiet, Grip.Right));
        }

        return Sheet("How the drops are spread (bold: the worse end)", n, texts);
    }

    private static bool IsWorse(Measure measure, int column) => measure.Worse == Worse.Smaller ? column == 0 : column == 4;

    private static Panel Limits(UncertaintyResult result, IReadOnlyList<LimitShare> limits)
    {
        var links = result.Central[MeasureIds.WeakestLink].Unknown;
        var unknown = links.Count == 0 ? "" : "Strength unknown, so no share is known: " + string.Join(", ", links) + ".";
        var n = limits.Count + 2;
        List<Text> texts =
        [
            new("share of the drops", ShareColumn, InputRows.Y(n, 0), Palette.Quiet, Grip.Right),
            new("95 % interval for so many drops", LastColumn, InputRows.Y(n, 0), Palette.Quiet, Grip.Right),
        ];
        for (var r = 0; r < limits.Count; r++)
        {
            var y = InputRows.Y(n, r + 1);
            var limit = limits[r];
            texts.Add(new Text(limit.AtOrBelow || limit.Measure == MeasureIds.RopeSpeed ? limit.Words : "past the " + limit.Words, 0, y, Palette.Ink, Grip.Left));
            texts.Add(new Text(UncertaintyWords.Share(limit.Share, result.Samples.Count), ShareColumn, y, Palette.Ink, Grip.Right, true));
            texts.Add(new Text(UncertaintyWords.Interval(limit.Share), LastColumn, y, Palette.Quiet, Grip.Right));
        }

        if (unknown.Length > 0)
        {
            texts.Add(new Text(unknown, 0, InputRows.Y(n, n - 1), Palette.Quiet, Grip.Left));
        }

        return Sheet("Drops past a limit (a count of computed drops, no permission; strengths new and dry as stated)", n, texts);
    }

    private static Panel Sheet(string heading, int rows, IReadOnlyList<Text> texts) => new()
    {
        Heading = heading,
        X = new Axis("", "", 0, 1, 0, false),
        Y = InputRows.Axis(rows),
        Levels = [.. Enumerable.Range(1, rows - 1).Select(r => new Level(r, "", new Stroke(Palette.Grid, 1)))],
        Texts = texts,
    };
}
