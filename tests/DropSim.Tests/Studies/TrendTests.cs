using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Tests.Studies;

public sealed class TrendTests
{
    [Theory]
    [InlineData(new double[] { 1, 2, 2, 3 }, TrendKind.Rising)]
    [InlineData(new double[] { 3, 2, double.NaN, 1 }, TrendKind.Falling)]
    [InlineData(new double[] { 1, 3, 2 }, TrendKind.Neither)]
    [InlineData(new double[] { 1, 1.001, 0.9995 }, TrendKind.Level)]
    [InlineData(new double[] { 5 }, TrendKind.Level)]
    public void A_row_is_judged_by_its_steps(double[] row, TrendKind expected) => Trend.Of(row).Kind.Should().Be(expected);

    [Fact]
    public void Where_it_turns_is_where_the_run_one_way_ended() => Trend.Of([1, 2, 5, 4, 3]).TurnsAt.Should().Be(2);

    [Fact]
    public void Many_slight_steps_down_are_a_fall_all_the_same()
    {
        // 0.1 % each step is slight; 5 % in all is not.
        var row = Enumerable.Range(0, 51).Select(i => i == 0 ? 0.9 : 1 - (0.001 * i)).ToArray();

        Trend.Of(row).Kind.Should().Be(TrendKind.Neither);
    }

    [Fact]
    public void A_contour_of_a_cone_is_one_closed_circle()
    {
        // f = sqrt(x2 + y2) - 1 on a grid of 0.1: linear interpolation errs by h2 / (8 r) = 0.00125 at most along an edge.
        var at = Enumerable.Range(-20, 41).Select(i => 0.1 * i).ToArray();

        var lines = ContourLines.Zero(at, at, (i, j) => double.Hypot(at[i], at[j]) - 1);

        lines.Should().ContainSingle();
        lines[0].Should().OnlyContain(p => Math.Abs(double.Hypot(p.X, p.Y) - 1) < 0.00125);
        lines[0][0].Should().Be(lines[0][^1]);
    }

    [Fact]
    public void A_contour_does_not_enter_what_is_not_known()
    {
        double[] at = [0, 1, 2];

        var line = ContourLines.Zero(at, at, (i, j) => i == 0 ? double.NaN : j - 0.5).Should().ContainSingle().Which;

        line.OrderBy(p => p.X).Should().Equal((1, 0.5), (2, 0.5));
    }
}
