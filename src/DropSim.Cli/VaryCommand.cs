using System.CommandLine;
using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>dropsim vary: what one or two inputs do.</summary>
internal static class VaryCommand
{
    /// <summary>Most drops of one study: an hour or so.</summary>
    private const int MostDrops = 2_000_000;

    private static readonly string[] DefaultMeasures = [MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.RopeRun];

    private static readonly string[] AllMeasures =
        [.. typeof(MeasureIds).GetFields().Where(f => f.IsLiteral).Select(f => (string)f.GetRawConstantValue()!)];

    private sealed record Asked(string[] Inputs, string[] Measures, string? Setup, string? Catch, double Tolerance);

    public static Command Create(Terminal terminal)
    {
        var path = StudyVerb.ScenarioArgument();
        var inputs = new Option<string[]>("--input")
        {
            Description = "An input and its values: \"rope.slack=0..1 m:21\" (from, to, how many) or \"device.wraps=2,2.5,3\". Once or twice.",
            Required = true,
            Arity = ArgumentArity.OneOrMore,
        };
        inputs.Validators.Add(r =>
        {
            if (r.Tokens.Count > 2)
            {
                r.AddError("--input: found more than two inputs; expected one or two.");
            }
        });
        var measures = new Option<string[]>("--measure")
        {
            Description = $"Measures by their id in summary.json; several times for several. Default: {string.Join(", ", DefaultMeasures)}.",
            Arity = ArgumentArity.OneOrMore,
        };
        measures.Only(AllMeasures);
        var setup = new Option<string>("--setup") { Description = "Only this set-up of the scenario." };
        var held = new Option<string>("--catch") { Description = "Only this catch of the scenario." };
        var tolerance = StudyVerb.Tolerance();
        var common = new CommonOptions("one folder a study");
        var command = new Command("vary", DropSimApp.WithExamples(
            "Lets one or two inputs of a scenario go through values and shows what they do: curves, or a map with the limits that the scenario states.",
            "dropsim vary scenarios/medium-log.toml --input \"device.wraps=1..4:13\"",
            "dropsim vary scenarios/medium-log.toml --input \"rope.slack=0..1 m:41\" --input \"piece.length=0.5..2 m:41\" --catch hard-stop",
            "dropsim vary scenarios/medium-log.toml --input \"rope.diameter=12,14,16 mm\" --measure load_leg_tension"))
        {
            path, inputs, measures, setup, held, tolerance,
        };
        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) =>
        {
            var asked = new Asked(
                parsed.GetValue(inputs)!, parsed.GetValue(measures) is { Length: > 0 } some ? [.. some.Distinct()] : [], parsed.GetValue(setup), parsed.GetValue(held),
                parsed.GetValue(tolerance));
            return Task.FromResult(StudyVerb.Run(terminal, parsed.GetValue(path)!, common.Of(parsed), (task, token) => Compute(task, asked, token), cancellation));
        });
        return command;
    }

    private static StudyDocument Compute(StudyTask task, Asked asked, CancellationToken cancellation)
    {
        var problems = new List<string>();
        var varied = asked.Inputs.Select(i => VariedInput.Read(i, problems)).OfType<VariedInput>().ToArray();
        if (varied.Length == 2 && varied[0].Axis.Path == varied[1].Axis.Path)
        {
            problems.Add($"--input: found {varied[0].Axis.Path} twice; expected two different inputs.");
        }

        var measures = asked.Measures.Length > 0 ? asked.Measures : DefaultMeasures;
        var cases = task.Scenario.Cases.Where(c => (asked.Setup ?? c.Setup) == c.Setup && (asked.Catch ?? c.CatchName) == c.CatchName).ToArray();
        if (cases.Length == 0)
        {
            problems.Add($"{task.File}: found no such set-up and catch; expected --setup {string.Join(" or ", task.Draft.Setups)}, --catch {string.Join(" or ", task.Draft.Catches)}.");
        }

        var perCase = varied.Length == 0 ? 0L : varied.Aggregate(1L, (n, v) => n * v.Axis.Values.Count);
        var count = perCase * cases.Length;
        if (count > MostDrops)
        {
            problems.Add(FormattableString.Invariant($"--input: found {count} drops; expected at most {MostDrops}."));
        }

        if (problems.Count > 0)
        {
            throw new StudyRefusedException(problems);
        }

        var options = new VaryOptions(measures, asked.Tolerance, task.Settings.Threads);
        (DropInput? Input, string Refusal) At(int index)
        {
            var one = cases[(int)(index / perCase)];
            var place = (int)(index % perCase);
            KeyChange[] changes = varied.Length == 1
                ? [varied[0].Changes[place]]
                : [varied[0].Changes[place / varied[1].Changes.Count], varied[1].Changes[place % varied[1].Changes.Count]];
            var read = task.Draft.Build(changes);
            return read.Scenario?.Cases.FirstOrDefault(c => c.Setup == one.Setup && c.CatchName == one.CatchName) is { } built
                ? (built.Input, "")
                : (null, read.Problems.Count > 0 ? $"{read.Problems[0].Path}: found {read.Problems[0].Found}; expected {read.Problems[0].Expected}" : "no such case");
        }

        // A value that never fits is a fault of the command, not of one drop.
        if (varied[0].Changes.All(c => task.Draft.Build([c]).Scenario is null))
        {
            throw new StudyRefusedException([.. task.Draft.Build([varied[0].Changes[0]]).Problems.Select(p => (p with { File = task.File }).ToString())]);
        }

        var samples = Enumerable.Range(0, StudyTime.MostSamples).Select(k => At((int)((k + 0.5) * count / StudyTime.MostSamples)).Input).OfType<DropInput>();
        StudyTime.Tell(
            task.Terminal, [.. samples.Select(i => i with { Computation = i.Computation with { RelativeTolerance = asked.Tolerance } })], task.Settings.Threads, cancellation,
            new DropBatch(count, new RunOptions { Detail = RunDetail.MeasuresOnly, Only = measures }));
        var central = cases.Select(c => new VariedCase(c, RangeStudy.Compute(c, task.Settings.Threads, null, cancellation).Run)).ToArray();
        StudyRuns<VariedDrop> runs;
        using (var progress = task.Progress((int)count))
        {
            runs = VaryStudy.Compute((int)count, At, cases[0].Input, options, progress.Advance, cancellation);
        }

        if (runs.Finished == 0)
        {
            cancellation.ThrowIfCancellationRequested();
        }

        var check = VaryStudy.Check(runs, At, options, cancellation);
        var scenario = task.Scenario;
        var result = new VaryResult(scenario.Name, scenario.Title, scenario.SourceHash, [.. varied.Select(v => v.Axis)], central, options, runs, check);
        return VaryDocument.Of(result.Reached(), task.Report);
    }
}
