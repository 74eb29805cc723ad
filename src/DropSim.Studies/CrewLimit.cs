using DropSim.Model;

namespace DropSim.Studies;

/// <summary>A limit with what it is compared with in a run.</summary>
/// <param name="Key">Name as in the scenario's table of limits.</param>
/// <param name="Label">In words.</param>
/// <param name="Name">What it protects, in a word or two.</param>
/// <param name="Unit">SI unit; "" for a share.</param>
/// <param name="Least">True where the value is the least that must be left (room); false where it is the largest.</param>
/// <param name="Stated">Value and source.</param>
/// <param name="Of">Reads the quantity off a run; null where it is not known or not asked.</param>
public sealed record CrewLimit(string Key, string Label, string Name, string Unit, bool Least, StatedLimit Stated, Func<DropRun, double?> Of)
{
    /// <summary>Value, SI.</summary>
    public double Value => Stated.Value;

    /// <summary>True where a run stays inside, false where not, null where the quantity is not known or not asked.</summary>
    /// <param name="run">The run.</param>
    public bool? Holds(DropRun run) => Of(run) is not { } value ? null : double.IsNaN(value) ? false : Least ? value >= Value : value <= Value;

    /// <summary>How much of the limit a run uses: 1 at the limit, more beyond it; 0 where the quantity is not known or not asked.</summary>
    /// <param name="run">The run.</param>
    public double Used(DropRun run) => Of(run) is not { } value ? 0
        : double.IsNaN(value) ? double.PositiveInfinity
        : Least ? value > 0 ? Value / value : double.PositiveInfinity
        : Value > 0 ? value / Value : value > 0 ? double.PositiveInfinity : 0;

    /// <summary>The limits of a case.</summary>
    /// <param name="dropCase">The case.</param>
    public static IReadOnlyList<CrewLimit> For(DropCase dropCase)
    {
        ArgumentNullException.ThrowIfNull(dropCase);
        return [.. dropCase.Limits.Select(From).OfType<CrewLimit>()];
    }

    private static CrewLimit? From(StatedLimit stated) => stated.Key switch
    {
        "rope" => new("rope", "load on the rope, of its breaking strength", "rope", "", false, stated, RopeShare),
        "sling" => new("sling", "load on the sling, of its breaking strength", "sling", "", false, stated,
            run => run.Input.Strength.Sling is { } sling && run.Input.RiggingPoint.Kind != RiggingPointKind.NaturalUnion ? run[MeasureIds.RiggingPointForce].Value / sling : null),
        "spar" => new("spar", "stress in the spar, of its bending strength", "spar", "", false, stated,
            run => run.Input.Spar is { Condition: StemCondition.Sound, BendingStrength: { } strength } ? run[MeasureIds.SparStress].Value / strength : null),
        "climber-movement" => new("climber-movement", "movement at the climber's feet", "climber's feet", "m", false, stated,
            run => run.Input.Spar.ClimberMass > 0 ? run[MeasureIds.ClimberMovement].Value : null),
        "room" => new("room", "room left under the piece", "room", "m", true, stated, run => run[MeasureIds.Room].Value),
        "hand" => new("hand", "force the hand must hold", "hand", "N", false, stated,
            run => run.Input.Catch.Kind == CatchKind.HardStop ? null : run[MeasureIds.HandForce].Value),
        _ => null,
    };

    /// <summary>Load on the rope where it is worst, as a share of what is left of its breaking strength there; null where the strength is unknown.</summary>
    private static double? RopeShare(DropRun run)
    {
        var strength = run.Input.Strength;
        if (strength.Rope * strength.WetFactor * strength.AgeFactor is not { } rope)
        {
            return null;
        }

        var load = run[MeasureIds.LoadLegTension].Value;
        var ground = run[MeasureIds.GroundLegTension].Value;

        // A place whose efficiency is not known still bears the rope's own strength.
        return Math.Max(
            load / (rope * (strength.KnotEfficiency ?? 1)),
            Math.Max(Math.Max(load, ground) / (rope * (strength.RingBendEfficiency ?? 1)), ground / (rope * (strength.BollardBendEfficiency ?? 1))));
    }
}
