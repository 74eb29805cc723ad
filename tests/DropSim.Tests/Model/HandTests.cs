using CsCheck;
using DropSim.Model;

namespace DropSim.Tests.Model;

public sealed class HandTests
{
    private static readonly CatchInput _letRun = new()
    {
        Kind = CatchKind.LetRun,
        LightForce = 30,
        GripForce = 250,
        Brake = [new(0, 30), new(0.5, 30), new(1, 150)],
        ForceRate = 500,
        HangingRopeWeight = 10,
    };

    private static readonly Gen<CatchInput> _any =
        from light in Gen.Double[0, 200]
        from grip in Gen.Double[1, 600]
        from forces in Gen.Double[0, 500].Array[1, 4]
        from width in Gen.Double[0.05, 1]
        from rate in Gen.Double[50, 5_000]
        from hanging in Gen.Double[1, 30]
        from brakeFrom in Gen.Double[0, 1]
        select new CatchInput
        {
            Kind = CatchKind.LetRun,
            LightForce = light,
            GripForce = grip,
            ForceRate = rate,
            HangingRopeWeight = hanging,
            BrakeFrom = brakeFrom,
            Brake = [.. forces.Select((f, i) => new BrakePoint(i * width, f))],
        };

    [Fact]
    public void Before_it_reacts_the_hand_pulls_lightly_whatever_runs()
    {
        var hand = new Hand(_letRun);

        hand.Force(Hand.Start, time: 0.7, run: 3).Should().Be(30);
        hand.Guard(Hand.Start, 0.7, 3).Should().Be(double.PositiveInfinity);
        hand.Resolve(Hand.Start, 0.7, 3).Should().Be(Hand.Start);
    }

    [Fact]
    public void After_it_reacts_the_hand_follows_the_plan_between_its_points()
    {
        var hand = new Hand(_letRun);
        var memory = hand.React(time: 1, run: 0);

        // The plan starts at 30 N, what the light hand already pulls: nothing to build up.
        memory.Part.Should().Be(HandPart.Plan);
        hand.Force(memory, 1, 0).Should().Be(30);

        // A second later at 0.75 m, half way from 30 N at 0.5 m to 150 N at 1 m: 90 N, rising by 240 N per metre.
        memory = hand.Resolve(memory, 2, 0.75);
        memory.Part.Should().Be(HandPart.Plan);
        hand.Force(memory, 2, 0.75).Should().BeApproximately(90, 1e-12);
        hand.Slope(memory).Should().BeApproximately(240, 1e-12);

        // Beyond the last point it stays.
        memory = hand.Resolve(memory, 3, 4);
        hand.Force(memory, 3, 4).Should().Be(150);
        hand.Slope(memory).Should().Be(0);
    }

    [Fact]
    public void The_force_rises_no_faster_than_a_hand_can()
    {
        var hand = new Hand(_letRun with { Brake = [new(0, 200)] });
        var memory = hand.React(time: 1, run: 0.4);

        memory.Part.Should().Be(HandPart.Rising);
        hand.Rate(memory).Should().Be(500);

        // 30 N + 500 N/s x 0.2 s.
        hand.Force(memory, 1.2, 0.4).Should().BeApproximately(130, 1e-10);

        // 200 N are reached after 170 N / (500 N/s) = 0.34 s: the guard falls through zero there, and the plan takes over.
        hand.Guard(memory, 1.34 - 1e-6, 0.4).Should().BePositive();
        hand.Guard(memory, 1.34 + 1e-6, 0.4).Should().BeNegative();
        memory = hand.Resolve(memory, 1.34 + 1e-6, 0.4);
        memory.Part.Should().Be(HandPart.Plan);
        hand.Force(memory, 2, 0.4).Should().Be(200);
    }

    [Fact]
    public void The_grip_is_the_most_a_hand_gives()
    {
        var hand = new Hand(_letRun with { Brake = [new(0, 100), new(1, 900)], GripForce = 250, ForceRate = 1e6 });
        var memory = hand.Resolve(hand.React(time: 0, run: 0), 1, 0.5);

        memory.Part.Should().Be(HandPart.Grip, "the plan asks for 500 N at 0.5 m");
        hand.Force(memory, 1, 0.5).Should().Be(250);
        hand.Guard(memory, 1, 0.5).Should().BeApproximately(250, 1e-9, "the plan stands 250 N above the grip");
    }

    [Fact]
    public void The_light_hand_pulls_no_more_than_the_grip()
    {
        var hand = new Hand(_letRun with { LightForce = 400, GripForce = 250 });

        hand.Force(Hand.Start, 0, 0).Should().Be(250);
    }

    [Fact]
    public void The_plan_is_counted_from_the_run_at_which_braking_is_meant_to_begin()
    {
        var hand = new Hand(_letRun with { BrakeFrom = 0.8, LightForce = 200 });

        // Reacts at 0.2 m; the plan's 0.5 m is 1.3 m of run, its 1 m is 1.8 m.
        var memory = hand.Resolve(hand.React(time: 0, run: 0.2), 5, 1.55);

        hand.Force(memory, 5, 1.55).Should().BeApproximately(90, 1e-9);
    }

    [Fact]
    public void A_hand_that_reacts_late_counts_the_plan_from_where_it_reacted()
    {
        var hand = new Hand(_letRun with { BrakeFrom = 0.8 });
        var memory = hand.Resolve(hand.React(time: 0, run: 2), 5, 2.75);

        hand.Force(memory, 5, 2.75).Should().BeApproximately(90, 1e-9);
    }

    [Fact]
    public void A_full_grip_holds_at_once()
    {
        var hand = new Hand(_letRun with { Brake = [new(0, 400)] });
        var memory = hand.Resolve(Hand.GripNow(time: 0.3, run: 0.1), 0.3, 0.1);

        hand.Force(memory, 0.3, 0.1).Should().Be(250);
    }

    [Fact]
    public void A_hand_lost_leaves_the_hanging_rope_and_never_returns()
    {
        var hand = new Hand(_letRun);
        var lost = new HandMemory(HandPart.Lost, 0, 1, 0.5);

        hand.Force(lost, 2, 3).Should().Be(10);
        hand.Resolve(lost, 2, 3).Should().Be(lost);
        hand.Guard(lost, 2, 3).Should().Be(double.PositiveInfinity);
    }

    [Fact]
    public void At_a_point_of_the_plan_the_guard_falls_and_the_next_segment_takes_over_without_a_jump()
    {
        var hand = new Hand(_letRun);
        var memory = hand.React(time: 0, run: 0);

        hand.Guard(memory, 1, 0.5 - 1e-6).Should().BePositive();
        hand.Guard(memory, 1, 0.5 + 1e-6).Should().BeNegative();
        var next = hand.Resolve(memory, 1, 0.5);
        next.Segment.Should().Be(memory.Segment + 1);
        hand.Guard(next, 1, 0.5).Should().BePositive("the point just passed does not fire again");
        hand.Force(next, 1, 0.5).Should().BeApproximately(hand.Force(memory, 1, 0.5), 1e-12);
    }

    [Fact]
    public void Whatever_the_plan_the_hand_never_pulls_less_than_the_hanging_rope_nor_more_than_the_larger_of_grip_and_hanging_rope() =>
        Gen.Select(_any, Gen.Double[0, 5], Gen.Double[0, 4]).Sample((input, time, run) =>
        {
            var hand = new Hand(input);
            HandMemory[] memories =
            [
                Hand.Start, hand.Resolve(hand.React(0, run / 2), time, run), hand.Resolve(Hand.GripNow(0, 0), time, run),
                new(HandPart.Lost, 0, 0, 0),
            ];
            // A point of the plan belongs to the segment after it from a nanometre before it: a slope of 10 kN/m makes that 1e-5 N.
            foreach (var memory in memories)
            {
                hand.Force(memory, time, run).Should().BeInRange(input.HangingRopeWeight - 1e-5, Math.Max(input.GripForce, input.HangingRopeWeight) + 1e-5);
            }
        }, iter: 5_000);

    [Fact]
    public void The_part_that_is_chosen_is_the_smallest_of_rise_plan_and_grip() =>
        Gen.Select(_any, Gen.Double[0, 2], Gen.Double[0, 3]).Sample((input, time, run) =>
        {
            var hand = new Hand(input);
            var reacted = hand.React(0, 0);
            var memory = hand.Resolve(reacted, time, run);
            var x = run - input.BrakeFrom;
            var floored = input.Brake.Select(p => p with { Force = Math.Max(p.Force, input.HangingRopeWeight) }).ToArray();
            var plan = floored[0].Force;
            foreach (var (a, b) in floored.Zip(floored.Skip(1)))
            {
                plan += Math.Clamp((x - a.Run) / (b.Run - a.Run), 0, 1) * (b.Force - a.Force);
            }

            var grip = Math.Max(input.GripForce, input.HangingRopeWeight);
            var light = Math.Max(Math.Min(input.LightForce, input.GripForce), input.HangingRopeWeight);
            var expected = Math.Min(grip, Math.Min(plan, light + (input.ForceRate * time)));

            hand.Force(memory, time, run).Should().BeApproximately(expected, 1e-6);
            hand.Guard(memory, time, run).Should().BeGreaterThanOrEqualTo(-1e-6);
        }, iter: 5_000);

    [Fact]
    public void A_light_hand_that_grips_more_than_the_plan_asks_lets_go_to_the_plan()
    {
        // The hand holds 120 N before it reacts and its plan starts at 30 N: a plan may ask for less.
        var hand = new Hand(_letRun with { LightForce = 120 });
        var memory = hand.React(time: 1, run: 0);

        memory.Part.Should().Be(HandPart.Plan);
        hand.Force(memory, 1, 0).Should().Be(30);
    }
}
