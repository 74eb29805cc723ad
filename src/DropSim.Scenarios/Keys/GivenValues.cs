namespace DropSim.Scenarios.Keys;

/// <summary>One value of the file, understood and inside its limits.</summary>
internal sealed record GivenValue(KeySpec Spec, int Line)
{
    public double Number { get; init; } = double.NaN;

    public double? Low { get; init; }

    public double? High { get; init; }

    public string Word { get; init; } = "";

    public IReadOnlyList<string> Texts { get; init; } = [];

    public IReadOnlyList<IReadOnlyDictionary<string, double>> Items { get; init; } = [];
}

/// <summary>The values of one layer of a file (its base tables, a set-up, a catch), by key path.</summary>
internal sealed class GivenValues
{
    private readonly Dictionary<string, GivenValue> _values = new(StringComparer.Ordinal);

    public IEnumerable<GivenValue> All => _values.Values;

    public GivenValue? Find(string path) => _values.GetValueOrDefault(path);

    public bool Has(string path) => _values.ContainsKey(path);

    public void Add(GivenValue value) => _values.TryAdd(value.Spec.Path, value);

    /// <summary>
    /// These values with those of <paramref name="over"/> laid over them. A key of a group replaces the group's other keys,
    /// and a test whose key is replaced goes as a whole.
    /// </summary>
    public GivenValues With(GivenValues over)
    {
        GivenValues result = new();
        foreach (GivenValue value in over._values.Values)
        {
            result.Add(value);
        }

        HashSet<string> groups = [.. over._values.Values.Select(v => v.Spec.Group).Where(g => g.Length > 0)];
        HashSet<string> testsReplaced = [.. _values.Values
            .Where(v => groups.Contains(v.Spec.Group) && v.Spec.Section.EndsWith("-test", StringComparison.Ordinal))
            .Select(v => v.Spec.Section)];
        HashSet<string> testsGiven = [.. over._values.Values.Select(v => v.Spec.Section)];
        foreach (GivenValue value in _values.Values)
        {
            bool replaced = groups.Contains(value.Spec.Group)
                || (testsReplaced.Contains(value.Spec.Section) && !testsGiven.Contains(value.Spec.Section));
            if (!replaced)
            {
                result.Add(value);
            }
        }

        return result;
    }
}
