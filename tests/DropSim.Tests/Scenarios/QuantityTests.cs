using System.Globalization;
using CsCheck;
using DropSim.Scenarios.Units;
using UnitsNet;
using QuantityParser = DropSim.Scenarios.Units.QuantityParser;

namespace DropSim.Tests.Scenarios;

/// <summary>Quantities as people write them.</summary>
public sealed class QuantityTests
{
    private const double Inch = 0.0254;
    private const double Foot = 0.3048;

    public static TheoryData<string, string, double> Written => new()
    {
        { "180 kg", "Mass", 180 },
        { "180kg", "Mass", 180 },
        { "400 lb", "Mass", 400 * 0.45359237 },
        { "14 mm", "Length", 0.014 },
        { "9/16 in", "Length", 9.0 / 16 * Inch },
        { "1 1/2 in", "Length", 1.5 * Inch },
        { "10 ft 6 in", "Length", (10 * Foot) + (6 * Inch) },
        { "5'6\"", "Length", (5 * Foot) + (6 * Inch) },
        { "5' 6\"", "Length", (5 * Foot) + (6 * Inch) },
        { "4 ft 1 1/2 in", "Length", (4 * Foot) + (1.5 * Inch) },
        { "6\u2032", "Length", 6 * Foot },
        { "-0.1 m", "Length", -0.1 },
        { ".5 m", "Length", 0.5 },
        { "25 kN", "Force", 25000 },
        { "25 KN", "Force", 25000 },
        { "5600 lbf", "Force", 5600 * 0.45359237 * 9.80665 },
        { "2.5e3 N", "Force", 2500 },
        { "0.5 MN", "Force", 5e5 },
        { "70 deg", "Angle", 70 * Math.PI / 180 },
        { "70\u00b0", "Angle", 70 * Math.PI / 180 },
        { "35 %", "Fraction", 0.35 },
        { "0.35", "Fraction", 0.35 },
        { "9 GPa", "Stress", 9e9 },
        { "850 kg/m3", "Density", 850 },
        { "850 kg/m\u00b3", "Density", 850 },
        { "0.5 MN m/rad", "RotationalStiffness", 5e5 },
        { "rigid", "RotationalStiffness", double.PositiveInfinity },
        { "500 N/s", "ForceRate", 500 },
        { "1.5 turns", "Turns", 1.5 },
        { "2.5", "Turns", 2.5 },
        { "140 g/m", "MassPerLength", 0.14 },
        { "22 kg m2", "Inertia", 22 },
        { "1e6 N/m^1.5", "ContactStiffness", 1e6 },
    };

    public static TheoryData<string, string, string> Refused => new()
    {
        { "1,5 m", "Length", "decimal point" },
        { "1,500 kg", "Mass", "thousands" },
        { "1.5", "Length", "unit after the number" },
        { "1 000 kg", "Mass", "number" },
        { "25 kN", "Length", "kN is a unit of force" },
        { "25 lb", "Force", "for a force write lbf" },
        { "5 mN", "Force", "force in" },
        { "1e400 N", "Force", "finite" },
        { "NaN", "Number", "number" },
        { "Infinity m", "Length", "number" },
        { "", "Length", "number" },
        { "m", "Length", "number" },
        { "6 in 5 ft", "Length", "one number" },
        { "5 kN 3 N", "Force", "one number" },
        { "1/0 in", "Length", "number" },
        { "--1 m", "Length", "number" },
        { "1.2.3 m", "Length", "number" },
    };

    [Theory]
    [MemberData(nameof(Written))]
    public void A_quantity_is_read_as_it_is_written(string text, string kind, double si)
    {
        QuantityParser.TryParse(text, Enum.Parse<QuantityKind>(kind), out double value, out string problem).Should().BeTrue(problem);
        if (double.IsInfinity(si))
        {
            value.Should().Be(si);
        }
        else
        {
            value.Should().BeApproximately(si, 1e-12 * Math.Abs(si));
        }
    }

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_quantity_that_could_be_misread_is_refused_with_advice(string text, string kind, string advice)
    {
        QuantityParser.TryParse(text, Enum.Parse<QuantityKind>(kind), out _, out string problem).Should().BeFalse();
        problem.Should().Contain(advice);
    }

    [Theory]
    [InlineData("Length", "m mm cm in ft yd")]
    [InlineData("Mass", "kg g t lb oz")]
    [InlineData("Force", "N kN MN daN kgf lbf")]
    [InlineData("Angle", "rad deg")]
    [InlineData("Stress", "Pa kPa MPa GPa psi")]
    [InlineData("Speed", "m/s km/h ft/s mph")]
    [InlineData("Time", "s ms")]
    public void Units_agree_with_an_independent_library(string kind, string names)
    {
        foreach (string name in names.Split(' '))
        {
            string text = "3.25 " + name;
            QuantityParser.TryParse(text, Enum.Parse<QuantityKind>(kind), out double value, out string problem).Should().BeTrue(problem);
            double other = kind switch
            {
                "Length" => Length.Parse(text, CultureInfo.InvariantCulture).Meters,
                "Mass" => Mass.Parse(text, CultureInfo.InvariantCulture).Kilograms,
                "Force" => Force.Parse(text, CultureInfo.InvariantCulture).Newtons,
                "Angle" => Angle.Parse(text, CultureInfo.InvariantCulture).Radians,
                "Stress" => Pressure.Parse(text, CultureInfo.InvariantCulture).Pascals,
                "Speed" => Speed.Parse(text, CultureInfo.InvariantCulture).MetersPerSecond,
                _ => Duration.Parse(text, CultureInfo.InvariantCulture).Seconds,
            };

            // 1e-6: the library rounds some of its factors (psi, mph); ours are exact by definition.
            value.Should().BeApproximately(other, 1e-6 * other, name);
        }
    }

    [Fact]
    public void No_text_makes_the_parser_throw_or_give_a_value_that_is_not_finite() =>
        Gen.String[Gen.Char["0123456789.,eE+-/ '\"mkgNftin%°\u2032"], 0, 80].Sample(text =>
        {
            foreach (QuantityKind kind in Enum.GetValues<QuantityKind>())
            {
                if (QuantityParser.TryParse(text, kind, out double value, out string problem))
                {
                    double.IsFinite(value).Should().BeTrue(text);
                }
                else
                {
                    problem.Should().NotBeEmpty(text);
                }
            }
        }, iter: 2000);
}
