using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Scenarios.Building;

namespace DropSim.Tests.Scenarios;

/// <summary>What is uncertain, how wide, and what a measurement does to it.</summary>
public sealed class RangeTests
{
    private static DropCase With(string replace, string by) => MinimalFileTests.First(MinimalFileTests.Minimal.Replace(replace, by, StringComparison.Ordinal));

    private static InputRange Range(DropCase c, string name) => c.Ranges.Single(r => r.Name == name);

    [Fact]
    public void A_minimal_file_has_all_ranges_and_each_holds_its_central_value()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal);

        c.Ranges.Select(r => r.Name).Should().Equal("mass of the piece", "device friction", "ring friction", "rope stiffness", "rope's part that relaxes over the part that lasts",
            "release angle", "slack", "take-up of hitch and wraps, scale", "root stiffness");
        c.Ranges.Should().OnlyContain(r => r.Low <= r.Central && r.Central <= r.High && r.Low < r.High && r.Source.Length > 0);
    }

    [Fact]
    public void Setting_a_range_to_its_central_value_changes_nothing()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal);

        foreach (InputRange range in c.Ranges)
        {
            DropInput same = range.Apply(c.Input, range.Central);
            same.Piece.Should().BeEquivalentTo(c.Input.Piece, range.Name);
            same.Rope.Should().BeEquivalentTo(c.Input.Rope, range.Name);
            same.Device.Should().Be(c.Input.Device, range.Name);
            same.RiggingPoint.Should().Be(c.Input.RiggingPoint, range.Name);
            same.Start.Should().Be(c.Input.Start, range.Name);
            same.Spar.Should().BeEquivalentTo(c.Input.Spar, range.Name);
        }
    }

    [Fact]
    public void Another_mass_scales_the_inertia()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal);
        PieceInput heavier = Range(c, "mass of the piece").Apply(c.Input, 2 * c.Input.Piece.Mass).Piece;

        heavier.Mass.Should().Be(2 * c.Input.Piece.Mass);
        heavier.Inertia.Should().BeApproximately(2 * c.Input.Piece.Inertia, 1e-9);
    }

    [Fact]
    public void Another_stiffness_scales_the_curve()
    {
        DropCase c = With("diameter = \"14 mm\"", "diameter = \"14 mm\"\nstretch-curve = [ { strain = \"2 %\", tension = \"4 kN\" }, { strain = \"5 %\", tension = \"13 kN\" } ]");
        RopeInput rope = Range(c, "rope stiffness").Apply(c.Input, 2 * c.Input.Rope.Stiffness).Rope;

        rope.StretchCurve.Should().Equal(new StretchPoint(0.02, 8000), new StretchPoint(0.05, 26000));
    }

    [Fact]
    public void Take_up_none_is_the_lower_end_and_the_root_follows_the_stems_size()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal);

        InputRange takeUp = Range(c, "take-up of hitch and wraps, scale");
        takeUp.Low.Should().Be(0);
        takeUp.Apply(c.Input, 0).Rope.HitchTakeUp.Length.Should().Be(0);
        takeUp.Apply(c.Input, 0).Rope.WrapsTakeUp.Length.Should().Be(0);

        // K d^3, K 200 (70 to 600) MN m/rad per m3, d the diameter at 1.3 m.
        InputRange root = Range(c, "root stiffness");
        double d = DropSim.Scenarios.Building.SparBuilder.DiameterAt(c.Input.Spar, 1.3);
        root.Central.Should().BeApproximately(200e6 * d * d * d, 1);
        root.Low.Should().BeApproximately(0.35 * root.Central, 1);
        root.High.Should().BeApproximately(3 * root.Central, 1);
        root.Apply(c.Input, root.High).Spar.RootStiffness.Should().Be(root.High);
    }

    [Theory]
    [InlineData("soft-ground")]
    [InlineData("wet-ground")]
    [InlineData("roots-cut")]
    [InlineData("decayed")]
    public void A_softer_root_is_said_in_the_file(string root)
    {
        DropCase firm = MinimalFileTests.First(MinimalFileTests.Minimal);
        DropCase soft = With("wraps = 2.5", $"wraps = 2.5\n[[setup]]\nname = \"s\"\nspar.root = \"{root}\"");

        soft.Input.Spar.RootStiffness.Should().BeApproximately(0.35 * firm.Input.Spar.RootStiffness, 1);
        Range(soft, "root stiffness").Low.Should().BeApproximately(0.1 * Range(firm, "root stiffness").Low, 1);
    }

    [Fact]
    public void A_root_that_is_called_rigid_is_rigid_in_every_draw()
    {
        DropCase c = With("wraps = 2.5", "wraps = 2.5\n[[setup]]\nname = \"s\"\nspar.root-stiffness = \"rigid\"");

        double.IsPositiveInfinity(c.Input.Spar.RootStiffness).Should().BeTrue();
        c.Uncertain.Should().NotContain(u => u.Key == "spar.root-stiffness");
    }

    /// <summary>Where the catalogue tells the stiffness, EA (1 + ratio) stays when the ratio is drawn; where it was measured, EA does.</summary>
    [Fact]
    public void The_part_that_relaxes_is_drawn_at_the_same_stiffness_in_a_jerk()
    {
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal);
        RopeInput rope = Range(c, "rope's part that relaxes over the part that lasts").Apply(c.Input, 1).Rope;
        rope.RelaxingStiffnessRatio.Should().Be(1);
        (rope.Stiffness * 2).Should().BeApproximately(c.Input.Rope.Stiffness * (1 + c.Input.Rope.RelaxingStiffnessRatio), 1e-6);

        DropCase measured = With("diameter = \"14 mm\"", "diameter = \"14 mm\"\nstiffness = \"200 kN\"");
        Range(measured, "rope's part that relaxes over the part that lasts").Apply(measured.Input, 1).Rope.Stiffness.Should().Be(200e3);
    }

    [Fact]
    public void A_weighed_piece_is_known_to_three_percent()
    {
        DropCase c = With("tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nweighed = \"150 kg\"");

        Range(c, "mass of the piece").Should().Match<InputRange>(r => r.Central == 150 && Math.Abs(r.Low - 145.5) < 1e-9 && Math.Abs(r.High - 154.5) < 1e-9);
        c.Notes.Single(n => n.Path == "piece.weighed").Source.Should().StartWith("weighed, ");
    }

    [Fact]
    public void A_range_of_the_file_replaces_the_default()
    {
        DropCase c = With("diameter = \"14 mm\"", "diameter = \"14 mm\"\nslack = { value = \"0.15 m\", low = \"0.1 m\", high = \"0.3 m\" }");

        Range(c, "slack").Should().Match<InputRange>(r => r.Central == 0.15 && r.Low == 0.1 && r.High == 0.3 && r.Source.Contains("line 18"));
    }

    [Fact]
    public void A_given_value_without_a_range_keeps_the_doubt_that_belongs_to_it()
    {
        DropCase c = With("wraps = 2.5", "wraps = 2.5\nfriction = 0.16\n[start]\nrelease-angle = \"60 deg\"");

        // A coefficient typed in is no measurement: the default's spread about it, 0.22 (0.14 to 0.30), in proportion.
        InputRange friction = Range(c, "device friction");
        friction.Low.Should().BeApproximately(0.16 * 0.14 / 0.22, 1e-9);
        friction.High.Should().BeApproximately(0.16 * 0.30 / 0.22, 1e-9);
        Range(c, "release angle").Should().Match<InputRange>(r => r.Low < r.Central && r.Central < r.High);
    }

    [Fact]
    public void The_hold_test_is_the_capstan_equation_turned_round()
    {
        // 80 kg, two wraps, ring 0.2: T3 = 80 x 9.80665 / (exp(0.2 pi) exp(4 pi 0.175)) = 784.532 / (1.87446 x 9.01677) = 46.417 N.
        double hand = 80 * 9.80665 / (Math.Exp(0.2 * Math.PI) * Math.Exp(4 * Math.PI * 0.175));
        hand.Should().BeApproximately(46.417, 0.01);
        string written = hand.ToString("R", System.Globalization.CultureInfo.InvariantCulture);

        DropCase c = With("wraps = 2.5", $"wraps = 2.5\n[hold-test]\nmass = \"80 kg\"\nwraps = 2\nhand = \"{written} N\"");

        c.Input.Device.Friction.Should().BeApproximately(0.175, 1e-12);
        InputRange range = Range(c, "device friction");

        // Ring 0.1 to 0.3 leaves (0.1 pi) / (4 pi) = 0.025 either way; the reading ln(1.15) / (4 pi) and ln(1/0.85) / (4 pi) more.
        range.Low.Should().BeApproximately(0.175 - 0.025 - (Math.Log(1.15) / (4 * Math.PI)), 1e-9);
        range.High.Should().BeApproximately(0.175 + 0.025 - (Math.Log(0.85) / (4 * Math.PI)), 1e-9);
    }

    [Fact]
    public void The_sway_test_gives_frequency_and_damping()
    {
        DropCase c = With("wraps = 2.5", "wraps = 2.5\n[sway-test]\ntime = \"12.5 s\"\ndecay-swings = 5\namplitude-left = \"50 %\"");

        c.Input.Spar.MeasuredSwayFrequency.Should().BeApproximately(10 / 12.5, 1e-12);

        // ln 2 / 5 = 0.13863 per swing; zeta = 0.13863 / sqrt(4 pi^2 + 0.13863^2) = 0.02206.
        c.Input.Spar.DampingRatio.Should().BeApproximately(0.02206, 1e-5);
        c.Ranges.Select(r => r.Name).Should().Contain("sway frequency of the spar").And.NotContain(n => n.StartsWith("root"));
    }

    [Fact]
    public void The_stretch_test_gives_the_stiffness()
    {
        DropCase c = With("wraps = 2.5", "wraps = 2.5\n[stretch-test]\nlength = \"10 m\"\nmass = \"100 kg\"\nstretch = \"50 mm\"");

        // EA = m g L / stretch = 100 x 9.80665 x 10 / 0.05 = 196133 N.
        c.Input.Rope.Stiffness.Should().BeApproximately(196133, 1e-6);
        Range(c, "rope stiffness").High.Should().BeApproximately(1.25 * 196133, 1e-6);
    }

    [Theory]
    [InlineData("50 kg", 1)]
    [InlineData("150 kg", 2)]
    [InlineData("500 kg", 3)]
    public void Wraps_by_default_are_the_nearest_half_turn_at_which_50_N_holds_the_hanging_piece(string mass, double wraps)
    {
        // ln(m g / (50 exp(0.2 pi))) / (2 pi 0.22): 1.20, 1.99 and 2.86 turns.
        DropCase c = MinimalFileTests.First(MinimalFileTests.Minimal
            .Replace("[device]\nwraps = 2.5", "", StringComparison.Ordinal)
            .Replace("length = \"1.2 m\"", $"length = \"2.5 m\"\nmass = \"{mass}\"", StringComparison.Ordinal));

        c.Input.Device.Wraps.Should().Be(wraps);
    }

    [Theory]
    [InlineData("150 kg", 0.4)]
    [InlineData("500 kg", 0.5)]
    [InlineData("50 kg", 0.3)]
    [InlineData("20 kg", 0.3)]
    [InlineData("86.6 kg", 0.35)]
    public void Defaults_by_size_are_interpolated_in_the_logarithm_of_the_mass(string mass, double belowCut)
    {
        // 86.6 kg is the geometric mean of 50 and 150 kg.
        DropCase c = With("length = \"1.2 m\"", $"length = \"{(mass == "20 kg" ? 1.2 : 2.5)} m\"\nmass = \"{mass}\"");

        c.Input.RiggingPoint.BelowCut.Should().BeApproximately(belowCut, 1e-4);
    }

    [Fact]
    public void A_block_has_an_efficiency_range_and_a_sliding_sheave_is_never_better_than_a_ring()
    {
        DropCase c = With("kind = \"ring\"", "kind = \"block\"");

        Range(c, "block efficiency").Should().Match<InputRange>(r => r.Low == 0.75 && r.Central == 0.90 && r.High == 0.97);
        RiggingBuilder.HangingRatio(RiggingPointKind.Block, 0.02, 0.75).Should().BeApproximately(Math.Exp(0.02 * Math.PI), 1e-12);
        RiggingBuilder.HangingRatio(RiggingPointKind.Block, 0.2, 0.9).Should().BeApproximately(1 / 0.9, 1e-12);
    }

    [Fact]
    public void A_set_up_replaces_what_belongs_together()
    {
        string text = MinimalFileTests.Minimal + "\n[hold-test]\nmass = \"80 kg\"\nwraps = 2\nhand = \"50 N\"\n"
            + "[[setup]]\nname = \"tested\"\n[[setup]]\nname = \"told\"\ndevice.friction = 0.2\npiece.butt-diameter = \"42 cm\"\n";

        ScenarioReadResult result = MinimalFileTests.Read(text);

        result.Problems.Select(p => p.ToString()).Should().BeEmpty();
        DropCase told = result.Scenario!.Cases.First(c => c.Setup == "told");
        told.Input.Device.Friction.Should().Be(0.2);
        told.Input.Piece.ButtDiameter.Should().Be(0.42);
        result.Scenario.Cases.First(c => c.Setup == "tested").Input.Device.Friction.Should().NotBe(0.2);
    }
}
