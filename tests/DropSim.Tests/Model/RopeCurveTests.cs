using CsCheck;
using DropSim.Model;
using MathNet.Numerics.Integration;

namespace DropSim.Tests.Model;

public sealed class RopeCurveTests
{
    private static readonly StretchPoint[] _worked = [new(0.02, 3_000), new(0.037, 6_000), new(0.052, 9_000), new(0.08, 15_000)];

    /// <summary>
    /// One to six points, equally far apart, whose secants change by up to 2.8 from one to the next: above 3 at the start a monotone
    /// cubic would start flat, which is refused.
    /// </summary>
    private static readonly Gen<StretchPoint[]> _curves =
        Gen.Select(Gen.Double[0.002, 0.05], Gen.Double[1e4, 1e6], Gen.Double[0.3, 2.8].Array[0, 5]).Select((width, secant, bends) =>
        {
            var points = new StretchPoint[bends.Length + 1];
            points[0] = new(width, secant * width);
            for (var i = 0; i < bends.Length; i++)
            {
                secant *= bends[i];
                points[i + 1] = new(points[i].Strain + width, points[i].Tension + (secant * width));
            }

            return points;
        });

    [Fact]
    public void A_curve_of_one_point_is_the_straight_line_through_it()
    {
        // 3000 N at 2 %: EA = 3000 / 0.02 = 150,000 N; energy EA e^2 / 2.
        var curve = new RopeCurve(1, [new(0.02, 3000)]);
        curve.InitialSlope.Should().BeApproximately(150_000, 1e-9);
        curve.Tension(0.01).Should().BeApproximately(1500, 1e-9);
        curve.Tension(0.04).Should().BeApproximately(6000, 1e-9);
        curve.Energy(0.04).Should().BeApproximately(120, 1e-9);
    }

    [Fact]
    public void A_straight_rope_pulls_in_proportion_and_stores_half_of_stiffness_times_strain_squared()
    {
        var curve = new RopeCurve(200e3);

        curve.Tension(0.03).Should().BeApproximately(200e3 * 0.03, 1e-9);
        curve.Energy(0.03).Should().BeApproximately(200e3 * 0.03 * 0.03 / 2, 1e-10);
        curve.Slope(0.7).Should().Be(200e3);
    }

    [Fact]
    public void A_curve_goes_through_the_makers_points()
    {
        var curve = new RopeCurve(150e3, _worked);

        curve.Tension(0).Should().Be(0);
        foreach (var p in _worked)
        {
            // Round-off of a cubic of tensions of ten thousand newtons.
            curve.Tension(p.Strain).Should().BeApproximately(p.Tension, 1e-8);
        }
    }

    [Fact]
    public void Any_curve_rises_throughout_and_never_overshoots_its_points() => _curves.Sample(points =>
    {
        var curve = new RopeCurve(150e3, points);
        var before = 0.0;
        for (var k = 1; k <= 400; k++)
        {
            var strain = points[^1].Strain * 1.2 * k / 400;
            var tension = curve.Tension(strain);
            tension.Should().BeGreaterThan(before);
            before = tension;
        }

        for (var i = 0; i + 1 < points.Length; i++)
        {
            curve.Tension((points[i].Strain + points[i + 1].Strain) / 2).Should().BeInRange(points[i].Tension, points[i + 1].Tension);
        }
    }, iter: 1_000);

    /// <summary>
    /// F.N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984):
    /// slopes at inner points are weighted harmonic means of the secants, at the ends three-point differences, here none that need limiting.
    /// </summary>
    [Fact]
    public void Between_the_points_it_is_the_monotone_cubic_of_Fritsch_and_Butland()
    {
        double[] e = [0, .. _worked.Select(p => p.Strain)];
        double[] s = [0, .. _worked.Select(p => p.Tension)];
        double[] h = [.. Enumerable.Range(0, 4).Select(i => e[i + 1] - e[i])];
        double[] d = [.. Enumerable.Range(0, 4).Select(i => (s[i + 1] - s[i]) / h[i])];
        double Inner(int i) => ((2 * h[i]) + h[i - 1] + h[i] + (2 * h[i - 1])) / ((((2 * h[i]) + h[i - 1]) / d[i - 1]) + ((h[i] + (2 * h[i - 1])) / d[i]));
        double End(double h0, double h1, double d0, double d1) => ((((2 * h0) + h1) * d0) - (h0 * d1)) / (h0 + h1);
        double[] m = [End(h[0], h[1], d[0], d[1]), Inner(1), Inner(2), Inner(3), End(h[3], h[2], d[3], d[2])];
        var curve = new RopeCurve(150e3, _worked);
        for (var i = 0; i < 4; i++)
        {
            foreach (var part in new[] { 0.1, 0.4, 0.5, 0.8 })
            {
                // The cubic of Hermite.
                var (t, u) = (part, 1 - part);
                var tension = (s[i] * u * u * (1 + (2 * t))) + (s[i + 1] * t * t * (3 - (2 * t))) + (h[i] * t * u * ((m[i] * u) - (m[i + 1] * t)));
                curve.Tension(e[i] + (part * h[i])).Should().BeApproximately(tension, 1e-8);
            }
        }

        curve.InitialSlope.Should().BeApproximately(m[0], 1e-8 * m[0]);
        curve.Slope(0).Should().BeApproximately(m[0], 1e-8 * m[0]);
        curve.Slope(-0.01).Should().Be(curve.InitialSlope);
    }

    [Fact]
    public void The_steepest_slope_is_an_upper_bound_and_no_wild_one() => _curves.Sample(points =>
    {
        var curve = new RopeCurve(150e3, points);
        var seen = Enumerable.Range(0, 400).Max(k => curve.Slope(points[^1].Strain * 1.1 * k / 399));
        curve.SteepestSlope.Should().BeGreaterThanOrEqualTo(seen * (1 - 1e-12)).And.BeLessThanOrEqualTo(2 * seen);
    }, iter: 200);

    [Fact]
    public void The_steepest_slope_of_a_straight_line_is_its_slope_and_of_one_part_at_most_half_as_much_again()
    {
        new RopeCurve(200e3).SteepestSlope.Should().Be(200e3);
        new RopeCurve(1, [new(0.02, 3000)]).SteepestSlope.Should().BeInRange(150e3, 225e3 + 1e-6);
    }

    [Fact]
    public void Energy_is_the_integral_of_tension_over_strain() => Gen.Select(_curves, Gen.Double[0, 1.5]).Sample((points, part) =>
    {
        var curve = new RopeCurve(150e3, points);
        var end = part * points[^1].Strain;

        // Gauss-Legendre is exact for cubics: piece by piece between the points.
        double integral = 0, from = 0;
        foreach (var knot in points.Select(p => p.Strain).Append(double.PositiveInfinity))
        {
            var to = Math.Min(knot, end);
            if (to > from)
            {
                integral += GaussLegendreRule.Integrate(curve.Tension, from, to, 4);
                from = to;
            }
        }

        curve.Energy(end).Should().BeApproximately(integral, (1e-12 * integral) + 1e-12);
    }, iter: 1_000);

    [Fact]
    public void Slope_is_the_derivative_of_tension_on_either_side_of_the_last_point_where_it_may_jump() => Gen.Select(_curves, Gen.OneOf(Gen.Double[0.01, 0.99], Gen.Double[1.01, 1.5])).Sample((points, part) =>
    {
        var curve = new RopeCurve(150e3, points);
        var at = part * points[^1].Strain;

        // A difference over 2e-7 of strain errs by the curve's bend within it (at a point the bend jumps): well below a thousandth of the steepest slope.
        const double H = 1e-7;
        var secant = (curve.Tension(at + H) - curve.Tension(at - H)) / (2 * H);
        var steepest = Enumerable.Range(0, 200).Max(k => curve.Slope(points[^1].Strain * k / 199));
        curve.Slope(at).Should().BeApproximately(secant, 1e-3 * steepest);
    }, iter: 1_000);

    [Fact]
    public void Beyond_the_last_point_the_curve_goes_on_straight_and_never_softer_than_the_last_secant() => _curves.Sample(points =>
    {
        var curve = new RopeCurve(150e3, points);
        var last = points[^1];
        var previous = points.Length > 1 ? points[^2] : new(0, 0);
        var secant = (last.Tension - previous.Tension) / (last.Strain - previous.Strain);
        var slope = curve.Slope(last.Strain + 0.01);

        slope.Should().BeGreaterThanOrEqualTo(secant * (1 - 1e-12));
        curve.Tension(last.Strain + 0.05).Should().BeApproximately(last.Tension + (0.05 * slope), 1e-9 * (last.Tension + (0.05 * slope)));
        curve.Slope(last.Strain + 0.2).Should().Be(slope);
    }, iter: 1_000);

    [Fact]
    public void Below_zero_strain_the_curve_goes_on_straight_so_that_a_law_stays_smooth_past_its_guard()
    {
        var curve = new RopeCurve(150e3, _worked);

        curve.Tension(-0.01).Should().BeApproximately(-0.01 * curve.InitialSlope, 1e-9);
        curve.Energy(-0.01).Should().BeApproximately(0.01 * 0.01 * curve.InitialSlope / 2, 1e-12);
    }

    [Fact]
    public void At_its_free_strain_a_relaxed_rope_pulls_nothing() =>
        Gen.Select(_curves, Gen.Double[0, 600e3], Gen.Double[0, 1.5]).Sample((points, relaxing, part) =>
        {
            var curve = new RopeCurve(150e3, points);
            var relaxed = part * points[^1].Strain;
            var free = curve.FreeStrain(relaxing, relaxed);

            free.Should().BeInRange(-1e-15, relaxed + 1e-15);
            (curve.Tension(free) + (relaxing * (free - relaxed))).Should().BeApproximately(0, 1e-6, "a millionth of a newton against thousands");
        }, iter: 2_000);

    [Fact]
    public void A_straight_rope_is_free_where_the_two_springs_balance() =>

        // EA e = E_m (a - e): e = E_m a / (EA + E_m) = 300 x 0.02 / (200 + 300).
        new RopeCurve(200e3).FreeStrain(300e3, 0.02).Should().BeApproximately(0.012, 1e-16);

    [Fact]
    public void Curves_that_cannot_be_a_rope_are_refused()
    {
        FluentActions.Invoking(() => new RopeCurve(0)).Should().Throw<ArgumentException>().WithMessage("A rope's stiffness is positive.*");
        FluentActions.Invoking(() => new RopeCurve(-1)).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(double.PositiveInfinity)).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(double.NaN)).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0.01, 100), new(0.01, 200)])).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0.01, 200), new(0.02, 100)])).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0, 100)])).Should().Throw<ArgumentException>().WithMessage("*increase from point to point*");
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0.01, 0)])).Should().Throw<ArgumentException>();
        FluentActions.Invoking(() => new RopeCurve(1e5, null!)).Should().Throw<ArgumentNullException>();
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0.01, double.NaN)])).Should().Throw<ArgumentException>();

        // Secants of 100 and 400 kN: the monotone cubic would leave zero with no slope at all.
        FluentActions.Invoking(() => new RopeCurve(1e5, [new(0.01, 1_000), new(0.02, 5_000)])).Should().Throw<ArgumentException>().WithMessage("*flat*");
    }
}
