using System.Globalization;
using System.Text.RegularExpressions;
using DropSim.Cli;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Cli;

/// <summary>The command <c>mass</c> against arithmetic, and against what a scenario makes of the same piece.</summary>
public sealed partial class MassCommandTests
{
    private static string Mass(params string[] options)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        DropSimApp.Run(["mass", .. options], output, error, default).Should().Be(0, error.ToString());
        return output.ToString();
    }

    [Fact]
    public void A_weighed_mass_that_no_wood_of_that_size_has_is_refused_and_an_odd_one_is_told()
    {
        using var output = new StringWriter();
        using var error = new StringWriter();

        DropSimApp.Run(["mass", "--butt", "40 cm", "--length", "1.25 m", "--weighed", "20 t"], output, error, default).Should().Be(ExitCodes.Refused);

        error.ToString().Should().Contain("found '20 t'; expected a mass that fits the size").And.Contain("65 kg to 180 kg");
        output.ToString().Should().BeEmpty();
        Mass("--butt", "40 cm", "--length", "1.25 m", "--weighed", "220 kg").Should().Contain("the weighed mass and the measures disagree");
        Mass("--butt", "40 cm", "--length", "1.25 m", "--weighed", "150 kg").Should().NotContain("disagree");
    }

    [Theory]
    [InlineData("species = \"European ash\"", "--species", "European ash")]
    [InlineData("species = \"white ash\"", "--species", "white ash")]
    [InlineData("density = \"900 kg/m3\"", "--density", "900 kg/m3")]
    [InlineData("species = \"white ash\"\nmiddle-girth = \"130 cm\"", "--species", "white ash", "--mid-girth", "130 cm")]
    [InlineData("species = \"white ash\"\ntip-girth = \"110 cm\"", "--species", "white ash", "--tip-girth", "110 cm")]
    [InlineData("density = \"900 kg/m3\"\nweighed = \"150 kg\"", "--density", "900 kg/m3", "--weighed", "150 kg")]
    [InlineData("species = \"European ash\"\ncrown = \"dense\"", "--species", "European ash", "--top", "dense")]
    [InlineData("species = \"white ash\"\ncrown = \"sparse\"\nbare-length = \"0.2 m\"", "--species", "white ash", "--top", "sparse", "--bare", "0.2 m")]
    public void Mass_range_and_balance_are_those_of_a_scenario_with_the_same_piece(string piece, params string[] options)
    {
        var kind = piece.Contains("crown", StringComparison.Ordinal) ? "top" : "log";
        var scenario = MinimalFileTests.First(MinimalFileTests.Minimal
            .Replace("kind = \"log\"", $"kind = \"{kind}\"\nhitch-height = \"0.3 m\"", StringComparison.Ordinal)
            .Replace("species = \"European oak (living tree)\"", piece, StringComparison.Ordinal)
            .Replace("tip-girth = \"120 cm\"", "", StringComparison.Ordinal));
        var range = scenario.Ranges.Single(r => r.Name == "mass of the piece");

        var numbers = Numbers().Match(Mass(["--butt-girth", "126 cm", "--length", "1.2 m", .. options]));

        numbers.Success.Should().BeTrue();
        double Number(string group) => double.Parse(numbers.Groups[group].Value, CultureInfo.InvariantCulture);
        Number("mass").Should().BeApproximately(scenario.Input.Piece.Mass, 0.5, "shown in whole kg");
        Number("low").Should().BeApproximately(range.Low, 0.5);
        Number("high").Should().BeApproximately(range.High, 0.5);
        Number("balance").Should().BeApproximately(scenario.Input.Piece.CentreOfGravity, 0.005, "shown in whole cm");
        Number("inertia").Should().BeApproximately(scenario.Input.Piece.Inertia, 0.05, "shown in tenths");
    }

    [Fact]
    public void A_table_at_fifty_percent_moisture_widens_the_range_upward_and_says_so()
    {
        // European ash, 801 kg/m3 at 50 % moisture: pi/4 x 0.4^2 x 1 m3 = 0.12566 m3, 100.66 kg; 0.85 times that 86, 1.30 times that 131.
        Mass("--species", "European ash", "--butt", "40 cm", "--tip", "40 cm", "--length", "1 m")
            .Should().Contain("estimated: 101 kg").And.Contain("range 86 kg").And.Contain("to 131 kg").And.Contain("usually wetter");

        // A density that somebody gives is not a table's: 0.85 and 1.15 times 100.66.
        Mass("--density", "801 kg/m3", "--butt", "40 cm", "--tip", "40 cm", "--length", "1 m")
            .Should().Contain("range 86 kg").And.Contain("to 116 kg").And.NotContain("wetter");
    }

    [Fact]
    public void A_scale_needs_no_density_and_the_balance_follows_from_the_shape()
    {
        // A cone frustum of 40 and 38 cm: L/4 (a2 + 2ab + 3b2)/(a2 + ab + b2) = 1.25/4 x (4.00 + 7.60 + 10.83)/(4.00 + 3.80 + 3.61) = 0.614 m.
        var text = Mass("--weighed", "150 kg", "--butt", "40 cm", "--length", "1.25 m");

        text.Should().Contain("Mass, weighed: 150 kg (331 lb); range 146 kg").And.Contain("estimated: 0.61 m").And.Contain("not needed").And.NotContain("no scale");
        Mass("--weighed", "150 kg", "--density", "700 kg/m3", "--butt", "40 cm", "--length", "1.25 m").Split('\n')[..3].Should().Equal(text.Split('\n')[..3]);
    }

    [GeneratedRegex(@"Mass, \w+: (?<mass>\d+) kg .*range (?<low>\d+) kg .* to (?<high>\d+) kg (?s:.*?)estimated: (?<balance>[\d.]+) m (?s:.*?)estimated: (?<inertia>[\d.]+) kg m2")]
    private static partial Regex Numbers();
}
