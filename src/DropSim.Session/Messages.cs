using System.Text.Json.Serialization;
using DropSim.Studies;

namespace DropSim.Session;

// Requests. Field names are those of the protocol (docs/lesson-page.md), in camel case.
internal sealed record OpenRequest(string Text, string File);

internal sealed record EditRequest(int Case, string Key, string? Value, string? Only);

internal sealed record ChangeRequest(string Text, string File, IReadOnlyList<EditRequest> Edits);

internal sealed record SimulateRequest(
    string Text, string File, IReadOnlyList<int> Cases, string? Quality, string? Units, double? Interval, double? Until, IReadOnlyList<EditRequest>? Edits);

internal sealed record RunsRequest(IReadOnlyList<int> Runs, string? Units);

internal sealed record DrawsRequest(IReadOnlyList<int> Runs, IReadOnlyList<TellRequest>? Tell, string? Units);

// What to tell of one run, or of two; without names the engine's own.
internal sealed record TellRequest(int First, int? Second, IReadOnlyList<string>? Names);

// Phrases: the names as they stand after "with"; null where the names themselves can.
internal sealed record CompareRequest(int First, int Second, IReadOnlyList<string> Names, string? Units, IReadOnlyList<string>? Phrases = null);

internal sealed record CsvRequest(int Run, string? Units, double? Interval);

// Answers.
internal sealed record ProblemDto(string File, int Line, string Path, string Found, string Expected, string? Nearest, string Message);

internal sealed record OpenAnswer(
    IReadOnlyList<ProblemDto> Problems, string File, string? Text, ScenarioDto? Scenario, IReadOnlyList<IReadOnlyList<InputDto>>? Inputs);

internal sealed record ScenarioDto(
    string Name, string Title, string Description, string Units, string Hash,
    IReadOnlyList<SetupDto> Setups, IReadOnlyList<CatchDto> Catches, IReadOnlyList<CaseDto> Cases, OpeningPair Opening, ReviewDto? Review);

internal sealed record SetupDto(string Name, string Label, string Description);

internal sealed record CatchDto(string Name, string Label, string Kind);

internal sealed record CaseDto(int Index, string Setup, string Catch, string Label, IReadOnlyList<string> Warnings);

internal sealed record ReviewDto(IReadOnlyList<string> Seen, IReadOnlyList<string> Assumed, IReadOnlyList<string> Unknown);

internal sealed record UnitDto(string Unit, double Factor, int Decimals);

internal sealed record InUnits<T>(T Si, T Us);

internal sealed record SliderDto(double From, double To, double Step);

internal sealed record InputDto
{
    public required string Key { get; init; }

    public required string Section { get; init; }

    public required string SectionLabel { get; init; }

    public required string Label { get; init; }

    /// <summary>True where the label says by itself which section it belongs to.</summary>
    public bool NamesSection { get; init; }

    public required string Says { get; init; }

    public required int Level { get; init; }

    public required string Kind { get; init; }

    /// <summary>A number in SI, a word, or TOML text; null where it has none.</summary>
    public required object? Value { get; init; }

    public double? Low { get; init; }

    public double? High { get; init; }

    public InUnits<string>? Shown { get; init; }

    public InUnits<UnitDto>? Units { get; init; }

    public double? Least { get; init; }

    public double? Most { get; init; }

    public SliderDto? Slider { get; init; }

    public IReadOnlyList<string>? Choices { get; init; }

    /// <summary>Which list of the catalogue answer is chosen from.</summary>
    public string? ChoicesFrom { get; init; }

    public required bool Given { get; init; }

    public required string Source { get; init; }

    public required string Place { get; init; }

    public required bool Shared { get; init; }
}

internal sealed record SimulateAnswer(
    IReadOnlyList<ProblemDto> Problems, string? Text, string Quality, double Milliseconds, IReadOnlyList<RunDto> Runs, IReadOnlyList<ComparisonDto> Comparisons);

internal sealed record ComparisonDto(int First, int Second, string Title, MovementDto Movement, IReadOnlyList<PartDto> Parts);

// Text: both sentences; alike: the spar moves about the same in both.
internal sealed record MovementDto(string Head, string Rest, string Text, bool Alike);

internal sealed record PartDto(string Kind, string Heading, string Text);

internal sealed record MeasureDto(
    string Id, string Label, bool Headline, string Unit, double Value, double? Time, string State, string ThisDrop);

// Set-ups like a run. NotCaught: how many and how they end; empty where all are caught. Foot: in how many the stem's foot turns too far; null for none.
internal sealed record DrawnDto(int Drawn, int Caught, string NotCaught, IReadOnlyList<SpreadDto> Spreads, string? Foot);

// One measure over them. LikeIt: Of and Range. Dots: those caught, of twenty, in SI; Missed: the rest of the twenty; Says: the dots in words.
internal sealed record SpreadDto(
    string Id, string LikeIt, string Of, string Range, IReadOnlyList<double> Dots, int Missed, string Says, string Stress, string StressInputs);

// Measures: how the first compares; Moving: what moves the force most, null where nothing stands out.
internal sealed record ToldDto(int First, int? Second, IReadOnlyList<string> Sentences, IReadOnlyList<VerdictDto> Measures, string? Moving);

internal sealed record VerdictDto(string Id, string Words);

internal sealed record EventDto(double Time, string Kind, string Name, string Detail, bool Marked, string? Short);

internal sealed record PhaseDto(double From, double To, string Name, string Label);

internal sealed record WindowDto(double From, double To);

internal sealed record EndDto(
    string Kind, double Time, double Speed, [property: JsonPropertyName("energy_J")] double Energy, int? Obstacle, bool CutsShort, string? Unfinished, string Description);

internal sealed record PlaceDto(string Column, string Label, double Energy);

internal sealed record LedgerDto(double Fallen, double LargestImbalance, IReadOnlyList<PlaceDto> Places);

internal sealed record StrikeDto(double Time, string Place, double Height, double ClosingSpeed, double Energy, double Impulse);

internal sealed record ObstacleDto(string Name, double XFrom, double XTo, double ZFrom, double ZTo);

internal sealed record PieceDto(string Kind, double Length, double ButtDiameter, double TipDiameter, double Mass, [property: JsonPropertyName("weight_N")] double Weight);

internal sealed record SparDto(
    double Height, IReadOnlyList<double> Z, IReadOnlyList<double> Radius, IReadOnlyList<IReadOnlyList<double>> Shapes, bool Rigid);

internal sealed record RiggingPointDto(string Kind, double Height, double Offset, double? BendDiameter);

internal sealed record DeviceDto(double X, double Z, double Wraps, bool OnSpar);

internal sealed record ModelDto(
    IReadOnlyList<double[]> PieceOutline, double[] Hitch, PieceDto Piece, string Start, SparDto Spar, double? ClimberHeight, IReadOnlyList<double> ClimberShapes,
    RiggingPointDto RiggingPoint, DeviceDto Device, double RopeDiameter, IReadOnlyList<ObstacleDto> Obstacles);

internal sealed record RunDto
{
    public required int Run { get; init; }

    public required int Case { get; init; }

    public required string Label { get; init; }

    public required string Setup { get; init; }

    public required string Catch { get; init; }

    public required string Subtitle { get; init; }

    /// <summary>Names of the columns; the numbers travel beside the JSON.</summary>
    public required IReadOnlyList<string> Columns { get; init; }

    public required ModelDto Model { get; init; }

    public required IReadOnlyList<EventDto> Events { get; init; }

    public required IReadOnlyList<PhaseDto> Phases { get; init; }

    public required WindowDto Window { get; init; }

    public required IReadOnlyList<MeasureDto> Measures { get; init; }

    public required IReadOnlyList<string> Facts { get; init; }

    public required IReadOnlyList<string> Warnings { get; init; }

    public required EndDto End { get; init; }

    public required LedgerDto Ledger { get; init; }

    public required IReadOnlyList<StrikeDto> Strikes { get; init; }

    /// <summary>Set-ups like it; null until they are drawn.</summary>
    public required DrawnDto? Drawn { get; init; }
}

internal sealed record DrawsAnswer(int Done, int Total, bool Complete, IReadOnlyList<DrawnRunDto> Runs, IReadOnlyList<ToldDto> Told);

internal sealed record DrawnRunDto(int Run, DrawnDto Drawn);

internal sealed record CompareAnswer(string Title, MovementDto Movement, IReadOnlyList<PartDto> Parts, IReadOnlyList<ChangedDto> Changed);

internal sealed record ChangedDto(string Key, string Label, string First, string Second);

internal sealed record CsvAnswer(string Name, string Text);

internal sealed record CatalogueAnswer(IReadOnlyList<SpeciesDto> Species, IReadOnlyList<RopeDto> Ropes, IReadOnlyList<KnotDto> Knots);

internal sealed record SpeciesDto(
    string Name, string Scientific, string Region, double? Density, [property: JsonPropertyName("modulus_Pa")] double? Modulus,
    [property: JsonPropertyName("bendingStrength_Pa")] double? BendingStrength, string Source);

internal sealed record RopeDto(
    string Construction, string Fibre, double Diameter, [property: JsonPropertyName("breakingStrength_N")] double BreakingStrength,
    [property: JsonPropertyName("stiffness_N")] double Stiffness, string Source);

internal sealed record KnotDto(string Name, double Kept, string Source);

internal sealed record WordsAnswer(
    string Version, IReadOnlyList<string> Cautions, IReadOnlyList<string> NotModelled, string NotModelledSentence, IReadOnlyDictionary<string, InUnits<UnitDto>> Axes);

internal sealed record Nothing;

[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, Converters = [typeof(FiniteNumber)])]
[JsonSerializable(typeof(OpenRequest))]
[JsonSerializable(typeof(ChangeRequest))]
[JsonSerializable(typeof(SimulateRequest))]
[JsonSerializable(typeof(RunsRequest))]
[JsonSerializable(typeof(DrawsRequest))]
[JsonSerializable(typeof(CompareRequest))]
[JsonSerializable(typeof(CsvRequest))]
[JsonSerializable(typeof(OpenAnswer))]
[JsonSerializable(typeof(SimulateAnswer))]
[JsonSerializable(typeof(DrawsAnswer))]
[JsonSerializable(typeof(CompareAnswer))]
[JsonSerializable(typeof(CsvAnswer))]
[JsonSerializable(typeof(CatalogueAnswer))]
[JsonSerializable(typeof(WordsAnswer))]
[JsonSerializable(typeof(Nothing))]
[JsonSerializable(typeof(object))]
[JsonSerializable(typeof(double))]
[JsonSerializable(typeof(string))]
[JsonSerializable(typeof(bool))]
internal sealed partial class Messages : JsonSerializerContext;
