using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>What would need more steps than a run may have is refused beforehand, and says what makes it so.</summary>
public sealed class StepNeedTests
{
    [Fact]
    public void Ordinary_drops_need_far_fewer_steps_than_are_allowed()
    {
        // (1 + 1.9) / 2 ms = 1,450 per s over 8 s, 4.64 to a step: about 2,500 steps.
        var drop = SampleDrops.MediumLog;
        StepNeed.OfRope(drop, new RopeCurve(drop.Rope.Stiffness)).Should().BeNull();
        StepNeed.OfModes(drop, new ModalSpar(drop.Spar, 8, 24, 9.80665)).Should().BeNull();
    }

    /// <summary>(1 + 1.9) / 0.01 ms = 290,000 per s; 8 s / 4.64 of it are 500,000 steps, 3 s three eighths of that.</summary>
    [Theory]
    [InlineData(8, false)]
    [InlineData(3, true)]
    public void A_short_viscous_time_may_be_computed_for_a_short_time_only(double seconds, bool computed)
    {
        var drop = SampleDrops.MediumLog;
        drop = drop with { Rope = drop.Rope with { ViscousTime = 1e-5 }, Computation = drop.Computation with { EndTime = seconds } };
        var problem = StepNeed.OfRope(drop, new RopeCurve(drop.Rope.Stiffness));
        (problem is null).Should().Be(computed);
        DropCheck.Problems(drop).Should().HaveCount(computed ? 0 : 1);
    }

    /// <summary>EA tau_v = 40 kN s over 0.9 m against an end that yields by 0.1 m2 / 0.001 kg m2 = 100 per kg: 4 million per s.</summary>
    [Fact]
    public void A_piece_that_yields_at_a_touch_on_a_very_stiff_rope_is_refused()
    {
        var drop = SampleDrops.MediumLog;
        drop = drop with { Piece = drop.Piece with { Inertia = 0.001 }, Rope = drop.Rope with { Stiffness = 2e7 } };
        DropCheck.Problems(drop).Should().ContainSingle().Which.Should().Contain("mass, inertia or stiffness");
    }

    [Fact]
    public void A_mode_far_above_hearing_is_refused_with_advice_to_keep_fewer()
    {
        // A stub of 1 m, 0.8 m thick: its eighth bending mode as a slender beam is above 10 kHz.
        var drop = SampleDrops.MediumLog;
        var stub = drop.Spar with { Height = 1, Diameters = [new(0, 0.8), new(1, 0.8)], ClimberBelowCut = 0.5 };
        var spar = new ModalSpar(stub, 8, 24, 9.80665);
        StepNeed.OfModes(drop with { Spar = stub, Computation = drop.Computation with { EndTime = 60 } }, spar)
            .Should().Contain("fewer modes").And.Contain(FormattableString.Invariant($"sways at {spar.AngularFrequencies[7] / (2 * Math.PI):G3} Hz"));
    }

    /// <summary>
    /// 1 kN more for every 0.01 mm against a leg of 2.5 x 220 kN over some metres: the take-up gives nothing worth having and is
    /// counted as none, so that the forces are those without one.
    /// </summary>
    [Fact]
    public void A_take_up_far_steeper_than_its_leg_counts_as_none_and_says_so()
    {
        var drop = SampleDrops.MediumLog;
        var none = drop with { Rope = drop.Rope with { WrapsTakeUp = TakeUpInput.None } };
        var steep = drop with { Rope = drop.Rope with { WrapsTakeUp = new(1e-4, 500, 10_500) } };
        var run = DropSimulator.Run(steep);
        run[MeasureIds.RiggingPointForce].Value.Should().Be(DropSimulator.Run(none)[MeasureIds.RiggingPointForce].Value);
        run.Warnings.Should().ContainMatch("*counted as none*");
    }

    /// <summary>A stiff rope's damping, EA tau_v over the leg, against a thin spar that gives way by the sum of its squared shapes at the rigging point.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(0.5)]
    public void A_spar_that_gives_way_too_easily_is_refused_with_the_steps_it_would_take(double part)
    {
        var drop = SampleDrops.MediumLog.WithSpar(s => s with { Diameters = [new(0, 0.1), new(9, 0.06)], ClimberMass = 0 });
        var spar = new ModalSpar(drop.Spar, 2, 24, 9.80665);
        var (shape, _) = SparTests.ShapeAt(spar, 8.6);
        var yielding = (shape[0] * shape[0]) + (shape[1] * shape[1]);

        // So stiff that 600 s take a part of 250,000 steps of 4.64 time constants; leg of 0.4 + 0.3 + 0.2 m.
        var stiffness = part * 250_000 * 4.64 / 600 * 0.9 / (0.003 * yielding);
        drop = drop.WithRope(r => r with { Stiffness = stiffness, ViscousTime = 0.003 }) with { Computation = drop.Computation with { EndTime = 600 } };
        if (part < 1)
        {
            StepNeed.OfModes(drop, spar).Should().BeNull();
        }
        else
        {
            StepNeed.OfModes(drop, spar).Should().Be(
                "The spar at the rigging point gives way so easily against the rope's viscous time that it would need about 5E+05 steps: give a shorter viscous or end time, or fewer modes.");
        }
    }

    [Fact]
    public void Modes_that_were_found_once_serve_every_drop_on_an_equal_spar_and_no_other()
    {
        var drop = SampleDrops.MediumLog;
        var prepared = new PreparedSpar(drop);
        var spar = prepared.For(drop);
        spar.Should().NotBeNull();
        prepared.For(drop.HardStop() with { Spar = drop.Spar with { Diameters = [.. drop.Spar.Diameters] } }).Should().BeSameAs(spar, "it is an equal spar");
        prepared.For(drop with { Computation = drop.Computation with { EndTime = 1, RelativeTolerance = 1e-8 } }).Should().BeSameAs(spar);
        DropInput[] others =
        [
            drop.WithSpar(s => s with { Modulus = s.Modulus * 1.01 }), drop.WithSpar(s => s with { Diameters = [new(0, 0.56), new(9, 0.4)] }),
            drop with { Computation = drop.Computation with { Modes = 2 } }, drop with { Computation = drop.Computation with { Elements = 20 } },
            drop with { Computation = drop.Computation with { Gravity = 9.8 } },
        ];
        foreach (var other in others)
        {
            prepared.For(other).Should().BeNull();

            // A run asked to use it anyhow finds its own.
            var measures = new RunOptions { Detail = RunDetail.MeasuresOnly };
            var brief = other with { Computation = other.Computation with { EndTime = 0.2 } };
            DropSimulator.Run(brief, measures with { Spar = prepared })[MeasureIds.SwayFrequency].Value.Should().Be(DropSimulator.Run(brief, measures)[MeasureIds.SwayFrequency].Value);
        }
    }

    [Fact]
    public void A_take_up_is_steep_by_itself_whatever_the_other_is()
    {
        var drop = SampleDrops.MediumLog;
        TakeUpInput steep = new(1e-4, 500, 10_500), soft = new(0.06, 200, 3_000), none = TakeUpInput.None;
        bool Steep(TakeUpInput hitch, TakeUpInput wraps) => TestBench.System(drop.WithRope(r => r with { HitchTakeUp = hitch, WrapsTakeUp = wraps })).SteepTakeUp;
        Steep(none, none).Should().BeFalse();
        Steep(soft, soft).Should().BeFalse();
        Steep(none, soft).Should().BeFalse();
        Steep(soft, none).Should().BeFalse();
        Steep(steep, none).Should().BeTrue();
        Steep(none, steep).Should().BeTrue();
        Steep(soft, steep).Should().BeTrue();
    }
}
