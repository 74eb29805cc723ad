using DropSim.Model;
using DropSim.Studies.Uncertainty;

namespace DropSim.Studies.Draws;

/// <summary>
/// Which coordinate of a draw belongs to which input. An input has its place by its key, so that another input more or less moves none of the
/// others; one thing under one key (this stem's root, this log's mass) has one value in every case of a scenario, while two ropes or two rigging
/// points have each their own.
/// </summary>
internal static class DrawDimensions
{
    /// <summary>Every key that can be drawn, in an order that only grows.</summary>
    private static readonly string[] _keys =
    [
        "piece.mass", "device.friction", "rigging-point.friction", "rigging-point.efficiency", "rope.stiffness", "rope.relaxing-ratio",
        "start.release-angle", "rope.slack", "rope.hitch-take-up.length", "spar.root-stiffness", "catch.grip", "catch.light",
        "catch.reaction-time", "spar.modulus", "spar.damping", "computation.contact-damping", "computation.contact-friction",
        "sway-test.time", "piece.hitch-height", "piece.balance-point", "spar.density", "spar.climber-mass", "rigging-point.below-cut",
        "rope.relaxation-time", "catch.force-rate", "computation.contact-stiffness", "sling.seating", "sling.stiffness",
    ];

    /// <summary>Keys of things that may be two in one scenario.</summary>
    private static readonly string[] _several =
    [
        "rigging-point.friction", "rigging-point.efficiency", "rope.stiffness", "rope.relaxing-ratio", "rope.hitch-take-up.length",
        "rigging-point.below-cut", "rope.relaxation-time",
    ];

    /// <summary>First coordinate of second and further things.</summary>
    private const int FirstOther = 36;

    /// <summary>The coordinate of each uncertain input of each case.</summary>
    /// <param name="cases">The cases of a scenario.</param>
    public static int[][] Of(IReadOnlyList<DropCase> cases)
    {
        var things = new Dictionary<string, List<InputDistribution>>(StringComparer.Ordinal);
        return [.. cases.Select(c => c.Uncertain.Select(u => Of(u, things)).ToArray())];
    }

    private static int Of(UncertainInput input, Dictionary<string, List<InputDistribution>> things)
    {
        var place = Array.IndexOf(_keys, input.Key);
        if (place < 0)
        {
            throw new ArgumentException($"The key '{input.Key}' has no place among the draws.", nameof(input));
        }

        var several = Array.IndexOf(_several, input.Key);
        if (several < 0)
        {
            return place;
        }

        if (!things.TryGetValue(input.Key, out var known))
        {
            things[input.Key] = known = [];
        }

        var which = known.IndexOf(input.Distribution);
        if (which < 0)
        {
            which = known.Count;
            known.Add(input.Distribution);
        }

        // Beyond what there is room for two things share a coordinate: their own values still differ.
        var room = (DirectionNumbers.MostDimensions - FirstOther) / _several.Length;
        return which == 0 ? place : FirstOther + (((which - 1) % room) * _several.Length) + several;
    }

    /// <summary>Every key that has a place.</summary>
    public static IReadOnlyList<string> Keys => _keys;
}
