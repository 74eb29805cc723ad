using System.CommandLine;
using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>dropsim compare: gear and catches, compared fairly.</summary>
internal static class CompareCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = StudyVerb.ScenarioArgument();
        var by = new Option<string>("--match") { Description = "What is set to make drops comparable: wraps, or hand (one factor on all its forces).", DefaultValueFactory = _ => "wraps" };
        by.Only("wraps", "hand");
        var common = new CommonOptions("one folder a study");
        var command = new Command("compare", DropSimApp.WithExamples(
            "Compares rigging gear and catches three ways: same wraps and hands, same rope run, same peak at the rigging point. "
                + "A scenario with set-ups has those compared; one without has a ring and a block.",
            "dropsim compare scenarios/ring-or-block.toml",
            "dropsim compare scenarios/medium-log.toml --match hand"))
        {
            path, by,
        };
        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) =>
        {
            var match = parsed.GetValue(by) == "hand" ? MatchBy.Hand : MatchBy.Wraps;
            return Task.FromResult(StudyVerb.Run(terminal, parsed.GetValue(path)!, common.Of(parsed), (task, token) => Compute(task, match, token), cancellation));
        });
        return command;
    }

    private static StudyDocument Compute(StudyTask task, MatchBy by, CancellationToken cancellation)
    {
        var variants = Variants(task);
        StudyTime.Tell(
            task.Terminal, [.. variants.Select(v => v.Case.Input)], task.Settings.Threads, cancellation,
            new DropBatch(FairStudy.RunsOf(variants), new RunOptions { Detail = RunDetail.MeasuresOnly }));
        FairResult result;
        using (var progress = task.Progress(FairStudy.RunsOf(variants)))
        {
            result = FairStudy.Compute(variants, by, task.Settings.Threads, progress.Advance, cancellation);
        }

        return FairDocument.Of(result, task.Scenario.Name, task.Scenario.Title, task.Scenario.SourceHash, task.Report);
    }

    /// <summary>
    /// The set-ups where the scenario has several; else a ring and a block at the place where the gear is, and the natural union where the scenario
    /// has one: a fork stands where it stands and is not made up.
    /// </summary>
    private static List<FairVariant> Variants(StudyTask task)
    {
        if (task.Draft.Setups.Count > 1)
        {
            return [.. task.Scenario.Cases.Select(c => new FairVariant(c.Setup, c))];
        }

        var own = task.Scenario.Cases[0].Input.RiggingPoint.Kind;
        var variants = new List<FairVariant>();
        var problems = new List<string>();
        foreach (var kind in new[] { RiggingPointKind.Ring, RiggingPointKind.Block, RiggingPointKind.NaturalUnion })
        {
            var name = kind switch { RiggingPointKind.Ring => "ring", RiggingPointKind.Block => "block", _ => "natural-union" };
            if (kind == own)
            {
                variants.AddRange(task.Scenario.Cases.Select(c => new FairVariant(name, c)));
            }
            else if (kind != RiggingPointKind.NaturalUnion)
            {
                var read = task.Draft.Build([new KeyChange("rigging-point.kind", name)]);
                problems.AddRange(read.Problems.Select(p => $"{p with { File = task.File }} (as a {name}; give both as set-ups of the scenario)"));
                variants.AddRange(read.Scenario?.Cases.Select(c => new FairVariant(name, c)) ?? []);
            }
        }

        return problems.Count == 0 ? variants : throw new StudyRefusedException(problems);
    }
}
