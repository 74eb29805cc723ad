using DropSim.Cli;

using var cancel = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    e.Cancel = true;
    cancel.Cancel();
};
return DropSimApp.Run(args, Console.Out, Console.Error, cancel.Token);
