using CsCheck;
using DropSim.Model;
using DropSim.Studies;
using DropSim.Studies.Draws;
using DropSim.Tests.Model;

namespace DropSim.Tests.Draws;

/// <summary>Set-ups like this one: the same draws for every case, whatever the threads do and whatever else is unknown.</summary>
public sealed class DrawStudyTests
{
    private const string Force = MeasureIds.RiggingPointForce;

    [Fact]
    public void The_same_bits_come_out_on_any_number_of_threads()
    {
        DropCase[] cases = [DrawnCases.MediumLog("one"), DrawnCases.MediumLog("two")];
        var (alone, together) = (DrawStudy.Compute(cases, DrawnCases.Plan(32)), DrawStudy.Compute(cases, DrawnCases.Plan(32, threads: 4)));
        for (var c = 0; c < 2; c++)
        {
            alone.Cases[c].Drops.Zip(together.Cases[c].Drops).Should().OnlyContain(p => p.First.Ending == p.Second.Ending && p.First.Values.SequenceEqual(p.Second.Values));
        }
    }

    [Fact]
    public void A_longer_study_begins_with_the_drops_of_a_shorter_one()
    {
        DropCase[] cases = [DrawnCases.MediumLog("one")];
        var (some, more) = (DrawStudy.Compute(cases, DrawnCases.Plan(8)), DrawStudy.Compute(cases, DrawnCases.Plan(16)));
        more.Cases[0].Drops.Take(8).Zip(some.Cases[0].Drops).Should().OnlyContain(p => p.First.Values.SequenceEqual(p.Second.Values));
    }

    [Fact]
    public void One_thing_has_one_value_in_every_case_and_two_rigging_points_have_each_their_own()
    {
        var one = DrawnCases.MediumLog("one");
        var other = one with
        {
            Setup = "other",
            Input = one.Input.WithRiggingPoint(r => r with { Friction = 0.3 }),
            Uncertain = [.. one.Uncertain.Take(2), DrawnCases.Input("rigging-point.friction", 0.3, 0.5, 1.5, static (d, v) => d.WithRiggingPoint(r => r with { Friction = v }))],
        };
        var scenario = DrawStudy.Compute([one, other, one with { Setup = "again" }], DrawnCases.Plan(16) with { Measures = [Force] });
        for (var k = 0; k < 16; k++)
        {
            var (a, b, c) = (scenario.Input(0, k), scenario.Input(1, k), scenario.Input(2, k));
            (b.Piece.Mass, b.Rope.Slack).Should().Be((a.Piece.Mass, a.Rope.Slack));
            c.RiggingPoint.Friction.Should().Be(a.RiggingPoint.Friction);
        }

        Enumerable.Range(0, 16).Should().Contain(k => Math.Abs(scenario.Share(0, 2, k) - scenario.Share(1, 2, k)) > 0.2);
    }

    [Fact]
    public void Another_unknown_input_moves_none_of_the_others()
    {
        var some = DrawnCases.MediumLog("one");
        var more = some with { Uncertain = [DrawnCases.Input("device.friction", 0.2, 0.7, 1.3, static (d, v) => d with { Device = d.Device with { Friction = v } }), .. some.Uncertain] };
        var (a, b) = (DrawStudy.Compute([some], DrawnCases.Plan(8)), DrawStudy.Compute([more], DrawnCases.Plan(8)));
        for (var k = 0; k < 8; k++)
        {
            b.Input(0, k).Piece.Mass.Should().Be(a.Input(0, k).Piece.Mass);
            b.Input(0, k).Rope.Slack.Should().Be(a.Input(0, k).Rope.Slack);
        }
    }

    [Fact]
    public void Every_key_that_may_be_unknown_has_a_place_among_the_draws() =>
        DrawDimensions.Keys.Should().OnlyHaveUniqueItems().And.Contain(DropSim.Scenarios.Building.UncertainKeys.Paths);

    [Fact]
    public void What_is_told_of_the_caught_leaves_out_those_that_are_not()
    {
        DrawnDrop Drop(int k) => new(k < 10 ? DrawEnding.Ground : DrawEnding.Caught, k < 10 ? 4 + k : 0, -1, [.. DrawStudy.Told.Select(id => id == Force ? (k < 10 ? 1e3 : 10e3 + k) : 1.0)]);
        var scenario = DrawnCases.Of([.. Enumerable.Range(0, 100).Select(Drop)], [.. Enumerable.Range(0, 100).Select(Drop)]);

        var caught = Caught.Of(scenario, 0, Force);
        caught.Smallest.Should().Be(10_010);
        caught.Low.Should().BeApproximately(10_010 + (0.05 * 89), 1e-6);
        caught.Dots.Should().HaveCount(18).And.BeInAscendingOrder();
        Missed.Of(scenario, 0).Should().Equal(new Missed(DrawEnding.Ground, -1, 10, 4, 13));
    }

    [Fact]
    public void A_count_never_says_all_or_none_where_it_is_not()
    {
        new OfTwenty(256, 256).Kind.Should().Be(TwentyKind.All);
        new OfTwenty(255, 256).Kind.Should().Be(TwentyKind.MoreThanNineteen);
        new OfTwenty(0, 256).Kind.Should().Be(TwentyKind.None);
        new OfTwenty(1, 256).Kind.Should().Be(TwentyKind.Few);
        new OfTwenty(128, 256).Should().Match<OfTwenty>(t => t.Kind == TwentyKind.Some && t.Twenty == 10);
    }

    [Fact]
    public void Twentieths_sum_to_twenty_and_are_off_by_less_than_one() => Gen.Int[0, 1000].Array[1, 8].Where(c => c.Sum() > 0).Sample(counts =>
    {
        var twenty = OfTwenty.Apportion(counts);
        twenty.Sum().Should().Be(20);
        twenty.Zip(counts).Should().OnlyContain(p => Math.Abs(p.First - (20.0 * p.Second / counts.Sum())) < 1);
    });

    /// <summary>A force that is least in the middle of an input and depends on nothing else: a rank correlation sees nothing of it.</summary>
    [Fact]
    public void What_moves_a_measure_is_seen_where_it_rises_and_falls()
    {
        var empty = DrawnCases.Of(new DrawnDrop[256], new DrawnDrop[256]);
        DrawnDrop Drop(int k, Func<double, double> law) => new(DrawEnding.Caught, 0, -1, [.. DrawStudy.Told.Select(id => id == Force ? law(empty.Share(0, 1, k)) : empty.Share(0, 0, k))]);
        var scenario = DrawnCases.Of([.. Enumerable.Range(0, 256).Select(k => Drop(k, s => 10e3 + (8e3 * Math.Abs(s - 0.5))))], [.. Enumerable.Range(0, 256).Select(k => Drop(k, s => 12e3))]);

        var mover = Movers.Of(scenario, 0, Force).Should().ContainSingle().Subject;
        mover.Key.Should().Be("rope.slack");
        mover.Share.Should().BeGreaterThan(0.8);
        Movers.Of(scenario, 1, Force).Should().BeEmpty("a force that never changes is moved by nothing");
    }

    [Fact]
    public void An_input_decides_only_where_it_separates_draws_that_it_was_not_found_on()
    {
        var empty = DrawnCases.Of(new DrawnDrop[256], new DrawnDrop[256]);
        DrawnDrop[] Drops(Func<int, double> force) => [.. Enumerable.Range(0, 256).Select(k => new DrawnDrop(DrawEnding.Caught, 0, -1, [.. DrawStudy.Told.Select(_ => force(k))]))];

        // Lower in the first case where there is much slack.
        var decided = Decider.Of(DrawnCases.Of(Drops(k => empty.Share(0, 1, k) > 0.4 ? 8e3 : 12e3), Drops(_ => 10e3)), 0, 1, Force);
        decided.Should().NotBeNull();
        (decided!.Key, decided.FirstLowerAbove).Should().Be(("rope.slack", true));

        // Every other draw of no input's doing.
        Decider.Of(DrawnCases.Of(Drops(k => k % 4 < 2 ? 8e3 : 12e3), Drops(_ => 10e3)), 0, 1, Force).Should().BeNull();
    }
}
