using DropSim.Reporting.Charts;

namespace DropSim.Drawing;

/// <summary>Where a panel's plot lies in pixels, and how values become pixels.</summary>
internal sealed class PanelFrame
{
    private const double HeadingHeight = 30;
    private const double LeftMargin = 92;
    private const double RightMargin = 30;
    private const double ScaleMargin = 88;
    private const double NumbersHeight = 34;
    private const double AxisTitleHeight = 30;

    /// <summary>Height of one row of event names.</summary>
    internal const double TickRowHeight = 24;

    /// <summary>Rows of event names at most.</summary>
    internal const int TickRowCount = 3;

    /// <summary>Lays a panel out.</summary>
    /// <param name="panel">The panel.</param>
    /// <param name="outer">Its room.</param>
    internal PanelFrame(Panel panel, PixelRect outer)
    {
        Outer = outer;
        var top = (panel.Heading.Length > 0 ? HeadingHeight : 8) + (panel.Ticks.Any(t => t.Name.Length > 0) ? (TickRowCount * TickRowHeight) + 4 : 0);
        var bottom = !panel.X.Shown ? 10 : NumbersHeight + (panel.X.Title.Length > 0 ? AxisTitleHeight : 0);
        var left = panel.Y.Shown ? LeftMargin : 8;
        var right = panel.Right is null ? RightMargin : ScaleMargin;
        Plot = new PixelRect(outer.Left + left, outer.Top + top, Math.Max(1, outer.Width - left - right), Math.Max(1, outer.Height - top - bottom));
        (XMin, XMax, YMin, YMax) = (panel.X.Min, panel.X.Max, panel.Y.Min, panel.Y.Max);
        if (panel.EqualScale)
        {
            var scale = Math.Min(Plot.Width / (XMax - XMin), Plot.Height / (YMax - YMin));
            var extra = ((Plot.Width / scale) - (XMax - XMin)) / 2;
            (XMin, XMax) = (XMin - extra, XMax + extra);
            YMax = YMin + (Plot.Height / scale);
        }
    }

    internal PixelRect Outer { get; }

    internal PixelRect Plot { get; }

    internal double XMin { get; }

    internal double XMax { get; }

    internal double YMin { get; }

    internal double YMax { get; }

    /// <summary>Pixel of a value on the horizontal axis.</summary>
    internal double X(double value) => Plot.Left + ((value - XMin) / (XMax - XMin) * Plot.Width);

    /// <summary>Pixel of a value on the vertical axis.</summary>
    internal double Y(double value) => Plot.Bottom - ((value - YMin) / (YMax - YMin) * Plot.Height);
}
