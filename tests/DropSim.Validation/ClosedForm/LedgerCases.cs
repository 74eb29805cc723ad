using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>The energy ledger, place by place, where the energy is known without it.</summary>
internal static class LedgerCases
{
    private const string Page = "theory/ledger.md";

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-1001", Page = Page, What = "Whole system: lost in a strike against the spar, 120 kg at 2 m/s", Formula = "m v^2 (1 - e^2)/2, e of V-901", Source = "Derived there", Unit = "J", Relative = 1e-6, Why = "tolerance 1e-11; losses are integrated outside the error test",
            Compute = () => new[] { 0.1, 0.6, 1.5 }.Select(x =>
            {
                var e = ContactCases.Restitution(x);
                return new VerificationPoint(Say.Number("d v = ", x), ContactCases.Strike.Mass * 2 * (1 - (e * e)), new ContactCases.Strike(2, x / 2, 1e6).Lost);
            }),
        },
        new()
        {
            Id = "V-1002", Page = Page, What = "Whole program: lost at device and hand under a constant pull F over the run s of V-504", Formula = "s (F (1 + e) - EA e^2/2), e = F/EA: pull times way, less what the rope that passes carries off",
            Source = "Derived here: work of F on the stretched rope", Unit = "J", Relative = 1e-6, Why = "as V-504",
            Compute = () => new[] { 500.0, 1000 }.Select(hand =>
            {
                var force = FrictionDeviceCases.Pull(hand);
                var strain = force / 20_000;
                double At(double tau, Func<DropRun, double> read) => read(FrictionDeviceCases.Run(tau, hand, 0));
                var run = At(1e-4, r => r[MeasureIds.RopeRun].Value);
                return new VerificationPoint(Say.Number("hand ", hand, " N"), run * ((force * (1 + strain)) - (force * strain / 2)), At(1e-4, r => Place(r, "lost_device_J")));
            }),
        },
        new()
        {
            Id = "V-1003", Page = Page, What = "Whole program: lost in the air by a piece that falls 10.5 m", Formula = "m g H - m v^2/2, v of V-105", Source = "Derived there", Unit = "J", Relative = 1e-5, Why = "as V-105: pushed off with 1e-6 m/s, read where the load leg comes taut",
            Compute = Drag,
        },
        new()
        {
            Id = "V-1004", Page = Page, What = "Whole system: lost in a rope held at 2 % until its branch has relaxed (V-305), 10 m / 1.02 of rope", Formula = "L E_m e^2/2 (1 - exp(-2 t/tau_m))", Source = "Derived here: integral of E_m (e - a)^2/tau_m with e - a = e exp(-t/tau_m)", Unit = "J", Relative = 1e-7, Why = "losses are integrated outside the error test, tolerance 1e-10",
            Compute = Relaxation,
        },
        new()
        {
            Id = "V-1005", Page = Page, What = "Whole system: lost in the spar's damping while it swings freely (V-813)", Formula = "(w^2 q0^2 - q'^2 - w^2 q^2)/2 with q of V-813 and its rate", Source = "Derived here: energy of the closed-form motion", Unit = "J", Relative = 1e-7, Why = "as V-1004",
            Compute = Sway,
        },
        new()
        {
            Id = "V-1006", Page = Page, What = "Whole program: lost at a tightening knot that gives 0.5 m at a constant 1500 N", Formula = "s_h (T (1 + e) - EA e^2/2), e = T/EA", Source = "Derived here: as V-1002", Unit = "J", Relative = 1e-6, Why = "losses are integrated outside the error test, tolerance 1e-9",
            Compute = Hitch,
        },
        new()
        {
            Id = "V-1007", Page = Page, What = "Whole system: lost at a ring until the first peak of V-405, small strain", Formula = "(rho - 1) T2^2/(2 k2), T2 = F/rho", Source = "Derived here: integral of (T1 - T2) ds with T1 = rho T2 and s = T2/k2", Unit = "J", Relative = 2e-4, Why = "as V-405",
            Compute = () => new[] { 1.2, 1.46, 3 }.Select(rho => new VerificationPoint(Say.Number("rho = ", rho), RiggingPointCases.LostUntilPeak(rho).Expected, RiggingPointCases.LostUntilPeak(rho).Got)),
        },
        new()
        {
            Id = "V-1008", Page = Page, What = "Whole program: stored in the rope at the lowest point of an undamped drop (V-301, f = 1), viscous time to zero", Formula = "m g (H + x), x = F L/EA: all that fell", Source = "Derived here: energy", Unit = "J", Relative = 1e-5, Why = "from viscous times 0.2 and 0.1 ms to zero along a straight line; sampled every 0.1 ms",
            Compute = Stored,
        },
    ];

    private static double Place(DropRun run, string column) => run.Ledger.Places.Single(p => p.Column == column).Energy;

    private static IEnumerable<VerificationPoint> Drag()
    {
        foreach (var area in new[] { 0.5, 3.0 })
        {
            var fall = new StraightFall { Mass = 60, Above = 5, Slack = 0.5, DragArea = area, Afterwards = 0.5 };
            var run = fall.Run();
            var terminal = 2 * fall.Weight / (run.Input.Computation.AirDensity * area);
            var square = terminal * (1 - Math.Exp(-2 * fall.Gravity * fall.Drop / terminal));
            var table = run.Traces!.Sample(10);
            var taut = run[MeasureIds.TimeToTaut].Value;
            var row = table["time_s"].ToArray().Select((t, i) => (t, i)).MinBy(r => Math.Abs(r.t - taut)).i;
            yield return new(Say.Number("CdA = ", area, " m2"), (fall.Weight * fall.Drop) - (fall.Mass * square / 2), table["lost_drag_J"][row]);
        }
    }

    private static IEnumerable<VerificationPoint> Relaxation()
    {
        var bench = RopeCases.HeldStretched(2);
        foreach (var t in new[] { 0.1, 0.5, 2 })
        {
            var exact = 10 / 1.02 * 150_000 * 0.02 * 0.02 / 2 * (1 - Math.Exp(-2 * t / 0.3));
            yield return new(Say.Number("t = ", t, " s"), exact, bench.At(t)[StateLayout.LostRope] - bench.At(0)[StateLayout.LostRope]);
        }
    }

    private static IEnumerable<VerificationPoint> Sway()
    {
        var (bench, q, w) = SparCases.FreeSwing();
        foreach (var t in new[] { 0.4, 1, 2 })
        {
            const double H = 1e-5;
            var rate = (q(t + H) - q(t - H)) / (2 * H);
            yield return new(Say.Number("t = ", t, " s"), ((w * w * q(0) * q(0)) - (rate * rate) - (w * w * q(t) * q(t))) / 2, bench.At(t)[StateLayout.LostSpar]);
        }
    }

    private static IEnumerable<VerificationPoint> Hitch()
    {
        const double Force = 1_500;
        var fall = new StraightFall { Slack = 0.5, HitchTakeUp = new(0.5, Force, Force), Afterwards = 1.5 };
        var run = fall.Run();
        var strain = Force / fall.Stiffness;
        yield return new("", 0.5 * ((Force * (1 + strain)) - (Force * strain / 2)), Place(run, "lost_hitch_J"));
    }

    private static IEnumerable<VerificationPoint> Stored()
    {
        const double Length = 10, Factor = 1;
        var force = (80 * 9.81) + Math.Sqrt(Math.Pow(80 * 9.81, 2) + (2 * 80 * 9.81 * 20_000 * Factor));
        static double At(double tau) => new StraightFall { ViscousTime = tau, Above = 5, GroundLeg = 5, Afterwards = 0.7 }.Run().Traces!.Sample(1e-4)["energy_rope_J"].ToArray().Max();
        yield return new("", 80 * 9.81 * ((Factor * Length) + (force * Length / 20_000)), (2 * At(1e-4)) - At(2e-4));
    }
}
