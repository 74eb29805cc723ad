namespace DropSim.Scenarios.Keys;

internal static partial class KeyTable
{
    /// <summary>The table of distributions.</summary>
    public const string UncertainSection = "uncertain";

    private static IEnumerable<KeySpec> UncertainKeySpecs()
    {
        const string S = UncertainSection;
        yield return Text(S, "key", "Key of the input, such as \"rope.slack\". `catch.grip` scales all pulls of the hand, `rope.hitch-take-up.length` the take-up of the wraps too.") with { Required = true };
        yield return Word(S, "distribution", "Its shape. Triangular: between low and high, most likely at mid; log-triangular: the same in the logarithm; uniform: between low and high; normal, lognormal: low and high are the 5 % and 95 % points; fixed: not spread at all.",
            "triangular", "log-triangular", "uniform", "normal", "lognormal", "fixed") with
        { Default = new("triangular", Choice) };
        yield return OfKey("low", "Lower end, or 5 % point; needed unless fixed.");
        yield return OfKey("mid", "Triangular shapes: the most likely value.") with { Computed = "the case's own value" };
        yield return OfKey("high", "Upper end, or 95 % point; needed unless fixed.");
        yield return Text(S, "source", "Where it comes from, in words.") with { Computed = "its line in the file" };
    }

    private static KeySpec OfKey(string name, string says) => new(UncertainSection, name) { Kind = ValueKind.OfKey, Says = says, Computed = "none" };
}
