using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>Friction of the rigging point and of the device against their closed forms, seen through the drop system's own evaluation.</summary>
public sealed class FrictionLawTests
{
    /// <summary>exp(2 pi mu N), Euler-Eytelwein (capstan equation), computed from the formula to four figures.</summary>
    [Theory]
    [InlineData(0.10, 0.25, 1.170)]
    [InlineData(0.10, 1, 1.874)]
    [InlineData(0.10, 5, 23.14)]
    [InlineData(0.15, 2.5, 10.55)]
    [InlineData(0.15, 3, 16.90)]
    [InlineData(0.20, 0.5, 1.874)]
    [InlineData(0.20, 4, 152.4)]
    [InlineData(0.25, 1.5, 10.55)]
    [InlineData(0.25, 5, 2576)]
    [InlineData(0.30, 2, 43.38)]
    [InlineData(0.30, 3, 285.7)]
    [InlineData(0.40, 1, 12.35)]
    [InlineData(0.40, 4, 23230)]
    public void A_bollard_holds_the_capstan_ratio(double friction, double turns, double ratio)
    {
        var at = Start(SampleDrops.MediumLog with { Device = SampleDrops.MediumLog.Device with { Friction = friction, Wraps = turns } });

        // Half a unit of the fourth figure.
        at.DeviceRatio.Should().BeApproximately(ratio, 0.0005 * ratio);
    }

    /// <summary>R. Delaney (2022), Physics for Roping Technicians, pp. 82, 88: hold ratio by turns calculated from a measured coefficient of 0.175.</summary>
    [Theory]
    [InlineData(0.25, 1.32)]
    [InlineData(0.5, 1.73)]
    [InlineData(1, 3.00)]
    [InlineData(2, 9.02)]
    [InlineData(3, 27.08)]
    [InlineData(4, 81.31)]
    [InlineData(5, 244.15)]
    [InlineData(6, 733.15)]
    public void A_bollard_holds_the_ratio_that_was_printed_for_metal_hosts(double turns, double printed)
    {
        var at = Start(SampleDrops.MediumLog with { Device = SampleDrops.MediumLog.Device with { Friction = 0.175, Wraps = turns } });

        // Two decimals are printed, and the source rounded its coefficient: 3.00 at one turn is exp(2 pi 0.1749).
        at.DeviceRatio.Should().BeApproximately(printed, 0.005 + (0.002 * printed));
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.2)]
    [InlineData(0.5)]
    public void A_ring_slips_at_the_capstan_ratio_of_its_wrap(double friction)
    {
        var at = HangingStraightDown(SampleDrops.MediumLog.WithRiggingPoint(r => r with { Friction = friction }));

        // The wrap is measured from the geometry: half a turn less what the legs are apart.
        at.Numbers.Rho.Should().BeApproximately(Math.Exp(friction * at.Wrap), 1e-12);
        at.Wrap.Should().BeInRange(2.8, Math.PI);
    }

    [Fact]
    public void A_block_loses_its_bearings_share_at_half_a_turn_and_half_the_angles_sine_elsewhere()
    {
        var block = SampleDrops.MediumLog.WithRiggingPoint(r => r with { Kind = RiggingPointKind.Block, Efficiency = 0.8, Friction = 0.3 });
        var at = HangingStraightDown(block);

        // rho = 1 + (1/0.8 - 1) sin(theta/2): the bearing feels the resultant, 2 T sin(theta/2).
        at.Numbers.Rho.Should().BeApproximately(1 + (0.25 * Math.Sin(at.Wrap / 2)), 1e-12);
    }

    [Fact]
    public void Before_the_piece_falls_the_rope_goes_straight_past_the_rigging_point()
    {
        var at = Start(SampleDrops.MediumLog);

        // The piece stands above: hardly any wrap, hardly any friction.
        at.Wrap.Should().BeInRange(0, 0.6);
        at.Numbers.Rho.Should().BeApproximately(Math.Exp(0.2 * at.Wrap), 1e-12);
    }

    /// <summary>
    /// The bearing law against the statics of a sheave on a journal. P.S. Donzelli (1999), J. Arboriculture 25(2):61-68,
    /// Table 1: tread and shaft radius of three blocks, and static friction coefficients from 0.049 to 0.99.
    /// A rope of tension T1 over half a turn, T2 on the other side, slips when (T1 - T2) R = mu r (T1 + T2) (moment about the shaft,
    /// journal friction mu times the resultant; the sheave's weight left out), so T1/T2 = (R + mu r) / (R - mu r).
    /// </summary>
    [Theory]
    [InlineData(27.559, 9.525, 0.049)]
    [InlineData(27.559, 9.525, 0.5)]
    [InlineData(52.324, 9.525, 0.3)]
    [InlineData(52.324, 9.525, 0.99)]
    [InlineData(29.21, 9.3898, 0.2)]
    public void A_block_with_a_journals_efficiency_turns_at_the_journals_ratio_over_half_a_turn(double tread, double shaft, double friction)
    {
        var moment = friction * shaft / tread;
        var ratio = (1 + moment) / (1 - moment);

        // The input's efficiency is T out / T in at half a turn. A seized sheave would slide; friction is set so high that it turns.
        var at = HangingStraightDown(SampleDrops.MediumLog.WithRiggingPoint(r => r with { Kind = RiggingPointKind.Block, Efficiency = 1 / ratio, Friction = 1 }));

        // The legs of this drop stand a little less than half a turn apart; the law at exactly half a turn is 1 + (ratio - 1) sin(pi/2).
        var atHalfTurn = 1 + ((at.Numbers.Rho - 1) / Math.Sin(at.Wrap / 2));
        atHalfTurn.Should().BeApproximately(ratio, 1e-12);

        // At other wraps the journal's own ratio follows from the resultant T sqrt(1 + k^2 - 2 k cos theta): k - 1 = moment x resultant.
        // The law in the model is its first order in the moment: they part by the moment squared.
        var k = ratio;
        for (var i = 0; i < 50; i++)
        {
            k = 1 + (moment * Math.Sqrt(1 + (k * k) - (2 * k * Math.Cos(at.Wrap))));
        }

        at.Numbers.Rho.Should().BeApproximately(k, (moment * moment) + 1e-9);
    }

    [Fact]
    public void A_seized_sheave_slides_like_a_ring()
    {
        var seized = HangingStraightDown(SampleDrops.MediumLog.WithRiggingPoint(r => r with { Kind = RiggingPointKind.Block, Efficiency = 0.3, Friction = 0.2 }), bearingTurns: false);

        seized.Numbers.Rho.Should().BeApproximately(Math.Exp(0.2 * seized.Wrap), 1e-12);
    }

    private static Instant Start(DropInput drop)
    {
        var system = TestBench.System(drop);
        var y = system.InitialState();
        system.Begin(0, y);
        Instant at = default;
        system.Solve(0, y, ref at, []);
        return at;
    }

    private static Instant HangingStraightDown(DropInput drop, bool bearingTurns = true)
    {
        var system = TestBench.System(drop);
        var y = system.InitialState();
        system.Begin(0, y);
        system.Phase.Hinged = false;
        system.Phase.BearingTurns = bearingTurns;
        system.Phase.WrapSign = 1;
        y[StateLayout.PieceX] = 1;
        y[StateLayout.PieceZ] -= 3;
        y[StateLayout.Lean] = Math.PI;
        Instant at = default;
        system.Solve(0, y, ref at, []);
        return at;
    }
}
