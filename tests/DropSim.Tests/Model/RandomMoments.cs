using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Random single instants: wherever the piece is and however it moves, whatever sticks, slips, runs, hangs slack or presses.</summary>
internal static class RandomMoments
{
    /// <summary>One instant: fractions from 0 to 1 that place everything, and which phase holds.</summary>
    internal sealed record Moment(double[] Parts, bool Hinged, NetworkBranch Branch, bool WrapsGive, int Pressing, double Depth);

    public static Gen<Moment> Moments(bool? hinged, int? pressing) =>
        from parts in Gen.Double[0, 1].Array[24]
        from bits in Gen.Bool.Array[6]
        from ring in Gen.Int[0, 2]
        from place in Gen.Int[0, ContactPlaces.Most - 1]
        from depth in Gen.Double[1e-4, 5e-3]
        select new Moment(
            parts, hinged ?? bits[0], new NetworkBranch(bits[1], bits[2], (RingState)ring, bits[1] && bits[2] && bits[3], bits[1] && bits[2] && bits[4]), bits[5], pressing ?? place, depth);

    /// <summary>A varied drop with a bend in its rope's stretch and with air; the log that runs tapers, so that its flank is not straight along it.</summary>
    public static DropInput Drop(string name)
    {
        var drop = VariedDrops.Named(name).WithRope(r => r with { StretchCurve = [new(0.01, 0.012 * r.Stiffness), new(0.04, 0.06 * r.Stiffness)] });
        var tip = name == "let run" ? 0.7 * drop.Piece.TipDiameter : drop.Piece.TipDiameter;
        return drop with { Piece = drop.Piece with { DragArea = 1.5, SidewaysOffset = 0.01, TipDiameter = tip } };
    }

    public static double[] State(DropSystem system, DropPhase phase, DropInput drop, Moment moment)
    {
        var y = system.InitialState();
        var (parts, modes) = (moment.Parts, system.Layout.Modes);
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

            // The flank that meets the spar's top hangs down, the butt that does so stands on edge: otherwise they would do so from far away.
            y[StateLayout.Lean] = (ContactPlaces.Most - moment.Pressing) switch { 2 => Between(8, 2.6, 3.7), 1 => Between(8, 0.8, 2.2), _ => Between(8, 0.3, 4) };
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
