using DropSim.Scenarios;

namespace DropSim.Tests.Scenarios;

/// <summary>The catalogue is whole, plausible and says where each number comes from.</summary>
public sealed class CatalogueTests
{
    private static readonly Catalogue Shipped = Catalogue.Load();

    [Fact]
    public void Every_entry_names_its_source()
    {
        Shipped.Species.Should().HaveCount(162).And.OnlyContain(s => s.Source.Length > 5);
        Shipped.Ropes.Should().OnlyContain(r => r.Source.Length > 5);
        Shipped.Knots.Should().OnlyContain(k => k.Source.Length > 5);
        Shipped.Bends.Should().OnlyContain(b => b.Source.Length > 5);
        Shipped.Slings.Should().OnlyContain(s => s.Source.Length > 5);
        Shipped.Frictions.Should().OnlyContain(f => f.Source.Length > 5);
    }

    [Fact]
    public void Numbers_are_in_their_units()
    {
        Shipped.Species.Should().OnlyContain(s => s.GreenDensity > 400 && s.GreenDensity < 1300);
        Shipped.Species.Where(s => s.GreenModulus is not null).Should().OnlyContain(s => s.GreenModulus > 3e9 && s.GreenModulus < 2e10);
        Shipped.Species.Where(s => s.BendingStrength is not null).Should().OnlyContain(s => s.BendingStrength > 2e7 && s.BendingStrength < 1.3e8);
        Shipped.Ropes.Should().OnlyContain(r => r.BreakingStrength > 5e3 && r.BreakingStrength < 2e5 && r.Diameter > 0.005 && r.Diameter < 0.03);
        Shipped.Ropes.Should().OnlyContain(r => r.Strains.Zip(r.Strains.Skip(1)).All(p => p.First < p.Second));
        Shipped.Knots.Should().OnlyContain(k => 0 < k.Low && k.Low <= k.Retained && k.Retained <= k.High && k.High <= 1);
        Shipped.Frictions.Should().OnlyContain(f => 0 < f.Low && f.Low <= f.Value && f.Value <= f.High);
    }

    [Fact]
    public void Species_names_are_unique_and_found_in_any_letter_case()
    {
        Shipped.Species.Select(s => s.Name.ToUpperInvariant()).Should().OnlyHaveUniqueItems();
        Shipped.FindSpecies("WHITE ash")!.GreenDensity.Should().Be(801);
        Shipped.FindSpecies("no such tree").Should().BeNull();
    }

    [Fact]
    public void A_rope_of_14_mm_has_the_printed_strength()
    {
        // C. Jarman, Knots in Use, 4th ed. (2013) p. 9: 16-plait polyester 14 mm 4350 kgf = 42.66 kN.
        RopeEntry rope = Shipped.FindRope("polyester 16-strand", 0.014)!;

        rope.BreakingStrength.Should().BeApproximately(4350 * 9.80665, 100);

        // 10 % of 42.7 kN at 2 % strain: 4.27 / 0.02 = 213.5 kN.
        rope.Stiffness.Should().BeApproximately(213500, 1);
    }

    [Fact]
    public void Between_diameters_strength_over_diameter_squared_is_interpolated()
    {
        // 12 mm: 33.3/144 = 0.23125; 14 mm: 42.7/196 = 0.21786; half way 0.22455 x 169 = 37.95 kN.
        RopeEntry rope = Shipped.FindRope("Polyester 16-Strand", 0.013)!;

        rope.BreakingStrength.Should().BeApproximately(37950, 10);
        rope.Source.Should().StartWith("interpolated between 12 and 14 mm");
        Shipped.FindRope("polyester 16-strand", 0.02)!.Source.Should().StartWith("extrapolated");
        Shipped.FindRope("spider silk", 0.013).Should().BeNull();
    }

    [Theory]
    [InlineData(4, 0.80)]
    [InlineData(6, 0.85)]
    [InlineData(20, 0.95)]
    [InlineData(0.5, 0.25)]
    public void Bends_are_interpolated_and_never_flattered(double ratio, double retained) =>
        Shipped.BendEfficiency(ratio).Should().BeApproximately(retained, 1e-12);
}
