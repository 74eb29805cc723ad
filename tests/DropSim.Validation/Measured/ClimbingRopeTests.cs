using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>What 99 climbing ropes say about the stiffness of a rope in a jerk.</summary>
public sealed class ClimbingRopeTests
{
    [Fact]
    public void The_default_relaxing_ratio_and_its_range_are_the_middle_and_the_ends_that_99_climbing_ropes_ask_for()
    {
        var (low, middle, high) = ClimbingRopeSection.Points(ClimbingRopeSection.DefaultTime, f => f.Ratio);
        var standard = ClimbingRopeSection.Default;

        ClimbingRopes.Declared.Should().HaveCount(99);
        standard.Value.Should().BeApproximately(middle, ClimbingRopeSection.SameRatio);
        standard.Low.Should().BeApproximately(low, ClimbingRopeSection.SameRatio);
        standard.High.Should().BeApproximately(high, ClimbingRopeSection.SameRatio);
    }

    [Fact]
    public void Every_fitted_rope_gives_its_declared_impact_force_with_a_relaxing_part_above_nothing()
    {
        foreach (var fitted in ClimbingRopes.Fitted(ClimbingRopeSection.DefaultTime))
        {
            ClimbingRopes.Fall(fitted.Rope.Lasting, fitted.Relaxing, ClimbingRopeSection.DefaultTime).Peak.T1.Should().BeApproximately(fitted.Rope.ImpactForce, 2);
            fitted.Relaxing.Should().BeGreaterThan(0);
        }
    }

    [Fact]
    public void Decision_23_states_the_numbers_that_come_out()
    {
        var text = File.ReadAllText(Path.Combine(Repository.Folder("docs"), "decisions", "0023-how-stiff-in-a-jerk.md"));
        var (low, middle, high) = ClimbingRopeSection.Points(0.3, f => f.Ratio);
        var fitted = ClimbingRopes.Fitted(0.3);
        static string Off(double time) => N(100 * Math.Abs(Sample.GeometricMean(ClimbingRopes.Fitted(time).Select(f => f.StretchOverDeclared)) - 1), 0);

        text.Should().Contain($"{N(middle, 1)} times EA in the middle, {N(low, 1)} to {N(high, 1)} from 5 to 95 %");
        text.Should().Contain($"{Off(0.3)} % long at 0.3 s and {Off(0.1)} % short at 0.1 s");
        text.Should().Contain($"ln sd {N(Sample.LogDeviation(fitted.Select(f => f.InAJerk)), 2)}");
    }
}
