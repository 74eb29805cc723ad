using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Model;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Words;

/// <summary>What was touched, how fast, with what energy: the facts of an end, and the words made from them.</summary>
public sealed class EndFactTests
{
    private static readonly DropCase NearMiss = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), "near-miss-review.toml")).Scenario!
        .Cases.First(c => c.CatchName == "hand-lost");

    /// <summary>"shed" stands in "shed roof": only the fact tells which one was met.</summary>
    [Theory]
    [InlineData("shed", "shed roof")]
    [InlineData("shed roof", "shed")]
    [InlineData("the piece", "touches")]
    public void Of_two_obstacles_with_like_names_the_one_that_was_touched_is_named(string far, string near)
    {
        var roof = NearMiss.Input.Site.Obstacles[0];
        var input = NearMiss.Input with { Site = new() { Obstacles = [new(far, 20, 21, 0, 3), roof with { Name = near }] } };
        var run = DropSimulator.Run(input);
        var dropCase = NearMiss with { Input = input };
        var result = new ScenarioResult("two", "Two", "", "", [new(dropCase, run, 0, "")], []);

        run.End.Obstacle.Should().Be(new TouchedObstacle(1, near));
        Wording.Obstacle(run).Should().Be(near);
        new Wording(result, new ReportOptions()).Ending(run).Should().StartWith($"touches {near} at ");
        Format.Ending(run.End, UnitSystem.Us).Should().StartWith($"the piece touches {near} at ").And.EndWith("ft/s");
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            SummaryJson.Case(json, result.Cases[0]);
            json.WriteEndObject();
        }

        using var written = JsonDocument.Parse(stream.ToArray());
        var end = written.RootElement.GetProperty("end");
        end.GetProperty("obstacle").GetString().Should().Be(near);
        end.GetProperty("energy_J").GetDouble().Should().Be(run.End.Energy).And.BePositive();
    }

    [Fact]
    public void The_energy_of_an_end_is_that_of_the_whole_piece_turning_included()
    {
        var run = DropSimulator.Run(NearMiss.Input);

        run.End.Energy.Should().BeApproximately(run.Ledger.Places.Single(p => p.Column == "energy_kinetic_J").Energy, 1e-9 * run.End.Energy);
        run.End.Lands.Should().BeTrue();
        run.End.IsHeld.Should().BeFalse();
    }

    [Fact]
    public void Nothing_that_a_stem_or_a_rope_does_hangs_on_how_its_source_is_worded()
    {
        var species = Catalogue.Load().Species;

        species.Where(s => s.DensityMoisture is not null).Should().HaveCountGreaterThan(20).And.OnlyContain(s => s.DensityMoisture == 0.5);
        species.Select(s => (s.DensityMoisture == 0.5, s.Source.Contains("50% MC", StringComparison.Ordinal))).Should().OnlyContain(s => s.Item1 == s.Item2);
        Catalogue.Load().FindRope("polyester 16-strand", 0.03)!.Origin.Should().Be(TableOrigin.Extrapolated);
        Catalogue.Load().FindRope("polyester 16-strand", Catalogue.Load().Ropes.First(r => r.Construction == "polyester 16-strand").Diameter)!.Origin.Should().Be(TableOrigin.Tabulated);
    }

    [Fact]
    public void Warnings_that_differ_in_their_numbers_alone_are_of_one_kind()
    {
        Remark Struck(int times) => new($"The piece strikes the spar {new Times(times)}; forces are indicative.");
        Remark Ran(double speed) => new($"Rope runs at up to {new Amount(speed, "m/s")}.");

        Struck(1).Pattern.Should().Be(Struck(3).Pattern);
        Struck(3).FirstNumber.Should().Be(3);
        Ran(5).Pattern.Should().Be(Ran(6.5).Pattern).And.NotBe(Struck(1).Pattern);
        new Remark($"Cut short ({Ran(5)}).").Pattern.Should().Be(new Remark($"Cut short ({Ran(7)}).").Pattern);
        new Remark($"Cut short ({Ran(5)}).").Written(a => $"{a.Value:0} x").Should().Be("Cut short (Rope runs at up to 5 x.).");
    }
}
