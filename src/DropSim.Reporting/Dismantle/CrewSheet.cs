using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>What is printed for a crew, as data: as many pages as it takes.</summary>
internal sealed record CrewSheet
{
    public required string Title { get; init; }

    /// <summary>What is hit, largest of all: sentences.</summary>
    public required IReadOnlyList<string> Headline { get; init; }

    /// <summary>What follows, in reading order.</summary>
    public required IReadOnlyList<SheetPart> Parts { get; init; }

    /// <summary>The tables.</summary>
    public IEnumerable<SheetTable> Tables => Parts.OfType<SheetTable>();
}

/// <summary>A part of a sheet.</summary>
internal abstract record SheetPart;

/// <summary>A paragraph.</summary>
internal sealed record SheetText(string Words, bool Strong = false) : SheetPart;

/// <summary>A table with a row a cut.</summary>
internal sealed record SheetTable(string Heading, IReadOnlyList<SheetColumn> Columns, IReadOnlyList<SheetRow> Rows) : SheetPart;

/// <summary>A column.</summary>
/// <param name="Heading">Its heading; a line break breaks it.</param>
/// <param name="Strong">True for bold cells.</param>
/// <param name="Wide">True where the cells are sentences: it takes what room is left.</param>
internal sealed record SheetColumn(string Heading, bool Strong = false, bool Wide = false);

/// <summary>A row: what its cut comes to as a fact, and its cells.</summary>
internal sealed record SheetRow(CutReach Reach, IReadOnlyList<string> Cells);

/// <summary>Lists, in reading order; they fill two columns.</summary>
internal sealed record SheetLists(IReadOnlyList<SheetBlock> Blocks) : SheetPart;

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

/// <summary>A side view to scale beside the words that explain it. Lengths in m; x from the axis of the stem, z from the ground.</summary>
internal sealed record SheetSketch : SheetPart
{
    /// <summary>Outline of the stem as it stands before the first cut.</summary>
    public required IReadOnlyList<(double X, double Z)> Stem { get; init; }

    /// <summary>The cuts from the tip down: height, radius there, words beside it.</summary>
    public required IReadOnlyList<(double Z, double Radius, string Words)> Cuts { get; init; }

    /// <summary>The obstacles with the letter that the words use.</summary>
    public required IReadOnlyList<(string Letter, double XFrom, double XTo, double ZFrom, double ZTo)> Obstacles { get; init; }

    /// <summary>Where pieces go, layer by layer.</summary>
    public required IReadOnlyList<(double Z, double Low, double High)> Sweep { get; init; }

    /// <summary>Where planned drops hit, with the number of the cut.</summary>
    public required IReadOnlyList<(double X, double Z, int Cut)> Hits { get; init; }

    /// <summary>Length of the bar that shows the scale, m, and its words.</summary>
    public required (double Length, string Words) Bar { get; init; }

    /// <summary>Words beside it.</summary>
    public required IReadOnlyList<SheetLine> Words { get; init; }
}
