using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies.Uncertainty;

namespace DropSim.Reporting.Uncertainty;

/// <summary>A scenario's uncertainty: one result a case.</summary>
/// <param name="Name">File-name-safe name.</param>
/// <param name="Title">Title.</param>
/// <param name="SourceHash">Hash of the file.</param>
/// <param name="Cases">Results; at least one.</param>
/// <param name="Asked">Number of cases asked for; more than there are where the study was interrupted.</param>
internal sealed record UncertaintyScenario(string Name, string Title, string SourceHash, IReadOnlyList<UncertaintyResult> Cases, int Asked)
{
    /// <summary>True where something is missing.</summary>
    public bool CutShort => Cases.Count < Asked || Cases.Any(c => c.CutShort);
}

/// <summary>Words that the tables and pictures of an uncertainty study share.</summary>
internal sealed class UncertaintyWords(UncertaintyScenario scenario, ReportOptions options)
{
    private const double Percent = 100;
    private const string Scale = ", scale";

    /// <summary>Short names of the measures that are shown, in their order.</summary>
    private static readonly (string Id, string Name)[] Shown =
    [
        (MeasureIds.RiggingPointForce, "force on the rigging point"), (MeasureIds.Room, "room left under the piece"),
        (MeasureIds.ClimberMovement, "movement at the climber's feet"), (MeasureIds.HandForce, "force the hand must hold"), (MeasureIds.RopeRun, "rope run"),
        (MeasureIds.LoadLegTension, "load-leg tension"), (MeasureIds.GroundLegTension, "ground-leg tension"), (MeasureIds.SparStress, "stress in the spar"),
        (MeasureIds.RopeSpeed, "speed of rope at the device"), (MeasureIds.WeakestLink, "load on the weakest known link"),
    ];

    public UncertaintyScenario Scenario => scenario;

    public UnitSystem Units => options.Units;

    /// <summary>What is not in the spread, whatever is.</summary>
    public static string NotInIt { get; } =
        "Not in the spread: errors of the model itself, scatter of the strengths, inputs that were not varied; the inputs are taken as independent, and their distributions are stated or assumed, not measured.";

    /// <summary>"Hard stop", "Block, let run".</summary>
    public string CaseName(UncertaintyResult result)
    {
        var several = scenario.Cases.Select(c => c.Case.Setup).Distinct().Count() > 1;
        return Wording.Capital((several ? Wording.Plain(result.Case.Setup) + ", " : "") + Wording.Plain(result.Case.CatchName));
    }

    /// <summary>Short name of a measure.</summary>
    public static string Name(string id) => Shown.First(s => s.Id == id).Name;

    /// <summary>The measures of a result that are shown, with something to show.</summary>
    public static IReadOnlyList<MeasureSpread> Rows(UncertaintyResult result) =>
        [.. Shown.Where(s => result.MeasureIds.Contains(s.Id)).Select(s => result[s.Id]).Where(m => m.Quantiles.Count > 0 && !(m.Central.Id is MeasureIds.RopeSpeed or MeasureIds.RopeRun && AllZero(m)))];

    /// <summary>Unit and factor of a measure on an axis.</summary>
    public (string Unit, double Factor) Axis(Measure measure) => Format.IsSmallLength(measure.Id) ? Reporting.Units.SmallLength(Units)
        : measure.Unit == "Pa" && Units == UnitSystem.Si ? ("MPa", 1e-6) : Reporting.Units.Axis(measure.Unit, Units);

    /// <summary>A value of a measure.</summary>
    public string Value(Measure measure, double value) =>
        measure.Id == MeasureIds.Room && value <= 0 ? "none"
        : measure.Id == MeasureIds.WeakestLink ? Format.Percent(value)
        : Format.IsSmallLength(measure.Id) ? Format.SmallLength(value, Units) : Format.Quantity(value, measure.Unit, Units);

    /// <summary>A quantile: a value, or a bound where it falls among drops that were cut short.</summary>
    public string Quantile(MeasureSpread spread, QuantileBounds q)
    {
        var (low, high) = (double.IsFinite(q.Low), double.IsFinite(q.High));
        if (q.IsExact && low)
        {
            return Value(spread.Central, q.Low);
        }

        return (low, high) switch
        {
            (true, true) when spread.Central.Id == MeasureIds.Room && q.Low <= 0 => "at most " + Value(spread.Central, q.High),
            (true, true) => Value(spread.Central, q.Low) is var a && Value(spread.Central, q.High) is var b && a == b ? a : Between(a, b),
            (true, false) => "at least " + Value(spread.Central, q.Low),
            (false, true) => "at most " + Value(spread.Central, q.High),
            _ => "unknown",
        };
    }

    /// <summary>"4.0 to 4.3 kN": the unit once where it is one.</summary>
    private static string Between(string a, string b)
    {
        var (i, j) = (a.IndexOf(' ', StringComparison.Ordinal), b.IndexOf(' ', StringComparison.Ordinal));
        return i > 0 && j > 0 && a[i..] == b[j..] ? $"{a[..i]} to {b}" : $"{a} to {b}";
    }

    /// <summary>The value of the central run with its state.</summary>
    public string Central(Measure measure) =>
        measure.State is MeasureState.NotReached or MeasureState.Unknown ? Format.Value(measure, Units)
        : (measure.State == MeasureState.AtLeast ? "at least " : "") + Value(measure, measure.Value);

    /// <summary>A share of the drops.</summary>
    public static string Share(ShareBounds share, int count)
    {
        if (share.High <= 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"none of {count}");
        }

        return share.Low.Equals(share.High) ? Part(share.Low) + " %" : $"{Part(share.Low)} to {Part(share.High)} %";
    }

    /// <summary>Two digits, but a share just below all is not all.</summary>
    private static string Part(double part) => part > 0.995 && part < 1 ? (Percent * part).ToString("0.0", CultureInfo.InvariantCulture) : Format.Number(Percent * part);

    /// <summary>The 95 % interval of a share for the number of drops.</summary>
    public static string Interval(ShareBounds share) =>
        $"{Part(share.SampleLow)} to {Part(share.SampleHigh)} %";

    /// <summary>An input's value with its unit.</summary>
    public string Input(UncertainInput input, double value)
    {
        const double Mega = 1e6;
        const double Giga = 1e9;
        return input.Range.Unit switch
        {
            "rad" => Format.Number(value * 180 / Math.PI) + "°",
            "rad/(N m)" => value <= 0 ? "rigid" : Format.Number(1 / value / Mega) + " MN m/rad",
            "N m/rad" => Format.Number(value / Mega) + " MN m/rad",
            "Pa" when Units == UnitSystem.Si && value >= Giga => Format.Number(value / Giga) + " GPa",
            "" when input.Range.Name.EndsWith(Scale, StringComparison.Ordinal) => Format.Number(value) + " times",
            _ => Format.Quantity(value, input.Range.Unit, Units),
        };
    }

    /// <summary>Name of an input; the root's reads the way people think of it.</summary>
    public static string Name(UncertainInput input) => input.Range.Unit == "rad/(N m)" ? "root stiffness" : input.Range.Name.Replace(Scale, "", StringComparison.Ordinal);

    /// <summary>What was drawn, in a sentence.</summary>
    public static string Drawn(UncertaintyResult result)
    {
        var options = result.Options;
        var points = options.Method == SamplingMethod.Sobol ? "scrambled Sobol points" : "Latin hypercube points";
        var count = result.Samples.Count;
        var cut = result.Ended == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; {result.Ended} ended before their peaks were over");
        var refused = result.Refused == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"; {result.Refused} could not be computed and count as unknown");
        var whole = count < options.Samples ? string.Create(CultureInfo.InvariantCulture, $" of {options.Samples} (interrupted)") : "";
        return string.Create(CultureInfo.InvariantCulture, $"{count} drops{whole}, {result.Inputs.Count} inputs spread at once, {points}, seed {options.Seed}{cut}{refused}");
    }

    public string Subtitle(UncertaintyResult result) => $"{scenario.Title}. {CaseName(result)}. {Drawn(result)}.";

    public IReadOnlyList<string> Footer(UncertaintyResult result)
    {
        string[] warnings = [.. Format.Warnings(result.Case, Units).Concat(Format.Warnings(result.Central, Units)).Distinct()];
        return
        [
            .. warnings.Length > 0 ? [$"Know this: {string.Join(" ", warnings)}"] : Array.Empty<string>(),
            NotInIt,
            Cautions.NotModelledSentence,
            string.Join(" ", Cautions.Reading),
            $"DropSim {options.ProgramVersion}; scenario {scenario.Name}, file hash {scenario.SourceHash}.",
        ];
    }

    /// <summary>Where nine of ten values lie: "between 9.8 and 24 kN"; the outer ends where a quantile is known between two.</summary>
    public string NineOfTen(MeasureSpread spread)
    {
        var (low, high) = (spread.Quantiles[0].Low, spread.Quantiles[^1]);
        var from = double.IsFinite(low) ? Value(spread.Central, low) : "an unknown value";
        return double.IsFinite(high.High) ? Between(from, Value(spread.Central, high.High)).Replace(" to ", " and ", StringComparison.Ordinal)
            : $"{from} and at least {Value(spread.Central, high.Low)}";
    }

    /// <summary>Both ends of an input's band.</summary>
    public string Ends(UncertainInput input, double low, double high) => Between(Input(input, low), Input(input, high));

    /// <summary>The input with the largest total index, else the largest rank correlation; null where none is known.</summary>
    public static int? Strongest(MeasureSpread spread) => spread.Influence.Count == 0 ? null
        : Enumerable.Range(0, spread.Influence.Count).MaxBy(i => spread.Influence[i].Total?.Value ?? Math.Abs(spread.Influence[i].RankCorrelation));

    private static bool AllZero(MeasureSpread spread) => spread.Quantiles.All(q => q.Low is 0 && q.High is 0);
}
