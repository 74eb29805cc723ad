namespace DropSim.Scenarios;

/// <summary>One value laid over a scenario file, named by its key path.</summary>
/// <param name="Path">Key path as in a file, such as "rope.slack" or "catch.grip".</param>
/// <param name="Text">The value as it would be written in a file, without quotes: "0.4 m", "2.5", "ring", "true".</param>
public sealed record KeyChange(string Path, string Text)
{
    /// <summary>The set-up that is changed; null for all.</summary>
    public string? Setup { get; init; }

    /// <summary>The catch that is changed (keys of "catch" only); null for all.</summary>
    public string? Catch { get; init; }

    /// <summary>The value in SI units where it is known as a number; not a number where <see cref="Text"/> holds it.</summary>
    internal double Si { get; private init; } = double.NaN;

    /// <summary>A quantity that is known in SI units, to its last bit.</summary>
    /// <param name="path">Key path.</param>
    /// <param name="value">The value in SI units (angles in rad, fractions as numbers); finite, or +infinity where the key allows it.</param>
    public static KeyChange Of(string path, double value) =>
        new(path, value.ToString("R", System.Globalization.CultureInfo.InvariantCulture)) { Si = value };
}
