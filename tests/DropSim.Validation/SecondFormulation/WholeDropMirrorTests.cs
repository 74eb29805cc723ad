using CsCheck;
using DropSim.Model;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// A fall to the other side is the same fall seen in a mirror. DropSim's x points in the direction of fall by definition, so it has no other
/// side; the second formulation has, and comes to DropSim's answer (<see cref="SecondFormulationTests"/>). Here whole drops are put before a mirror:
/// piece, hinge or edge, hitch, rigging point, device, lean, sway, hits and their friction change sign, and nothing else may change.
/// </summary>
public sealed class WholeDropMirrorTests
{
    private const double Step = 2e-4;

    /// <summary>From hinge break through the catch, s.</summary>
    private const double Window = 0.9;

    /// <summary>A blow of more than this counts as one, N.</summary>
    private const double Blow = 5_000;

    private static readonly Gen<DropInput> _drops =
        Gen.Select(
            Gen.Select(Gen.Double[0.15, 1.5], Gen.Double[0, 0.6], Gen.Double[0.05, 0.4], Gen.Double[35, 80]), Gen.Select(Gen.Bool, Gen.Bool, Gen.Bool, Gen.Bool),
            Gen.Double[-0.2, 1.5], Gen.Double[0.2, 0.5])
            .Select((numbers, kinds, device, rub) =>
            {
                var (below, slack, friction, release) = numbers;
                var (rigid, held, knotted, pushed) = kinds;
                var drop = SecondDrops.MediumLog.On(rigid);
                drop = held ? drop.Held() : drop;
                drop = knotted ? drop.Knotted() : drop;
                return drop with
                {
                    RiggingPoint = drop.RiggingPoint with { BelowCut = below, Friction = friction },
                    Rope = drop.Rope with { Slack = slack },
                    Start = drop.Start with { Kind = pushed ? StartKind.PushedOff : StartKind.FaceCut, ReleaseAngle = release * Math.PI / 180 },
                    Computation = drop.Computation with { ContactFriction = rub },
                    Device = drop.Device with { X = drop.Device.X + device },
                };
            });

    [Fact]
    public void A_whole_drop_to_the_other_side_is_the_same_drop_in_a_mirror()
    {
        var (blows, pushed) = (0, 0);
        _drops.Sample(drop =>
        {
            var chain = drop.Spar.Rigid ? null : new SparChain(drop.Spar, drop.Computation.Gravity, drop.Computation.Modes, links: 60);
            var here = new SecondDrop(drop, 0.01, Step, chain).Follow(Window);
            var there = new SecondDrop(drop, 0.01, Step, chain, side: -1).Follow(Window);

            here.FirstTaut.Should().HaveCount(6, "the rope must have come to bear for the comparison to say anything");
            here.LoadLegPeak.Should().BeGreaterThan(500);

            // Round-off, and what some thousand steps make of it.
            there.LoadLegPeak.Should().BeApproximately(here.LoadLegPeak, 1e-8 * here.LoadLegPeak);
            there.RiggingPointPeak.Should().BeApproximately(here.RiggingPointPeak, 1e-8 * here.RiggingPointPeak);
            there.ContactPeak.Should().BeApproximately(here.ContactPeak, 1e-7 * (1 + here.ContactPeak));
            blows += here.ContactPeak > Blow ? 1 : 0;
            pushed += drop.Start.Kind == StartKind.PushedOff ? 1 : 0;
            there.RopeRun.Should().BeApproximately(here.RopeRun, 1e-9);
            there.Lowest.Should().BeApproximately(here.Lowest, 1e-9);
            there.HingeBreak.Should().BeApproximately(here.HingeBreak, 1e-9);
            foreach (var (one, other) in new[] { (here.Released, there.Released), (here.FirstTaut, there.FirstTaut), (here.End, there.End) })
            {
                // x, z, lean and their rates.
                double[] mirrored = [-other[0], other[1], -other[2], -other[3], other[4], -other[5]];
                mirrored.Zip(one).Should().OnlyContain(p => Math.Abs(p.First - p.Second) < 1e-8);
            }
        },
        iter: 24,
        threads: 1);

        // Of the drops that were looked at some hit the spar, and some were pushed off.
        blows.Should().BeGreaterThan(4);
        pushed.Should().BeGreaterThan(4);
    }
}
