using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using System.Runtime.Loader;
using System.Text.Json;
using Mono.Cecil;
using Mono.Cecil.Cil;
using Xunit;
using Xunit.Sdk;

// Runs tests against the mutants that dotnet-stryker has put into an assembly, in this process: a test host for every mutant costs a hundred
// times as much as most tests, and on a busy machine its clock takes slow for endless. Here a mutant is endless when it has used ten times the
// processor time of the test without it and two seconds more.
//
//   Runner prepare  FOLDER DLL REPORT RESULTS                      makes the question "is this mutant the one?" cheap in the mutated assembly
//   Runner coverage FOLDER DLL REPORT RESULTS [left out...]        which test reaches which mutant, into RESULTS.coverage
//   Runner list     FOLDER DLL REPORT RESULTS [COUNT SEED]         the mutants to run, all or a random sample (in random order, so that the
//                                                                  first of them are a sample too), into RESULTS.ids
//   Runner run      FOLDER DLL REPORT RESULTS [left out...]        one line for each mutant into RESULTS.tsv; goes on where it was cut off.
//                                                                  A number among the words leaves out tests of more seconds than that
//   Runner score    FOLDER DLL REPORT RESULTS                      killed and survived by file, and the survivors
//
// FOLDER holds the built tests with the mutated assembly in place; REPORT is stryker's JSON report, which names the mutants; tests whose name
// holds one of the words left out are not run. `single ID` is what `run` starts for a mutant in code that runs but once in a process.
var (mode, folder, dll, report, results) = (args[0], args[1], args[2], args[3], args[4]);
var rest = args[5..];
switch (mode)
{
    case "prepare":
        Control.Simplify(Path.Combine(folder, dll));
        return 0;
    case "list":
        List.Write(report, results, rest);
        return 0;
    case "score":
        List.Score(report, results);
        return 0;
    case "run":
        return Supervise(args);
    default:
        break;
}

var tests = new TestSet(folder, dll, mode == "single" ? int.Parse(rest[0], CultureInfo.InvariantCulture) : -1, mode == "single" ? rest[1..] : rest);
switch (mode)
{
    case "coverage":
        tests.Cover(results);
        break;
    case "single":
        tests.Single(results, int.Parse(rest[0], CultureInfo.InvariantCulture));
        break;
    default:
        tests.Run(results);
        break;
}

// A test that does not end holds its thread: no way out but to leave the process.
Environment.Exit(0);
return 0;

// Workers, one after another: each ends at a mutant that does not, or that takes the process with it.
static int Supervise(string[] args)
{
    int Start(params string[] arguments)
    {
        using var worker = Process.Start(Environment.ProcessPath!, [.. Environment.ProcessPath!.EndsWith("dotnet", StringComparison.Ordinal) ? (string[])[typeof(TestSet).Assembly.Location] : [], .. arguments])!;
        worker.WaitForExit();
        return worker.ExitCode;
    }

    while (Start(["work", .. args[1..]]) != 0)
    {
    }

    foreach (var (id, _) in Results.Read(args[4]).Where(r => r.Value == "Once").ToArray())
    {
        _ = Start(["single", .. args[1..5], id.ToString(CultureInfo.InvariantCulture), .. args[5..]]);
    }

    return 0;
}

internal sealed class TestSet
{
    private const double SpareSeconds = 2;
    private const double Times = 10;
    private readonly FieldInfo _active;
    private readonly FieldInfo _hits;
    private readonly double _longest;
    private readonly Dictionary<string, Func<Exception?>> _tests = [];
    private readonly FieldInfo[] _caches;
    private readonly Process _process = Process.GetCurrentProcess();

    public TestSet(string folder, string dll, int mutant, string[] leftOut)
    {
        Assembly Load(string name) => AssemblyLoadContext.Default.LoadFromAssemblyPath(Path.Combine(Path.GetFullPath(folder), name));
        AssemblyLoadContext.Default.Resolving += (_, name) => File.Exists(Path.Combine(folder, name.Name + ".dll")) ? Load(name.Name + ".dll") : null;
        var control = Load(dll).GetTypes().Single(t => t.Name == "MutantControl");
        _active = control.GetField("ActiveMutant")!;
        _hits = control.GetField(Control.Hits)!;
        _ = Hits();
        _longest = leftOut.Select(w => double.TryParse(w, CultureInfo.InvariantCulture, out var seconds) ? seconds : double.PositiveInfinity).DefaultIfEmpty(double.PositiveInfinity).Min();
        _active.SetValue(null, mutant);
        var types = Load("DropSim.Tests.dll").GetTypes();

        // What one mutant gave must not stand in for the next: the only store of results in the tests.
        _caches = [.. types.Where(t => t.Name == "VerificationBook").Select(t => t.GetField("_points", BindingFlags.Static | BindingFlags.NonPublic)!)];
        foreach (var type in types.Where(t => t is { IsClass: true, IsAbstract: false }))
        {
            foreach (var method in type.GetMethods(BindingFlags.Public | BindingFlags.Instance))
            {
                if (method.GetCustomAttribute<FactAttribute>(true) is not { Skip: null } fact)
                {
                    continue;
                }

                IEnumerable<object?[]> rows = fact is TheoryAttribute ? method.GetCustomAttributes<DataAttribute>(true).SelectMany(d => d.GetData(method)) : [[]];
                foreach (var row in rows)
                {
                    var name = $"{type.FullName}.{method.Name}({string.Join(", ", row.Select(v => Convert.ToString(v, CultureInfo.InvariantCulture)))})";
                    if (!leftOut.Any(w => name.Contains(w, StringComparison.Ordinal) && !double.TryParse(w, CultureInfo.InvariantCulture, out _)))
                    {
                        var values = method.GetParameters().Select((p, i) => i < row.Length ? row[i] : p.DefaultValue).ToArray();
                        _tests[name] = () => Invoke(type, method, values);
                    }
                }
            }
        }
    }

    public void Cover(string results)
    {
        // Each once before: compiled, so that the times below are the tests' own; and what runs but once in a process has run.
        var once = Hits();
        foreach (var test in _tests.Values)
        {
            _ = Timed(test, double.PositiveInfinity);
        }

        using var output = new StreamWriter(results + ".coverage");
        var reached = new HashSet<int>();
        foreach (var (name, test) in _tests)
        {
            var hits = Hits();
            var (_, error, seconds) = Timed(test, double.PositiveInfinity);
            if (error is not null)
            {
                Console.Error.WriteLine($"Fails without a mutant and is left out: {name}: {error.Message.Split('\n')[0]}");
                continue;
            }

            reached.UnionWith(Set(hits));
            output.WriteLine(FormattableString.Invariant($"{name}\t{seconds:0.0000}\t{string.Join(',', Set(hits))}"));
        }

        output.WriteLine($"{Results.Once}\t0\t{string.Join(',', Set(once).Except(reached))}");

        static IEnumerable<int> Set(bool[] hits) => Enumerable.Range(0, hits.Length).Where(i => hits[i]);
    }

    public void Single(string results, int id)
    {
        foreach (var (name, test) in _tests)
        {
            var (ended, error, _) = Timed(test, Times * SpareSeconds);
            if (!ended || error is not null)
            {
                Results.Add(results, id, ended ? "Killed" : "Timeout", name);
                return;
            }
        }

        Results.Add(results, id, "Survived", "");
    }

    public void Run(string results)
    {
        var reach = new Dictionary<int, List<(string Name, double Seconds)>>();
        foreach (var cells in File.ReadLines(results + ".coverage").Select(l => l.Split('\t')).Where(c => c[0] == Results.Once || _tests.ContainsKey(c[0])))
        {
            if (double.Parse(cells[1], CultureInfo.InvariantCulture) > _longest)
            {
                continue;
            }

            foreach (var id in cells[2].Split(',', StringSplitOptions.RemoveEmptyEntries).Select(int.Parse))
            {
                (reach.TryGetValue(id, out var list) ? list : reach[id] = []).Add((cells[0], double.Parse(cells[1], CultureInfo.InvariantCulture)));
            }
        }

        // A mutant begun and not ended took an earlier process with it.
        var known = Results.Read(results);
        foreach (var id in known.Where(r => r.Value == "Begun").Select(r => r.Key).ToArray())
        {
            Results.Add(results, id, "Crash", "");
        }

        foreach (var id in File.ReadLines(results + ".ids").Select(int.Parse).Where(id => !known.ContainsKey(id)))
        {
            if (!reach.TryGetValue(id, out var list))
            {
                Results.Add(results, id, "NoCoverage", "");
                continue;
            }

            if (list.Exists(t => t.Name == Results.Once))
            {
                Results.Add(results, id, Results.Once, "");
                continue;
            }

            Results.Add(results, id, "Begun", "");
            _active.SetValue(null, id);
            var (state, by) = ("Survived", "");
            foreach (var (name, seconds) in list.OrderBy(t => t.Seconds))
            {
                var (ended, error, _) = Timed(_tests[name], SpareSeconds + (Times * seconds));
                if (!ended)
                {
                    Results.Add(results, id, "Timeout", name);
                    Environment.Exit(3);
                }

                if (error is not null)
                {
                    (state, by) = ("Killed", name);
                    break;
                }
            }

            _active.SetValue(null, -1);
            Results.Add(results, id, state, by);
        }
    }

    // A new array, which the mutated code fills from here on.
    private bool[] Hits()
    {
        var hits = new bool[Control.MostMutants];
        _hits.SetValue(null, hits);
        return hits;
    }

    private Exception? Invoke(Type type, MethodInfo method, object?[] values)
    {
        try
        {
            foreach (var cache in _caches)
            {
                var store = cache.GetValue(null)!;
                store.GetType().GetMethod("Clear")!.Invoke(store, null);
            }

            var instance = Activator.CreateInstance(type);
            (method.Invoke(instance, values) as Task)?.GetAwaiter().GetResult();
            (instance as IDisposable)?.Dispose();
            return null;
        }
        catch (TargetInvocationException e)
        {
            return e.InnerException ?? e;
        }
    }

    private (bool Ended, Exception? Error, double Seconds) Timed(Func<Exception?> test, double limit)
    {
        Exception? error = null;
        var start = Used();
        var thread = new Thread(() => error = test()) { IsBackground = true };
        thread.Start();
        while (!thread.Join(200))
        {
            if (Used() - start > limit)
            {
                return (false, null, Used() - start);
            }
        }

        return (true, error, Used() - start);
    }

    private double Used()
    {
        _process.Refresh();
        return _process.TotalProcessorTime.TotalSeconds;
    }
}

/// <summary>The class by which the mutated assembly asks for the mutant at work.</summary>
internal static class Control
{
    public const string Hits = "Hits";
    public const int MostMutants = 1 << 16;

    /// <summary>
    /// Stryker's answer looks into files and, for coverage, for the mutant in a list under a lock, at every step of a run. Here it is
    /// `Hits[id] = true; return id == ActiveMutant;`.
    /// </summary>
    public static void Simplify(string path)
    {
        using var assembly = AssemblyDefinition.ReadAssembly(path, new ReaderParameters { InMemory = true });
        var control = assembly.MainModule.Types.Single(t => t.Name == "MutantControl");
        control.Methods.Remove(control.Methods.Single(m => m.Name == ".cctor"));
        var hits = new FieldDefinition(Hits, Mono.Cecil.FieldAttributes.Public | Mono.Cecil.FieldAttributes.Static, new ArrayType(assembly.MainModule.TypeSystem.Boolean));
        control.Fields.Add(hits);
        var method = control.Methods.Single(m => m.Name == "IsActive");
        method.Body = new Mono.Cecil.Cil.MethodBody(method);
        var il = method.Body.GetILProcessor();
        il.Emit(OpCodes.Ldsfld, hits);
        il.Emit(OpCodes.Ldarg_0);
        il.Emit(OpCodes.Ldc_I4_1);
        il.Emit(OpCodes.Stelem_I1);
        il.Emit(OpCodes.Ldarg_0);
        il.Emit(OpCodes.Ldsfld, control.Fields.Single(f => f.Name == "ActiveMutant"));
        il.Emit(OpCodes.Ceq);
        il.Emit(OpCodes.Ret);
        assembly.Write(path);
    }
}

internal static class Results
{
    /// <summary>What only the first run of the tests reaches.</summary>
    public const string Once = "Once";

    public static void Add(string results, int id, string state, string by) => File.AppendAllText(results + ".tsv", $"{id}\t{state}\t{by}\n");

    /// <summary>The last word on each mutant.</summary>
    public static Dictionary<int, string> Read(string results)
    {
        var known = new Dictionary<int, string>();
        foreach (var cells in File.Exists(results + ".tsv") ? File.ReadLines(results + ".tsv").Select(l => l.Split('\t')) : [])
        {
            known[int.Parse(cells[0], CultureInfo.InvariantCulture)] = cells[1];
        }

        return known;
    }
}

internal sealed record Mutant(int Id, string File, string Kind, (int Line, int Column) From, (int Line, int Column) To, string Was, string Is);

internal static class List
{
    public static void Write(string report, string results, string[] sample)
    {
        var ids = Mutants(report).Select(m => m.Id).Order().ToArray();
        Console.WriteLine($"{ids.Length} mutants");
        if (sample.Length > 0)
        {
            new Random(int.Parse(sample[1], CultureInfo.InvariantCulture)).Shuffle(ids);
            ids = ids[..Math.Min(ids.Length, int.Parse(sample[0], CultureInfo.InvariantCulture))];
        }

        File.WriteAllLines(results + ".ids", ids.Select(id => id.ToString(CultureInfo.InvariantCulture)));
    }

    public static void Score(string report, string results)
    {
        var known = Results.Read(results);
        var run = Mutants(report).Where(m => known.TryGetValue(m.Id, out var state) && state is not ("Begun" or Results.Once)).ToArray();
        bool Lives(Mutant m) => known[m.Id] is "Survived" or "NoCoverage";
        foreach (var file in run.GroupBy(m => m.File).OrderBy(g => g.Key).Append(run.GroupBy(_ => "in all").Single()))
        {
            var killed = file.Count(m => !Lives(m));
            Console.WriteLine(FormattableString.Invariant($"{file.Key,-28} {killed,5} of {file.Count(),5}  {100.0 * killed / file.Count():0.0} %  ({file.Count(m => known[m.Id] is "Timeout" or "Crash")} endless)"));
        }

        foreach (var m in run.Where(Lives).OrderBy(m => m.File).ThenBy(m => m.From))
        {
            Console.WriteLine($"{m.File}:{m.From.Line}:{m.From.Column} {(known[m.Id] == "NoCoverage" ? "not reached" : "")} {m.Kind} | {m.Was} => {m.Is}");
        }
    }

    /// <summary>As stryker counts them: those that compile, and of the removals of a block only those of blocks that hold no other mutant.</summary>
    private static IEnumerable<Mutant> Mutants(string report)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(report));
        foreach (var file in document.RootElement.GetProperty("files").EnumerateObject())
        {
            var source = file.Value.GetProperty("source").GetString()!.Split('\n');
            (int, int) Place(JsonElement m, string end) => (m.GetProperty("location").GetProperty(end).GetProperty("line").GetInt32(), m.GetProperty("location").GetProperty(end).GetProperty("column").GetInt32());
            var all = file.Value.GetProperty("mutants").EnumerateArray().Where(m => m.GetProperty("status").GetString() != "CompileError").Select(m =>
            {
                var (from, to) = (Place(m, "start"), Place(m, "end"));
                var line = source[from.Item1 - 1];
                var was = line[(from.Item2 - 1)..(to.Item1 == from.Item1 ? to.Item2 - 1 : line.Length)].Trim();
                var name = m.GetProperty("mutatorName").GetString()!;
                return new Mutant(int.Parse(m.GetProperty("id").GetString()!, CultureInfo.InvariantCulture), Path.GetFileName(file.Name), name, from, to, was, m.GetProperty("replacement").GetString() ?? "");
            }).ToArray();
            foreach (var m in all.Where(m => !IsBlock(m) || !all.Any(o => !IsBlock(o) && o.From.CompareTo(m.From) >= 0 && o.To.CompareTo(m.To) <= 0)))
            {
                yield return m;
            }
        }
    }

    private static bool IsBlock(Mutant m) => m.Kind.StartsWith("Block", StringComparison.Ordinal);
}
