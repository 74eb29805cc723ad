namespace DropSim.Reporting.Dismantle;

/// <summary>One printed page for a crew, as data.</summary>
internal sealed record CrewSheet
{
    public required string Title { get; init; }

    /// <summary>Lines below the title.</summary>
    public required IReadOnlyList<string> Head { get; init; }

    public required IReadOnlyList<SheetColumn> Columns { get; init; }

    /// <summary>Cells, one row a cut.</summary>
    public required IReadOnlyList<IReadOnlyList<string>> Rows { get; init; }

    /// <summary>Lines below the table.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Lists, in reading order; they fill two columns.</summary>
    public required IReadOnlyList<SheetBlock> Blocks { get; init; }

    /// <summary>What is not modelled, cautions, version.</summary>
    public required IReadOnlyList<string> Foot { get; init; }
}

/// <summary>A column of the cut list.</summary>
/// <param name="Heading">Lines of its heading.</param>
/// <param name="Strong">True for bold cells.</param>
internal sealed record SheetColumn(IReadOnlyList<string> Heading, bool Strong = false);

/// <summary>A list with a heading.</summary>
internal sealed record SheetBlock(string Heading, IReadOnlyList<SheetLine> Lines);

/// <summary>What stands before or after the words.</summary>
internal enum SheetMark
{
    /// <summary>A dot.</summary>
    Plain,

    /// <summary>An empty box: to be said aloud and marked by hand.</summary>
    Box,

    /// <summary>A ruled line after the words, to be filled in by hand.</summary>
    Blank,
}

/// <summary>A line of a list.</summary>
internal sealed record SheetLine(string Words, SheetMark Mark = SheetMark.Plain);
