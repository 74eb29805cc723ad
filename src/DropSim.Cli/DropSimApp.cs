using System.CommandLine;
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
        var terminal = new Terminal(output, error);
        var root = new RootCommand("Computes what a rigged drop does: forces, movement, room and rope, before the cut. It informs; people decide.")
        {
            SimulateCommand.Create(terminal),
            ValidateCommand.Create(terminal),
            MassCommand.Create(terminal),
            CatalogueCommand.Create(terminal),
        };
        var parsed = root.Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var problem in parsed.Errors)
            {
                error.WriteLine(problem.Message);
            }

            error.WriteLine("See 'dropsim --help', or 'dropsim COMMAND --help' for examples.");
            return ExitCodes.Usage;
        }

        try
        {
            return parsed.InvokeAsync(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false }, cancellation)
                .GetAwaiter().GetResult();
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("Interrupted. Nothing was left half written.");
            return ExitCodes.Interrupted;
        }
    }

    /// <summary>A description followed by examples.</summary>
    public static string WithExamples(string description, params string[] examples) =>
        description + Environment.NewLine + Environment.NewLine + "Examples:" + Environment.NewLine
            + string.Join(Environment.NewLine, examples.Select(e => "  " + e));
}
