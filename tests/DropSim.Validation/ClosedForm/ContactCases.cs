using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// A mass m meets a fixed wall at speed v under F = k d^1.5 (1 + c d'): m u du/dd = -k d^1.5 (1 + c u), u = d'. Separated,
/// u du/(1 + c u) = -(k/m) d^1.5 dd. From touch (u = v) to the turn (u = 0) the left side gives v/c - ln(1 + c v)/c^2, the right (2/5)(k/m) D^2.5 with
/// D the largest penetration; from the turn back to d = 0, where u = -e v, it gives the same with -e v: so e depends on x = c v alone,
///     x - ln(1 + x) = -e x - ln(1 - e x),
/// whatever k, m and the exponent are. Both sides as series, x^2/2 - x^3/3 = (e x)^2/2 + (e x)^3/3: e = 1 - (2/3) x + O(x^2).
/// A friction in proportion to the normal force at every instant takes part in the normal motion: the mass that the law sees is another, and e is the same.
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
            Compute = () => new[] { 0.2, 0.45 }.Select(arm => BesideTheCentre(arm, 0)),
        },
        new()
        {
            Id = "V-906", Page = Page, What = "Whole system: what a blow that slides takes from the fall (8 m/s) of a piece that does not turn", Formula = "mu (1 + e) v: mu times the normal impulse, eq. (4)", Source = "E.J. Routh (by name): sliding friction through a blow", Unit = "m/s", Relative = 5e-5, Why = "friction is rounded off below v_s = 0.05 m/s: (v_s/v_t)^2/2 at 6 to 8 m/s",
            Compute = () => new[] { 0.2, 0.3, 0.5 }.Select(Slides),
        },
        new()
        {
            Id = "V-907", Page = Page, What = "Whole system: normal impulse of a blow beside the centre of gravity that slides at 8 m/s, friction 0.3", Formula = "J = (1 + e) v/(1/m + a (a - mu b)/I): the corner b behind and a below the centre of gravity, friction up",
            Source = "Derived here: momentum and spin of a free body; friction in proportion to the normal force leaves e as it is", Unit = "N s", Relative = 2e-3, Why = "as V-905",
            Compute = () => new[] { 0.2, 0.45 }.Select(arm => BesideTheCentre(arm, 0.3)),
        },
        new()
        {
            Id = "V-908", Page = Page, What = "Whole system: restitution with the default damping of 0.7 s/m, as theory/contact.md states it", Formula = "0.68, 0.51, 0.40, 0.32, 0.27, 0.23: the roots of V-901, worked out apart from this program", Source = Derived, Absolute = 0.005, Why = "two decimals are stated",
            Compute = () => new[] { 0.68, 0.51, 0.40, 0.32, 0.27, 0.23 }.Select((e, i) => new VerificationPoint(Say.Number("", i + 1, " m/s"), e, new Strike(i + 1, 0.7, 1e6).SpeedAfter / (i + 1))),
        },
        new()
        {
            Id = "V-909", Page = Page, What = "Whole system: moment at the foot of a rigid, tapered spar while two corners press and slide, each at its own height and depth", Formula = "sum of F_x z - F_z r(z), F = N n + mu N t v_t/sqrt(v_t^2 + v_s^2)", Source = "Derived here: statics; geometry written out afresh", Unit = "N m", Relative = 1e-10, Why = "round-off",
            Compute = () => [TwoCorners(0), TwoCorners(0.3)],
        },
    ];

    /// <summary>Coefficient of restitution for d v = x.</summary>
    public static double Restitution(double x)
    {
        var left = x - Math.Log(1 + x);
        return Bisection.Root(e => -(e * x) - Math.Log(1 - (e * x)) - left, 0, Math.Min(1, (1 - 1e-15) / x));
    }

    private static double Depth(double speed, double stiffness) => Math.Pow(5 * Strike.Mass * speed * speed / (4 * stiffness), 0.4);

    private static VerificationPoint BesideTheCentre(double arm, double friction)
    {
        const double Speed = 2, Damping = 0.05, Inertia = 8;
        var strike = new Strike(Speed, Damping, 1e10, arm, Inertia, friction, friction > 0 ? Falling : 0);
        var mass = 1 / ((1 / Strike.Mass) + (arm * (arm - (friction * Strike.Behind)) / Inertia));
        return new(Say.Number(friction > 0 ? "a = " : "r = ", arm, " m"), (1 + Restitution(Damping * Speed)) * mass * Speed, Strike.Mass * (strike.SpeedAfter + Speed));
    }

    private static VerificationPoint Slides(double friction)
    {
        const double Speed = 2, Damping = 0.4;
        var strike = new Strike(Speed, Damping, 1e7, inertia: 1e9, friction: friction, down: Falling);
        return new(Say.Number("mu = ", friction), friction * (1 + Restitution(Damping * Speed)) * Speed, strike.FallLost);
    }

    /// <summary>Speed along the spar at which a blow is sure to slide to its end, m/s.</summary>
    private const double Falling = 8;

    /// <summary>A leaning log slides down a spar that thins upward, both back corners pressing; nothing turns yet, and no rope pulls.</summary>
    private static VerificationPoint TwoCorners(double friction)
    {
        const double Stiffness = 1e6, Damping = 0.7, Deepest = 4e-3, Lean = 1e-3, Down = 1, Centre = 0.3, Length = 1, Half = 0.15, At = 30, Foot = 0.3, Top = 0.2, Height = 60;
        var fall = new StraightFall { Slack = 60 }.Input();
        var system = Bench.SystemOf(fall with
        {
            Piece = new() { Mass = Strike.Mass, Inertia = 8, Length = Length, ButtDiameter = 2 * Half, TipDiameter = 2 * Half, CentreOfGravity = Centre, HitchHeight = 0.5, BareLength = Length },
            Spar = fall.Spar with { Diameters = [new(0, 2 * Foot), new(Height, 2 * Top)] },
            Computation = fall.Computation with { ContactStiffness = Stiffness, ContactDamping = Damping, ContactFriction = friction },
        });

        // Both corners on the back, seen from the centre of gravity: along the axis -0.3 and +0.7 m, across it -0.15 m.
        const double Slope = (Top - Foot) / Height;
        var (sin, cos) = Math.SinCos(Lean);
        (double X, double Z) Corner(double along) => ((along * sin) - (Half * cos), (along * cos) + (Half * sin));
        var butt = Corner(-Centre);
        var x = Foot + (Slope * (At + butt.Z)) - Deepest - butt.X;

        var y = system.InitialState();
        (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (x, At, Lean);
        (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, -Down, 0);
        system.Phase.Hinged = false;
        system.Begin(0, y);
        double moment = 0;
        foreach (var (name, along) in new[] { ("back corner of the butt", -Centre), ("back corner of the tip", Length - Centre) })
        {
            system.Phase.Contacts[Array.IndexOf(system.Body.HardCornerNames, name)] = ContactState.Pressing;
            var corner = Corner(along);
            var (z, radius) = (At + corner.Z, Foot + (Slope * (At + corner.Z)));
            var depth = radius - (x + corner.X);
            var size = Math.Sqrt(1 + (Slope * Slope));
            var normal = Stiffness * Math.Pow(depth, 1.5) * (1 - (Damping * Slope * Down)) * size;
            var sliding = -Down / size;
            var rub = -friction * normal * sliding / Math.Sqrt((sliding * sliding) + (0.05 * 0.05));

            // On the spar, by reaction: along n = (1, -r')/|n| and t = (r', 1)/|n|.
            var (fx, fz) = (-(normal + (rub * Slope)) / size, ((normal * Slope) - rub) / size);
            moment += (fx * z) - (fz * radius);
        }

        Instant at = default;
        system.Solve(0, y, ref at, []);
        return new(Say.Number("mu = ", friction), moment, system.BaseMoment(y, ref at));
    }

    /// <summary>A piece that flies upright against an even, rigid spar and meets it with the back corner of its butt.</summary>
    internal sealed class Strike
    {
        public const double Mass = 120;
        private const double Radius = 0.2, Butt = 0.3;

        /// <summary>How far the corner is behind the centre of gravity, m.</summary>
        public const double Behind = Butt / 2;

        private readonly Bench _bench;
        private readonly double _down;
        private readonly double _start;
        private readonly double _end;

        /// <summary>Flies.</summary>
        /// <param name="speed">Toward the spar, m/s.</param>
        /// <param name="damping">d, s/m.</param>
        /// <param name="stiffness">k, N/m^1.5.</param>
        /// <param name="arm">Height of the centre of gravity above the corner, m.</param>
        /// <param name="inertia">Moment of inertia, kg m2.</param>
        /// <param name="friction">mu.</param>
        /// <param name="down">Along the spar at the start, m/s.</param>
        public Strike(double speed, double damping, double stiffness, double arm = 1e-9, double inertia = 8, double friction = 0, double down = 0)
        {
            _down = down;
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
                Computation = fall.Computation with { ContactStiffness = stiffness, ContactDamping = damping, ContactFriction = friction },
            };
            const double Gap = 0.01;
            _bench = new Bench(
                input, (_, y) =>
                {
                    (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (Radius + (Butt / 2) + Gap, 30, 0);
                    (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (-speed, -down, 0);
                },
                (Gap / speed) + 0.15, tolerance: 1e-11);
            (_start, _end) = _bench.Touches(0);
        }

        /// <summary>Horizontal speed of the centre of gravity away from the spar just after the touch, m/s.</summary>
        public double SpeedAfter => _bench.At(_end)[StateLayout.PieceVx];

        /// <summary>What the touch took from the fall, m/s.</summary>
        public double FallLost => _bench.At(_end)[StateLayout.PieceVz] + _down + (_bench.Gravity * _end);

        public double PeakForce => _bench.Largest(Channel.Contact);

        public double Duration => _end - _start;

        /// <summary>Energy booked as lost in the contact, J.</summary>
        public double Lost => _bench.At(_end)[StateLayout.LostContact];
    }
}
