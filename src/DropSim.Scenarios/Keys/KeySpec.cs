using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Keys;

/// <summary>What a key holds.</summary>
internal enum ValueKind
{
    /// <summary>A quantity with its unit, or a pure number.</summary>
    Quantity,

    /// <summary>Free text.</summary>
    Text,

    /// <summary>One of a few words.</summary>
    Choice,

    /// <summary>true or false.</summary>
    Flag,

    /// <summary>A list of texts.</summary>
    Texts,

    /// <summary>A list of small tables.</summary>
    Items,

    /// <summary>A quantity of the kind that another key names.</summary>
    OfKey,
}

/// <summary>
/// One key of the scenario format. The table of these drives the reader, the JSON schema and the documentation, so the
/// three cannot disagree.
/// </summary>
/// <param name="Section">Table it stands in ("rope"); empty for the top of the file.</param>
/// <param name="Name">Its name in the table.</param>
internal sealed record KeySpec(string Section, string Name)
{
    public string Path => Section.Length == 0 ? Name : $"{Section}.{Name}";

    public ValueKind Kind { get; init; } = ValueKind.Quantity;

    public QuantityKind Quantity { get; init; }

    /// <summary>Least value accepted, SI.</summary>
    public double Least { get; init; } = double.NegativeInfinity;

    /// <summary>Largest value accepted, SI.</summary>
    public double Most { get; init; } = double.PositiveInfinity;

    /// <summary>True where the value may be written with a range { value, low, high }.</summary>
    public bool MayRange { get; init; }

    /// <summary>Words accepted.</summary>
    public IReadOnlyList<string> Choices { get; init; } = [];

    /// <summary>Keys of each small table.</summary>
    public IReadOnlyList<KeySpec> Items { get; init; } = [];

    /// <summary>Largest number of entries of a list.</summary>
    public int MostItems { get; init; } = 40;

    /// <summary>True where it must be given.</summary>
    public bool Required { get; init; }

    /// <summary>Keys of one group exclude each other in one table, and replace each other in a set-up.</summary>
    public string Group { get; init; } = "";

    /// <summary>Default that does not depend on anything; null where there is none or it is computed.</summary>
    public KeyDefault? Default { get; init; }

    /// <summary>Default that depends on the size of the piece; null where it does not.</summary>
    public SizeDefault? BySize { get; init; }

    /// <summary>How a computed default is found, in words.</summary>
    public string Computed { get; init; } = "";

    /// <summary>What it is, in a sentence.</summary>
    public string Says { get; init; } = "";
}

/// <summary>A default with its range and where it comes from; texts in the format's own units.</summary>
internal sealed record KeyDefault(string Value, string Low, string High, string Source)
{
    public KeyDefault(string value, string source)
        : this(value, "", "", source)
    {
    }
}

/// <summary>A default by the size of the piece: light (50 kg), medium (150 kg), heavy log (500 kg) and top.</summary>
internal sealed record SizeDefault(KeyDefault Light, KeyDefault Medium, KeyDefault Heavy, KeyDefault Top)
{
    public SizeDefault(string quantities, string source)
        : this(Part(quantities, 0, source), Part(quantities, 1, source), Part(quantities, 2, source), Part(quantities, 3, source))
    {
    }

    /// <summary>Reads "value low high | value low high | ..."; the unit follows as the last word after a comma-free space.</summary>
    private static KeyDefault Part(string quantities, int index, string source)
    {
        string[] fields = quantities.Split('|');
        string[] words = fields[Math.Min(index, fields.Length - 1)].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        string unit = words[^1];
        return words.Length == 2
            ? new KeyDefault($"{words[0]} {unit}", source)
            : new KeyDefault($"{words[0]} {unit}", $"{words[1]} {unit}", $"{words[2]} {unit}", source);
    }
}
