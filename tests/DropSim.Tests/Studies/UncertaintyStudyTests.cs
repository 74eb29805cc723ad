using System.Globalization;
using System.Text;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies.Uncertainty;
using FluentAssertions;
using Xunit;

namespace DropSim.Tests.Studies;

public sealed class UncertaintyStudyTests
{
    private const string MediumLog = """
        [piece]
        kind = "log"
        length = "1.25 m"
        butt-diameter = "0.40 m"
        mass = { value = "150 kg", low = "130 kg", high = "175 kg" }
        [spar]
        height = "9 m"
        diameters = [{ at = "0 m", diameter = "0.55 m" }]
        condition = "sound"
        [rigging-point]
        kind = "ring"
        [rope]
        construction = "polyester 16-strand"
        diameter = "14 mm"
        [[catch]]
        kind = "CATCH"
        """;

    private static readonly UncertaintyOptions Small = new() { Samples = 32, IndexRows = 32, Threads = 2 };

    private static DropCase Case(string kind, string more = "")
    {
        var read = Read(kind, more);
        read.Problems.Should().BeEmpty();
        return read.Scenario!.Cases[0];
    }

    private static ScenarioReadResult Read(string kind, string more) =>
        ScenarioReader.Read(Encoding.UTF8.GetBytes(MediumLog.Replace("CATCH", kind, StringComparison.Ordinal) + "\n" + more), "medium.toml");

    /// <summary>Tables that fix every input but some.</summary>
    private static string AllFixedBut(string kind, params string[] keys) => string.Concat(Case(kind).Uncertain.Where(i => !keys.Contains(i.Key))
        .Select(i => string.Create(CultureInfo.InvariantCulture, $"[[uncertain]]\nkey = \"{i.Key}\"\ndistribution = \"fixed\"\n")));

    [Fact]
    public void Every_number_is_the_same_on_one_thread_and_on_three()
    {
        var dropCase = Case("let-run", AllFixedBut("let-run", "rope.slack", "device.friction", "spar.modulus"));
        var one = UncertaintyStudy.Compute(dropCase, Small with { Threads = 1 });
        var three = UncertaintyStudy.Compute(dropCase, Small with { Threads = 3 });
        three.Samples.Should().HaveCount(32);
        for (var k = 0; k < 32; k++)
        {
            three.Samples[k].Recorded.Should().Equal(one.Samples[k].Recorded);
        }

        for (var m = 0; m < one.Measures.Count; m++)
        {
            three.Measures[m].Quantiles.Should().Equal(one.Measures[m].Quantiles);
            three.Measures[m].Influence.Should().Equal(one.Measures[m].Influence);
        }

        for (var c = 0; c < one.Bands.Curves.Count; c++)
        {
            three.Bands.Curves[c].Values[2].Should().Equal(one.Bands.Curves[c].Values[2]);
        }
    }

    [Fact]
    public void The_least_force_of_the_travel_used_is_beaten_in_no_sample()
    {
        foreach (var kind in new[] { "hard-stop", "let-run" })
        {
            // The least force is a mean of the same tension over its path: 1e-6 is for its quadrature.
            UncertaintyStudy.Compute(Case(kind), Small with { IndexRows = 0 }).LeastForceRatio.Should().BeGreaterThan(1 - 1e-6);
        }
    }

    [Fact]
    public void Bands_hold_each_other_and_the_drops_they_are_made_of()
    {
        var result = UncertaintyStudy.Compute(Case("hard-stop"), Small with { IndexRows = 0 });
        foreach (var curve in result.Bands.Curves)
        {
            for (var k = 0; k < result.Bands.Time.Count; k++)
            {
                for (var s = 1; s < 5; s++)
                {
                    if (!double.IsNaN(curve.Values[s][k]))
                    {
                        curve.Values[s][k].Should().BeGreaterThanOrEqualTo(curve.Values[s - 1][k]);
                    }
                }
            }
        }

        // Peaks do not come all at one time: the band's highest point stays below the quantile of the peaks.
        var force = result[MeasureIds.RiggingPointForce].Quantiles[4];
        result.Bands.Curves.First(c => c.Column == "rigging_point_force_N").Values[4].Where(double.IsFinite).Max().Should().BeLessThan(force.Low);
    }

    [Fact]
    public void Drops_that_end_on_the_ground_leave_high_quantiles_as_lower_bounds()
    {
        // Far too few wraps: most of the drops land fast.
        var result = UncertaintyStudy.Compute(Case("let-run", "wraps = 1"), Small with { IndexRows = 0 });
        result.Ended.Should().BeGreaterThan(16);
        var top = result[MeasureIds.RiggingPointForce].Quantiles[4];
        top.IsExact.Should().BeFalse();
        top.High.Should().Be(double.PositiveInfinity);
        double.IsFinite(top.Low).Should().BeTrue();
        var touches = result.Limits.First(l => l.Measure == MeasureIds.Room);
        touches.Share.Low.Should().BeGreaterThan(0.5);
    }

    [Fact]
    public void Cancelled_it_keeps_the_beginning_of_the_sequence_and_says_that_it_is_not_complete()
    {
        var dropCase = Case("let-run");
        using var stop = new CancellationTokenSource();
        var before = 1 + (2 * dropCase.Uncertain.Count);
        var done = 0;
        var part = UncertaintyStudy.Compute(dropCase, Small with { Samples = 400, IndexRows = 0 }, () =>
        {
            if (Interlocked.Increment(ref done) == before + 60)
            {
                stop.Cancel();
            }
        }, stop.Token);
        part.CutShort.Should().BeTrue();
        part.Samples.Count.Should().BeInRange(50, 70);
        var whole = UncertaintyStudy.Compute(dropCase, Small with { IndexRows = 0 });
        for (var k = 0; k < 32; k++)
        {
            part.Samples[k].Recorded.Should().Equal(whole.Samples[k].Recorded);
        }
    }

    [Fact]
    public void Inputs_without_a_distribution_of_their_own_are_spread_over_their_stated_ranges_with_hand_modulus_and_damping_beside_them()
    {
        var run = Case("let-run").Uncertain;
        run.Select(i => i.Key).Should().BeEquivalentTo(
            "piece.mass", "device.friction", "rigging-point.friction", "rope.stiffness", "rope.relaxing-ratio", "start.release-angle", "rope.slack",
            "rope.hitch-take-up.length", "spar.root-stiffness", "catch.light", "catch.grip", "catch.reaction-time", "spar.modulus", "spar.damping",
            "computation.contact-damping", "computation.contact-friction");
        Case("hard-stop").Uncertain.Select(i => i.Key).Should().NotContain(["catch.grip", "catch.reaction-time"]);
        run.Should().OnlyContain(i => i.Range.Source.Length > 0 && !i.Given);
        var mass = run.First(i => i.Key == "piece.mass").Distribution;
        mass.Should().Be(new InputDistribution(DistributionKind.Triangular, 130, 150, 175));
        run.First(i => i.Key == "rope.stiffness").Distribution.Kind.Should().Be(DistributionKind.LogTriangular, "it is known to a factor 2 either way");
    }

    [Fact]
    public void A_distribution_of_the_file_replaces_the_default_and_fixed_takes_an_input_out()
    {
        var inputs = Case("let-run", """
            [[uncertain]]
            key = "rope.slack"
            distribution = "normal"
            low = "0.1 m"
            high = "0.3 m"
            source = "measured on ten drops"
            [[uncertain]]
            key = "spar.damping"
            distribution = "fixed"
            [[uncertain]]
            key = "device.friction"
            low = 0.18
            high = 0.25
            """).Uncertain;
        var slack = inputs.Single(i => i.Key == "rope.slack");
        slack.Given.Should().BeTrue();
        slack.Range.Source.Should().Be("measured on ten drops");
        slack.Distribution.Should().Be(new InputDistribution(DistributionKind.Normal, 0.1, (0.1 + 0.3) / 2, 0.3) { Least = 0, Most = 10 });
        inputs.Should().NotContain(i => i.Key == "spar.damping");
        inputs.Single(i => i.Key == "device.friction").Distribution.Mid.Should().Be(0.22, "the most likely value is the case's own");
    }

    [Theory]
    [InlineData("key = \"rope.slak\"\nlow = \"0 m\"\nhigh = \"1 m\"", "rope.slak", "rope.slack")]
    [InlineData("key = \"rope.slack\"\nlow = \"1 m\"\nhigh = \"0.5 m\"", "do not follow", "low < high")]
    [InlineData("key = \"rope.slack\"\nlow = \"0 kg\"\nhigh = \"0.5 m\"", "0 kg", "length")]
    [InlineData("key = \"rope.slack\"\nhigh = \"0.5 m\"", "nothing", "low and high")]
    [InlineData("key = \"rope.slack\"\ndistribution = \"lognormal\"\nlow = \"0 m\"\nhigh = \"0.5 m\"", "begins at 0", "above 0")]
    [InlineData("key = \"rope.slack\"\ndistribution = \"normal\"\nlow = \"0 m\"\nmid = \"0.2 m\"\nhigh = \"0.5 m\"", "most likely", "low and high alone")]
    [InlineData("key = \"rope.slack\"\ndistribution = \"bell\"\nlow = \"0 m\"\nhigh = \"0.5 m\"", "bell", "triangular")]
    [InlineData("key = \"spar.root-stiffness\"\nlow = \"0.5 MN m/rad\"\nhigh = \"rigid\"", "without end", "finite")]
    [InlineData("key = \"rope.slack\"\nlow = \"0.5 m\"\nhigh = \"0.9 m\"", "outside low and high", "mid between")]
    [InlineData("distribution = \"normal\"", "nothing", "piece.mass")]
    public void What_is_wrong_with_a_distribution_is_told_with_line_found_and_expected(string table, string found, string expected)
    {
        var problems = Read("let-run", "[[uncertain]]\n" + table).Problems;
        problems.Should().ContainSingle();
        problems[0].Line.Should().BeGreaterThanOrEqualTo(17);
        problems[0].ToString().Should().Contain(found).And.Contain(expected);
    }

    [Fact]
    public void The_same_key_twice_is_refused()
    {
        const string Slack = "[[uncertain]]\nkey = \"rope.slack\"\nlow = \"0 m\"\nhigh = \"0.5 m\"\n";
        Read("let-run", Slack + Slack).Problems.Should().ContainSingle().Which.Found.Should().Contain("second time");
    }

    [Fact]
    public void Of_an_input_that_alone_matters_both_indices_are_one()
    {
        var result = UncertaintyStudy.Compute(Case("hard-stop", AllFixedBut("hard-stop", "rope.slack")), Small);
        result.Inputs.Should().ContainSingle().Which.Key.Should().Be("rope.slack");
        var influence = result[MeasureIds.LoadLegTension].Influence.Should().ContainSingle().Subject;
        influence.Total!.Value.Value.Should().BeApproximately(1, 0.35, "only 32 rows");
        influence.First!.Value.Value.Should().BeApproximately(1, 0.35);
    }
}
