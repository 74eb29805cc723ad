using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// The rigging point. Statics: a weight at rest, the ground leg's pull raised and lowered until rope slips.
/// Dynamics at small strain: two straight springs k1 = EA/L1, k2 = EA/L2 joined by capstan friction. While rope slips out T1 = rho T2, so
/// x = T1/k1 + T2/k2 gives T1 = k x with k = 1/(1/k1 + 1/(rho k2)): an oscillator of that stiffness. After the turn rope sticks
/// (only k1 works) until T1 = T2/rho; then it slips back with k' = 1/(1/k1 + rho/k2).
/// </summary>
internal static class RiggingPointCases
{
    private const string Page = "theory/rigging-point.md";

    private static readonly double[] _frictions = [0.1, 0.2, 0.5];

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-401", Page = Page, What = "Whole system at rest under a weight W over a ring with half a turn: pull in the ground leg below which rope slips toward the piece",
            Formula = "T2 = W exp(-mu pi)", Source = "Euler-Eytelwein (by name)", Unit = "N", Relative = 1e-9, Why = "found by halving the pull to the last digits",
            Compute = () => _frictions.Select(mu => new VerificationPoint(Say.Number("mu = ", mu), Statics.Weight * Math.Exp(-mu * Math.PI), new Statics(mu).LowestHold())),
        },
        new()
        {
            Id = "V-402", Page = Page, What = "The same: pull above which rope slips toward the device",
            Formula = "T2 = W exp(mu pi)", Source = "Euler-Eytelwein (by name)", Unit = "N", Relative = 1e-9, Why = "as V-401",
            Compute = () => _frictions.Select(mu => new VerificationPoint(Say.Number("mu = ", mu), Statics.Weight * Math.Exp(mu * Math.PI), new Statics(mu).HighestHold())),
        },
        new()
        {
            Id = "V-403", Page = Page, What = "The same: acceleration of the piece, and slip, anywhere between",
            Formula = "0", Source = "Statics: it sticks and nothing moves", Unit = "m/s2", Absolute = 1e-6, Why = "round-off of the directions, over a tension of thousands of newtons",
            Compute = () => new[] { 0.7, 0.9, 1.0, 1.1, 1.4 }.Select(share => new VerificationPoint(Say.Number("mu = 0.2, T2 = ", share, " W"), 0, new Statics(0.2).Restlessness(share))),
        },
        new()
        {
            Id = "V-404", Page = Page, What = "The same over a block: lowest pull that holds",
            Formula = "T2 = W (R - mu r)/(R + mu r): moment about the shaft (T1 - T2) R = mu r (T1 + T2)",
            Source = "Derived here: journal statics, weight of the sheave left out; tread and shaft of three blocks from P.S. Donzelli (1999), table 1 (read)", Unit = "N", Relative = 1e-9, Why = "as V-401; eta is set to that ratio, and half a turn is where eta holds",
            Compute = Blocks,
        },
        new()
        {
            Id = "V-407", Page = Page, What = "The same over a block with the loss of a plain-bearing sheave and of one on rolling bearings", Formula = "T2 = W/K: each sheave multiplies the line's load by K, 1.09 and 1.04",
            Source = "Wire Rope Technical Board, Wire Rope Users Manual, 4th ed., p. 88 (secondary: quoted in a crane manual)", Unit = "N", Relative = 1e-9, Why = "as V-401; eta = 1/K at half a turn",
            Compute = () => new[] { 1.09, 1.04 }.Select(k => new VerificationPoint(Say.Number("K = ", k), Statics.Weight / k, new Statics(1, 1 / k).LowestHold())),
        },
        new()
        {
            Id = "V-405", Page = Page, What = "Whole system: peak of the load leg in a fall over a ring with friction, elastic rope, small strain, viscous time to zero",
            Formula = "F = m g + m sqrt(v0^2 k/m + g^2), k = rho k1 k2/(rho k2 + k1)", Source = "U. Leuthaeusser (2012), Physics of climbing ropes, part 3, p. 14 (secondary; there with the legs named the other way round); k derived afresh above", Unit = "N", Relative = 1e-4, Why = "finite strain of 2e-5 and second order in the viscous time",
            Compute = () => new[] { 1.0001, 1.46, 1.9, 3 }.Select(rho => new VerificationPoint(Say.Number("rho = ", rho), Slide.Peak(rho, 0.02), Slide.Zero(rho, 0.02, s => s.Largest(Channel.LoadLeg)))),
        },
        new()
        {
            Id = "V-406", Page = Page, What = "The same: friction oscillator of the capstan kind, stretch at the first turning point from below",
            Formula = "suddenly loaded: out with k to T1 = 2 W, sticking with k1 until T1 = T2/rho, then back with k' = k1 k2/(k2 + rho k1) to the next rest: each part by its energy",
            Source = "Derived here (remark of `RiggingPointCases`; `Slide`)", Unit = "m", Absolute = 0, Relative = 2e-4, Why = "as V-405, of the stretch travelled",
            Compute = () => new[] { 1.2, 1.46, 1.9 }.Select(rho => new VerificationPoint(Say.Number("rho = ", rho), Slide.Turn(rho), Slide.Zero(rho, 0, Slide.TurnOf))),
        },
    ];

    private static IEnumerable<VerificationPoint> Blocks()
    {
        foreach (var (tread, shaft, mu) in new[] { (27.559, 9.525, 0.2), (52.324, 9.525, 0.5), (29.21, 9.3898, 0.1) })
        {
            var moment = mu * shaft / tread;
            var eta = (1 - moment) / (1 + moment);
            yield return new(Say.Number("R = ", tread, Say.Number(" mm, r = ", shaft, Say.Number(" mm, mu = ", mu))), Statics.Weight * eta, new Statics(1, eta).LowestHold());
        }
    }

    /// <summary>A weight at rest below the rigging point, both legs straight down.</summary>
    private sealed class Statics(double friction, double? efficiency = null)
    {
        private const double Stiffness = 100_000;
        private const double Load = 2, Ground = 8;

        public static double Weight => 80 * 9.81;

        public double LowestHold() => Bisection.Root(share => Slips(share) == RingState.Out ? -1 : 1, 1e-3, 1) * Weight;

        public double HighestHold() => Bisection.Root(share => Slips(share) == RingState.Back ? 1 : -1, 1, 1e3) * Weight;

        public double Restlessness(double share)
        {
            var at = At(share);
            return Math.Abs(at.Ax) + Math.Abs(at.Az) + Math.Abs(at.LeanAcceleration) + Math.Abs(at.Flow.Slip) + Math.Abs(at.Flow.Device);
        }

        private RingState Slips(double share) => At(share).Branch.Ring;

        private Instant At(double share)
        {
            var input = new StraightFall { Friction = friction, Stiffness = Stiffness, Above = Load, GroundLeg = Ground }.Input();
            if (efficiency is { } eta)
            {
                input = input with { RiggingPoint = input.RiggingPoint with { Kind = RiggingPointKind.Block, Efficiency = eta } };
            }

            return Bench.Solve(Bench.SystemOf(input), (_, y) => Hang(y, Load, Weight / Stiffness, Ground, share * Weight / Stiffness));
        }
    }

    /// <summary>Energy lost at the ring from the straightening of the rope to the first turn of the piece.</summary>
    public static VerificationPoint LostUntilPeak(double rho)
    {
        var force = Slide.Peak(rho, 0.02) / rho;
        return new("", (rho - 1) * force * force / (2 * Slide.K2), Slide.Zero(rho, 0.02, Slide.LostUntilTurn));
    }

    /// <summary>The piece at rest a stretched load leg below the rigging point at z = cut - (above - 0.2).</summary>
    public static void Hang(double[] y, double load, double strain, double ground, double groundStrain, double above = 2)
    {
        y[StateLayout.PieceX] = 0.2;
        y[StateLayout.PieceZ] = 60 - (above - 0.2) - Math.Sqrt((load * load) - 1e-12);
        y[StateLayout.Lean] = 0;
        (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, 0, 0);
        y[StateLayout.LoadLength] = load / (1 + strain);
        y[StateLayout.GroundLength] = ground / (1 + groundStrain);
    }

    /// <summary>A fall onto a nearly unstretching rope over a ring with friction: L1 = 2 m, L2 = 8 m, at the moment of straightening.</summary>
    private static class Slide
    {
        private const double Mass = 80, G = 0.2, Ea = 4e6, Load = 2, Ground = 8;
        public const double K2 = Ea / Ground;
        private const double K1 = Ea / Load;

        public static double Peak(double rho, double speed) => (Mass * G) + (Mass * Math.Sqrt((speed * speed * Out(rho) / Mass) + (G * G)));

        /// <summary>Stretch where the piece turns for the second time, up there.</summary>
        public static double Turn(double rho)
        {
            // Out: T1 = Out x up to the peak; there x1 = F/Out and T2 = F/rho.
            var force = Peak(rho, 0);
            var x1 = force / Out(rho);

            // Sticking: only k1 gives, until T1 = T2/rho = F/rho^2. Work of T1 less weight from x1 up: m v^2/2 at that place.
            var x2 = x1 - ((force - (force / (rho * rho))) / K1);
            var energy = (((force * force) - Math.Pow(force / (rho * rho), 2)) / (2 * K1)) - (Mass * G * (x1 - x2));
            if (energy <= 0)
            {
                throw new InvalidOperationException("It does not come as far as slipping back.");
            }

            // Back: T1 = F/rho^2 - Back (x2 - x) down to where the speed is zero: energy + integral of (T1 - m g) dx = 0 over u = x2 - x.
            var t = force / (rho * rho);
            var u = ((t - (Mass * G)) + Math.Sqrt(Math.Pow(t - (Mass * G), 2) + (2 * Back(rho) * energy))) / Back(rho);
            return x2 - Math.Min(u, t / Back(rho));
        }

        public static double TurnOf(Bench bench)
        {
            // Upward through zero speed after the first turning point: speed z' falls through zero; so -z' rises.
            var time = bench.Rises(y => -y[StateLayout.PieceVz]).First(t => t > 1e-3);
            return Height - bench.At(time)[StateLayout.PieceZ];
        }

        public static double LostUntilTurn(Bench bench) =>
            bench.At(bench.Rises(y => y[StateLayout.PieceVz]).First(t => t > 1e-3))[StateLayout.LostRiggingPoint];

        public static double Zero(double rho, double speed, Func<Bench, double> read) =>
            (2 * read(Run(rho, speed, 2e-5))) - read(Run(rho, speed, 4e-5));

        private static double Height => 60 - 1.8 - Math.Sqrt((Load * Load) - 1e-12);

        private static double Out(double rho) => 1 / ((1 / K1) + (1 / (rho * K2)));

        private static double Back(double rho) => 1 / ((1 / K1) + (rho / K2));

        private static Bench Run(double rho, double speed, double viscousTime)
        {
            var input = new StraightFall
            {
                Mass = Mass,
                Gravity = G,
                Stiffness = Ea,
                ViscousTime = viscousTime,
                Friction = Math.Log(rho) / Math.PI,
                Above = Load,
                GroundLeg = Ground,
            }.Input();
            return new(input, (_, y) =>
            {
                Hang(y, Load, 0, Ground, 0);
                y[StateLayout.PieceVz] = -speed;
            }, 0.12, tolerance: 1e-12);
        }
    }
}
