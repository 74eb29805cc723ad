namespace DropSim.Cli;

/// <summary>What the program says to its caller (docs/command-line.md).</summary>
internal static class ExitCodes
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>A computation could not be completed, or its result not written.</summary>
    public const int NotCompleted = 1;

    /// <summary>Input was refused.</summary>
    public const int Refused = 2;

    /// <summary>Wrong usage.</summary>
    public const int Usage = 64;

    /// <summary>Interrupted.</summary>
    public const int Interrupted = 130;
}
