using System.Text.RegularExpressions;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Reporting;

public sealed partial class WordsTests
{
    public static TheoryData<string, UnitSystem> Results => new()
    {
        { "medium", UnitSystem.Si }, { "medium", UnitSystem.Us }, { "light", UnitSystem.Si },
    };

    [Theory]
    [MemberData(nameof(Results))]
    public void No_text_reads_as_a_permission(string which, UnitSystem units)
    {
        var result = Get(which);
        var texts = ComparisonText.WithTexts(result, units).Comparisons.SelectMany(c => new[] { c.Title, c.Paragraph, MovementText.Between(result.Cases[c.First], result.Cases[c.Second], units).Text })
            .Concat(HeadlineTable.Build(result, units).SelectMany(t => t.Facts.Concat(t.Warnings).Concat(t.Headline.Concat(t.Others).SelectMany(r => new[] { r.Label, r.Central, r.Worst, r.WorstInputs }))))
            .Concat(Cautions.Reading);

        texts.Should().OnlyContain(t => !Permission().IsMatch(t));
    }

    [Fact]
    public void The_comparison_s_numbers_are_the_measures()
    {
        var result = ComparisonText.WithTexts(RealResult.MediumLog, UnitSystem.Si);
        var comparison = result.Comparisons.Single();
        var (run, stop) = (result.Cases[comparison.First].Run, result.Cases[comparison.Second].Run);

        comparison.Title.Should().Contain(Format.Value(run[MeasureIds.RiggingPointForce], UnitSystem.Si))
            .And.Contain(Format.Value(stop[MeasureIds.RiggingPointForce], UnitSystem.Si));
        comparison.Paragraph.Should().Contain(Format.Value(run[MeasureIds.ClimberMovement], UnitSystem.Si)).And.Contain("rope run").And.Contain("Not modelled");
    }

    [Fact]
    public void A_drop_that_landed_says_so_before_it_says_anything_else()
    {
        var result = ComparisonText.WithTexts(RealResult.LightLog, UnitSystem.Si);
        var landed = result.Comparisons.Single(c => result.Cases[c.First].Run.End.CutsShort || result.Cases[c.Second].Run.End.CutsShort);

        landed.Paragraph.Should().StartWith("With ").And.Contain("touches the ground").And.Contain("at least");
        HeadlineTable.Build(result, UnitSystem.Si)[0].Headline[0].Central.Should().StartWith("at least ");
    }

    [Fact]
    public void Why_the_spar_moves_less_is_said_where_the_runs_bear_it_out_and_only_there()
    {
        var result = RealResult.MediumLog;
        var (run, stop) = (result.Cases[result.Comparisons[0].First], result.Cases[result.Comparisons[0].Second]);
        var text = MovementText.Between(run, stop, UnitSystem.Si).Text;
        var took = run.Run.Ledger.Places.Where(p => p.Label.StartsWith("friction", StringComparison.Ordinal)).Sum(p => p.Energy) / run.Run.Ledger.Fallen;

        text.Should().StartWith($"The spar at the climber's feet moves {Format.Value(run.Run[MeasureIds.ClimberMovement], UnitSystem.Si)} (let run) instead of {Format.Value(stop.Run[MeasureIds.ClimberMovement], UnitSystem.Si)} (hard stop)")
            .And.Contain(" times less. ").And.Contain($"rope friction took {Format.Percent(took)} of the energy that fell instead of ").And.EndWith("What friction takes while rope runs, the spar need not take.");
        MovementText.Between(stop, run, UnitSystem.Us).Text.Should().Contain(" in (hard stop)").And.Contain(" times more. ").And.EndWith("What friction does not take, rope and spar must take.");

        // A shorter way without more friction: the let run with its share as it is, held against a run of twice as much rope.
        var longer = run with { Run = run.Run with { Measures = [.. run.Run.Measures.Select(m => m.Id == MeasureIds.RopeRun ? m with { Value = 2 * m.Value } : m.Id == MeasureIds.ClimberMovement ? m with { Value = m.Value / 2 } : m)] } };
        MovementText.Between(run, longer, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("Less rope ran: the piece was stopped over a shorter way.");
        MovementText.Between(longer, run, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("More rope ran: the piece was stopped over a longer way.");
        var odd = longer with { Run = longer.Run with { Measures = [.. longer.Run.Measures.Select(m => m.Id == MeasureIds.ClimberMovement ? m with { Value = 4 * m.Value } : m)] } };
        odd.Run[MeasureIds.ClimberMovement].Time.Should().BeGreaterThan(odd.Run.Strikes[0].Time);
        MovementText.Between(odd, run, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("the piece struck the spar before, and how it strikes turns on small things. A small change may go either way.");
        CaseResult Unstruck(CaseResult c) => c with { Run = c.Run with { Strikes = [] } };
        MovementText.Between(Unstruck(odd), Unstruck(run), "now", "at the start", UnitSystem.Si).Text.Should().EndWith("Friction and rope run do not explain the difference: look at the curves.");
        MovementText.Between(run, run, "now", "at the start", UnitSystem.Si).Text.Should().EndWith(": about the same.");

        // Less movement for more force: both in one sentence.
        var jerked = longer with { Run = longer.Run with { Measures = [.. longer.Run.Measures.Select(m => m.Id == MeasureIds.RiggingPointForce ? m with { Value = 2 * m.Value } : m)] } };
        var force = run.Run[MeasureIds.RiggingPointForce];
        MovementText.Between(jerked, run, "now", "at the start", UnitSystem.Si).Text.Should()
            .Contain($" times less, but the force on the rigging point is {Format.Value(force with { Value = 2 * force.Value }, UnitSystem.Si)} instead of {Format.Value(force, UnitSystem.Si)}. Rope run");
        MovementText.Between(run, jerked, "now", "at the start", UnitSystem.Si).Text.Should().Contain(" times more. ");

        // The same friction, and yet less movement: that has another cause.
        var calmer = run with { Run = run.Run with { Measures = [.. run.Run.Measures.Select(m => m.Id == MeasureIds.ClimberMovement ? m with { Value = m.Value / 2 } : m)] } };
        MovementText.Between(calmer, run, "now", "at the start", UnitSystem.Si).Text.Should().Contain("2.0 times less").And.EndWith("A small change may go either way.");

        // Locked off no rope runs; a smoother rigging point takes less all the same.
        var smooth = stop with
        {
            Run = stop.Run with
            {
                Measures = [.. stop.Run.Measures.Select(m => m.Id == MeasureIds.ClimberMovement ? m with { Value = 1.5 * m.Value } : m)],
                Ledger = stop.Run.Ledger with { Places = [.. stop.Run.Ledger.Places.Select(p => p.Column == "lost_rigging_point_J" ? p with { Energy = 0.5 * p.Energy } : p)] },
            },
        };
        MovementText.Between(smooth, stop, "now", "at the start", UnitSystem.Si).Text.Should().Contain("1.5 times more. Rope friction took").And.EndWith("What friction does not take, rope and spar must take.");
        MovementText.Between(stop, smooth, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("What friction takes, rope and spar need not take.");

        // A lighter piece on the same wraps is stopped sooner, let run; locked off, or on other wraps, that is no reason.
        CaseResult Lighter(CaseResult c, double wraps) => c with { Run = c.Run with { Input = c.Run.Input with { Piece = c.Run.Input.Piece with { Mass = 0.6 * c.Run.Input.Piece.Mass }, Device = c.Run.Input.Device with { Wraps = wraps } } } };
        var same = run.Run.Input.Device.Wraps;
        MovementText.Between(Lighter(run, same), longer, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("over a shorter way. The same wraps and hand stop a lighter piece sooner.");
        MovementText.Between(longer, Lighter(run, same), "now", "at the start", UnitSystem.Si).Text.Should().EndWith("over a longer way. The same wraps and hand let a heavier piece run further.");
        MovementText.Between(Lighter(run, same - 0.5), longer, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("over a shorter way.");
        MovementText.Between(Lighter(longer, same), run, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("over a longer way.", "a lighter piece that ran further did so for another reason");
        MovementText.Between(Lighter(stop, same), run, "now", "at the start", UnitSystem.Si).Text.Should().NotContain("wraps");

        // Less energy fell, and nothing else differs; and wraps that are locked off.
        CaseResult Falling(CaseResult c, double part) => c with { Run = c.Run with { Ledger = c.Run.Ledger with { Fallen = part * c.Run.Ledger.Fallen, Places = [.. c.Run.Ledger.Places.Select(p => p with { Energy = part * p.Energy })] } } };
        var half = Falling(calmer, 0.5);
        MovementText.Between(half, run, "now", "at the start", UnitSystem.Si).Text.Should()
            .EndWith($"times less. Less energy fell, {Format.Quantity(half.Run.Ledger.Fallen, "J", UnitSystem.Si)} instead of {Format.Quantity(run.Run.Ledger.Fallen, "J", UnitSystem.Si)}: there was less to stop.");
        MovementText.Between(Falling(calmer, 2), run, "now", "at the start", UnitSystem.Si).Text.Should().EndWith("A small change may go either way.", "more energy and yet less movement");
        var wound = stop with { Run = stop.Run with { Input = stop.Run.Input with { Device = stop.Run.Input.Device with { Wraps = same + 1 } } } };
        MovementText.Between(wound, stop, "now", "at the start", UnitSystem.Si).Text.Should().EndWith(": about the same. Locked off, no rope runs: turns on the device change little.");

        // A run that was cut short may have moved it more after that: how it ended comes first, and no ratio, no reason.
        var light = RealResult.LightLog;
        var cut = light.Comparisons.First(c => light.Cases[c.First].Run.End.CutsShort || light.Cases[c.Second].Run.End.CutsShort);
        MovementText.Between(light.Cases[cut.First], light.Cases[cut.Second], UnitSystem.Si).Text.Should().StartWith("Not caught (").And.Contain("touches the ground at ").And.Contain("at least").And.NotContain("times").And.NotContain("friction");
        var long1 = run with { Run = run.Run with { End = run.Run.End with { Kind = EndKind.EndTime, CutsShort = true, Computed = 8 } } };
        MovementText.Between(stop, long1, "now", "at the start", UnitSystem.Si).Text.Should().StartWith("Not over (at the start): still moving when the computation ended after 8 s.").And.NotContain("times");
    }

    [Fact]
    public void Whoever_reads_feet_and_pounds_meets_no_metre_and_the_same_speeds()
    {
        var result = ComparisonText.WithTexts(RealResult.LightLog, UnitSystem.Us);
        var ground = result.Cases.First(c => c.Run.End.Kind == EndKind.Ground).Run;

        result.Comparisons.SelectMany(c => new[] { c.Title, c.Paragraph }).Concat(HeadlineTable.Build(result, UnitSystem.Us).SelectMany(t => t.Facts.Concat(t.Warnings)))
            .Should().OnlyContain(t => !t.Contains("m/s", StringComparison.Ordinal));
        Format.Ending(ground.End, UnitSystem.Us).Should().Be($"the piece touches the ground at {Format.Quantity(ground.End.Speed, "m/s", UnitSystem.Us)}");
        Format.Ending(ground.End, UnitSystem.Si).Should().Be(ground.End.Description).And.EndWith($"at {Format.Quantity(ground.End.Speed, "m/s", UnitSystem.Si)}");
        Format.Warnings(ground, UnitSystem.Us).Should().ContainSingle(w => w.StartsWith("The run was cut short", StringComparison.Ordinal))
            .Which.Should().Contain($"at {Format.Quantity(ground.End.Speed, "m/s", UnitSystem.Us)}");
        Format.Warnings(ground, UnitSystem.Si).Should().Equal(ground.Warnings);
    }

    [Theory]
    [InlineData(EndKind.Ground, true, "Not caught")]
    [InlineData(EndKind.Obstacle, true, "Not caught")]
    [InlineData(EndKind.RopeEnd, true, "Not caught")]
    [InlineData(EndKind.RopeBroke, true, "Not caught")]
    [InlineData(EndKind.EndTime, true, "Not over")]
    [InlineData(EndKind.Failed, true, "Not over")]
    [InlineData(EndKind.EndTime, false, null)]
    [InlineData(EndKind.Settled, false, null)]
    public void A_drop_that_was_not_caught_is_told_from_one_that_was_not_over(EndKind kind, bool cutsShort, string? expected) =>
        Format.Unfinished(RealResult.MediumLog.Cases[0].Run.End with { Kind = kind, CutsShort = cutsShort }).Should().Be(expected);

    [Fact]
    public void What_the_file_itself_gives_cause_to_say_speaks_the_readers_units_too()
    {
        var text = MinimalFileTests.Minimal.Replace("tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nweighed = \"60 kg\"", StringComparison.Ordinal);
        var dropCase = MinimalFileTests.First(text);

        Format.Warnings(dropCase, UnitSystem.Si).Should().ContainSingle(w => w.StartsWith("The weighed mass 60 kg and", StringComparison.Ordinal));
        Format.Warnings(dropCase, UnitSystem.Us).Should().ContainSingle(w => w.StartsWith("The weighed mass 130 lb and", StringComparison.Ordinal)).Which.Should().NotContain("kg");
        Format.Warnings(dropCase, UnitSystem.Si).Should().Equal(dropCase.Warnings);
    }

    [Fact]
    public void Headline_measures_come_in_their_order_with_the_worst_beside_them()
    {
        var table = HeadlineTable.Build(RealResult.MediumLog, UnitSystem.Si)[0];

        RealResult.MediumLog.Cases[0].Run.Measures.Where(m => m.Headline).Select(m => m.Id).Should().Equal(
            MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun);
        table.Headline.Should().HaveCount(5).And.OnlyContain(r => r.Central.Length > 0 && r.Worst.Length > 0);
    }

    [Fact]
    public void A_drop_that_landed_does_not_look_gentle_beside_one_that_was_caught()
    {
        var result = ComparisonText.WithTexts(RealResult.LightLog, UnitSystem.Si);
        var comparison = result.Comparisons.Single();

        // 6.2 kN against "at least 750 N": what would have come after the ground is not known.
        result.Cases[comparison.First].Run.End.CutsShort.Should().BeFalse();
        result.Cases[comparison.Second].Run.End.CutsShort.Should().BeTrue();
        comparison.Title.Should().Contain("the piece touches the ground at").And.EndWith("before that");
        comparison.Paragraph.Should().NotMatchRegex("What got worse[^.]*(\\.\\d[^.]*)*against at least")
            .And.MatchRegex("cannot be told, because a run was cut short, for: [^.]*force on the rigging point");
    }

    [Fact]
    public void A_drop_whose_time_ran_out_was_not_over_rather_than_not_caught()
    {
        var medium = RealResult.MediumLog;
        var cases = medium.Cases.ToArray();
        var first = medium.Comparisons.Single().First;
        var ranOut = new RunEnd(EndKind.EndTime, 8, 2, true) { Computed = 8 };
        cases[first] = cases[first] with { Run = cases[first].Run with { End = ranOut } };

        var text = ComparisonText.WithTexts(medium with { Cases = cases }, UnitSystem.Si).Comparisons.Single().Paragraph;

        text.Should().StartWith("With let run the drop was not over (still moving").And.NotContain("not caught");
    }

    [Theory]
    [InlineData(6200, MeasureState.Exact, 750, MeasureState.Exact, true)]
    [InlineData(6200, MeasureState.Exact, 750, MeasureState.AtLeast, null)]
    [InlineData(6200, MeasureState.AtLeast, 750, MeasureState.Exact, true)]
    [InlineData(750, MeasureState.Exact, 6200, MeasureState.Exact, false)]
    [InlineData(750, MeasureState.Exact, 6200, MeasureState.AtLeast, false)]
    [InlineData(750, MeasureState.AtLeast, 6200, MeasureState.Exact, null)]
    [InlineData(750, MeasureState.AtLeast, 6200, MeasureState.AtLeast, null)]
    [InlineData(double.NaN, MeasureState.NotReached, 6200, MeasureState.Exact, null)]
    public void A_bound_settles_which_force_is_larger_only_from_one_side(double one, MeasureState state, double other, MeasureState otherState, bool? worse)
    {
        static Measure Force(double value, MeasureState state) => new("force", "Force", "N", value, null, state, Worse.Larger, false, "");

        DropComparison.IsWorse(Force(one, state), Force(other, otherState)).Should().Be(worse);
    }

    [Theory]
    [InlineData(2400, 12000, false, 370, 1900, false, "the ranges do not overlap")]
    [InlineData(2400, 12000, false, 370, 1900, true, "cannot be told")]
    [InlineData(2400, 12000, true, 370, 1900, false, "the ranges do not overlap")]
    [InlineData(370, 1900, true, 2400, 12000, false, "cannot be told")]
    [InlineData(2400, 12000, false, 370, 2500, false, "which of the two is lower is not certain")]
    public void Ranges_are_apart_only_where_no_run_of_the_lower_one_was_cut_short(
        double low, double high, bool cut, double otherLow, double otherHigh, bool otherCut, string words)
    {
        var light = RealResult.LightLog;
        var pair = light.Comparisons.Single();
        var cases = light.Cases.ToArray();
        cases[pair.First] = WithForceRange(cases[pair.First], low, high, cut);
        cases[pair.Second] = WithForceRange(cases[pair.Second], otherLow, otherHigh, otherCut);

        var text = ComparisonText.WithTexts(light with { Cases = cases }, UnitSystem.Si).Comparisons.Single().Paragraph;

        text[text.IndexOf("How certain", StringComparison.Ordinal)..].Should().Contain(words);
    }

    [Fact]
    public void Every_number_of_a_drop_that_was_cut_short_is_called_a_bound()
    {
        var landed = HeadlineTable.Build(RealResult.LightLog, UnitSystem.Si)[0];

        landed.Facts.Should().ContainSingle(f => f.StartsWith("Load leg: at least ", StringComparison.Ordinal) && f.Contains(", at least ", StringComparison.Ordinal));
        landed.Facts.Should().ContainSingle(f => f.StartsWith("Weakest known link: at least ", StringComparison.Ordinal));
    }

    [Fact]
    public void The_speed_at_the_ground_is_told_in_feet_to_those_who_read_feet()
    {
        var speed = RealResult.LightLog.Cases[0].Run.End.Speed;
        var end = HeadlineTable.Build(RealResult.LightLog, UnitSystem.Us)[0].Facts[0];

        // 1 ft = 0.3048 m by definition.
        end.Should().StartWith("End: the piece touches the ground at").And.EndWith($" at {Format.Number(speed / 0.3048)} ft/s.");
    }

    [Theory]
    [InlineData(15.63, "16")]
    [InlineData(0.0996, "0.10")]
    [InlineData(1234, "1200")]
    [InlineData(-0.00000001, "0")]
    [InlineData(-15.63, "-16")]
    [InlineData(double.NaN, "unknown")]
    [InlineData(double.PositiveInfinity, "unlimited")]
    public void Numbers_show_two_digits_that_count(double value, string shown) => Format.Number(value).Should().Be(shown);

    [Theory]
    [InlineData(0.0814, UnitSystem.Si, "81 mm")]
    [InlineData(0.0254, UnitSystem.Us, "1.0 in")]
    public void Small_movements_show_in_mm_or_inches(double metres, UnitSystem units, string shown) => Format.SmallLength(metres, units).Should().Be(shown);

    [Fact]
    public void A_time_just_before_zero_has_no_minus() => Format.Time(-0.004).Should().Be("0.00 s");

    [Theory]
    [InlineData(15630, "16 kN")]
    [InlineData(996, "1.0 kN")]
    [InlineData(152.4, "150 N")]
    [InlineData(-0.0, "0 N")]
    public void Forces_show_two_digits(double newtons, string shown) =>
        Format.Quantity(newtons, "N", UnitSystem.Si).Should().Be(shown);

    private static CaseResult WithForceRange(CaseResult one, double low, double high, bool cut) => one with
    {
        Run = one.Run with
        {
            Measures = [.. one.Run.Measures.Select(m => m.Id == MeasureIds.RiggingPointForce ? m with { Low = low, High = high, RangeCutShort = cut } : m)],
        },
    };

    private static ScenarioResult Get(string which) => which == "medium" ? RealResult.MediumLog : RealResult.LightLog;

    [GeneratedRegex(@"\b(OK|okay|safe|safely|pass|passes|passed|good|fine)\b|✓|✔", RegexOptions.IgnoreCase)]
    private static partial Regex Permission();
}
