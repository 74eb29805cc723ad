using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>The corners of a piece as worked by hand from its measures.</summary>
public sealed class PieceBodyTests
{
    [Fact]
    public void A_top_has_the_outline_of_its_stem_and_a_crown_widest_at_three_tenths()
    {
        // 6 m, 0.22 m at the butt and 0.03 m at the tip, bare to 2 m, crown 1 m to either side, centre of gravity 2.4 m up and 0.02 m to the front.
        var body = new PieceBody(SampleDrops.Top with { Piece = SampleDrops.Top.Piece with { SidewaysOffset = 0.02 } });
        static double Radius(double height) => 0.11 - ((0.11 - 0.015) * height / 6);
        const double Hinge = 0.11 * (1 - (2 * 0.25));

        // The face cut opens by the release angle, 75 degrees, of which the piece itself loses 70 at most.
        var mouth = (0.11 - Hinge) * Math.Tan(70 * Math.PI / 180);
        (double Xi, double Eta)[] expected =
        [
            (0, -0.11), (2, -Radius(2)), (2 + (0.3 * 4), -1), (6, -0.015), (6, 0.015), (2 + (0.3 * 4), 1), (2, Radius(2)), (mouth, Radius(mouth)), (0, Hinge),
        ];
        Corners(body.Outline, [.. expected.Select(p => (p.Xi - 2.4, p.Eta - 0.02))]);
        body.Reach.Should().BeApproximately(double.Hypot(3.6, 0.035), 1e-12);
        Corners(body.HardCorners, [(-2.4, -0.13), (-2.4, Hinge - 0.02), (mouth - 2.4, Radius(mouth) - 0.02), (3.6, -0.005), (3.6, -0.035)]);
        body.HardCornerNames.Should().Equal("back corner of the butt", "hinge side of the butt", "mouth of the face cut", "front corner of the tip", "back corner of the tip");
        Corners([body.Hitch, body.FlankEnd], [(0.35 - 2.4, Radius(0.35) - 0.02), (3.6, -0.005)]);
        body.HingeX.Should().BeApproximately(Hinge, 1e-12);
        body.BalanceLean.Should().BeApproximately(Math.Atan((Hinge - 0.02) / 2.4), 1e-12);
    }

    [Fact]
    public void A_log_and_a_top_without_branches_are_their_stem()
    {
        // 1.25 m, 0.4 m thick; the face cut opens by 55 degrees.
        var mouth = 0.1 * Math.Tan(55 * Math.PI / 180);
        (double, double)[] expected = [(-0.625, -0.2), (0.625, -0.2), (0.625, 0.2), (mouth - 0.625, 0.2), (-0.625, 0.1)];
        Corners(new PieceBody(SampleDrops.MediumLog).Outline, expected);
        Corners(new PieceBody(SampleDrops.MediumLog with { Piece = SampleDrops.MediumLog.Piece with { CrownHalfWidth = 1 } }).Outline, expected);
        Corners(new PieceBody(SampleDrops.MediumLog with { Piece = SampleDrops.MediumLog.Piece with { Kind = PieceKind.Top, CrownHalfWidth = 0.2 } }).Outline, expected);

        // A face cut that would open past the middle of the piece opens to there.
        var low = new PieceBody(SampleDrops.MediumLog with { Piece = SampleDrops.MediumLog.Piece with { Length = 0.2, CentreOfGravity = 0.1, HitchHeight = 0.1 } });
        low.Mouth.Xi.Should().BeApproximately(0.1 - 0.1, 1e-12);
    }

    [Fact]
    public void A_piece_pushed_off_turns_about_the_spars_edge_under_its_middle()
    {
        var body = new PieceBody(SampleDrops.MediumLog with { Start = SampleDrops.MediumLog.Start with { Kind = StartKind.PushedOff }, Piece = SampleDrops.MediumLog.Piece with { SidewaysOffset = 0.01 } });
        body.HingeX.Should().BeApproximately(0.2, 1e-12);
        body.BalanceLean.Should().Be(0);
        Corners([body.Hinge, body.Mouth], [(-0.625, 0), (-0.625, 0.19)]);

        // Where it turned there is no corner: a flat butt has two, back and front.
        (double, double)[] corners = [(-0.625, -0.21), (-0.625, 0.19), (0.625, 0.19), (0.625, -0.21)];
        Corners(body.HardCorners, corners);
        body.HardCornerNames.Should().Equal("back corner of the butt", "front corner of the butt", "front corner of the tip", "back corner of the tip");
        Corners(body.Outline, [corners[0], corners[3], corners[2], corners[1]]);
    }

    private static void Corners(BodyPoint[] got, (double Xi, double Eta)[] expected)
    {
        got.Should().HaveSameCount(expected);
        got.Zip(expected).Should().OnlyContain(p => Math.Abs(p.First.Xi - p.Second.Xi) < 1e-12 && Math.Abs(p.First.Eta - p.Second.Eta) < 1e-12);
    }
}
