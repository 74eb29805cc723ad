using System.CommandLine;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Files;
using DropSim.Reporting.Studies;
using DropSim.Scenarios;
using DropSim.Studies;

namespace DropSim.Cli;

/// <summary>What a verb that takes many runs of one scenario has to work with.</summary>
/// <param name="File">Path as it was given, for messages.</param>
/// <param name="Draft">The file, from which scenarios with changed values are built.</param>
/// <param name="Scenario">The scenario as the file has it.</param>
/// <param name="Settings">Common options.</param>
/// <param name="Units">Units of text and pictures.</param>
/// <param name="Terminal">Where to write.</param>
internal sealed record StudyTask(string File, ScenarioDraft Draft, Scenario Scenario, CommonSettings Settings, UnitSystem Units, Terminal Terminal)
{
    /// <summary>A progress line; to be disposed of.</summary>
    /// <param name="runs">Number of runs, about.</param>
    public ProgressLine Progress(int runs) => new(Terminal, Scenario.Title, runs);

    /// <summary>Options for writing.</summary>
    public ReportOptions Report => Settings.Report(Scenario);
}

/// <summary>The frame of every verb that takes many runs of one scenario: read, compute, write, print; what was done before an interruption is kept.</summary>
internal static class StudyVerb
{
    /// <summary>The scenario file.</summary>
    public static Argument<string> ScenarioArgument() => new("SCENARIO") { Description = "A scenario file." };

    /// <summary>A whole number between limits.</summary>
    /// <param name="name">Name of the option.</param>
    /// <param name="says">What it does.</param>
    /// <param name="standard">Where nobody gives one.</param>
    /// <param name="least">Smallest.</param>
    /// <param name="most">Largest.</param>
    public static Option<int> Number(string name, string says, int standard, int least, int most) => TypedOptions.Number(name, says, () => standard, least, most);

    /// <summary>The integrator's tolerance in a study of many drops.</summary>
    public static Option<double> Tolerance() => TypedOptions.Number(
        "--tolerance", "Relative tolerance, 1e-9 to 1e-4. Some drops are always repeated more tightly, and the difference is told.", VaryStudy.DefaultTolerance, 1e-9, 1e-4);

    /// <summary>Runs a study.</summary>
    /// <param name="terminal">Where to write.</param>
    /// <param name="path">Scenario file.</param>
    /// <param name="settings">Common options.</param>
    /// <param name="compute">
    /// Computes. Cancelled, it returns what it has with <see cref="StudyDocument.CutShort"/> set, or throws <see cref="OperationCanceledException"/>
    /// where there is nothing to keep. Refuses with <see cref="StudyRefusedException"/>.
    /// </param>
    /// <param name="cancellation">Interrupts.</param>
    /// <returns>Exit code.</returns>
    public static int Run(
        Terminal terminal, string path, CommonSettings settings, Func<StudyTask, CancellationToken, StudyDocument> compute, CancellationToken cancellation)
    {
        var draft = ScenarioReader.Open(path);
        var read = draft.Build();
        if (read.Scenario is not { } scenario)
        {
            return Refuse(terminal, path, read.Problems);
        }

        var task = new StudyTask(path, draft, scenario, settings, settings.UnitsFor(scenario), terminal);
        return Finish(terminal, path, scenario.Name, settings, task.Report, () => compute(task, cancellation), cancellation);
    }

    /// <summary>Tells everything that is wrong with a file.</summary>
    /// <param name="terminal">Where to write.</param>
    /// <param name="path">The file.</param>
    /// <param name="problems">What is wrong.</param>
    /// <returns>Exit code.</returns>
    public static int Refuse(Terminal terminal, string path, IReadOnlyList<ScenarioProblem> problems)
    {
        foreach (var problem in problems)
        {
            terminal.Error.WriteLine(problem with { File = path });
        }

        terminal.Error.WriteLine("Nothing was computed.");
        return ExitCodes.Refused;
    }

    /// <summary>Computes, writes and prints a study whose file has been read.</summary>
    /// <param name="terminal">Where to write.</param>
    /// <param name="path">The file, for messages.</param>
    /// <param name="name">Name of the scenario or spar.</param>
    /// <param name="settings">Common options.</param>
    /// <param name="options">Options for writing.</param>
    /// <param name="compute">As in <see cref="Run"/>.</param>
    /// <param name="cancellation">Interrupts.</param>
    /// <returns>Exit code.</returns>
    public static int Finish(
        Terminal terminal, string path, string name, CommonSettings settings, ReportOptions options, Func<StudyDocument> compute, CancellationToken cancellation)
    {
        if (OutputFolder.Obstacle(settings.Directory, StudyDocument.FolderOf(name, settings.Verb)) is { } obstacle)
        {
            terminal.Error.WriteLine($"{settings.Directory}: results could not be written there ({obstacle}). Nothing was computed.");
            return ExitCodes.NotCompleted;
        }

        using var told = cancellation.Register(() => terminal.Error.WriteLine("Stopping: what is finished is being written. A second Ctrl+C ends it at once."));
        StudyDocument document;
        try
        {
            document = compute();
        }
        catch (StudyRefusedException refused)
        {
            foreach (var problem in refused.Problems)
            {
                terminal.Error.WriteLine(problem);
            }

            terminal.Error.WriteLine("Nothing was written.");
            return ExitCodes.Refused;
        }
        catch (Exception e) when (e is DropInputException or UnstableSparException)
        {
            terminal.Error.WriteLine($"{path}: could not be computed: {e.Message}");
            return ExitCodes.NotCompleted;
        }

        WrittenFolder written;
        try
        {
            // What an interrupted study keeps is written although it was interrupted.
            var faults = new List<string>();
            written = StudyReport.Write(document, settings.Directory, options, faults, document.CutShort is null ? cancellation : CancellationToken.None);
            document = document with { Faults = [.. document.Faults, .. faults] };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            terminal.Error.WriteLine($"{path}: the results could not be written to {Path.Combine(settings.Directory, document.Folder)}: {e.Message}");
            return ExitCodes.NotCompleted;
        }

        foreach (var fault in document.Faults)
        {
            terminal.Error.WriteLine($"{path}: {Unforeseen.OneLine(fault)}. What was finished is kept.");
        }

        Print(terminal, document, settings);
        OutputFolder.TellKept(terminal, Path.Combine(settings.Directory, document.Folder), written.Kept);
        return document.Faults.Count > 0 ? ExitCodes.NotCompleted : document.CutShort is null ? ExitCodes.Done : ExitCodes.Interrupted;
    }

    private static void Print(Terminal terminal, StudyDocument document, CommonSettings settings)
    {
        var output = terminal.Output;
        output.WriteLine();
        output.WriteLine($"{document.ScenarioTitle}  ({document.ScenarioName}, {document.SourceHash})");
        if (document.CutShort is { } sentence)
        {
            if (document.Faults.Count == 0)
            {
                terminal.Error.WriteLine("Interrupted. What was finished is kept.");
            }

            output.WriteLine();
            terminal.Paragraph(sentence, 0);
        }

        foreach (var screen in document.Screens)
        {
            output.WriteLine();
            if (screen.Title.Length > 0)
            {
                output.WriteLine(screen.Title);
            }

            terminal.Table(screen.Heading, screen.Rows);
            if (screen.Note.Length > 0)
            {
                terminal.Paragraph(screen.Note, 0);
            }
        }

        output.WriteLine();
        foreach (var finding in document.Findings)
        {
            terminal.Paragraph(finding, 0);
        }

        foreach (var warning in document.Warnings)
        {
            terminal.Paragraph("Note: " + warning);
        }

        output.WriteLine();
        output.WriteLine($"Tables, pictures and study.json: {Path.Combine(settings.Directory, document.Folder)}");
        output.WriteLine();
        foreach (var caution in Cautions.Reading)
        {
            terminal.Paragraph(caution, 0);
        }
    }
}

/// <summary>A study cannot be made of what was asked for: every problem at once, each a line for people.</summary>
internal sealed class StudyRefusedException : Exception
{
    /// <summary>Nothing said.</summary>
    public StudyRefusedException()
        : this([])
    {
    }

    /// <summary>One problem.</summary>
    /// <param name="message">The problem.</param>
    public StudyRefusedException(string message)
        : this([message])
    {
    }

    /// <summary>One problem and what led to it.</summary>
    /// <param name="message">The problem.</param>
    /// <param name="innerException">What led to it.</param>
    public StudyRefusedException(string message, Exception innerException)
        : base(message, innerException) => Problems = [message];

    /// <summary>Several problems.</summary>
    /// <param name="problems">The problems.</param>
    public StudyRefusedException(IReadOnlyList<string> problems)
        : base(string.Join(" ", problems)) => Problems = problems;

    /// <summary>The problems.</summary>
    public IReadOnlyList<string> Problems { get; }
}
