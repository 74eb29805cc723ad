using System.Text;
using DropSim.Model;
using DropSim.Scenarios;

namespace DropSim.Tests.Scenarios;

/// <summary>A file with only what a tape measures and what is rigged must run; everything else has a noted default.</summary>
public sealed class MinimalFileTests
{
    internal const string Minimal = """
        [piece]
        kind = "log"
        species = "European oak (living tree)"
        length = "1.2 m"
        butt-girth = "126 cm"
        tip-girth = "120 cm"

        [spar]
        height = "9 m"
        girths = [ { at = "1.3 m", girth = "165 cm" } ]

        [rigging-point]
        kind = "ring"

        [rope]
        construction = "polyester 16-strand"
        diameter = "14 mm"

        [device]
        wraps = 2.5
        """;

    internal static ScenarioReadResult Read(string text, string file = "test.toml") => ScenarioReader.Read(Encoding.UTF8.GetBytes(text), file);

    internal static DropCase First(string text)
    {
        ScenarioReadResult result = Read(text);
        result.Problems.Select(p => p.ToString()).Should().BeEmpty();
        return result.Scenario!.Cases[0];
    }

    [Fact]
    public void A_minimal_file_gives_a_hard_stop_and_a_let_run()
    {
        ScenarioReadResult result = Read(Minimal);

        result.Problems.Select(p => p.ToString()).Should().BeEmpty();
        result.Scenario!.Cases.Select(c => c.Name).Should().Equal("base-hard-stop", "base-let-run");
        result.Scenario.Name.Should().Be("test");
    }

    [Fact]
    public void The_mass_follows_from_girths_length_and_species()
    {
        DropCase c = First(Minimal);

        // Girths 1.26 and 1.20 m: d = 0.40107, 0.38197 m. Cone: pi/12 x 1.2 x (0.16086 + 0.15320 + 0.14590) = 0.14450 m3;
        // x 1100 kg/m3 = 158.95 kg.
        c.Input.Piece.Mass.Should().BeApproximately(158.95, 0.05);
        InputRange mass = c.Ranges.Single(r => r.Name == "mass of the piece");
        mass.Low.Should().BeApproximately(0.85 * c.Input.Piece.Mass, 1e-9);
        mass.High.Should().BeApproximately(1.15 * c.Input.Piece.Mass, 1e-9);
    }

    [Fact]
    public void Every_default_is_noted_with_its_source()
    {
        DropCase c = First(Minimal);

        c.Notes.Should().OnlyContain(n => n.Source.Length > 0 && n.Value.Length > 0);
        c.Notes.Single(n => n.Path == "rope.slack").Should().Match<InputNote>(n => !n.Given && n.Value == "0.2 m" && n.Source.StartsWith("common practice"));
        c.Notes.Single(n => n.Path == "device.wraps").Should().Match<InputNote>(n => n.Given && n.Source == "scenario file line 20");
    }

    [Fact]
    public void The_ground_gets_the_lowest_diameter_and_the_cut_gets_the_butt()
    {
        SparInput spar = First(Minimal).Input.Spar;

        spar.Diameters.Select(d => d.Height).Should().Equal(0, 1.3, 9);
        spar.Diameters[2].Diameter.Should().BeApproximately(1.26 / Math.PI, 1e-12);
        // Taper (0.52521 - 0.40107) / 7.7 = 0.01612 per metre, continued 1.3 m down.
        spar.Diameters[0].Diameter.Should().BeApproximately(0.52521 + (1.3 * 0.016122), 1e-4);
    }
}
