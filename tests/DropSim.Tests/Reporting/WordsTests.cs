using System.Text.RegularExpressions;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Studies;

namespace DropSim.Tests.Reporting;

public sealed partial class WordsTests
{
    public static TheoryData<string, UnitSystem> Results => new()
    {
        { "medium", UnitSystem.Si }, { "medium", UnitSystem.Us }, { "light", UnitSystem.Si },
    };

    [Theory]
    [MemberData(nameof(Results))]
    public void No_text_reads_as_a_permission(string which, UnitSystem units)
    {
        var result = Get(which);
        var texts = ComparisonText.WithTexts(result, units).Comparisons.SelectMany(c => new[] { c.Title, c.Paragraph })
            .Concat(HeadlineTable.Build(result, units).SelectMany(t => t.Facts.Concat(t.Warnings).Concat(t.Headline.Concat(t.Others).SelectMany(r => new[] { r.Label, r.Central, r.Worst, r.WorstInputs }))))
            .Concat(Cautions.Reading);

        texts.Should().OnlyContain(t => !Permission().IsMatch(t));
    }

    [Fact]
    public void The_comparison_s_numbers_are_the_measures()
    {
        var result = ComparisonText.WithTexts(RealResult.MediumLog, UnitSystem.Si);
        var comparison = result.Comparisons.Single();
        var (run, stop) = (result.Cases[comparison.First].Run, result.Cases[comparison.Second].Run);

        comparison.Title.Should().Contain(Format.Value(run[MeasureIds.RiggingPointForce], UnitSystem.Si))
            .And.Contain(Format.Value(stop[MeasureIds.RiggingPointForce], UnitSystem.Si));
        comparison.Paragraph.Should().Contain(Format.Value(run[MeasureIds.ClimberMovement], UnitSystem.Si)).And.Contain("rope run").And.Contain("Not modelled");
    }

    [Fact]
    public void A_drop_that_landed_says_so_before_it_says_anything_else()
    {
        var result = ComparisonText.WithTexts(RealResult.LightLog, UnitSystem.Si);
        var landed = result.Comparisons.Single(c => result.Cases[c.First].Run.End.CutsShort || result.Cases[c.Second].Run.End.CutsShort);

        landed.Paragraph.Should().StartWith("With ").And.Contain("touches the ground").And.Contain("at least");
        HeadlineTable.Build(result, UnitSystem.Si)[0].Headline[0].Central.Should().StartWith("at least ");
    }

    [Fact]
    public void Headline_measures_come_in_their_order_with_the_worst_beside_them()
    {
        var table = HeadlineTable.Build(RealResult.MediumLog, UnitSystem.Si)[0];

        RealResult.MediumLog.Cases[0].Run.Measures.Where(m => m.Headline).Select(m => m.Id).Should().Equal(
            MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun);
        table.Headline.Should().HaveCount(5).And.OnlyContain(r => r.Central.Length > 0 && r.Worst.Length > 0);
    }

    [Theory]
    [InlineData(15630, "16 kN")]
    [InlineData(996, "1.0 kN")]
    [InlineData(152.4, "150 N")]
    [InlineData(-0.0, "0 N")]
    public void Forces_show_two_digits(double newtons, string shown) =>
        Format.Quantity(newtons, "N", UnitSystem.Si).Should().Be(shown);

    private static ScenarioResult Get(string which) => which == "medium" ? RealResult.MediumLog : RealResult.LightLog;

    [GeneratedRegex(@"\b(OK|okay|safe|safely|pass|passes|passed|good|fine)\b|✓|✔", RegexOptions.IgnoreCase)]
    private static partial Regex Permission();
}
