using DropSim.Model;

namespace DropSim.Studies;

/// <summary>A line that a measure can be held against, because the scenario states a strength; it permits nothing.</summary>
/// <param name="Words">What it is ("sling's breaking strength").</param>
/// <param name="Value">Value in the measure's SI unit.</param>
public sealed record KnownLimit(string Words, double Value);

/// <summary>The strengths that a scenario states, as lines for the measures they belong to. Unknown strengths give no line.</summary>
public static class KnownLimits
{
    /// <summary>The lines for a measure, always in the same order for the same scenario.</summary>
    /// <param name="measure">Id of the measure.</param>
    /// <param name="input">The drop.</param>
    public static IReadOnlyList<KnownLimit> For(string measure, DropInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var s = input.Strength;
        var rope = s.Rope * s.WetFactor * s.AgeFactor;
        List<(string Words, double? Value)> strengths = measure switch
        {
            MeasureIds.RiggingPointForce when input.RiggingPoint.Kind != RiggingPointKind.NaturalUnion =>
                [("sling's breaking strength", s.Sling), (input.RiggingPoint.Kind == RiggingPointKind.Block ? "block's breaking strength" : "ring's breaking strength", s.RingOrBlock)],
            MeasureIds.LoadLegTension => [("rope's breaking strength at its knot", rope * s.KnotEfficiency), ("rope's breaking strength over the rigging point", rope * s.RingBendEfficiency)],
            MeasureIds.GroundLegTension => [("rope's breaking strength over the bollard", rope * s.BollardBendEfficiency), ("device's breaking strength", s.Device)],
            MeasureIds.WeakestLink => [("breaking strength, new and dry", 1.0)],
            MeasureIds.SparStress when input.Spar.Condition == StemCondition.Sound => [("stem's bending strength", input.Spar.BendingStrength)],
            _ => [],
        };
        var known = strengths.Where(l => l.Value is > 0 and < double.PositiveInfinity).Select(l => new KnownLimit(l.Words, l.Value!.Value)).ToList();
        if (s.DesignFactor is { } factor && measure != MeasureIds.SparStress)
        {
            known.AddRange(known.Select(l => l with { Words = FormattableString.Invariant($"{l.Words} over your design factor {factor:0.##}"), Value = l.Value / factor }).ToArray());
        }

        return known;
    }
}
