using System.Buffers.Binary;
using CsCheck;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;
using SkiaSharp;

namespace DropSim.Tests.Reporting;

/// <summary>How pictures are drawn: size, type, not blank, the same on every thread; words that do not cover each other.</summary>
public sealed class ChartsDrawingTests
{
    private static readonly IReadOnlyList<Figure> Figures = FigureSet.Build(ChartsExamples.Drawn, ChartsExamples.Options());

    [Fact]
    public void Every_picture_is_a_png_of_the_stated_size_with_ink_on_it()
    {
        foreach (var figure in Figures)
        {
            var png = FigureRenderer.Png(figure);

            // PNG specification (third edition, W3C 2025), 5.2 and 11.2.1: eight bytes of signature, then IHDR with width and height.
            png.Take(8).Should().Equal(0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A);
            BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)).Should().Be(Figure.Width);
            BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20)).Should().Be((int)figure.Height);
            using var bitmap = SKBitmap.Decode(png);
            var ink = bitmap.Pixels.Count(p => p != SKColors.White) / (double)bitmap.Pixels.Length;
            ink.Should().BeGreaterThan(0.02, $"{figure.FileName} holds text and curves");
            bitmap.Pixels.Distinct().Count().Should().BeGreaterThan(50);
        }
    }

    [Fact]
    public void Many_threads_draw_the_same_bytes()
    {
        Figure[] some = [Figures[0], Figures[4], Figures[^1]];
        var alone = some.Select(FigureRenderer.Png).ToArray();

        var together = new byte[4 * some.Length][];
        Parallel.For(0, together.Length, new ParallelOptions { MaxDegreeOfParallelism = 4 }, i => together[i] = FigureRenderer.Png(some[i % some.Length]));

        for (var i = 0; i < together.Length; i++)
        {
            together[i].AsSpan().SequenceEqual(alone[i % some.Length]).Should().BeTrue();
        }
    }

    [Fact]
    public void Labels_of_real_pictures_stay_in_their_panels_and_off_each_other()
    {
        foreach (var figure in Figures.Concat(FigureSet.Build(ChartsExamples.Ground, ChartsExamples.Options())).Concat(FigureSet.Build(ChartsExamples.Mixed, ChartsExamples.Options())))
        {
            foreach (var panel in FigureRenderer.Render(figure).Panels)
            {
                var boxes = panel.Labels.Select(l => l.Box).ToArray();
                boxes.Should().NotContain(b => !panel.Plot.Contains(b), figure.FileName);
                boxes.Where((b, i) => boxes.Skip(i + 1).Any(b.Overlaps)).Should().BeEmpty(figure.FileName);
            }
        }
    }

    [Fact]
    public void A_placed_label_lies_inside_and_covers_neither_words_nor_lines_unless_it_says_so() =>
        Gen.Select(Gen.Double[0, 600], Gen.Double[0, 400], Gen.Double[40, 180], Gen.Double[18, 60], Gen.Double[0, 6.3])
            .Array[1, 14].Sample(labels =>
            {
                var bounds = new PixelRect(0, 0, 600, 400);
                var placer = new LabelPlacer(bounds);
                placer.BlockLine(0, 100, 600, 300);
                var placed = new List<PixelRect>();
                foreach (var (x, y, width, height, angle) in labels)
                {
                    var placement = placer.Take(x, y, width, height, Math.Cos(angle), Math.Sin(angle));
                    bounds.Contains(placement.Box).Should().BeTrue();
                    if (!placement.Crowded)
                    {
                        placed.Should().NotContain(p => p.Overlaps(placement.Box));

                        // On the line y = 100 + x / 3 the box's corners all lie on one side.
                        double[] sides =
                        [
                            placement.Box.Top - 100 - (placement.Box.Left / 3), placement.Box.Top - 100 - (placement.Box.Right / 3),
                            placement.Box.Bottom - 100 - (placement.Box.Left / 3), placement.Box.Bottom - 100 - (placement.Box.Right / 3),
                        ];
                        (sides.All(s => s > 0) || sides.All(s => s < 0)).Should().BeTrue();
                    }

                    placed.Add(placement.Box);
                }
            }, iter: 60);

    [Theory]
    [InlineData("rope slack", "slack", 1.0, "rope slack")]
    [InlineData("rope slack", "slack", 0.99, "slack")]
    [InlineData("rope slack", "slack", 0.3, "")]
    [InlineData("hinge", "hinge", 0.99, "")]
    [InlineData("not computed", "", 0.99, "")]
    [InlineData("", "", 1.0, "")]
    public void A_narrow_band_shows_its_short_name_or_none(string name, string brief, double share, string expected)
    {
        // Room for the whole name and 6 pixels on either side is share 1.
        var room = EmbeddedFontRenderContext.Measure(name, FigureRenderer.SmallText, false) + 12;

        PanelPainter.BandName(new Band(0, 1, name, brief, "#FFFFFF"), share * room).Should().Be(expected);
    }

    [Fact]
    public void Names_of_events_never_cover_each_other() =>
        Gen.Select(Gen.Double[0, 1000], Gen.Double[30, 220]).Array[1, 20].Sample(ticks =>
        {
            var ordered = ticks.OrderBy(t => t.Item1).ToArray();
            var rows = TickRows.Assign(ordered, 3, 1000);
            var boxes = ordered.Zip(rows).Where(t => t.Second.Row >= 0).Select(t =>
            {
                var ((x, width), row) = t;
                return (row.Row, From: row.LeftOfTick ? x - TickRows.Gap - width : x + TickRows.Gap, To: row.LeftOfTick ? x - TickRows.Gap : x + TickRows.Gap + width);
            }).ToArray();

            boxes.Where((a, i) => boxes.Skip(i + 1).Any(b => a.Row == b.Row && a.From < b.To && b.From < a.To)).Should().BeEmpty();
        }, iter: 200);

    [Fact]
    public void A_thinned_curve_keeps_its_ends_its_extremes_and_its_breaks()
    {
        // 10 000 points in 100 pixel columns, one spike, one break.
        var x = Enumerable.Range(0, 10_000).Select(i => i / 10_000.0).ToArray();
        var y = x.Select(v => Math.Sin(40 * v)).ToArray();
        y[1234] = 9;
        y[7777] = -8;
        y[5000] = double.NaN;

        var thin = Thinning.Thin(x, y, 0, 1, 100);

        thin.Count.Should().BeLessThan(4 * 101 + 5);
        thin.Where(p => p.IsDefined()).Max(p => p.Y).Should().Be(9);
        thin.Where(p => p.IsDefined()).Min(p => p.Y).Should().Be(-8);
        thin.Count(p => !p.IsDefined()).Should().Be(1);
        (thin[0].X, thin[^1].X).Should().Be((x[0], x[^1]));
        thin.Where(p => p.IsDefined()).Select(p => p.X).Should().BeInAscendingOrder();
    }

    [Fact]
    public void A_number_is_never_torn_from_its_unit_at_the_end_of_a_line()
    {
        for (var width = 120.0; width < 900; width += 7)
        {
            FigureRenderer.Wrap("Hard stop: 15 kN at the rigging point (18 of 20 like it: 13 to 24 kN)", 31, true, width)
                .Should().NotContain(line => char.IsAsciiDigit(line.Last()));
        }
    }

    [Theory]
    [InlineData(0.05, false)]
    [InlineData(0.5, false)]
    [InlineData(1.2, false)]
    [InlineData(3, true)]
    public void A_drop_that_hardly_began_and_a_spar_that_cannot_bend_are_drawn_too(double endTime, bool rigid)
    {
        // Before the hinge breaks nothing has a peak; a rigid spar has no sway at all.
        var cases = ChartsExamples.Caught.Cases.Select(c => c.Case).Select(c => c with
        {
            Input = c.Input with { Spar = c.Input.Spar with { Rigid = rigid }, Computation = c.Input.Computation with { EndTime = endTime } },
        }).ToArray();
        var result = ChartsExamples.Caught with { Cases = [.. cases.Select(c => new CaseResult(c, DropSimulator.Run(c.Input), 1, ""))] };

        var figures = FigureSet.Build(result, ChartsExamples.Options());

        figures.Should().HaveCount(11);
        figures.Select(FigureRenderer.Png).Should().OnlyContain(png => png.Length > 20_000);
        figures.SelectMany(ChartsExamples.Texts).Should().NotContain(t => t.Contains("NaN"));
    }

    [Fact]
    public void A_fault_of_the_plot_library_is_thrown_and_not_drawn()
    {
        var panel = new Panel { X = new Axis("", "", 0, 0, 0), Y = new Axis("", "", 0, 1, 1) };
        var figure = new Figure { FileName = "bad.png", Title = "t", Subtitle = "s", Footer = [], Panels = [panel] };

        FluentActions.Invoking(() => FigureRenderer.Png(figure)).Should().Throw<InvalidOperationException>().WithMessage("The panel*cannot be drawn.");
    }
}
