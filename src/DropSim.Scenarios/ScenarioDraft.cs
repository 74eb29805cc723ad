using DropSim.Model;
using DropSim.Scenarios.Building;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Toml;

namespace DropSim.Scenarios;

/// <summary>
/// A scenario file, parsed once, from which scenarios with changed values are built: <c>draft.Build([new("rope.slack", "0.4 m")])</c>.
/// A changed value meets the same checks, and a refusal reads the same, as if it stood in the file. Immutable: drafts may build on many
/// threads at once.
/// </summary>
public sealed class ScenarioDraft
{
    private readonly ScenarioLayers? _layers;
    private readonly string _file;
    private readonly string _hash;
    private readonly IReadOnlyList<ScenarioProblem> _problems;

    private readonly Lazy<IReadOnlyList<DropCase>> _own;

    private string _text = "";

    private ScenarioDraft(string file, string hash, ScenarioLayers? layers, IReadOnlyList<ScenarioProblem> problems)
    {
        _file = file;
        _hash = hash;
        _layers = layers;
        _problems = problems;
        _own = new(() => Build([]).Scenario?.Cases ?? []);
    }

    /// <summary>Opens a file.</summary>
    /// <param name="path">Path of the file.</param>
    public static ScenarioDraft Open(string path) => ScenarioReader.Open(path);

    /// <summary>Whether the file holds the plan of a whole spar (see <see cref="SparPlanReader"/>) instead of single drops.</summary>
    public bool IsSparFile => _layers is not null && _layers.Top.All.Any(v => v.Spec.Section == SparPlanReader.Section);

    /// <summary>Names of the set-ups, in the order of the file; empty where the file could not be read.</summary>
    public IReadOnlyList<string> Setups => [.. _layers?.Setups.Select(s => s.Name) ?? []];

    /// <summary>Names of the catches, in the order of the file; empty where the file could not be read.</summary>
    public IReadOnlyList<string> Catches => [.. _layers?.Catches.Select(c => c.Name) ?? []];

    /// <summary>Builds the scenario as the file has it.</summary>
    /// <returns>The scenario, or everything that is wrong with it.</returns>
    public ScenarioReadResult Build() => Build([]);

    /// <summary>Builds the scenario with changed values: keys of tables in every set-up, keys of <c>catch</c> in every catch.</summary>
    /// <param name="changes">What to change; of two changes of one key the last one holds. A change that names a set-up or catch touches no other.</param>
    /// <returns>The scenario, or everything that is wrong with it; a problem of a change has line 0.</returns>
    public ScenarioReadResult Build(IReadOnlyList<KeyChange> changes) => Build(changes, null);

    /// <summary>Builds some of the cases only; what is wrong with the others is not looked for.</summary>
    /// <param name="cases">Indices into the cases of the whole scenario; others than it has are left out.</param>
    /// <param name="changes">What to change, as in <see cref="Build(IReadOnlyList{KeyChange})"/>.</param>
    /// <returns>The scenario with these cases alone, in its order, or everything that is wrong with them.</returns>
    public ScenarioReadResult BuildOnly(IReadOnlyCollection<int> cases, params IReadOnlyList<KeyChange> changes)
    {
        ArgumentNullException.ThrowIfNull(cases);
        return Build(changes, cases);
    }

    private ScenarioReadResult Build(IReadOnlyList<KeyChange> changes, IReadOnlyCollection<int>? wanted)
    {
        ArgumentNullException.ThrowIfNull(changes);
        List<ScenarioProblem> problems = [.. _problems];
        if (_layers is null)
        {
            return new ScenarioReadResult(null, Sorted(problems));
        }

        if (_layers.Top.All.FirstOrDefault(v => v.Spec.Section == SparPlanReader.Section) is { } plan)
        {
            problems.Add(new ScenarioProblem(_file, plan.Line, SparPlanReader.Section, "the plan of a whole spar", "a scenario of single drops; for this file use dropsim dismantle"));
            return new ScenarioReadResult(null, Sorted(problems));
        }

        List<(KeyChange Change, GivenValue Value)> laid = Understood(changes, problems);
        List<DropCase> cases = [];
        int index = -1;
        foreach (SetupLayer setup in _layers.Setups)
        {
            GivenValues merged = Changed(_layers.Common.With(setup.Values), laid, c => c.Setup is null || c.Setup == setup.Name, ofCatch: false);
            string prefix = _layers.Setups.Count > 1 || setup.Name != "base" ? $"set-up {setup.Name}: " : "";
            if (!HasRequired(merged, setup.Name, problems))
            {
                // No case can be built, but a mistyped name is to be told in the same breath.
                CaseValues named = new(merged, _file, prefix, problems);
                PieceBuilder.Species(named, Catalogue.Load(), "piece.species");
                PieceBuilder.Species(named, Catalogue.Load(), "spar.species");
                RopeBuilder.CheckNames(named, Catalogue.Load());
                continue;
            }

            foreach (CatchLayer held in _layers.Catches)
            {
                index++;
                if (wanted?.Contains(index) == false)
                {
                    continue;
                }

                GivenValues own = Changed(held.Values, laid, c => (c.Setup is null || c.Setup == setup.Name) && (c.Catch is null || c.Catch == held.Name), ofCatch: true);
                CaseValues values = new(merged.With(own), _file, prefix, problems);
                if (CaseBuilder.Build(values, Catalogue.Load(), setup.Name, held.Name, setup.Obstacles ?? _layers.Obstacles) is { } built)
                {
                    DropCase? filed = laid.Count == 0 || _layers.Uncertain.Count == 0 ? null : _own.Value.FirstOrDefault(c => c.Name == built.Name);
                    cases.Add(UncertainInputs.AddTo(built, filed, _layers.Uncertain, (line, path, found, expected) => problems.Add(new ScenarioProblem(_file, line, prefix + path, found, expected))));
                }
            }
        }

        foreach (UncertainEntry idle in _layers.Uncertain.Where(e => !cases.Any(c => e.Key.Applies(c.Input))))
        {
            cases = [.. cases.Select(c => c with { Remarks = [.. c.Remarks, new Remark($"uncertain {idle.Key.Key} (line {idle.Line}) has no effect in any case.")] })];
        }

        return problems.Count > 0 ? new ScenarioReadResult(null, Sorted(problems)) : new ScenarioReadResult(Assemble(_layers, cases), []);
    }

    /// <summary>The layers of the file; null where it could not be read.</summary>
    internal ScenarioLayers? Layers => _layers;

    /// <summary>Everything wrong that was found while the file was parsed.</summary>
    internal IReadOnlyList<ScenarioProblem> Problems => _problems;

    /// <summary>First hex digits of the hash of the file's bytes.</summary>
    internal string Hash => _hash;

    /// <summary>Turns that hold the piece of a case still, with their band.</summary>
    /// <param name="built">A case that this draft built.</param>
    public WrapsBand WrapsOf(DropCase built)
    {
        ArgumentNullException.ThrowIfNull(built);
        SetupLayer? setup = _layers?.Setups.FirstOrDefault(s => s.Name == built.Setup);
        return WrapsBuilder.Band(built, setup is null ? new GivenValues() : _layers!.Common.With(setup.Values));
    }

    /// <summary>Parses the text of a file.</summary>
    internal static ScenarioDraft Parse(string text, string file, string hash)
    {
        List<ScenarioProblem> problems = [];
        SourceTable? root = new SourceTreeBuilder(file, problems).Build(text.TrimStart(ScenarioReader.ByteOrderMark));
        return root is null || problems.Count > 0
            ? new ScenarioDraft(file, hash, null, problems)
            : new ScenarioDraft(file, hash, new ScenarioLayers(root, file, problems), problems) { _text = text };
    }

    /// <summary>The draft of a file that could not be read.</summary>
    internal static ScenarioDraft Unreadable(ScenarioProblem problem) => new(problem.File, "", null, [problem]);

    private List<(KeyChange Change, GivenValue Value)> Understood(IReadOnlyList<KeyChange> changes, List<ScenarioProblem> problems)
    {
        ValueReader reader = new(_file, problems);
        List<(KeyChange, GivenValue)> values = [];
        foreach (KeyChange change in changes)
        {
            if (change.Setup is { } setup && !Setups.Contains(setup))
            {
                reader.Add(0, change.Path, $"a change of the set-up {setup}", "one of " + string.Join(", ", Setups), NearestName.Of(setup, Setups));
            }
            else if (change.Catch is { } held && !Catches.Contains(held))
            {
                reader.Add(0, change.Path, $"a change of the catch {held}", "one of " + string.Join(", ", Catches), NearestName.Of(held, Catches));
            }
            else if (reader.ReadChange(change) is { } value)
            {
                values.Add((change, value));
            }
        }

        return values;
    }

    private static GivenValues Changed(GivenValues values, List<(KeyChange Change, GivenValue Value)> laid, Func<KeyChange, bool> applies, bool ofCatch)
    {
        foreach ((KeyChange change, GivenValue value) in laid)
        {
            if ((value.Spec.Section == "catch") == ofCatch && applies(change))
            {
                GivenValues over = new();
                over.Add(value);
                values = values.With(over);
            }
        }

        return values;
    }

    private bool HasRequired(GivenValues values, string setup, List<ScenarioProblem> problems)
    {
        ValueReader reader = new(_file, problems);
        bool complete = true;
        foreach (KeySpec spec in KeyTable.RequiredInCase.Where(k => !values.Has(k.Path)))
        {
            complete = false;
            if (!problems.Any(p => p.Path.EndsWith(spec.Path, StringComparison.Ordinal)))
            {
                reader.Add(_layers!.LineOf(spec.Section), _layers.Setups.Count > 1 ? $"set-up {setup}: {spec.Path}" : spec.Path, "nothing", spec.Says);
            }
        }

        if (!values.Has("piece.butt-diameter") && !values.Has("piece.butt-girth"))
        {
            complete = false;
            if (!problems.Any(p => p.Path.Contains("piece.butt", StringComparison.Ordinal)))
            {
                reader.Add(_layers!.LineOf("piece"), "piece.butt-girth", "neither butt-girth nor butt-diameter", "one of them, for example butt-girth = \"126 cm\"");
            }
        }

        return complete;
    }

    private Scenario Assemble(ScenarioLayers layers, List<DropCase> cases)
    {
        string name = ScenarioReader.SafeName(Path.GetFileNameWithoutExtension(_file));
        GivenValues top = layers.Top;
        IReadOnlyList<string> List(string key) => top.Find("review." + key)?.Texts ?? [];
        bool review = top.All.Any(v => v.Spec.Section == "review");
        return new Scenario(
            name,
            top.Find("title")?.Word is { Length: > 0 } title ? title : name,
            top.Find("description")?.Word ?? "",
            top.Find("units")?.Word == "us" ? UnitPreference.Us : UnitPreference.Metric,
            _hash,
            cases,
            [.. layers.Setups.Select(s => new ScenarioSetup(s.Name, s.Description))],
            review ? new ScenarioReview(List("seen"), List("assumed"), List("unknown")) : null)
        {
            SourceText = _text,
        };
    }

    internal static List<ScenarioProblem> Sorted(IEnumerable<ScenarioProblem> problems) => [.. problems.Distinct().OrderBy(p => p.Line)];
}
