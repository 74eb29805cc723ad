namespace DropSim.Reporting;

/// <summary>A number and its unit as they are shown, still apart.</summary>
/// <param name="Number">The number, or a word in its place.</param>
/// <param name="Unit">The unit; "" for none.</param>
internal readonly record struct ShownQuantity(string Number, string Unit)
{
    /// <summary>Two of them with a word between: "4.0 to 4.3 kN", the unit once where it is one.</summary>
    /// <param name="a">The first.</param>
    /// <param name="between">The word.</param>
    /// <param name="b">The second.</param>
    public static string Join(ShownQuantity a, string between, ShownQuantity b) =>
        a.Unit.Length > 0 && a.Unit == b.Unit ? $"{a.Number} {between} {b}" : $"{a} {between} {b}";

    /// <summary>"4.3 kN".</summary>
    public override string ToString() => Unit.Length == 0 ? Number : $"{Number} {Unit}";
}

/// <summary>What there is to tell of the worst of a measure's range.</summary>
public enum WorstKind
{
    /// <summary>No range was computed.</summary>
    NoRange,

    /// <summary>A value.</summary>
    Value,

    /// <summary>A bound: some run within the range was cut short.</summary>
    Bound,

    /// <summary>Both ends, where neither is worse.</summary>
    Span,

    /// <summary>No room at all.</summary>
    NothingLeft,

    /// <summary>The quantity had not come about when the runs were over.</summary>
    NotReached,

    /// <summary>Nothing is known.</summary>
    Unknown,
}
