using DropSim.Reporting.Dismantle;
using SkiaSharp;

namespace DropSim.Drawing;

/// <summary>The sketch of a crew sheet: a metre is a metre in both directions; its words stand beside it and go on below.</summary>
/// <param name="sketch">The sketch.</param>
/// <param name="paper">The pages.</param>
/// <param name="turn">Turns the page.</param>
internal sealed class SheetSketchPainter(SheetSketch sketch, SheetPaper paper, Action turn)
{
    /// <summary>Height of the drawing, points.</summary>
    private const float Height = 290;

    /// <summary>Width of the drawing as a share of the page; the words have the rest.</summary>
    private const float Share = 0.5f;

    /// <summary>Room for the numbers of the cuts left of the drawing, points.</summary>
    private const float Numbers = 26;

    /// <summary>Room for the bar below the ground, points.</summary>
    private const float Below = 22;

    /// <summary>What of a far or long obstacle is drawn beyond its near side or the pieces, m.</summary>
    private const double Beyond = 3;

    private static readonly SKColor Swept = new(0xDD, 0xDD, 0xDD);
    private static readonly SKColor Solid = new(0x8C, 0x8C, 0x8C);

    private float _left, _ground;
    private double _low, _scale;

    internal void Run()
    {
        if (paper.Room < Height && !paper.IsFresh)
        {
            turn();
        }

        var top = paper.Y;
        var width = paper.Width * Share;
        Fit(width, top);
        paper.Within(SheetPaper.Left + Numbers, top - 2, SheetPaper.Left + width, top + Height, Scene);
        Labels(top);
        Bar();
        Beside(SheetPaper.Left + width + 12, top, paper.Width - width - 12);
    }

    /// <summary>The largest scale that shows the stem, what pieces reach and the near part of every obstacle near enough.</summary>
    private void Fit(float width, float top)
    {
        var (sweepLow, sweepHigh) = (sketch.Sweep.Select(s => s.Low).DefaultIfEmpty(0).Min(), sketch.Sweep.Select(s => s.High).DefaultIfEmpty(0).Max());
        var stem = sketch.Stem.Max(p => p.X);
        var high = Math.Max(sketch.Stem.Max(p => p.Z), sketch.Sweep.Select(s => s.Z).DefaultIfEmpty(0).Max());
        var near = sketch.Obstacles.Where(o => o.XFrom < sweepHigh + high && o.XTo > sweepLow - high).ToArray();
        _low = near.Select(o => Math.Max(o.XFrom, Math.Min(sweepLow, o.XTo) - Beyond)).Append(sweepLow).Append(-stem).Min() - 0.3;
        var right = near.Select(o => Math.Min(o.XTo, Math.Max(sweepHigh, o.XFrom) + Beyond)).Append(sweepHigh).Append(stem).Max() + 0.3;
        _scale = Math.Min((width - Numbers) / (right - _low), (Height - Below) / (high * 1.01));
        _left = SheetPaper.Left + Numbers;
        _ground = top + Height - Below;
    }

    private SKPoint At(double x, double z) => new(_left + (float)((x - _low) * _scale), _ground - (float)(z * _scale));

    private void Scene()
    {
        if (sketch.Sweep.Count > 1)
        {
            paper.Shape([.. sketch.Sweep.Select(s => At(s.High, s.Z)), .. sketch.Sweep.Reverse().Select(s => At(s.Low, s.Z))], Swept, 0);
        }

        foreach (var o in sketch.Obstacles)
        {
            paper.Shape([At(o.XFrom, o.ZFrom), At(o.XTo, o.ZFrom), At(o.XTo, o.ZTo), At(o.XFrom, o.ZTo)], Solid, 1.2f);
        }

        paper.Shape([.. sketch.Stem.Select(p => At(p.X, p.Z))], SKColors.White, 1.2f);
        foreach (var (z, radius, _) in sketch.Cuts)
        {
            var reach = Math.Max(radius, 4 / _scale);
            var (from, to) = (At(-reach, z), At(reach, z));
            paper.Stroke(from.X, from.Y, to.X, to.Y, 1.6f);
        }

        paper.Rule(SheetPaper.Left, _ground, SheetPaper.Left + paper.Width, 1.6f);
        foreach (var hit in sketch.Hits)
        {
            Cross(At(hit.X, hit.Z));
        }
    }

    private void Cross(SKPoint at)
    {
        const float Arm = 5;
        paper.Stroke(at.X - Arm, at.Y - Arm, at.X + Arm, at.Y + Arm, 2.4f);
        paper.Stroke(at.X - Arm, at.Y + Arm, at.X + Arm, at.Y - Arm, 2.4f);
    }

    /// <summary>Numbers of the cuts at the left, none over another; letters on the obstacles.</summary>
    private void Labels(float top)
    {
        var last = top - SheetPaper.Line;
        foreach (var (z, radius, words) in sketch.Cuts)
        {
            var at = At(-radius, z);
            var y = Math.Max(at.Y, last + SheetPaper.Letters + 1);
            last = y;
            var width = (float)EmbeddedFontRenderContext.Measure(words, SheetPaper.Letters, true);
            paper.Text(words, _left - 6 - width, y - (SheetPaper.Line / 2), SheetPaper.Letters, true);
            paper.Stroke(_left - 4, y, at.X - 3, at.Y, 0.4f);
        }

        foreach (var o in sketch.Obstacles)
        {
            var (corner, far) = (At(o.XFrom, o.ZTo), At(o.XTo, o.ZTo));
            var x = Math.Clamp((corner.X + far.X) / 2, _left, _left + (paper.Width * Share) - Numbers - 12);
            if (far.X > _left && corner.X < _left + (paper.Width * Share) - Numbers)
            {
                paper.Text(o.Letter, x - 4, Math.Max(top, corner.Y - SheetPaper.Line - 1), SheetPaper.Letters, true);
            }
        }
    }

    private void Bar()
    {
        var length = (float)(sketch.Bar.Length * _scale);
        var (x, y) = (_left, _ground + 9);
        paper.Stroke(x, y, x + length, y, 2);
        paper.Text(sketch.Bar.Words + ", to scale", x + length + 6, y - (SheetPaper.Line / 2), SheetPaper.Letters, false);
    }

    /// <summary>The words beside the drawing; what does not fit there goes on below it over the whole width.</summary>
    private void Beside(float x, float top, float width)
    {
        var y = top;
        var bottom = top + Height;
        var below = false;
        foreach (var line in sketch.Words)
        {
            if (!below && y + SheetListsPainter.Item(line, x, y, width, false, paper) > bottom)
            {
                (below, paper.Y) = (true, bottom + 4);
            }

            if (!below)
            {
                y += SheetListsPainter.Item(line, x, y, width, true, paper);
                continue;
            }

            var height = SheetListsPainter.Item(line, SheetPaper.Left, paper.Y, paper.Width, false, paper);
            if (height > paper.Room && !paper.IsFresh)
            {
                turn();
            }

            SheetListsPainter.Item(line, SheetPaper.Left, paper.Y, paper.Width, true, paper);
            paper.Y += height;
        }

        paper.Y = below ? paper.Y : bottom;
    }
}
