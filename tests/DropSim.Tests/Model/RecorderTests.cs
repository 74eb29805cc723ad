using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>What the recorder says at each change of phase, and maxima between the ends of steps against closed forms.</summary>
public sealed class RecorderTests
{
    private static readonly NetworkBranch _stuck = new(true, true, RingState.Stick, false, false);

    /// <summary>One change of phase at a time, and what is said of it.</summary>
    [Fact]
    public void Each_change_of_phase_is_told_in_its_own_words()
    {
        Told(_ => { }, _ => { }, Guard.Release).Should().Equal(("hinge breaks", "the face cut has closed"));
        Told(_ => { }, _ => { }, Guard.HingeForce).Should().Equal(("hinge breaks", "its strength was exceeded, or the edge would have had to pull"));
        Told(_ => { }, _ => { }, Guard.Snag).Should().Equal(("hand side snags", ""));
        Told(_ => { }, _ => { }, Guard.WrapAngle).Should().Equal(("rope passes over the rigging point", ""));
        Told(_ => { }, _ => { }, Guard.HitchSpent).Should().Equal(("hitch has tightened", ""));
        Told(_ => { }, _ => { }, Guard.WrapsSpent).Should().Equal(("wraps have tightened", ""));
        Told(_ => { }, p => p.Wraps = 1.25, Guard.Instant).Should().Equal(("wraps change", "now 1.25"));
        Told(_ => { }, _ => { }, Guard.Instant).Should().BeEmpty("the wraps are as they were");

        // Rope at the rigging point: told while both legs pull, however it was before.
        Told(Branch(_stuck), Branch(_stuck with { Ring = RingState.Out })).Should().Equal(("rope slips toward the piece", ""));
        Told(Branch(_stuck), Branch(_stuck with { Ring = RingState.Back })).Should().Equal(("rope slips toward the device", ""));
        Told(Branch(_stuck with { Ring = RingState.Out }), Branch(_stuck)).Should().Equal(("rope sticks at the rigging point", ""));
        Told(Branch(_stuck with { Ring = RingState.Back }), Branch(_stuck with { Ring = RingState.Out })).Should().Equal(("rope slips toward the piece", ""));
        Told(Branch(_stuck), Branch(default)).Should().Equal(("load leg slack", ""));
        Told(Branch(default), Branch(_stuck)).Should().Equal(("load leg taut", ""));
        Told(Branch(_stuck with { Ring = RingState.Out }), Branch(default)).Should().Equal(("load leg slack", ""));
        Told(Branch(default), Branch(_stuck with { Ring = RingState.Out })).Should().Equal(("load leg taut", ""), ("rope slips toward the piece", ""));
        Told(Branch(_stuck), Branch(_stuck with { GroundTaut = false })).Should().Equal(("load leg slack", ""));
        Told(Branch(default), Branch(_stuck with { GroundTaut = false })).Should().BeEmpty("one leg alone pulls nothing");

        // The device, the wraps, the knot.
        var gives = _stuck with { DeviceGives = true };
        Told(Branch(_stuck), Branch(gives)).Should().Equal(("device runs", ""));
        Told(Branch(gives), Branch(_stuck)).Should().Equal(("device holds", ""));
        Told(Branch(_stuck), Both(Branch(gives), p => p.WrapsGive = true)).Should().Equal(("wraps tighten", ""));
        Told(Both(Branch(gives), p => p.WrapsGive = true), Branch(gives)).Should().Equal(("device runs", ""));
        Told(Both(Branch(gives), p => p.WrapsGive = true), Branch(_stuck)).Should().BeEmpty();
        Told(Branch(_stuck), Branch(_stuck with { HitchDraws = true })).Should().Equal(("hitch tightens", ""));
        Told(Branch(_stuck with { HitchDraws = true }), Branch(_stuck)).Should().BeEmpty();

        // The hand.
        Told(Hand(HandPart.Light), Hand(HandPart.Rising)).Should().Equal(("hand reacts", "building up force"));
        Told(Hand(HandPart.Light), Hand(HandPart.Plan)).Should().Equal(("hand reacts", "following the braking plan"));
        Told(Hand(HandPart.Rising), Hand(HandPart.Grip)).Should().Equal(("hand changes", "full grip"));
        Told(Hand(HandPart.Plan), Hand(HandPart.Full)).Should().Equal(("hand changes", "full grip"));
        Told(Hand(HandPart.Light), Hand(HandPart.Lost)).Should().Equal(("hand lost", ""));
        Told(Hand(HandPart.Plan), Hand(HandPart.Plan)).Should().BeEmpty();
    }

    [Fact]
    public void The_first_time_the_load_leg_comes_taut_is_kept_and_the_height_then()
    {
        var (system, recorder, y) = Begun();
        var start = y[StateLayout.PieceZ];
        recorder.Heights.Should().Be((start, double.NaN));
        void Change(double time, double down, NetworkBranch branch)
        {
            y[StateLayout.PieceZ] = start - down;
            system.Phase.Network = branch;
            recorder.OnEvent(time, y, Guard.LoadLeg);
        }

        Change(0.1, 0.05, default);
        recorder.FirstTaut.Should().Be(double.NaN);
        Change(0.5, 0.2, _stuck);
        Change(0.6, 0.3, default);
        Change(0.7, 0.4, _stuck);
        recorder.FirstTaut.Should().Be(0.5);
        recorder.Heights.Should().Be((start, start - 0.2));
        recorder.Stretches.Select(s => s.From).Should().Equal(0, 0.1, 0.5, 0.6, 0.7);
        recorder.Stretches.Select(s => s.Phase.Pulls).Should().Equal(false, false, true, false, true);
    }

    /// <summary>An undamped mode by itself swings as a sine: largest deflection sqrt(q^2 + (qdot / w)^2), largest speed w times that.</summary>
    [Theory]
    [InlineData(1.5, 0, 0)]
    [InlineData(0.7, 9, 0)]
    [InlineData(-1.1, -6, 0)]
    [InlineData(0.2, 25, 1)]
    [InlineData(-0.05, 3, 1)]
    public void A_swinging_spars_largest_deflection_speed_and_acceleration_are_a_sines_between_the_ends_of_steps_too(double q, double rate, int mode)
    {
        var (system, spar, recorder) = Swing(_ => (q, rate), mode, 2.2);
        var w = spar.AngularFrequencies[mode];
        var amplitude = Math.Sqrt((q * q) + (rate * rate / (w * w)));
        var (top, feet) = (Math.Abs(SparTests.ShapeAt(spar, 9).Shape[mode]) * amplitude, Math.Abs(SparTests.ShapeAt(spar, system.ClimberHeight).Shape[mode]) * amplitude);
        var seen = recorder.Extremes.Largest;
        seen[Channel.TipDeflection].Should().BeApproximately(top, 1e-7 * top);
        seen[Channel.ClimberDeflection].Should().BeApproximately(feet, 1e-7 * feet);
        seen[Channel.ClimberSpeed].Should().BeApproximately(feet * w, 1e-7 * feet * w);
        seen[Channel.ClimberAcceleration].Should().BeApproximately(feet * w * w, 1e-7 * feet * w * w);

        // q cos(w t) + (qdot / w) sin(w t) is largest, either way, where w t is the angle of (q, qdot / w), and half a turn later again.
        var turns = (recorder.Extremes.When[Channel.TipDeflection] * w / Math.PI) - (Math.Atan2(rate / w, q) / Math.PI);
        turns.Should().BeApproximately(Math.Round(turns), 1e-4);
    }

    [Fact]
    public void A_maximum_soon_after_the_start_is_found_within_the_first_step_too()
    {
        // The first mode just before it is farthest out, until it comes back through the middle.
        foreach (var soon in (double[])[1e-4, 3e-4, 1e-3, 2e-3, 4e-3, 8e-3, 0.016])
        {
            var (_, spar, recorder) = Swing(w => (Math.Cos(w * soon), w * Math.Sin(w * soon)), 0, 0.5);
            var top = Math.Abs(SparTests.ShapeAt(spar, 9).Shape[0]);
            recorder.Extremes.Largest[Channel.TipDeflection].Should().BeApproximately(top, 1e-8 * top);
        }
    }

    [Fact]
    public void Steps_scale_with_what_moves_the_forces()
    {
        var drop = SampleDrops.MediumLog.WithRope(r => r with { HitchTakeUp = new(0.06, 200, 3_000), WrapsTakeUp = new(0.05, 100, 2_000) });
        var system = TestBench.System(drop);
        var scales = new double[system.StateCount];
        system.ErrorScales(scales);
        scales[StateLayout.LostRiggingPoint..(StateLayout.LostHinge + 1)].Should().OnlyContain(s => s == 0, "no rate hangs on energies lost");
        (scales[StateLayout.PieceX], scales[StateLayout.PieceZ], scales[StateLayout.Lean]).Should().Be((1, 1, 1 / 1.25));
        (scales[StateLayout.PieceVx], scales[StateLayout.PieceVz], scales[StateLayout.LeanRate]).Should().Be((30, 30, 30 / 1.25));
        (scales[StateLayout.LoadLength], scales[StateLayout.GroundLength]).Should().Be((0.3, 0.3));
        (scales[StateLayout.HitchTaken], scales[StateLayout.WrapsTaken]).Should().Be((0.06, 0.05));
        system.Phase.HitchSpent = true;
        system.ErrorScales(scales);
        (scales[StateLayout.HitchTaken], scales[StateLayout.WrapsTaken]).Should().Be((0, 0.05));
        (system.Phase.HitchSpent, system.Phase.WrapsSpent) = (false, true);
        system.ErrorScales(scales);
        (scales[StateLayout.HitchTaken], scales[StateLayout.WrapsTaken]).Should().Be((0.06, 0));

        // A mode counts by what it moves, 0.3 m of the ring or of the climber's feet; above 250 rad/s by what it accelerates.
        var spar = new ModalSpar(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, drop.Computation.Gravity);
        var (ring, feet) = (SparTests.ShapeAt(spar, system.RingHeight).Shape, SparTests.ShapeAt(spar, system.ClimberHeight).Shape);
        for (var i = 0; i < drop.Computation.Modes; i++)
        {
            var w = spar.AngularFrequencies[i];
            var moved = scales[StateLayout.FirstMode + i] * Math.Max(Math.Abs(ring[i]), Math.Abs(feet[i]));
            moved.Should().BeApproximately(w < 250 ? 0.3 : 0.3 * 250 * 250 / (w * w), 1e-12);
            scales[StateLayout.FirstMode + drop.Computation.Modes + i].Should().BeApproximately(w * scales[StateLayout.FirstMode + i], 1e-9);
        }

        int[] anywhere = [StateLayout.PieceX, StateLayout.PieceZ, StateLayout.LoadLength, StateLayout.GroundLength];
        Enumerable.Range(0, system.StateCount).Where(system.IsFromAnywhere).Should().Equal(anywhere);
    }

    [Theory]
    [InlineData(0.06, 200, 3_000)]
    [InlineData(0.2, 50, 50)]
    public void A_take_up_rises_from_its_first_force_to_its_last_over_its_length(double length, double from, double to)
    {
        var line = new TakeUpLine(new(length, from, to));
        line.Force(0).Should().Be(from);
        line.Force(length).Should().BeApproximately(to, 1e-9);
        line.Slope.Should().BeApproximately((to - from) / length, 1e-9);
        new TakeUpLine(new(0, from, to)).Slope.Should().Be(0, "one without length rises nowhere");
        new TakeUpLine(new(0, from, to)).Force(0.1).Should().Be(from);
    }

    /// <summary>An undamped spar swings by itself: the piece falls free on 30 m of slack, far from spar and ground, and nobody stands on the spar.</summary>
    private static (DropSystem System, ModalSpar Spar, DropRecorder Recorder) Swing(Func<double, (double Q, double Rate)> start, int mode, double halfTurns)
    {
        var log = SampleDrops.MediumLog.WithRope(r => r with { Slack = 30 });
        var drop = log with { Spar = log.Spar with { ClimberMass = 0, DampingRatio = 0, Height = 9 }, Computation = log.Computation with { Modes = 2 } };
        var system = TestBench.System(drop);
        var spar = new ModalSpar(drop.Spar, 2, drop.Computation.Elements, drop.Computation.Gravity);
        var w = spar.AngularFrequencies[mode];
        var y = system.InitialState();
        (y[StateLayout.PieceX], y[StateLayout.PieceZ], y[StateLayout.PieceVx], y[StateLayout.PieceVz], y[StateLayout.LeanRate]) = (5, 40, 0, 0, 0);
        (y[StateLayout.FirstMode + mode], y[StateLayout.FirstMode + 2 + mode]) = start(w);
        y[StateLayout.LoadLength] = 100;
        system.Phase.Hinged = false;
        system.Begin(0, y);
        var recorder = new DropRecorder(system, drop.Piece.Mass * 9.8, null, WatchedChannels.All);
        new Integrator(system, new IntegrationOptions { RelativeTolerance = 1e-9, LargestStep = 0.05 }).Run(0, halfTurns * Math.PI / w, y, recorder);
        return (system, spar, recorder);
    }

    private static Action<DropPhase> Branch(NetworkBranch branch) => p => (p.Network, p.WrapsGive) = (branch, false);

    private static Action<DropPhase> Hand(HandPart part) => p => p.Hand = p.Hand with { Part = part };

    private static Action<DropPhase> Both(Action<DropPhase> first, Action<DropPhase> second) => p =>
    {
        first(p);
        second(p);
    };

    private static (DropSystem System, DropRecorder Recorder, double[] State) Begun()
    {
        var drop = SampleDrops.MediumLog;
        var system = TestBench.System(drop);
        var y = system.InitialState();
        system.Begin(0, y);
        system.Phase.Network = default;
        var recorder = new DropRecorder(system, drop.Piece.Mass * 9.8, null, WatchedChannels.All);
        recorder.OnBegin(0, y);
        return (system, recorder, y);
    }

    private static List<(string Kind, string Detail)> Told(Action<DropPhase> before, Action<DropPhase> after, int guard = Guard.LoadLeg)
    {
        var (system, recorder, y) = Begun();
        before(system.Phase);
        recorder.OnEvent(0.1, y, Guard.Bearing);
        var known = recorder.Events.Count;
        after(system.Phase);
        recorder.OnEvent(0.2, y, guard);
        recorder.Events.Skip(known).All(e => e.Time == 0.2).Should().BeTrue();
        return [.. recorder.Events.Skip(known).Select(e => (EventWords.Of(e.Kind), e.Detail))];
    }
}
