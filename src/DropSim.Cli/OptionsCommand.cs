using System.CommandLine;
using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Options;
using DropSim.Reporting.Studies;
using DropSim.Scenarios;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>dropsim options: which settings keep what is uncertain inside a crew's own limits, and what each costs.</summary>
internal static class OptionsCommand
{
    private const int MostDraws = 4096;

    public static Command Create(Terminal terminal)
    {
        var path = StudyVerb.ScenarioArgument();
        var common = new CommonOptions("one folder a scenario");
        var standard = new OptionsPlan();
        var draws = StudyVerb.Number("--draws", "Draws a setting over what is uncertain; powers of two are spread best.", standard.Draws, OptionsPlan.FewestDraws, MostDraws);
        var seed = StudyVerb.Number("--seed", "Seed of the draws.", standard.Seed, 0, int.MaxValue);
        var tolerance = StudyVerb.Tolerance();
        var lengths = new Option<string>("--lengths") { Description = "Lengths of the piece to look at, with commas between: \"1.2 m, 0.9 m\". Default: the file's, and 0.7 and 0.4 of it." };
        lengths.Validators.Add(r =>
        {
            if (r.Tokens.Count > 0 && Lengths(r.Tokens[0].Value) is null)
            {
                r.AddError($"--lengths: found '{r.Tokens[0].Value}'; expected up to 8 lengths with their units, for example \"1.2 m, 0.9 m\".");
            }
        });
        var limits = KeyTable.Of("limits").Select(k => (Key: k, Option: new Option<string>("--" + k.Name) { Description = "Limit: " + k.Says })).ToArray();
        var command = new Command("options", DropSimApp.WithExamples(
            "Lists settings that keep 95 % of what is uncertain inside your limits, what each costs, and force against room. It advises nothing.",
            "dropsim options scenarios/studies/choices.toml",
            "dropsim options my-log.toml --room \"2 m\" --hand \"200 N\"",
            "dropsim options my-log.toml --lengths \"1.2 m, 0.9 m, 0.6 m\" --draws 200"))
        {
            path, draws, seed, lengths, tolerance,
        };
        foreach (var (key, option) in limits)
        {
            option.Validators.Add(r =>
            {
                if (r.Tokens.Count > 0 && Problem(key, r.Tokens[0].Value) is { } problem)
                {
                    r.AddError($"--{key.Name}: found '{r.Tokens[0].Value}'; expected {problem}.");
                }
            });
            command.Add(option);
        }

        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) =>
        {
            var changes = limits.Where(l => parsed.GetValue(l.Option) is not null).Select(l => new KeyChange(l.Key.Path, parsed.GetValue(l.Option)!)).ToArray();
            var asked = parsed.GetValue(lengths) is { } text ? Lengths(text) : null;
            var settings = common.Of(parsed);
            var plan = new OptionsPlan { Draws = parsed.GetValue(draws), Seed = parsed.GetValue(seed), Tolerance = parsed.GetValue(tolerance), Threads = settings.Threads };
            return Task.FromResult(StudyVerb.Run(terminal, parsed.GetValue(path)!, settings, (task, token) => Compute(task, changes, asked, plan, token), cancellation));
        });
        return command;
    }

    private static StudyDocument Compute(StudyTask task, KeyChange[] changes, IReadOnlyList<double>? lengths, OptionsPlan plan, CancellationToken cancellation)
    {
        var read = task.Draft.Build(changes);
        if (read.Scenario is not { } scenario)
        {
            throw new StudyRefusedException([.. read.Problems.Select(p => (p with { File = task.File }).ToString())]);
        }

        var filed = scenario.Cases[0];
        if (filed.Input.Spar.Condition != StemCondition.Sound)
        {
            throw new StudyRefusedException(
                $"{task.File}: spar.condition: found {filed.Input.Spar.Condition.ToString().ToLowerInvariant()}; expected sound, stated by somebody who looked: for any other stem no setting is listed, because what the stem bears is not known.");
        }

        if (filed.Input.Piece.Kind == PieceKind.Top && lengths is not null)
        {
            throw new StudyRefusedException($"{task.File}: --lengths: found lengths for a top; expected them for a log only: a shorter top is another top.");
        }

        var grid = new OptionGrid(lengths ?? OptionGrid.LengthsOf(filed.Input.Piece), changes);
        var settings = grid.Build(task.Draft, scenario, out var refused);
        StudyTime.Tell(
            task.Terminal, [.. settings.Select(s => s.Case.Input)], plan.Threads, cancellation,
            new DropBatch((long)settings.Count * plan.Draws, new RunOptions { Detail = RunDetail.MeasuresOnly }));
        OptionsFound found;
        using (var progress = task.Progress(settings.Count * plan.Draws))
        {
            found = OptionsStudy.Compute(settings, plan, progress.Advance, cancellation);
        }

        if (found.Outcomes.Count == 0)
        {
            cancellation.ThrowIfCancellationRequested();
        }

        var result = new OptionsResult(scenario.Name, scenario.Title, scenario.SourceHash, filed, found, task.Draft.WrapsOf(filed).Tested, refused);
        return OptionsDocument.Build(result, task.Report);
    }

    private static double[]? Lengths(string text)
    {
        var parts = text.Split(',', StringSplitOptions.TrimEntries);
        var values = new List<double>();
        foreach (var part in parts)
        {
            if (!QuantityParser.TryParse(part, QuantityKind.Length, out var value, out _) || value is not (>= 0.2 and <= 30))
            {
                return null;
            }

            values.Add(value);
        }

        return values.Count > 8 ? null : [.. values.Distinct().OrderDescending()];
    }

    private static string? Problem(KeySpec key, string text) =>
        !QuantityParser.TryParse(text, key.Quantity, out var value, out var problem) ? problem
        : value >= key.Least && value <= key.Most ? null : ValueReader.Limits(key);
}
