using System.CommandLine;
using System.CommandLine.Parsing;
using System.Reflection;

namespace DropSim.Cli;

/// <summary>The command line: parses, runs a command, returns its exit code.</summary>
internal static class DropSimApp
{
    /// <summary>Version of the program.</summary>
    public static string Version { get; } =
        typeof(DropSimApp).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";

    /// <summary>Runs the program.</summary>
    /// <param name="args">Arguments.</param>
    /// <param name="output">Results.</param>
    /// <param name="error">Messages.</param>
    /// <param name="cancellation">Interrupts.</param>
    public static int Run(string[] args, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        try
        {
            return Invoke(args, new Terminal(output, error), cancellation);
        }
        catch (Exception e) when (IsWriting(e))
        {
            // A full disk or a closed pipe behind the text; files of results were written before, whole or not at all.
            return Told(error, $"The text could not be written: {e.Message}");
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            return Told(new PrintableWriter(error, true), Unforeseen.Line(e) + ". What was written before is whole and stays.");
        }
    }

    private static int Invoke(string[] args, Terminal terminal, CancellationToken cancellation)
    {
        var root = new RootCommand("Computes what a rigged drop does: forces, movement, room and rope, before the cut. It informs; people decide.")
        {
            SimulateCommand.Create(terminal),
            ValidateCommand.Create(terminal),
            OptionsCommand.Create(terminal),
            DismantleCommand.Create(terminal),
            VaryCommand.Create(terminal),
            CompareCommand.Create(terminal),
            UncertaintyCommand.Create(terminal),
            MassCommand.Create(terminal),
            CatalogueCommand.Create(terminal),
            LessonCommand.Create(terminal),
            LessonCommand.CreateShare(terminal),
        };

        // A name that begins with @ is a name, not a file of further arguments.
        var parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        string[] problems = [.. UnknownOptions(parsed), .. parsed.Errors.Select(e => e.Message)];
        if (problems.Length > 0)
        {
            foreach (var problem in problems)
            {
                terminal.Error.WriteLine(problem);
            }

            terminal.Error.WriteLine("See 'dropsim --help', or 'dropsim COMMAND --help' for examples.");
            return ExitCodes.Usage;
        }

        try
        {
            return parsed.InvokeAsync(new InvocationConfiguration { Output = terminal.Help, Error = terminal.Error, EnableDefaultExceptionHandler = false }, cancellation)
                .GetAwaiter().GetResult();
        }
        catch (OperationCanceledException)
        {
            terminal.Error.WriteLine("Interrupted. Nothing was left half written.");
            return ExitCodes.Interrupted;
        }
    }

    /// <summary>A misspelt option is not a path: what begins with a hyphen is one behind a bare -- only.</summary>
    private static IEnumerable<string> UnknownOptions(ParseResult parsed)
    {
        var names = parsed.CommandResult.Children.OfType<ArgumentResult>().SelectMany(a => a.Tokens).ToHashSet(ReferenceEqualityComparer.Instance);
        return parsed.Tokens.TakeWhile(t => t.Type != TokenType.DoubleDash)
            .Where(t => t.Value.StartsWith('-') && names.Contains(t))
            .Select(t => $"Unknown option '{t.Value}'.");
    }

    private static bool IsWriting(Exception e) => e is IOException or UnauthorizedAccessException or ObjectDisposedException;

    private static int Told(TextWriter error, string sentence)
    {
        try
        {
            error.WriteLine(sentence);
        }
        catch (Exception e) when (IsWriting(e))
        {
            // Nobody can be told; the exit code says it.
        }

        return ExitCodes.NotCompleted;
    }

    /// <summary>A description followed by examples.</summary>
    public static string WithExamples(string description, params string[] examples) =>
        description + Environment.NewLine + Environment.NewLine + "Examples:" + Environment.NewLine
            + string.Join(Environment.NewLine, examples.Select(e => "  " + e));
}
