using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Tests.Scenarios;

/// <summary>Which events only one of two runs has.</summary>
public sealed class EventComparisonTests
{
    private const double Fallen = 1_000;

    private static RunEvent Strike(double time, double energy) => new(time, EventKind.Strike, "", true) { Energy = energy };

    private static RunEvent Plain(double time, EventKind kind) => new(time, kind, "", true);

    [Fact]
    public void Events_of_one_kind_near_in_time_are_the_same_whatever_they_carry()
    {
        EventComparison.OnlyInOne([Plain(0, EventKind.HingeBreaks), Strike(1, 50)], [Plain(0.001, EventKind.HingeBreaks), Strike(1.02, 45)], Fallen).Should().BeEmpty();
    }

    [Fact]
    public void What_is_left_over_is_what_carries_least()
    {
        // The strong strike has its like, the weak one before it has not.
        var single = EventComparison.OnlyInOne([Strike(2.00, 0.05), Strike(2.05, 40)], [Strike(2.04, 41)], Fallen);

        single.Should().ContainSingle();
        single[0].Event.Energy.Should().Be(0.05);
        single[0].InTighterRun.Should().BeFalse();
        single[0].IsSlight.Should().BeTrue("0.05 J of 1000 J is half of what the books may be open by");
    }

    [Fact]
    public void A_strike_that_counts_an_event_without_energy_and_one_far_off_in_time_are_not_slight()
    {
        var single = EventComparison.OnlyInOne([Strike(1, 5), Plain(3, EventKind.LoadLegSlack)], [Strike(1.5, 5)], Fallen);

        single.Select(s => (s.Event.Time, s.InTighterRun)).Should().Equal((1, false), (1.5, true), (3, false));
        single.Should().OnlyContain(s => !s.IsSlight);
    }
}
