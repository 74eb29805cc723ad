namespace DropSim.Model;

/// <summary>Volume of a stem section from measured diameters, m3.</summary>
/// <remarks>
/// Smalian, Huber, Newton (Riecker) and the cone frustum as in D.R. Larsen, "Cubic Log Volume", University of Missouri,
/// whose worked example (25 and 29 cm, 5 m) is in the tests. Bark is inside: measure over the bark.
/// </remarks>
public static class LogVolume
{
    /// <summary>Area of a circle of a diameter, m2.</summary>
    /// <param name="diameter">Diameter, m.</param>
    public static double Area(double diameter) => Math.PI / 4 * diameter * diameter;

    /// <summary>Smalian: length times the mean of the end areas. Too large for a log that flares at the butt.</summary>
    /// <param name="butt">Diameter at one end, m.</param>
    /// <param name="tip">Diameter at the other end, m.</param>
    /// <param name="length">Length, m.</param>
    public static double Smalian(double butt, double tip, double length) => length * (Area(butt) + Area(tip)) / 2;

    /// <summary>Huber: length times the area at mid length.</summary>
    /// <param name="middle">Diameter at mid length, m.</param>
    /// <param name="length">Length, m.</param>
    public static double Huber(double middle, double length) => length * Area(middle);

    /// <summary>Newton (Riecker): both ends and the middle; exact for cylinder, cone and paraboloid.</summary>
    /// <param name="butt">Diameter at one end, m.</param>
    /// <param name="middle">Diameter at mid length, m.</param>
    /// <param name="tip">Diameter at the other end, m.</param>
    /// <param name="length">Length, m.</param>
    public static double Newton(double butt, double middle, double tip, double length) =>
        length * (Area(butt) + (4 * Area(middle)) + Area(tip)) / 6;

    /// <summary>Truncated cone.</summary>
    /// <param name="butt">Diameter at one end, m.</param>
    /// <param name="tip">Diameter at the other end, m.</param>
    /// <param name="length">Length, m.</param>
    public static double Cone(double butt, double tip, double length) =>
        Math.PI / 12 * length * ((butt * butt) + (butt * tip) + (tip * tip));
}

/// <summary>
/// Mass, centre of gravity and inertia of a piece from what a tape measures. A log is a truncated cone. A top is a stem
/// cone plus branches and leaves along the live crown.
/// </summary>
/// <param name="Mass">Mass, kg.</param>
/// <param name="CentreOfGravity">Distance from the butt to the centre of gravity, m.</param>
/// <param name="Inertia">Moment of inertia about the centre of gravity, axis across the stem, kg m2.</param>
/// <remarks>
/// Crown: branch and leaf mass is the crown factor times the stem mass, spread over the live crown (s = 0 at its foot,
/// 1 at its tip) as 12 s (1 - s)^2, whose mean is 0.4 and variance 0.04; across the stem it fills a disc of the crown's
/// half width R, which adds m R^2/4 to the inertia. The factors 0.4 (sparse), 0.8 (medium) and 1.2 (dense) and the
/// distribution are assumptions, common practice without a source: with them a top of 0.22 m butt and 6 m weighs about
/// 140 kg and balances at 42 % of its length (30 to 45 % is common practice). Hence the wide range of a top's mass.
/// </remarks>
public readonly record struct PieceEstimate(double Mass, double CentreOfGravity, double Inertia)
{
    /// <summary>Range of an estimated log's mass, either way. Common practice, no source.</summary>
    public const double LogMassRange = 0.15;

    /// <summary>Range of an estimated top's mass, either way. Common practice, no source.</summary>
    public const double TopMassRange = 0.40;

    /// <summary>Range of a weighed mass, either way: a crane scale or load cell in field use. Common practice, no source.</summary>
    public const double WeighedMassRange = 0.03;

    /// <summary>Branch and leaf mass over stem mass of a sparse, a medium and a dense crown. Common practice, no source.</summary>
    public const double SparseCrown = 0.4, MediumCrown = 0.8, DenseCrown = 1.2;

    private const double CrownMean = 0.4;
    private const double CrownVariance = 0.04;

    /// <summary>A log as a truncated cone.</summary>
    /// <param name="buttDiameter">Diameter at the butt, m, above 0.</param>
    /// <param name="tipDiameter">Diameter at the tip, m, 0 or more.</param>
    /// <param name="length">Length, m, above 0.</param>
    /// <param name="density">Green density, kg/m3, above 0.</param>
    /// <param name="middleDiameter">Diameter at mid length, m, where measured: the mass then follows Newton's formula
    /// (balance and inertia keep the cone's shape); null where not.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that is not positive and finite.</exception>
    public static PieceEstimate Log(double buttDiameter, double tipDiameter, double length, double density, double? middleDiameter = null)
    {
        Require(buttDiameter, nameof(buttDiameter));
        Require(length, nameof(length));
        Require(density, nameof(density));
        if (!(tipDiameter >= 0) || !double.IsFinite(tipDiameter))
        {
            throw new ArgumentOutOfRangeException(nameof(tipDiameter), tipDiameter, "A diameter is 0 or more.");
        }

        double volume = middleDiameter is { } middle
            ? LogVolume.Newton(buttDiameter, middle, tipDiameter, length)
            : LogVolume.Cone(buttDiameter, tipDiameter, length);
        double mass = density * volume;

        // With r = a + (b - a) t, t = 0 at the butt: moments of r^2 and r^4 over the length.
        double a = buttDiameter / 2;
        double b = tipDiameter / 2;
        double square = ((a * a) + (a * b) + (b * b)) / 3;
        double first = ((a * a) + (2 * a * b) + (3 * b * b)) / 12;
        double second = ((a * a) + (3 * a * b) + (6 * b * b)) / 30;
        double fourth = ((a * a * a * a) + (a * a * a * b) + (a * a * b * b) + (a * b * b * b) + (b * b * b * b)) / 5;

        double centre = length * first / square;
        double alongAxis = length * length * ((second / square) - (first / square * (first / square)));
        double acrossAxis = fourth / square / 4;
        return new PieceEstimate(mass, centre, mass * (alongAxis + acrossAxis));
    }

    /// <summary>A top: stem cone plus crown.</summary>
    /// <param name="buttDiameter">Diameter at the cut, m, above 0.</param>
    /// <param name="tipDiameter">Diameter at the stem's tip, m, 0 or more.</param>
    /// <param name="length">Length from cut to tip, m, above 0.</param>
    /// <param name="density">Green density of the stem, kg/m3, above 0.</param>
    /// <param name="bareLength">Bare stem from the cut to the foot of the live crown, m, 0 to <paramref name="length"/>.</param>
    /// <param name="crownFactor">Branch and leaf mass over stem mass, 0 or more.</param>
    /// <param name="crownHalfWidth">Half width of the crown, m, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value outside these limits.</exception>
    public static PieceEstimate Top(
        double buttDiameter, double tipDiameter, double length, double density, double bareLength, double crownFactor, double crownHalfWidth)
    {
        PieceEstimate stem = Log(buttDiameter, tipDiameter, length, density);
        ArgumentOutOfRangeException.ThrowIfNegative(bareLength);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bareLength, length);
        ArgumentOutOfRangeException.ThrowIfNegative(crownFactor);
        ArgumentOutOfRangeException.ThrowIfNegative(crownHalfWidth);

        double crown = length - bareLength;
        double crownMass = crownFactor * stem.Mass;
        double crownCentre = bareLength + (CrownMean * crown);
        double crownInertia = crownMass * ((CrownVariance * crown * crown) + (crownHalfWidth * crownHalfWidth / 4));

        double mass = stem.Mass + crownMass;
        double centre = ((stem.Mass * stem.CentreOfGravity) + (crownMass * crownCentre)) / mass;
        double stemArm = stem.CentreOfGravity - centre;
        double crownArm = crownCentre - centre;
        double inertia = stem.Inertia + (stem.Mass * stemArm * stemArm) + crownInertia + (crownMass * crownArm * crownArm);
        return new PieceEstimate(mass, centre, inertia);
    }

    /// <summary>The same shape with another mass: inertia scales with it.</summary>
    /// <param name="mass">Mass, kg, above 0.</param>
    public PieceEstimate WithMass(double mass)
    {
        Require(mass, nameof(mass));
        return this with { Mass = mass, Inertia = Inertia * mass / Mass };
    }

    private static void Require(double value, string name)
    {
        if (!(value > 0) || !double.IsFinite(value))
        {
            throw new ArgumentOutOfRangeException(name, value, "Must be above 0 and finite.");
        }
    }
}
