using DropSim.Model;
using DropSim.Studies.Uncertainty;
using FluentAssertions;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;
using Xunit;

namespace DropSim.Tests.Studies;

public sealed class UncertaintyMathematicsTests
{
    [Fact]
    public void The_plain_sequence_is_that_of_Joe_and_Kuo()
    {
        // scipy.stats.qmc.Sobol(64, scramble=False) of SciPy 1.10.1: points 5 and 1000, dimensions 1, 2, 3, 8, 21, 41, 64.
        int[] dimensions = [0, 1, 2, 7, 20, 40, 63];
        var plain = new SobolSequence(64, null);
        double[] fifth = [0.875, 0.875, 0.125, 0.375, 0.625, 0.375, 0.625];
        double[] thousandth = [0.2197265625, 0.0966796875, 0.5185546875, 0.8994140625, 0.5224609375, 0.9130859375, 0.4462890625];
        for (var k = 0; k < dimensions.Length; k++)
        {
            // Ours lie half a bit, 2^-33, further on, so that none is 0.
            plain.At(5, dimensions[k]).Should().BeApproximately(fifth[k], 2e-10);
            plain.At(1000, dimensions[k]).Should().BeApproximately(thousandth[k], 2e-10);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(77)]
    public void Scrambling_keeps_every_one_of_1024_equal_intervals_filled_once_in_each_dimension(int seed)
    {
        var sequence = new SobolSequence(64, seed);
        for (var d = 0; d < 64; d++)
        {
            Enumerable.Range(0, 1024).Select(k => (int)(1024 * sequence.At(k, d))).Order().Should().Equal(Enumerable.Range(0, 1024));
        }
    }

    [Fact]
    public void Scrambling_keeps_every_elementary_rectangle_of_the_first_two_dimensions_filled_once()
    {
        // The first two dimensions form a (0, m, 2)-net: 256 points, each of 2^a x 2^(8-a) rectangles holds one.
        var sequence = new SobolSequence(2, 5);
        for (var a = 0; a <= 8; a++)
        {
            var across = 1 << a;
            var up = 1 << (8 - a);
            Enumerable.Range(0, 256).Select(k => ((int)(across * sequence.At(k, 0)) * up) + (int)(up * sequence.At(k, 1)))
                .Distinct().Should().HaveCount(256, "cut into {0} by {1}", across, up);
        }
    }

    [Fact]
    public void Another_seed_gives_other_points_and_the_same_seed_the_same()
    {
        new SobolSequence(3, 1).At(7, 2).Should().Be(new SobolSequence(3, 1).At(7, 2));
        new SobolSequence(3, 1).At(7, 2).Should().NotBe(new SobolSequence(3, 2).At(7, 2));
    }

    [Fact]
    public void A_Latin_hypercube_fills_every_interval_once_and_its_quantiles_are_those_of_the_distribution()
    {
        const int Count = 2000;
        var plan = SamplePlan.Create(SamplingMethod.LatinHypercube, 4, Count, 3);
        for (var d = 0; d < 4; d++)
        {
            Enumerable.Range(0, Count).Select(k => (int)(Count * plan.At(k, d))).Order().Should().Equal(Enumerable.Range(0, Count));
        }

        // Through the normal distribution: quantiles of the sample against MathNet's inverse. One interval is 1/2000 wide, and
        // the density at the 5 % point is 0.103, so a quantile is off by at most about 2 x 0.0005 / 0.103 = 0.01.
        var normal = new InputDistribution(DistributionKind.Normal, Normal.InvCDF(10, 2, 0.05), 10, Normal.InvCDF(10, 2, 0.95));
        double[] values = [.. Enumerable.Range(0, Count).Select(k => Distributions.Quantile(normal, plan.At(k, 0))).Order()];
        foreach (var share in new[] { 0.05, 0.25, 0.5, 0.75, 0.95 })
        {
            Quantiles.Sorted(values, share).Should().BeApproximately(Normal.InvCDF(10, 2, share), 0.02);
            Quantiles.Sorted(values, share).Should().BeApproximately(values.QuantileCustom(share, QuantileDefinition.R7), 1e-12);
        }
    }

    [Fact]
    public void Distributions_have_the_quantiles_that_their_names_promise()
    {
        static double At(DistributionKind kind, double low, double mid, double high, double share) =>
            Distributions.Quantile(new InputDistribution(kind, low, mid, high), share);

        At(DistributionKind.Uniform, 2, 3, 6, 0.25).Should().BeApproximately(3, 1e-12, "2 + 0.25 x 4");

        // Triangle 0, 1, 4: the share below the top is 1/4, so the quantile of 1/16 is sqrt(1/16 x 4 x 1) = 0.5.
        At(DistributionKind.Triangular, 0, 1, 4, 1.0 / 16).Should().BeApproximately(0.5, 1e-12);
        At(DistributionKind.LogTriangular, 110e3, 220e3, 440e3, 0.5).Should().BeApproximately(220e3, 1e-6, "symmetric in the logarithm");
        At(DistributionKind.Normal, 8, 10, 12, 0.95).Should().BeApproximately(12, 1e-9);
        At(DistributionKind.LogNormal, 1, 2, 4, 0.05).Should().BeApproximately(1, 1e-9);
        At(DistributionKind.LogNormal, 1, 2, 4, 0.5).Should().BeApproximately(2, 1e-9, "sqrt(1 x 4)");
    }

    [Fact]
    public void What_lies_beyond_a_limit_is_cut_off_and_the_rest_scaled_up()
    {
        // Standard normal cut at 0: the median of the upper half is the 75 % point of the whole, 0.6745.
        var half = new InputDistribution(DistributionKind.Normal, -Normal.InvCDF(0, 1, 0.95), 0, Normal.InvCDF(0, 1, 0.95)) { Least = 0 };
        Distributions.Quantile(half, 0.5).Should().BeApproximately(Normal.InvCDF(0, 1, 0.75), 1e-9);
        Distributions.Quantile(half, 1e-9).Should().BeGreaterThanOrEqualTo(0);
    }

    /// <summary>Ishigami's function with the usual a = 7, b = 0.1.</summary>
    private static double Ishigami(double x1, double x2, double x3) =>
        Math.Sin(x1) + (7 * Math.Sin(x2) * Math.Sin(x2)) + (0.1 * Math.Pow(x3, 4) * Math.Sin(x1));

    [Theory]
    [InlineData(SamplingMethod.Sobol, 4096, 0.01)]
    [InlineData(SamplingMethod.LatinHypercube, 8192, 0.06)]
    public void Indices_of_Ishigamis_function_are_the_analytic_ones(SamplingMethod method, int count, double tolerance)
    {
        // T. Ishigami, T. Homma (1990); variances worked out by integration over (-pi, pi)^3:
        // V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V13 = b^2 pi^8 (1/18 - 1/50), V = their sum.
        const double A = 7;
        const double B = 0.1;
        var v1 = Math.Pow(1 + (B * Math.Pow(Math.PI, 4) / 5), 2) / 2;
        var v2 = A * A / 8;
        var v13 = B * B * Math.Pow(Math.PI, 8) * ((1.0 / 18) - (1.0 / 50));
        var v = v1 + v2 + v13;
        double[] first = [v1 / v, v2 / v, 0];
        double[] total = [(v1 + v13) / v, v2 / v, v13 / v];

        // As printed in many textbooks: S 0.3139, 0.4424, 0; T 0.5576, 0.4424, 0.2437.
        first[0].Should().BeApproximately(0.3139, 5e-5);
        first[1].Should().BeApproximately(0.4424, 5e-5);
        total[0].Should().BeApproximately(0.5576, 5e-5);
        total[2].Should().BeApproximately(0.2437, 5e-5);

        var plan = SamplePlan.Create(method, 6, count, 1);
        double X(int k, int d) => Math.PI * ((2 * plan.At(k, d)) - 1);
        double[] a = [.. Enumerable.Range(0, count).Select(k => Ishigami(X(k, 0), X(k, 1), X(k, 2)))];
        double[] b = [.. Enumerable.Range(0, count).Select(k => Ishigami(X(k, 3), X(k, 4), X(k, 5)))];
        for (var i = 0; i < 3; i++)
        {
            double[] mixed = [.. Enumerable.Range(0, count).Select(k => Ishigami(X(k, i == 0 ? 3 : 0), X(k, i == 1 ? 4 : 1), X(k, i == 2 ? 5 : 2)))];
            var (s, t) = SobolIndices.Of(a, b, mixed, 1);
            s.Value.Should().BeApproximately(first[i], tolerance);
            t.Value.Should().BeApproximately(total[i], tolerance);
            s.Low.Should().BeLessThan(first[i]);
            s.High.Should().BeGreaterThan(first[i]);
            t.Low.Should().BeLessThan(total[i]);
            t.High.Should().BeGreaterThan(total[i]);
        }
    }

    [Fact]
    public void A_quantile_that_falls_among_drops_that_were_cut_short_is_a_lower_bound_and_one_below_them_is_exact()
    {
        // Ten drops: 1 to 7 kN to the end, three cut short at 2.5, 8 and 9 kN.
        double[] lows = [1, 2, 2.5, 3, 4, 5, 6, 7, 8, 9];
        double[] highs = [1, 2, 3, 4, 5, 6, 7, double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity];
        Quantiles.Of(lows, highs, 0.05).IsExact.Should().BeTrue("both ends are 1 + 0.45 x (2 - 1)");
        var median = Quantiles.Of(lows, highs, 0.5);
        (median.Low, median.High).Should().Be((4.5, 5.5));
        var high = Quantiles.Of(lows, highs, 0.95);
        high.Low.Should().BeApproximately(8.55, 1e-12);
        high.High.Should().Be(double.PositiveInfinity);
    }

    [Fact]
    public void The_share_past_a_limit_counts_what_surely_and_what_may_be_past_it()
    {
        double[] lows = [1, 2, 3, 5, 6];
        double[] highs = [1, 2, double.PositiveInfinity, 5, 6];
        var share = Quantiles.Past(lows, highs, 4, atOrBelow: false);
        (share.Low, share.High).Should().Be((0.4, 0.6));
        var low = Quantiles.Past(lows, highs, 2, atOrBelow: true);
        (low.Low, low.High).Should().Be((0.4, 0.4));
    }

    [Fact]
    public void None_of_1024_still_leaves_a_third_of_a_percent_open()
    {
        // Clopper and Pearson, none of n: 1 - 0.025^(1/n).
        var share = Quantiles.Share(0, 0, 1024);
        share.SampleLow.Should().Be(0);
        share.SampleHigh.Should().BeApproximately(1 - Math.Pow(0.025, 1.0 / 1024), 1e-9);
    }

    [Fact]
    public void The_interval_of_a_median_is_that_of_the_sign_test()
    {
        // Ten values: P(at most 1 below the median) = 11/1024 = 0.011 <= 0.025 < P(at most 2) = 56/1024: ranks 2 and 9.
        double[] values = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
        var median = Quantiles.Of(values, values, 0.5);
        (median.SampleLow, median.SampleHigh).Should().Be((2, 9));
    }
}
