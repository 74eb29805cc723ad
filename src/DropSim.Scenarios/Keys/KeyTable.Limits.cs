using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Keys;

internal static partial class KeyTable
{
    private static IEnumerable<KeySpec> LimitKeys()
    {
        const string S = "limits";
        yield return Number(S, "rope", QuantityKind.Fraction, 0.01, 1, "Largest tension in the rope as a share of its breaking strength at the worst place, new and dry.") with { Default = new("20 %", "a design factor of 5, common practice, no source; 1 / strength.design-factor where that is given") };
        yield return Number(S, "sling", QuantityKind.Fraction, 0.01, 1, "Largest force on the rigging point as a share of the sling's breaking strength as configured.") with { Default = new("20 %", "a design factor of 5, common practice, no source; 1 / strength.design-factor where that is given") };
        yield return Number(S, "spar", QuantityKind.Fraction, 0.01, 1, "Largest stress in the spar as a share of its green bending strength.") with { Default = new("33 %", Choice) };
        yield return Number(S, "climber-movement", QuantityKind.Length, 0.001, 5, "Largest movement of the spar at the climber's feet.") with { Default = new("0.3 m", Choice) };
        yield return Number(S, "room", QuantityKind.Length, 0, 50, "Least room under the piece, to ground or obstacle.") with { Default = new("1 m", Choice) };
        yield return Number(S, "hand", QuantityKind.Force, 1, 3000, "Largest force that the hand must hold; not asked where the rope is locked off.") with { Default = new("250 N", "two hands hold 200 to 400 N, common practice, no source") };
    }
}
