using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Told;
using DropSim.Studies.Draws;

namespace DropSim.Tests.Draws;

/// <summary>One measure of set-ups like a drop in words: those not caught are counted apart, and never stand in a range.</summary>
public sealed class LikeItWordsTests
{
    [Fact]
    public void A_range_is_of_those_caught_and_says_so_and_the_others_are_told_with_their_speed()
    {
        var told = Told(256, k => k < 64 ? null : 10e3 + (40 * k));

        LikeItWords.Spread(told, MeasureIds.RiggingPointForce, UnitSystem.Si).Should().Be(("18 of 20 caught", "13 to 20 kN"));
        LikeItWords.NotCaught(told, UnitSystem.Si).Should().Be("5 of 20 not caught: hits the ground at 6.0 m/s");
        LikeItWords.Dots(told, MeasureIds.RiggingPointForce, UnitSystem.Si).Should().Be("15 of 20 set-ups like it: 13 to 20 kN, half of them below 16 kN. 5 of 20 not caught: hits the ground at 6.0 m/s.");
    }

    [Fact]
    public void With_few_caught_there_is_no_range_and_with_none_no_dot()
    {
        LikeItWords.Spread(Told(64, k => k < 50 ? null : 12e3), MeasureIds.RiggingPointForce, UnitSystem.Si).Of.Should().BeEmpty();
        LikeItWords.Dots(Told(64, _ => null), MeasureIds.RiggingPointForce, UnitSystem.Si).Should().Be("No set-up like it is caught. 20 of 20 not caught: hits the ground at 6.0 m/s.");
    }

    [Fact]
    public void Values_that_are_all_alike_are_told_once()
    {
        var told = Told(64, _ => 12e3);

        LikeItWords.Spread(told, MeasureIds.RiggingPointForce, UnitSystem.Si).Should().Be(("18 of 20", "12 kN"));
        LikeItWords.Dots(told, MeasureIds.RiggingPointForce, UnitSystem.Si).Should().Be("20 of 20 set-ups like it: 12 kN.");
        LikeItWords.NotCaught(told, UnitSystem.Si).Should().BeEmpty();
    }

    private static ToldCase Told(int count, Func<int, double?> force)
    {
        DrawnDrop Drop(int k) => new(force(k) is null ? DrawEnding.Ground : DrawEnding.Caught, force(k) is null ? 6 : 0, -1, [.. DrawStudy.Told.Select(_ => force(k) ?? 1e3)]);
        DrawnDrop[] drops = [.. Enumerable.Range(0, count).Select(Drop)];
        var scenario = DrawnCases.Of(drops, drops);
        return ToldCase.Of(scenario, 0, DropSimulator.Run(scenario.Cases[0].Case.Input), []);
    }
}
