using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// A piece on its hinge over a rigid spar is a physical pendulum upside down. With R from hinge to centre of gravity, I_h = I + m R^2
/// and a the lean beyond balance: I_h a'' = m g R sin a, so with p^2 = m g R / I_h the energy gives a'^2 = w0^2 + 2 p^2 (cos a0 - cos a).
/// With th = pi - a (from hanging) and k^2 = (w0^2 + 2 p^2 (1 + cos a0)) / (4 p^2) this is th'^2 = 4 p^2 (k^2 - sin^2(th/2));
/// sin(th/2) = k sin psi turns it into psi' = -p sqrt(1 - k^2 sin^2 psi): time = [F(psi0, k) - F(psi1, k)] / p.
/// Newton at the centre of gravity gives the hinge's force along (up) and across the line to it:
/// along = m g cos a - m R a'^2, across = m g sin a (1 - m R^2 / I_h), so lambda_x = along sin a - across cos a, lambda_z = along cos a + across sin a.
/// </summary>
internal static class HingeCases
{
    private const string Page = "theory/hinge.md";
    private const double G = 9.80665;
    private const double Degree = Math.PI / 180;

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-201", Page = Page, What = "Whole program: time from the start to the breaking of the hinge, rigid spar",
            Formula = "t = [F(psi0, k) - F(psi1, k)]/p, p^2 = m g R/I_h, sin(psi) = cos(a/2)/k, k^2 = (w0^2 + 2 p^2 (1 + cos a0))/(4 p^2), a the lean beyond balance, F the elliptic integral of the first kind",
            Source = "The pendulum, in any text on mechanics; derived here (remark of `HingeCases`); F by B.C. Carlson's duplication (by name; checked by K(1/sqrt 2) = Gamma(1/4)^2/(4 sqrt pi))",
            Unit = "s", Absolute = 1e-6, Why = "tolerance 1e-9 over more than a second, and the place of an event",
            Compute = () => new[] { 35.0, 55, 80, 110 }.Select(degrees =>
            {
                var drop = Log(degrees);
                return new VerificationPoint(Say.Number("release at ", degrees, " deg"), TipTime(drop), DropSimulator.Run(drop).HingeBreakTime);
            }),
        },
        new()
        {
            Id = "V-202", Page = Page, What = "Carlson's duplication used above, against a known value",
            Formula = "K(1/sqrt 2) = Gamma(1/4)^2/(4 sqrt pi) = 1.85407467730137...", Source = "C.F. Gauss's lemniscate (by name)", Absolute = 1e-12, Why = "round-off",
            Compute = () => [new("", Math.Pow(MathNet.Numerics.SpecialFunctions.Gamma(0.25), 2) / (4 * Math.Sqrt(Math.PI)), Elliptic.F(Math.PI / 2, Math.Sqrt(0.5)))],
        },
        new()
        {
            Id = "V-203", Page = Page, What = "Force in the hinge at a given lean and rate, rigid spar, no rope",
            Formula = "lambda_x = along sin a - across cos a, lambda_z = along cos a + across sin a; along = m g cos a - m R a'^2, across = m g sin a (1 - m R^2/I_h)",
            Source = "Derived here (remark of `HingeCases`): Newton at the centre of gravity of a body on a pivot", Unit = "N", Absolute = 1e-7, Why = "round-off of 1.5 kN",
            Compute = Forces,
        },
        new()
        {
            Id = "V-204", Page = Page, What = "Whole program: lean at which a piece pushed off its edge leaves it, because the edge would have to pull",
            Formula = "cos a = (K + sqrt(K^2 - 3 (1/s - 1)))/3, s = m c^2/(I + m c^2), K = cos a0 + w0^2/(2 p^2)",
            Source = "Derived here: lambda_z = 0 in V-203 with the energy for a'^2; for s = 1 (all mass in one point) it is the 48.2 deg of the bead that leaves a sphere",
            Unit = "rad", Absolute = 2e-6, Why = "tolerance 1e-9; the force passes zero slowly", Compute = EdgeLeans,
        },
    ];

    private static DropInput Log(double releaseDegrees)
    {
        const double Length = 1.25, Diameter = 0.4;
        var log = PieceEstimate.Log(Diameter, Diameter, Length, 950);
        return new()
        {
            Piece = new()
            {
                Mass = log.Mass,
                Length = Length,
                ButtDiameter = Diameter,
                TipDiameter = Diameter,
                CentreOfGravity = log.CentreOfGravity,
                Inertia = log.Inertia,
                HitchHeight = 0.3,
                BareLength = Length,
            },
            Start = new() { ReleaseAngle = releaseDegrees * Degree },
            Spar = new() { Height = 30, Diameters = [new(0, 0.5), new(30, 0.4)], Density = 900, Modulus = 9e9, Rigid = true },
            RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },

            // Slack enough that no rope pulls while it tips.
            Rope = new() { Diameter = 0.014, Stiffness = 220e3, Slack = 6 },
            Device = new() { Wraps = 2.5, X = 0.4, Z = 1 },
            Catch = new() { Kind = CatchKind.HardStop },
            Computation = new() { RelativeTolerance = 1e-9, EndTime = 4 },
        };
    }

    private static double TipTime(DropInput drop)
    {
        var (r, inertia, balance) = Pendulum(drop);
        var p = Math.Sqrt(drop.Piece.Mass * G * r / inertia);
        var (a0, w0, a1) = (drop.Start.LeanPastBalance, drop.Start.InitialRate, drop.Start.ReleaseAngle - balance);
        var k = Math.Sqrt(((w0 * w0) + (2 * p * p * (1 + Math.Cos(a0)))) / (4 * p * p));
        double Psi(double a) => Math.Asin(Math.Cos(a / 2) / k);
        return (Elliptic.F(Psi(a0), k) - Elliptic.F(Psi(a1), k)) / p;
    }

    /// <summary>Distance from hinge to centre of gravity, inertia about the hinge, lean at balance: worked out from the input here, not by the model.</summary>
    private static (double R, double Inertia, double Balance) Pendulum(DropInput drop)
    {
        var hinge = drop.Piece.ButtDiameter / 2 * (1 - (2 * drop.Start.FaceCutDepth));
        var c = drop.Piece.CentreOfGravity;
        var r = double.Hypot(c, hinge);
        return (r, drop.Piece.Inertia + (drop.Piece.Mass * r * r), Math.Atan2(hinge, c));
    }

    private static IEnumerable<VerificationPoint> Forces()
    {
        var drop = Log(80);
        var (r, inertia, balance) = Pendulum(drop);
        var mass = drop.Piece.Mass;
        foreach (var (a, rate) in new[] { (0.1, 0.2), (0.5, 1.7), (1.0, 3.1) })
        {
            var along = (mass * G * Math.Cos(a)) - (mass * r * rate * rate);
            var across = mass * G * Math.Sin(a) * (1 - (mass * r * r / inertia));
            var at = Bench.Solve(
                Bench.SystemOf(drop), (system, y) =>
                {
                    // On the hinge point (x_h, H), leaning a beyond balance: the centre of gravity is R away at angle a from upright.
                    var hingeX = drop.Piece.ButtDiameter / 4;
                    (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (hingeX + (r * Math.Sin(a)), drop.Spar.Height + (r * Math.Cos(a)));
                    (y[StateLayout.PieceVx], y[StateLayout.PieceVz]) = (r * rate * Math.Cos(a), -r * rate * Math.Sin(a));
                    (y[StateLayout.Lean], y[StateLayout.LeanRate]) = (balance + a, rate);
                },
                hinged: true);
            var where = Say.Number("a = ", a, Say.Number(" rad, a' = ", rate, " rad/s"));
            yield return new("lambda_x, " + where, (along * Math.Sin(a)) - (across * Math.Cos(a)), at.HingeX);
            yield return new("lambda_z, " + where, (along * Math.Cos(a)) + (across * Math.Sin(a)), at.HingeZ);
        }
    }

    private static IEnumerable<VerificationPoint> EdgeLeans()
    {
        foreach (var s in new[] { 0.8, 0.9, 0.99 })
        {
            const double C = 0.625, Mass = 150;
            var drop = Log(100);
            drop = drop with
            {
                Piece = drop.Piece with { Mass = Mass, Inertia = Mass * C * C * ((1 / s) - 1) },
                Start = drop.Start with { Kind = StartKind.PushedOff, PushSpeed = 0.1 },
            };
            var p2 = G * s / C;
            var rate = 0.1 / C;
            var k = Math.Cos(0.05) + (rate * rate / (2 * p2));
            var cos = (k + Math.Sqrt((k * k) - (3 * ((1 / s) - 1)))) / 3;
            var run = DropSimulator.Run(drop);
            var table = run.Traces!.Sample(10);
            var row = table["time_s"].ToArray().Select((t, i) => (t, i)).MinBy(r => Math.Abs(r.t)).i;
            yield return new(Say.Number("s = ", s), Math.Acos(cos), table["piece_lean_rad"][row]);
        }
    }
}

/// <summary>Elliptic integral of the first kind by Carlson's symmetric R_F and its duplication theorem.</summary>
internal static class Elliptic
{
    /// <summary>F(psi, k) = integral of dt / sqrt(1 - k^2 sin^2 t) from 0 to psi = sin psi R_F(cos^2 psi, 1 - k^2 sin^2 psi, 1).</summary>
    public static double F(double psi, double k)
    {
        var (s, c) = Math.SinCos(psi);
        return s * Rf(c * c, 1 - (k * k * s * s), 1);
    }

    private static double Rf(double x, double y, double z)
    {
        // R_F(x, y, z) = R_F((x + l)/4, ...) with l = sqrt(x y) + sqrt(y z) + sqrt(z x): the three draw together, to 1/sqrt.
        for (var i = 0; i < 40; i++)
        {
            var l = Math.Sqrt(x * y) + Math.Sqrt(y * z) + Math.Sqrt(z * x);
            (x, y, z) = ((x + l) / 4, (y + l) / 4, (z + l) / 4);
        }

        return 1 / Math.Sqrt((x + y + z) / 3);
    }
}
