using DropSim.Model;
using DropSim.Studies;
using DropSim.Tests.Scenarios;
using MathNet.Numerics.Distributions;

namespace DropSim.Tests.Options;

/// <summary>What stays inside a crew's limits is counted, not judged.</summary>
public sealed class OptionsStudyTests
{
    private const string Sound = """

        [sling]
        strength = "40 kN"
        """;

    private static readonly Lazy<(DropCase Hard, DropCase LetRun, DropRun HardRun, DropRun LetRunRun)> Drops = new(() =>
    {
        var read = MinimalFileTests.Read(MinimalFileTests.Minimal.Replace("[spar]", "[spar]\ncondition = \"sound\"\nbending-strength = \"60 MPa\"", StringComparison.Ordinal) + Sound);
        var (hard, run) = (read.Scenario!.Cases[0], read.Scenario.Cases[1]);
        var options = new RunOptions { Detail = RunDetail.MeasuresOnly };
        return (hard, run, DropSimulator.Run(hard.Input, options), DropSimulator.Run(run.Input, options));
    });

    private static CrewLimit Limit(DropCase dropCase, string key, double value) =>
        CrewLimit.For(dropCase with { Limits = [.. dropCase.Limits.Select(l => l.Key == key ? l with { Value = value } : l)] }).Single(l => l.Key == key);

    [Fact]
    public void A_case_has_six_limits_each_with_its_source()
    {
        var limits = CrewLimit.For(Drops.Value.Hard);

        limits.Select(l => l.Key).Should().Equal("rope", "sling", "spar", "climber-movement", "room", "hand");
        limits.Should().OnlyContain(l => l.Stated.Source.Length > 0 && !l.Stated.Given);
        limits.Single(l => l.Key == "rope").Value.Should().Be(0.2);
    }

    [Fact]
    public void A_design_factor_of_the_file_sets_the_limits_of_rope_and_sling()
    {
        var limits = CrewLimit.For(MinimalFileTests.First(MinimalFileTests.Minimal + "\n[strength]\ndesign-factor = 8\n"));

        // 1 / 8 = 12.5 %.
        limits.Where(l => l.Key is "rope" or "sling").Should().OnlyContain(l => l.Value == 0.125 && l.Stated.Source.Contains("design-factor"));
    }

    [Fact]
    public void A_limit_holds_at_its_value_and_not_beyond()
    {
        var (hard, _, run, _) = Drops.Value;
        var force = run[MeasureIds.RiggingPointForce].Value;
        var room = run[MeasureIds.Room].Value;

        // Sling of 40 kN: the share is force / 40 kN.
        Limit(hard, "sling", force / 40e3).Holds(run).Should().BeTrue();
        Limit(hard, "sling", force / 40e3 * 0.999).Holds(run).Should().BeFalse();
        Limit(hard, "room", room).Holds(run).Should().BeTrue();
        Limit(hard, "room", room * 1.001).Holds(run).Should().BeFalse();
        Limit(hard, "spar", run[MeasureIds.SparStress].Value / 60e6 * 1.001).Holds(run).Should().BeTrue();
    }

    [Fact]
    public void The_rope_is_judged_where_its_knot_or_bend_leaves_least()
    {
        var (hard, _, run, _) = Drops.Value;
        var strength = run.Input.Strength;

        // Knot alone is known here: load leg over breaking strength times what the knot leaves.
        strength.RingBendEfficiency.Should().BeNull();
        var share = run[MeasureIds.LoadLegTension].Value / (strength.Rope!.Value * strength.KnotEfficiency!.Value);
        CrewLimit.For(hard).Single(l => l.Key == "rope").Of(run).Should().BeApproximately(share, 1e-12);
    }

    [Fact]
    public void What_is_not_known_or_not_asked_is_no_limit()
    {
        var (hard, letRun, run, let) = Drops.Value;

        CrewLimit.For(hard).Single(l => l.Key == "hand").Holds(run).Should().BeNull("locked off, the hand does nothing");
        CrewLimit.For(letRun).Single(l => l.Key == "hand").Holds(let).Should().NotBeNull();
        var unknown = run with { Input = run.Input with { Strength = run.Input.Strength with { Sling = null }, Spar = run.Input.Spar with { Condition = StemCondition.Decayed } } };
        CrewLimit.For(hard).Single(l => l.Key == "sling").Holds(unknown).Should().BeNull();
        CrewLimit.For(hard).Single(l => l.Key == "spar").Holds(unknown).Should().BeNull();
    }

    private static OptionSetting Wide => new(Drops.Value.Hard with
    {
        Limits = [.. Drops.Value.Hard.Limits.Select(l => l with { Value = l.Key == "room" ? 0 : 1e9 })],
    }, 2.5, 2.5, true);

    private static OptionSetting Roomy => new(Wide.Case with { Limits = [.. Wide.Case.Limits.Select(l => l.Key == "room" ? l with { Value = 1000 } : l)] }, 2.5, 2.5, true);

    [Theory]
    [InlineData(0, true)]
    [InlineData(1, true)]
    [InlineData(2, false)]
    public void Nineteen_of_twenty_draws_must_be_inside(int lost, bool kept)
    {
        DropRun?[] runs = [.. Enumerable.Repeat((DropRun?)Drops.Value.HardRun, 20 - lost), .. Enumerable.Repeat((DropRun?)null, lost)];

        var outcome = OptionsStudy.Judge(Wide, runs, 20);

        outcome.Kept.Should().Be(kept);
        outcome.Inside.Should().Be(20 - lost);
        outcome.Outside[OptionsStudy.Caught].Should().Be(lost);
    }

    [Fact]
    public void A_drop_that_was_not_caught_is_outside_and_worse_than_any_number()
    {
        var run = Drops.Value.HardRun;
        var landed = run with { End = run.End with { Kind = EndKind.Ground, CutsShort = true } };

        var outcome = OptionsStudy.Judge(Wide, [.. Enumerable.Repeat(run, 17), landed, landed, landed], 20);

        outcome.Kept.Should().BeFalse();
        outcome.Measures[MeasureIds.RiggingPointForce].Worst.Should().Be(double.PositiveInfinity);
        outcome.Measures[MeasureIds.Room].Worst.Should().Be(double.NegativeInfinity);
        outcome.Measures[MeasureIds.RiggingPointForce].Median.Should().Be(run[MeasureIds.RiggingPointForce].Value);
    }

    [Fact]
    public void The_limit_that_binds_is_the_one_without_which_a_setting_would_be_inside()
    {
        var outcome = OptionsStudy.Judge(Roomy, [.. Enumerable.Repeat(Drops.Value.HardRun, 20)], 20);

        outcome.Inside.Should().Be(0);
        outcome.Outside["room"].Should().Be(20);
        outcome.InsideWithout["room"].Should().Be(20);
        outcome.InsideWithout["rope"].Should().Be(0);
    }

    [Fact]
    public void The_true_share_is_bounded_as_Clopper_and_Pearson_do()
    {
        var all = OptionsStudy.Judge(Wide, [.. Enumerable.Repeat((DropRun?)Drops.Value.HardRun, 60)], 60);

        // All of n inside: p^n = 0.05 at the bound, 0.05^(1/60) = 0.9513.
        all.ShareAtLeast.Should().BeApproximately(Math.Pow(0.05, 1.0 / 60), 1e-9);

        // 57 of 60: at the bound 57 or more come up with probability 0.05 (MathNet's binomial distribution).
        var bound = (all with { Inside = 57 }).ShareAtLeast;
        (1 - Binomial.CDF(bound, 60, 56)).Should().BeApproximately(0.05, 1e-6);
    }

    [Fact]
    public void The_front_holds_what_nothing_beats_in_both_force_and_room()
    {
        static OptionOutcome At(double force, double room) => OptionsStudy.Judge(Wide, [.. Enumerable.Repeat((DropRun?)Drops.Value.HardRun, 20)], 20) with
        {
            Measures = new Dictionary<string, DrawnMeasure> { [MeasureIds.RiggingPointForce] = new(force, force), [MeasureIds.Room] = new(room, room) },
        };

        var front = OptionsStudy.Front([At(9, 4), At(5, 1), At(6, 3), At(7, 2), At(9, 5), At(double.PositiveInfinity, 9)]);

        // 7 kN with 2 m is beaten by 6 kN with 3 m; 9 kN with 4 m by 9 kN with 5 m; what was not caught does not count.
        front.Select(o => o.Measures[MeasureIds.RiggingPointForce].Worst).Should().Equal(5, 6, 9);
        front.Select(o => o.Measures[MeasureIds.Room].Worst).Should().Equal(1, 3, 5);
    }

    private static OptionsPlan Plan(int threads) => new() { Draws = 20, Threads = threads };

    [Fact]
    public void Settings_are_the_same_on_any_number_of_threads()
    {
        OptionSetting[] settings = [Wide, Roomy, Roomy with { AsFiled = false }, new OptionSetting(Drops.Value.LetRun, 2, 2.5, false)];

        var one = OptionsStudy.Compute(settings, Plan(1));
        var three = OptionsStudy.Compute(settings, Plan(3));

        one.CutShort.Should().BeFalse();
        three.Drops.Should().Be(one.Drops);
        three.Check.Should().BeEquivalentTo(one.Check);
        for (var i = 0; i < settings.Length; i++)
        {
            three.Outcomes[i].Should().BeEquivalentTo(one.Outcomes[i], o => o.Excluding(x => x.Setting));
        }
    }

    /// <summary>A limit of force between the draws of a setting: some inside, some not.</summary>
    private static OptionSetting Limited(DropCase dropCase, double low, double high, double movement, bool filed) =>
        new(dropCase with { Limits = [.. dropCase.Limits.Select(l => l with { Value = l.Key switch { "room" => 0, "climber-movement" => movement, _ => 1e9 } })] }, low, high, filed);

    private static readonly double[] Movements = [0.05, 0.10, 0.15, 0.20];

    [Fact]
    public void A_setting_that_is_given_up_early_is_one_that_all_its_draws_would_not_list_either()
    {
        var (hard, letRun, _, _) = Drops.Value;
        OptionSetting[] settings =
        [
            .. Movements.SelectMany(m => new[] { Limited(hard, 2.5, 2.5, m, false), Limited(letRun, 2, 2.5, m, false) }),
            Limited(letRun, 1, 1.5, 1, false),
            Wide with { AsFiled = false },
        ];

        var screened = OptionsStudy.Compute(settings, Plan(2));
        var whole = OptionsStudy.Compute([.. settings.Select(s => s with { AsFiled = true })], Plan(2));

        whole.Outcomes.Should().OnlyContain(o => o.Complete);
        screened.Drops.Should().BeLessThan(whole.Drops);
        screened.Outcomes.Select(o => o.Kept).Should().Equal(whole.Outcomes.Select(o => o.Kept));
        screened.Outcomes.Where(o => o.Kept).Should().NotBeEmpty().And.OnlyContain(o => o.Complete, "what is listed is drawn to the end");
        screened.Outcomes.Where(o => !o.Complete).Should().NotBeEmpty();
        foreach (var (early, all) in screened.Outcomes.Zip(whole.Outcomes).Where(p => !p.First.Complete))
        {
            // 19 of 20 must be inside: given up with the second draw outside, whatever came between.
            (early.Draws - early.Inside).Should().Be(2);
            all.Inside.Should().BeLessThanOrEqualTo(18);
        }
    }

    [Fact]
    public void Where_nothing_is_listed_the_limit_that_binds_alone_is_counted_to_the_end()
    {
        // Without the limit of room it would be inside: it is drawn to the end, so that this can be told.
        var found = OptionsStudy.Compute([Roomy with { AsFiled = false }], Plan(2));

        found.BindingKnown.Should().BeTrue();
        found.Outcomes[0].Draws.Should().Be(20);
        found.Outcomes[0].InsideWithout["room"].Should().BeGreaterThanOrEqualTo(19);

        // A second one with a piece of the same length is listed: nothing needs to be told of the first one's limits.
        var beside = OptionsStudy.Compute([Roomy with { AsFiled = false }, Wide with { AsFiled = false }], Plan(2));
        beside.Outcomes[1].Kept.Should().BeTrue();
        beside.Outcomes[0].Draws.Should().Be(2);
    }

    [Fact]
    public void The_hardest_draws_of_a_setting_as_filed_come_first_in_its_likes()
    {
        var filed = Limited(Drops.Value.LetRun, 1, 1.5, 0.02, true);
        var found = OptionsStudy.Compute([filed, filed with { AsFiled = false }], Plan(1));

        // The like meets the same drops: both of the draws that decide come at once.
        var outside = 20 - found.Outcomes[0].Inside;
        outside.Should().BeGreaterThan(1);
        found.Outcomes[1].Draws.Should().Be(2);
        found.Outcomes[1].Inside.Should().Be(0);
    }

    [Fact]
    public void Interrupted_before_anything_was_certain_it_keeps_nothing()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();

        var found = OptionsStudy.Compute([Wide], Plan(1), null, stop.Token);

        found.Outcomes.Should().BeEmpty();
        found.CutShort.Should().BeTrue();
        found.BindingKnown.Should().BeFalse();
    }

    [Fact]
    public void A_draw_is_the_same_luck_in_every_setting_and_comes_from_the_distributions_of_an_uncertainty_study()
    {
        var (hard, letRun, _, _) = Drops.Value;
        OptionSetting[] settings = [new(hard, 2.5, 2.5, true), new(letRun, 2, 2.5, true)];
        var draws = new OptionDraws(settings, new OptionsPlan { Draws = 64 });

        // The hand is drawn only where there is one; what both have is drawn alike.
        settings[1].Uncertain.Should().Contain(u => u.Key == "catch.grip");
        settings[0].Uncertain.Should().NotContain(u => u.Key == "catch.grip");
        var pairs = Enumerable.Range(0, 64).Select(k => (Hard: draws.Input(settings[0], k), Run: draws.Input(settings[1], k))).ToArray();
        pairs.Should().OnlyContain(p => p.Hard.Piece.Mass == p.Run.Piece.Mass && p.Hard.Device.Friction == p.Run.Device.Friction && p.Hard.Spar.Modulus == p.Run.Spar.Modulus);

        // One draw in each sixty-fourth of the distribution of the mass: its quantiles at (k + 1/2)/64 are met within one part of 64.
        var mass = hard.Uncertain.Single(u => u.Key == "piece.mass");
        double[] drawn = [.. pairs.Select(p => p.Hard.Piece.Mass).Order()];
        for (var k = 0; k < 64; k++)
        {
            drawn[k].Should().BeInRange(
                DropSim.Studies.Uncertainty.Distributions.Quantile(mass.Distribution, Math.Max(1e-12, k / 64.0)) - 1e-9,
                DropSim.Studies.Uncertainty.Distributions.Quantile(mass.Distribution, Math.Min(1 - 1e-12, (k + 1) / 64.0)) + 1e-9);
        }

        // A band of turns is drawn evenly from one end to the other.
        double[] turns = [.. pairs.Select(p => p.Run.Device.Wraps).Order()];
        turns.Select((w, k) => Math.Abs(w - (2 + (0.5 * (k + 0.5) / 64)))).Should().OnlyContain(d => d <= 0.5 * 0.5 / 64 + 1e-12);
    }

    [Fact]
    public void The_check_tells_how_far_a_draw_repeated_far_more_tightly_moved()
    {
        var setting = Wide;
        var found = OptionsStudy.Compute([setting], Plan(2));
        var draws = new OptionDraws([setting], Plan(1));

        // All of 20 draws are repeated; the one that moved most is the maximum told.
        found.Check.Drops.Should().Be(20);
        var moved = Enumerable.Range(0, 3).Select(k => (First: draws.Run(setting, k, default)!, Exact: draws.Repeat(setting, k, default)!))
            .Max(p => Math.Abs((p.First[MeasureIds.RiggingPointForce].Value / p.Exact[MeasureIds.RiggingPointForce].Value) - 1));
        moved.Should().BePositive();
        found.Check.Largest[MeasureIds.RiggingPointForce].Should().BeGreaterThanOrEqualTo(moved * (1 - 1e-9)).And.BeLessThan(1e-2);
    }
}
