namespace DropSim.Reporting;

/// <summary>What every result carries with it, in one place so that charts, files and console say the same.</summary>
public static class Cautions
{
    /// <summary>What the model leaves out.</summary>
    public static IReadOnlyList<string> NotModelled { get; } =
    [
        "sideways lean and swing",
        "twist",
        "wind",
        "sling or hitch slipping off",
        "rope cut by saw or edge",
        "decay",
        "rope age and shock history",
        "a second line or tag line",
        "bystanders",
    ];

    /// <summary>How a result may and may not be read.</summary>
    public static IReadOnlyList<string> Reading { get; } =
    [
        "Computed from the stated inputs, not measured: how far they may be off counts as much as one drop.",
        "This informs and permits nothing: local rules and licensed practice come first, and people decide.",
        "A shorter piece is the surest change.",
    ];

    /// <summary>The same where there is one line for it.</summary>
    internal const string InShort = "Computed from stated inputs, not measured. It informs and permits nothing.";

    /// <summary>What is left out, as one sentence.</summary>
    internal static string NotModelledSentence { get; } = $"{NotModelledHeading}: {NotModelledList}.";

    /// <summary>What stands before the list.</summary>
    internal const string NotModelledHeading = "Not modelled";

    /// <summary>The list.</summary>
    internal static string NotModelledList => string.Join(", ", NotModelled);
}
