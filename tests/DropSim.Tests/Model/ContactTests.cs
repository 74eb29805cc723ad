using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// Strikes of a piece in free flight against a rigid spar. Restitution e follows from the law alone: for x = d v, e solves
/// x - ln(1 + x) = -e x - ln(1 - e x) (separate v dv / (1 + d v) = -(k/m) delta^1.5 d delta on the way in and on the way out).
/// </summary>
public sealed class ContactTests
{
    private const double Mass = 120;
    private const double Cut = 10;
    private const double TopRadius = 0.2;
    private const double Gravity = 9.80665;
    private const double Butt = 0.3;

    /// <summary>Place of contact of the butt's back corner.</summary>
    private const int BackCorner = 0;

    [Theory]
    [InlineData(0.01)]
    [InlineData(0.3)]
    [InlineData(0.9)]
    public void A_corner_comes_back_from_the_spar_with_the_laws_restitution(double damping)
    {
        // 2 m/s straight at an even spar, centre of gravity level with the corner: no turning, no friction, so the fall goes on beside it.
        const double Speed = 2;
        var flight = Fly(Drop(damping, 1e6, evenSpar: true, centre: 1e-9), 0.2, (y, gap) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (TopRadius + (Butt / 2) + gap, 8);
            y[StateLayout.PieceVx] = -Speed;
        });

        var strike = flight.Strikes.Should().ContainSingle().Subject;
        strike.ClosingSpeed.Should().BeApproximately(Speed, 1e-9);
        strike.Energy.Should().BeApproximately(Mass * Speed * Speed / 2, 1e-6);
        flight.End[StateLayout.PieceVx].Should().BeApproximately(Restitution(damping * Speed) * Speed, 1e-6);
        flight.End[StateLayout.PieceVz].Should().BeApproximately(-Gravity * 0.2, 1e-9);

        // Simpson over the integrator's steps.
        strike.Impulse.Should().BeApproximately(Mass * (Speed + flight.End[StateLayout.PieceVx]), 0.01 * Mass * Speed);
    }

    /// <summary>Without damping a contact is a spring: k d^2.5 / 2.5 = m v^2 / 2 at its deepest, F = k d^1.5 there, and the impulse is 2 m v.</summary>
    [Fact]
    public void An_elastic_strike_has_the_springs_peak_and_twice_the_momentum_as_its_impulse()
    {
        const double Speed = 2, Stiffness = 1e6;
        var flight = Fly(Drop(0, Stiffness, evenSpar: true, centre: 1e-9), 0.1, (y, gap) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (TopRadius + (Butt / 2) + gap, 8);
            y[StateLayout.PieceVx] = -Speed;
        });

        var strike = flight.Strikes.Should().ContainSingle().Subject;
        strike.Time.Should().BeApproximately(0.01 / Speed, 1e-9);
        var deepest = Math.Pow(2.5 * Mass * Speed * Speed / 2 / Stiffness, 1 / 2.5);
        var peak = Stiffness * Math.Pow(deepest, 1.5);
        strike.PeakForce.Should().BeApproximately(peak, 1e-4 * peak);
        strike.Impulse.Should().BeApproximately(2 * Mass * Speed, 1e-4 * 2 * Mass * Speed);
    }

    [Fact]
    public void A_corner_that_passes_the_cut_and_strikes_two_milliseconds_later_strikes_on_time()
    {
        // It starts 0.5 m above the cut at 2 m/s down, crosses it at t1: 0.5 = 2 t1 + g t1^2 / 2, and is set so far off that it meets the spar 2 ms later.
        // The free flight before allows steps of 20 ms: arming and strike are inside one.
        const double Down = 2, Across = 3, Later = 2e-3;
        var crossing = (-Down + Math.Sqrt((Down * Down) + (2 * Gravity * 0.5))) / Gravity;
        var flight = Fly(Drop(0.3, 1e7, evenSpar: true, centre: 1e-9), crossing + 0.1, (y, _) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (TopRadius + (Butt / 2) + (Across * (crossing + Later)), Cut + 0.5);
            (y[StateLayout.PieceVx], y[StateLayout.PieceVz]) = (-Across, -Down);
        });

        flight.LongestStep.Should().BeGreaterThan(0.015);
        flight.Strikes.Should().ContainSingle().Which.Time.Should().BeApproximately(crossing + Later, 1e-9);
        flight.End[StateLayout.PieceVx].Should().BeApproximately(Restitution(0.3 * Across) * Across, 1e-6);
    }

    [Fact]
    public void A_corner_that_is_inside_the_spars_width_when_it_passes_the_cut_is_no_strike_until_it_has_been_clear()
    {
        // Upside down, its tip over the spar's edge: a corner that comes from inside would be thrown out; it is left alone until it is clear.
        var flight = Fly(Drop(0.3, 1e6, evenSpar: true, centre: 1e-9), 0.3, (y, _) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (TopRadius, Cut + 1.1, Math.PI);
            (y[StateLayout.PieceVx], y[StateLayout.PieceVz]) = (0.1, -1);
        });

        flight.Strikes.Should().BeEmpty();
        flight.End[StateLayout.PieceVx].Should().Be(0.1);
    }

    [Fact]
    public void A_contact_never_pulls_and_what_was_stored_when_it_would_is_booked()
    {
        // Pressed in by 1 mm and torn away faster than 1/d: the force k delta^1.5 (1 + d deltadot) would be negative.
        const double Damping = 0.5, Stiffness = 1e6, Depth = 1e-3, Away = 3;
        var system = TestBench.System(Drop(Damping, Stiffness, evenSpar: true, centre: 1e-9));
        var y = Free(system);
        (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.PieceVx]) = (TopRadius + (Butt / 2) - Depth, 8, Away);
        system.Begin(0, y);
        system.Phase.Contacts[BackCorner] = ContactState.Pressing;

        var guards = new double[system.GuardCount];
        system.Evaluate(0, y, new double[system.StateCount], guards);
        guards[Guard.FirstContact + BackCorner].Should().BeApproximately(1 - (Damping * Away), 1e-12);

        system.HandleEvent(0, y, Guard.FirstContact + BackCorner).Should().Be(EventResponse.Continue);

        system.Phase.Contacts[BackCorner].Should().Be(ContactState.Disarmed, "it must get clear first");
        y[StateLayout.LostContact].Should().BeApproximately(Stiffness * Math.Pow(Depth, 2.5) / 2.5, 1e-12);
        Instant at = default;
        system.Solve(0, y, ref at, []);
        at.ContactForce.Should().Be(0);
        at.Ax.Should().Be(0);
    }

    [Theory]
    [InlineData(-1e-6, true)]
    [InlineData(0, true)]
    [InlineData(1e-6, false)]
    public void A_place_that_is_clear_when_its_force_ends_may_strike_again_and_one_that_is_not_must_get_clear_first(double depth, bool clear)
    {
        var system = TestBench.System(Drop(0.5, 1e6, evenSpar: true, centre: 1e-9));
        var y = Free(system);
        (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.PieceVx]) = (TopRadius + (Butt / 2) - depth, 8, 3);
        system.Begin(0, y);
        system.Phase.Contacts[BackCorner] = ContactState.Pressing;

        system.HandleEvent(0, y, Guard.FirstContact + BackCorner).Should().Be(EventResponse.Continue);

        system.Phase.Contacts[BackCorner].Should().Be(clear ? ContactState.Armed : ContactState.Disarmed);
    }

    [Fact]
    public void A_strike_has_the_impulse_and_the_peak_of_the_contact_force_over_it()
    {
        var drop = SampleDrops.MediumLog.HardStop();
        var run = DropSimulator.Run(drop with { Computation = drop.Computation with { EndTime = 2.5 } });
        var table = run.Traces!.Sample(1e-4);
        double[] time = [.. table["time_s"]];
        double[] force = [.. table["contact_force_N"]];
        run.Strikes.Should().NotBeEmpty();
        foreach (var strike in run.Strikes)
        {
            // From its beginning until nothing presses any more; no two of these overlap.
            var first = Array.FindIndex(time, t => t > strike.Time + 1e-9);
            double impulse = force[first] * (time[first] - strike.Time) / 2, peak = 0;
            if (Array.FindIndex(force, first, f => f == 0) < 0)
            {
                // It still leans on the spar when the run ends.
                continue;
            }

            for (var r = first; force[r] > 0; r++)
            {
                impulse += (force[r] + force[r + 1]) / 2 * (time[r + 1] - time[r]);
                peak = Math.Max(peak, force[r]);
            }

            strike.Impulse.Should().BeApproximately(impulse, 0.02 * impulse);
            strike.PeakForce.Should().BeInRange(peak * 0.999, peak * 1.02);
        }
    }

    /// <summary>docs/theory/measures.md, eq. 2: E = v^2 / 2 / (n.n / m + (r x n)^2 / I), here with place, speed and normal from the side view.</summary>
    [Theory]
    [InlineData(0.2)]
    [InlineData(0.6)]
    [InlineData(1.2)]
    public void A_strike_has_the_speed_and_the_energy_of_what_meets_in_the_side_view(double slack)
    {
        var drop = SampleDrops.MediumLog.HardStop().WithRope(r => r with { Slack = slack }).WithSpar(s => s with { Diameters = [new(0, 0.9), new(9, 0.4)] });
        var run = DropSimulator.Run(drop);
        run.Strikes.Should().NotBeEmpty();

        // The log's outline, in its order; it is a cylinder, so its flank is straight and its normal a unit vector.
        string[] corners = ["back corner of the butt", "back corner of the tip", "front corner of the tip", "mouth of the face cut", "hinge side of the butt"];
        foreach (var strike in run.Strikes)
        {
            var (scene, before) = (run.Traces!.SceneAt(strike.Time - 1e-6), run.Traces.SceneAt(strike.Time - 3e-6));
            var corner = Array.IndexOf(corners, strike.Place);
            if (strike.Place.EndsWith("butt", StringComparison.Ordinal) && corner < 0)
            {
                continue;
            }

            var speed = (Depth(scene, corner) - Depth(before, corner)) / 2e-6;
            strike.ClosingSpeed.Should().BeApproximately(speed, (0.02 * speed) + 1e-3, strike.Place);
            var (x, z, nx, nz) = corner >= 0 ? (scene.Piece[corner].X, scene.Piece[corner].Z, -1.0, -0.25 / 9) : Top(scene);
            strike.Height.Should().BeApproximately(corner >= 0 ? z : 9, 1e-3);
            var (rx, rz) = (x - scene.CentreOfGravity.X, z - scene.CentreOfGravity.Z);
            var turn = (rx * nz) - (rz * nx);
            var energy = strike.ClosingSpeed * strike.ClosingSpeed / 2 / ((((nx * nx) + (nz * nz)) / drop.Piece.Mass) + (turn * turn / drop.Piece.Inertia));
            strike.Energy.Should().BeApproximately(energy, 0.01 * energy, strike.Place);
        }

        double Depth(DropScene s, int corner)
        {
            if (corner < 0)
            {
                // How far the spar's top is past the flank, from the mouth to the tip.
                var (tx, tz, nx, nz) = Top(s);
                return -(((tx - s.Piece[3].X) * nx) + ((tz - s.Piece[3].Z) * nz));
            }

            var p = s.Piece[corner];
            var at = Math.Clamp(p.Z / 9 * 40, 0, 39.999);
            var share = at - Math.Floor(at);
            var deflection = ((1 - share) * s.SparAxis[(int)at].X) + (share * s.SparAxis[(int)at + 1].X);
            return 0.45 - (0.25 * p.Z / 9) + deflection - p.X;
        }

        // The front corner of the spar's top, and the normal of the piece's front flank away from its axis.
        (double X, double Z, double Nx, double Nz) Top(DropScene s)
        {
            var slope = (s.SparAxis[40].X - s.SparAxis[39].X) / (s.SparAxis[40].Z - s.SparAxis[39].Z);
            var (fx, fz) = (s.Piece[2].X - s.Piece[3].X, s.Piece[2].Z - s.Piece[3].Z);
            var length = double.Hypot(fx, fz);
            return (s.SparAxis[40].X + 0.2, 9 - (0.2 * slope), fz / length, -fx / length);
        }
    }

    [Fact]
    public void No_strike_of_the_sample_drops_pulls()
    {
        foreach (var drop in new[] { SampleDrops.MediumLog, SampleDrops.LightLog.HardStop(), SampleDrops.Top.HardStop() })
        {
            var run = DropSimulator.Run(drop);

            run.Strikes.Should().NotBeEmpty();
            run.Traces!.Sample(1e-3)["contact_force_N"].ToArray().Min().Should().Be(0);
            run.Traces!.Sample(1e-3)["contact_force_N"].ToArray().Max().Should().BePositive();
        }
    }

    [Fact]
    public void The_spars_top_corner_throws_back_the_flank_of_a_piece_that_hangs_beside_it()
    {
        // Upside down, its front toward the spar and parallel to it, its middle level with the cut. The spar thins downward (as none does), so that
        // only its top corner can touch.
        const double Speed = 1, Damping = 0.4;
        var flight = Fly(Drop(Damping, 1e8, evenSpar: false, centre: 0.5), 0.1, (y, gap) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (TopRadius + (Butt / 2) + gap, Cut, Math.PI);
            y[StateLayout.PieceVx] = -Speed;
        });

        var strike = flight.Strikes.Should().ContainSingle().Subject;
        strike.Place.Should().Be("front edge of the spar's top against the piece");
        strike.Height.Should().Be(Cut);

        // In the 10 ms to the touch the piece has fallen by 0.5 mm: so far off its middle it is struck, which turns it hardly at all.
        strike.ClosingSpeed.Should().BeApproximately(Speed, 1e-6);
        flight.End[StateLayout.PieceVx].Should().BeApproximately(Restitution(Damping * Speed) * Speed, 1e-4);
        Math.Abs(flight.End[StateLayout.LeanRate]).Should().BeLessThan(0.05);
    }

    /// <summary>
    /// Coulomb's law through a blow: without turning, the sideways momentum changes by mu times the normal impulse while the piece still slides
    /// (E.J. Routh's argument; here v_t stays far above the speed at which friction is rounded off).
    /// </summary>
    [Theory]
    [InlineData(0.2)]
    [InlineData(0.5)]
    public void A_blow_that_slides_takes_friction_times_the_normal_impulse_from_the_fall(double friction)
    {
        // 2 m/s at an even spar while falling at 8 m/s: the corner level with the centre of gravity, inertia so large that it does not turn.
        const double Across = 2, Down = 8, Time = 0.1, Damping = 0.4;
        var drop = Drop(Damping, 1e7, evenSpar: true, centre: 1e-9);
        drop = drop with { Piece = drop.Piece with { Inertia = 1e9 }, Computation = drop.Computation with { ContactFriction = friction } };
        var flight = Fly(drop, Time, (y, gap) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (TopRadius + (Butt / 2) + gap, 8);
            (y[StateLayout.PieceVx], y[StateLayout.PieceVz]) = (-Across, -Down);
        });

        var after = Restitution(Damping * Across) * Across;
        flight.End[StateLayout.PieceVx].Should().BeApproximately(after, 1e-5);
        flight.End[StateLayout.PieceVz].Should().BeApproximately(-Down - (Gravity * Time) + (friction * (Across + after)), 2e-4);

        // And it is booked: damping's part of the blow, and what the fall lost to friction.
        var normal = Mass * ((Across * Across) - (after * after)) / 2;
        flight.End[StateLayout.LostContact].Should().BeGreaterThan(normal + (0.9 * friction * Mass * (Across + after) * (Down - (friction * (Across + after)))));
        flight.Imbalance.Should().BeLessThan(1e-6 * Mass * Down * Down / 2);
    }

    /// <summary>The moment at the foot of a rigid spar is statics: each of two corners that press at once pushes at its own height.</summary>
    [Fact]
    public void Two_corners_that_press_at_once_push_at_their_own_heights()
    {
        const double Depth = 2e-3, Stiffness = 1e6;
        var drop = Drop(0, Stiffness, evenSpar: true, centre: 0.3);
        drop = drop with { Piece = drop.Piece with { TipDiameter = Butt }, Computation = drop.Computation with { ContactFriction = 0 } };
        var system = TestBench.System(drop);
        var y = Free(system);

        // Hanging upright beside the spar: back corners of butt and tip are equally deep, 1 m apart.
        (y[StateLayout.PieceX], y[StateLayout.PieceZ]) = (TopRadius + (Butt / 2) - Depth, 6);
        system.Begin(0, y);
        system.Phase.Contacts[0] = ContactState.Pressing;
        system.Phase.Contacts[4] = ContactState.Pressing;
        Instant at = default;
        system.Solve(0, y, ref at, []);

        at.ContactCount.Should().Be(2);
        var each = Stiffness * Math.Pow(Depth, 1.5);
        system.BaseMoment(y, ref at).Should().BeApproximately(-each * ((6 - 0.3) + (6 + 0.7)), 1e-9 * each);
    }

    /// <summary>A butt that was slid out lies flat on the spar's edge: until it slips off, the edge bears it; it has no corner where it turned.</summary>
    [Theory]
    [InlineData(15)]
    [InlineData(60)]
    public void A_piece_pushed_off_leaves_the_edge_as_a_flat_butt_does(double release)
    {
        var drop = SampleDrops.MediumLog.HardStop().WithRope(r => r with { Slack = 0.5 });
        drop = drop with { Start = drop.Start with { Kind = StartKind.PushedOff, ReleaseAngle = release * Math.PI / 180 }, Computation = drop.Computation with { EndTime = 2 } };
        var run = DropSimulator.Run(drop);
        run.Strikes.Should().NotContain(s => s.Place == "hinge side of the butt");
        run.Ledger.LargestImbalance.Should().BeLessThan(1e-4);

        // No blow where it still lay: the first touch after the hinge is the edge under the butt, with next to no speed.
        var first = run.Strikes.Concat(run.Touches).Where(s => s.Time < 0.1).ToArray();
        first.All(s => s.ClosingSpeed < 0.05).Should().BeTrue();
        if (release == 15)
        {
            // Let go while it still pressed: the edge goes on pressing. Later the edge would have had to pull, and the butt is clear of it.
            first[0].Place.Should().Be("front edge of the spar's top against the butt");
        }
    }

    [Fact]
    public void Strikes_close_the_books()
    {
        // Energy at the end plus what the contact lost is what there was: kinetic and potential only.
        var drop = Drop(0.3, 1e6, evenSpar: false, centre: 0.3);
        var flight = Fly(drop with { Computation = drop.Computation with { ContactFriction = 0.4 } }, 0.25, (y, gap) =>
        {
            (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (TopRadius + (Butt / 2) + gap, 8, 0.1);
            (y[StateLayout.PieceVx], y[StateLayout.LeanRate]) = (-2.5, -0.8);
        });

        flight.Strikes.Should().NotBeEmpty();
        flight.End[StateLayout.LostContact].Should().BeGreaterThan(10);
        flight.Imbalance.Should().BeLessThan(1e-6 * Mass * 2.5 * 2.5 / 2);
    }

    private static double Restitution(double x)
    {
        var left = x - Math.Log(1 + x);
        var (from, to) = (0.0, 1.0);
        for (var i = 0; i < 100; i++)
        {
            var e = (from + to) / 2;
            (from, to) = -(e * x) - Math.Log(1 - (e * x)) < left ? (e, to) : (from, e);
        }

        return from;
    }

    /// <summary>A log on so much slack that no rope pulls, beside a rigid spar, even or thinning downward.</summary>
    private static DropInput Drop(double damping, double stiffness, bool evenSpar, double centre) => new()
    {
        Piece = new()
        {
            Mass = Mass,
            Length = 1,
            ButtDiameter = Butt,
            TipDiameter = evenSpar ? 0.1 : Butt,
            CentreOfGravity = centre,
            Inertia = 11,
            HitchHeight = 0.5,
            BareLength = 1,
        },
        Start = new(),
        Spar = new()
        {
            Height = Cut,
            Diameters = [new(0, evenSpar ? 2 * TopRadius : 0.04), new(Cut, 2 * TopRadius)],
            Density = 900,
            Modulus = 9e9,
            Rigid = true,
            ClimberMass = 0,
        },
        RiggingPoint = new() { BelowCut = 0.4, StandOff = 0.08 },
        Rope = new() { Diameter = 0.014, Stiffness = 220e3, Slack = 30 },
        Device = new() { Wraps = 2, X = 0.5, Z = 1 },
        Catch = new() { Kind = CatchKind.HardStop },
        Computation = new() { ContactDamping = damping, ContactStiffness = stiffness, ContactFriction = 0, Gravity = Gravity },
    };

    private static double[] Free(DropSystem system)
    {
        var y = system.InitialState();
        (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate], y[StateLayout.Lean]) = (0, 0, 0, 0);
        system.Phase.Hinged = false;
        return y;
    }

    private static Flight Fly(DropInput drop, double duration, Action<double[], double> set)
    {
        const double Gap = 0.01;
        var system = TestBench.System(drop);
        var y = Free(system);
        set(y, Gap);
        system.Begin(0, y);
        return new Flight(system, y, duration);
    }

    private sealed class Flight : IRunObserver
    {
        private readonly DropRecorder _recorder;

        public Flight(DropSystem system, double[] y, double duration)
        {
            _recorder = new(system, Mass * Gravity, null, WatchedChannels.All);
            new Integrator(system, new IntegrationOptions { RelativeTolerance = 1e-11, LargestStep = 0.02 }).Run(0, duration, y, this);
            _recorder.Finish(y);
            End = y;
        }

        public double[] End { get; }

        public double LongestStep { get; private set; }

        public IReadOnlyList<Strike> Strikes => _recorder.Strikes;

        public double Imbalance => _recorder.LargestImbalance;

        public void OnBegin(double time, ReadOnlySpan<double> state) => _recorder.OnBegin(time, state);

        public void OnStep(DenseStep dense)
        {
            LongestStep = Math.Max(LongestStep, dense.EndTime - dense.StartTime);
            _recorder.OnStep(dense);
        }

        public void OnEvent(double time, ReadOnlySpan<double> state, int guard) => _recorder.OnEvent(time, state, guard);
    }
}
