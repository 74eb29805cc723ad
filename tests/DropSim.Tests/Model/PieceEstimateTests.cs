using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Volume, mass, balance and inertia of logs and tops.</summary>
public sealed class PieceEstimateTests
{
    [Fact]
    public void Volumes_agree_with_the_worked_example_of_Larsen()
    {
        // D.R. Larsen, Cubic Log Volume, University of Missouri: 25 and 29 cm, 5 m.
        LogVolume.Smalian(0.29, 0.25, 5).Should().BeApproximately(0.287848, 1e-6);
        LogVolume.Cone(0.29, 0.25, 5).Should().BeApproximately(0.286801, 1e-6);

        // The same log measured at mid length, 27 cm: own arithmetic. Newton is exact for a cone.
        LogVolume.Huber(0.27, 5).Should().BeApproximately(0.286278, 1e-6);
        LogVolume.Newton(0.29, 0.27, 0.25, 5).Should().BeApproximately(0.286801, 1e-6);
    }

    [Fact]
    public void Volumes_in_feet_agree_with_the_worked_example_of_Larsen()
    {
        // Same source: 10 and 12 in, 16 ft -> 10.647 and 10.588 ft3.
        const double CubicFoot = 0.3048 * 0.3048 * 0.3048;
        (LogVolume.Smalian(12 * 0.0254, 10 * 0.0254, 16 * 0.3048) / CubicFoot).Should().BeApproximately(10.647, 1e-3);
        (LogVolume.Cone(12 * 0.0254, 10 * 0.0254, 16 * 0.3048) / CubicFoot).Should().BeApproximately(10.588, 1e-3);
    }

    [Theory]
    [InlineData(55, 10, 30)]
    [InlineData(55, 12, 43)]
    [InlineData(55, 14, 59)]
    [InlineData(55, 16, 77)]
    [InlineData(55, 18, 97)]
    [InlineData(55, 20, 120)]
    [InlineData(63, 10, 34)]
    [InlineData(63, 12, 49)]
    [InlineData(63, 14, 67)]
    [InlineData(63, 16, 88)]
    [InlineData(63, 18, 111)]
    [InlineData(63, 20, 137)]
    public void A_foot_of_green_log_weighs_what_the_published_table_says(double poundsPerCubicFoot, double inches, double pounds)
    {
        // US National Park Service, Safety for Tree Workers: apple 55 lb/ft3, red oak 63 lb/ft3; pounds per foot of length.
        const double Pound = 0.45359237;
        const double Foot = 0.3048;
        double density = poundsPerCubicFoot * Pound / (Foot * Foot * Foot);
        double d = inches * 0.0254;

        // The table is printed in whole pounds and seems to be rounded both ways: one pound.
        (PieceEstimate.Log(d, d, Foot, density).Mass / Pound).Should().BeApproximately(pounds, 1);
    }

    [Fact]
    public void A_cylinder_balances_in_the_middle_and_has_the_textbook_inertia()
    {
        PieceEstimate log = PieceEstimate.Log(0.4, 0.4, 1.25, 950);

        log.Mass.Should().BeApproximately(950 * Math.PI * 0.04 * 1.25, 1e-9);
        log.CentreOfGravity.Should().BeApproximately(0.625, 1e-12);

        // m (3 r^2 + L^2) / 12.
        log.Inertia.Should().BeApproximately(log.Mass * ((3 * 0.04) + (1.25 * 1.25)) / 12, 1e-9);
    }

    [Fact]
    public void A_full_cone_balances_at_a_quarter_and_has_the_textbook_inertia()
    {
        PieceEstimate cone = PieceEstimate.Log(0.4, 0, 2, 800);

        // About the centre of gravity, across the axis: 3 m (4 r^2 + h^2) / 80.
        cone.CentreOfGravity.Should().BeApproximately(0.5, 1e-12);
        cone.Inertia.Should().BeApproximately(3 * cone.Mass * ((4 * 0.04) + 4) / 80, 1e-9);
    }

    [Fact]
    public void A_truncated_cone_agrees_with_slices()
    {
        PieceEstimate log = PieceEstimate.Log(0.5, 0.35, 1.6, 900);
        double mass = 0, moment = 0, second = 0;
        const int Slices = 20000;
        for (int i = 0; i < Slices; i++)
        {
            double z = (i + 0.5) / Slices * 1.6;
            double r = 0.25 - ((0.25 - 0.175) * z / 1.6);
            double m = 900 * Math.PI * r * r * 1.6 / Slices;
            mass += m;
            moment += m * z;
            second += m * ((z * z) + (r * r / 4));
        }

        double centre = moment / mass;
        log.Mass.Should().BeApproximately(mass, 1e-6);
        log.CentreOfGravity.Should().BeApproximately(centre, 1e-8);
        log.Inertia.Should().BeApproximately(second - (mass * centre * centre), 1e-6);
    }

    [Fact]
    public void A_top_agrees_with_slices_of_stem_and_crown()
    {
        // Butt 0.22, tip 0.02, 6 m, bare 2 m, medium crown 0.8 of the stem, half width 0.9 m.
        PieceEstimate top = PieceEstimate.Top(0.22, 0.02, 6, 950, 2, PieceEstimate.MediumCrown, 0.9);
        PieceEstimate stem = PieceEstimate.Log(0.22, 0.02, 6, 950);
        double mass = stem.Mass, moment = stem.Mass * stem.CentreOfGravity, second = stem.Inertia + (stem.Mass * stem.CentreOfGravity * stem.CentreOfGravity);
        const int Slices = 20000;
        for (int i = 0; i < Slices; i++)
        {
            double s = (i + 0.5) / Slices;
            double z = 2 + (4 * s);
            double m = 0.8 * stem.Mass * 12 * s * (1 - s) * (1 - s) / Slices;
            mass += m;
            moment += m * z;
            second += m * ((z * z) + (0.9 * 0.9 / 4));
        }

        double centre = moment / mass;
        top.Mass.Should().BeApproximately(mass, 1e-6);
        top.CentreOfGravity.Should().BeApproximately(centre, 1e-6);
        top.Inertia.Should().BeApproximately(second - (mass * centre * centre), 1e-4);

        // Common practice, no source: a top balances at 30 to 45 % of its length from the butt.
        (top.CentreOfGravity / 6).Should().BeInRange(0.30, 0.45);
    }

    [Fact]
    public void A_middle_girth_changes_the_mass_by_Newtons_formula()
    {
        PieceEstimate.Log(0.29, 0.25, 5, 1000, 0.26).Mass.Should().BeApproximately(1000 * LogVolume.Newton(0.29, 0.26, 0.25, 5), 1e-9);
    }

    [Fact]
    public void Another_mass_scales_the_inertia_and_leaves_the_balance()
    {
        PieceEstimate log = PieceEstimate.Log(0.4, 0.35, 1.25, 950);
        PieceEstimate heavier = log.WithMass(2 * log.Mass);

        heavier.Inertia.Should().BeApproximately(2 * log.Inertia, 1e-9);
        heavier.CentreOfGravity.Should().Be(log.CentreOfGravity);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Nonsense_is_refused(double wrong)
    {
        static void Refused(Func<PieceEstimate> estimate, string parameter) =>
            FluentActions.Invoking(estimate).Should().Throw<ArgumentOutOfRangeException>().WithParameterName(parameter);
        Refused(() => PieceEstimate.Log(wrong, 0.1, 1, 900), "buttDiameter");
        Refused(() => PieceEstimate.Log(0.2, 0.1, wrong, 900), "length");
        Refused(() => PieceEstimate.Log(0.2, 0.1, 1, wrong), "density");
        Refused(() => PieceEstimate.Log(0.2, 0.1, 1, 900).WithMass(wrong), "mass");
        if (wrong == 0)
        {
            // A point, a crown from the cut on, of no width, without branches: the stem's cone.
            PieceEstimate.Top(0.2, 0, 4, 900, 0, 0, 0).Should().Be(PieceEstimate.Log(0.2, 0, 4, 900));
            PieceEstimate.Top(0.2, 0, 4, 900, 4, 0, 0).Should().Be(PieceEstimate.Log(0.2, 0, 4, 900));
            return;
        }

        Refused(() => PieceEstimate.Log(0.2, wrong, 1, 900), "tipDiameter");
        if (wrong < 0)
        {
            Refused(() => PieceEstimate.Top(0.2, 0.02, 4, 900, wrong, 0.8, 1), "bareLength");
            Refused(() => PieceEstimate.Top(0.2, 0.02, 4, 900, 1, wrong, 1), "crownFactor");
            Refused(() => PieceEstimate.Top(0.2, 0.02, 4, 900, 1, 0.8, wrong), "crownHalfWidth");
            Refused(() => PieceEstimate.Top(0.2, 0.02, 4, 900, 5, 0.8, 1), "bareLength");
        }
    }
}
