namespace DropSim.Validation.Measured;

/// <summary>Drops on short textile links against the rope law.</summary>
public sealed class LanyardTests
{
    /// <summary>Secant stiffness of sewn nylon as worked out apart from this program, kN, for fall factors 0.25 to 1.25.</summary>
    [Fact]
    public void Sewn_nylon_stiffens_with_the_fall_factor_as_worked_out_by_hand()
    {
        var secants = LanyardDrops.All.Where(d => d.Material == LanyardDrops.Spanning).OrderBy(d => d.FallFactor).Select(d => LanyardDrops.Secant(d, d.Peak) / 1000);

        double[] byHand = [19.0, 22.9, 32.1, 35.0, 35.7];
        secants.Zip(byHand).Should().HaveCount(5).And.OnlyContain(p => Math.Abs(p.First - p.Second) < 0.1);
    }

    [Fact]
    public void Fits_use_only_drops_up_to_fall_factor_1_and_are_right_on_them_in_the_mean()
    {
        LanyardDrops.Fits.Should().HaveCountGreaterThan(3);
        foreach (var fit in LanyardDrops.Fits)
        {
            var low = fit.Drops.Where(d => d.FallFactor <= 1).ToArray();
            low.Average(d => Math.Log(fit.Predict(d).Straight / d.Peak)).Should().BeApproximately(0, 1e-3, fit.Material);
            low.Average(d => Math.Log(fit.Predict(d).Bent / d.Peak)).Should().BeApproximately(0, 1e-3, fit.Material);
        }
    }

    /// <summary>What the page says of the predictions: a straight rope is low, one that steepens less so, and neither is inside the scatter everywhere.</summary>
    [Fact]
    public void Beyond_fall_factor_1_a_straight_rope_flatters_and_one_that_steepens_flatters_less()
    {
        var (straight, bent) = (LanyardSection.Beyond.Select(b => b.Straight).ToArray(), LanyardSection.Beyond.Select(b => b.Bent).ToArray());

        straight.Should().HaveCount(11);
        straight.Average().Should().BeInRange(-0.15, -0.09);
        bent.Average().Should().BeGreaterThan(straight.Average() + 0.02).And.BeLessThan(0);
        straight.Min().Should().BeLessThan(-Math.Exp(LanyardDrops.Repeats.Max()) + 1);
        bent.Min().Should().BeLessThan(-Math.Exp(LanyardDrops.Repeats.Max()) + 1);
    }

    /// <summary>
    /// Eight rows: slide 6, 13, 21.5, 12, 24.5, 6, 7, 24 cm (mean 14.25), longer by 17, 24.5, 26, 23, 27, 17, 20.5, 27.5 cm (mean 22.81). Sums of
    /// products 221.8 and of squares 448.0 about the means: 0.495 a slide, and 22.81 - 0.495 x 14.25 = 15.76 cm.
    /// </summary>
    [Fact]
    public void Tied_loops_end_longer_by_16_centimetres_and_half_of_what_the_hitch_slides()
    {
        var (rows, length, perSlide, _) = LanyardDrops.Knots();

        rows.Should().Be(8);
        length.Should().BeApproximately(0.1576, 5e-4);
        perSlide.Should().BeApproximately(0.495, 2e-3);
    }

    [Fact]
    public void Identical_drops_scatter_by_4_to_13_percent()
    {
        LanyardDrops.Repeats.Should().HaveCountGreaterThan(3);
        LanyardDrops.Repeats.Min().Should().BeInRange(0.03, 0.05);
        LanyardDrops.Repeats.Max().Should().BeInRange(0.12, 0.14);
    }
}
