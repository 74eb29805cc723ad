using DropSim.Model;
using DropSim.Scenarios.Keys;

namespace DropSim.Scenarios.Building;

/// <summary>How many turns hold a piece still, and how far that may be off (docs/theory/dismantling.md).</summary>
internal static class WrapsBuilder
{
    /// <summary>The band of a case over its ranges; from a hold test where the file has one.</summary>
    /// <param name="built">The case.</param>
    /// <param name="given">The values that it was built from.</param>
    public static WrapsBand Band(DropCase built, GivenValues given)
    {
        DropInput input = built.Input;
        (double Low, double High) Range(string key, double central) =>
            built.Ranges.FirstOrDefault(r => r.Key == key) is { } r ? (r.Low, r.High) : (central, central);
        (double lightest, double heaviest) = Range("piece.mass", input.Piece.Mass);
        (double leastMu, double mostMu) = Range("device.friction", input.Device.Friction);
        bool tested = given.Has("hold-test.hand");
        double low, high;
        if (tested)
        {
            double Test(string key) => given.Find("hold-test." + key)!.Number;
            (low, high) = RiggingBuilder.TestedTurns(Test("mass"), Test("wraps"), Test("hand"), (lightest, heaviest), (leastMu, mostMu));
        }
        else
        {
            (double leastRing, double mostRing) = Range("rigging-point.friction", input.RiggingPoint.Friction);
            (double leastEta, double mostEta) = Range("rigging-point.efficiency", input.RiggingPoint.Efficiency);
            low = RiggingBuilder.HoldingTurns(lightest, mostMu, RiggingBuilder.HangingRatio(input.RiggingPoint.Kind, mostRing, leastEta));
            high = RiggingBuilder.HoldingTurns(heaviest, leastMu, RiggingBuilder.HangingRatio(input.RiggingPoint.Kind, leastRing, mostEta));
        }

        return new WrapsBand(input.Device.Wraps, given.Has("device.wraps"), Math.Floor(4 * low) / 4, Math.Ceiling(4 * high) / 4, tested);
    }
}
