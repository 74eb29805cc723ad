using DropSim.Model;
using MathNet.Numerics.Integration;

namespace DropSim.Tests.Model;

/// <summary>The spar against closed forms of the bending beam. Bare stems without weight unless a test says so.</summary>
public sealed class SparTests
{
    private const double Gravity = 9.80665;
    private const double E = 9e9;
    private const double Density = 900;
    private const double Length = 10;
    private const double Base = 0.5;

    // Uniform clamped-free beam: 1 + cos b cosh b = 0. Computed from that equation, which stands in any text on vibration, such as
    // R. D. Blevins, Formulas for Natural Frequency and Mode Shape (1979), Table 8-1.
    [Theory]
    [InlineData(0, 1.87510407)]
    [InlineData(1, 4.69409113)]
    [InlineData(2, 7.85475744)]
    [InlineData(3, 10.99554073)]
    public void UniformStemSwaysAtTheRootsOfTheClampedFreeBeam(int mode, double betaL)
    {
        ModalSpar spar = new(Cone(Base, Base), 4, 24, 0);

        // Cubic elements come from above by (b h)^4/720 in w^2, a quarter of it in b: (11/24)^4/2880 = 1.5e-5 at mode 4.
        RootOf(spar.AngularFrequencies[mode], Base).Should().BeApproximately(betaL, 2e-5 * betaL);
    }

    // Tip mass M = eta rho A L: 1 + cos b cosh b + eta b (cos b sinh b - sin b cosh b) = 0, roots computed from that equation.
    [Theory]
    [InlineData(0.1, 1.722742, 4.399523, 7.451057)]
    [InlineData(0.2, 1.616400, 4.267062, 7.318373)]
    [InlineData(0.5, 1.419964, 4.111133, 7.190335)]
    [InlineData(1, 1.247917, 4.031139, 7.134132)]
    [InlineData(2, 1.076196, 3.982573, 7.102650)]
    [InlineData(5, 0.870021, 3.949980, 7.082538)]
    [InlineData(10, 0.735782, 3.938466, 7.075616)]
    public void ClimberAtTheTipSlowsTheStemAsATipMassDoes(double eta, double b1, double b2, double b3)
    {
        double mass = eta * Density * Area(Base) * Length;

        ModalSpar spar = new(Cone(Base, Base) with { ClimberMass = mass, ClimberBelowCut = 0 }, 3, 40, 0);

        RootOf(spar.AngularFrequencies[0], Base).Should().BeApproximately(b1, 1e-6);
        RootOf(spar.AngularFrequencies[1], Base).Should().BeApproximately(b2, 1e-5);
        RootOf(spar.AngularFrequencies[2], Base).Should().BeApproximately(b3, 2e-5);
    }

    // Truncated circular cone clamped at its thick end, w = lambda sqrt(E I0/(rho A0 L^4)) with I0, A0 at the base. Values computed
    // from the equation of the beam, (E I w'')'' = rho A w^2 w, by shooting. It is the equation G. Kirchhoff solved for the full
    // cone; his 8.719 is what these tend to as the tip thins.
    [Theory]
    [InlineData(0.1, 7.20487, 18.68016, 37.12383)]
    [InlineData(0.2, 6.19639, 18.38547, 39.83363)]
    [InlineData(0.5, 4.62515, 19.54761, 48.57890)]
    [InlineData(0.6, 4.31878, 20.04998, 51.33463)]
    [InlineData(0.8, 3.85512, 21.05675, 56.63035)]
    [InlineData(0.9, 3.67370, 21.55025, 59.18864)]
    [InlineData(1.0, 3.51602, 22.03449, 61.69721)]
    public void TaperedStemSwaysAsTheTruncatedCone(double tipOverBase, double lambda1, double lambda2, double lambda3)
    {
        ModalSpar spar = new(Cone(Base, tipOverBase * Base), 3, 60, 0);

        double unit = Math.Sqrt(E * Second(Base) / (Density * Area(Base) * Math.Pow(Length, 4)));
        (spar.AngularFrequencies[0] / unit).Should().BeApproximately(lambda1, 1e-5 * lambda1);
        (spar.AngularFrequencies[1] / unit).Should().BeApproximately(lambda2, 1e-5 * lambda2);
        (spar.AngularFrequencies[2] / unit).Should().BeApproximately(lambda3, 2e-5 * lambda3);
    }

    [Fact]
    public void NearlyFullConeComesToKirchhoffsFrequency()
    {
        ModalSpar spar = new(Cone(Base, 0.002 * Base), 1, 200, 0);

        // The full cone of the same base is L/0.998 long, and its last 0.2 % neither weighs nor stiffens (c^3 and c^4): so
        // lambda = 8.719259 * 0.998^2 = 8.684417.
        double unit = Math.Sqrt(E * Second(Base) / (Density * Area(Base) * Math.Pow(Length, 4)));
        (spar.AngularFrequencies[0] / unit).Should().BeApproximately(8.719259 * 0.998 * 0.998, 1e-5);
    }

    // Deflection under a force at the tip: integral of F (L - z)^2/(E I) over a linear taper = F L^3/(3 E I_base) (D/d), elementary.
    [Theory]
    [InlineData(0.5, 12.07220e-3)]
    [InlineData(0.4, 15.09025e-3)]
    [InlineData(0.25, 24.14439e-3)]
    [InlineData(0.1, 60.36099e-3)]
    public void TipForceBendsTheTaperedStemByTheClosedForm(double tipDiameter, double deflection)
    {
        ModalSpar spar = new(Cone(Base, tipDiameter), 3, 60, 0);

        // Elements of a cubic are a little too stiff where EI varies: relative error of order (taper over one element)^4.
        (1000 / spar.StaticTipStiffness).Should().BeApproximately(deflection, 1e-5 * deflection);
    }

    [Fact]
    public void EightModesCarryNearlyTheWholeTipDeflection()
    {
        ModalSpar spar = new(Cone(Base, 0.25), 8, 60, 0);
        double sum = 0;
        (double[] shape, _) = ShapeAt(spar, Length);
        for (int i = 0; i < 8; i++)
        {
            sum += 1000 * Math.Pow(shape[i] / spar.AngularFrequencies[i], 2);
        }

        // Modes left out can only add: what is missing goes as sum 1/b^4 over the ninth and later, under 2e-4.
        sum.Should().BeInRange(24.14439e-3 * (1 - 5e-4), 24.14439e-3);
    }

    [Fact]
    public void StiffStemOnASoftRootIsARodOnARotationalSpring()
    {
        // w^2 = k/I, I = rho A L^2/3 for a uniform rod about its end: k = 1e5, I = 900 * 0.19635 * 1000/3 = 58,905 kg m2.
        SparInput input = Cone(Base, Base) with { Modulus = 1e15, RootStiffness = 1e5 };
        double inertia = Density * Area(Base) * Math.Pow(Length, 3) / 3;

        // Bending adds k L/(3 E I) ~ 1e-7 of flexibility.
        new ModalSpar(input, 1, 8, 0).AngularFrequencies[0].Should().BeApproximately(Math.Sqrt(1e5 / inertia), 1e-5);
    }

    [Fact]
    public void RodOnASpringIsSoftenedByItsWeight()
    {
        // Inverted pendulum: w^2 = (k - m g L/2 - m_c g h)/(m L^2/3 + m_c h^2).
        SparInput input = Cone(Base, Base) with { Modulus = 1e15, RootStiffness = 1e6, ClimberMass = 90, ClimberBelowCut = 2 };
        double mass = Density * Area(Base) * Length;
        double stiffness = 1e6 - (mass * Gravity * Length / 2) - (90 * Gravity * 8);
        double inertia = (mass * Length * Length / 3) + (90 * 64);

        new ModalSpar(input, 1, 8, Gravity).AngularFrequencies[0].Should().BeApproximately(Math.Sqrt(stiffness / inertia), 1e-5);
    }

    [Fact]
    public void VeryStiffRootSpringIsARigidRoot()
    {
        double rigid = new ModalSpar(Cone(Base, 0.3), 3, 24, Gravity).AngularFrequencies[0];
        double stiff = new ModalSpar(Cone(Base, 0.3) with { RootStiffness = 1e14 }, 3, 24, Gravity).AngularFrequencies[0];

        // Flexibility of the spring against that of the stem: E I/(L k) ~ 3e-8.
        stiff.Should().BeApproximately(rigid, 1e-6 * rigid);
        stiff.Should().BeLessThan(rigid);
    }

    // Heavy uniform column: falls by itself at q L^3/(E I) = 7.837 (A. G. Greenhill's heavy column), which is (9/4) j^2 with
    // j = 1.86635 the first zero of the Bessel function J_-1/3.
    [Fact]
    public void FrequencyVanishesAtGreenhillsHeight()
    {
        double slenderness = 2.25 * 1.8663509 * 1.8663509;
        slenderness.Should().BeApproximately(7.837, 1e-3);
        double diameter = 0.1;
        double critical = Math.Pow(slenderness * E * Second(diameter) / (Density * Gravity * Area(diameter)), 1.0 / 3);

        double free = FirstFrequency(critical, 0);
        FirstFrequency(0.9999 * critical, Gravity).Should().BeLessThan(0.02 * free);
        Action above = () => FirstFrequency(1.0001 * critical, Gravity);

        above.Should().Throw<UnstableSparException>().WithMessage("*falls by itself*");

        double FirstFrequency(double height, double gravity) =>
            new ModalSpar(Cone(diameter, diameter, height), 1, 40, gravity).AngularFrequencies[0];
    }

    [Theory]
    [InlineData(0)]
    [InlineData(10.001)]
    public void ALoadStandsOnTheSpar(double height)
    {
        ModalSpar spar = new(Cone(0.5, 0.25, 10), 2, 24, 9.80665);
        FluentActions.Invoking(() => spar.BucklingLoadAt(height)).Should().Throw<ArgumentOutOfRangeException>();
        spar.BucklingLoadAt(10).Should().BePositive();
    }

    [Fact]
    public void LightColumnBucklesAtEulersLoad()
    {
        // pi^2 E I/(4 L^2), L. Euler's cantilever.
        double euler = Math.PI * Math.PI * E * Second(Base) / (4 * Length * Length);
        ModalSpar spar = new(Cone(Base, Base), 1, 24, 0);

        spar.BucklingLoadAt(Length).Should().BeApproximately(euler, 1e-6 * euler);
        spar.BucklingLoadAt(Length / 2).Should().BeApproximately(4 * euler, 1e-5 * euler);
    }

    [Fact]
    public void SquareOfTheFrequencyFallsWithTheLoadAtTheTip()
    {
        // A climber as dead weight at the tip, so heavy that the stem is a massless spring: w^2 = (k_eff/m) and k_eff falls almost
        // straight to zero at Euler's load (exactly P beta/(tan(beta L) - beta L), beta^2 = P/EI: elementary beam-column).
        SparInput input = Cone(Base, Base) with { Density = 1e-6, ClimberMass = 3e4, ClimberBelowCut = 0 };
        double load = 3e4 * Gravity;
        double beta = Math.Sqrt(load / (E * Second(Base)));
        double stiffness = load * beta / (Math.Tan(beta * Length) - (beta * Length));
        double euler = Math.PI * Math.PI * E * Second(Base) / (4 * Length * Length);

        ModalSpar spar = new(input, 1, 24, Gravity);
        double square = Math.Pow(spar.AngularFrequencies[0], 2);

        square.Should().BeApproximately(stiffness / 3e4, 1e-5 * square);
        square.Should().BeApproximately((1 - (load / euler)) * 3 * E * Second(Base) / Math.Pow(Length, 3) / 3e4, 0.02 * square);
        spar.BucklingLoadAt(Length).Should().BeApproximately(euler - load, 1e-5 * euler);
    }

    [Fact]
    public void ModesAreNormalisedOrthogonalAndPositiveAtTheTip()
    {
        SparInput input = Stem();
        ModalSpar spar = new(input, 5, 24, Gravity);
        for (int i = 0; i < 5; i++)
        {
            ShapeAt(spar, spar.Height).Shape[i].Should().BePositive();
            for (int j = 0; j <= i; j++)
            {
                (double[] climber, _) = ShapeAt(spar, spar.Height - 1.2);
                double product = 90 * climber[i] * climber[j];
                product += IntegrateOverElements(spar, 24, spar.Height, z =>
                {
                    (double[] shape, _) = ShapeAt(spar, z);
                    double radius = spar.RadiusAt(z);
                    return input.Density * Math.PI * radius * radius * shape[i] * shape[j];
                });
                product.Should().BeApproximately(i == j ? 1 : 0, 1e-9);
            }
        }
    }

    [Fact]
    public void SlopeIsTheDerivativeOfDeflectionAndTheAxisGoesOnStraightAboveTheCut()
    {
        ModalSpar spar = new(Stem(), 3, 24, Gravity);
        double step = 1e-5;
        foreach (double z in new[] { 0.3, 4.4, 9.999, spar.Height - 0.1 })
        {
            double difference = (ShapeAt(spar, z + step).Shape[2] - ShapeAt(spar, z - step).Shape[2]) / (2 * step);
            ShapeAt(spar, z).Slope[2].Should().BeApproximately(difference, 1e-8);
        }

        (double[] tip, double[] tipSlope) = ShapeAt(spar, spar.Height);
        ShapeAt(spar, spar.Height + 0.5).Shape[0].Should().BeApproximately(tip[0] + (0.5 * tipSlope[0]), 1e-14);
        ShapeAt(spar, 0).Shape.Should().OnlyContain(value => value == 0);
    }

    [Fact]
    public void ShorteningIsTheIntegralOfSlopesSquared()
    {
        ModalSpar spar = new(Stem(), 3, 24, Gravity);
        double[] shortening = spar.ShorteningAt(11.1);
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
            {
                double expected = IntegrateOverElements(spar, 24, 11.1, z => ShapeAt(spar, z).Slope[i] * ShapeAt(spar, z).Slope[j]);
                shortening[(3 * i) + j].Should().BeApproximately(expected, 1e-12);
            }
        }
    }

    [Fact]
    public void FrequenciesConvergeFromAboveWithTheFourthPowerOfTheElement()
    {
        double exact = 7.85475744 * 7.85475744;
        double coarse = (Scaled(8) / exact) - 1;
        double fine = (Scaled(16) / exact) - 1;

        fine.Should().BePositive();
        (coarse / fine).Should().BeInRange(14, 18);

        static double Scaled(int elements) => new ModalSpar(Cone(Base, Base), 3, elements, 0).AngularFrequencies[2]
            / Math.Sqrt(E * Second(Base) / (Density * Area(Base) * Math.Pow(Length, 4)));
    }

    [Fact]
    public void MassRadiusAndTaperFollowTheMeasuredDiameters()
    {
        // Frusta: 2 m from 0.6 to 0.5 m and 12 m from 0.5 to 0.26 m, volume L pi/12 (D^2 + D d + d^2).
        ModalSpar spar = new(Stem(), 3, 24, Gravity);
        double volume = Math.PI / 12 * ((2 * (0.36 + 0.30 + 0.25)) + (12 * (0.25 + 0.13 + 0.0676)));

        spar.Mass.Should().BeApproximately(800 * volume, 1e-9);
        spar.RadiusAt(1).Should().BeApproximately(0.275, 1e-15);
        spar.RadiusAt(8).Should().BeApproximately(0.19, 1e-15);
        spar.RadiusSlopeAt(1).Should().BeApproximately(-0.025, 1e-15);
        spar.RadiusSlopeAt(8).Should().BeApproximately(-0.01, 1e-15);
    }

    [Theory]
    [InlineData(0.4)]
    [InlineData(0.9)]
    public void SwayTestFitsTheModulusOfARigidRoot(double hertz)
    {
        ModalSpar spar = new(Stem() with { MeasuredSwayFrequency = hertz }, 3, 24, Gravity);

        (spar.AngularFrequencies[0] / (2 * Math.PI)).Should().BeApproximately(hertz, 1e-7);
        spar.RootStiffness.Should().Be(double.PositiveInfinity);
        new ModalSpar(Stem() with { Modulus = spar.Modulus }, 3, 24, Gravity).AngularFrequencies[0]
            .Should().BeApproximately(2 * Math.PI * hertz, 1e-6);
    }

    [Fact]
    public void SwayTestFitsASoftRootAndLeavesTheModulus()
    {
        double rigid = new ModalSpar(Stem(), 1, 24, Gravity).AngularFrequencies[0] / (2 * Math.PI);
        ModalSpar spar = new(Stem() with { RootStiffness = 1e6, MeasuredSwayFrequency = 0.8 * rigid }, 3, 24, Gravity);

        (spar.AngularFrequencies[0] / (2 * Math.PI)).Should().BeApproximately(0.8 * rigid, 1e-7);
        spar.Modulus.Should().Be(9e9);
        spar.RootStiffness.Should().BeInRange(1e4, 1e8);
    }

    [Fact]
    public void SwayTestFasterThanARigidRootAllowsStiffensTheWood()
    {
        double rigid = new ModalSpar(Stem(), 1, 24, Gravity).AngularFrequencies[0] / (2 * Math.PI);
        ModalSpar spar = new(Stem() with { RootStiffness = 1e6, MeasuredSwayFrequency = 1.2 * rigid }, 3, 24, Gravity);

        (spar.AngularFrequencies[0] / (2 * Math.PI)).Should().BeApproximately(1.2 * rigid, 1e-7);
        spar.RootStiffness.Should().Be(double.PositiveInfinity);

        // Weight matters little here, so that the modulus goes nearly with the square of the frequency.
        spar.Modulus.Should().BeInRange(1.40 * 9e9, 1.44 * 9e9);
    }

    [Fact]
    public void ClimberBesideALowStubDoesNotLoadIt()
    {
        SparInput stub = Cone(Base, Base, 1) with { ClimberBelowCut = 1.2 };

        ModalSpar beside = new(stub with { ClimberMass = 90 }, 3, 24, Gravity);

        beside.ClimberHeight.Should().Be(0);
        beside.AngularFrequencies.ToArray().Should().Equal(new ModalSpar(stub, 3, 24, Gravity).AngularFrequencies.ToArray());
    }

    [Fact]
    public void RigidSparHasNoModesAndDoesNotBuckle()
    {
        ModalSpar spar = new(Stem() with { Rigid = true }, 3, 24, Gravity);

        spar.ModeCount.Should().Be(0);
        spar.ShorteningAt(5).Should().BeEmpty();
        spar.BucklingLoadAt(5).Should().Be(double.PositiveInfinity);
    }

    [Fact]
    public void ReadingAShapeAllocatesNothing()
    {
        ModalSpar spar = new(Stem(), 3, 24, Gravity);
        double[] shape = new double[3];
        double[] slope = new double[3];
        spar.ShapeAt(1, shape, slope);

        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1000; i++)
        {
            spar.ShapeAt(0.014 * i, shape, slope);
            slope[0] += spar.RadiusAt(0.014 * i) + spar.RadiusSlopeAt(0.014 * i);
        }

        (GC.GetAllocatedBytesForCurrentThread() - before).Should().Be(0);
    }

    [Fact]
    public void TableOfDiametersMustReachFromGroundToCut()
    {
        Action low = () => Build([new(0, 0.5), new(9, 0.4)]);
        Action high = () => Build([new(1, 0.5), new(10, 0.4)]);
        Action order = () => Build([new(0, 0.5), new(6, 0.4), new(5, 0.4), new(10, 0.3)]);
        Action thin = () => Build([new(0, 0.5), new(10, 0)]);

        low.Should().Throw<ArgumentException>().WithMessage("*last diameter*");
        high.Should().Throw<ArgumentException>().WithMessage("*first diameter*");
        order.Should().Throw<ArgumentException>().WithMessage("*increase*");
        thin.Should().Throw<ArgumentException>().WithMessage("*positive*");

        static ModalSpar Build(DiameterAtHeight[] table) => new(Cone(Base, Base) with { Diameters = table }, 3, 24, Gravity);
    }

    [Fact]
    public void AStemThatCannotBeIsRefusedInWords()
    {
        static void Refused(string words, Func<SparInput, SparInput> change, int modes = 3, int elements = 24, double gravity = Gravity) =>
            FluentActions.Invoking(() => new ModalSpar(change(Cone(Base, Base)), modes, elements, gravity)).Should().Throw<ArgumentException>().WithMessage("*" + words + "*");
        Refused("height of the cut must be positive", s => s with { Height = 0 });
        Refused("height of the cut must be positive", s => s with { Height = double.PositiveInfinity });
        Refused("At least two diameters", s => s with { Diameters = [new(0, Base)] });
        Refused("Every diameter must be positive", s => s with { Diameters = [new(0, Base), new(Length, double.PositiveInfinity)] });
        Refused("Gravity must not be negative", s => s, gravity: -1e-9);
        Refused("Gravity must not be negative", s => s, gravity: double.PositiveInfinity);
        Refused("density must be positive", s => s with { Density = 0 });
        Refused("density must be positive", s => s with { Density = double.PositiveInfinity });
        Refused("modulus must be positive", s => s with { Modulus = 0 });
        Refused("modulus must be positive", s => s with { Modulus = double.PositiveInfinity });
        Refused("stiffness of the root must be positive", s => s with { RootStiffness = 0 });
        Refused("damping ratio must be at least 0 and below 1", s => s with { DampingRatio = -1e-9 });
        Refused("damping ratio must be at least 0 and below 1", s => s with { DampingRatio = 1 });
        Refused("sway frequency must be positive", s => s with { MeasuredSwayFrequency = 0 });
        Refused("sway frequency must be positive", s => s with { MeasuredSwayFrequency = double.PositiveInfinity });
        Refused("climber's mass must not be negative", s => s with { ClimberMass = -1e-9 });
        Refused("climber's mass must not be negative", s => s with { ClimberMass = double.PositiveInfinity });
        Refused("climber must stand at the cut or below it", s => s with { ClimberMass = 90, ClimberBelowCut = -1e-9 });
        Refused("climber must stand at the cut or below it", s => s with { ClimberMass = 90, ClimberBelowCut = double.PositiveInfinity });
        Refused("modes", s => s, modes: -1);
        Refused("modes", s => s, modes: 9);
        Refused("elements", s => s, elements: 3);
        Refused("elements", s => s, elements: 201);

        // The last that is permitted.
        FluentActions.Invoking(() => new ModalSpar(Cone(Base, Base) with { DampingRatio = 0, ClimberBelowCut = -1 }, 8, 4, 0)).Should().NotThrow("nobody stands on it");
        FluentActions.Invoking(() => new ModalSpar(Cone(Base, Base) with { ClimberMass = 90, ClimberBelowCut = 0 }, 0, 4, 0)).Should().NotThrow();
    }

    internal static SparInput Cone(double baseDiameter, double tipDiameter, double height = Length) => new()
    {
        Height = height,
        Diameters = [new(0, baseDiameter), new(height, tipDiameter)],
        Density = Density,
        Modulus = E,
        ClimberMass = 0,
    };

    /// <summary>A 14 m conifer stem with butt swell, a climber 1.2 m below the cut, and its weight.</summary>
    internal static SparInput Stem() => new()
    {
        Height = 14,
        Diameters = [new(0, 0.6), new(2, 0.5), new(14, 0.26)],
        Density = 800,
        Modulus = 9e9,
    };

    /// <summary>How far bending lowers the axis at a height: the integral of the slope squared over two, by Simpson's rule.</summary>
    internal static double Lowered(ModalSpar spar, double height, double[] q)
    {
        const int Intervals = 480;
        double Square(int k)
        {
            var slope = ShapeAt(spar, height * k / Intervals).Slope.Zip(q, (a, b) => a * b).Sum();
            return slope * slope;
        }

        return Enumerable.Range(0, Intervals + 1).Sum(k => Square(k) * (k is 0 or Intervals ? 1 : k % 2 == 1 ? 4 : 2)) * height / Intervals / 6;
    }

    internal static (double[] Shape, double[] Slope) ShapeAt(ModalSpar spar, double z)
    {
        double[] shape = new double[spar.ModeCount];
        double[] slope = new double[spar.ModeCount];
        spar.ShapeAt(z, shape, slope);
        return (shape, slope);
    }

    /// <summary>Gauss quadrature between element nodes, so that no kink lies inside a stretch of these stems.</summary>
    private static double IntegrateOverElements(ModalSpar spar, int elements, double upTo, Func<double, double> integrand)
    {
        double sum = 0;
        List<double> ends = [.. Enumerable.Range(0, elements + 1).Select(k => spar.Height * k / elements), 2, upTo];
        ends.Sort();
        for (int k = 0; k + 1 < ends.Count && ends[k + 1] <= upTo; k++)
        {
            sum += GaussLegendreRule.Integrate(integrand, ends[k], ends[k + 1], 6);
        }

        return sum;
    }

    private static double RootOf(double omega, double diameter) =>
        Length * Math.Sqrt(omega * Math.Sqrt(Density * Area(diameter) / (E * Second(diameter))));

    private static double Area(double d) => Math.PI / 4 * d * d;

    private static double Second(double d) => Math.PI / 64 * Math.Pow(d, 4);
}
