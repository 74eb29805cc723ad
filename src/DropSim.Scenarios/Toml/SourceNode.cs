namespace DropSim.Scenarios.Toml;

/// <summary>A node of a scenario file: what is written, and where.</summary>
/// <param name="Line">Line, from 1.</param>
internal abstract record SourceNode(int Line);

/// <summary>A table with its keys in the order of the file.</summary>
internal sealed record SourceTable(int Line) : SourceNode(Line)
{
    private readonly List<KeyValuePair<string, SourceNode>> _entries = [];

    public IReadOnlyList<KeyValuePair<string, SourceNode>> Entries => _entries;

    /// <summary>True for a table opened by its own header or braces, which may not be opened again.</summary>
    public bool Closed { get; set; }

    public SourceNode? Find(string key)
    {
        foreach (KeyValuePair<string, SourceNode> entry in _entries)
        {
            if (entry.Key == key)
            {
                return entry.Value;
            }
        }

        return null;
    }

    public void Add(string key, SourceNode node) => _entries.Add(new(key, node));
}

/// <summary>A list: an array of values or of tables.</summary>
internal sealed record SourceList(int Line, bool OfTables) : SourceNode(Line)
{
    public List<SourceNode> Items { get; } = [];
}

/// <summary>What a single value is.</summary>
internal enum ScalarKind
{
    /// <summary>Text in quotes.</summary>
    Text,

    /// <summary>A number without quotes.</summary>
    Number,

    /// <summary>true or false.</summary>
    Flag,

    /// <summary>Anything else (a date).</summary>
    Other,
}

/// <summary>A single value as written.</summary>
internal sealed record SourceScalar(int Line, ScalarKind Kind, string Text) : SourceNode(Line);
