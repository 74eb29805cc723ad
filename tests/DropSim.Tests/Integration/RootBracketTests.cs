using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>
/// The bracket as T.R. Chandrupatla (1997) describes it: inverse quadratic interpolation where it is safe, halving where it is not.
/// </summary>
public sealed class RootBracketTests
{
    private const double Tolerance = 1e-12;

    /// <summary>
    /// Inverse quadratic interpolation puts x = a + b g + c g^2 through three points. Where the function is the inverse of just such a
    /// parabola, the first step after the halving lands on the root a.
    /// </summary>
    [Theory]
    [InlineData(0.3, -0.5, 0.1, 0.0, 1.0)]
    [InlineData(0.3, -0.5, 0.1, 1.0, 0.0)]
    [InlineData(2.6, -1.0, -0.15, 2.0, 3.0)]
    [InlineData(2.45, 0.7, 0.08, 2.0, 3.0)]
    public void The_first_interpolation_hits_the_root_of_a_function_whose_inverse_is_a_parabola(double a, double b, double c, double first, double second)
    {
        // g from x = a + b g + c g^2, on the branch through g = 0.
        double Value(double x) => 2 * (x - a) / (b + (Math.Sign(b) * Math.Sqrt((b * b) + (4 * c * (x - a)))));
        var bracket = new RootBracket(first, Value(first), second, Value(second), Tolerance);
        double halving = bracket.Next();
        halving.Should().Be((first + second) / 2, "of two points nothing is known but their signs");
        bracket.Add(halving, Value(halving));
        bracket.Next().Should().BeApproximately(a, 1e-14);
    }

    /// <summary>Order 1.84 of inverse quadratic interpolation: digits nearly double at each look, and halving would need log2(1e12) = 40 of them.</summary>
    [Fact]
    public void A_smooth_function_needs_a_fifth_of_the_looks_of_halving()
    {
        Looks(x => Math.Cos(x) - x, 0, 1, out double root).Should().BeLessThanOrEqualTo(8);
        root.Should().BeApproximately(0.7390851332151607, Tolerance, "the fixed point of the cosine");
        Looks(x => x - Math.Cos(x), 0, 1, out root).Should().BeLessThanOrEqualTo(8);
        root.Should().BeApproximately(0.7390851332151607, Tolerance);
        Looks(x => Math.Exp(-x) - 0.25, 0, 3, out root).Should().BeLessThanOrEqualTo(9);
        root.Should().BeApproximately(Math.Log(4), Tolerance);
        Looks(x => 2 - (x * x * x), 0.5, 2, out root).Should().BeLessThanOrEqualTo(10);
        root.Should().BeApproximately(Math.Cbrt(2), Tolerance);
    }

    /// <summary>A jump tells an interpolation nothing: 1 to 1e-12 is 40 halvings.</summary>
    [Fact]
    public void A_jump_is_closed_by_halving()
    {
        Looks(x => x < 0.7 ? 1 : -1, 0, 1, out double root).Should().Be(40);
        root.Should().BeApproximately(0.7, Tolerance);
        Looks(x => x < 0.7 ? 1e9 : -1e-9, 0, 1, out root).Should().BeLessThanOrEqualTo(42);
        root.Should().BeApproximately(0.7, Tolerance);
    }

    /// <summary>
    /// A root of high order misleads every interpolation: x^9 is flat over most of the bracket. Interpolation is refused there, so that the
    /// looks stay near those of halving, 41 for a bracket of 2.
    /// </summary>
    [Fact]
    public void A_flat_root_takes_little_more_than_halving()
    {
        Looks(x => -Math.Pow(x - 0.3, 9), -1, 1, out double root).Should().BeLessThanOrEqualTo(60);
        root.Should().BeApproximately(0.3, Tolerance);
        Looks(x => 1 - Math.Pow(x / 0.9, 40), 0, 1, out root).Should().BeLessThanOrEqualTo(20);
        root.Should().BeApproximately(0.9, Tolerance);
    }

    [Fact]
    public void The_ends_keep_their_signs_and_a_value_of_zero_counts_as_fallen()
    {
        var bracket = new RootBracket(0, 1, 1, -1, Tolerance);
        (bracket.Above, bracket.Below, bracket.IsClosed).Should().Be((0.0, 1.0, false));
        bracket.Add(0.5, 0);
        (bracket.Above, bracket.Below).Should().Be((0.0, 0.5));
        bracket.Add(0.25, 0.5);
        (bracket.Above, bracket.Below).Should().Be((0.25, 0.5));
        bracket.Add(0.375, 0.25);
        (bracket.Above, bracket.Below).Should().Be((0.375, 0.5));

        var turned = new RootBracket(1, -1, 0, 1, Tolerance);
        (turned.Above, turned.Below).Should().Be((0.0, 1.0));
    }

    [Fact]
    public void It_is_closed_at_the_tolerance_and_not_before()
    {
        new RootBracket(0, 1, 0.25, -1, 0.25).IsClosed.Should().BeTrue();
        new RootBracket(0.25, -1, 0, 1, 0.25).IsClosed.Should().BeTrue();
        new RootBracket(0, 1, 0.25, -1, 0.2).IsClosed.Should().BeFalse();
        new RootBracket(0.25, -1, 0, 1, 0.2).IsClosed.Should().BeFalse();
    }

    /// <summary>An interpolation that comes nearer to an end than half the tolerance looks there, on the far side of the root, and closes the bracket from both sides.</summary>
    [Fact]
    public void No_look_is_nearer_to_an_end_than_half_the_tolerance()
    {
        // A straight line with its root 1e-5 from the end, and a tolerance of 1e-3.
        foreach (double root in new[] { 1e-5, 1 - 1e-5 })
        {
            var bracket = new RootBracket(0, root, 1, root - 1, 1e-3);
            List<double> looks = [];
            while (!bracket.IsClosed)
            {
                double at = bracket.Next();
                Math.Min(at - Math.Min(bracket.Above, bracket.Below), Math.Max(bracket.Above, bracket.Below) - at).Should().BeGreaterThanOrEqualTo(0.5e-3 * (1 - 1e-12));
                looks.Add(at);
                bracket.Add(at, root - at);
            }

            looks.Should().HaveCount(2, "one halving, one look beside the root");
        }
    }

    private static int Looks(Func<double, double> function, double first, double second, out double root)
    {
        var bracket = new RootBracket(first, function(first), second, function(second), Tolerance);
        int looks = 0;
        for (; !bracket.IsClosed && looks < 200; looks++)
        {
            double at = bracket.Next();
            at.Should().BeInRange(Math.Min(bracket.Above, bracket.Below), Math.Max(bracket.Above, bracket.Below));
            bracket.Add(at, function(at));
            (function(bracket.Above) > 0).Should().BeTrue();
            (function(bracket.Below) > 0).Should().BeFalse();
        }

        root = bracket.Below;
        return looks;
    }
}
