using DropSim.Reporting.Charts;

namespace DropSim.Reporting.Uncertainty;

/// <summary>Rows of inputs, named at the left, that several panels share.</summary>
internal static class InputRows
{
    /// <summary>Place of the names' axis: away from zero, so that the scale, which means nothing, bears no number.</summary>
    private const double Axis0 = 10;

    /// <summary>The vertical axis of so many rows.</summary>
    public static Axis Axis(int rows) => new("", "", 0, rows, 0, false);

    /// <summary>A horizontal axis that ends a little beyond what is shown, so that no number stands at the panel's edge.</summary>
    public static Axis Scale(string title, string unit, double low, double high, int steps)
    {
        var span = Math.Max(high - low, 1e-3 * Math.Max(1e-6, Math.Abs(high)));
        var step = NiceScale.Step(span, steps);
        var (min, max) = (low - (Beyond * span), high + (Beyond * span));
        var nearest = Math.Round(min / step) * step;
        return new Axis(title, unit, Math.Abs(nearest - min) < Beyond * span ? min - (Beyond * span) : min, max, step);
    }

    private const double Beyond = 0.07;

    /// <summary>Middle of a row.</summary>
    public static double Y(int rows, int row) => rows - row - 0.5;

    /// <summary>Names at the left and, smaller, what goes with them.</summary>
    public static Panel Names(string heading, string foot, IReadOnlyList<(string Name, string Beside)> rows) => new()
    {
        Heading = heading,
        X = new Axis(foot, "", Axis0, Axis0 + 1, 10 * Axis0),
        Y = Axis(rows.Count),
        Texts =
        [
            .. rows.Select((r, i) => new Text(r.Name, Axis0, Y(rows.Count, i) + (r.Beside.Length > 0 ? 0.17 : 0), Palette.Ink, Grip.Left)),
            .. rows.Select((r, i) => (r.Beside, i)).Where(r => r.Beside.Length > 0).Select(r => new Text(r.Beside, Axis0, Y(rows.Count, r.i) - 0.2, Palette.Quiet, Grip.Left)),
        ],
    };
}
