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
    public string Value(Measure measure, double value) => ShownValue(measure, value).ToString();

    private ShownQuantity ShownValue(Measure measure, double value) =>
        measure.Id == MeasureIds.Room && value <= 0 ? new("none", "")
        : measure.Id == MeasureIds.WeakestLink ? double.IsFinite(value) ? new(Format.Number(Percent * value), "%") : new("unknown", "")
        : Format.Shown(value, measure.Unit, Format.IsSmallLength(measure.Id), Units);

    /// <summary>What a quantile is: a value, or what bound where it falls among drops that were cut short.</summary>
    public static QuantileShape Shape(MeasureSpread spread, QuantileBounds q) => (double.IsFinite(q.Low), double.IsFinite(q.High)) switch
    {
        (true, _) when q.IsExact => QuantileShape.Value,
        (true, true) when spread.Central.Id == MeasureIds.Room && q.Low <= 0 => QuantileShape.AtMost,
        (true, true) => QuantileShape.Between,
        (true, false) => QuantileShape.AtLeast,
        (false, true) => QuantileShape.AtMost,
        _ => QuantileShape.Unknown,
    };

    /// <summary>A quantile: a value, or a bound where it falls among drops that were cut short.</summary>
    public string Quantile(MeasureSpread spread, QuantileBounds q)
    {
        return Shape(spread, q) switch
        {
            QuantileShape.Value => Value(spread.Central, q.Low),
            QuantileShape.Between => ShownValue(spread.Central, q.Low) is var a && ShownValue(spread.Central, q.High) is var b && a == b ? a.ToString() : ShownQuantity.Join(a, "to", b),
            QuantileShape.AtLeast => "at least " + Value(spread.Central, q.Low),
            QuantileShape.AtMost => "at most " + Value(spread.Central, q.High),
            _ => "unknown",
        };
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
    public string Input(UncertainInput input, double value) => ShownInput(input, value).ToString();

    private ShownQuantity ShownInput(UncertainInput input, double value)
    {
        const double Mega = 1e6;
        const double Giga = 1e9;
        return input.Range.Unit switch
        {
            _ when input.Range.Form == RangeForm.Factor => new(Format.Number(value), "times"),
            "rad" => new(Format.Number(value * 180 / Math.PI) + "°", ""),
            "N m/rad" => new(Format.Number(value / Mega), "MN m/rad"),
            "Pa" when Units == UnitSystem.Si && value >= Giga => new(Format.Number(value / Giga), "GPa"),
            var unit => Format.Shown(value, unit, false, Units),
        };
    }

    /// <summary>Name of an input; the root's reads the way people think of it.</summary>
    public static string Name(UncertainInput input) => input.Range.ShortName;

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
        var from = double.IsFinite(low) ? ShownValue(spread.Central, low) : new("an unknown value", "");
        return double.IsFinite(high.High) ? ShownQuantity.Join(from, "and", ShownValue(spread.Central, high.High))
            : $"{from} and at least {Value(spread.Central, high.Low)}";
    }

    /// <summary>Both ends of an input's band.</summary>
    public string Ends(UncertainInput input, double low, double high) => ShownQuantity.Join(ShownInput(input, low), "to", ShownInput(input, high));

    /// <summary>The input with the largest total index, else the largest rank correlation; null where none is known.</summary>
    public static int? Strongest(MeasureSpread spread) => spread.Influence.Count == 0 ? null
        : Enumerable.Range(0, spread.Influence.Count).MaxBy(i => spread.Influence[i].Total?.Value ?? Math.Abs(spread.Influence[i].RankCorrelation));

    private static bool AllZero(MeasureSpread spread) => spread.Quantiles.All(q => q.Low is 0 && q.High is 0);
}

/// <summary>What a quantile is.</summary>
internal enum QuantileShape
{
    /// <summary>A value.</summary>
    Value,

    /// <summary>Known to lie between two values.</summary>
    Between,

    /// <summary>At least a value.</summary>
    AtLeast,

    /// <summary>At most a value.</summary>
    AtMost,

    /// <summary>Nothing is known.</summary>
    Unknown,
}
