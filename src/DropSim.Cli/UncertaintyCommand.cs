using System.CommandLine;
using DropSim.Model;
using DropSim.Reporting.Studies;
using DropSim.Reporting.Uncertainty;
using DropSim.Studies.Uncertainty;

namespace DropSim.Cli;

/// <summary>dropsim uncertainty: how sure are we.</summary>
internal static class UncertaintyCommand
{
    private const int FewestSamples = 64;
    private const int MostSamples = 1 << 17;

    public static Command Create(Terminal terminal)
    {
        var defaults = new UncertaintyOptions();
        var path = StudyVerb.ScenarioArgument();
        var samples = StudyVerb.Number("--samples", "Drops for bands, quantiles and shares; powers of two are spread best.", defaults.Samples, FewestSamples, MostSamples);
        var rows = StudyVerb.Number("--rows", "Rows for the indices of influence, each of one drop more than there are inputs; 0 for none.", defaults.IndexRows, 0, MostSamples);
        var seed = StudyVerb.Number("--seed", "Seed of the points.", defaults.Seed, 0, int.MaxValue);
        var points = new Option<string>("--points") { Description = "How the points are spread: sobol or latin-hypercube.", DefaultValueFactory = _ => "sobol" };
        points.Only("sobol", "latin-hypercube");
        var only = new Option<string?>("--case") { Description = "Only the case of this name (set-up-catch, such as base-let-run)." };
        var common = new CommonOptions("one folder a scenario");
        var command = new Command("uncertainty", DropSimApp.WithExamples(
            "Spreads all uncertain inputs at once: bands on the curves, quantiles of every measure, shares of drops past the limits that are known, and what the spread comes from.",
            "dropsim uncertainty scenarios/medium-log.toml",
            "dropsim uncertainty scenarios/studies/how-sure.toml --samples 4096 --case base-let-run"))
        {
            path, samples, rows, seed, points, only,
        };
        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) => Task.FromResult(StudyVerb.Run(terminal, parsed.GetValue(path)!, common.Of(parsed), (task, stop) => Compute(
            task,
            new UncertaintyOptions
            {
                Samples = parsed.GetValue(samples),
                IndexRows = Math.Min(parsed.GetValue(rows), parsed.GetValue(samples)),
                Seed = parsed.GetValue(seed),
                Method = parsed.GetValue(points) == "sobol" ? SamplingMethod.Sobol : SamplingMethod.LatinHypercube,
                Threads = task.Settings.Threads,
            },
            parsed.GetValue(only),
            stop), cancellation)));
        return command;
    }

    private static StudyDocument Compute(StudyTask task, UncertaintyOptions options, string? only, CancellationToken cancellation)
    {
        var names = task.Scenario.Cases.Select(c => c.Name).ToArray();
        if (only is not null && !names.Contains(only))
        {
            throw new StudyRefusedException([$"--case: found '{only}'; expected one of {string.Join(", ", names)}."]);
        }

        DropCase[] cases = [.. task.Scenario.Cases.Where(c => only is null || c.Name == only)];
        if (cases.FirstOrDefault(c => c.Uncertain.Count == 0) is { } certain)
        {
            throw new StudyRefusedException([$"{task.File}: {certain.Name}: no input is spread; take one of the tables [[uncertain]] with distribution = \"fixed\" out."]);
        }

        var (curves, measures) = (new RunOptions { Detail = RunDetail.Full }, new RunOptions { Detail = RunDetail.MeasuresOnly });
        StudyTime.Tell(
            task.Terminal, [.. cases.Select(c => c.Input)], options.Threads, cancellation,
            new DropBatch((long)options.Samples * cases.Length, curves),
            new DropBatch(cases.Sum(c => UncertaintyStudy.RunsOf(c, options) - (long)options.Samples), measures));
        var results = new List<UncertaintyResult>();
        using (var progress = task.Progress(cases.Sum(c => UncertaintyStudy.RunsOf(c, options))))
        {
            foreach (var dropCase in cases)
            {
                try
                {
                    results.Add(UncertaintyStudy.Compute(dropCase, options, progress.Advance, cancellation));
                }
                catch (OperationCanceledException) when (results.Count > 0)
                {
                    break;
                }

                if (cancellation.IsCancellationRequested)
                {
                    break;
                }
            }
        }

        return UncertaintyDocument.Build(new(task.Scenario.Name, task.Scenario.Title, task.Scenario.SourceHash, results, cases.Length), task.Report);
    }
}
