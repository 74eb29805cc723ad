using DropSim.Integration;

namespace DropSim.Validation.ClosedForm;

/// <summary>The engine on published and closed-form problems; many more are in DropSim.Tests (PublishedProblemTests, EventTests, OrderTests).</summary>
internal static class IntegratorCases
{
    private const string Page = "numerics.md";

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-1401", Page = Page, What = "Arenstorf's orbit: place after one period, Verner 7(6), tolerance 1e-12", Formula = "x(T) = 0.994, y(T) = 0, T = 17.0652165601579625588917206249",
            Source = "E. Hairer, S.P. Norsett, G. Wanner (1993), Solving Ordinary Differential Equations I, pp. 129-130 (secondary: several public test suites agree)", Absolute = 1e-5, Why = "two close passes of the moon blow an error up by a million",
            Compute = () =>
            {
                double[] y = [0.994, 0, 0, -2.00158510637908252240537862224];
                Run(new Smooth(4, Arenstorf), y, 17.0652165601579625588917206249, 1e-12);
                return [new("x", 0.994, y[0]), new("y", 0, y[1])];
            },
        },
        new()
        {
            Id = "V-1402", Page = Page, What = "Two-body orbit of eccentricity 0.9 after 20 time units (DETEST D5)", Formula = "Kepler: x = cos E - e, E - e sin E = t", Source = "T.E. Hull, W.H. Enright, B.M. Fellen, A.E. Sedgwick (1972), SIAM J. Numer. Anal. 9:603-637 (by name); Kepler's equation solved here", Absolute = 2e-8, Why = "twenty tolerances of 1e-9",
            Compute = Kepler,
        },
        new()
        {
            Id = "V-1403", Page = Page, What = "Times of the bounces of a ball, 1 m up, restitution 0.8", Formula = "t_n = t0 (1 + 2 sum e^j), t0 = sqrt(2 h/g), g = 9.81", Source = "Elementary; derived here: each flight lasts e times the one before", Unit = "s", Absolute = 1e-9, Why = "events are located to the last digits",
            Compute = Bounces,
        },
        new()
        {
            Id = "V-1404", Page = Page, What = "Friction oscillator (Coulomb): turning points of a mass on a spring that rubs, and where it sticks", Formula = "|x_(n+1)| = |x_n| - 2 mu m g/k, half a period pi sqrt(m/k) each; sticks at the first turning point with k |x| <= mu m g; m = 1, k = 100, mu = 0.1, x0 = 0.1",
            Source = "Any text on vibration; derived here: a half swing about the point shifted by mu m g/k", Absolute = 1e-9, Why = "tolerance 1e-11",
            Compute = Coulomb,
        },
        new()
        {
            Id = "V-1405", Page = Page, What = "Order of the method: ratio of errors of a harmonic oscillator at fixed steps of 0.2 and 0.1, as a power of two", Formula = "7", Source = "J.H. Verner (2010), Numerical Algorithms 53:383-396 (by name)", Absolute = 0.25, Why = "the next order, a twentieth of the first",
            Compute = Order,
        },
    ];

    private static RunOutcome Run(IHybridSystem system, double[] y, double end, double tolerance, double step = 0) =>
        new Integrator(system, new IntegrationOptions { RelativeTolerance = tolerance, LargestStep = step > 0 ? step : 0.5, InitialStep = step }).Run(0, end, y, new Silent());

    private static void Arenstorf(double t, ReadOnlySpan<double> y, Span<double> f)
    {
        const double Mu = 0.012277471, Other = 1 - Mu;
        var d1 = Math.Pow(((y[0] + Mu) * (y[0] + Mu)) + (y[1] * y[1]), 1.5);
        var d2 = Math.Pow(((y[0] - Other) * (y[0] - Other)) + (y[1] * y[1]), 1.5);
        (f[0], f[1]) = (y[2], y[3]);
        f[2] = y[0] + (2 * y[3]) - (Other * (y[0] + Mu) / d1) - (Mu * (y[0] - Other) / d2);
        f[3] = y[1] - (2 * y[2]) - (Other * y[1] / d1) - (Mu * y[1] / d2);
    }

    private static IEnumerable<VerificationPoint> Kepler()
    {
        const double E = 0.9;
        double[] y = [1 - E, 0, 0, Math.Sqrt((1 + E) / (1 - E))];
        Run(
            new Smooth(4, (_, s, f) =>
            {
                var r = Math.Sqrt((s[0] * s[0]) + (s[1] * s[1]));
                (f[0], f[1], f[2], f[3]) = (s[2], s[3], -s[0] / (r * r * r), -s[1] / (r * r * r));
            }),
            y, 20, 1e-9);
        var anomaly = Bisection.Root(a => a - (E * Math.Sin(a)) - 20, 15, 25);
        return [new("x", Math.Cos(anomaly) - E, y[0]), new("y", Math.Sqrt(1 - (E * E)) * Math.Sin(anomaly), y[1])];
    }

    private static IEnumerable<VerificationPoint> Bounces()
    {
        var ball = new Ball();
        Run(ball, [1, 0], 3, 1e-10);
        var first = Math.Sqrt(2 / 9.81);
        double sum = 1;
        for (var n = 0; n < 5; n++)
        {
            yield return new(Say.Number("bounce ", n + 1), first * sum, ball.Times[n]);
            sum += 2 * Math.Pow(0.8, n + 1);
        }
    }

    private static IEnumerable<VerificationPoint> Coulomb()
    {
        var rub = new Rubbing();
        Run(rub, [0.1, 0], 5, 1e-11);
        var x = 0.1;
        const double Shift = 0.1 * 9.81 / 100;
        for (var n = 1; x > Shift; n++)
        {
            x -= 2 * Shift;
            yield return new(Say.Number("turn ", n, ": distance, m"), x, Math.Abs(rub.Turns[n - 1].X));
            yield return new(Say.Number("turn ", n, ": t, s"), n * Math.PI / 10, rub.Turns[n - 1].Time);
        }

        yield return new("turns until it sticks", 5, rub.Turns.Count);
    }

    private static IEnumerable<VerificationPoint> Order()
    {
        static double Error(double step)
        {
            double[] y = [1, 0];
            Run(new Smooth(2, (_, s, f) => (f[0], f[1]) = (s[1], -s[0])), y, 10, 1e-2, step);
            return double.Hypot(y[0] - Math.Cos(10), y[1] + Math.Sin(10));
        }

        return [new("", 7, Math.Log2(Error(0.2) / Error(0.1)))];
    }

    private delegate void RightHandSide(double time, ReadOnlySpan<double> state, Span<double> rates);

    private sealed class Silent : IRunObserver
    {
        public void OnBegin(double time, ReadOnlySpan<double> state)
        {
        }

        public void OnStep(DenseStep dense)
        {
        }

        public void OnEvent(double time, ReadOnlySpan<double> state, int guard)
        {
        }
    }

    /// <summary>An equation without events.</summary>
    private class Smooth(int states, RightHandSide rates) : IHybridSystem
    {
        public int StateCount => states;

        public virtual int GuardCount => 0;

        public void Evaluate(double time, ReadOnlySpan<double> state, Span<double> rates1, Span<double> guards)
        {
            if (!rates1.IsEmpty)
            {
                Rates(time, state, rates1);
            }

            if (!guards.IsEmpty)
            {
                guards[0] = Guard(state);
            }
        }

        protected virtual void Rates(double time, ReadOnlySpan<double> state, Span<double> rates1) => rates(time, state, rates1);

        protected virtual double Guard(ReadOnlySpan<double> state) => double.PositiveInfinity;

        public void ErrorScales(Span<double> scales) => scales.Fill(1);

        public bool MayDip(int guard) => true;

        public virtual EventResponse HandleEvent(double time, Span<double> state, int guard) => EventResponse.Continue;

        public bool TryPhaseless(double time, Span<double> state) => false;
    }

    private sealed class Ball() : Smooth(2, (_, y, f) => (f[0], f[1]) = (y[1], -9.81))
    {
        public List<double> Times { get; } = [];

        public override int GuardCount => 1;

        public override EventResponse HandleEvent(double time, Span<double> state, int guard)
        {
            Times.Add(time);
            (state[0], state[1]) = (0, -0.8 * state[1]);
            return EventResponse.Continue;
        }

        protected override double Guard(ReadOnlySpan<double> state) => state[0];
    }

    /// <summary>The direction of sliding is the phase; it changes where the speed passes zero.</summary>
    private sealed class Rubbing() : Smooth(2, (_, _, _) => { })
    {
        private const double Friction = 0.1 * 9.81, Spring = 100;
        private int _direction = -1;

        public List<(double Time, double X)> Turns { get; } = [];

        public override int GuardCount => 1;

        public override EventResponse HandleEvent(double time, Span<double> state, int guard)
        {
            Turns.Add((time, state[0]));
            state[1] = 0;
            _direction = -_direction;
            return Math.Abs(Spring * state[0]) <= Friction ? EventResponse.Stop : EventResponse.Continue;
        }

        protected override void Rates(double time, ReadOnlySpan<double> state, Span<double> rates1) =>
            (rates1[0], rates1[1]) = (state[1], (-Spring * state[0]) - (_direction * Friction));

        protected override double Guard(ReadOnlySpan<double> state) => _direction * state[1];
    }
}
