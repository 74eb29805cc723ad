using CsCheck;
using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>The functions of the system's library are the oracle: they are good to about one unit in the last place themselves.</summary>
public sealed class ElementaryTests
{
    private const int Cases = 20_000;

    /// <summary>Our unit in the last place and the library's.</summary>
    private const double Two = 2;

    [Fact]
    public void Sine_and_cosine_agree_with_the_library() => Gen.Double[-50, 50].Sample(
        x =>
        {
            var (sin, cos) = Elementary.SinCos(x);
            return Off(sin, Math.Sin(x)) <= Two && Off(cos, Math.Cos(x)) <= Two;
        },
        iter: Cases);

    [Fact]
    public void The_exponential_and_the_logarithm_agree_with_the_library() => Gen.Double[-40, 40].Sample(
        x => Off(Elementary.Exp(x), Math.Exp(x)) <= Two && Off(Elementary.Log(Math.Exp(x)), Math.Log(Math.Exp(x))) <= Two, iter: Cases);

    [Fact]
    public void The_angle_agrees_with_the_library_all_round() => Gen.Select(Gen.Double[-10, 10], Gen.Double[-10, 10]).Sample(
        (y, x) => Off(Elementary.Atan2(y, x), Math.Atan2(y, x)) <= 2 * Two, iter: Cases);

    /// <summary>x^p = e^(p ln x): the error of the exponent, half a unit of up to 40, is carried into the result.</summary>
    [Fact]
    public void A_power_agrees_with_the_library_to_the_error_of_its_exponent() => Gen.Select(Gen.Double[1e-6, 1e6], Gen.Double[-2, 2]).Sample(
        (x, p) => Math.Abs((Elementary.Pow(x, p) / Math.Pow(x, p)) - 1) < 40 * 2.3e-16, iter: Cases);

    [Theory]
    [InlineData(0.0, 1.0, 0.0)]
    [InlineData(0.0, -1.0, Math.PI)]
    [InlineData(-0.0, -1.0, -Math.PI)]
    [InlineData(1.0, 0.0, Math.PI / 2)]
    [InlineData(-1.0, 0.0, -Math.PI / 2)]
    [InlineData(0.0, 0.0, 0.0)]
    public void The_axes_have_their_exact_angles(double y, double x, double angle) => Elementary.Atan2(y, x).Should().Be(angle);

    [Fact]
    public void Nothing_and_everything_go_where_the_library_sends_them()
    {
        Elementary.SinCos(0).Should().Be((0.0, 1.0));
        Elementary.Exp(0).Should().Be(1);
        Elementary.Exp(-1000).Should().Be(0);
        Elementary.Exp(1000).Should().Be(double.PositiveInfinity);
        Elementary.Log(1).Should().Be(0);
        Elementary.Pow(0, 0.5).Should().Be(0);
        Elementary.Pow(3, 0).Should().Be(1);
        double.IsNaN(Elementary.SinCos(double.NaN).Sin).Should().BeTrue();
        double.IsNaN(Elementary.Exp(double.NaN)).Should().BeTrue();
    }

    /// <summary>Difference in units of the last place.</summary>
    private static double Off(double value, double oracle) => value == oracle ? 0 : Math.Abs(value - oracle) / (Math.BitIncrement(Math.Abs(oracle)) - Math.Abs(oracle));
}
