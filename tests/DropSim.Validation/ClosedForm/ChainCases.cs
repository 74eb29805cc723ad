using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// Several components at once, in motions that are known. A rigid body hung by its hitch on a rope of length l, a the distance from hitch
/// to centre of gravity: with small angles alpha of the rope and beta of the body, m l^2 alpha'' + m l a beta'' + m g l alpha = 0 and
/// m l a alpha'' + (m a^2 + I) beta'' + m g a beta = 0.
/// </summary>
internal static class ChainCases
{
    private const string Page = "theory/README.md";
    private const double G = 9.81, Mass = 80, RopeLength = 2, RingZ = 60 - 1.8, RingX = 0.2;

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-1501", Page = Page, What = "Whole system: period of a log that swings on its rope, in either of its two swinging modes, at 0.1 mrad", Formula = "det [[m l^2 w^2 - m g l, m l a w^2], [m l a w^2, (m a^2 + I) w^2 - m g a]] = 0",
            Source = "Derived here (remark of `ChainCases`): a double pendulum with a body of its own inertia", Unit = "s", Relative = 2e-6, Why = "the rope (EA 100 MN) stretches by 1e-6 with every change of pull",
            Compute = DoublePendulum,
        },
        new()
        {
            Id = "V-1502", Page = Page, What = "Whole system: period of a wide swing, hitch at the centre of gravity", Formula = "4 sqrt(l/g) K(sin(theta0/2))", Source = "The pendulum, in any text on mechanics; K as in V-201", Unit = "s", Relative = 2e-5, Why = "the rope (EA 100 MN) stretches by 1e-5 between turn and bottom",
            Compute = () => new[] { 20.0, 45, 75 }.Select(d => new VerificationPoint(Say.Number("theta0 = ", d, " deg"), 4 * Math.Sqrt(RopeLength / G) * Elliptic.F(Math.PI / 2, Math.Sin(d * Math.PI / 360)), Period(Swing(d)))),
        },
        new()
        {
            Id = "V-1503", Page = Page, What = "The same: pull in the rope at the bottom", Formula = "m g (3 - 2 cos theta0)", Source = "Derived here: energy, and Newton along the rope", Unit = "N", Relative = 3e-4, Why = "the let-go leaves the rope ringing by a ten-thousandth",
            Compute = () => new[] { 20.0, 45, 75 }.Select(d => new VerificationPoint(Say.Number("theta0 = ", d, " deg"), Mass * G * (3 - (2 * Math.Cos(d * Math.PI / 180))), BottomPull(Swing(d)))),
        },
        new()
        {
            Id = "V-1504", Page = Page, What = "Whole system at rest: deflection at the rigging point of a light, even spar from which a log hangs, eight modes", Formula = "w = F_x/(P beta) (tan beta h - beta h) + e (sec beta h - 1), beta^2 = P/EI, F the sum of both legs, P = -F_z",
            Source = "Derived here: beam-column under side force and a load beside its axis (elementary)", Unit = "m", Relative = 3e-3, Why = "the modes left out: they carry what is missing of sum 1/b^4, and more of a moment",
            Compute = () => [new("", AtRest().Exact, AtRest().Got)],
        },
        new()
        {
            Id = "V-1505", Page = Page, What = "The same: moment at the foot", Formula = "F_x h + P (e + w), w as computed", Source = "Derived here: statics of the bent spar", Unit = "N m", Absolute = 5e-4, Why = "weight of the light stem, 3 mN, times its bend",
            Compute = () => [new("", AtRest().Moment, AtRest().GotMoment)],
        },
    ];

    private static DropInput Hanging(double hitchAboveCentre, double inertia)
    {
        var fall = new StraightFall { Mass = Mass, Stiffness = 1e8, ViscousTime = 1e-5, Friction = 2, Above = 2, GroundLeg = 8 }.Input();
        return fall with
        {
            Piece = fall.Piece with { Length = 1.2, CentreOfGravity = 0.3, HitchHeight = 0.3 + hitchAboveCentre, BareLength = 1.2, Inertia = inertia },
            Spar = fall.Spar with { Diameters = [new(0, 0.05), new(60, 0.06)] },
            RiggingPoint = fall.RiggingPoint with { StandOff = RingX - (0.025 + (0.005 * RingZ / 60)) },
        };
    }

    private static IEnumerable<VerificationPoint> DoublePendulum()
    {
        const double A = 0.6, Inertia = 12, Amplitude = 1e-4;

        // With u = w^2 the determinant, divided by m l, is l I u^2 - g (m a^2 + I + m a l) u + m a g^2 = 0.
        var total = (Mass * A * A) + Inertia;
        var (p, q, r) = (RopeLength * Inertia, -G * (total + (Mass * A * RopeLength)), Mass * A * G * G);
        foreach (var sign in new[] { -1, 1 })
        {
            var u = (-q + (sign * Math.Sqrt((q * q) - (4 * p * r)))) / (2 * p);
            var shape = (G - (RopeLength * u)) / (A * u);
            var (alpha, beta) = (Amplitude, shape * Amplitude);
            var bench = new Bench(
                Hanging(A, Inertia), (_, y) =>
                {
                    var (hitchX, hitchZ) = (RingX + (RopeLength * Math.Sin(alpha)), RingZ - (RopeLength * Math.Cos(alpha)));
                    y[StateLayout.PieceX] = hitchX + (A * Math.Sin(beta));
                    y[StateLayout.PieceZ] = hitchZ - (A * Math.Cos(beta));
                    y[StateLayout.Lean] = -beta;
                    (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, 0, 0);
                    y[StateLayout.LoadLength] = RopeLength / (1 + (Mass * G / 1e8));
                    y[StateLayout.GroundLength] = 8 / (1 + (Mass * G / 1e8));
                },
                4.2 * 2 * Math.PI / Math.Sqrt(u));
            yield return new(sign < 0 ? "slow mode" : "fast mode", 2 * Math.PI / Math.Sqrt(u), Period(bench));
        }
    }

    private static Bench Swing(double degrees)
    {
        var theta = degrees * Math.PI / 180;
        return new(
            Hanging(0, 1), (_, y) =>
            {
                (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (RingX + (RopeLength * Math.Sin(theta)), RingZ - (RopeLength * Math.Cos(theta)));
                y[StateLayout.Lean] = 0;
                (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, 0, 0);
                y[StateLayout.LoadLength] = RopeLength / (1 + (Mass * G * Math.Cos(theta) / 1e8));
                y[StateLayout.GroundLength] = 8 / (1 + (Mass * G / 1e8));
            },
            6.5);
    }

    /// <summary>Mean of the periods seen, by the passes of the middle from behind.</summary>
    private static double Period(Bench bench)
    {
        var passes = bench.Rises(y => y[StateLayout.PieceX] - RingX);
        return (passes[^1] - passes[0]) / (passes.Count - 1);
    }

    private static double BottomPull(Bench bench)
    {
        var time = bench.Rises(y => y[StateLayout.PieceX] - RingX)[0];
        return bench.See(time).Flow.T1;
    }

    private static readonly Lazy<(double Exact, double Got, double Moment, double GotMoment)> _rest = new(FindRest);

    private static (double Exact, double Got, double Moment, double GotMoment) AtRest() => _rest.Value;

    private static (double Exact, double Got, double Moment, double GotMoment) FindRest()
    {
        const int Kept = 8;
        const double Height = 9, Below = 0.4, Diameter = 0.2, Modulus = 9e9, Load = 300;
        var hanging = Hanging(0, 1);
        var input = hanging with
        {
            Piece = hanging.Piece with { Mass = Load },
            Spar = new() { Height = Height, Diameters = [new(0, Diameter), new(Height, Diameter)], Density = 1e-3, Modulus = Modulus, ClimberMass = 0 },
            RiggingPoint = new() { BelowCut = Below, StandOff = 0.3, Friction = 0.2 },
            Device = new() { Wraps = 2, X = 1.5, Z = 1 },
            Computation = hanging.Computation with { Modes = Kept, Elements = 60 },
        };
        var system = Bench.SystemOf(input);
        var spar = new ModalSpar(input.Spar, Kept, 60, G);
        var modes = spar.AngularFrequencies.ToArray();
        var q = new double[Kept];
        var weight = Load * G;
        Instant at = default;
        double[] state = [];
        for (var turn = 0; turn < 200; turn++)
        {
            // The log hangs straight below the rigging point, wherever the bent spar puts that; the ground leg pulls 0.7 of its weight.
            at = Bench.Solve(system, (s, y) =>
            {
                q.CopyTo(y, StateLayout.FirstMode);
                (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate], y[StateLayout.Lean]) = (0, 0, 0, 0);
                Instant place = default;
                s.Solve(0, y, ref place, []);
                y[StateLayout.PieceX] = place.RingX;
                y[StateLayout.PieceZ] = place.RingZ - RopeLength;
                y[StateLayout.LoadLength] = RopeLength / (1 + (weight / 1e8));
                y[StateLayout.GroundLength] = place.D2 / (1 + (0.7 * weight / 1e8));
                state = y;
            });
            for (var i = 0; i < Kept; i++)
            {
                q[i] += at.ModeAcceleration[i] / (modes[i] * modes[i]);
            }
        }

        var h = Height - Below;
        var e = (Diameter / 2) + 0.3;
        var (force, load) = (at.ForceX, -at.ForceZ);
        var beta = Math.Sqrt(load / (Modulus * Math.PI / 64 * Math.Pow(Diameter, 4)));
        var exact = (force / (load * beta) * (Math.Tan(beta * h) - (beta * h))) + (e * ((1 / Math.Cos(beta * h)) - 1));

        // The device stands beside the spar on this input (OnSpar by default): its pull on the stem acts at 1 m, 1.5 m out.
        var device = (-at.Flow.T2 * at.U2X * 1) - (-at.Flow.T2 * at.U2Z * (1.5 + system.DeflectionAt(1, state)));
        var moment = (force * h) + (load * (e + at.SparDeflection)) + device;
        return (exact, at.SparDeflection, moment, system.BaseMoment(state, ref at));
    }
}
