using System.Text.Json;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Files;

namespace DropSim.Reporting.Studies;

/// <summary>What a study found, as data: every verb that takes many runs fills one, and console, CSV, PNG and JSON are written from it.</summary>
internal sealed record StudyDocument
{
    /// <summary>The verb: the folder is called SCENARIO-VERB.</summary>
    public required string Verb { get; init; }

    /// <summary>File-name-safe name of the scenario.</summary>
    public required string ScenarioName { get; init; }

    /// <summary>Title of the scenario.</summary>
    public required string ScenarioTitle { get; init; }

    /// <summary>First digits of the hash of the scenario file.</summary>
    public required string SourceHash { get; init; }

    /// <summary>What was found, in sentences with numbers; the first one is the headline.</summary>
    public required IReadOnlyList<string> Findings { get; init; }

    /// <summary>Tables of numbers: one CSV file each.</summary>
    public required IReadOnlyList<StudyTable> Tables { get; init; }

    /// <summary>Pictures.</summary>
    public required IReadOnlyList<Figure> Figures { get; init; }

    /// <summary>Tables of words for the screen.</summary>
    public IReadOnlyList<ScreenTable> Screens { get; init; } = [];

    /// <summary>The inputs really used, defaults included, case by case.</summary>
    public required IReadOnlyList<StudyInputs> Inputs { get; init; }

    /// <summary>What a reader must know before believing the result.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    /// <summary>How far an interrupted study came, as a sentence; null where it is complete.</summary>
    public string? CutShort { get; init; }

    /// <summary>What stopped the study or a part of its result, one line each; empty where all was made. What is here was finished.</summary>
    public IReadOnlyList<string> Faults { get; init; } = [];

    /// <summary>Files of other kinds.</summary>
    public IReadOnlyList<ResultFile> OtherFiles { get; init; } = [];

    /// <summary>Writes what only this verb has into an object of the JSON file; null for nothing.</summary>
    public Action<Utf8JsonWriter>? Details { get; init; }

    /// <summary>Name of the result folder.</summary>
    public string Folder => FolderOf(ScenarioName, Verb);

    /// <summary>Name of a study's result folder.</summary>
    /// <param name="name">Name of the scenario or spar.</param>
    /// <param name="verb">The command.</param>
    public static string FolderOf(string name, string verb) => $"{name}-{verb}";
}

/// <summary>A table of numbers in SI.</summary>
/// <param name="Name">File name without ending.</param>
/// <param name="Columns">Columns.</param>
/// <param name="Rows">Rows, one cell a column.</param>
/// <param name="InJson">False to keep a long table out of the JSON file.</param>
internal sealed record StudyTable(string Name, IReadOnlyList<StudyColumn> Columns, IReadOnlyList<IReadOnlyList<StudyCell>> Rows, bool InJson = true)
{
    /// <summary>Name of its CSV file.</summary>
    public string FileName => Name + ".csv";
}

/// <summary>A column.</summary>
/// <param name="Name">quantity_unit in SI ("rigging_point_force_N").</param>
/// <param name="Unit">SI unit as in the name; "" for none or for words.</param>
internal sealed record StudyColumn(string Name, string Unit = "");

/// <summary>A number in SI or a word.</summary>
internal readonly record struct StudyCell
{
    /// <summary>A number; not a number for one that does not exist.</summary>
    public StudyCell(double number) => Number = number;

    /// <summary>A word.</summary>
    public StudyCell(string word) => (Number, Word) = (double.NaN, word);

    /// <summary>The number.</summary>
    public double Number { get; }

    /// <summary>The word; null for a number.</summary>
    public string? Word { get; }

    public static implicit operator StudyCell(double number) => new(number);

    public static implicit operator StudyCell(string word) => new(word);
}

/// <summary>A table of words.</summary>
/// <param name="Title">Words above; may be empty.</param>
/// <param name="Heading">Headings.</param>
/// <param name="Rows">Rows.</param>
internal sealed record ScreenTable(string Title, IReadOnlyList<string> Heading, IReadOnlyList<IReadOnlyList<string>> Rows)
{
    /// <summary>What the table leaves out; empty where it is whole.</summary>
    public string Note { get; init; } = "";
}

/// <summary>The inputs of one case.</summary>
/// <param name="Case">Name of the case.</param>
/// <param name="Notes">Every value used.</param>
internal sealed record StudyInputs(string Case, IReadOnlyList<InputNote> Notes);
