using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using DropSim.Model;
using DropSim.Scenarios.Building;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Toml;

namespace DropSim.Scenarios;

/// <summary>Reads a scenario file: TOML text to validated cases, or everything that is wrong with it at once.</summary>
public static class ScenarioReader
{
    /// <summary>Largest file read, bytes. A scenario written by a person has a few thousand.</summary>
    public const int LargestFile = 256 * 1024;

    /// <summary>How long opening a file may take.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private const int MostSetups = 12;
    private const int MostCatches = 12;
    private const int MostObstacles = 20;

    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The scenario, or the problems. A file that is not there, too big or not text is a problem, not an exception.</returns>
    public static ScenarioReadResult Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        string file = Path.GetFileName(path);
        try
        {
            if (Directory.Exists(path))
            {
                return Refused(file, "a folder", "a scenario file (.toml)");
            }

            // A pipe that nobody writes to never opens.
            Task<FileStream> opening = Task.Factory.StartNew(
                () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read),
                CancellationToken.None,
                TaskCreationOptions.LongRunning,
                TaskScheduler.Default);
            if (Task.WaitAny([opening], Patience) < 0)
            {
                return Refused(file, "a pipe or device that gives nothing", "a scenario file (.toml)");
            }

            using FileStream stream = opening.GetAwaiter().GetResult();
            byte[] buffer = new byte[LargestFile + 1];
            int count = stream.ReadAtLeast(buffer, buffer.Length, false);
            return Read(buffer.AsSpan(0, count), file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Refused(file, "a file that cannot be opened", "a readable scenario file (.toml)");
        }
    }

    /// <summary>Reads the bytes of a file.</summary>
    /// <param name="bytes">The bytes, UTF-8.</param>
    /// <param name="file">File name for messages and for the scenario's name.</param>
    public static ScenarioReadResult Read(ReadOnlySpan<byte> bytes, string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (bytes.Length > LargestFile)
        {
            return Refused(file, "a file above 256 kB", "a scenario written by a person");
        }

        if (bytes.IndexOf((byte)0) >= 0 || !TryDecode(bytes, out string text))
        {
            return Refused(file, "bytes that are not UTF-8 text", "a text file saved as UTF-8");
        }

        if (string.IsNullOrWhiteSpace(text))
        {
            return Refused(file, "an empty file", "at least [piece], [spar], [rigging-point] and [rope]");
        }

        List<ScenarioProblem> problems = [];
        SourceTable? root = new SourceTreeBuilder(file, problems).Build(text);
        if (root is null || problems.Count > 0)
        {
            return new ScenarioReadResult(null, Sorted(problems));
        }

        Scenario? scenario = new Reading(root, file, problems).Run(Convert.ToHexStringLower(SHA256.HashData(bytes))[..12]);
        return problems.Count > 0 ? new ScenarioReadResult(null, Sorted(problems)) : new ScenarioReadResult(scenario, []);
    }

    /// <summary>A name made safe for files: lower-case letters, digits and single hyphens.</summary>
    internal static string SafeName(string name)
    {
        StringBuilder safe = new();
        foreach (char c in name)
        {
            if (char.IsAsciiLetterOrDigit(c))
            {
                safe.Append(char.ToLowerInvariant(c));
            }
            else if (safe.Length > 0 && safe[^1] != '-')
            {
                safe.Append('-');
            }
        }

        string result = safe.ToString().Trim('-');
        return result.Length == 0 ? "scenario" : result[..Math.Min(result.Length, 60)].TrimEnd('-');
    }

    private static bool TryDecode(ReadOnlySpan<byte> bytes, out string text)
    {
        try
        {
            text = new UTF8Encoding(false, true).GetString(bytes).TrimStart('\ufeff');
            return true;
        }
        catch (DecoderFallbackException)
        {
            text = "";
            return false;
        }
    }

    private static ScenarioReadResult Refused(string file, string found, string expected) =>
        new(null, [new ScenarioProblem(file, 0, "", found, expected)]);

    private static List<ScenarioProblem> Sorted(IEnumerable<ScenarioProblem> problems) => [.. problems.Distinct().OrderBy(p => p.Line)];

    /// <summary>The reading of one file.</summary>
    private sealed class Reading(SourceTable root, string file, List<ScenarioProblem> problems)
    {
        private readonly ValueReader _reader = new(file, problems);

        public Scenario? Run(string hash)
        {
            GivenValues top = new();
            GivenValues common = new();
            foreach ((string key, SourceNode node) in root.Entries)
            {
                SectionSpec? section = KeyTable.Sections.FirstOrDefault(s => s.Name == key && key.Length > 0);
                if (section is null)
                {
                    SourceTable single = new(node.Line);
                    single.Add(key, node);
                    _reader.ReadSection(single, "", "", top);
                }
                else if (!section.Array && node is SourceTable table)
                {
                    _reader.ReadSection(table, key, "", section.InSetup ? common : top);
                }
                else if (section.Array != (node is SourceList { OfTables: true }))
                {
                    _reader.Add(node.Line, key, section.Array ? "a single value or table" : "a value or a list", section.Array ? $"[[{key}]], once for each" : $"[{key}]");
                }
            }

            List<(string Name, string Description, GivenValues Values, List<ObstacleInput>? Obstacles)> setups = Setups();
            List<(string Name, GivenValues Values)> catches = Catches();
            List<ObstacleInput> obstacles = Obstacles(root, "");
            if (setups.Count == 0)
            {
                setups.Add(("base", "", new GivenValues(), null));
            }

            List<DropCase> cases = [];
            foreach ((string setup, _, GivenValues own, List<ObstacleInput>? ownObstacles) in setups)
            {
                GivenValues merged = common.With(own);
                string prefix = setups.Count > 1 || setup != "base" ? $"set-up {setup}: " : "";
                if (!HasRequired(merged, setup, setups.Count))
                {
                    continue;
                }

                foreach ((string catchName, GivenValues catchValues) in catches)
                {
                    CaseValues values = new(merged.With(catchValues), file, prefix, problems);
                    if (CaseBuilder.Build(values, Catalogue.Load(), setup, catchName, ownObstacles ?? obstacles) is { } built)
                    {
                        cases.Add(built);
                    }
                }
            }

            return problems.Count > 0 ? null : Assemble(top, hash, cases, [.. setups.Select(s => new ScenarioSetup(s.Name, s.Description))]);
        }

        private Scenario Assemble(GivenValues top, string hash, List<DropCase> cases, List<ScenarioSetup> setups)
        {
            string name = SafeName(Path.GetFileNameWithoutExtension(file));
            IReadOnlyList<string> List(string key) => top.Find("review." + key)?.Texts ?? [];
            bool review = top.All.Any(v => v.Spec.Section == "review");
            return new Scenario(
                name,
                top.Find("title")?.Word is { Length: > 0 } title ? title : name,
                top.Find("description")?.Word ?? "",
                top.Find("units")?.Word == "us" ? UnitPreference.Us : UnitPreference.Metric,
                hash,
                cases,
                setups,
                review ? new ScenarioReview(List("seen"), List("assumed"), List("unknown")) : null);
        }

        private bool HasRequired(GivenValues values, string setup, int setups)
        {
            bool complete = true;
            foreach (KeySpec spec in KeyTable.All.Where(k => k.Required && !KeyTable.Sections.First(s => s.Name == k.Section).Array && !values.Has(k.Path)))
            {
                complete = false;
                int line = root.Find(spec.Section)?.Line ?? 0;
                if (!problems.Any(p => p.Path.EndsWith(spec.Path, StringComparison.Ordinal)))
                {
                    _reader.Add(line, setups > 1 ? $"set-up {setup}: {spec.Path}" : spec.Path, "nothing", spec.Says);
                }
            }

            if (!values.Has("piece.butt-diameter") && !values.Has("piece.butt-girth"))
            {
                complete = false;
                if (!problems.Any(p => p.Path.Contains("piece.butt", StringComparison.Ordinal)))
                {
                    _reader.Add(root.Find("piece")?.Line ?? 0, "piece.butt-girth", "neither butt-girth nor butt-diameter", "one of them, for example butt-girth = \"126 cm\"");
                }
            }

            return complete;
        }

        private List<(string Name, string Description, GivenValues Values, List<ObstacleInput>? Obstacles)> Setups()
        {
            List<(string, string, GivenValues, List<ObstacleInput>?)> setups = [];
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
                string name = UniqueName(naming.Find("setup.name"), "setup", index, setups.Select(s => s.Item1));
                setups.Add((name, naming.Find("setup.description")?.Word ?? "", own, table.Find("obstacle") is null ? null : Obstacles(table, prefix)));
            }

            return setups;
        }

        private List<(string Name, GivenValues Values)> Catches()
        {
            List<(string Name, GivenValues Values)> catches = [];
            foreach ((SourceTable table, int index) in Tables("catch", MostCatches))
            {
                GivenValues values = new();
                _reader.ReadSection(table, "catch", "", values);
                if (table.Find("kind") is null)
                {
                    _reader.Add(table.Line, "catch.kind", "nothing", KeyTable.ByPath["catch.kind"].Says);
                }

                GivenValue? name = values.Find("catch.name") ?? values.Find("catch.kind");
                catches.Add((UniqueName(name, "catch", index, catches.Select(c => c.Name)), values));
            }

            return root.Find("catch") is null ? [.. CatchBuilder.Defaults()] : catches;
        }

        private List<ObstacleInput> Obstacles(SourceTable parent, string prefix)
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
                int before = problems.Count;
                _reader.ReadSection(table, "obstacle", prefix, values);
                foreach (KeySpec missing in KeyTable.Of("obstacle").Where(k => k.Required && table.Find(k.Name) is null))
                {
                    _reader.Add(table.Line, prefix + missing.Path, "nothing", missing.Says);
                }

                if (problems.Count == before
                    && (values.Find("obstacle.x-from")!.Number >= values.Find("obstacle.x-to")!.Number
                        || (values.Find("obstacle.z-from")?.Number ?? 0) >= values.Find("obstacle.z-to")!.Number))
                {
                    _reader.Add(table.Line, prefix + "obstacle", $"the obstacle \"{values.Find("obstacle.name")!.Word}\" without size", "x-from < x-to and z-from < z-to");
                }

                if (problems.Count == before)
                {
                    obstacles.Add(new ObstacleInput(values.Find("obstacle.name")!.Word, values.Find("obstacle.x-from")!.Number, values.Find("obstacle.x-to")!.Number,
                        values.Find("obstacle.z-from")?.Number ?? 0, values.Find("obstacle.z-to")!.Number));
                }
            }

            return obstacles;
        }

        private IEnumerable<(SourceTable Table, int Index)> Tables(string key, int most)
        {
            if (root.Find(key) is not SourceList { OfTables: true } list)
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
            string name = given is null ? $"{section}-{Number(index)}" : SafeName(given.Word);
            if (given is null)
            {
                if (section == "setup")
                {
                    _reader.Add((root.Find(section) as SourceList)?.Items[index - 1].Line ?? 0, $"{section}.name", "nothing", KeyTable.ByPath["setup.name"].Says);
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
}
