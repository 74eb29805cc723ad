namespace DropSim.Validation.Measured;

/// <summary>The bench tests of rope over round hosts.</summary>
public sealed class BenchFrictionTests
{
    /// <summary>The source prints mu = ln(raise / lower) / (2 theta) to two digits.</summary>
    [Theory]
    [InlineData(0, 0.21)]
    [InlineData(1, 0.15)]
    [InlineData(2, 0.19)]
    [InlineData(3, 0.18)]
    [InlineData(4, 0.14)]
    [InlineData(5, 0.18)]
    [InlineData(6, 0.25)]
    [InlineData(7, 0.19)]
    [InlineData(8, 0.21)]
    [InlineData(9, 0.24)]
    [InlineData(10, 0.24)]
    [InlineData(11, 0.37)]
    [InlineData(12, 0.36)]
    [InlineData(13, 0.44)]
    public void The_rows_give_the_coefficients_that_the_source_prints(int row, double printed) =>
        BenchFriction.Rows[row].BothWays.Should().BeApproximately(printed, 0.0051);

    /// <summary>Stated by the source for every row.</summary>
    [Fact]
    public void Every_host_rubs_more_in_lowering_than_in_raising()
    {
        foreach (var row in BenchFriction.Rows)
        {
            row.FromLowering.Should().BeGreaterThan(row.FromRaising, row.Host);
        }
    }
}
