using DropSim.Cli;

using var cancel = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    // The first asks it to come to an end; a second one ends it. Nothing is half written then either (docs/decisions/0021).
    if (cancel.IsCancellationRequested)
    {
        Environment.Exit(ExitCodes.Interrupted);
    }

    e.Cancel = true;
    cancel.Cancel();
};
return DropSimApp.Run(args, Console.Out, Console.Error, cancel.Token);
