namespace DropSim.Cli;

/// <summary>What nobody foresaw: told in one line, never as a trace of the stack, and never at the cost of what was finished before.</summary>
internal static class Unforeseen
{
    /// <summary>One line for people, with what whoever mends it needs to search for.</summary>
    /// <param name="fault">What was thrown.</param>
    public static string Line(Exception fault) => OneLine($"Something went wrong that nobody foresaw ({fault.GetType().Name}: {fault.Message})");

    /// <summary>The text in one line, without the full stop that the sentence round it has.</summary>
    /// <param name="text">Any text.</param>
    public static string OneLine(string text) => string.Join(' ', text.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).TrimEnd('.');
}
