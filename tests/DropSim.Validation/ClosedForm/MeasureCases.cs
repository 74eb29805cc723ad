using DropSim.Model;
using DropSim.Studies;

namespace DropSim.Validation.ClosedForm;

/// <summary>What is read off a run, comfort figures and ranges.</summary>
internal static class MeasureCases
{
    private const string Measures = "theory/measures.md", Comfort = "theory/climber-comfort.md", Ranges = "theory/ranges.md";

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-1101", Page = Measures, What = "Whole program: planning form of an undamped straight drop, viscous time to zero", Formula = "m g (1 + H/x) = F/2, F of V-301: k x^2/2 = m g (H + x), F = k x", Source = "Derived here: energy", Unit = "N", Relative = 2e-5, Why = "the end of the path is looked for in steps of 0.2 ms",
            Compute = () => new[] { 0.3, 0.5, 1 }.Select(f => new VerificationPoint(Say.Number("f = ", f), Impact(f) / 2, WithoutViscosity(f, MeasureIds.PlanningForce))),
        },
        new()
        {
            Id = "V-1102", Page = Measures, What = "The same: least possible peak of the load leg, a mean of T1 over its path", Formula = "F/2: T1 rises evenly with the way", Source = "Derived here", Unit = "N", Relative = 2e-5, Why = "as V-1101; trapezia of 0.2 ms",
            Compute = () => new[] { 0.3, 0.5, 1 }.Select(f => new VerificationPoint(Say.Number("f = ", f), Impact(f) / 2, WithoutViscosity(f, MeasureIds.LeastPossible))),
        },
        new()
        {
            Id = "V-1103", Page = Measures, What = "The same: room left under the piece", Formula = "z_r - (L (1 + F/EA) - L2) - c: the load leg at its longest, the butt c below the hitch", Source = "Derived here: the stretched rope less the ground leg", Unit = "m", Absolute = 1e-5, Why = "viscous times 0.2 and 0.1 ms to zero along a straight line",
            Compute = () => new[] { 0.3, 0.5, 1 }.Select(f =>
            {
                // Cut at 60 m, hitch 0.2 m above it, (5 f - 0.25) m above the rigging point.
                var ring = 60.2 - ((5 * f) - 0.25);
                var leg = (10 * (1 + (Impact(f) / 20_000))) - (9.75 - (5 * f));
                return new VerificationPoint(Say.Number("f = ", f), ring - leg - 0.2, WithoutViscosity(f, MeasureIds.Room));
            }),
        },
        new()
        {
            Id = "V-1104", Page = Measures, What = "The same: drop to taut", Formula = "H = 10 f", Source = "Derived here: down to the rigging point and a load leg farther", Unit = "m", Absolute = 1e-6, Why = "pushed off with a lean of 1e-7 rad",
            Compute = () => new[] { 0.3, 1 }.Select(f => new VerificationPoint(Say.Number("f = ", f), 10 * f, WithoutViscosity(f, MeasureIds.DropToTaut))),
        },
        new()
        {
            Id = "V-1201", Page = Comfort, What = "Factor of the weighting Wd at 15.915 Hz (100 rad/s)", Formula = "|H_h H_l H_t| with Wd's parameters", Source = "ISO 2631-1:1997, Annex A; control value 0.1261 printed in an instrument's manual (secondary)", Absolute = 5e-5, Why = "half a unit of the last printed digit",
            Compute = () => [new("", 0.1261, IsoWeighting.Wd.FactorAt(15.915))],
        },
        new()
        {
            Id = "V-1202", Page = Comfort, What = "Amplitude of a long sine of 2 m/s2 after the filter Wd in time", Formula = "2 |H(i 2 pi f)|", Source = "ISO 2631-1:1997, Annex A (secondary): transfer function multiplied out here", Unit = "m/s2", Relative = 1e-3, Why = "bilinear transform, 0.03 % at 40 Hz, and the refinement of the samples",
            Compute = () => new[] { 0.5, 1, 4, 16, 40 }.Select(f => new VerificationPoint(Say.Number("", f, " Hz"), 2 * Wd(f), FilteredAmplitude(f))),
        },
        new()
        {
            Id = "V-1203", Page = Comfort, What = "VDV and MTVV of a sine of 2 m/s2, 5 Hz, 4 s, unweighted", Formula = "A (3 T/8)^(1/4); A/sqrt 2", Source = "Derived here: mean of sin^4 is 3/8, of sin^2 1/2 over whole periods", Absolute = 2e-5, Why = "trapezia of 1 ms",
            Compute = () => [new("VDV, m/s^1.75", 2 * Math.Pow(1.5, 0.25), IsoWeighting.VibrationDoseValue(Sine(5, 4), 0.001)), new("MTVV, m/s2", Math.Sqrt(2), IsoWeighting.MaximumTransientVibrationValue(Sine(5, 4), 0.001))],
        },
        new()
        {
            Id = "V-1301", Page = Ranges, What = "Worst of the range of the rigging-point force, straight drop, mass 64 to 96 kg and EA 15 to 30 kN", Formula = "twice the peak of V-303 at the heaviest and stiffest: the force rises with both", Source = "Derived here: V-301 grows with W and with W M", Unit = "N", Relative = 1e-7, Why = "as V-303: the worst corner is computed like any drop",
            Compute = Corners,
        },
    ];

    private static double Impact(double factor) => (80 * 9.81) + Math.Sqrt(Math.Pow(80 * 9.81, 2) + (2 * 80 * 9.81 * 20_000 * factor));

    private static double WithoutViscosity(double factor, string measure)
    {
        // Slack, so that the rope comes straight after the fall and not before it; ten metres of rope in all.
        double At(double tau) => new StraightFall
        {
            ViscousTime = tau,
            Slack = 0.5,
            Above = (5 * factor) - 0.25,
            GroundLeg = 9.75 - (5 * factor),
            Afterwards = 0.8,
        }.Run()[measure].Value;
        return (2 * At(1e-4)) - At(2e-4);
    }

    /// <summary>Wd at a frequency, from equations (1) and (2) of the page.</summary>
    private static double Wd(double frequency)
    {
        static System.Numerics.Complex S(double f, double over) => new(0, f / over);
        var high = S(frequency, 0.4);
        var low = S(frequency, 100);
        var step = S(frequency, 2);
        var h = high * high / ((high * high) + (Math.Sqrt(2) * high) + 1)
            / ((low * low) + (Math.Sqrt(2) * low) + 1)
            * (1 + step) / (1 + (step / 0.63) + (step * step));
        return h.Magnitude;
    }

    private static double FilteredAmplitude(double frequency)
    {
        // After 20 s the start has died away; ten more seconds are whole periods.
        var weighted = IsoWeighting.Wd.Weight(Sine(frequency, 30), 0.001);
        return Math.Sqrt(2 * weighted[20_000..30_000].Average(a => a * a));
    }

    private static double[] Sine(double frequency, double duration) =>
        [.. Enumerable.Range(0, (int)Math.Round(duration / 0.001) + 1).Select(i => 2 * Math.Sin(2 * Math.PI * frequency * i * 0.001))];

    private static IEnumerable<VerificationPoint> Corners()
    {
        var fall = new StraightFall { Mass = 80, Stiffness = 20_000, ViscousTime = 0.0005, Above = 3, GroundLeg = 7, Afterwards = 0.7 };
        var ranges = new InputRange[]
        {
            new("mass", "kg", 80, 64, 96, "example", (d, v) => d with { Piece = d.Piece with { Mass = v, Inertia = v * 0.02 } }),
            new("stiffness", "N", 20_000, 15_000, 30_000, "example", (d, v) => d with { Rope = d.Rope with { Stiffness = v } }),
        };
        var measure = RangeStudy.Compute(new DropCase("straight", "hard-stop", fall.Input(), ranges, [], []), 2).Run[MeasureIds.RiggingPointForce];
        double Exact(double mass, double stiffness)
        {
            var k = stiffness / fall.RopeLength;
            return 2 * new LinearDrop(mass, fall.Gravity, k, k * fall.ViscousTime, 0, 1, fall.Speed).Peak();
        }

        return [new("", Exact(96, 30_000), measure.High!.Value)];
    }
}
