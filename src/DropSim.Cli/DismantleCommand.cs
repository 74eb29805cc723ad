using System.CommandLine;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>dropsim dismantle: a whole spar, cut by cut, with a sheet for the crew.</summary>
internal static class DismantleCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = new Argument<string>("SPAR") { Description = "A spar file: the tables of a scenario with [plan] in place of a piece." };
        var common = new CommonOptions("one folder a spar file");
        var command = new Command("dismantle", DropSimApp.WithExamples(
            "Cuts a whole spar down piece by piece, computes a hard stop and a let run at each cut, and writes table, pictures and a crew sheet to print.",
            "dropsim dismantle scenarios/spars/garden-spruce.toml",
            "dropsim dismantle my-spar.toml --out results --units us"))
        {
            path,
        };
        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) => Task.FromResult(Run(terminal, parsed.GetValue(path)!, common.Of(parsed), cancellation)));
        return command;
    }

    private static int Run(Terminal terminal, string path, CommonSettings settings, CancellationToken cancellation)
    {
        var read = SparPlanReader.Read(path);
        if (read.Plan is not { } plan)
        {
            return StudyVerb.Refuse(terminal, path, read.Problems);
        }

        var options = settings.Report(plan.Units);
        return StudyVerb.Finish(terminal, path, plan.Name, settings, options, () =>
        {
            StudyTime.Tell(
                terminal, [.. plan.Cuts.SelectMany(c => c.Cases).Select(c => c.Input)], settings.Threads, cancellation,
                new DropBatch(DismantleStudy.RunsOf(plan.Cuts), new RunOptions { Detail = RunDetail.MeasuresOnly }));
            using var progress = new ProgressLine(terminal, plan.Title, DismantleStudy.RunsOf(plan.Cuts));
            var computed = DismantleStudy.Compute(plan.Cuts, settings.Threads, progress.Advance, cancellation);
            var result = new DismantleResult(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, computed.Cuts, plan.Cuts.Count);
            return DismantleDocument.Build(result, options, CrewSheets.Of(result, options), computed.Fault);
        }, cancellation);
    }
}
