namespace DropSim.Drawing;

/// <summary>A rectangle in pixels, y downward.</summary>
internal readonly record struct PixelRect(double Left, double Top, double Width, double Height)
{
    /// <summary>Right edge.</summary>
    internal double Right => Left + Width;

    /// <summary>Lower edge.</summary>
    internal double Bottom => Top + Height;

    /// <summary>True where two rectangles share more than an edge.</summary>
    internal bool Overlaps(PixelRect other) =>
        Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    /// <summary>True where the other lies inside.</summary>
    internal bool Contains(PixelRect other) =>
        other.Left >= Left && other.Right <= Right && other.Top >= Top && other.Bottom <= Bottom;
}

/// <summary>Where a label went.</summary>
/// <param name="Box">Its rectangle.</param>
/// <param name="TipX">Where a leader from the point ends, pixels.</param>
/// <param name="TipY">Where a leader from the point ends, pixels.</param>
/// <param name="Distance">Length of the leader, pixels.</param>
/// <param name="Crowded">True where no free place was left: it crosses something.</param>
internal readonly record struct Placement(PixelRect Box, double TipX, double TipY, double Distance, bool Crowded);

/// <summary>
/// Finds room for labels: what is already drawn is marked on a raster; a label tries places around its point, nearest first, and takes
/// the cheapest one that lies inside and covers nothing. Labels placed earlier are in the way of later ones.
/// </summary>
internal sealed class LabelPlacer
{
    /// <summary>Edge of a raster cell, pixels: fine enough for a line of text, coarse enough to be quick.</summary>
    private const double Cell = 3;

    /// <summary>Free space kept around a label, pixels.</summary>
    private const double Clearance = 4;

    private const int Directions = 24;
    private const byte Faint = 1;
    private const byte Line = 2;
    private const byte Words = 3;

    /// <summary>Cost of covering one cell of a faint line: words beside it are better, words over it are allowed.</summary>
    private const double FaintCost = 2;

    private readonly PixelRect _bounds;
    private readonly int _columns;
    private readonly int _rows;
    private readonly byte[] _taken;

    /// <summary>An empty raster.</summary>
    /// <param name="bounds">Labels stay inside.</param>
    internal LabelPlacer(PixelRect bounds)
    {
        _bounds = bounds;
        _columns = Math.Max(1, (int)Math.Ceiling(bounds.Width / Cell));
        _rows = Math.Max(1, (int)Math.Ceiling(bounds.Height / Cell));
        _taken = new byte[_columns * _rows];
    }

    /// <summary>Marks a line.</summary>
    internal void BlockLine(double x1, double y1, double x2, double y2) => Block(x1, y1, x2, y2, Line);

    /// <summary>Marks a thin line that words may cover where nothing better is free.</summary>
    internal void BlockFaintLine(double x1, double y1, double x2, double y2) => Block(x1, y1, x2, y2, Faint);

    private void Block(double x1, double y1, double x2, double y2, byte what)
    {
        if (!double.IsFinite(x1 + y1 + x2 + y2))
        {
            return;
        }

        // Far beyond the bounds nothing is marked; the cap keeps wild data from looping for ever.
        var steps = (int)Math.Clamp(Math.Max(Math.Abs(x2 - x1), Math.Abs(y2 - y1)) / Cell * 2, 1, 20_000);
        for (var i = 0; i <= steps; i++)
        {
            Mark(x1 + ((x2 - x1) * i / steps), y1 + ((y2 - y1) * i / steps), what);
        }
    }

    /// <summary>Marks a rectangle as taken by words.</summary>
    internal void BlockWords(PixelRect box)
    {
        for (var y = box.Top; y <= box.Bottom; y += Cell)
        {
            for (var x = box.Left; x <= box.Right; x += Cell)
            {
                Mark(x, y, Words);
            }
        }
    }

    /// <summary>Finds a place and takes it.</summary>
    /// <param name="x">The point, pixels.</param>
    /// <param name="y">The point, pixels.</param>
    /// <param name="width">Width of the label.</param>
    /// <param name="height">Height of the label.</param>
    /// <param name="towardX">Direction wanted, x, of length 1.</param>
    /// <param name="towardY">Direction wanted, y downward, of length 1.</param>
    internal Placement Take(double x, double y, double width, double height, double towardX, double towardY)
    {
        var best = default(Placement);
        var bestCost = double.PositiveInfinity;
        for (var distance = 8.0; distance < 420 && distance < bestCost; distance += 8)
        {
            for (var i = 0; i < Directions; i++)
            {
                var (dy, dx) = Math.SinCos(2 * Math.PI * i / Directions);
                var cost = distance + (18 * (1 - ((dx * towardX) + (dy * towardY))));
                if (cost >= bestCost)
                {
                    continue;
                }

                // The box touches the tip of the direction with the edge or corner that faces the point.
                var tipX = x + (dx * distance);
                var tipY = y + (dy * distance);
                var box = new PixelRect(tipX - (width * (1 - dx) / 2), tipY - (height * (1 - dy) / 2), width, height);
                if (!_bounds.Contains(box))
                {
                    continue;
                }

                var (covered, faint) = Covered(box);
                cost += (FaintCost * faint) + (covered == 0 ? LeaderCost(x, y, tipX, tipY) : 10_000 + (20 * covered));
                if (cost < bestCost)
                {
                    bestCost = cost;
                    best = new Placement(box, tipX, tipY, distance, covered > 0);
                }
            }
        }

        if (double.IsInfinity(bestCost))
        {
            var left = Math.Clamp(x - (width / 2), _bounds.Left, Math.Max(_bounds.Left, _bounds.Right - width));
            var top = Math.Clamp(y - (height / 2), _bounds.Top, Math.Max(_bounds.Top, _bounds.Bottom - height));
            best = new Placement(new PixelRect(left, top, width, height), x, y, 0, true);
        }

        BlockWords(best.Box);
        return best;
    }

    private (int Covered, int Faint) Covered(PixelRect box)
    {
        var fromColumn = Index(box.Left - Clearance - _bounds.Left, _columns);
        var toColumn = Index(box.Right + Clearance - _bounds.Left, _columns);
        var fromRow = Index(box.Top - Clearance - _bounds.Top, _rows);
        var toRow = Index(box.Bottom + Clearance - _bounds.Top, _rows);
        var (count, faint) = (0, 0);
        for (var row = fromRow; row <= toRow; row++)
        {
            foreach (var cell in _taken.AsSpan((row * _columns) + fromColumn, toColumn - fromColumn + 1))
            {
                count += cell switch { Words => 4, Line => 1, _ => 0 };
                faint += cell == Faint ? 1 : 0;
            }
        }

        return (count, faint);
    }

    /// <summary>A leader may cross a line if it must, words never.</summary>
    private double LeaderCost(double x1, double y1, double x2, double y2)
    {
        const int Skip = 4;
        var steps = Math.Max(1, (int)(Math.Max(Math.Abs(x2 - x1), Math.Abs(y2 - y1)) / Cell));
        var cost = 0.0;
        for (var i = Skip; i <= steps; i++)
        {
            var column = (int)((x1 + ((x2 - x1) * i / steps) - _bounds.Left) / Cell);
            var row = (int)((y1 + ((y2 - y1) * i / steps) - _bounds.Top) / Cell);
            if (column >= 0 && column < _columns && row >= 0 && row < _rows)
            {
                cost += _taken[(row * _columns) + column] switch { Words => 200, Line => 6, _ => 0 };
            }
        }

        return cost;
    }

    private void Mark(double x, double y, byte what)
    {
        var column = (int)Math.Floor((x - _bounds.Left) / Cell);
        var row = (int)Math.Floor((y - _bounds.Top) / Cell);
        if (column >= 0 && column < _columns && row >= 0 && row < _rows)
        {
            var index = (row * _columns) + column;
            _taken[index] = Math.Max(_taken[index], what);
        }
    }

    private static int Index(double offset, int count) => Math.Clamp((int)Math.Floor(offset / Cell), 0, count - 1);
}
