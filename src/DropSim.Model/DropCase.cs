namespace DropSim.Model;

/// <summary>One combination of a scenario, ready to compute: a set-up with a catch.</summary>
/// <param name="Setup">Name of the set-up, as in file names ("ring").</param>
/// <param name="CatchName">Name of the catch, as in file names ("hard-stop").</param>
/// <param name="Input">The central values.</param>
/// <param name="Ranges">What is uncertain, with its range.</param>
/// <param name="Notes">Every value really used with where it came from.</param>
/// <param name="Remarks">What a reader must know before believing the result.</param>
public sealed record DropCase(
    string Setup,
    string CatchName,
    DropInput Input,
    IReadOnlyList<InputRange> Ranges,
    IReadOnlyList<InputNote> Notes,
    IReadOnlyList<Remark> Remarks)
{
    /// <summary>What a reader must know, in SI.</summary>
    public IReadOnlyList<string> Warnings => [.. Remarks.Select(r => r.ToString())];

    /// <summary>The name in file names: set-up, hyphen, catch.</summary>
    public string Name => $"{Setup}-{CatchName}";

    /// <summary>Limits that a crew sets itself, for studies that count what stays inside them; no drop is computed from them.</summary>
    public IReadOnlyList<StatedLimit> Limits { get; init; } = [];

    /// <summary>The inputs that an uncertainty study spreads, with their distributions.</summary>
    public IReadOnlyList<UncertainInput> Uncertain { get; init; } = [];
}

/// <summary>A limit that a crew sets itself.</summary>
/// <param name="Key">Its name in the scenario's table of limits ("room").</param>
/// <param name="Value">Value, SI; strengths as a share.</param>
/// <param name="Given">True where the scenario or an option gave it.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record StatedLimit(string Key, double Value, bool Given, string Source);

/// <summary>One value that was used.</summary>
/// <param name="Path">Key in the scenario file's terms ("rope.stiffness").</param>
/// <param name="Value">The value in SI with its unit, in invariant text ("220000 N").</param>
/// <param name="Range">Its range in the same form; empty where none is stated.</param>
/// <param name="Given">True where the scenario gave it, false where a default was used.</param>
/// <param name="Source">Where it comes from: "scenario file line 12", "common practice, no source", a publication, "from memory".</param>
public sealed record InputNote(string Path, string Value, string Range, bool Given, string Source)
{
    /// <summary>The value as a number in SI; null for words, lists and what is not known.</summary>
    public double? Number { get; init; }

    /// <summary>Lower end of its range in SI; null where none is stated.</summary>
    public double? Low { get; init; }

    /// <summary>Upper end of its range in SI; null where none is stated.</summary>
    public double? High { get; init; }
}
