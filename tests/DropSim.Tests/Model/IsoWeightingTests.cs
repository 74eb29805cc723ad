using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Weightings of ISO 2631-1:1997. Factors of the tables are computed from the transfer functions of its Annex A at the exact
/// one-third-octave centres 10^(n/10) Hz, independently of this code.
/// </summary>
public sealed class IsoWeightingTests
{
    /// <summary>n, Wk x 1000, Wd x 1000.</summary>
    public static TheoryData<int, double, double> Factors => new()
    {
        { -10, 31.2, 62.4 }, { -9, 49.3, 98.7 }, { -8, 77.6, 155.3 }, { -7, 120.7, 242.0 }, { -6, 183.2, 368.2 }, { -5, 264.4, 533.0 },
        { -4, 350.4, 709.7 }, { -3, 418.8, 854.0 }, { -2, 458.8, 944.3 }, { -1, 476.7, 991.4 }, { 0, 482.5, 1011.0 },
        { 1, 484.6, 1007.1 }, { 2, 493.5, 970.7 }, { 3, 530.8, 891.3 }, { 4, 633.5, 773.3 }, { 5, 807.1, 639.8 }, { 6, 964.8, 514.3 },
        { 7, 1039.2, 408.1 }, { 8, 1054.4, 322.6 }, { 9, 1037.4, 255.0 }, { 10, 988.4, 201.7 }, { 11, 898.9, 159.7 },
        { 12, 774.3, 126.6 }, { 13, 637.3, 100.4 }, { 14, 510.3, 79.6 }, { 15, 403.1, 63.0 }, { 16, 316.0, 49.6 }, { 17, 245.1, 38.7 },
        { 18, 185.7, 29.5 }, { 19, 133.9, 21.3 }, { 20, 88.7, 14.1 },
    };

    [Theory]
    [MemberData(nameof(Factors))]
    public void FactorsFollowTheTransferFunctions(int n, double wk, double wd)
    {
        double frequency = Math.Pow(10, n / 10.0);

        // Tables carry one decimal.
        (1000 * IsoWeighting.Wk.FactorAt(frequency)).Should().BeApproximately(wk, 0.051);
        (1000 * IsoWeighting.Wd.FactorAt(frequency)).Should().BeApproximately(wd, 0.051);
    }

    [Fact]
    public void HorizontalFactorAtOneHundredRadiansPerSecond() =>
        // Printed in manuals of vibration meters to ISO 8041: 15.915 Hz, factor 0.1261.
        IsoWeighting.Wd.FactorAt(15.915).Should().BeApproximately(0.1261, 0.00005);

    [Theory]
    [InlineData(0.4)]
    [InlineData(1)]
    [InlineData(2.5)]
    [InlineData(6.3)]
    [InlineData(16)]
    [InlineData(25)]
    [InlineData(40)]
    public void SineThroughTheFilterComesOutTimesTheFactor(double frequency)
    {
        foreach (IsoWeighting weighting in new[] { IsoWeighting.Wd, IsoWeighting.Wk })
        {
            double[] weighted = weighting.Weight(Sine(2, frequency, 30, 0.001), 0.001);

            // After 20 s the start has died away (slowest part 0.4 Hz, 0.7 damped); 10 s are whole periods of all of these.
            double meanSquare = weighted[20_000..30_000].Select(a => a * a).Average();
            double amplitude = Math.Sqrt(2 * meanSquare);
            amplitude.Should().BeApproximately(2 * weighting.FactorAt(frequency), 0.001 * 2 * weighting.FactorAt(frequency));
        }
    }

    [Fact]
    public void FilterHardlyDependsOnTheGrid()
    {
        double[] coarse = IsoWeighting.Wd.Weight(Sine(1, 3, 6, 0.002), 0.002);
        double[] fine = IsoWeighting.Wd.Weight(Sine(1, 3, 6, 0.00025), 0.00025);
        for (int i = 100; i < coarse.Length - 2; i++)
        {
            coarse[i].Should().BeApproximately(fine[8 * i], 1e-4);
        }
    }

    [Fact]
    public void SteadyPushIsWeightedAway()
    {
        double[] constant = Enumerable.Repeat(3.0, 20_000).ToArray();

        Math.Abs(IsoWeighting.Wd.Weight(constant, 0.001)[^1]).Should().BeLessThan(1e-6);
    }

    [Fact]
    public void TransientValueOfASineIsItsRootMeanSquare()
    {
        // Whole periods in one second: 2/sqrt 2 whatever the phase.
        IsoWeighting.MaximumTransientVibrationValue(Sine(2, 5, 4, 0.001), 0.001).Should().BeApproximately(2 / Math.Sqrt(2), 1e-5);
    }

    [Fact]
    public void TransientValueTakesTheBestSecond()
    {
        // 0.5 s of 4 m/s2 and rest before and after: sqrt(16 * 0.5/1).
        double[] pulse = new double[3001];
        Array.Fill(pulse, 4, 1000, 500);

        IsoWeighting.MaximumTransientVibrationValue(pulse, 0.001).Should().BeApproximately(Math.Sqrt(8), 1e-3);

        // A record shorter than a second had rest before it.
        IsoWeighting.MaximumTransientVibrationValue(Sine(2, 4, 0.5, 0.001), 0.001).Should().BeApproximately(Math.Sqrt(0.5 * 2), 1e-5);
    }

    [Fact]
    public void TransientValueNeedsNoWholeNumberOfSteps()
    {
        IsoWeighting.MaximumTransientVibrationValue(Sine(2, 5, 4, 0.0007), 0.0007).Should().BeApproximately(Math.Sqrt(2), 1e-4);
    }

    [Fact]
    public void DoseOfASineIsItsClosedForm()
    {
        // Mean of sin^4 = 3/8: VDV = A (3 T/8)^(1/4).
        IsoWeighting.VibrationDoseValue(Sine(2, 5, 4, 0.001), 0.001).Should().BeApproximately(2 * Math.Pow(3.0 * 4 / 8, 0.25), 1e-6);
    }

    private static double[] Sine(double amplitude, double frequency, double duration, double step) =>
        [.. Enumerable.Range(0, (int)Math.Round(duration / step) + 1).Select(i => amplitude * Math.Sin(2 * Math.PI * frequency * i * step))];
}
