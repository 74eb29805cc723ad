using CsCheck;
using DropSim.Model;
using DropSim.Studies.Draws;
using DropSim.Tests.Model;

namespace DropSim.Tests.Draws;

/// <summary>The law of pairs against brute force: what two cases on the same draws may say of each other.</summary>
public sealed class PairAnswerTests
{
    private const string Force = MeasureIds.RiggingPointForce;

    [Fact]
    public void Two_equal_cases_are_level_in_twenty_of_twenty()
    {
        var one = DrawnCases.MediumLog("one");
        var answer = PairAnswer.Of(DrawStudy.Compute([one, one with { Setup = "two" }], DrawnCases.Plan(64)), 0, 1, Force);

        answer.Verdict.Should().Be(PairVerdict.Level);
        answer.Level.Should().Be(answer.Both).And.BePositive();
        (answer.FirstLower, answer.SecondLower, answer.OnlyFirst, answer.OnlySecond).Should().Be((0, 0, 0, 0));
        answer.Typical.Should().Be(1);
    }

    /// <summary>A stiffer rope with nothing else changed stops the same fall over a shorter way: more force in every draw.</summary>
    [Fact]
    public void A_known_difference_in_one_input_comes_out_in_twenty_of_twenty_however_much_else_is_unknown()
    {
        var soft = DrawnCases.MediumLog("soft");
        var stiff = soft with { Setup = "stiff", Input = soft.Input.WithRope(r => r with { Stiffness = 2 * r.Stiffness }) };
        var scenario = DrawStudy.Compute([stiff, soft], DrawnCases.Plan(64));

        var answer = PairAnswer.Of(scenario, 0, 1, MeasureIds.LoadLegTension);
        answer.SecondLower.Should().Be(answer.Both).And.BePositive();
        answer.Verdict.Should().Be(PairVerdict.SecondLower);
        answer.Low.Should().BeGreaterThan(1.05);

        // Brute force: every draw again, by hand.
        for (var k = 0; k < 8; k++)
        {
            var (a, b) = (DropSimulator.Run(scenario.Input(0, k)), DropSimulator.Run(scenario.Input(1, k)));
            a.Input.Piece.Mass.Should().Be(b.Input.Piece.Mass);
            a[MeasureIds.LoadLegTension].Value.Should().BeGreaterThan(b[MeasureIds.LoadLegTension].Value);
            a[MeasureIds.LoadLegTension].Value.Should().BeApproximately(scenario.Cases[0].Drops[k].Values[scenario.PlaceOf(MeasureIds.LoadLegTension)], 2e-3 * a[MeasureIds.LoadLegTension].Value);
        }
    }

    [Fact]
    public void The_six_outcomes_sum_to_twenty_and_a_drop_that_is_not_caught_is_never_lower() => Gen.Int[0, 7].Array[1, 300].Sample(kinds =>
    {
        // Bits: first caught, second caught, first lower; what is not caught has the smaller number, as a drop that hit the ground before its peak.
        var scenario = DrawnCases.Of([.. kinds.Select(k => Drop((k & 1) != 0, (k & 4) != 0 ? 8e3 : 12e3))], [.. kinds.Select(k => Drop((k & 2) != 0, 10e3))]);
        var answer = PairAnswer.Of(scenario, 0, 1, Force);

        answer.Twenty.Sum().Should().Be(20);
        answer.Twenty.Should().HaveCount(6).And.OnlyContain(n => n >= 0);
        answer.Drawn.Should().Be(kinds.Length);
        answer.FirstLower.Should().Be(kinds.Count(k => k == 7));
        answer.SecondLower.Should().Be(kinds.Count(k => k == 3));
        answer.OnlyFirst.Should().Be(kinds.Count(k => (k & 3) == 1));
        answer.OnlySecond.Should().Be(kinds.Count(k => (k & 3) == 2));
        answer.Neither.Should().Be(kinds.Count(k => (k & 3) == 0));
        answer.HasRatio.Should().Be(kinds.Count(k => (k & 3) == 3) >= PairAnswer.FewestPairs);
        if (answer.Both == 0)
        {
            answer.Verdict.Should().Be(PairVerdict.Endings);
        }
    });

    [Theory]
    [InlineData(20, 0, PairVerdict.FirstLower)]
    [InlineData(18, 2, PairVerdict.FirstLower)]
    [InlineData(15, 5, PairVerdict.FirstMoreOftenLower)]
    [InlineData(11, 9, PairVerdict.Open)]
    [InlineData(7, 13, PairVerdict.SecondMoreOftenLower)]
    [InlineData(1, 19, PairVerdict.SecondLower)]
    public void Counts_of_twenty_give_the_verdict(int lower, int higher, PairVerdict verdict)
    {
        DrawnDrop[] first = [.. Enumerable.Repeat(Drop(true, 8e3), lower), .. Enumerable.Repeat(Drop(true, 12e3), higher)];
        PairAnswer.Of(DrawnCases.Of(first, [.. Enumerable.Repeat(Drop(true, 10e3), 20)]), 0, 1, Force).Verdict.Should().Be(verdict);
    }

    [Fact]
    public void Where_most_drops_are_not_caught_in_both_how_they_end_is_the_difference()
    {
        DrawnDrop[] first = [.. Enumerable.Repeat(Drop(false, 1e3), 15), .. Enumerable.Repeat(Drop(true, 8e3), 5)];
        PairAnswer.Of(DrawnCases.Of(first, [.. Enumerable.Repeat(Drop(true, 10e3), 20)]), 0, 1, Force).Verdict.Should().Be(PairVerdict.Endings);
    }

    private static DrawnDrop Drop(bool caught, double force) =>
        new(caught ? DrawEnding.Caught : DrawEnding.Ground, caught ? 0 : 6, -1, [.. DrawStudy.Told.Select(id => id == Force ? force : 1.0)]);
}
