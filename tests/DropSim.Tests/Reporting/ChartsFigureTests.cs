using System.Text.RegularExpressions;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Tests.Reporting;

/// <summary>The pictures as data, from real drops: what they say is what the runs say.</summary>
public sealed partial class ChartsFigureTests
{
    private static readonly ScenarioResult Caught = ChartsExamples.Caught;
    private static readonly ScenarioResult Ground = ChartsExamples.Ground;

    private static DropRun HardStop => Caught.Cases[0].Run;

    private static DropRun LetRun => Caught.Cases[1].Run;

    [Fact]
    public void There_are_five_pictures_per_case_and_one_per_comparison()
    {
        FigureSet.Build(Caught, ChartsExamples.Options()).Select(f => f.FileName).Should().Equal(
            "base-hard-stop-forces.png", "base-hard-stop-heights.png", "base-hard-stop-sway.png", "base-hard-stop-side-view.png", "base-hard-stop-energy.png",
            "base-let-run-forces.png", "base-let-run-heights.png", "base-let-run-sway.png", "base-let-run-side-view.png", "base-let-run-energy.png",
            "compare-base-let-run-vs-base-hard-stop.png");
    }

    [Fact]
    public void A_title_carries_the_numbers_of_the_run_and_where_nothing_was_drawn_no_spread()
    {
        var peak = HardStop[MeasureIds.RiggingPointForce];

        ChartsExamples.Named(Caught, "base-hard-stop-forces.png").Title.Should()
            .Contain(Format.Value(peak, UnitSystem.Si) + " at the rigging point")
            .And.NotContain("(", "the range over the corners is not told in pictures");
        ChartsExamples.Named(Caught, "base-let-run-heights.png").Title.Should()
            .Contain(Format.Value(LetRun[MeasureIds.Room], UnitSystem.Si)).And.Contain(Format.Value(LetRun[MeasureIds.RopeRun], UnitSystem.Si));
        ChartsExamples.Named(Caught, "base-hard-stop-sway.png").Title.Should().Contain(Format.Value(HardStop[MeasureIds.ClimberMovement], UnitSystem.Si));
        ChartsExamples.Named(Caught, "base-hard-stop-energy.png").Title.Should().Contain(Format.Quantity(HardStop.Ledger.Fallen, "J", UnitSystem.Si));
        ChartsExamples.Named(Caught, "compare-base-let-run-vs-base-hard-stop.png").Title.Should()
            .Contain("Let run: " + Format.Value(LetRun[MeasureIds.RiggingPointForce], UnitSystem.Si))
            .And.Contain("hard stop: " + Format.Value(peak, UnitSystem.Si));
    }

    [Fact]
    public void A_comparison_that_has_a_title_keeps_it()
    {
        var titled = Caught with { Comparisons = [Caught.Comparisons[0] with { Title = "One finding, 3.2 kN less" }] };

        ChartsExamples.Named(titled, "compare-base-let-run-vs-base-hard-stop.png").Title.Should().Be("One finding, 3.2 kN less");
    }

    [Fact]
    public void A_curve_reaches_the_peak_that_its_label_states()
    {
        var panel = ChartsExamples.Named(Caught, "base-hard-stop-forces.png").Panels[0];
        var measure = HardStop[MeasureIds.RiggingPointForce];

        var label = panel.Labels.Single(l => l.Words.StartsWith("rigging point ", StringComparison.Ordinal));
        label.Words.Should().Be($"rigging point {Format.Value(measure, UnitSystem.Si)} at {Format.Time(measure.Time!.Value)}");
        label.Y.Should().Be(measure.Value * 1e-3, "the axis counts kN");
        label.X.Should().Be(measure.Time.Value);

        // A row every millisecond lies within half a millisecond of a peak of a pulse of about 0.1 s: far less than 0.1 % below it.
        panel.Curves.Single(c => c.Name == "rigging point").Y.Max().Should().BeApproximately(label.Y, 1e-3 * label.Y);
    }

    [Fact]
    public void The_second_scale_counts_weights_of_the_piece()
    {
        var input = Caught.Cases[0].Case.Input;

        ChartsExamples.Named(Caught, "base-hard-stop-forces.png").Panels[0].Right!.LeftPerUnit.Should()
            .BeApproximately(input.Piece.Mass * 9.80665 / 1000, 1e-12, "one weight in kN");
    }

    [Theory]
    [InlineData("forces")]
    [InlineData("heights")]
    [InlineData("sway")]
    [InlineData("energy")]
    public void Pictures_of_one_kind_share_their_axes_so_that_they_can_be_laid_side_by_side(string kind)
    {
        var first = ChartsExamples.Named(Caught, $"base-hard-stop-{kind}.png");
        var second = ChartsExamples.Named(Caught, $"base-let-run-{kind}.png");

        second.Panels.Select(p => (p.X, p.Y)).Should().Equal(first.Panels.Select(p => (p.X, p.Y)));
    }

    [Fact]
    public void Side_views_share_the_size_of_the_yard_and_the_length_of_an_arrow_per_force()
    {
        var first = ChartsExamples.Named(Caught, "base-hard-stop-side-view.png").Panels;
        var second = ChartsExamples.Named(Caught, "base-let-run-side-view.png").Panels;

        first.Concat(second).Should().OnlyContain(p => p.EqualScale, "a metre is a metre in both directions");
        for (var i = 0; i < 2; i++)
        {
            (second[i].X.Max - second[i].X.Min).Should().BeApproximately(first[i].X.Max - first[i].X.Min, 1e-9);
            (second[i].Y.Max - second[i].Y.Min).Should().BeApproximately(first[i].Y.Max - first[i].Y.Min, 1e-9);
        }

        MetresPerNewton(first[1], HardStop).Should().BeApproximately(MetresPerNewton(second[1], LetRun), 1e-3 * MetresPerNewton(first[1], HardStop));

        // The scene is worked out at the time of the peak, the measure is the peak itself: equal to the accuracy of that time.
        static double MetresPerNewton(Panel panel, DropRun run)
        {
            var arrow = panel.Arrows.Single(a => a.Name == "rigging point");
            return double.Hypot(arrow.ToX - arrow.X, arrow.ToY - arrow.Y) / run[MeasureIds.RiggingPointForce].Value;
        }
    }

    [Fact]
    public void The_clock_is_zero_at_hinge_break_and_one_for_all()
    {
        var figures = FigureSet.Build(Caught, ChartsExamples.Options()).Where(f => !f.FileName.Contains("side-view", StringComparison.Ordinal)).ToArray();

        var clocks = figures.SelectMany(f => f.Panels).Where(p => p.Y.Shown).Select(p => (p.X.Min, p.X.Max)).Distinct().ToArray();
        clocks.Should().ContainSingle();
        clocks[0].Min.Should().BeInRange(-0.31, 0);
        figures[0].Panels[0].Ticks.Single(t => t.Name == "hinge breaks").At.Should().Be(0);
    }

    [Fact]
    public void A_drop_that_was_cut_short_says_at_least_and_what_was_not_computed()
    {
        var run = Ground.Cases[1].Run;
        run.End.Kind.Should().Be(EndKind.Ground, "half a wrap cannot stop the piece");

        var forces = ChartsExamples.Named(Ground, "base-let-run-forces.png");
        forces.Title.Should().Contain("at least " + Format.Quantity(run[MeasureIds.RiggingPointForce].Value, "N", UnitSystem.Si));
        forces.Title.Should().Contain(" before the piece touches the ground at ");
        ChartsExamples.Named(Ground, "compare-base-let-run-vs-base-hard-stop.png").Title.Should().Contain(" before the piece touches the ground at ", "less force is no gain there");
        forces.Panels[0].Labels.Should().OnlyContain(l => l.Words.Contains("at least"));
        forces.Panels[0].Bands.Should().Contain(b => b.Name == "not computed" && b.From == run.Traces!.EndTime);
        forces.Panels[0].Ticks.Should().Contain(t => t.Name.StartsWith("touches the ground at", StringComparison.Ordinal) && t.Strong);
        ChartsExamples.Named(Ground, "base-let-run-heights.png").Title.Should().Contain("the piece touches the ground at " + Format.Quantity(run.End.Speed, "m/s", UnitSystem.Si));
        ChartsExamples.Named(Ground, "base-let-run-energy.png").Title.Should().Contain("still in the moving piece");
        ChartsExamples.Named(Ground, "base-let-run-forces.png").Subtitle.Should().Contain("Know this: ").And.Contain("cut short");
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void The_areas_of_the_energy_picture_lie_on_each_other_and_sum_to_a_flat_line(int index)
    {
        var name = Caught.Cases[index].Case.Name;
        var panel = ChartsExamples.Named(Caught, $"{name}-energy.png").Panels[0];

        panel.Areas[0].Lower.Should().OnlyContain(v => v == 0);
        for (var i = 1; i < panel.Areas.Count; i++)
        {
            panel.Areas[i].Lower.Should().Equal(panel.Areas[i - 1].Upper);
        }

        // The run's own books give the bound, a fraction of the energy that fell; the picture counts per cent of nearly the same. The books are
        // read at the ends of steps, the picture between them too, where the continued solution is good to a millionth.
        var top = panel.Areas[^1].Upper;
        var run = Caught.Cases[index].Run;
        top[0].Should().BeApproximately(100, 1e-9, "all of it, in per cent");
        (top.Max() - top.Min()).Should().BeLessThanOrEqualTo(2.001 * 100 * (run.Ledger.LargestImbalance + 1e-6));
        run.Ledger.LargestImbalance.Should().BeLessThan(1e-3, "otherwise the bound above would prove nothing");
    }

    [Theory]
    [InlineData(0, 1e-4)]
    [InlineData(0.34e-6, 1e-4)]
    [InlineData(3.7e-6, 1e-3)]
    [InlineData(0.002, 1)]
    public void How_well_the_books_close_is_stated_as_a_bound_and_never_as_exact(double imbalance, double percent)
    {
        EnergyChart.Closing(imbalance).Should().BeApproximately(percent, 1e-9 * percent);
        (100 * imbalance).Should().BeLessThanOrEqualTo(EnergyChart.Closing(imbalance));
    }

    [Fact]
    public void The_side_view_of_a_drop_that_was_cut_short_shows_the_piece_where_it_struck()
    {
        // The largest force half a second before the ground, as when a hand is lost.
        var told = Ground.Cases[1].Run;
        var end = told.Traces!.EndTime;
        told.End.CutsShort.Should().BeTrue();
        var run = told with { Measures = [.. told.Measures.Select(m => m.Id == MeasureIds.RiggingPointForce ? m with { Time = end - 0.5 } : m)] };
        var result = Ground with { Cases = [Ground.Cases[0], Ground.Cases[1] with { Run = run }] };

        var fall = ChartsExamples.Named(result, "base-let-run-side-view.png").Panels[0];

        fall.Labels.Should().Contain(l => l.Words == Format.Time(end));
        fall.Shapes.Last(s => s.Name == "piece").Points.Min(p => p.Y).Should().BeApproximately(0, 1e-3, "on the ground, m");
    }

    [Fact]
    public void Small_places_are_drawn_together_and_named_below_the_title()
    {
        var figure = ChartsExamples.Named(Caught, "base-let-run-energy.png");

        figure.Panels[0].Areas.Should().Contain(a => a.Name == "other places");
        figure.Subtitle.Should().Contain("Other places (grey): ").And.Contain("air", "a log has no drag");
    }

    [Fact]
    public void A_quantity_keeps_its_colour()
    {
        var forces = ChartsExamples.Named(Caught, "base-hard-stop-forces.png").Panels[0].Curves;
        var comparison = ChartsExamples.Named(Caught, "compare-base-let-run-vs-base-hard-stop.png").Panels;

        forces.Single(c => c.Name == "load leg").Stroke.Colour.Should().Be("#0072B2");
        forces.Single(c => c.Name == "ground leg").Stroke.Colour.Should().Be("#D55E00");
        comparison[0].Curves.Select(c => c.Stroke.Colour).Should().OnlyContain(c => c == "#0072B2");
        comparison[0].Curves.Select(c => (c.Stroke.Dash, c.Stroke.Width)).Should().OnlyHaveUniqueItems("cases differ by dash and weight, not by colour");
        forces.Select(c => (c.Stroke.Dash, c.Stroke.Width)).Should().OnlyHaveUniqueItems("grey print must do");
    }

    [Fact]
    public void Every_footer_names_version_scenario_hash_what_is_not_modelled_and_how_to_read_it_and_every_case_its_warnings()
    {
        foreach (var figure in FigureSet.Build(Caught, ChartsExamples.Options()))
        {
            var footer = string.Join(" ", figure.Footer);
            footer.Should().Contain("DropSim 9.8.7").And.Contain("scenario example").And.Contain("0123456789ab").And.Contain(Cautions.NotModelledSentence);
            footer.Should().Contain(Cautions.InShort);
            if (!figure.FileName.StartsWith("compare", StringComparison.Ordinal))
            {
                figure.Subtitle.Should().ContainAll(figure.FileName.Contains("let-run", StringComparison.Ordinal) ? LetRun.Warnings : HardStop.Warnings);
            }
        }
    }

    [Theory]
    [InlineData(UnitSystem.Si)]
    [InlineData(UnitSystem.Us)]
    public void No_picture_gives_permission_or_shows_a_number_that_is_none(UnitSystem units)
    {
        foreach (var text in new[] { Caught, Ground }.SelectMany(r => FigureSet.Build(r, ChartsExamples.Options(units))).SelectMany(f => ChartsExamples.Texts(f).Concat(f.Footer)))
        {
            Permission().IsMatch(text).Should().BeFalse($"'{text}' reads like a permission");
            text.Should().NotContain("NaN").And.NotContain("∞");
        }
    }

    [Fact]
    public void In_feet_and_pounds_no_metric_unit_is_left()
    {
        var figures = FigureSet.Build(Ground, ChartsExamples.Options(UnitSystem.Us));

        figures[0].Panels[0].Y.Unit.Should().Be("lbf");
        figures.SelectMany(ChartsExamples.Texts).Should().OnlyContain(t => !Metric().IsMatch(t));
    }

    [Fact]
    public void Nobody_on_the_spar_is_not_called_a_climber()
    {
        var input = Caught.Cases[0].Case.Input;
        var alone = Caught.Cases[0].Case with { Input = input with { Spar = input.Spar with { ClimberMass = 0 } } };
        var result = Caught with { Cases = [new CaseResult(alone, DropSimulator.Run(alone.Input), 1, "")], Comparisons = [] };

        ChartsExamples.Named(result, "base-hard-stop-sway.png").Title.Should().Contain("where a climber's feet would be");
        ChartsExamples.Named(result, "base-hard-stop-side-view.png").Panels.SelectMany(p => p.Dots).Should().NotContain(d => d.Name == "climber's feet");
    }

    [Fact]
    public void A_case_without_curves_has_no_pictures()
    {
        var bare = Caught with { Cases = [.. Caught.Cases.Select(c => c with { Run = c.Run with { Traces = null } })] };

        FigureSet.Build(bare, ChartsExamples.Options()).Should().BeEmpty();
    }

    [GeneratedRegex(@"\b(ok|okay|safe|safely|safety|pass|passed|passes|approved|allowed|acceptable|green|permitted)\b|[✓✔☑]", RegexOptions.IgnoreCase)]
    private static partial Regex Permission();

    [GeneratedRegex(@"\b(kN|N|kg|m|mm|m/s|kJ|J)\b(?! lbf)")]
    private static partial Regex Metric();
}
