namespace DropSim.Drawing;

/// <summary>Where the name of an event goes above a panel.</summary>
/// <param name="Row">Row from the top; -1 where there is no room for the name.</param>
/// <param name="LeftOfTick">True where the name ends at the tick instead of starting there.</param>
internal readonly record struct TickRow(int Row, bool LeftOfTick);

/// <summary>
/// Puts the names of events into a few rows above a panel so that neither name crosses another name nor the line that leads down from
/// another name to its tick. Earlier events go to higher rows: a line leads down past the rows below it only.
/// </summary>
internal static class TickRows
{
    /// <summary>Space between a tick and its name, and between names, pixels.</summary>
    internal const double Gap = 7;

    /// <summary>Assigns rows.</summary>
    /// <param name="ticks">Position and width of the name of each, pixels, in order of position.</param>
    /// <param name="rows">Number of rows.</param>
    /// <param name="right">Right end of the space, pixels.</param>
    internal static IReadOnlyList<TickRow> Assign(IReadOnlyList<(double X, double Width)> ticks, int rows, double right)
    {
        var end = new double[rows];
        Array.Fill(end, double.NegativeInfinity);
        var result = new TickRow[ticks.Count];
        for (var i = 0; i < ticks.Count; i++)
        {
            var (x, width) = ticks[i];
            var leftward = x + Gap + width > right;
            var from = leftward ? x - Gap - width : x;
            result[i] = new TickRow(-1, leftward);
            for (var row = 0; row < rows; row++)
            {
                var rowIsFree = end[row] + Gap <= from;
                var linePasses = end.Skip(row + 1).All(e => e + Gap <= x);
                var crossesNone = !leftward || !Enumerable.Range(0, i).Any(k => result[k].Row >= 0 && result[k].Row < row && ticks[k].X > from - Gap);
                if (rowIsFree && linePasses && crossesNone)
                {
                    result[i] = new TickRow(row, leftward);
                    end[row] = leftward ? x : x + Gap + width;
                    break;
                }
            }
        }

        return result;
    }
}
