using System.CommandLine;
using System.Net;
using DropSim.Page;

namespace DropSim.Cli;

/// <summary>dropsim lesson and dropsim share: the page on which a trainer moves a slider and sees the drop.</summary>
internal static class LessonCommand
{
    /// <summary>A port that nothing usual takes.</summary>
    private const int UsualPort = 8017;

    public static Command Create(Terminal terminal)
    {
        var paths = Paths();
        var file = new Option<string>("--out") { Description = "The page, one HTML file.", DefaultValueFactory = _ => "lesson.html" };
        file.Validators.Add(r =>
        {
            if (r.Tokens.Count > 0 && string.IsNullOrWhiteSpace(r.Tokens[0].Value))
            {
                r.AddError("--out: found an empty name; expected a file.");
            }
        });
        var command = new Command("lesson", DropSimApp.WithExamples(
            "Writes the lesson page: one file that opens in a browser without any network and computes the drop while a slider moves.",
            "dropsim lesson --out lesson.html",
            "dropsim lesson scenarios/medium-log.toml my-log.toml --out lesson.html"))
        {
            paths, file,
        };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(parsed, cancellation)));
        return command;

        int Run(ParseResult parsed, CancellationToken cancellation)
        {
            var out_ = parsed.GetValue(file)!;
            if (Scenarios(parsed.GetValue(paths), terminal) is not { } files)
            {
                terminal.Error.WriteLine("No page was written.");
                return ExitCodes.Refused;
            }

            if (PageFile.Write(out_, Data(files), cancellation) is { } problem)
            {
                terminal.Error.WriteLine($"{out_}: {problem}.");
                return ExitCodes.NotCompleted;
            }

            terminal.Output.WriteLine($"The page: {out_} (scenarios inside: {string.Join(", ", files.Select(f => f.Name))}).");
            terminal.Output.WriteLine("It needs no network: open it in a browser.");
            return ExitCodes.Done;
        }
    }

    public static Command CreateShare(Terminal terminal)
    {
        var paths = Paths();
        var address = new Option<string>("--address") { Description = "Address to listen on. 0.0.0.0 offers the page to everybody on the network.", DefaultValueFactory = _ => IPAddress.Loopback.ToString() };
        address.Validators.Add(r =>
        {
            if (r.Tokens.Count > 0 && !IPAddress.TryParse(r.Tokens[0].Value, out _))
            {
                r.AddError($"--address: found '{r.Tokens[0].Value}'; expected an address of this machine, such as 192.168.1.20, or 0.0.0.0 for all of them.");
            }
        });
        var port = TypedOptions.Number("--port", "Port; 0 for any free one.", () => UsualPort, 0, ushort.MaxValue);
        var command = new Command("share", DropSimApp.WithExamples(
            "Offers the lesson page to browsers until interrupted (Ctrl+C): on this machine only, unless --address says otherwise. The page can be read, nothing can be written.",
            "dropsim share",
            "dropsim share scenarios/medium-log.toml --address 0.0.0.0"))
        {
            paths, address, port,
        };
        command.SetAction((parsed, cancellation) => ShareAsync(
            terminal, parsed.GetValue(paths), IPAddress.Parse(parsed.GetValue(address)!), parsed.GetValue(port), cancellation));
        return command;
    }

    /// <summary>Scenarios as the page carries them; null where one was refused, which has been told.</summary>
    private static IReadOnlyList<LessonFile>? Scenarios(string[]? paths, Terminal terminal)
    {
        if (paths is not { Length: > 0 })
        {
            return ShippedScenarios.All;
        }

        var found = ScenarioFiles.Find(paths, terminal.Error, out var refused);
        var scenarios = ScenarioFiles.Read(found, terminal.Error, ref refused);
        return refused ? null : [.. scenarios.Select(s => new LessonFile(Path.GetFileName(s.File), s.Scenario.SourceText))];
    }

    private static LessonData Data(IReadOnlyList<LessonFile> files) => new(DropSimApp.Version, "lesson", null, 0, files);

    private static async Task<int> ShareAsync(Terminal terminal, string[]? paths, IPAddress address, int port, CancellationToken cancellation)
    {
        if (Scenarios(paths, terminal) is not { } files)
        {
            await terminal.Error.WriteLineAsync("Nothing is shared.").ConfigureAwait(false);
            return ExitCodes.Refused;
        }

        using var page = new MemoryStream();
        LessonPage.Write(page, Data(files));
        LessonServer server;
        try
        {
            server = await LessonServer.StartAsync(page.ToArray(), address, port, cancellation).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or InvalidOperationException or System.Net.Sockets.SocketException)
        {
            await terminal.Error.WriteLineAsync($"The page cannot be offered on {address}, port {port}: {e.Message}").ConfigureAwait(false);
            return ExitCodes.NotCompleted;
        }

        await using (server.ConfigureAwait(false))
        {
            await terminal.Output.WriteLineAsync($"The page: {string.Join(", ", server.Addresses)}").ConfigureAwait(false);
            await terminal.Output.WriteLineAsync(IPAddress.IsLoopback(address)
                ? "On this machine only; --address offers it to others. Ctrl+C ends it."
                : "Everybody on this network can read it. Ctrl+C ends it.").ConfigureAwait(false);
            await server.WaitAsync(cancellation).ConfigureAwait(false);
        }

        return ExitCodes.Done;
    }

    private static Argument<string[]> Paths() =>
        new("PATH") { Description = "Scenario files, or folders of them. Without any: those that ship with the program.", Arity = ArgumentArity.ZeroOrMore };
}
