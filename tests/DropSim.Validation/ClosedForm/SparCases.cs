using DropSim.Model;
using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Validation.ClosedForm;

/// <summary>The spar's modes, stiffness, buckling and moments against beam theory.</summary>
internal static class SparCases
{
    private const string Page = "theory/spar.md";
    private const double E = 9e9, Density = 900, Length = 10, Base = 0.5, Gravity = 9.80665;

    private static readonly double[] _uniform = [1.87510407, 4.69409113, 7.85475744, 10.99554073];

    private static readonly double[] _coneGuesses = [3.516, 22.03, 61.70];

    private const string BeamColumn = "lowest root of E I w'''' + P w'' = rho A omega^2 w; close to 1 - P/Pcr, above it by a factor from 1 at no load to 1.085 near Pcr (the shapes of swinging and buckling differ a little)";

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-801", Page = Page, What = "Frequencies of a uniform cantilever, 24 elements, as beta L",
            Formula = "1 + cos b cosh b = 0; omega = b^2 sqrt(EI/(rho A L^4))", Source = "R.D. Blevins (1979), Formulas for Natural Frequency and Mode Shape, table 8-1 (by name: roots computed from the equation)",
            Relative = 2e-5, Why = "cubic elements come from above by (b h)^4/2880: 1.5e-5 at the fourth",
            Compute = () => Modes(new(Cone(Base), 4, 24, 0)).Select((w, i) => new VerificationPoint(Say.Number("mode ", i + 1), _uniform[i], Math.Sqrt(w / Unit))),
        },
        new()
        {
            Id = "V-802", Page = Page, What = "Frequencies with a mass at the tip (the climber), 40 elements, as beta L",
            Formula = "1 + cos b cosh b + eta b (cos b sinh b - sin b cosh b) = 0, eta = M/(rho A L)", Source = "Any text on vibration; roots found here by halving", Relative = 5e-6, Why = "cubic elements, (b h)^4/2880 at the third mode",
            Compute = TipMasses,
        },
        new()
        {
            Id = "V-803", Page = Page, What = "Frequencies of truncated cones, 60 elements, over sqrt(E I0/(rho A0 L^4))",
            Formula = "(EI w'')'' = rho A omega^2 w, clamped at the thick end, free at the thin one", Source = "The beam's equation; solved here by shooting (`BeamTheory.ConeFrequency`); the full cone is Kirchhoff's (by name)", Relative = 1e-5, Why = "cubic elements at the third mode",
            Compute = Cones,
        },
        new()
        {
            Id = "V-804", Page = Page, What = "Deflection of a tapered stem under 1 kN at its tip, 60 elements", Formula = "F L^3/(3 E I_base) D/d", Source = "Derived here: integral of F (L - z)^2/(E I), I as the fourth power of a straight taper", Unit = "m", Relative = 1e-5, Why = "cubic elements where EI varies",
            Compute = () => new[] { 0.5, 0.4, 0.25, 0.1 }.Select(d => new VerificationPoint(
                Say.Number("tip ", d, " m"), 1000 * Math.Pow(Length, 3) / (3 * E * Second(Base)) * Base / d, 1000 / new ModalSpar(Cone(d), 3, 60, 0).StaticTipStiffness)),
        },
        new()
        {
            Id = "V-805", Page = Page, What = "Moment in a stem that stands still under a steady load beside its axis, one mode or three kept",
            Formula = "F_x (h - z) - F_z e: statics", Source = "Derived here: equilibrium of the part above z", Unit = "N m", Relative = 1e-10, Why = "round-off: mode acceleration makes statics exact",
            Compute = StaticMoments,
        },
        new()
        {
            Id = "V-806", Page = Page, What = "Moment at the foot of a uniform stem that swings in one mode, by mode acceleration, 40 elements", Formula = "E I phi'' q, phi''(0) = 2 b^2/(L^2 sqrt(rho A L)) for phi of unit modal mass",
            Source = "Derived here: clamped-free mode, |phi(L)| = 2/sqrt(rho A L) and |phi''(0)| = b^2/L^2 |phi(L)|", Unit = "N m", Relative = 1e-4, Why = "cubic elements",
            Compute = SwingingMoments,
        },
        new()
        {
            Id = "V-807", Page = Page, What = "Buckling load of a light uniform column under a load at the tip, and at half height", Formula = "pi^2 E I/(4 h^2)", Source = "L. Euler (by name)", Unit = "N", Relative = 1e-5, Why = "cubic elements, 24",
            Compute = () => new[] { 1.0, 0.5 }.Select(share => new VerificationPoint(
                Say.Number("at ", share, " of the height"), Math.PI * Math.PI * E * Second(Base) / (4 * share * share * Length * Length), new ModalSpar(Cone(Base), 1, 24, 0).BucklingLoadAt(share * Length))),
        },
        new()
        {
            Id = "V-808", Page = Page, What = "P-delta: square of the lowest frequency under a dead load P at the tip, from the three modes kept and their shortening, over its square without; loads that give no warning",
            Formula = BeamColumn, Source = "Derived here: frequency equation of the beam-column (`BeamTheory.LoadedFrequency`)", Absolute = 2.5e-4, Why = "what the modes left out would bend more: second order in the load, 0.0025 (P/Pcr)^2 for three modes",
            Compute = () => new[] { 0.1, 0.2, 0.3 }.Select(share => LoadedFrequency(3, share)),
        },
        new()
        {
            Id = "V-814", Page = Page, What = "The same up to near buckling, where DropSim warns", Formula = BeamColumn, Source = "As V-808", Absolute = 3e-3, Why = "as V-808: 0.003 (P/Pcr)^2; three modes buckle at a load 0.27 % above Euler's",
            Compute = () => new[] { 0.5, 0.7, 0.9, 0.95 }.Select(share => LoadedFrequency(3, share)),
        },
        new()
        {
            Id = "V-815", Page = Page, What = "The same with eight modes, the most that can be kept", Formula = BeamColumn, Source = "As V-808", Absolute = 1.5e-4, Why = "as V-808: 0.00014 (P/Pcr)^2; eight modes buckle at a load 0.013 % above Euler's",
            Compute = () => new[] { 0.5, 0.7, 0.9, 0.95 }.Select(share => LoadedFrequency(8, share)),
        },
        new()
        {
            Id = "V-809", Page = Page, What = "P-delta in the beam itself: square of the frequency of a light stem under a heavy climber at its tip, near Euler's load",
            Formula = "omega^2 = k/m, k = P beta/(tan beta L - beta L), beta^2 = P/EI, P = m g", Source = "Derived here: beam-column under end load and side force (elementary)", Unit = "1/s2", Relative = 2e-5, Why = "cubic elements; near buckling small errors of Pcr grow by 1/(1 - P/Pcr)",
            Compute = () => new[] { 0.2, 0.5, 0.9, 0.99 }.Select(share => { var (w2, _, exact) = HeavyClimber(share); return new VerificationPoint(Say.Number("P/Pcr = ", share), exact, w2); }),
        },
        new()
        {
            Id = "V-810", Page = Page, What = "The same: omega^2/omega0^2 over 1 - P/Pcr, as the load nears Euler's",
            Formula = "pi^4/96 = 1.01468: the limit of u^3/(3 (tan u - u))/(1 - 4 u^2/pi^2) for u = beta L to pi/2; at P = 0 it is 1",
            Source = "Derived here: tan u = 1/(pi/2 - u) near pi/2", Absolute = 2e-4, Why = "P/Pcr = 0.999, where the limit is reached to 1e-5, and cubic elements divided by 1 - P/Pcr",
            Compute = () =>
            {
                var (w2, stiffness, _) = HeavyClimber(0.999);
                return [new("", Math.Pow(Math.PI, 4) / 96, w2 / stiffness / 0.001)];
            },
        },
        new()
        {
            Id = "V-811", Page = Page, What = "Height over which a uniform stem falls by its own weight", Formula = "q L^3/(E I) = (9/4) j^2, j = 1.8663509 the first zero of the Bessel function J_-1/3", Source = "A.G. Greenhill (by name)", Unit = "m", Relative = 1e-5, Why = "cubic elements; found by halving",
            Compute = Greenhill,
        },
        new()
        {
            Id = "V-812", Page = Page, What = "Whole system: force of both legs on each mode of a bent, loaded spar, against virtual work",
            Formula = "-T1 dd1/dq_i - T2 dd2/dq_i, by central differences of the lengths, with (x, z) = (e + w, H_r - e w' - q.G q/2)", Source = "Derived here: virtual work; geometry written out afresh", Unit = "kg^1/2 m/s2", Absolute = 2e-5, Why = "central differences of 1e-5 of forces of up to 800", Compute = VirtualWork,
        },
        new()
        {
            Id = "V-813", Page = Page, What = "Whole system: deflection of a stem swinging freely after one period, in its first mode", Formula = "q(t) = exp(-zeta w t)(cos w_d t + zeta/sqrt(1 - zeta^2) sin w_d t) q0", Source = "Any text on vibration", Absolute = 1e-8, Why = "tolerance 1e-10", Compute = FreeSway,
        },
        new()
        {
            Id = "V-816", Page = Page, What = "Largest stress in a tapered stem (0.6 to 0.2 m) under 1 kN at its tip, and where it is", Formula = "32 F y/(pi (d + k y)^3), y below the tip, largest at k y = d/2: where the stem is 1.5 d thick", Source = "Derived here: M/W of a straight taper, derivative zero", Relative = 1e-9, Why = "round-off; a station lies there",
            Compute = () =>
            {
                var (stress, height) = new SparSections(new ModalSpar(Cone(0.2, 0.6), 1, 40, 0)).WorstStress([0], [0], [new(Length, 0, 1_000, 0)]);
                return [new("stress, Pa", 32 * 1_000 * 2.5 / (Math.PI * 0.027), stress), new("height, m", 7.5, height)];
            },
        },
        new()
        {
            Id = "V-817", Page = Page, What = "Modulus fitted to a sway test of 1 Hz on an even stem without climber, its weight left out", Formula = "E = (2 pi f)^2 rho A L^4/(b^4 I), b = 1.87510407", Source = "V-801 turned round", Unit = "GPa", Relative = 1e-6, Why = "cubic elements at the first mode",
            Compute = () => [new("", Math.Pow(2 * Math.PI, 2) * Density * Area(Base) * Math.Pow(Length, 4) / (Math.Pow(_uniform[0], 4) * Second(Base)) / 1e9, new ModalSpar(Cone(Base) with { MeasuredSwayFrequency = 1 }, 1, 24, 0).Modulus / 1e9)],
        },
        new()
        {
            Id = "V-818", Page = Page, What = "Frequency of a stiff stem on a soft root, with its weight and a climber 2 m below the top", Formula = "w^2 = (k - m g L/2 - m_c g h)/(m L^2/3 + m_c h^2)", Source = "Derived here: a rod upside down on a rotational spring", Unit = "rad/s", Relative = 2e-6, Why = "the stem bends by k L/(3 E I), a millionth of what the root turns",
            Compute = () => new[] { 5e5, 1e6 }.Select(k =>
            {
                const double Climber = 90, At = Length - 2;
                var mass = Density * Area(Base) * Length;
                var exact = Math.Sqrt((k - (mass * Gravity * Length / 2) - (Climber * Gravity * At)) / ((mass * Length * Length / 3) + (Climber * At * At)));
                var spar = new ModalSpar(Cone(Base) with { Modulus = 1e15, RootStiffness = k, ClimberMass = Climber, ClimberBelowCut = 2 }, 1, 8, Gravity);
                return new VerificationPoint(Say.Number("k = ", k / 1e6, " MN m/rad"), exact, spar.AngularFrequencies[0]);
            }),
        },
    ];

    private static double Unit => Math.Sqrt(E * Second(Base) / (Density * Area(Base) * Math.Pow(Length, 4)));

    private static double[] Modes(ModalSpar spar) => spar.AngularFrequencies.ToArray();

    private static IEnumerable<VerificationPoint> TipMasses()
    {
        foreach (var (eta, guesses) in new[] { (0.1, new[] { 1.72, 4.40, 7.45 }), (1, [1.25, 4.03, 7.13]), (10, [0.74, 3.94, 7.08]) })
        {
            var spar = new ModalSpar(Cone(Base) with { ClimberMass = eta * Density * Area(Base) * Length, ClimberBelowCut = 0 }, 3, 40, 0);
            var modes = Modes(spar);
            for (var i = 0; i < 3; i++)
            {
                yield return new(Say.Number("eta = ", eta, Say.Number(", mode ", i + 1)), BeamTheory.TipMassRoot(eta, guesses[i]), Math.Sqrt(modes[i] / Unit));
            }
        }
    }

    private static IEnumerable<VerificationPoint> Cones()
    {
        double[] guesses = _coneGuesses;

        // Followed from the uniform stem in small steps of taper, so that each mode finds its own.
        for (var taper = 0; taper <= 16; taper++)
        {
            var c = 1 - (0.05 * taper);
            guesses = [.. guesses.Select(g => BeamTheory.ConeFrequency(c, g))];
            if (c is > 0.79 and < 0.81 or > 0.49 and < 0.51 or < 0.21)
            {
                var modes = Modes(new(Cone(c * Base), 3, 60, 0));
                for (var i = 0; i < 3; i++)
                {
                    yield return new(Say.Number("tip/base ", c, Say.Number(", mode ", i + 1)), guesses[i], modes[i] / Unit);
                }
            }
        }
    }

    private static IEnumerable<VerificationPoint> StaticMoments()
    {
        foreach (var modes in new[] { 1, 3 })
        {
            var sections = new SparSections(new ModalSpar(Cone(0.25), modes, 24, 0));
            var rest = new double[modes];
            SparLoad[] loads = [new(8, 0.3, 1_500, -20_000)];
            foreach (var z in new[] { 0, 3.7, 7.9 })
            {
                yield return new(Say.Number("", modes, Say.Number(" modes, z = ", z, " m")), (1_500 * (8 - z)) + (20_000 * 0.3), sections.MomentAt(z, rest, rest, loads));
            }
        }
    }

    private static IEnumerable<VerificationPoint> SwingingMoments()
    {
        var spar = new ModalSpar(Cone(Base), 3, 40, 0);
        var sections = new SparSections(spar);
        for (var i = 0; i < 3; i++)
        {
            var (q, acceleration) = (new double[3], new double[3]);
            (q[i], acceleration[i]) = (4, -4 * spar.AngularFrequencies[i] * spar.AngularFrequencies[i]);
            var curvature = 2 * _uniform[i] * _uniform[i] / (Length * Length * Math.Sqrt(Density * Area(Base) * Length));

            // With the tip positive, the foot's curvature alternates from mode to mode.
            var sign = i % 2 == 0 ? 1 : -1;
            yield return new(Say.Number("mode ", i + 1), sign * E * Second(Base) * curvature * 4, sections.BaseMoment(q, acceleration, []));
        }
    }

    private static VerificationPoint LoadedFrequency(int kept, double share)
    {
        var critical = Math.PI * Math.PI / 4;
        var exact = Math.Pow(BeamTheory.LoadedFrequency(share * critical, 3.6) / (_uniform[0] * _uniform[0]), 2);
        var spar = new ModalSpar(Cone(Base), kept, 40, 0);
        var load = share * critical * E * Second(Base) / (Length * Length);
        var shortening = spar.ShorteningAt(Length);
        var modes = Modes(spar);
        var matrix = Matrix<double>.Build.Dense(kept, kept, (i, j) => (i == j ? modes[i] * modes[i] : 0) - (load * shortening[(kept * i) + j]));
        return new(Say.Number("P/Pcr = ", share), exact, matrix.Evd(Symmetricity.Symmetric).EigenValues[0].Real / (modes[0] * modes[0]));
    }

    private static (double Square, double Unloaded, double Exact) HeavyClimber(double share)
    {
        var bending = E * Second(Base);
        var load = share * Math.PI * Math.PI * bending / (4 * Length * Length);
        var mass = load / Gravity;
        var spar = new ModalSpar(Cone(Base) with { Density = 1e-6, ClimberMass = mass, ClimberBelowCut = 0 }, 1, 60, Gravity);
        return (Math.Pow(spar.AngularFrequencies[0], 2), 3 * bending / Math.Pow(Length, 3) / mass, BeamTheory.BeamColumnStiffness(bending, Length, load) / mass);
    }

    private static IEnumerable<VerificationPoint> Greenhill()
    {
        const double Diameter = 0.1;
        var exact = Math.Pow(2.25 * 1.8663509 * 1.8663509 * E * Second(Diameter) / (Density * Gravity * Area(Diameter)), 1.0 / 3);
        static double Stands(double height)
        {
            try
            {
                _ = new ModalSpar(Cone(Diameter, Diameter, height), 1, 40, Gravity);
                return 1;
            }
            catch (UnstableSparException)
            {
                return -1;
            }
        }

        var (from, to) = (0.9 * exact, 1.1 * exact);
        for (var i = 0; i < 24; i++)
        {
            var middle = (from + to) / 2;
            (from, to) = Stands(middle) > 0 ? (middle, to) : (from, middle);
        }

        yield return new("", exact, (from + to) / 2);
    }

    /// <summary>A log on a long, soft, well stretched rope beside a bent spar: both legs pull, stiffness is known, nothing moves yet.</summary>
    private static IEnumerable<VerificationPoint> VirtualWork()
    {
        const int Modes = 3;
        var input = SwayingLog();
        var system = Bench.SystemOf(input);
        double[] bend = [6, -0.8, 0.3];
        var at = Bench.Solve(system, (s, y) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (1.6, 4.5, 2.2);
            (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (0, 0, 0);
            bend.CopyTo(y, StateLayout.FirstMode);
            (y[StateLayout.LoadLength], y[StateLayout.GroundLength]) = (3, 6);
        });
        var spar = new ModalSpar(input.Spar, Modes, input.Computation.Elements, input.Computation.Gravity);
        var height = input.Spar.Height - input.RiggingPoint.BelowCut;
        var (shape, slope) = (new double[Modes], new double[Modes]);
        spar.ShapeAt(height, shape, slope);
        var g = spar.ShorteningAt(height);
        var e = spar.RadiusAt(height) + input.RiggingPoint.StandOff;

        double Work(double[] q)
        {
            double x = e, z = height;
            for (var i = 0; i < Modes; i++)
            {
                x += shape[i] * q[i];
                z -= e * slope[i] * q[i];
                for (var j = 0; j < Modes; j++)
                {
                    z -= q[i] * g[(Modes * i) + j] * q[j] / 2;
                }
            }

            return -(at.Flow.T1 * double.Hypot(at.HitchX - x, at.HitchZ - z)) - (at.Flow.T2 * double.Hypot(input.Device.X - x, input.Device.Z - z));
        }

        for (var i = 0; i < Modes; i++)
        {
            const double H = 1e-4;
            var (up, down) = ((double[])bend.Clone(), (double[])bend.Clone());
            up[i] += H;
            down[i] -= H;
            var frequency = spar.AngularFrequencies[i];
            yield return new(Say.Number("mode ", i + 1), (Work(up) - Work(down)) / (2 * H), at.ModeAcceleration[i] + (frequency * frequency * bend[i]));
        }
    }

    private static IEnumerable<VerificationPoint> FreeSway()
    {
        var (bench, q, _) = FreeSwing();
        foreach (var t in new[] { 0.4, 1, 2 })
        {
            yield return new(Say.Number("t = ", t, " s"), q(t), bench.At(t)[StateLayout.FirstMode]);
        }
    }

    /// <summary>A spar let go from its first mode while the piece falls on slack rope; its motion in closed form; its angular frequency.</summary>
    public static (Bench Bench, Func<double, double> Exact, double Frequency) FreeSwing()
    {
        const double Start = 5;
        var input = SwayingLog();
        var spar = new ModalSpar(input.Spar, 3, input.Computation.Elements, input.Computation.Gravity);
        var (w, zeta) = (spar.AngularFrequencies[0], input.Spar.DampingRatio);
        var damped = w * Math.Sqrt(1 - (zeta * zeta));
        var bench = new Bench(
            input, (_, y) =>
            {
                // High above everything, so that nothing touches while it falls.
                (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (3, 200);
                y[StateLayout.LoadLength] = 500;
                y[StateLayout.FirstMode] = Start;
            },
            2);
        return (bench, t => Start * Math.Exp(-zeta * w * t) * (Math.Cos(damped * t) + (zeta / Math.Sqrt(1 - (zeta * zeta)) * Math.Sin(damped * t))), w);
    }

    private static DropInput SwayingLog() => new()
    {
        Piece = new()
        {
            Mass = 150,
            Length = 1.25,
            ButtDiameter = 0.4,
            TipDiameter = 0.4,
            CentreOfGravity = 0.625,
            Inertia = 21,
            HitchHeight = 0.3,
            BareLength = 1.25,
        },
        Start = new(),
        Spar = new() { Height = 9, Diameters = [new(0, 0.55), new(9, 0.4)], Density = Density, Modulus = E, ClimberMass = 90, DampingRatio = 0.03 },
        RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },
        Rope = new() { Diameter = 0.014, Stiffness = 20e3, RelaxingStiffnessRatio = 0 },
        Device = new() { Wraps = 2.5, X = 0.5, Z = 1 },
        Catch = new() { Kind = CatchKind.HardStop },
    };

    private static SparInput Cone(double tip, double foot = Base, double height = Length) => new()
    {
        Height = height,
        Diameters = [new(0, foot), new(height, tip)],
        Density = Density,
        Modulus = E,
        ClimberMass = 0,
    };

    private static double Area(double d) => Math.PI / 4 * d * d;

    private static double Second(double d) => Math.PI / 64 * Math.Pow(d, 4);
}
