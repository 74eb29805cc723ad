using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// A mass m meets a fixed wall at speed v under F = k d^1.5 (1 + c d'): m u du/dd = -k d^1.5 (1 + c u), u = d'. Separated,
/// u du/(1 + c u) = -(k/m) d^1.5 dd. From touch (u = v) to the turn (u = 0) the left side gives v/c - ln(1 + c v)/c^2, the right (2/5)(k/m) D^2.5 with
/// D the largest penetration; from the turn back to d = 0, where u = -e v, it gives the same with -e v: so e depends on x = c v alone,
///     x - ln(1 + x) = -e x - ln(1 - e x),
/// whatever k, m and the exponent are. Both sides as series, x^2/2 - x^3/3 = (e x)^2/2 + (e x)^3/3: e = 1 - (2/3) x + O(x^2).
/// Without damping D = (5 m v^2/(4 k))^(2/5) and the touch lasts 2 integral of dd / (v sqrt(1 - (d/D)^2.5)) = 2 (D/v)(2/5) B(2/5, 1/2), B Euler's beta function.
/// </summary>
internal static class ContactCases
{
    private const string Page = "theory/contact.md";
    private const string Derived = "Derived here (remark of `ContactCases`) from the law of K.H. Hunt and F.R.E. Crossley (by name)";

    private static readonly double[] _numbers = [0.001, 0.1, 0.6, 1.5];

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-901", Page = Page, What = "Whole system: speed after a central strike of the butt's corner on a rigid spar over the speed before, at 2 m/s", Formula = "x - ln(1 + x) = -e x - ln(1 - e x), x = d v",
            Source = Derived, Relative = 1e-7, Why = "tolerance 1e-11",
            Compute = () => _numbers.Select(x => new VerificationPoint(Say.Number("d v = ", x), Restitution(x), new Strike(2, x / 2, 1e6).SpeedAfter / 2)),
        },
        new()
        {
            Id = "V-902", Page = Page, What = "The same at small d v: what is lost, (1 - e)/(d v)", Formula = "2/3", Source = Derived, Absolute = 1e-3, Why = "the next term, of order d v",
            Compute = () => [new("d v = 0.001", 2.0 / 3, (1 - (new Strike(2, 0.0005, 1e6).SpeedAfter / 2)) / 0.001)],
        },
        new()
        {
            Id = "V-903", Page = Page, What = "The same: peak force", Formula = "k D^1.5 with D = (5 m v^2/(4 k))^(2/5), without damping", Source = Derived, Unit = "N", Relative = 1e-6, Why = "damping of 1e-9 s/m, and the place of a maximum",
            Compute = () => new[] { (1.0, 1e6), (2, 1e6), (4, 1e8) }.Select(p => new VerificationPoint(
                Say.Number("v = ", p.Item1, Say.Number(" m/s, k = ", p.Item2 / 1e6, "e6 N/m^1.5")), p.Item2 * Math.Pow(Depth(p.Item1, p.Item2), 1.5), new Strike(p.Item1, 1e-9, p.Item2).PeakForce)),
        },
        new()
        {
            Id = "V-904", Page = Page, What = "The same: how long the touch lasts", Formula = "(4/5) B(2/5, 1/2) D/v = 2.943 D/v", Source = Derived + "; the constant is H. Hertz's for spheres (by name)", Unit = "s", Relative = 1e-6, Why = "damping of 1e-9 s/m, and the places of two events",
            Compute = () => new[] { 1.0, 4 }.Select(v => new VerificationPoint(
                Say.Number("v = ", v, " m/s"), 0.8 * MathNet.Numerics.SpecialFunctions.Beta(0.4, 0.5) * Depth(v, 1e6) / v, new Strike(v, 1e-9, 1e6).Duration)),
        },
        new()
        {
            Id = "V-905", Page = Page, What = "Whole system: impulse of a strike beside the centre of gravity, from the change of speed", Formula = "J = (1 + e) v/(1/m + r^2/I), r the arm: eq. (5)'s mass", Source = "Derived here: momentum and spin of a free body", Unit = "N s", Relative = 2e-3, Why = "the piece turns by a thousandth while it touches a contact of 1e10 N/m^1.5",
            Compute = () => new[] { 0.2, 0.45 }.Select(BesideTheCentre),
        },
    ];

    /// <summary>Coefficient of restitution for d v = x.</summary>
    public static double Restitution(double x)
    {
        var left = x - Math.Log(1 + x);
        return Bisection.Root(e => -(e * x) - Math.Log(1 - (e * x)) - left, 0, Math.Min(1, (1 - 1e-15) / x));
    }

    private static double Depth(double speed, double stiffness) => Math.Pow(5 * Strike.Mass * speed * speed / (4 * stiffness), 0.4);

    private static VerificationPoint BesideTheCentre(double arm)
    {
        const double Speed = 2, Damping = 0.05, Inertia = 8;
        var strike = new Strike(Speed, Damping, 1e10, arm, Inertia);
        var mass = 1 / ((1 / Strike.Mass) + (arm * arm / Inertia));
        return new(Say.Number("r = ", arm, " m"), (1 + Restitution(Damping * Speed)) * mass * Speed, Strike.Mass * (strike.SpeedAfter + Speed));
    }

    /// <summary>A piece that flies upright against an even, rigid spar and meets it with the back corner of its butt.</summary>
    internal sealed class Strike
    {
        public const double Mass = 120;
        private const double Radius = 0.2, Butt = 0.3;
        private readonly Bench _bench;
        private readonly double _start;
        private readonly double _end;

        /// <summary>Flies.</summary>
        /// <param name="speed">Toward the spar, m/s.</param>
        /// <param name="damping">d, s/m.</param>
        /// <param name="stiffness">k, N/m^1.5.</param>
        /// <param name="arm">Height of the centre of gravity above the corner, m.</param>
        /// <param name="inertia">Moment of inertia, kg m2.</param>
        public Strike(double speed, double damping, double stiffness, double arm = 1e-9, double inertia = 8)
        {
            var fall = new StraightFall { Slack = 60 }.Input();
            var input = fall with
            {
                Piece = new()
                {
                    Mass = Mass,
                    Inertia = inertia,
                    Length = 1,
                    ButtDiameter = Butt,
                    TipDiameter = 0.1,
                    CentreOfGravity = arm,
                    HitchHeight = 0.5,
                    BareLength = 1,
                },
                Spar = fall.Spar with { Diameters = [new(0, 2 * Radius), new(fall.Spar.Height, 2 * Radius)] },
                Computation = fall.Computation with { ContactStiffness = stiffness, ContactDamping = damping },
            };
            const double Gap = 0.01;
            _bench = new Bench(
                input, (_, y) =>
                {
                    (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (Radius + (Butt / 2) + Gap, 30, 0);
                    (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (-speed, 0, 0);
                },
                (Gap / speed) + 0.15, tolerance: 1e-11);
            (_start, _end) = _bench.Touches(0);
        }

        /// <summary>Horizontal speed of the centre of gravity away from the spar just after the touch, m/s.</summary>
        public double SpeedAfter => _bench.At(_end)[StateLayout.PieceVx];

        public double PeakForce => _bench.Largest(Channel.Contact);

        public double Duration => _end - _start;

        /// <summary>Energy booked as lost in the contact, J.</summary>
        public double Lost => _bench.At(_end)[StateLayout.LostContact];
    }
}
