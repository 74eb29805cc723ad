using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>
/// The laws of motion at single instants: wherever the piece is and however it moves, whatever sticks, slips, runs, hangs slack or presses,
/// the energies of all places and the books of the losses together stand still. A force with a wrong sign, arm or factor does work that no
/// place accounts for; whole drops meet only some of these states.
/// </summary>
public sealed class EnergyRateTests
{
    private const double Step = 1e-7;

    /// <summary>One instant: fractions from 0 to 1 that place everything, and which phase holds.</summary>
    private sealed record Moment(double[] Parts, bool Hinged, NetworkBranch Branch, bool WrapsGive, int Pressing, double Depth);

    private static Gen<Moment> Moments(bool? hinged, int? pressing) =>
        from parts in Gen.Double[0, 1].Array[24]
        from bits in Gen.Bool.Array[6]
        from ring in Gen.Int[0, 2]
        from place in Gen.Int[0, ContactPlaces.Most - 1]
        from depth in Gen.Double[1e-4, 5e-3]
        select new Moment(
            parts, hinged ?? bits[0], new NetworkBranch(bits[1], bits[2], (RingState)ring, bits[1] && bits[2] && bits[3], bits[1] && bits[2] && bits[4]), bits[5], pressing ?? place, depth);

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void On_the_hinge_energies_and_losses_stand_still_together(string name) => Check(name, Moments(hinged: true, pressing: -1), iterations: 200);

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void On_the_rope_energies_and_losses_stand_still_together(string name) => Check(name, Moments(hinged: false, pressing: -1), iterations: 300);

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    public void Against_the_spar_energies_and_losses_stand_still_together(string name) => Check(name, Moments(hinged: false, pressing: null), iterations: 300);

    private static void Check(string name, Gen<Moment> moments, int iterations)
    {
        var drop = VariedDrops.Named(name);

        // A rope with a bend in its stretch, and air, in all of them.
        drop = drop.WithRope(r => r with { StretchCurve = [new(0.01, 0.012 * r.Stiffness), new(0.04, 0.06 * r.Stiffness)] }) with { Piece = drop.Piece with { DragArea = 1.5, SidewaysOffset = 0.01 } };
        var system = TestBench.System(drop);
        system.Begin(0, system.InitialState());
        var begun = system.Phase;
        moments.Sample(
            moment =>
            {
                var y = State(system, begun.Copy(), drop, moment);
                var rates = new double[y.Length];
                Instant at = default;
                system.Solve(0.4, y, ref at, rates);
                if (moment.Pressing >= 0)
                {
                    at.ContactEnergy.Should().BePositive("the place presses");
                }

                // Rope that crosses the rigging point carries its relaxed strain along, rope from knot and device has none: only time adds to what both legs hold.
                double Held(int length, int strain) => (rates[length] * y[strain]) + (y[length] * rates[strain]);
                double Relaxing(bool taut, double stretch, double free, int length, int strain) => y[length] * ((taut ? stretch : free) - y[strain]) / drop.Rope.RelaxationTime;
                var held = Held(StateLayout.LoadLength, StateLayout.LoadRelaxed) + Held(StateLayout.GroundLength, StateLayout.GroundRelaxed);
                var relaxing = Relaxing(at.Branch.LoadTaut, at.E1, at.Free1, StateLayout.LoadLength, StateLayout.LoadRelaxed)
                    + Relaxing(at.Branch.GroundTaut, at.E2, at.Free2, StateLayout.GroundLength, StateLayout.GroundRelaxed);
                held.Should().BeApproximately(relaxing, 1e-9 * (1 + Math.Abs(at.Flow.Slip) + Math.Abs(at.Flow.Hitch) + Math.Abs(at.Flow.Device)), "in {0}", moment);

                // The ratio at the rigging point turns with the legs.
                (Rho(1) - Rho(-1)).Should().BeApproximately(2 * Step * at.Numbers.RhoRate, 1e-12 + (1e-4 * Step * Math.Abs(at.Numbers.RhoRate)), "in {0}", moment);

                double[] Moved(double sign, ref Instant there)
                {
                    double[] moved = [.. y.Zip(rates, (a, b) => a + (sign * Step * b))];
                    system.Solve(0.4 + (sign * Step), moved, ref there, []);
                    return moved;
                }

                double Rho(double sign)
                {
                    Instant there = default;
                    _ = Moved(sign, ref there);
                    return there.Numbers.Rho;
                }

                double Energy(double sign)
                {
                    Instant there = default;
                    var moved = Moved(sign, ref there);
                    var (potential, kinetic, rope, spar, contact) = system.Energies(moved, ref there);
                    return potential + kinetic + rope + spar + contact + moved[StateLayout.LostRiggingPoint..(StateLayout.LostHinge + 1)].Sum();
                }

                // The powers that must cancel: forces at some 10 m/s, and what legs would pull at the speed at which rope is let go.
                var force = Math.Abs(at.Flow.T1) + Math.Abs(at.Flow.T2) + at.ContactForce + double.Hypot(at.HingeX, at.HingeZ) + (drop.Piece.Mass * 9.8);
                var flow = Math.Abs(at.Flow.Slip) + Math.Abs(at.Flow.Hitch) + Math.Abs(at.Flow.Device);
                var power = (force * 10) + ((Math.Abs(at.Numbers.A1) + Math.Abs(at.Numbers.A2)) * flow);
                ((Energy(1) - Energy(-1)) / (2 * Step)).Should().BeApproximately(0, 1e-5 * power, "in {0}", moment);

                // Velocities are the rates of places; none of the losses that friction and damping make is a gain.
                rates[StateLayout.PieceX].Should().Be(y[StateLayout.PieceVx]);
                rates[StateLayout.PieceZ].Should().Be(y[StateLayout.PieceVz]);
                rates[StateLayout.Lean].Should().Be(y[StateLayout.LeanRate]);
                rates[StateLayout.LostSpar].Should().BeGreaterThanOrEqualTo(0);
                rates[StateLayout.LostDrag].Should().BeGreaterThanOrEqualTo(0);
                rates[StateLayout.LostContact].Should().BeGreaterThanOrEqualTo(0);
                for (var i = 0; i < drop.Computation.Modes; i++)
                {
                    rates[StateLayout.FirstMode + i].Should().Be(y[StateLayout.FirstMode + drop.Computation.Modes + i]);
                }
            },
            iter: iterations,
            threads: 1);
    }

    private static double[] State(DropSystem system, DropPhase phase, DropInput drop, Moment moment)
    {
        var y = system.InitialState();
        var (parts, modes) = (moment.Parts, drop.Computation.Modes);
        double Between(int part, double from, double to) => from + (parts[part] * (to - from));
        for (var i = 0; i < modes; i++)
        {
            // Some centimetres at the top, some decimetres a second.
            y[StateLayout.FirstMode + i] = Between(i, -2, 2) / (1 + (4 * i));
            y[StateLayout.FirstMode + modes + i] = Between(3 + i, -5, 5);
        }

        if (!moment.Hinged)
        {
            y[StateLayout.PieceX] = Between(6, 0.5, 2);
            y[StateLayout.PieceZ] = Between(7, 2, drop.Spar.Height);

            // The flank that meets the spar's top hangs down: lying flat it would do so from far away.
            y[StateLayout.Lean] = moment.Pressing == ContactPlaces.Most - 1 ? Between(8, 2.6, 3.7) : Between(8, 0.3, 4);
        }
        else
        {
            // Nearly where the hinge holds it.
            y[StateLayout.Lean] = Between(8, 0.05, 0.9);
            var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
            y[StateLayout.PieceX] = system.Body.HingeX - ((system.Body.Hinge.Xi * sin) + (system.Body.Hinge.Eta * cos)) + Between(6, -0.01, 0.01);
            y[StateLayout.PieceZ] = drop.Spar.Height - ((system.Body.Hinge.Xi * cos) - (system.Body.Hinge.Eta * sin)) + Between(7, -0.01, 0.01);
        }

        y[StateLayout.PieceVx] = Between(9, -4, 4);
        y[StateLayout.PieceVz] = Between(10, -8, 4);
        y[StateLayout.LeanRate] = Between(11, -4, 4);
        y[StateLayout.LoadRelaxed] = Between(12, 0, 0.01);
        y[StateLayout.GroundRelaxed] = Between(13, 0, 0.01);
        y[StateLayout.HitchTaken] = Between(14, 0, drop.Rope.HitchTakeUp.Length);
        y[StateLayout.WrapsTaken] = Between(15, 0, drop.Rope.WrapsTakeUp.Length);
        y[StateLayout.RopeRun] = Between(16, 0, 1);
        phase.Network = moment.Branch;
        phase.Hinged = moment.Hinged;
        phase.BearingTurns = moment.Parts[19] < 0.5;
        phase.WrapsGive = moment.WrapsGive && drop.Rope.WrapsTakeUp.Length > 0;

        // Rope that is locked off gives none.
        phase.Locked = false;
        if (drop.Rope.HitchTakeUp.Length == 0)
        {
            phase.Network = phase.Network with { HitchDraws = false };
        }

        Array.Fill(phase.Contacts, ContactState.Disarmed);
        if (moment.Pressing >= 0)
        {
            phase.Contacts[moment.Pressing] = ContactState.Pressing;
        }

        system.Phase = phase;
        Instant at = default;
        if (moment.Pressing >= 0)
        {
            // Moved toward the spar until it is as deep: the depth is linear in that.
            double Depth(double x)
            {
                y[StateLayout.PieceX] = x;
                system.Solve(0.4, y, ref at, []);
                return at.Penetration[moment.Pressing];
            }

            var (d0, d1) = (Depth(0), Depth(1));
            _ = Depth((moment.Depth - d0) / (d1 - d0));
        }

        system.Solve(0.4, y, ref at, []);
        y[StateLayout.LoadLength] = at.D1 / (1 + (moment.Branch.LoadTaut ? Between(17, 0.002, 0.03) : Between(17, -0.5, -0.01)));
        y[StateLayout.GroundLength] = at.D2 / (1 + (moment.Branch.GroundTaut ? Between(18, 0.002, 0.03) : Between(18, -0.1, -0.01)));
        return y;
    }
}
