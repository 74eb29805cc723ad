using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>The rope: whole drops of a piece that falls straight, with everything else made simple.</summary>
internal static class RopeCases
{
    private const string Page = "theory/rope.md";

    /// <summary>EA 20 kN, 80 kg; 60 kN, 200 kg; fall factor up to 1.5: with a ground leg the fall cannot be twice the rope.</summary>
    private static readonly (double Mass, double Stiffness, double Factor)[] _falls =
    [
        (80, 20_000, 0.1), (80, 20_000, 0.3), (80, 20_000, 0.5), (80, 20_000, 1), (80, 20_000, 1.5),
        (200, 60_000, 0.1), (200, 60_000, 0.5), (200, 60_000, 1), (200, 60_000, 1.5),
    ];

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-301", Page = Page,
            What = "Whole program: peak of the load leg in a hard stop over a frictionless rigging point on a rigid spar, without relaxing branch and take-up, viscous time to zero",
            Formula = "F = W + sqrt(W^2 + 2 W M f), W = m g with g = 9.81, M = EA, f = fall/rope in play",
            Source = "R. Goldstone, The Standard Equation for Impact Force (first page read); values worked out from the formula",
            Unit = "N", Relative = 2e-6, Why = "from viscous times 0.2 and 0.1 ms to zero along a straight line: leaves (tau_v omega)^2",
            Compute = () => _falls.Select(f => new VerificationPoint(Describe(f), Impact(f), WithoutViscosity(f, Channel.LoadLeg))),
        },
        new()
        {
            Id = "V-302", Page = Page, What = "The same drops: peak force on the rigging point",
            Formula = "2 F, F of V-301: both legs hang straight down and pull alike", Source = "Derived here: vector sum of two equal parallel pulls", Unit = "N", Relative = 2e-6, Why = "as V-301",
            Compute = () => _falls.Where(f => f.Factor >= 0.5).Select(f => new VerificationPoint(Describe(f), 2 * Impact(f), WithoutViscosity(f, Channel.RiggingPoint))),
        },
        new()
        {
            Id = "V-303", Page = Page, What = "Whole program: the same with viscous times that matter, a rope of Kelvin and Voigt",
            Formula = "m x'' + c x' + k x = m g, x(0) = 0, x'(0) = sqrt(2 g H), F = k x + c x', k = EA/L, c = EA tau_v/L",
            Source = "Any text on vibration; solved here by its eigenvalues (`LinearDrop`)", Unit = "N", Relative = 1e-7, Why = "tolerance 1e-9",
            Compute = () => new[] { (0.0005, 20_000.0), (0.003, 20_000.0), (0.003, 200_000.0), (0.003, 2_000_000.0) }.Select(p => Viscoelastic(p.Item1, p.Item2, 0, 0.3)),
        },
        new()
        {
            Id = "V-304", Page = Page, What = "Whole program: the same with the relaxing branch, a standard linear solid",
            Formula = "m x'' = m g - F, F = k x + c x' + r (x - z), z' = (x - z)/tau_m, r = E_m/L",
            Source = "U. Leuthaeusser (2012), Physics of climbing ropes, part 3 (secondary) for the model; solved here by the eigenvalues of its three equations (`LinearDrop`)", Unit = "N", Relative = 1e-7, Why = "tolerance 1e-9",
            Compute = () => new[] { (20_000.0, 1.5, 0.3), (20_000.0, 2.0, 0.02), (200_000.0, 1.5, 0.3), (200_000.0, 1.5, 0.01) }.Select(p => Viscoelastic(0.0005, p.Item1, p.Item2, p.Item3)),
        },
        new()
        {
            Id = "V-305", Page = Page, What = "Whole system: pull of a rope held at a constant stretch of 2 % (between device and a piece too heavy to move)",
            Formula = "T = EA e + E_m e exp(-t/tau_m)", Source = "Derived here: eq. (3) of the page with e constant", Unit = "N", Absolute = 1e-4, Why = "the piece of 1e12 kg moves by 1e-9 m",
            Compute = Relaxation,
        },
        new()
        {
            Id = "V-306", Page = Page, What = "A measured stretch curve's energy against its own tension, by quadrature between the points",
            Formula = "U(e) = integral of S from 0 to e", Source = "The definition; Gauss-Legendre of 20 points, exact for a cubic", Unit = "J/m", Relative = 1e-12, Why = "round-off",
            Compute = CurveEnergy,
        },
        new()
        {
            Id = "V-307", Page = Page, What = "Whole program: time from straight rope to the peak of the undamped drop, viscous time to zero",
            Formula = "omega t = pi - atan(omega v/g): x' = 0 of x = (g/omega^2)(1 - cos omega t) + (v/omega) sin omega t", Source = "Elementary; derived here", Unit = "s", Relative = 2e-6, Why = "as V-301",
            Compute = () => _falls.Where(f => f.Factor is 0.5 or 1).Select(f =>
            {
                var omega = Math.Sqrt(f.Stiffness / (10 * f.Mass));
                var speed = Math.Sqrt(2 * 9.81 * f.Factor * 10);

                // x' = (g/omega) sin(omega t) + v cos(omega t) = 0 in the second quadrant.
                var time = (Math.PI - Math.Atan2(speed * omega, 9.81)) / omega;
                double At(double tau)
                {
                    var run = FallWithSlack(f, tau).Run();
                    return run[MeasureIds.TimeToPeak].Value - run[MeasureIds.TimeToTaut].Value;
                }

                return new VerificationPoint(Describe(f), time, (2 * At(1e-4)) - At(2e-4));
            }),
        },
        new()
        {
            Id = "V-308", Page = Page, What = "Whole program: peak of an undamped drop whose knot first gives rope at a constant pull, viscous time to zero",
            Formula = "m g (H + x) = s (T_h (1 + e_h) - EA e_h^2/2) + (L + s) EA e^2/2, x = (L + s)(1 + e) - L, F = EA e, e_h = T_h/EA", Source = "Derived here: energy; the knot's share is its pull times the stretched rope it gives, less what that carries", Unit = "N", Relative = 5e-6, Why = "as V-301",
            Compute = () => new[] { 0.1, 0.3, 0.6 }.Select(length => new VerificationPoint(
                Say.Number("s = ", length, Say.Number(" m at ", GivingForce, " N")), PeakAfterGiving(length), Giving(length, hitch: true))),
        },
    ];

    /// <summary>Pull at which a knot or wraps give rope in the example, N.</summary>
    public const double GivingForce = 1_500;

    /// <summary>Peak of the drop of V-308 with so much rope given at a constant pull.</summary>
    public static double PeakAfterGiving(double length)
    {
        var fall = GivingFall();
        var given = GivingForce / fall.Stiffness;
        var lost = length * ((GivingForce * (1 + given)) - (fall.Stiffness * given * given / 2));
        var natural = fall.RopeLength + length;
        double Surplus(double e) => (fall.Weight * (fall.Drop + (natural * (1 + e)) - fall.RopeLength)) - lost - (natural * fall.Stiffness * e * e / 2);
        return fall.Stiffness * Bisection.Root(Surplus, given, 2);
    }

    /// <summary>The computed peak, the rope given by the knot at the hitch or by the wraps of the locked device.</summary>
    public static double Giving(double length, bool hitch)
    {
        var takeUp = new TakeUpInput(length, GivingForce, GivingForce);
        double At(double tau)
        {
            var input = (GivingFall() with { ViscousTime = tau }).Input();
            return DropSimulator.Run(input with
            {
                Rope = hitch ? input.Rope with { HitchTakeUp = takeUp } : input.Rope with { WrapsTakeUp = takeUp },
            })[MeasureIds.LoadLegTension].Value;
        }

        return (2 * At(1e-4)) - At(2e-4);
    }

    private static StraightFall GivingFall() => new() { Above = 3, GroundLeg = 7, Afterwards = 0.8 };

    private static string Describe((double Mass, double Stiffness, double Factor) f) =>
        Say.Number("", f.Mass, Say.Number(" kg, EA ", f.Stiffness / 1000, Say.Number(" kN, f ", f.Factor)));

    private static double Impact((double Mass, double Stiffness, double Factor) f)
    {
        var w = f.Mass * 9.81;
        return w + Math.Sqrt((w * w) + (2 * w * f.Stiffness * f.Factor));
    }

    /// <summary>Ten metres of rope; the fall is twice the load leg.</summary>
    private static StraightFall Fall((double Mass, double Stiffness, double Factor) f, double viscousTime) => new()
    {
        Mass = f.Mass,
        Stiffness = f.Stiffness,
        ViscousTime = viscousTime,
        Above = 5 * f.Factor,
        GroundLeg = 10 - (5 * f.Factor),
        Afterwards = 0.7,
    };

    /// <summary>The same fall and rope with half a metre of slack, so that the rope is not straight before it.</summary>
    private static StraightFall FallWithSlack((double Mass, double Stiffness, double Factor) f, double viscousTime) =>
        Fall(f, viscousTime) with { Slack = 0.5, Above = (5 * f.Factor) - 0.25, GroundLeg = 9.75 - (5 * f.Factor) };

    private static double WithoutViscosity((double Mass, double Stiffness, double Factor) f, int channel)
    {
        var id = channel == Channel.LoadLeg ? MeasureIds.LoadLegTension : MeasureIds.RiggingPointForce;
        double At(double tau) => Fall(f, tau).Run()[id].Value;
        return (2 * At(1e-4)) - At(2e-4);
    }

    private static VerificationPoint Viscoelastic(double viscousTime, double stiffness, double relaxing, double relaxationTime)
    {
        var fall = new StraightFall
        {
            Mass = 120,
            Stiffness = stiffness,
            ViscousTime = viscousTime,
            RelaxingRatio = relaxing,
            RelaxationTime = relaxationTime,
            Above = 3,
            GroundLeg = 7,
            Afterwards = 0.6,
        };
        var k = stiffness / fall.RopeLength;
        var exact = new LinearDrop(fall.Mass, fall.Gravity, k, k * viscousTime, k * relaxing, relaxationTime, fall.Speed).Peak();
        var where = Say.Number("EA ", stiffness / 1000, Say.Number(" kN, tau_v ", 1000 * viscousTime, " ms"))
            + (relaxing > 0 ? Say.Number(", E_m/EA ", relaxing, Say.Number(", tau_m ", relaxationTime, " s")) : "");
        return new(where, exact, fall.Run()[MeasureIds.LoadLegTension].Value);
    }

    private static IEnumerable<VerificationPoint> Relaxation()
    {
        var bench = HeldStretched(2);
        foreach (var time in new[] { 0.0, 0.1, 0.3, 1, 2 })
        {
            var exact = HeldStiffness * HeldStrain * (1 + (HeldRatio * Math.Exp(-time / HeldTime)));
            yield return new(Say.Number("t = ", time, " s"), exact, bench.See(time).Flow.T1);
        }
    }

    private const double HeldStrain = 0.02, HeldStiffness = 100_000, HeldRatio = 1.5, HeldTime = 0.3;

    /// <summary>Ten metres of rope, both legs stretched by 2 %, held by a piece too heavy to move.</summary>
    public static Bench HeldStretched(double duration)
    {
        var input = new StraightFall { Mass = 1e12, Gravity = 1e-9, Stiffness = HeldStiffness, RelaxingRatio = HeldRatio, RelaxationTime = HeldTime }.Input();
        return new(
            input with { Computation = input.Computation with { EndTime = 3 } }, (_, y) =>
            {
                // Below the rigging point at z = 58.2 m by 2 m, both legs stretched alike.
                (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (0.2, 56.2, 0);
                (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, 0, 0);
                y[StateLayout.LoadLength] = 2 / (1 + HeldStrain);
                y[StateLayout.GroundLength] = 8 / (1 + HeldStrain);
            },
            duration);
    }

    private static IEnumerable<VerificationPoint> CurveEnergy()
    {
        double[] strains = [0.013, 0.023, 0.032, 0.05];
        double[] tensions = [4_000, 8_000, 12_000, 20_000];
        var curve = new RopeCurve(300_000, [.. strains.Zip(tensions, (e, t) => new StretchPoint(e, t))]);
        double sum = 0, from = 0;
        foreach (var to in strains)
        {
            sum += MathNet.Numerics.Integration.GaussLegendreRule.Integrate(curve.Tension, from, to, 20);
            from = to;
            yield return new(Say.Number("e = ", to), sum, curve.Energy(to));
        }
    }
}
