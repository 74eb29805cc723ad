using CsCheck;
using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// What is told of single instants against the laws it stands for: where energy is lost (docs/theory/ledger.md), statics of the spar's base,
/// the mass that a strike feels, guards against the laws of the branch they guard, and the books at events.
/// </summary>
public sealed class InstantTests
{
    private const double Time = 0.4;

    public static TheoryData<string> Drops => new("let run", "locked off, take-ups", "top over a block, snagged");

    [Theory]
    [MemberData(nameof(Drops))]
    public void Every_loss_is_booked_where_it_arises(string name) => Sample(name, null, -1, 100, (system, drop, y, _) =>
    {
        var rates = new double[y.Length];
        Instant at = default;
        system.Solve(Time, y, ref at, rates);
        var flow = at.Flow;

        // docs/theory/ledger.md (5): friction takes the difference of the tensions times the stretched rope that passes, counted where it comes from.
        var stretch = flow.Slip > 0 ? at.E2 : at.E1;
        var passing = flow.Slip * (1 + stretch);
        var pull = Math.Max(Math.Abs(flow.T1), Math.Abs(flow.T2));
        rates[StateLayout.LostRiggingPoint].Should().BeApproximately((flow.T1 - flow.T2) * passing, 1e-9 * (1 + (pull * Math.Abs(passing))));

        // (8): a dashpot of EA tau_v across what is taut, and a spring that relaxes.
        var (relaxing, viscous) = (drop.Rope.Stiffness * drop.Rope.RelaxingStiffnessRatio, drop.Rope.Stiffness * drop.Rope.ViscousTime);
        double Leg(bool taut, double strain, double free, double distanceRate, double lengthRate, double length, double relaxed)
        {
            var strainRate = taut ? (distanceRate - ((1 + strain) * lengthRate)) / length : 0;
            var part = (taut ? strain : free) - relaxed;
            return ((viscous * strainRate * strainRate) + (relaxing * part * part / drop.Rope.RelaxationTime)) * length;
        }

        var load = Leg(at.Branch.LoadTaut, at.E1, at.Free1, at.D1Rate, flow.Slip + flow.Hitch, y[StateLayout.LoadLength], y[StateLayout.LoadRelaxed]);
        var ground = Leg(at.Branch.GroundTaut, at.E2, at.Free2, at.D2Rate, flow.Device - flow.Slip, y[StateLayout.GroundLength], y[StateLayout.GroundRelaxed]);
        rates[StateLayout.LostRope].Should().BeApproximately(load + ground, 1e-7 * (1 + load + ground));

        // Rope out of the wraps is no rope run through the hand.
        rates[StateLayout.RopeRun].Should().Be(at.WrapsGive ? 0 : flow.Device);
        rates[StateLayout.WrapsTaken].Should().Be(at.WrapsGive ? flow.Device : 0);
    });

    [Theory]
    [MemberData(nameof(Drops))]
    public void What_is_watched_is_what_the_instant_has(string name)
    {
        var spar = Spar(RandomMoments.Drop(name));
        Sample(name, null, -1, 60, (system, drop, y, _) => Watched(system, drop, spar, y));
    }

    private static void Watched(DropSystem system, DropInput drop, ModalSpar spar, double[] y)
    {
        Instant at = default;
        system.Solve(Time, y, ref at, []);
        var seen = new double[Channel.All];
        system.Observe(Time, y, seen);
        var (forceX, forceZ) = ((at.Flow.T1 * at.U1X) + (at.Flow.T2 * at.U2X), (at.Flow.T1 * at.U1Z) + (at.Flow.T2 * at.U2Z));
        Near(seen[Channel.LoadLeg], at.Flow.T1);
        Near(seen[Channel.GroundLeg], at.Flow.T2);
        Near(seen[Channel.RiggingPoint], double.Hypot(forceX, forceZ));
        Near(seen[Channel.VerticalLoad], -forceZ);
        Near(seen[Channel.HingeForce], double.Hypot(at.HingeX, at.HingeZ));

        // The device multiplies the hand's pull: beyond that the rope runs, and what goes into the device is the rest.
        var runs = at.Branch.DeviceGives && !at.WrapsGive && at.Flow.Device > 0;
        Near(seen[Channel.Hand], Math.Clamp(at.Flow.T2 / at.DeviceRatio, 0, at.HandForce));
        Near(seen[Channel.BrakePull], runs ? at.Flow.T2 - at.HandForce : 0);
        Near(seen[Channel.RopeSpeed], runs ? Math.Clamp(at.D1Rate + at.D2Rate, 0, at.Flow.Device) : 0);

        // Modes read off where they move: at the climber's feet and at the top.
        var modes = drop.Computation.Modes;
        double At(double height, int from) => SparTests.ShapeAt(spar, height).Shape.Select((s, i) => s * y[from + i]).Sum();
        Near(seen[Channel.TipDeflection], Math.Abs(At(drop.Spar.Height, StateLayout.FirstMode)));
        Near(seen[Channel.TipSpeed], Math.Abs(At(drop.Spar.Height, StateLayout.FirstMode + modes)));
        Near(seen[Channel.ClimberDeflection], Math.Abs(At(system.ClimberHeight, StateLayout.FirstMode)));
        Near(seen[Channel.ClimberSpeed], Math.Abs(At(system.ClimberHeight, StateLayout.FirstMode + modes)));
    }

    /// <summary>A rigid spar is statics: the moment of all that pulls on it about its foot. What a rope pulls between two places of one stem it does not feel.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_base_of_a_rigid_spar_feels_the_load_leg_and_the_ground_leg_only_where_its_device_stands_elsewhere(bool onSpar)
    {
        var drop = SampleDrops.MediumLog.WithSpar(s => s with { Rigid = true });
        drop = drop with { Device = drop.Device with { OnSpar = onSpar } };
        Sample(drop, RandomMoments.Moments(hinged: null, pressing: -1), 60, (system, _, y, moment) =>
        {
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            static double Moment(double x, double z, double fx, double fz) => (z * fx) - (x * fz);
            var hinge = moment.Hinged ? Moment(system.Body.HingeX, 9, -at.HingeX, -at.HingeZ) : 0;
            var load = at.Flow.T1 * Moment(at.RingX, at.RingZ, at.U1X, at.U1Z);
            var ground = onSpar ? 0 : at.Flow.T2 * Moment(at.RingX, at.RingZ, at.U2X, at.U2Z);
            var seen = new double[Channel.All];
            system.Observe(Time, y, seen);
            var scale = 1 + Math.Abs(load) + Math.Abs(hinge) + (9 * Math.Abs(at.Flow.T2));

            // The direction of the load leg is kept from 0/0 by a length of a tenth of a millimetre.
            seen[Channel.BaseMoment].Should().BeApproximately(Math.Abs(load + ground + hinge), 1e-6 * scale);
            Near(system.BaseMoment(y, ref at), load + ground + hinge, 1e-6 * scale);
        });
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    public void What_presses_on_the_spar_is_pressed_back(string name)
    {
        var spar = Spar(RandomMoments.Drop(name));
        Sample(name, false, null, 150, (system, drop, y, moment) => Pressed(system, drop, spar, y, moment));
    }

    private static void Pressed(DropSystem system, DropInput drop, ModalSpar spar, double[] y, RandomMoments.Moment moment)
    {
        Instant at = default;
        system.Solve(Time, y, ref at, []);
        at.ContactCount.Should().Be(1);
        var load = at.Contacts[0];
        Near(load.Fx, -at.PushX);
        Near(load.Fz, -at.PushZ);
        at.ContactForce.Should().BeApproximately(double.Hypot(at.PushX, at.PushZ), 1e-9 * at.ContactForce);

        // Where it acts: a corner at its own height and the spar's side there, the spar's top at its edge.
        var corners = system.Body.HardCorners;
        var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
        var height = drop.Spar.Height;
        if (moment.Pressing < corners.Length)
        {
            height = y[StateLayout.PieceZ] + (corners[moment.Pressing].Xi * cos) - (corners[moment.Pressing].Eta * sin);
        }

        else
        {
            // At the ends of the flank there is nothing to press on.
            at.ContactGuard[moment.Pressing].Should().BeLessThanOrEqualTo(system.Contacts.RoomOnFace(moment.Pressing, y, StateLayout.FirstMode, sin, cos) + 1e-12);
        }

        Near(load.Height, height);
        Near(load.Offset, spar.RadiusAt(Math.Min(height, drop.Spar.Height)));
        var seen = new double[Channel.All];
        system.Observe(Time, y, seen);
        Near(seen[Channel.Contact], at.ContactForce);
        if (at.ContactForce > 0)
        {
            // Left out of what a reader leans on, but not of the moment that includes strikes.
            (seen[Channel.BaseMoment], seen[Channel.Stress]).Should().Be((0, 0));
            Near(seen[Channel.BaseMomentWithStrikes], Math.Abs(system.BaseMoment(y, ref at)));
        }
    }

    /// <summary>docs/theory/measures.md, eq. 2: 1 / (g . M^-1 g), with g the gradient of the penetration, here by differences of the penetration itself.</summary>
    [Fact]
    public void The_mass_that_a_strike_feels_follows_from_how_the_penetration_changes_with_the_pieces_place()
    {
        var drop = RandomMoments.Drop("let run").WithSpar(s => s with { Rigid = true, Diameters = [new(0, 0.8), new(9, 0.4)] });
        Sample(drop, RandomMoments.Moments(hinged: false, pressing: null), 100, (system, _, y, moment) =>
        {
            const double Step = 1e-5;
            double Slope(int place)
            {
                double Depth(double sign)
                {
                    double[] moved = [.. y];
                    moved[place] += sign * Step;
                    Instant there = default;
                    system.Solve(Time, moved, ref there, []);
                    return there.Penetration[moment.Pressing];
                }

                return (Depth(1) - Depth(-1)) / (2 * Step);
            }

            var (x, z, turn) = (Slope(StateLayout.PieceX), Slope(StateLayout.PieceZ), Slope(StateLayout.Lean));
            var mass = 1 / ((((x * x) + (z * z)) / drop.Piece.Mass) + (turn * turn / drop.Piece.Inertia));
            var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
            system.Contacts.EffectiveMass(moment.Pressing, y, sin, cos).Should().BeApproximately(mass, 1e-6 * mass, "of place {0}", moment.Pressing);
        });
    }

    [Fact]
    public void The_room_on_the_flank_is_what_lies_between_its_ends_and_the_bent_spars_top()
    {
        var drop = RandomMoments.Drop("let run");
        var spar = Spar(drop);
        Sample(drop, RandomMoments.Moments(hinged: false, pressing: -1), 100, (system, _, y, _) =>
        {
            // Ends of the flank and the top's front edge in space; how far along the piece's axis they are apart.
            var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
            var (shape, slope) = SparTests.ShapeAt(spar, 9);
            double Of(double[] row) => row.Select((s, i) => s * y[StateLayout.FirstMode + i]).Sum();
            var (topX, topZ) = (spar.RadiusAt(9) + Of(shape), 9 - (spar.RadiusAt(9) * Of(slope)) - SparTests.Lowered(spar, 9, y[StateLayout.FirstMode..(StateLayout.FirstMode + drop.Computation.Modes)]));
            double Along(BodyPoint end) =>
                ((topX - (y[StateLayout.PieceX] + (end.Xi * sin) + (end.Eta * cos))) * sin) + ((topZ - (y[StateLayout.PieceZ] + (end.Xi * cos) - (end.Eta * sin))) * cos);
            var room = Math.Min(Along(system.Body.Mouth), -Along(system.Body.FlankEnd));
            var flank = system.Body.HardCorners.Length;
            system.Contacts.RoomOnFace(flank, y, StateLayout.FirstMode, sin, cos).Should().BeApproximately(room, 1e-7);
        });
    }

    [Theory]
    [MemberData(nameof(Drops))]
    public void A_branch_is_left_where_it_breaks_one_of_its_laws_and_nowhere_else(string name)
    {
        var (held, broken) = (0, 0);
        Sample(name, false, -1, 1_000, (system, drop, y, moment) =>
        {
            var branch = moment.Branch with { HitchDraws = system.Phase.Network.HitchDraws };
            if (!branch.LoadTaut || !branch.GroundTaut || (branch.Ring != RingState.Stick && branch.HitchDraws && branch.DeviceGives) || system.Phase.WrapsGive)
            {
                return;
            }

            // Stretched by little, so that hitch, device and friction hold as often as they do not.
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            (y[StateLayout.LoadRelaxed], y[StateLayout.GroundRelaxed], y[StateLayout.LeanRate]) = (0, 0, 0);
            y[StateLayout.LoadLength] = at.D1 / (1 + (4e-3 * moment.Parts[20]));
            y[StateLayout.GroundLength] = at.D2 / (1 + (4e-3 * moment.Parts[21]));
            system.Solve(Time, y, ref at, []);
            var guards = new double[system.GuardCount];
            system.Evaluate(Time, y, new double[y.Length], guards);
            int[] laws = [Guard.LoadLeg, Guard.GroundLeg, Guard.SlipOut, Guard.SlipBack, Guard.Hitch, Guard.Device];
            var violation = FrictionNetwork.Violation(branch, at.Numbers, at.Flow, drop.Piece.Mass * 9.8);
            laws.All(g => guards[g] >= 0).Should().Be(violation == 0, "in {0}", moment);
            (held, broken) = violation == 0 ? (held + 1, broken) : (held, broken + 1);
        });
        held.Should().BeGreaterThan(0);
        broken.Should().BeGreaterThan(0);
    }

    [Theory]
    [InlineData("let run", Guard.WrapAngle)]
    [InlineData("locked off, take-ups", Guard.WrapAngle)]
    [InlineData("top over a block, snagged", Guard.Snag)]
    [InlineData("let run", Guard.Phaseless)]
    [InlineData("locked off, take-ups", Guard.Phaseless)]
    public void An_event_neither_gives_nor_takes_energy(string name, int guard) => Sample(name, false, -1, 100, (system, _, y, _) =>
    {
        double Energy()
        {
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            var (potential, kinetic, rope, spar, contact) = system.Energies(y, ref at);
            return potential + kinetic + rope + spar + contact + y[StateLayout.LostRiggingPoint..(StateLayout.LostHinge + 1)].Sum();
        }

        // Whatever branch was named before, the one that holds is chosen, and what a leg then holds more or less is booked.
        var before = Energy();
        if (guard == Guard.Phaseless)
        {
            system.TryPhaseless(Time, y).Should().BeTrue();
            system.TryPhaseless(Time, y).Should().BeFalse("its branches are solved anew already");
            Energy().Should().BeApproximately(before, 1e-9 * Math.Abs(before), "at its beginning");
            var guards = new double[system.GuardCount];
            system.Evaluate(Time + 5e-4, y, new double[y.Length], guards);
            guards[Guard.Phaseless].Should().BeApproximately(2e-3 - 5e-4, 1e-12, "it lasts two milliseconds");
            guards[Guard.LoadLeg].Should().Be(double.PositiveInfinity, "no branch is watched");
            before = Energy();
        }

        system.HandleEvent(Time, y, guard).Should().Be(EventResponse.Continue);
        Energy().Should().BeApproximately(before, 1e-9 * Math.Abs(before));
        system.Phase.Phaseless.Should().BeFalse();
    });

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void A_leg_that_is_not_straight_pulls_nothing_however_fast_it_is_straightened_and_a_straight_one_that_pulls_is_taut(string name)
    {
        var (slack, taut) = (0, 0);
        Sample(name, false, -1, 200, (system, _, y, _) =>
        {
            system.HandleEvent(Time, y, Guard.WrapsOrHand);
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            var (free1, free2) = Free(system, y);
            var branch = system.Phase.Network;
            if (at.E1 < free1 - 1e-8)
            {
                branch.LoadTaut.Should().BeFalse();
                at.Flow.T1.Should().Be(0);
                slack++;
            }

            if (at.E2 < free2 - 1e-8)
            {
                branch.GroundTaut.Should().BeFalse();
                at.Flow.T2.Should().Be(0);
                slack++;
            }

            if (at.E1 > free1 + 1e-3 && at.E2 > free2 + 1e-3 && at.Numbers.A1 > 0 && at.Numbers.A2 > 0)
            {
                branch.LoadTaut.Should().BeTrue();
                branch.GroundTaut.Should().BeTrue();
                taut++;
            }
        });
        slack.Should().BePositive();
        taut.Should().BePositive();

        static (double Load, double Ground) Free(DropSystem system, double[] y)
        {
            // The stretches at which the legs would pull nothing are worked out where a leg is slack: asked for there.
            var phase = system.Phase;
            var named = phase.Network;
            phase.Network = default;
            system.Phase = phase;
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            phase.Network = named;
            system.Phase = phase;
            return (at.Free1, at.Free2);
        }
    }

    [Fact]
    public void On_its_hinge_the_piece_can_strike_nothing() => Sample("let run", true, -1, 20, (system, _, y, _) =>
    {
        var guards = new double[system.GuardCount];
        system.Evaluate(Time, y, new double[y.Length], guards);
        guards[Guard.FirstContact..].Should().OnlyContain(g => double.IsPositiveInfinity(g));
    });

    [Fact]
    public void A_blocks_sheave_turns_while_its_bearing_is_the_weaker_and_slides_while_the_rope_is()
    {
        var (turning, sliding) = (0, 0);
        Sample("top over a block, snagged", false, -1, 200, (system, drop, y, moment) =>
        {
            system.Phase.WrapSign = moment.Parts[20] < 0.5 ? 1 : -1;
            var guards = new double[system.GuardCount];
            system.Evaluate(Time, y, new double[y.Length], guards);
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            if (at.Wrap <= 0)
            {
                guards[Guard.Bearing].Should().Be(double.PositiveInfinity, "a rope that does not bend feels neither");
                return;
            }

            // Capstan law over the sheave, or the bearing's loss over half a turn, (1 / efficiency - 1), as the sine of half the wrap.
            var (rope, bearing) = (Math.Exp(drop.RiggingPoint.Friction * at.Wrap), 1 + (((1 / drop.RiggingPoint.Efficiency) - 1) * Math.Sin(at.Wrap / 2)));
            at.Numbers.Rho.Should().BeApproximately(system.Phase.BearingTurns ? bearing : rope, 1e-12);
            guards[Guard.Bearing].Should().BeApproximately(system.Phase.BearingTurns ? rope - bearing : bearing - rope, 1e-12);
            (turning, sliding) = system.Phase.BearingTurns ? (turning + 1, sliding) : (turning, sliding + 1);
        });
        turning.Should().BeGreaterThan(0);
        sliding.Should().BeGreaterThan(0);
    }

    [Theory]
    [InlineData("let run")]
    [InlineData("top over a block, snagged")]
    public void No_point_of_the_piece_nears_the_ground_faster_than_is_said_and_one_may_do_so_as_fast(string name) => Sample(name, false, -1, 100, (system, _, y, _) =>
    {
        var (vz, rate) = (y[StateLayout.PieceVz], y[StateLayout.LeanRate]);
        var said = system.FastestNearing(y);
        foreach (var p in system.Body.Outline)
        {
            var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
            Math.Abs(vz - (rate * ((p.Xi * sin) + (p.Eta * cos)))).Should().BeLessThanOrEqualTo(said + 1e-12);
        }

        var farthest = system.Body.Outline.Max(p => double.Hypot(p.Xi, p.Eta));
        said.Should().BeApproximately(Math.Abs(vz) + (Math.Abs(rate) * farthest), 1e-12);
    });

    [Fact]
    public void A_knot_whose_force_does_not_rise_is_left_where_it_is_at_a_tie()
    {
        var log = SampleDrops.MediumLog;
        Sample(log, RandomMoments.Moments(hinged: false, pressing: -1), 40, (system, _, y, _) =>
        {
            // The same instant for a knot that draws at a steady force, just what the device's pull comes to beyond the rigging point.
            Instant at = default;
            system.HandleEvent(Time, y, Guard.WrapsOrHand);
            system.Solve(Time, y, ref at, []);
            var tie = at.Numbers.Rho * at.Numbers.DeviceCapacity;
            var other = TestBench.System(log.WithRope(r => r with { HitchTakeUp = new(0.06, tie, tie) }));
            other.Begin(0, other.InitialState());
            var phase = system.Phase.Copy();
            phase.HitchSpent = false;
            other.Phase = phase;
            y[StateLayout.HitchTaken] = 0.03;
            other.HandleEvent(Time, y, Guard.WrapsOrHand);
            y[StateLayout.HitchTaken].Should().Be(0.03);
        });
    }

    [Fact]
    public void Where_branches_are_solved_anew_a_block_slips_at_the_smaller_of_its_two_ratios()
    {
        var (turning, sliding) = (0, 0);
        var drop = RandomMoments.Drop("top over a block, snagged").WithRiggingPoint(r => r with { Friction = 0.1, Efficiency = 0.75 });
        Sample(drop, RandomMoments.Moments(hinged: false, pressing: -1), 200, (system, _, y, _) =>
        {
            system.Phase.WrapSign = 1;
            system.TryPhaseless(Time, y).Should().BeTrue();
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            if (at.Wrap <= 0)
            {
                return;
            }

            var (rope, bearing) = (Math.Exp(0.1 * at.Wrap), 1 + (((1 / 0.75) - 1) * Math.Sin(at.Wrap / 2)));
            at.Numbers.Rho.Should().BeApproximately(Math.Min(rope, bearing), 1e-12);
            (turning, sliding) = bearing < rope ? (turning + 1, sliding) : (turning, sliding + 1);
        });
        turning.Should().BeGreaterThan(0);
        sliding.Should().BeGreaterThan(0);
    }

    /// <summary>A tie of hitch and device, missed by up to what locating an event leaves: the one that stops is found within its limit.</summary>
    [Theory]
    [InlineData(RingState.Out)]
    [InlineData(RingState.Back)]
    public void At_a_tie_what_stops_is_within_its_limit_and_the_knot_moves_by_a_nanometre_at_most(RingState ring)
    {
        var drop = SampleDrops.MediumLog.WithRope(r => r with { HitchTakeUp = new(0.06, 200, 3_000) });
        var seen = new HashSet<NetworkBranch>();
        Sample(drop, RandomMoments.Moments(hinged: false, pressing: -1), 300, (system, _, y, moment) =>
        {
            // Both legs pull, the load leg little where rope is to slip toward the device; then the knot is set to its limit at the tie, T_h = ratio x capacity.
            Instant at = default;
            system.Solve(Time, y, ref at, []);
            (y[StateLayout.LoadRelaxed], y[StateLayout.GroundRelaxed]) = (0, 0);
            y[StateLayout.LoadLength] = at.D1 / (1 + (moment.Parts[20] * (ring == RingState.Out ? 0.03 : 2e-3)));
            y[StateLayout.GroundLength] = at.D2 / (1.002 + (0.02 * moment.Parts[21]));
            var phase = system.Phase;
            phase.Network = new(true, true, ring, false, false);
            system.Phase = phase;
            system.Solve(Time, y, ref at, []);
            var level = (ring == RingState.Out ? at.Numbers.Rho : 1 / at.Numbers.Rho) * at.Numbers.DeviceCapacity;
            var slope = (3_000 - 200) / 0.06;
            var off = (moment.Depth - 2.5e-3) / 2.5e-3 * 0.9e-7 * system.Body.Mass * 9.8;
            var taken = (level + off - 200) / slope;
            if (taken is < 0 or > 0.06)
            {
                return;
            }

            y[StateLayout.HitchTaken] = taken;
            system.HandleEvent(Time, y, Guard.WrapsOrHand);
            y[StateLayout.HitchTaken].Should().BeApproximately(taken, 1e-8);
            var branch = system.Phase.Network;
            var guards = new double[system.GuardCount];
            system.Evaluate(Time, y, new double[y.Length], guards);
            if (branch is { Ring: RingState.Stick, HitchDraws: true, DeviceGives: true })
            {
                guards[ring == RingState.Out ? Guard.SlipOut : Guard.SlipBack].Should().BePositive("the rope sticks between them");
                seen.Add(branch);
            }

            if (!branch.LoadTaut || !branch.GroundTaut || branch.HitchDraws == branch.DeviceGives)
            {
                return;
            }

            seen.Add(branch);
            guards[branch.HitchDraws ? Guard.Device : Guard.Hitch].Should().BePositive("of {0}", branch);
        });
        seen.Should().Contain(b => b.Ring == ring && b.DeviceGives);
    }

    private static void Near(double value, double expected, double? within = null) =>
        value.Should().BeApproximately(expected, within ?? (1e-9 * (1 + Math.Abs(expected))));

    private static ModalSpar Spar(DropInput drop) => new(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, drop.Computation.Gravity);

    private static void Sample(string name, bool? hinged, int? pressing, int count, Action<DropSystem, DropInput, double[], RandomMoments.Moment> check) =>
        Sample(RandomMoments.Drop(name), RandomMoments.Moments(hinged, pressing), count, check);

    private static void Sample(DropInput drop, Gen<RandomMoments.Moment> moments, int count, Action<DropSystem, DropInput, double[], RandomMoments.Moment> check)
    {
        var system = TestBench.System(drop);
        system.Begin(0, system.InitialState());
        var begun = system.Phase;
        moments.Sample(moment => check(system, drop, RandomMoments.State(system, begun.Copy(), drop, moment), moment), iter: count, threads: 1);
    }
}
