using CsCheck;
using DropSim.Model;
using DropSim.Validation.ClosedForm;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// Every place of contact in any pose, at any speed, on a spar that bends and moves: what DropSim works out by hand (normal, arms, friction, its reaction on the modes)
/// against the second formulation, which differentiates the depth. Whole drops meet some places only; here each is met.
/// </summary>
public sealed class ContactPoseTests
{
    /// <summary>Share of a force, and of it times a metre or a mode's shape: central differences, and modes of 240 links against those of 60 elements.</summary>
    private const double Agreement = 2e-3;

    private const double Depth = 3e-3;

    private sealed record Pose(bool Pushed, int Place, double Lean, double Spot, double[] Speeds, double[] Bend, double[] Sway);

    private static readonly Gen<Pose> _poses = Gen.Select(
        Gen.Bool, Gen.Int[0, 6], Gen.Double[-3, 3], Gen.Double[0.05, 0.95], Gen.Double[-2, 2].Array[3], Gen.Double[-0.4, 0.4].Array[3], Gen.Double[-4, 4].Array[3],
        (pushed, place, lean, spot, speeds, bend, sway) => new Pose(pushed, place, lean, spot, speeds, bend, sway));

    private static readonly DropInput _log = SecondDrops.MediumLog.On(rigid: false) with { Computation = SecondDrops.MediumLog.Computation with { Elements = 60, ContactDamping = 0.1 } };

    private static readonly SparChain _chain = new(_log.Spar, _log.Computation.Gravity, _log.Computation.Modes, links: 240);

    private static readonly ModalSpar _spar = new(_log.Spar, _log.Computation.Modes, _log.Computation.Elements, _log.Computation.Gravity);

    [Fact]
    public void Every_place_pushes_and_rubs_in_any_pose_as_the_second_formulation_says()
    {
        var met = new HashSet<(bool, int)>();
        _poses.Where(p => !(p.Pushed && p.Place == 6)).Sample(
            pose =>
            {
                met.Add((pose.Pushed, pose.Place));
                Compare(pose);
            },
            iter: 600,
            threads: 1);
        met.Should().HaveCount(13);
    }

    private static void Compare(Pose pose)
    {
        var drop = pose.Pushed ? _log.Pushed(60) : _log;
        var system = Bench.SystemOf(drop);
        var y = system.InitialState();
        (y[StateLayout.LoadLength], y[StateLayout.GroundLength]) = (100, 100);
        pose.Bend.CopyTo(y, StateLayout.FirstMode);
        pose.Sway.CopyTo(y, system.Layout.FirstModeRate);
        (y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (pose.Speeds[0], pose.Speeds[1], pose.Speeds[2]);
        Stand(drop, pose, y);
        system.Phase.Hinged = false;
        system.Begin(0, y);
        var name = Name(pose);
        system.Phase.Contacts[Array.IndexOf(system.Contacts.Names, name)] = ContactState.Pressing;
        Instant at = default;
        system.Solve(0, y, ref at, []);

        var contact = new SecondContact(drop, 1, _chain);
        contact.Arm(pose.Place);
        var forces = new double[6];

        // The chain's modes point either way, DropSim's up the fall.
        double[] sign = [.. Enumerable.Range(0, 3).Select(i => Math.Sign(_chain.Shape(i, drop.Spar.Height)))];
        contact.Add(
            [y[StateLayout.PieceX], y[StateLayout.PieceZ], pose.Lean, .. pose.Bend.Zip(sign, (b, s) => b * s)], [.. pose.Speeds, .. pose.Sway.Zip(sign, (v, s) => v * s)], forces);

        var size = double.Hypot(forces[0], forces[1]);
        var topSlope = new double[3];
        _spar.ShapeAt(drop.Spar.Height, new double[3], topSlope);
        size.Should().BeGreaterThan(1, name);
        at.ContactForce.Should().BeApproximately(contact.Now, Agreement * size, name);
        at.PushX.Should().BeApproximately(forces[0], Agreement * size, name);
        at.PushZ.Should().BeApproximately(forces[1], Agreement * size, name);
        at.PushLean.Should().BeApproximately(forces[2], Agreement * size, name);
        for (var i = 0; i < 3; i++)
        {
            var w = _spar.AngularFrequencies[i];
            var push = at.ModeAcceleration[i] + (w * w * pose.Bend[i]) + (2 * drop.Spar.DampingRatio * w * pose.Sway[i]);

            // What a force does to a mode: it moves with the axis, and at a radius from it with the section's turning.
            var reach = Math.Abs(_chain.Shape(i, drop.Spar.Height)) + (_spar.RadiusAt(drop.Spar.Height) * Math.Abs(topSlope[i]));
            push.Should().BeApproximately(sign[i] * forces[3 + i], Agreement * size * reach, $"{name}, mode {i}");
        }
    }

    private static string Name(Pose pose) => pose.Place switch
    {
        0 => "back corner of the butt",
        1 => pose.Pushed ? "front corner of the butt" : "mouth of the face cut",
        2 => "front corner of the tip",
        3 => "back corner of the tip",
        4 => "front edge of the spar's top against the piece",
        5 => "front edge of the spar's top against the butt",
        _ => "hinge side of the butt",
    };

    /// <summary>Puts the log where the place is some millimetres deep: a corner somewhere along the side, the edge somewhere along a face.</summary>
    private static void Stand(DropInput drop, Pose pose, double[] y)
    {
        var (r, c, length) = (drop.Piece.ButtDiameter / 2, drop.Piece.CentreOfGravity, drop.Piece.Length);
        var hinge = r * (1 - (2 * drop.Start.FaceCutDepth));
        var mouth = pose.Pushed ? 0 : (r - hinge) * Math.Tan(drop.Start.ReleaseAngle);
        var end = pose.Pushed ? r : hinge;
        var (along, across) = pose.Place switch
        {
            0 => (-c, -r),
            1 => (mouth - c, r),
            2 => (length - c, r),
            3 => (length - c, -r),
            4 => (mouth - c + (pose.Spot * (length - mouth)), r - Depth),
            5 => (Depth - c, -r + (pose.Spot * (end + r))),
            _ => (-c, hinge),
        };
        var edge = pose.Place is 4 or 5;
        var z = edge ? drop.Spar.Height : drop.Spar.Height * pose.Spot;
        var (shape, slope) = (new double[3], new double[3]);
        _spar.ShapeAt(z, shape, slope);
        var shortening = _spar.ShorteningAt(drop.Spar.Height);
        var radius = _spar.RadiusAt(z);
        var (x, up) = (radius, z);
        for (var i = 0; i < 3; i++)
        {
            x += shape[i] * pose.Bend[i];
            if (edge)
            {
                up -= radius * slope[i] * pose.Bend[i];
                for (var j = 0; j < 3; j++)
                {
                    up -= pose.Bend[i] * shortening[(3 * i) + j] * pose.Bend[j] / 2;
                }
            }
        }

        x -= edge ? 0 : Depth;
        var (sin, cos) = Math.SinCos(pose.Lean);
        (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.Lean]) = (x - (along * sin) - (across * cos), up - (along * cos) + (across * sin), pose.Lean);
    }
}
