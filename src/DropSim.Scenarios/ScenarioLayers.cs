using System.Globalization;
using DropSim.Model;
using DropSim.Scenarios.Building;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Toml;

namespace DropSim.Scenarios;

/// <summary>A set-up as the file gives it: its own values, laid over the base tables.</summary>
internal sealed record SetupLayer(string Name, string Description, GivenValues Values, IReadOnlyList<ObstacleInput>? Obstacles);

/// <summary>A catch as the file gives it.</summary>
internal sealed record CatchLayer(string Name, GivenValues Values);

/// <summary>The layers of a file: base tables, set-ups, catches and obstacles, each understood on its own.</summary>
internal sealed class ScenarioLayers
{
    private const int MostSetups = 12;
    private const int MostCatches = 12;
    private const int MostObstacles = 20;
    private readonly SourceTable _root;
    private readonly ValueReader _reader;
    private readonly List<ScenarioProblem> _problems;

    public ScenarioLayers(SourceTable root, string file, List<ScenarioProblem> problems)
    {
        _root = root;
        _problems = problems;
        _reader = new ValueReader(file, problems);
        foreach ((string key, SourceNode node) in root.Entries)
        {
            SectionSpec? section = KeyTable.Sections.FirstOrDefault(s => s.Name == key && key.Length > 0);
            if (section is null)
            {
                SourceTable single = new(node.Line);
                single.Add(key, node);
                _reader.ReadSection(single, "", "", Top);
            }
            else if (!section.Array && node is SourceTable table)
            {
                _reader.ReadSection(table, key, "", section.InSetup ? Common : Top);
            }
            else if (section.Array != (node is SourceList { OfTables: true }))
            {
                _reader.Add(node.Line, key, section.Array ? "a single value or table" : "a value or a list", section.Array ? $"[[{key}]], once for each" : $"[{key}]");
            }
        }

        List<SetupLayer> setups = ReadSetups();
        Catches = ReadCatches();
        Obstacles = ReadObstacles(root, "");
        Uncertain = new UncertainTables(_reader, problems).Read(Tables(KeyTable.UncertainSection, UncertainKeys.All.Count));
        Setups = setups.Count > 0 ? setups : [new SetupLayer("base", "", new GivenValues(), null)];
    }

    /// <summary>Title, units, review: what belongs to the file and not to a case.</summary>
    public GivenValues Top { get; } = new();

    /// <summary>The base tables, under every set-up.</summary>
    public GivenValues Common { get; } = new();

    public IReadOnlyList<SetupLayer> Setups { get; }

    public IReadOnlyList<CatchLayer> Catches { get; }

    public IReadOnlyList<ObstacleInput> Obstacles { get; }

    public IReadOnlyList<UncertainEntry> Uncertain { get; }

    /// <summary>Line at which a table opens; 0 where it is not in the file.</summary>
    public int LineOf(string section) => _root.Find(section)?.Line ?? 0;

    private List<SetupLayer> ReadSetups()
    {
        List<SetupLayer> setups = [];
        foreach ((SourceTable table, int index) in Tables("setup", MostSetups))
        {
            string prefix = $"setup {Number(index)}: ";
            GivenValues own = new();
            SourceTable plain = new(table.Line);
            foreach ((string key, SourceNode node) in table.Entries)
            {
                SectionSpec? section = KeyTable.Sections.FirstOrDefault(s => s.Name == key && s.InSetup && !s.Array);
                if (section is not null && node is SourceTable sub)
                {
                    _reader.ReadSection(sub, key, prefix, own);
                }
                else if (key != "obstacle")
                {
                    plain.Add(key, node);
                }
            }

            GivenValues naming = new();
            _reader.ReadSection(plain, "setup", "", naming);
            string name = UniqueName(naming.Find("setup.name"), "setup", index, setups.Select(s => s.Name));
            setups.Add(new SetupLayer(name, naming.Find("setup.description")?.Word ?? "", own, table.Find("obstacle") is null ? null : ReadObstacles(table, prefix)));
        }

        return setups;
    }

    private List<CatchLayer> ReadCatches()
    {
        List<CatchLayer> catches = [];
        foreach ((SourceTable table, int index) in Tables("catch", MostCatches))
        {
            GivenValues values = new();
            _reader.ReadSection(table, "catch", "", values);
            if (table.Find("kind") is null)
            {
                _reader.Add(table.Line, "catch.kind", "nothing", KeyTable.ByPath["catch.kind"].Says);
            }

            GivenValue? name = values.Find("catch.name") ?? values.Find("catch.kind");
            catches.Add(new CatchLayer(UniqueName(name, "catch", index, catches.Select(c => c.Name)), values));
        }

        return _root.Find("catch") is null ? [.. CatchBuilder.Defaults().Select(c => new CatchLayer(c.Name, c.Values))] : catches;
    }

    private List<ObstacleInput> ReadObstacles(SourceTable parent, string prefix)
    {
        List<ObstacleInput> obstacles = [];
        if (parent.Find("obstacle") is not { } node)
        {
            return obstacles;
        }

        if (node is not SourceList { OfTables: true } list || list.Items.Count > MostObstacles)
        {
            if (prefix.Length > 0 || node is SourceList { OfTables: true })
            {
                _reader.Add(node.Line, prefix + "obstacle", "something else than a few tables", $"[[obstacle]], at most {Number(MostObstacles)}");
            }

            return obstacles;
        }

        foreach (SourceTable table in list.Items.OfType<SourceTable>())
        {
            GivenValues values = new();
            int before = _problems.Count;
            _reader.ReadSection(table, "obstacle", prefix, values);
            foreach (KeySpec missing in KeyTable.Of("obstacle").Where(k => k.Required && table.Find(k.Name) is null))
            {
                _reader.Add(table.Line, prefix + missing.Path, "nothing", missing.Says);
            }

            if (_problems.Count == before
                && (values.Find("obstacle.x-from")!.Number >= values.Find("obstacle.x-to")!.Number
                    || (values.Find("obstacle.z-from")?.Number ?? 0) >= values.Find("obstacle.z-to")!.Number))
            {
                _reader.Add(table.Line, prefix + "obstacle", $"the obstacle \"{values.Find("obstacle.name")!.Word}\" without size", "x-from < x-to and z-from < z-to");
            }

            if (_problems.Count == before)
            {
                obstacles.Add(new ObstacleInput(values.Find("obstacle.name")!.Word, values.Find("obstacle.x-from")!.Number, values.Find("obstacle.x-to")!.Number,
                    values.Find("obstacle.z-from")?.Number ?? 0, values.Find("obstacle.z-to")!.Number));
            }
        }

        return obstacles;
    }

    private IEnumerable<(SourceTable Table, int Index)> Tables(string key, int most)
    {
        if (_root.Find(key) is not SourceList { OfTables: true } list)
        {
            return [];
        }

        if (list.Items.Count > most)
        {
            _reader.Add(list.Line, key, $"{Number(list.Items.Count)} of [[{key}]]", $"at most {Number(most)}");
            return [];
        }

        return list.Items.OfType<SourceTable>().Select((t, i) => (t, i + 1));
    }

    private string UniqueName(GivenValue? given, string section, int index, IEnumerable<string> used)
    {
        string name = given is null ? $"{section}-{Number(index)}" : ScenarioReader.SafeName(given.Word);
        if (given is null)
        {
            if (section == "setup")
            {
                _reader.Add((_root.Find(section) as SourceList)?.Items[index - 1].Line ?? 0, $"{section}.name", "nothing", KeyTable.ByPath["setup.name"].Says);
            }
        }
        else if (used.Contains(name))
        {
            _reader.Add(given.Line, $"{section}.name", $"the name {name} a second time", "a different name for each");
        }

        return name;
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
