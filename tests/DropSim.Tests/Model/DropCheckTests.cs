using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>The last line of defence: what each rule says is permitted is permitted, and the next value beyond it is refused, in its own words.</summary>
public sealed class DropCheckTests
{
    private const double Nan = double.NaN;
    private const double Infinite = double.PositiveInfinity;

    private static readonly DropInput _drop = SampleDrops.MediumLog;

    private static double Above(double x) => Math.BitIncrement(x);

    private static double Below(double x) => Math.BitDecrement(x);

    private static DropInput Piece(Func<PieceInput, PieceInput> change) => _drop with { Piece = change(_drop.Piece) };

    private static DropInput Rope(Func<RopeInput, RopeInput> change) => _drop.WithRope(change);

    private static DropInput Spar(Func<SparInput, SparInput> change) => _drop.WithSpar(change);

    private static DropInput Point(Func<RiggingPointInput, RiggingPointInput> change) => _drop.WithRiggingPoint(change);

    private static DropInput Device(Func<DeviceInput, DeviceInput> change) => _drop with { Device = change(_drop.Device) };

    private static DropInput Catch(Func<CatchInput, CatchInput> change) => _drop with { Catch = change(_drop.Catch) };

    private static DropInput Start(Func<StartInput, StartInput> change) => _drop with { Start = change(_drop.Start) };

    private static DropInput Computation(Func<ComputationInput, ComputationInput> change) => _drop with { Computation = change(_drop.Computation) };

    /// <summary>Word for word what is said, drops that it permits (the last before the edge), drops that it refuses (the first beyond it).</summary>
    private static readonly (string Says, DropInput[] Permits, DropInput[] Refuses)[] _rules =
    [
        ("The piece's mass must be positive.", [], [Piece(p => p with { Mass = 0 }), Piece(p => p with { Mass = Infinite }), Piece(p => p with { Mass = Nan })]),
        ("The piece's moment of inertia must be positive.", [], [Piece(p => p with { Inertia = 0 }), Piece(p => p with { Inertia = Infinite })]),
        ("The piece's length and diameters must be positive.", [Piece(p => p with { TipDiameter = 0 })],
            [Piece(p => p with { Length = 0 }), Piece(p => p with { ButtDiameter = 0 }), Piece(p => p with { TipDiameter = -double.Epsilon })]),
        ("The piece's centre of gravity must lie between its ends.", [],
            [Piece(p => p with { CentreOfGravity = 0 }), Piece(p => p with { CentreOfGravity = p.Length })]),
        ("The hitch must be on the piece.", [Piece(p => p with { HitchHeight = p.Length })],
            [Piece(p => p with { HitchHeight = 0 }), Piece(p => p with { HitchHeight = Above(p.Length) })]),
        ("The centre of gravity's sideways offset must be smaller than the diameter.", [],
            [Piece(p => p with { SidewaysOffset = p.ButtDiameter }), Piece(p => p with { SidewaysOffset = -p.ButtDiameter })]),
        ("Bare length must be positive, crown width and drag area not negative.", [Piece(p => p with { CrownHalfWidth = 0, DragArea = 0 })],
            [Piece(p => p with { BareLength = 0 }), Piece(p => p with { CrownHalfWidth = -double.Epsilon }), Piece(p => p with { DragArea = -double.Epsilon })]),
        ("The spar's height must be positive.", [], [Spar(s => s with { Height = 0 }), Spar(s => s with { Height = Infinite })]),
        ("The spar needs at least two positive diameters.", [], [Spar(s => s with { Diameters = [new(0, 0.5)] }), Spar(s => s with { Diameters = [new(0, 0.5), new(9, 0)] })]),
        ("The spar's diameters must be given in order of height.", [], [Spar(s => s with { Diameters = [new(0, 0.5), new(0, 0.4), new(9, 0.3)] }), Spar(s => s with { Diameters = [new(0, 0.5), new(9, 0.4), new(9, 0.3)] })]),
        ("The spar's density and modulus must be positive.", [], [Spar(s => s with { Density = 0 }), Spar(s => s with { Modulus = 0 })]),
        ("The root's stiffness must be positive (infinite for rigid).", [Spar(s => s with { RootStiffness = Infinite })], [Spar(s => s with { RootStiffness = 0 }), Spar(s => s with { RootStiffness = Nan })]),
        ("The spar's damping ratio must be between 0 and 0.5.", [Spar(s => s with { DampingRatio = 0 }), Spar(s => s with { DampingRatio = Below(0.5) })],
            [Spar(s => s with { DampingRatio = 0.5 }), Spar(s => s with { DampingRatio = -double.Epsilon })]),
        ("The climber's mass and distance below the cut must not be negative.", [Spar(s => s with { ClimberMass = 0, ClimberBelowCut = 0 })],
            [Spar(s => s with { ClimberMass = -double.Epsilon }), Spar(s => s with { ClimberBelowCut = -double.Epsilon })]),
        ("The rigging point must be below the cut and above the ground.", [], [Point(r => r with { BelowCut = 0 }), Point(r => r with { BelowCut = _drop.Spar.Height })]),
        ("The rigging point's stand-off must not be negative.", [Point(r => r with { StandOff = 0 })], [Point(r => r with { StandOff = -double.Epsilon })]),
        ("The rigging point's friction must be between 0 and 2.", [Point(r => r with { Friction = 0 }), Point(r => r with { Friction = 2 })],
            [Point(r => r with { Friction = -double.Epsilon }), Point(r => r with { Friction = Above(2) })]),
        ("A block's efficiency must be above 0 and at most 1.", [Point(r => r with { Efficiency = 1 }), Point(r => r with { Efficiency = 0.01 })], [Point(r => r with { Efficiency = 0 }), Point(r => r with { Efficiency = Above(1) })]),
        ("The rope's stiffness must be positive.", [], [Rope(r => r with { Stiffness = 0 })]),
        ("The rope's relaxing branch must not be negative, its time positive.", [Rope(r => r with { RelaxingStiffnessRatio = 0 })],
            [Rope(r => r with { RelaxingStiffnessRatio = -double.Epsilon }), Rope(r => r with { RelaxationTime = 0 })]),
        ("The rope's viscous time must be above 0 and at most 3 ms.", [Rope(r => r with { ViscousTime = 0.003 })], [Rope(r => r with { ViscousTime = 0 }), Rope(r => r with { ViscousTime = Above(0.003) })]),
        ("Slack must not be negative.", [Rope(r => r with { Slack = 0 })], [Rope(r => r with { Slack = -double.Epsilon })]),
        ("A take-up needs a length, a positive starting force and an end force not below it.",
            [Rope(r => r with { HitchTakeUp = new(0.05, 100, 100), WrapsTakeUp = new(0.1, 50, 400) })],
            [Rope(r => r with { HitchTakeUp = new(-0.05, 100, 200) }), Rope(r => r with { HitchTakeUp = new(0.05, 0, 200) }), Rope(r => r with { WrapsTakeUp = new(0.05, 100, Below(100)) })]),
        ("Wraps must be between 0 and 20.", [Device(d => d with { Wraps = 0 }), Device(d => d with { Wraps = 20 })], [Device(d => d with { Wraps = -double.Epsilon }), Device(d => d with { Wraps = Above(20) })]),
        ("The device's friction must be between 0 and 2.", [Device(d => d with { Friction = 0 }), Device(d => d with { Friction = 2 })], [Device(d => d with { Friction = -double.Epsilon }), Device(d => d with { Friction = Above(2) })]),
        ("The device must be below the rigging point.", [Device(d => d with { Z = 0 }), Device(d => d with { Z = Below(_drop.Spar.Height - _drop.RiggingPoint.BelowCut) })],
            [Device(d => d with { Z = -double.Epsilon }), Device(d => d with { Z = _drop.Spar.Height - _drop.RiggingPoint.BelowCut })]),
        ("The hanging rope's weight must be positive.", [], [Catch(c => c with { HangingRopeWeight = 0 })]),
        ("Hand forces and times must not be negative.", [Catch(c => c with { LightForce = 0, ReactionTime = 0 })],
            [Catch(c => c with { LightForce = -double.Epsilon }), Catch(c => c with { GripForce = 0 }), Catch(c => c with { ForceRate = 0 }), Catch(c => c with { ReactionTime = -double.Epsilon })]),
        ("The braking plan needs points in order of rope run.", [Catch(c => c with { Brake = [new(0, 30)] })], [Catch(c => c with { Brake = [] }), Catch(c => c with { Brake = [new(0, 30), new(0, 40)] })]),
        ("A face cut deeper than half the diameter is not computed.", [Start(s => s with { FaceCutDepth = 0 }), Start(s => s with { FaceCutDepth = 0.5 })],
            [Start(s => s with { FaceCutDepth = -double.Epsilon }), Start(s => s with { FaceCutDepth = Above(0.5) })]),

        // The medium log with a face cut of half its diameter hinges on its axis and balances upright: lean past balance is all there is.
        ("The face cut closes before the piece passes its balance.", [Start(s => s with { FaceCutDepth = 0.5, LeanPastBalance = Below(s.ReleaseAngle) })], [Start(s => s with { FaceCutDepth = 0.5, LeanPastBalance = s.ReleaseAngle })]),
        ("The piece would leave the edge before it moves.", [Start(s => s with { Kind = StartKind.PushedOff, LeanPastBalance = Below(s.ReleaseAngle) })], [Start(s => s with { Kind = StartKind.PushedOff, LeanPastBalance = s.ReleaseAngle })]),
        ("Modes must be 0 to 8, elements 4 to 200.", [Computation(c => c with { Modes = 0, Elements = 4 }), Computation(c => c with { Modes = 8, Elements = 200 })],
            [Computation(c => c with { Modes = -1 }), Computation(c => c with { Modes = 9 }), Computation(c => c with { Elements = 3 }), Computation(c => c with { Elements = 201 })]),
        ("The end time must be above 0 and at most 600 s.", [Computation(c => c with { EndTime = 600 })], [Computation(c => c with { EndTime = 0 }), Computation(c => c with { EndTime = Above(600) })]),
    ];

    public static TheoryData<string> Rules => [.. _rules.Select(r => r.Says)];

    [Theory]
    [MemberData(nameof(Rules))]
    public void A_rule_permits_up_to_its_edge_and_refuses_what_lies_beyond(string says)
    {
        var (_, permits, refuses) = _rules.Single(r => r.Says == says);
        foreach (var drop in permits)
        {
            DropCheck.Problems(drop).Should().BeEmpty();
        }

        foreach (var drop in refuses)
        {
            DropCheck.Problems(drop).Should().Contain(says).And.OnlyContain(p => p == says || Follows(p), "nothing else is wrong with it");
        }
    }

    [Fact]
    public void Everything_that_is_wrong_is_said_at_once_a_line_each()
    {
        var drop = Piece(p => p with { Mass = 0, Inertia = 0 });

        FluentActions.Invoking(() => DropCheck.ThrowIfInvalid(drop)).Should().Throw<DropInputException>()
            .WithMessage($"The piece's mass must be positive.{Environment.NewLine}The piece's moment of inertia must be positive.");
        FluentActions.Invoking(() => DropCheck.ThrowIfInvalid(_drop)).Should().NotThrow();
    }

    [Fact]
    public void Nothing_at_all_is_refused()
    {
        foreach (var call in (Action[])[
            () => DropCheck.Problems(null!), () => DropSimulator.Run(null!), () => RopeInUse.Of(null!), () => _ = new SparSections(null!), () => _ = new SparTaper(null!, 9),
            () => StemCuts.Of(null!, new CutRule(1, 100, 0, 0), 900), () => StemCuts.Of(_drop.Spar.Diameters, null!, 900), () => StemCuts.DiameterAt(null!, 1)])
        {
            call.Should().Throw<ArgumentNullException>();
        }
    }

    [Fact]
    public void A_stretch_curve_that_cannot_be_a_ropes_is_refused()
    {
        DropCheck.Problems(Rope(r => r with { StretchCurve = [new(0.02, 4000)] })).Should().BeEmpty();
        DropCheck.Problems(Rope(r => r with { StretchCurve = [new(0.02, 4000), new(0.02, 5000)] })).Should().ContainSingle()
            .Which.Should().StartWith("Strain and tension of a stretch curve increase from point to point.");
    }

    // With no height, or a single diameter, other things cannot hold either.
    private static bool Follows(string problem) =>
        problem is "The rigging point must be below the cut and above the ground." or "The device must be below the rigging point."
            or "The piece's centre of gravity must lie between its ends." or "The hitch must be on the piece." or "The centre of gravity's sideways offset must be smaller than the diameter.";
}
