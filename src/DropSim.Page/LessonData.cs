using System.Text.Json.Serialization;

namespace DropSim.Page;

/// <summary>What a page is given to open with.</summary>
/// <param name="Version">Version of the program.</param>
/// <param name="Mode">"lesson", or "report" for the page beside a scenario's results.</param>
/// <param name="Units">"si" or "us"; null for what the scenario asks for.</param>
/// <param name="Open">Index of the file that is opened first.</param>
/// <param name="Files">Scenario files.</param>
public sealed record LessonData(string Version, string Mode, string? Units, int Open, IReadOnlyList<LessonFile> Files);

/// <summary>A scenario inside a page.</summary>
/// <param name="Name">File name, without folders.</param>
/// <param name="Text">Its text, as it is on disk.</param>
public sealed record LessonFile(string Name, string Text);

/// <summary>How the data are written; the default encoder spells out what could end a script element.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(LessonData))]
internal sealed partial class LessonJson : JsonSerializerContext;
