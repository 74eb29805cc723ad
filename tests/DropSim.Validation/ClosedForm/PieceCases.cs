using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>The piece on its own: mass, balance, free fall, air.</summary>
internal static class PieceCases
{
    private const string Page = "theory/piece.md";

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-101", Page = Page, What = "Volume of a log, 25 and 29 cm thick, 5 m long, as a truncated cone",
            Formula = "V = L/3 (A_s + sqrt(A_s A_l) + A_l)", Source = "D.R. Larsen, Cubic Log Volume, University of Missouri: worked value 0.286801 m3 (read)",
            Unit = "m3", Absolute = 5e-7, Why = "half a unit of the last printed digit",
            Compute = () => [new("", 0.286801, LogVolume.Cone(0.29, 0.25, 5))],
        },
        new()
        {
            Id = "V-102", Page = Page, What = "Balance point and inertia of a truncated cone, against its slices summed by quadrature",
            Formula = "c = sum z dm / m, I = sum (z - c)^2 dm + r^2/4 dm", Source = "Derived here: the definition, with dm = rho pi r^2 dz and a disc's r^2/4",
            Relative = 1e-10, Why = "quadrature to twelve digits", Compute = ConeSlices,
        },
        new()
        {
            Id = "V-103", Page = Page, What = "Whole program: time from leaving the edge until the rope is straight",
            Formula = "t = sqrt(2 H/g)", Source = "Elementary (Galilei); derived here by integrating z'' = -g twice",
            Unit = "s", Absolute = 1e-6, Why = "pushed off with 1e-6 m/s of tip speed",
            Compute = () => new[] { 1.0, 4, 9 }.Select(above =>
            {
                var fall = new StraightFall { Above = above, Slack = 0.5, Afterwards = 0.3 };
                return new VerificationPoint(Say.Number("H = ", fall.Drop, " m"), fall.FallTime, fall.Run()[MeasureIds.TimeToTaut].Value);
            }),
        },
        new()
        {
            Id = "V-104", Page = Page, What = "Whole system: place of the hitch of a piece that flies and turns freely, after 0.6 s",
            Formula = "X = X0 + u t, Z = Z0 + v t - g t^2/2, phi = phi0 + w t; hitch = (X + xi sin phi + eta cos phi, Z + xi cos phi - eta sin phi)",
            Source = "Derived here: Newton and Euler without force but weight", Unit = "m", Absolute = 1e-8, Why = "tolerance 1e-10 over 0.6 s of flight",
            Compute = Flight,
        },
        new()
        {
            Id = "V-105", Page = Page, What = "Whole program: speed of a piece with air drag when the rope comes straight",
            Formula = "v = v_t sqrt(1 - exp(-2 g H/v_t^2)), v_t^2 = 2 m g/(rho CdA)",
            Source = "Derived here: m v dv/dz = m g - rho CdA v^2/2, variables separated", Unit = "m/s", Absolute = 1e-5,
            Why = "pushed off with 1e-6 m/s; read where the load leg comes taut", Compute = Drag,
        },
    ];

    private static IEnumerable<VerificationPoint> ConeSlices()
    {
        const double Butt = 0.5, Tip = 0.3, Length = 3;
        var log = PieceEstimate.Log(Butt, Tip, Length, 900);
        double R(double z) => (Butt + ((Tip - Butt) * z / Length)) / 2;
        double Sum(Func<double, double> f) => MathNet.Numerics.Integration.GaussLegendreRule.Integrate(f, 0, Length, 20);
        var mass = Sum(z => 900 * Math.PI * R(z) * R(z));
        var centre = Sum(z => 900 * Math.PI * R(z) * R(z) * z) / mass;
        var inertia = Sum(z => 900 * Math.PI * R(z) * R(z) * (((z - centre) * (z - centre)) + (R(z) * R(z) / 4)));
        return [new("mass, kg", mass, log.Mass), new("balance point, m", centre, log.CentreOfGravity), new("inertia, kg m2", inertia, log.Inertia)];
    }

    private static IEnumerable<VerificationPoint> Flight()
    {
        const double T = 0.6, X = 2, Z = 40, Lean = 0.3, U = 1.5, V = 0.7, W = 2.2;
        var input = new StraightFall { Slack = 30 }.Input();
        var bench = new Bench(input, (_, y) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (X, Z, Lean);
            (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (U, V, W);
        }, T);
        var at = bench.See(T);

        // The hitch of this input is at the centre of gravity; a body point 0.2 m up and 0.1 m back stands for another.
        var phi = Lean + (W * T);
        var (x, z) = (X + (U * T), Z + (V * T) - (input.Computation.Gravity * T * T / 2));
        yield return new("hitch x", x, at.HitchX);
        yield return new("hitch z", z, at.HitchZ);
        var corner = bench.System.Body.HardCorners[0];
        yield return new(
            "corner z", z + (-0.2 * Math.Cos(phi)) - (-0.2 * Math.Sin(phi)),
            bench.End[StateLayout.PieceZ] + (corner.Xi * at.Cos) - (corner.Eta * at.Sin));
    }

    private static IEnumerable<VerificationPoint> Drag()
    {
        foreach (var area in new[] { 0.5, 3.0 })
        {
            var fall = new StraightFall { Mass = 60, Above = 5, Slack = 0.5, DragArea = area, Afterwards = 0.5 };
            var run = fall.Run();
            var terminal = Math.Sqrt(2 * fall.Weight / (run.Input.Computation.AirDensity * area));
            var speed = terminal * Math.Sqrt(1 - Math.Exp(-2 * fall.Gravity * fall.Drop / (terminal * terminal)));
            var table = run.Traces!.Sample(10);
            var taut = run[MeasureIds.TimeToTaut].Value;
            var row = table["time_s"].ToArray().Select((t, i) => (t, i)).MinBy(r => Math.Abs(r.t - taut)).i;
            yield return new(Say.Number("CdA = ", area, " m2"), speed, table["piece_speed_m_s"][row]);
        }
    }
}
