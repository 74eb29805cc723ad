using System.CommandLine;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Page;
using DropSim.Reporting;
using DropSim.Reporting.Files;
using DropSim.Reporting.Told;
using DropSim.Scenarios;
using DropSim.Scenarios.Units;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>dropsim simulate: the main job.</summary>
internal static class SimulateCommand
{
    private sealed record Options(
        string[] Paths, CommonSettings Common, double CsvInterval, bool Verify, bool Details)
    {
        public string Directory => Common.Directory;
    }

    public static Command Create(Terminal terminal)
    {
        var paths = new Argument<string[]>("PATH") { Description = "Scenario files, or folders of them.", Arity = ArgumentArity.OneOrMore };
        var common = new CommonOptions("one folder a scenario");
        var interval = new Option<string>("--csv-interval") { Description = "Time between rows of the CSV files, with its unit.", DefaultValueFactory = _ => "1 ms" };
        interval.Validators.Add(r =>
        {
            if (r.Tokens.Count > 0 && Seconds(r.Tokens[0].Value) is null)
            {
                r.AddError($"--csv-interval: found '{r.Tokens[0].Value}'; expected a time from 0.1 ms to 1 s with its unit, such as \"1 ms\".");
            }
        });
        var verify = new Option<bool>("--verify") { Description = "Repeat each drop at a tenth of the tolerance and say how far each measure moved." };
        var details = new Option<bool>("--details") { Description = "Print every measure, not only the headline ones." };
        var command = new Command("simulate", DropSimApp.WithExamples(
            "Computes the drops of scenario files and writes curves (CSV), pictures (PNG) and summary.json.",
            "dropsim simulate scenarios",
            "dropsim simulate scenarios/medium-log.toml --out results --units us",
            "dropsim simulate scenarios/medium-log.toml --verify --details"))
        {
            paths, interval, verify, details,
        };
        foreach (var option in common.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancellation) => Task.FromResult(Run(terminal, new(
            parsed.GetValue(paths)!,
            common.Of(parsed),
            Seconds(parsed.GetValue(interval)!) ?? 0.001,
            parsed.GetValue(verify),
            parsed.GetValue(details)), cancellation)));
        return command;
    }

    private static double? Seconds(string text) =>
        QuantityParser.TryParse(text, QuantityKind.Time, out var value, out _) && value is >= 1e-4 and <= 1 ? value : null;

    private static int Run(Terminal terminal, Options options, CancellationToken cancellation)
    {
        var files = ScenarioFiles.Find(options.Paths, terminal.Error, out var refused);
        var scenarios = ScenarioFiles.Read(files, terminal.Error, ref refused);
        if (scenarios.Count == 0)
        {
            terminal.Error.WriteLine("Nothing was computed.");
            return ExitCodes.Refused;
        }

        var failed = false;
        var computed = false;
        foreach (var (file, scenario) in scenarios)
        {
            if (OutputFolder.Obstacle(options.Directory, scenario.Name) is { } obstacle)
            {
                terminal.Error.WriteLine($"{file}: results could not be written to {options.Directory} ({obstacle}). Nothing was computed.");
                failed = true;
                continue;
            }

            computed = true;
            try
            {
                failed |= !One(terminal, file, scenario, options, cancellation);
            }
            catch (Exception fault) when (fault is not (OperationCanceledException or IOException or UnauthorizedAccessException or ObjectDisposedException))
            {
                // The other scenarios are none the worse for it.
                terminal.Error.WriteLine($"{file}: {Unforeseen.Line(fault)}. No result was written for it.");
                failed = true;
            }
        }

        if (computed)
        {
            terminal.Output.WriteLine();
        }

        foreach (var sentence in computed ? Cautions.Reading : [])
        {
            terminal.Paragraph(sentence, 0);
        }

        return failed ? ExitCodes.NotCompleted : refused ? ExitCodes.Refused : ExitCodes.Done;
    }

    private static bool One(Terminal terminal, string file, Scenario scenario, Options options, CancellationToken cancellation)
    {
        var units = options.Common.UnitsFor(scenario);
        ScenarioResult result;
        try
        {
            using var progress = new ProgressLine(terminal, scenario.Title, scenario.Cases.Sum(ScenarioStudy.RunsOf));
            result = ScenarioStudy.Compute(
                scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, scenario.Cases, options.Common.Threads, progress.Advance, cancellation);
            if (options.Verify)
            {
                result = result with { Cases = [.. result.Cases.Select(c => c with { Verification = Verification.Of(c.Run, cancellation) })] };
            }
        }
        catch (Exception e) when (e is DropInputException or UnstableSparException)
        {
            terminal.Error.WriteLine($"{file}: could not be computed: {e.Message}");
            return false;
        }

        var complete = true;
        foreach (var failedCase in result.Cases.Where(c => c.Run.End.Kind == EndKind.Failed))
        {
            terminal.Error.WriteLine($"{file}: {failedCase.Case.Name}: {failedCase.Run.End.Description}.");
            complete = false;
        }

        if (!complete)
        {
            terminal.Error.WriteLine($"{file}: no result was written; an earlier one, if any, was left as it is.");
            return false;
        }

        WrittenFolder written;
        try
        {
            written = ScenarioReport.Write(
                result, options.Directory, options.Common.Report(scenario) with { CsvInterval = options.CsvInterval },
                [new ResultFile("report.html", stream => LessonPage.Write(stream, ReportData(file, scenario, units)))], cancellation);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            terminal.Error.WriteLine($"{file}: the results could not be written to {Path.Combine(options.Directory, scenario.Name)}: {e.Message}");
            return false;
        }

        Print(terminal, scenario, ComparisonText.WithTexts(result, units), units, options);
        OutputFolder.TellKept(terminal, Path.Combine(options.Directory, result.Name), written.Kept);
        return true;
    }

    /// <summary>The page beside the pictures: the same scenario, to be looked at in motion.</summary>
    private static LessonData ReportData(string file, Scenario scenario, UnitSystem units) =>
        new(DropSimApp.Version, "report", units == UnitSystem.Us ? "us" : "si", 0, [new(Path.GetFileName(file), scenario.SourceText)]);

    private static void Print(Terminal terminal, Scenario scenario, ScenarioResult result, UnitSystem units, Options options)
    {
        var output = terminal.Output;
        output.WriteLine();
        output.WriteLine($"{result.Title}  ({result.Name}, {result.SourceHash})");
        if (scenario.Review is { } review)
        {
            Told(terminal, "Seen", review.Seen);
            Told(terminal, "Assumed", review.Assumed);
            Told(terminal, "Unknown", review.Unknown);
        }

        if (result.Told is not null)
        {
            Say(terminal, ScenarioWords.Of(result, units));
        }

        if (result.Told is null || options.Details || options.Verify)
        {
            Details(terminal, result, units, options);
        }

        output.WriteLine();
        output.WriteLine($"Curves, pictures, report.html and summary.json: {Path.Combine(options.Directory, result.Name)}");
    }

    /// <summary>The finding, the table of this drop and 18 of 20 like it, and what else changes the mind.</summary>
    private static void Say(Terminal terminal, ScenarioWords words)
    {
        foreach (var finding in words.Findings)
        {
            terminal.Paragraph(finding, 0);
        }

        terminal.Output.WriteLine();
        terminal.Paragraph(ToldTable.Head, 0);
        terminal.Table(words.Heads, words.Rows);
        foreach (var note in words.Notes)
        {
            terminal.Paragraph(note);
        }
    }

    /// <summary>Every case with all that was asked for, and the comparisons at length.</summary>
    private static void Details(Terminal terminal, ScenarioResult result, UnitSystem units, Options options)
    {
        var output = terminal.Output;
        var tables = HeadlineTable.Build(result, units);
        for (var i = 0; i < tables.Count; i++)
        {
            var table = tables[i];
            output.WriteLine();
            output.WriteLine(table.Name);
            terminal.Table(
                options.Verify ? ["measure", "central", "worst of range", "moved"] : ["measure", "central", "worst of range"],
                (options.Details ? table.Headline.Concat(table.Others) : table.Headline)
                    .Select(r => (IReadOnlyList<string>)(options.Verify ? [r.Label, r.Central, r.Worst, r.Moved] : [r.Label, r.Central, r.Worst])));
            foreach (var fact in table.Facts)
            {
                terminal.Paragraph(fact);
            }

            foreach (var warning in table.Warnings)
            {
                terminal.Paragraph("Note: " + warning);
            }

            if (result.Cases[i].Verification is { } verification)
            {
                Verified(terminal, result.Cases[i], verification);
            }
        }

        var ends = EndOverviewText.Of(result, units);
        if (ends.Count > 0)
        {
            output.WriteLine();
            output.WriteLine("How they end");
            foreach (var sentence in ends)
            {
                terminal.Paragraph(sentence);
            }
        }

        foreach (var comparison in result.Comparisons)
        {
            output.WriteLine();
            terminal.Paragraph(comparison.Title, 0);
            terminal.Paragraph(comparison.Paragraph);
        }
    }

    private static void Told(Terminal terminal, string heading, IReadOnlyList<string> items)
    {
        foreach (var item in items)
        {
            terminal.Paragraph($"{heading}: {item}");
        }
    }

    private static void Verified(Terminal terminal, CaseResult result, Verification verification)
    {
        foreach (var sentence in VerificationText.Of(result.Run, verification))
        {
            terminal.Paragraph(sentence);
        }
    }
}
