using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>A key whose value an uncertainty study may spread: how it is read off a drop and how it is set.</summary>
/// <param name="Key">Key path.</param>
/// <param name="Name">In the trade's words.</param>
/// <param name="Get">Its value in a drop, SI.</param>
/// <param name="Set">The drop with another value.</param>
internal sealed record UncertainKey(string Key, string Name, Func<DropInput, double> Get, Func<DropInput, double, DropInput> Set)
{
    /// <summary>Whether it means anything in a drop.</summary>
    public Func<DropInput, bool> Applies { get; init; } = static _ => true;

    public KeySpec Spec => KeyTable.ByPath[Key];

    public string Unit => UnitTable.For(Spec.Quantity).Si;
}

/// <summary>Every key that may stand in [[uncertain]].</summary>
internal static class UncertainKeys
{
    private static bool HasHand(DropInput d) => d.Catch.Kind != CatchKind.HardStop;

    private static bool Bends(DropInput d) => !d.Spar.Rigid;

    private static bool BendsAsSaid(DropInput d) => Bends(d) && d.Spar.MeasuredSwayFrequency is null;

    public static IReadOnlyList<UncertainKey> All { get; } =
    [
        new("piece.mass", "mass of the piece", static d => d.Piece.Mass, CaseRanges.WithMass),
        new("piece.hitch-height", "height of the hitch", static d => d.Piece.HitchHeight, static (d, v) => d with { Piece = d.Piece with { HitchHeight = v } }),
        new("piece.balance-point", "balance point", static d => d.Piece.CentreOfGravity, static (d, v) => d with { Piece = d.Piece with { CentreOfGravity = v } }),
        new("start.release-angle", "release angle", static d => d.Start.ReleaseAngle, static (d, v) => d with { Start = d.Start with { ReleaseAngle = v } }),
        new("spar.modulus", "modulus of the stem", static d => d.Spar.Modulus, static (d, v) => d with { Spar = d.Spar with { Modulus = v } }) { Applies = BendsAsSaid },
        new("spar.density", "density of the stem", static d => d.Spar.Density, static (d, v) => d with { Spar = d.Spar with { Density = v } }) { Applies = Bends },
        new("spar.damping", "damping of the stem", static d => d.Spar.DampingRatio, static (d, v) => d with { Spar = d.Spar with { DampingRatio = v } }) { Applies = Bends },
        new("spar.root-stiffness", "root stiffness", static d => d.Spar.RootStiffness, static (d, v) => d with { Spar = d.Spar with { RootStiffness = v } }) { Applies = BendsAsSaid },
        new("spar.climber-mass", "climber with gear", static d => d.Spar.ClimberMass, static (d, v) => d with { Spar = d.Spar with { ClimberMass = v } }) { Applies = Bends },
        new("rigging-point.below-cut", "cut to rigging point", static d => d.RiggingPoint.BelowCut, static (d, v) => d with { RiggingPoint = d.RiggingPoint with { BelowCut = v } }),
        new("rigging-point.friction", "friction at the rigging point", static d => d.RiggingPoint.Friction, static (d, v) => d with { RiggingPoint = d.RiggingPoint with { Friction = v } }),
        new("rigging-point.efficiency", "block efficiency", static d => d.RiggingPoint.Efficiency, static (d, v) => d with { RiggingPoint = d.RiggingPoint with { Efficiency = v } })
        {
            Applies = static d => d.RiggingPoint.Kind == RiggingPointKind.Block,
        },
        new("rope.stiffness", "rope stiffness", static d => d.Rope.Stiffness, CaseRanges.WithStiffness),
        new("rope.relaxing-ratio", "relaxing ratio of the rope", static d => d.Rope.RelaxingStiffnessRatio, static (d, v) => d with { Rope = d.Rope with { RelaxingStiffnessRatio = v } }),
        new("rope.relaxation-time", "relaxation time of the rope", static d => d.Rope.RelaxationTime, static (d, v) => d with { Rope = d.Rope with { RelaxationTime = v } }),
        new("rope.slack", "slack", static d => d.Rope.Slack, static (d, v) => d with { Rope = d.Rope with { Slack = v } }),
        new("rope.hitch-take-up.length", "take-up of the hitch, the wraps' with it", static d => d.Rope.HitchTakeUp.Length, static (d, v) => d with
        {
            Rope = d.Rope with
            {
                HitchTakeUp = d.Rope.HitchTakeUp with { Length = v },
                WrapsTakeUp = d.Rope.WrapsTakeUp with { Length = d.Rope.WrapsTakeUp.Length * v / d.Rope.HitchTakeUp.Length },
            },
        })
        {
            Applies = static d => d.Rope.HitchTakeUp.Length > 0,
        },
        new("device.friction", "device friction", static d => d.Device.Friction, static (d, v) => d with { Device = d.Device with { Friction = v } }),
        new("catch.light", "light hand", static d => d.Catch.LightForce, WithLight) { Applies = HasHand },
        new("catch.grip", "full hand", static d => d.Catch.GripForce, WithGrip) { Applies = HasHand },
        new("catch.reaction-time", "reaction time", static d => d.Catch.ReactionTime, static (d, v) => d with { Catch = d.Catch with { ReactionTime = v } }) { Applies = HasHand },
        new("catch.force-rate", "rise of the hand's force", static d => d.Catch.ForceRate, static (d, v) => d with { Catch = d.Catch with { ForceRate = v } }) { Applies = HasHand },
        new("computation.contact-stiffness", "contact stiffness", static d => d.Computation.ContactStiffness, static (d, v) => d with { Computation = d.Computation with { ContactStiffness = v } }),
        new("computation.contact-damping", "contact damping", static d => d.Computation.ContactDamping, static (d, v) => d with { Computation = d.Computation with { ContactDamping = v } }),
        new("computation.contact-friction", "friction of piece on stem", static d => d.Computation.ContactFriction, static (d, v) => d with { Computation = d.Computation with { ContactFriction = v } }),
    ];

    public static IReadOnlyList<string> Paths { get; } = [.. All.Select(k => k.Key)];

    public static UncertainKey Of(string key) => All.First(k => k.Key == key);

    /// <summary>Another light hand: what the plan pulls lightly it pulls so too.</summary>
    private static DropInput WithLight(DropInput input, double light) => input with
    {
        Catch = input.Catch with
        {
            LightForce = light,
            Brake = [.. input.Catch.Brake.Select(p => p.Force <= input.Catch.LightForce ? p with { Force = light } : p)],
        },
    };

    /// <summary>Another full hand: what the plan pulls beyond the light hand scales with the grip.</summary>
    private static DropInput WithGrip(DropInput input, double grip)
    {
        (double light, double scale) = (input.Catch.LightForce, grip / input.Catch.GripForce);
        return input with
        {
            Catch = input.Catch with
            {
                GripForce = grip,
                Brake = [.. input.Catch.Brake.Select(p => p.Force > light ? p with { Force = Math.Max(light, p.Force * scale) } : p)],
            },
        };
    }
}
