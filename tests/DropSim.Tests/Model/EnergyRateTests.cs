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

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void On_the_hinge_energies_and_losses_stand_still_together(string name) => Check(name, RandomMoments.Moments(hinged: true, pressing: -1), iterations: 200);

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    [InlineData("top over a block, snagged")]
    public void On_the_rope_energies_and_losses_stand_still_together(string name) => Check(name, RandomMoments.Moments(hinged: false, pressing: -1), iterations: 300);

    [Theory]
    [InlineData("let run")]
    [InlineData("locked off, take-ups")]
    public void Against_the_spar_energies_and_losses_stand_still_together(string name) => Check(name, RandomMoments.Moments(hinged: false, pressing: null), iterations: 300);

    private static void Check(string name, Gen<RandomMoments.Moment> moments, int iterations)
    {
        var drop = RandomMoments.Drop(name);
        var system = TestBench.System(drop);
        system.Begin(0, system.InitialState());
        var begun = system.Phase;
        moments.Sample(
            moment =>
            {
                var y = RandomMoments.State(system, begun.Copy(), drop, moment);
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

                // The ratio at the rigging point turns with the legs. A hitch nearer to it than a hand's breadth is kept from 0/0 by a length of
                // a tenth of a millimetre, which shows in how fast its leg turns.
                if (at.D1 > 0.1)
                {
                    (Rho(1) - Rho(-1)).Should().BeApproximately(2 * Step * at.Numbers.RhoRate, 1e-12 + (1e-4 * Step * Math.Abs(at.Numbers.RhoRate)), "in {0}", moment);
                }

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
}
