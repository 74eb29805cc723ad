using DropSim.Reporting.Charts;
using OxyPlot;
using OxyPlot.Annotations;

namespace DropSim.Drawing;

/// <summary>A field as an image: every pixel gets the colour of its band; cells where something is not known are hatched.</summary>
internal static class FieldImage
{
    /// <summary>Distance and width of the hatch's stripes, pixels.</summary>
    private const int HatchEvery = 14;
    private const int HatchWidth = 4;

    private const int Outside = -1;
    private const int Unknown = -2;

    private static readonly OxyColor HatchGround = OxyColor.Parse("#F4F2EE");
    private static readonly OxyColor HatchStripe = OxyColor.Parse("#A79F92");

    /// <summary>The image, laid over the plot.</summary>
    internal static Annotation Of(Field field, PanelFrame frame)
    {
        var (width, height) = ((int)Math.Ceiling(frame.Plot.Width), (int)Math.Ceiling(frame.Plot.Height));
        var fills = field.Fills.Select(OxyColor.Parse).ToArray();
        var bands = new int[width, height];
        for (var px = 0; px < width; px++)
        {
            var (i, u) = Cell(field.X, frame.XMin + ((px + 0.5) / width * (frame.XMax - frame.XMin)));
            for (var py = 0; py < height; py++)
            {
                // OxyPlot's images begin at the top.
                var (j, v) = Cell(field.Y, frame.YMax - ((py + 0.5) / height * (frame.YMax - frame.YMin)));
                bands[px, py] = i < 0 || j < 0 ? Outside : Band(field, i, j, u, v);
            }
        }

        var pixels = new OxyColor[width, height];
        for (var px = 0; px < width; px++)
        {
            for (var py = 0; py < height; py++)
            {
                var band = bands[px, py];
                var border = band >= 0 && (Differs(bands, px - 1, py, band) || Differs(bands, px, py - 1, band));
                pixels[px, py] = band == Outside || border ? OxyColors.White
                    : band == Unknown ? (px + py) % HatchEvery < HatchWidth ? HatchStripe : HatchGround
                    : fills[band];
            }
        }

        return new ImageAnnotation
        {
            ImageSource = OxyImage.Create(pixels, ImageFormat.Png),
            X = new PlotLength(frame.XMin, PlotLengthUnit.Data),
            Y = new PlotLength(frame.YMax, PlotLengthUnit.Data),
            Width = new PlotLength(frame.XMax - frame.XMin, PlotLengthUnit.Data),
            Height = new PlotLength(frame.YMax - frame.YMin, PlotLengthUnit.Data),
            HorizontalAlignment = HorizontalAlignment.Left,
            VerticalAlignment = VerticalAlignment.Top,
            Interpolate = false,
            Layer = AnnotationLayer.BelowAxes,
        };
    }

    /// <summary>True where a neighbour inside lies in another band: a thin white line parts them.</summary>
    private static bool Differs(int[,] bands, int px, int py, int band) => px >= 0 && py >= 0 && bands[px, py] >= 0 && bands[px, py] != band;

    private static int Band(Field field, int i, int j, double u, double v)
    {
        var value = ((1 - u) * (1 - v) * field.Values[i, j]) + (u * (1 - v) * field.Values[i + 1, j])
            + ((1 - u) * v * field.Values[i, j + 1]) + (u * v * field.Values[i + 1, j + 1]);
        if (!double.IsFinite(value))
        {
            return Unknown;
        }

        var band = 0;
        while (band < field.Levels.Length && value >= field.Levels[band])
        {
            band++;
        }

        return band;
    }

    /// <summary>The cell in which a place lies, and how far in; -1 outside.</summary>
    private static (int Cell, double Share) Cell(double[] at, double value)
    {
        if (!(value >= at[0]) || !(value <= at[^1]))
        {
            return (-1, 0);
        }

        var found = Array.BinarySearch(at, value);
        var cell = Math.Clamp(found >= 0 ? found : ~found - 1, 0, at.Length - 2);
        return (cell, (value - at[cell]) / (at[cell + 1] - at[cell]));
    }
}
