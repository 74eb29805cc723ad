using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>When a guard counts as standing at zero, and when a step is worth searching: what the watch promises.</summary>
public sealed class GuardWatchTests
{
    private const double Tolerance = 1e-6;

    [Fact]
    public void Zero_is_as_wide_as_the_round_off_of_the_largest_value_that_the_guard_has_had()
    {
        GuardWatch watch = Watch(2);
        watch.ZeroWidth(0).Should().Be(1e-14, "a guard that starts at zero needs some width");
        watch.Stand([1000, 1]);
        watch.ZeroWidth(0).Should().BeApproximately(1e-10, 1e-20);
        watch.ZeroWidth(1).Should().BeApproximately(1e-13, 1e-23);
        watch.Stand([0.5, double.PositiveInfinity]);
        watch.ZeroWidth(0).Should().BeApproximately(1e-10, 1e-20, "the largest, not the last");
        watch.ZeroWidth(1).Should().BeApproximately(1e-13, 1e-23, "an unused slot has no size");
        watch.Stand([-2000, 1]);
        watch.ZeroWidth(0).Should().BeApproximately(2e-10, 1e-20);
        watch.Begin();
        watch.ZeroWidth(0).Should().Be(1e-14, "a new run remembers nothing");
    }

    [Fact]
    public void After_an_event_a_guard_is_in_doubt_by_its_change_over_the_bracket_until_it_stands_clearly_off_zero()
    {
        GuardWatch watch = Watch(2);
        watch.Located([1e-6, double.PositiveInfinity], [-1e-6, 3]);
        watch.ZeroWidth(0).Should().BeApproximately(4e-6, 1e-18, "twice the change of 2e-6");
        watch.ZeroWidth(1).Should().Be(1e-14, "from unused to used is no doubt");
        watch.Stand([3e-6, 1]);
        watch.ZeroWidth(0).Should().BeApproximately(4e-6, 1e-18, "still at zero");
        watch.Stand([5e-6, 1]);
        watch.ZeroWidth(0).Should().Be(1e-14, "clearly above");
        watch.Located([1, 2], [0.5, 2]);
        watch.Begin();
        watch.ZeroWidth(0).Should().Be(1e-14);
    }

    [Fact]
    public void A_value_counted_as_zero_widens_zero_to_twice_its_size_and_never_narrows_it()
    {
        GuardWatch watch = Watch(1);
        watch.CountAsZero(0, -1e-9);
        watch.ZeroWidth(0).Should().Be(2e-9);
        watch.CountAsZero(0, -1e-12);
        watch.ZeroWidth(0).Should().Be(2e-9);
        watch.FirstBelow([-1e-9], 0).Should().Be(-1);
    }

    [Fact]
    public void The_first_guard_clearly_below_zero_is_named()
    {
        GuardWatch watch = Watch(4);
        watch.FirstBelow([1, -1e-15, -1, -2], 0).Should().Be(2);
        watch.FirstBelow([1, -1e-15, -1, -2], 3).Should().Be(3);
        watch.FirstBelow([-1, 0, 0, 0], 0).Should().Be(0);
        watch.FirstBelow([-1, 0, 0, 0], 1).Should().Be(-1);
        watch.FirstBelow([0, -1e-14, 1e-14, double.PositiveInfinity], 0).Should().Be(-1, "the width itself is still zero");
    }

    [Fact]
    public void Plus_infinity_is_an_unused_slot_and_minus_infinity_is_no_guard()
    {
        GuardWatch.FirstNotFinite([1, double.PositiveInfinity, double.NaN]).Should().Be(2);
        GuardWatch.FirstNotFinite([double.NegativeInfinity, 1]).Should().Be(0);
        GuardWatch.FirstNotFinite([0, -1e300, double.PositiveInfinity]).Should().Be(-1);
    }

    [Fact]
    public void A_guard_that_stood_above_zero_and_ends_below_it_is_to_be_searched_from_zero()
    {
        (GuardSight sight, GuardWatch watch) = Step([t => 0.5 - t, t => 1 + t]);
        sight.Should().Be(GuardSight.Suspicious);
        watch.Threshold(0).Should().Be(0);
        watch.Threshold(1).Should().Be(double.NegativeInfinity, "not worth watching");
    }

    [Fact]
    public void A_guard_that_stood_at_zero_is_to_be_searched_for_a_clear_fall_only()
    {
        (GuardSight sight, GuardWatch watch) = Step([t => -t]);
        sight.Should().Be(GuardSight.Suspicious);
        watch.Threshold(0).Should().Be(-1e-14);
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(1e4)]
    [InlineData(1e-4)]
    public void A_guard_that_may_dip_is_searched_where_its_stage_values_come_near_zero_and_only_there(double unit)
    {
        // (t - 0.45)^2 + rest over one step from 0 to 1: its range is 0.3025. Stage values may mislead by half of that times
        // theta^2 (1 - theta), at theta = 0.45 by 0.0168, and nowhere by more than half of 4/27: 0.0224.
        (GuardSight sight, GuardWatch watch) = Step([t => unit * (((t - 0.45) * (t - 0.45)) - 1e-4)], dips: true);
        sight.Should().Be(GuardSight.Suspicious);
        watch.Threshold(0).Should().BeApproximately(-unit * 0.3025 * Tolerance, unit * 0.02 * Tolerance, "a dip that the tolerance cannot tell from a touch is none");
        Step([t => unit * (((t - 0.45) * (t - 0.45)) + 0.012)], dips: true).Sight.Should().Be(GuardSight.Suspicious);
        Step([t => unit * (((t - 0.45) * (t - 0.45)) + 0.03)], dips: true).Sight.Should().Be(GuardSight.Clear);
        Step([t => unit * (((t - 0.45) * (t - 0.45)) - 1e-4)], dips: false).Sight.Should().Be(GuardSight.Clear, "it does not say that it may dip");
        Step([t => unit * (t + 0.01)], dips: true).Sight.Should().Be(GuardSight.Clear, "rising from the start, where stage values are exact");
        Step([t => unit * (1.01 - t)], dips: true).Sight.Should().Be(GuardSight.Clear, "falling, but exact at the end");
    }

    /// <summary>Several guards are read at once where the machine's vectors are as wide, the rest one by one: eleven are some of both.</summary>
    [Fact]
    public void Each_of_many_guards_is_read_by_itself()
    {
        const int Many = 11;
        for (int slot = 0; slot < Many; slot++)
        {
            Func<double, double>[] guards = [.. Enumerable.Range(0, Many).Select<int, Func<double, double>>(_ => t => 2 + t)];
            guards[slot] = t => ((t - 0.45) * (t - 0.45)) - 1e-4;
            (GuardSight sight, GuardWatch watch) = Step(guards, dips: true);
            sight.Should().Be(GuardSight.Suspicious);
            for (int j = 0; j < Many; j++)
            {
                (watch.Threshold(j) > double.NegativeInfinity).Should().Be(j == slot);
            }

            watch.Threshold(slot).Should().BeApproximately(-0.3025 * Tolerance, 0.02 * Tolerance);
            foreach (double bad in new[] { double.NaN, double.NegativeInfinity })
            {
                guards[slot] = t => t is > 0.1 and < 0.5 ? bad : 1;
                Step(guards, dips: true).Sight.Should().Be(GuardSight.NotFinite);
            }

            guards[slot] = t => t is > 0.1 and < 0.5 ? double.PositiveInfinity : 1;
            Step(guards, dips: true).Sight.Should().Be(GuardSight.Clear, "unused for a while, and clear of zero when used");
        }
    }

    [Fact]
    public void Slots_that_are_not_used_at_either_end_are_not_watched()
    {
        Step([_ => double.PositiveInfinity], dips: true).Sight.Should().Be(GuardSight.Clear);
        Step([t => t < 0.5 ? ((t - 0.2) * (t - 0.2)) - 1e-4 : double.PositiveInfinity], dips: true).Sight.Should().Be(GuardSight.Suspicious, "it was used, and dipped");
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void A_guard_that_is_no_number_at_a_stage_or_at_the_end_is_told(double value)
    {
        Step([_ => 1, t => t == 1 ? value : 1]).Sight.Should().Be(GuardSight.NotFinite);
        Step([_ => 1, t => t is > 0 and < 1 ? value : 1], dips: true).Sight.Should().Be(GuardSight.NotFinite);
        Step([_ => -1, t => t is > 0 and < 1 ? value : 1], dips: true).Sight.Should().Be(GuardSight.NotFinite);
    }

    private static GuardWatch Watch(int guards)
    {
        var watch = new GuardWatch(new GuardedSystem(1, guards) { Rates = (_, _, _, _) => { } }, RungeKuttaMethod.Verner76, Tolerance, seesDips: true);
        watch.Begin();
        return watch;
    }

    // What the watch says of one step from 0 to 1 with guards that are functions of time.
    private static (GuardSight Sight, GuardWatch Watch) Step(Func<double, double>[] guards, bool dips = false)
    {
        var system = new GuardedSystem(1, guards.Length)
        {
            Dips = dips,
            Rates = (t, _, f, g) =>
            {
                f[0] = 1;
                for (int j = 0; j < guards.Length; j++)
                {
                    g[j] = guards[j](t);
                }
            },
        };
        var stepper = new Stepper(new Evaluator(system), RungeKuttaMethod.Verner76, Tolerance);
        var watch = new GuardWatch(system, RungeKuttaMethod.Verner76, Tolerance, seesDips: true);
        watch.Begin();
        stepper.Restart(0);
        watch.Restart();
        watch.Stand(stepper.StartGuards);
        stepper.Try(1);
        stepper.CompleteEnd();
        return (watch.Read(stepper), watch);
    }
}
