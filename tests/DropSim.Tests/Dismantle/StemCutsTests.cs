using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Dismantle;

/// <summary>A stem is cut by the stated rule, from the tip down, without gaps.</summary>
public sealed class StemCutsTests
{
    private static readonly DiameterAtHeight[] Straight = [new(0, 0.4), new(10, 0.4)];

    [Fact]
    public void A_diameter_is_linear_between_the_measures_and_level_beyond_them()
    {
        DiameterAtHeight[] profile = [new(1, 0.4), new(3, 0.2), new(4, 0.1)];
        double[] heights = [0, 1, 2, 3, 3.5, 4, 5];
        double[] expected = [0.4, 0.4, 0.3, 0.2, 0.15, 0.1, 0.1];
        heights.Zip(expected).Should().OnlyContain(p => Math.Abs(StemCuts.DiameterAt(profile, p.First) - p.Second) < 1e-12);
    }

    [Fact]
    public void Logs_of_two_metres_from_ten_to_five_leave_a_last_one_of_one_metre()
    {
        var pieces = StemCuts.Of(Straight, new CutRule(2, double.PositiveInfinity, 5, 0), 1000);

        // 10 -> 8 -> 6 -> 5.
        pieces.Select(p => p.Cut).Should().Equal(8, 6, 5);
        pieces.Select(p => p.Length).Should().Equal(2, 2, 1);
    }

    [Fact]
    public void A_mass_of_100_kg_gives_logs_of_79_cm()
    {
        var pieces = StemCuts.Of(Straight, new CutRule(double.PositiveInfinity, 100, 5, 0), 1000);

        // 125.66 kg a metre: 100 / 125.66 = 0.7958 m, whole centimetres down 0.79 m. 5 m / 0.79 m = 6 logs and 0.26 m, which stays.
        pieces.Should().HaveCount(6);
        pieces.Should().OnlyContain(p => Math.Abs(p.Length - 0.79) < 1e-9);
        StemCuts.LogMass(pieces[0], 1000).Should().BeApproximately(0.79 * Math.PI / 4 * 0.16 * 1000, 1e-9);
    }

    [Fact]
    public void The_top_comes_first_and_the_mass_rule_does_not_touch_it()
    {
        var pieces = StemCuts.Of(Straight, new CutRule(1.5, 50, 8, 1), 1000);

        pieces[0].Kind.Should().Be(PieceKind.Top);
        pieces[0].Cut.Should().Be(9);
        pieces.Skip(1).Should().OnlyContain(p => p.Kind == PieceKind.Log);
    }

    [Fact]
    public void A_mass_that_even_the_shortest_log_exceeds_ends_the_list_above_the_lowest_cut()
    {
        // 0.3 m weigh 37.7 kg.
        StemCuts.Of(Straight, new CutRule(2, 30, 5, 0), 1000).Should().BeEmpty();
    }

    [Fact]
    public void Pieces_join_without_a_gap_and_keep_the_rule_on_any_stem()
    {
        Gen.Select(Gen.Double[0.15, 0.5], Gen.Double[0, 0.6], Gen.Double[6, 30], Gen.Double[0.4, 3], Gen.Double[60, 500], Gen.Double[2, 5])
            .Sample((upper, more, height, length, mass, lowest) =>
            {
                DiameterAtHeight[] profile = [new(0, upper + more), new(height / 3, upper + (more / 2)), new(height, upper)];
                var rule = new CutRule(length, mass, lowest, 0);
                var pieces = StemCuts.Of(profile, rule, 950);
                var from = height;
                foreach (var piece in pieces)
                {
                    piece.Upper.Should().BeApproximately(from, 1e-9);
                    piece.Length.Should().BeInRange(StemCuts.ShortestLog - 1e-9, length + 1e-9);
                    StemCuts.LogMass(piece, 950).Should().BeLessThanOrEqualTo(mass * (1 + 1e-9));
                    from = piece.Cut;
                }

                from.Should().BeGreaterThanOrEqualTo(lowest - 1e-9);
                if (from - lowest >= StemCuts.ShortestLog)
                {
                    // Only a mass that the shortest log exceeds may end the list early.
                    var next = new StemPiece(PieceKind.Log, from - StemCuts.ShortestLog, from, StemCuts.DiameterAt(profile, from - StemCuts.ShortestLog),
                        StemCuts.DiameterAt(profile, from - (StemCuts.ShortestLog / 2)), StemCuts.DiameterAt(profile, from));
                    StemCuts.LogMass(next, 950).Should().BeGreaterThan(mass);
                }
            }, iter: 300);
    }
}
