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

/// <summary>A sentence about a run whose quantities stay apart from its words.</summary>
/// <param name="text">The sentence; quantities in it are <see cref="Amount"/>s.</param>
public sealed class Remark(FormattableString text)
{
    /// <summary>The sentence with its quantities as they are asked for.</summary>
    /// <param name="write">Writes a quantity with its unit.</param>
    public string Written(Func<Amount, string> write)
    {
        ArgumentNullException.ThrowIfNull(write);
        return string.Format(CultureInfo.InvariantCulture, text.Format, [.. text.GetArguments().Select(a => a is Amount amount ? write(amount) : a)]);
    }

    /// <summary>The sentence in SI.</summary>
    public override string ToString() => Written(a => a.ToString());
}
