namespace DropSim.Reporting.Charts;

/// <summary>Dots over an axis, each at its own value, one above another where they would cover each other.</summary>
internal static class DotStack
{
    /// <summary>Radius of a dot, pixels.</summary>
    internal const double Radius = 6.5;

    /// <summary>Distance of neighbours, pixels.</summary>
    internal const double Pitch = 17;

    /// <summary>On which level each lies, from 0.</summary>
    /// <param name="sorted">Values, rising.</param>
    /// <param name="width">Distance below which two would cover each other, in the axis' unit.</param>
    internal static int[] Levels(IReadOnlyList<double> sorted, double width)
    {
        List<double> last = [];
        var levels = new int[sorted.Count];
        for (var i = 0; i < sorted.Count; i++)
        {
            var level = last.FindIndex(x => sorted[i] - x >= width * (1 - 1e-9));
            if (level < 0)
            {
                level = last.Count;
                last.Add(sorted[i]);
            }

            last[level] = sorted[i];
            levels[i] = level;
        }

        return levels;
    }

    /// <summary>The dots, those of one value on top of each other; nearer together where the stack would be too high.</summary>
    /// <param name="name">What they are.</param>
    /// <param name="sorted">Values, rising.</param>
    /// <param name="pixel">A pixel in the axis' unit.</param>
    /// <param name="bottom">Height of the lowest, pixels.</param>
    /// <param name="room">Room for the stack, pixels.</param>
    /// <param name="colour">Their colour.</param>
    /// <param name="size">How much larger than usual.</param>
    internal static IEnumerable<Dot> Dots(string name, IReadOnlyList<double> sorted, double pixel, double bottom, double room, string colour, double size = 1)
    {
        var levels = Levels(sorted, size * Pitch * pixel);
        var pitch = Math.Min(size * Pitch, room / Math.Max(1, levels.DefaultIfEmpty(0).Max() + 1));
        return sorted.Select((x, i) => new Dot(name, x, bottom + (pitch * levels[i]), colour, size * Radius));
    }

    /// <summary>A row of crosses: one for each of 20 that is not caught.</summary>
    /// <param name="name">What they are.</param>
    /// <param name="count">How many.</param>
    /// <param name="left">Where the row begins, in the axis' unit.</param>
    /// <param name="width">Distance of neighbours, in the axis' unit.</param>
    /// <param name="y">Height, pixels.</param>
    internal static IEnumerable<Dot> Crosses(string name, int count, double left, double width, double y) =>
        Enumerable.Range(0, count).Select(i => new Dot(name, left + ((i + 0.5) * width), y, Palette.Ink, Radius - 1, true, Sign.Cross));
}
