using DropSim.Cli;

namespace DropSim.Tests.Cli;

/// <summary>Runs the program as its caller would.</summary>
internal static class CommandLine
{
    public static (int Code, string Output, string Error) Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = DropSimApp.Run(args, output, error, default);
        return (code, output.ToString(), error.ToString());
    }
}
