using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Guards that are not worked out exactly where the piece is far away: their sign, and near by their value, against plain geometry.</summary>
public sealed class GuardTests
{
    private static readonly Gen<double[]> _parts = Gen.Double[0, 1].Array[12];

    [Theory]
    [InlineData("let run")]
    [InlineData("top over a block, snagged")]
    public void The_room_to_ground_and_obstacles_is_exact_near_by_and_has_its_sign_far_away(string name)
    {
        var drop = VariedDrops.Named(name);
        ObstacleInput[] obstacles = [new("shed", 3, 5, 0, 2.5), new("limb", 0.5, 1.5, 5, 5.2)];
        drop = drop with { Site = new() { Obstacles = obstacles } };
        var system = TestBench.System(drop);
        system.Begin(0, system.InitialState());
        var guards = new double[system.GuardCount];
        _parts.Sample(
            parts =>
            {
                var y = State(system, drop, parts);
                system.Evaluate(0.4, y, new double[y.Length], guards);
                var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
                double[] x = [.. system.Body.Outline.Select(p => y[StateLayout.PieceX] + (p.Xi * sin) + (p.Eta * cos))];
                double[] z = [.. system.Body.Outline.Select(p => y[StateLayout.PieceZ] + (p.Xi * cos) - (p.Eta * sin))];
                Agree(guards[Guard.Ground], z.Min());
                Agree(guards[Guard.Obstacle], obstacles.Min(o => ConvexGap.ToRectangle(x, z, o)));
            },
            iter: 1_000,
            threads: 1);

        // Nearer than a quarter of a metre it is the gap itself; farther away the piece cannot be in any lean.
        static void Agree(double guard, double gap)
        {
            if (guard <= 0.25)
            {
                guard.Should().BeApproximately(gap, 1e-12);
            }
            else
            {
                gap.Should().BePositive();
            }
        }
    }

    [Theory]
    [InlineData((int)ContactState.Disarmed)]
    [InlineData((int)ContactState.Armed)]
    public void A_place_of_contact_is_armed_when_clear_below_the_cut_and_fires_when_it_meets_the_spar_or_leaves_it(int state)
    {
        var drop = VariedDrops.Named("let run").WithSpar(s => s with { Diameters = [new(0, 0.7), new(5, 0.5), new(9, 0.4)] });
        var spar = new ModalSpar(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, drop.Computation.Gravity);
        var system = TestBench.System(drop);
        system.Begin(0, system.InitialState());
        var phase = system.Phase.Copy();
        phase.Hinged = false;
        Array.Fill(phase.Contacts, (ContactState)state);
        system.Phase = phase;
        var (near, signs) = (0, new HashSet<int>());
        _parts.Sample(
            parts =>
            {
                var y = State(system, drop, parts);
                Instant at = default;
                system.Solve(0.4, y, ref at, []);
                double[] q = y[StateLayout.FirstMode..(StateLayout.FirstMode + drop.Computation.Modes)];
                var (sin, cos) = Math.SinCos(y[StateLayout.Lean]);
                for (var place = 0; place < ContactPlaces.Most; place++)
                {
                    double within, depth;
                    if (place < system.Body.HardCorners.Length)
                    {
                        var p = system.Body.HardCorners[place];
                        var (x, z) = (y[StateLayout.PieceX] + (p.Xi * sin) + (p.Eta * cos), y[StateLayout.PieceZ] + (p.Xi * cos) - (p.Eta * sin));
                        (within, depth) = (9 - z, spar.RadiusAt(Math.Min(z, 9)) + spar.DeflectionAt(Math.Min(z, 9), q) - x);
                    }
                    else
                    {
                        // The front corner of the spar's top, seen from the piece: between the ends of its flank and past its line, or below its butt from back to hinge and past that.
                        var (shape, slope) = SparTests.ShapeAt(spar, 9);
                        var dx = 0.2 + q.Zip(shape, (a, b) => a * b).Sum() - y[StateLayout.PieceX];
                        var dz = 9 - (0.2 * q.Zip(slope, (a, b) => a * b).Sum()) - SparTests.Lowered(spar, 9, q) - y[StateLayout.PieceZ];
                        var (xi, eta) = ((dx * sin) + (dz * cos), (dx * cos) - (dz * sin));
                        (within, depth) = place == system.Body.HardCorners.Length
                            ? (Math.Min(xi - system.Body.Mouth.Xi, system.Body.FlankEnd.Xi - xi), 0.2 - eta)
                            : (Math.Min(eta + 0.2, system.Body.Hinge.Eta - eta), xi - system.Body.Hinge.Xi);
                    }

                    var exact = state == (int)ContactState.Disarmed ? Math.Max(-within, depth) : Math.Min(-depth, within);
                    if (Math.Abs(exact) < 1e-9)
                    {
                        continue;
                    }

                    Math.Sign(at.ContactGuard[place]).Should().Be(Math.Sign(exact), "of place {0} at {1}, {2}", place, within, depth);
                    signs.Add(Math.Sign(exact));
                    near += Math.Abs(exact) < 0.05 ? 1 : 0;
                }
            },
            iter: 1_000,
            threads: 1);
        signs.Should().HaveCount(2);
        near.Should().BeGreaterThan(20);
    }

    private static double[] State(DropSystem system, DropInput drop, double[] parts)
    {
        var y = system.InitialState();
        double Between(int part, double from, double to) => from + (parts[part] * (to - from));
        y[StateLayout.PieceX] = Between(0, 0, 5);
        y[StateLayout.PieceX] *= parts[6] < 0.7 ? 0.3 : 1;
        y[StateLayout.PieceZ] = Between(1, 0, drop.Spar.Height + 1);
        y[StateLayout.Lean] = Between(2, 0, 4);
        for (var i = 0; i < drop.Computation.Modes; i++)
        {
            y[StateLayout.FirstMode + i] = Between(3 + i, -2, 2) / (1 + (4 * i));
        }

        return y;
    }
}
