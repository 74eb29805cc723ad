using CsCheck;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Told;
using DropSim.Studies;
using DropSim.Studies.Draws;
using DropSim.Tests.Draws;

namespace DropSim.Tests.Reporting;

/// <summary>What pictures tell of the draws, as data: dots are the draws' own, counts are those of the pairs, and everything sums to twenty.</summary>
public sealed class ChartsDrawsTests
{
    private const string Compared = "compare-base-let-run-vs-base-hard-stop.png";
    private static readonly string[] Quantities = [MeasureIds.RiggingPointForce, MeasureIds.ClimberMovement, MeasureIds.Room];

    public static TheoryData<string> Examples => new() { "drawn", "mixed" };

    private static ScenarioResult Example(string which) => which == "drawn" ? ChartsExamples.Drawn : ChartsExamples.Mixed;

    private static Figure Spread(ScenarioResult result, UnitSystem units = UnitSystem.Si) => ChartsExamples.Named(result, "set-ups-like-it.png", units);

    [Theory]
    [MemberData(nameof(Examples))]
    public void Dots_of_set_ups_like_it_are_the_draws_and_with_the_crosses_they_are_twenty(string which)
    {
        var told = Example(which).Told!;
        var panels = Spread(Example(which)).Panels;

        panels.Should().HaveCount(6, "dots and crosses for each of three quantities");
        for (var i = 0; i < Quantities.Length; i++)
        {
            var factor = new[] { 1e-3, 1e3, 1 }[i];
            foreach (var c in told.Cases)
            {
                var dots = panels[2 * i].Dots.Where(d => d.Name == c.Case.Name).ToArray();
                dots.Select(d => d.X).Should().Equal(c[Quantities[i]].Dots.Select(d => d * factor));
                dots.Should().OnlyContain(d => d.Sign == Sign.Round);
                var crosses = panels[(2 * i) + 1].Dots.Where(d => d.Name == c.Case.Name).ToArray();
                crosses.Should().NotContain(d => d.Sign != Sign.Cross);
                (dots.Length + crosses.Length).Should().Be(20);
            }
        }
    }

    [Fact]
    public void This_drop_has_a_sign_of_its_own_on_the_axis_of_its_like()
    {
        var panels = Spread(ChartsExamples.Drawn).Panels;

        panels[0].Dots.Where(d => d.Sign == Sign.Triangle).Select(d => d.X).Should()
            .Equal(ChartsExamples.Drawn.Cases.Select(c => 1e-3 * c.Run[MeasureIds.RiggingPointForce].Value));
        panels[0].Texts.Select(t => t.Words).Should().Contain($"this drop {Format.Value(ChartsExamples.Drawn.Cases[0].Run[MeasureIds.RiggingPointForce], UnitSystem.Si)}");
    }

    [Fact]
    public void How_set_ups_end_that_are_not_caught_is_named_with_its_count()
    {
        var words = Spread(ChartsExamples.Mixed).Panels[1].Texts.Select(t => t.Words).ToArray();

        // By the rule of the example: 64 draws, every fifth but one on the ground (12: 4 of 20), every twentieth breaks its rope (4: 1 of 20).
        words.Should().Contain("hits the ground, 4 of 20").And.Contain("runs out of rope, 1 of 64").And.Contain("breaks its rope, 1 of 20");
        Spread(ChartsExamples.Mixed).Title.Should().Contain("hard stop is caught in 19 of 20").And.Contain("let run is caught in 16 of 20");
    }

    [Fact]
    public void A_drop_that_is_itself_not_caught_has_no_place_on_the_axis()
    {
        var drawn = ChartsExamples.Mixed.Told!;
        var cases = drawn.Cases.Select((c, i) => c with { Run = ChartsExamples.Ground.Cases[i].Run }).ToArray();
        cases[1].Ending.Should().Be(DrawEnding.Ground);
        var panels = Spread(ChartsExamples.Mixed with { Told = drawn with { Cases = cases } }).Panels;

        panels[0].Dots.Count(d => d.Sign == Sign.Triangle).Should().Be(1, "of the hard stop");
        panels[1].Dots.Count(d => d.Sign == Sign.Triangle).Should().Be(1);
        panels[1].Texts.Select(t => t.Words).Should().Contain("this drop hits the ground");
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Dots_and_crosses_of_a_comparison_are_its_six_outcomes(string which)
    {
        var told = Example(which).Told!;
        var panels = ChartsExamples.Named(Example(which), Compared).Panels.Skip(4).ToArray();

        panels.Should().HaveCount(2);
        for (var i = 0; i < panels.Length; i++)
        {
            var answer = told.Pairs[0][Quantities[i]];
            var dots = panels[i].Dots.Where(d => d.Name == "pair").ToArray();
            var level = panels[i].Shapes.Single();
            var (from, to) = (level.Points.Min(p => p.X), level.Points.Max(p => p.X));

            // 5 % of the larger: from 0.95 to 1 / 0.95, in doublings.
            from.Should().BeApproximately(Math.Log2(0.95), 1e-12);
            to.Should().BeApproximately(-Math.Log2(0.95), 1e-12);
            int[] shown =
            [
                dots.Count(d => d.X < from), dots.Count(d => d.X >= from && d.X <= to), dots.Count(d => d.X > to),
                .. new[] { "only let run is caught", "only hard stop is caught", "neither is caught" }.Select(n => panels[i].Dots.Count(d => d.Name == n && d.Sign == Sign.Cross)),
            ];
            shown.Should().Equal(answer.Twenty);
            shown.Sum().Should().Be(20);
            var words = panels[i].Texts.Select(t => t.Words).ToArray();
            words.Should().Contain($"Let run less: {CountWords.Shared(answer.Twenty[0], answer.FirstLower, answer.Drawn)}");
            words.Where(w => w.StartsWith("neither is caught", StringComparison.Ordinal)).Should().HaveCount(answer.Neither > 0 ? 1 : 0);
        }
    }

    [Fact]
    public void The_dots_of_a_comparison_lie_among_the_ratios_of_the_draws_of_their_own_outcome() => Gen.Select(Gen.Int[0, 3], Gen.Double[1, 30], Gen.Double[1, 30]).Array[1, 200].Sample(draws =>
    {
        DrawnDrop Drop(bool caught, double force) => new(caught ? DrawEnding.Caught : DrawEnding.Ground, 5, -1, [.. DrawStudy.Told.Select(_ => force)]);
        var scenario = DrawnCases.Of([.. draws.Select(d => Drop((d.Item1 & 1) == 0, d.Item2))], [.. draws.Select(d => Drop((d.Item1 & 2) == 0, d.Item3))]);
        var answer = PairAnswer.Of(scenario, 0, 1, MeasureIds.RiggingPointForce);
        var dots = PairDots.Of(scenario, 0, 1, answer);

        new[] { dots.FirstLower.Count, dots.Level.Count, dots.SecondLower.Count }.Should().Equal(answer.Twenty.Take(3));
        dots.All.Should().BeInAscendingOrder();
        var both = draws.Where(d => d.Item1 == 0).Select(d => d.Item2 / d.Item3).ToArray();
        double[] lower = [.. both.Where(r => r < 0.95).Order()];
        for (var i = 0; i < dots.FirstLower.Count; i++)
        {
            // The quantile (i + 0.5) / n lies between the neighbouring ratios, counted by hand.
            var share = (i + 0.5) / dots.FirstLower.Count * (lower.Length - 1);
            dots.FirstLower[i].Should().BeInRange(lower[(int)Math.Floor(share)] - 1e-9, lower[(int)Math.Ceiling(share)] + 1e-9);
        }
    }, iter: 200);

    [Fact]
    public void The_first_line_stands_in_the_picture_whole()
    {
        var figure = ChartsExamples.Named(ChartsExamples.Mixed, Compared);
        var finding = ScenarioWords.Of(ChartsExamples.Mixed, UnitSystem.Si).Findings.Single();

        $"{figure.Title}. {figure.Subtitle}".Should().StartWith(finding);
    }

    [Fact]
    public void Titles_of_a_case_tell_this_drop_and_eighteen_of_twenty_like_it()
    {
        var force = ChartsExamples.Drawn.Told!.Cases[0][MeasureIds.RiggingPointForce];
        var spread = ShownQuantity.Join(Format.Shown(force.Low, "N", false, UnitSystem.Si), "to", Format.Shown(force.High, "N", false, UnitSystem.Si));

        ChartsExamples.Named(ChartsExamples.Drawn, "base-hard-stop-forces.png").Title.Should().Contain($"(18 of 20 like it: {spread})");
        ChartsExamples.Named(ChartsExamples.Mixed, "base-let-run-forces.png").Title.Should().Contain("(of those caught 18 of 20 like it: ").And.Contain("; 4 of 20 not caught)");
    }

    [Theory]
    [InlineData(UnitSystem.Si)]
    [InlineData(UnitSystem.Us)]
    public void No_picture_of_a_scenario_tells_the_worst_of_a_range_or_draws_one_as_a_bar(UnitSystem units)
    {
        foreach (var figure in new[] { ChartsExamples.Caught, ChartsExamples.Drawn, ChartsExamples.Mixed }.SelectMany(r => FigureSet.Build(r, ChartsExamples.Options(units))))
        {
            ChartsExamples.Texts(figure).Concat(figure.Footer).Should().NotContain(t => t.Contains("worst", StringComparison.OrdinalIgnoreCase) || t.Contains("NaN", StringComparison.Ordinal));
            figure.Panels.SelectMany(p => p.Shapes).Should().NotContain(s => s.Name == "range");
        }
    }

    [Fact]
    public void The_name_of_the_lower_curve_stands_below_it()
    {
        var labels = ChartsExamples.Named(ChartsExamples.Drawn, Compared).Panels[3].Labels;

        labels[0].Y.Should().BeLessThan(labels[1].Y, "the let run comes lower");
        labels.Select(l => l.Toward).Should().Equal(Toward.DownLeft, Toward.UpLeft);
    }

    [Fact]
    public void Where_nothing_was_drawn_the_pictures_do_without()
    {
        var figures = FigureSet.Build(ChartsExamples.Caught, ChartsExamples.Options());

        figures.Should().NotContain(f => f.FileName == "set-ups-like-it.png");
        figures.SelectMany(ChartsExamples.Texts).Should().NotContain(t => t.Contains("of 20", StringComparison.Ordinal));
        ChartsExamples.Named(ChartsExamples.Caught, Compared).Panels.Should().HaveCount(4).And.OnlyContain(p => p.Place.Width == 1);
    }

    [Theory]
    [MemberData(nameof(Examples))]
    public void Words_beside_dots_stay_in_the_picture_and_off_each_other(string which)
    {
        foreach (var figure in new[] { Spread(Example(which)), ChartsExamples.Named(Example(which), Compared), Spread(Example(which), UnitSystem.Us) })
        {
            var layouts = FigureRenderer.Render(figure).Panels;
            for (var i = 0; i < layouts.Count; i++)
            {
                var (panel, plot) = (figure.Panels[i], layouts[i].Plot);
                var boxes = panel.Texts.Select(t =>
                {
                    var width = EmbeddedFontRenderContext.Measure(t.Words, 19, t.Bold);
                    var x = plot.Left + ((t.X - panel.X.Min) / (panel.X.Max - panel.X.Min) * plot.Width);
                    var y = plot.Bottom - ((t.Y - panel.Y.Min) / (panel.Y.Max - panel.Y.Min) * plot.Height);
                    return (t.Words, Box: new PixelRect(t.Grip switch { Grip.Left => x, Grip.Right => x - width, _ => x - (width / 2) }, y - 9, width, 18));
                }).ToArray();
                boxes.Where(b => b.Box.Left < plot.Left - 2 || b.Box.Right > plot.Right + 28 || b.Box.Bottom > plot.Bottom + 2).Should().BeEmpty(figure.FileName);
                boxes.SelectMany((b, k) => boxes.Skip(k + 1).Where(o => o.Box.Overlaps(b.Box)).Select(o => $"{b.Words} | {o.Words}")).Should().BeEmpty(figure.FileName);
            }
        }
    }

    [Fact]
    public void Footers_take_two_lines_at_most()
    {
        foreach (var figure in FigureSet.Build(ChartsExamples.Mixed, ChartsExamples.Options(UnitSystem.Us)))
        {
            figure.Footer.SelectMany(f => FigureRenderer.Wrap(f, FigureRenderer.SmallText, false, Figure.Width - 88)).Should().HaveCountLessThanOrEqualTo(2, figure.FileName);
        }
    }

    [Fact]
    public void Dots_that_would_cover_each_other_lie_one_above_another() => Gen.Double[0, 10].Array[0, 20].Sample(values =>
    {
        Array.Sort(values);
        var levels = DotStack.Levels(values, 0.5);

        for (var i = 0; i < values.Length; i++)
        {
            for (var k = i + 1; k < values.Length; k++)
            {
                (levels[i] == levels[k] && values[k] - values[i] < 0.5 - 1e-6).Should().BeFalse();
            }

            levels[i].Should().BeLessThanOrEqualTo(values.Take(i).Count(v => values[i] - v < 0.5), "no higher than the dots that are in the way");
        }
    });
}
