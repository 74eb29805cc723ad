namespace DropSim.Model;

/// <summary>One uncertain input with its stated range and how to set it.</summary>
/// <param name="Name">Name in the trade's words, for reports ("device friction").</param>
/// <param name="Unit">Unit of <paramref name="Low"/> and <paramref name="High"/> in SI ("kg", "m", "" for none).</param>
/// <param name="Central">Central value.</param>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
/// <param name="Source">Where the range comes from.</param>
/// <param name="Apply">Returns the input with this quantity set to a value.</param>
public sealed record InputRange(
    string Name, string Unit, double Central, double Low, double High, string Source, Func<DropInput, double, DropInput> Apply)
{
    /// <summary>Key of the scenario file that this is about ("rope.slack").</summary>
    public string Key { get; init; } = "";

    /// <summary>What its numbers are.</summary>
    public RangeForm Form { get; init; }

    /// <summary>Its name the way people think of it, where <see cref="Name"/> says how it is varied ("root stiffness").</summary>
    public string ShortName { get => field ?? Name; init; }
}

/// <summary>What the numbers of a range are.</summary>
public enum RangeForm
{
    /// <summary>Values of the quantity itself.</summary>
    Value,

    /// <summary>Factors on what the scenario has.</summary>
    Factor,}
