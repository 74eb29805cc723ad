using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Moment and stress in the spar by mode acceleration against statics.</summary>
public sealed class SparSectionsTests
{
    private const double Gravity = 9.80665;

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void SteadyTipForceBendsTheBaseByForceTimesHeightWhateverTheModes(int modes)
    {
        SparSections sections = new(new ModalSpar(SparTests.Cone(0.5, 0.25), modes, 24, 0));
        double[] rest = new double[modes];

        // 1 kN at 10 m: 10 kN m at the ground, 5 kN m halfway.
        sections.BaseMoment(rest, rest, [new(10, 0, 1000, 0)]).Should().BeApproximately(10_000, 1e-8);
        sections.MomentAt(5.1, rest, rest, [new(10, 0, 1000, 0)]).Should().BeApproximately(4_900, 1e-8);
    }

    [Fact]
    public void DownwardPullBesideTheAxisBendsTowardItsSide()
    {
        // 20 kN down at 0.3 m toward the fall: 6 kN m everywhere below, nothing above.
        SparSections sections = new(new ModalSpar(SparTests.Cone(0.5, 0.25), 2, 24, 0));
        double[] rest = new double[2];
        SparLoad[] loads = [new(8, 0.3, 0, -20_000)];

        sections.BaseMoment(rest, rest, loads).Should().BeApproximately(6_000, 1e-9);
        sections.MomentAt(7.9, rest, rest, loads).Should().BeApproximately(6_000, 1e-9);
        sections.MomentAt(8.1, rest, rest, loads).Should().Be(0);
    }

    [Fact]
    public void FreeSwayTakesItsMomentFromTheCurvature()
    {
        // One mode swinging freely, qdd = -w^2 q: inertia and weights alone must give E I w'' there, here by differences of the slope.
        ModalSpar spar = new(SparTests.Stem(), 1, 100, Gravity);
        SparSections sections = new(spar);
        double q = 5;
        double[] acceleration = [-Math.Pow(spar.AngularFrequencies[0], 2) * q];
        foreach (double z in new[] { 1.05, 6.37, 10.57 })
        {
            double step = 0.02;
            double curvature = q * (SparTests.ShapeAt(spar, z + step).Slope[0] - SparTests.ShapeAt(spar, z - step).Slope[0]) / (2 * step);
            double expected = 9e9 * Math.PI / 4 * Math.Pow(spar.RadiusAt(z), 4) * curvature;

            // Elements of 0.14 m: their curvature is linear inside, wrong by less than 1e-3.
            sections.MomentAt(z, [q], acceleration, []).Should().BeApproximately(expected, 1e-3 * expected);
        }
    }

    [Fact]
    public void MomentBetweenStationsAgreesWithTheStations()
    {
        ModalSpar spar = new(SparTests.Stem(), 3, 24, Gravity);
        SparSections sections = new(spar);
        double[] q = [4, -0.5, 0.1];
        double[] acceleration = [-60, 100, 300];
        SparLoad[] loads = [new(13.2, 0.2, 3_000, -15_000), new(1.1, 0.4, -500, 4_000)];

        double atGround = sections.BaseMoment(q, acceleration, loads);

        sections.MomentAt(0, q, acceleration, loads).Should().BeApproximately(atGround, 1e-9 * Math.Abs(atGround));
        sections.MomentAt(1e-9, q, acceleration, loads).Should().BeApproximately(atGround, 1e-6 * Math.Abs(atGround));
    }

    [Fact]
    public void WorstStressUnderATipForceSitsWhereTheStemIsHalfAsThickAgainAsAtItsTip()
    {
        // M/W = 32 F x/(pi (d + k x)^3), largest at k x = d/2: diameter 1.5 d (elementary). D = 0.6, d = 0.2 over 10 m: k = 0.04,
        // x = 2.5 m below the tip, diameter 0.3 m, 32 * 1000 * 2.5/(pi 0.027) = 943.1 kPa.
        ModalSpar spar = new(SparTests.Cone(0.6, 0.2), 1, 40, 0);
        (double stress, double height) = new SparSections(spar).WorstStress([0], [0], [new(10, 0, 1000, 0)]);

        height.Should().BeApproximately(7.5, 1e-9);
        stress.Should().BeApproximately(32 * 1000 * 2.5 / (Math.PI * 0.027), 1e-3);
    }

    [Fact]
    public void StockyStemIsWorstAtTheGround()
    {
        ModalSpar spar = new(SparTests.Cone(0.4, 0.3), 1, 40, 0);
        (double stress, double height) = new SparSections(spar).WorstStress([0], [0], [new(10, 0, 1000, 0)]);

        height.Should().Be(0);
        stress.Should().BeApproximately(32 * 10_000 / (Math.PI * 0.064), 1e-3);
    }

    [Fact]
    public void WeightAndLoadPressOnTheSection()
    {
        // Upright at rest with 10 kN straight down: (stem + climber) g + 10 kN over the section at the ground, 0.2827 m2,
        // against the top, 10 kN over 0.0531 m2, which is worse.
        ModalSpar spar = new(SparTests.Stem(), 1, 24, Gravity);
        (double stress, double height) = new SparSections(spar).WorstStress([0], [0], [new(14, 0, 0, -10_000)]);

        height.Should().Be(14);
        stress.Should().BeApproximately(10_000 / (Math.PI * 0.13 * 0.13), 1e-3);

        // Nothing but its own weight and the climber: somewhere below him.
        (stress, height) = new SparSections(spar).WorstStress([0], [0], []);
        stress.Should().BeGreaterThanOrEqualTo((spar.Mass + 90) * Gravity / (Math.PI * 0.09));
        height.Should().BeLessThan(12.8);
    }

    [Theory]
    [InlineData(13.2, 1.1)]
    [InlineData(14, 7)]
    [InlineData(7, 3.5)]
    public void The_worst_stress_is_the_largest_over_the_height_of_what_moment_and_weight_give(double upper, double lower)
    {
        // A cylinder of 0.5 m: W = pi d^3/32, A = pi d^2/4, and the stem above z weighs 900 kg/m3 A (14 - z). Nobody stands on it.
        ModalSpar spar = new(
            new SparInput { Height = 14, Diameters = [new(0, 0.5), new(14, 0.5)], Density = 900, Modulus = 9e9, ClimberMass = 0, RootStiffness = double.PositiveInfinity }, 3, 28, Gravity);
        double[] heights = [lower, upper];
        double area = Math.PI / 4 * 0.25;
        double[] q = [4, -0.5, 0.1];
        double[] acceleration = [-60, 900, 7_000];
        SparLoad[] loads = [new(upper, 0.2, 3_000, -15_000), new(lower, 0.4, -500, 4_000)];
        foreach (SparSections sections in new[] { new SparSections(spar), new SparSections(spar, heights) })
        {
            double Stress(double z) => (Math.Abs(sections.MomentAt(z, q, acceleration, loads)) / (Math.PI * 0.125 / 32))
                + (Math.Abs((900 * area * (14 - z) * Gravity) - loads.Where(l => l.Height >= z).Sum(l => l.Fz)) / area);

            // Stations every half metre, and the loads.
            double expected = Enumerable.Range(0, 29).Select(k => k * 0.5).Concat(heights).Max(Stress);
            (double stress, double height) = sections.WorstStress(q, acceleration, loads);

            stress.Should().BeApproximately(expected, 1e-9 * expected);
            Stress(height).Should().BeApproximately(expected, 1e-9 * expected);
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(20)]
    public void A_bent_spar_carries_what_pulls_down_beside_the_section_by_arm_and_deflection(int count)
    {
        // Without weight and at rest M(z) = sum over the loads above of Fx (h - z) - Fz (offset + w(h) - w(z)).
        ModalSpar spar = new(SparTests.Stem(), 3, 24, 0);
        SparSections sections = new(spar);
        double[] q = [20, -3, 1], rest = [0, 0, 0];
        SparLoad[] loads = [.. Enumerable.Range(1, count).Select(k => new SparLoad(14.0 * k / count, 0.1 * k / count, 300 * k, -2_000.0 * k))];
        double Expected(double z) => loads.Where(l => l.Height >= z).Sum(
            l => (l.Fx * (l.Height - z)) - (l.Fz * (l.Offset + spar.DeflectionAt(l.Height, q) - spar.DeflectionAt(z, q))));

        sections.BaseMoment(q, rest, loads).Should().BeApproximately(Expected(0), 1e-9 * Expected(0));
        foreach (double z in new[] { 0.01, 3.3, 6.99, 13.9 })
        {
            sections.MomentAt(z, q, rest, loads).Should().BeApproximately(Expected(z), 1e-9 * Math.Abs(Expected(0)));
        }
    }

    [Fact]
    public void A_pull_beside_the_axis_between_two_stations_is_worst_right_below_it()
    {
        // 20 kN down, 0.3 m beside: 6 kN m from there to the ground, on a stem that is thinnest there, 0.5 - 0.25 x 0.79 m.
        ModalSpar spar = new(SparTests.Cone(0.5, 0.25), 2, 24, 0);
        (double stress, double height) = new SparSections(spar).WorstStress([0, 0], [0, 0], [new(7.9, 0.3, 0, -20_000)]);

        double d = 0.5 - (0.25 * 0.79);
        height.Should().Be(7.9);
        stress.Should().BeApproximately((6_000 * 32 / (Math.PI * d * d * d)) + (20_000 * 4 / (Math.PI * d * d)), 1e-3);
    }

    [Theory]
    [InlineData(-20_000)]
    [InlineData(20_000)]
    [InlineData(1_000)]
    public void A_load_between_two_stations_adds_to_the_weight_above_it_or_lifts_it(double lift)
    {
        // 0.3 m beside the axis: |0.3 F| / W, and |weight above - F| / A; the truncated cone above weighs rho g pi h / 12 (D^2 + D d + d^2).
        SparInput stem = SparTests.Cone(0.5, 0.25);
        SparSections sections = new(new ModalSpar(stem, 2, 24, Gravity));
        (double stress, double height) = sections.WorstStress([0, 0], [0, 0], [new(7.9, 0.3, 0, lift)]);

        double d = 0.5 - (0.25 * 0.79);
        double weight = stem.Density * Gravity * Math.PI * 2.1 / 12 * ((d * d) + (d * 0.25) + (0.25 * 0.25));
        double expected = (Math.Abs(0.3 * lift) * 32 / (Math.PI * d * d * d)) + (Math.Abs(weight - lift) * 4 / (Math.PI * d * d));
        sections.MomentAt(7.9, [0, 0], [0, 0], [new(7.9, 0.3, 0, lift)]).Should().BeApproximately(-0.3 * lift, 1e-9);
        height.Should().Be(7.9);
        stress.Should().BeApproximately(expected, 1e-9 * expected);
    }

    [Fact]
    public void RigidSparStillCarriesMoments()
    {
        SparSections sections = new(new ModalSpar(SparTests.Stem() with { Rigid = true }, 3, 24, Gravity));

        sections.BaseMoment([], [], [new(14, 0.1, 1000, -2000)]).Should().BeApproximately(14_000 + 200, 1e-9);
    }

    [Fact]
    public void EvaluationAllocatesNothing()
    {
        SparSections sections = new(new ModalSpar(SparTests.Stem(), 3, 24, Gravity));
        double[] q = [1, 0.1, 0.01];
        SparLoad[] loads = [new(13.2, 0.2, 3_000, -15_000), new(14, 0.1, 100, 100)];
        double sum = sections.WorstStress(q, q, loads).Stress;

        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++)
        {
            sum += sections.WorstStress(q, q, loads).Stress + sections.BaseMoment(q, q, loads) + sections.MomentAt(3.3, q, q, loads);
        }

        (GC.GetAllocatedBytesForCurrentThread() - before).Should().Be(0);
        sum.Should().BePositive();
    }
}
