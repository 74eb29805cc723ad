using System.Globalization;

namespace DropSim.Model;

/// <summary>A quantity inside a sentence, written in the units of whoever reads it.</summary>
/// <param name="Value">Value in SI.</param>
/// <param name="Unit">SI unit.</param>
/// <param name="Round">True for a round figure that claims no second digit.</param>
public readonly record struct Amount(double Value, string Unit, bool Round = false)
{
    /// <summary>In SI with two digits, or one where it is a round figure.</summary>
    public override string ToString() => Value.ToString(Round || Value >= 9.95 ? "0" : "0.0", CultureInfo.InvariantCulture) + " " + Unit;
}

/// <summary>How often, inside a sentence.</summary>
/// <param name="Count">How often.</param>
public readonly record struct Times(int Count)
{
    /// <summary>"once", "twice", "3 times".</summary>
    public override string ToString() => Count switch { 1 => "once", 2 => "twice", _ => FormattableString.Invariant($"{Count} times") };
}

/// <summary>A sentence about a run whose quantities stay apart from its words.</summary>
/// <param name="text">The sentence; quantities in it are <see cref="Amount"/>s, parts of it may be remarks themselves.</param>
public sealed class Remark(FormattableString text)
{
    /// <summary>The sentence with its quantities as they are asked for.</summary>
    /// <param name="write">Writes a quantity with its unit.</param>
    public string Written(Func<Amount, string> write)
    {
        ArgumentNullException.ThrowIfNull(write);
        return string.Format(CultureInfo.InvariantCulture, text.Format, [.. text.GetArguments().Select(a => a switch
        {
            Amount amount => write(amount),
            Remark part => part.Written(write),
            _ => a,
        })]);
    }

    /// <summary>The same for two remarks that differ in their numbers alone.</summary>
    public string Pattern => string.Format(CultureInfo.InvariantCulture, text.Format, [.. text.GetArguments().Select(a => a switch
    {
        Remark part => part.Pattern,
        _ => Number(a) is null ? a : "#",
    })]);

    /// <summary>The first number in it; 0 for a remark without one.</summary>
    public double FirstNumber => text.GetArguments().Select(a => a is Remark part ? part.FirstNumber : Number(a)).FirstOrDefault(n => n is not null) ?? 0;

    /// <summary>The sentence in SI.</summary>
    public override string ToString() => Written(a => a.ToString());

    private static double? Number(object? argument) => argument switch
    {
        Amount amount => amount.Value,
        Times times => times.Count,
        double number => number,
        int number => number,
        _ => null,
    };
}
