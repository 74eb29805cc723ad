using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting.Dismantle;

/// <summary>Words that the table, the pictures and the crew sheet of a whole spar share.</summary>
internal sealed class DismantleWords(DismantleResult result, ReportOptions options)
{
    public DismantleResult Result => result;

    /// <summary>What is hit and what else ends badly, in the order of the cuts: told before any force.</summary>
    public IReadOnlyList<CutReach> Reach { get; } = result.Reach;

    /// <summary>Where the pieces of all planned drops go.</summary>
    public PieceSweep Sweep => _sweep.Value;

    private readonly Lazy<PieceSweep> _sweep = new(() => SweepOf(result.Cuts));

    private static PieceSweep SweepOf(IReadOnlyList<CutResult> cuts)
    {
        var sweep = new PieceSweep();
        foreach (var one in cuts.SelectMany(c => c.Cases))
        {
            sweep.Add(one.Run);
        }

        return sweep;
    }

    /// <summary>How far out from the stem's axis a planned piece goes; "?" where nobody looked.</summary>
    public string Out(CutResult cut) => SweepOf([cut]).Farthest is var metres && double.IsFinite(metres) ? Length(Math.Max(0, metres)) : "?";

    /// <summary>Rope left on the hand side once the piece is down.</summary>
    public string RopeLeft(CutResult cut) =>
        double.IsNaN(cut.Plan.Rope.LeftWhenDown) ? "unknown" : cut.Plan.Rope.LeftWhenDown < 0 ? "too short" : Length(cut.Plan.Rope.LeftWhenDown);

    public UnitSystem Units => options.Units;

    /// <summary>"Hard stop".</summary>
    public static string Catch(string name) => Wording.Capital(Wording.Plain(name));

    /// <summary>What turns the rope, in one word.</summary>
    public static string Point(RiggingPointKind kind) => kind == RiggingPointKind.Block ? "block" : "ring";

    /// <summary>A length, two digits behind the point in metres, one in feet: people mark cuts with it.</summary>
    public string Length(double metres) => Units == UnitSystem.Si
        ? metres.ToString("0.00", CultureInfo.InvariantCulture)
        : (metres / Reporting.Units.MetresPerFoot).ToString("0.0", CultureInfo.InvariantCulture);

    public string LengthUnit => Units == UnitSystem.Si ? "m" : "ft";

    public string MassUnit => Units == UnitSystem.Si ? "kg" : "lb";

    /// <summary>A mass with two significant digits, without unit.</summary>
    public string Mass(double kilograms) => Format.Number(Units == UnitSystem.Si ? kilograms : kilograms / Reporting.Units.KilogramsPerPound);

    public static string Turns(double turns) => turns.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>Mass of a cut's piece with both ends of its range.</summary>
    public static (double Value, double Low, double High) MassRange(CutResult cut)
    {
        var range = cut.Plan.Cases[0].Ranges.FirstOrDefault(r => r.Key == "piece.mass");
        var mass = cut.Input.Piece.Mass;
        return (mass, range?.Low ?? mass, range?.High ?? mass);
    }

    /// <summary>"9 cuts", "4 of 9 cuts".</summary>
    public string Count() => FormattableString.Invariant($"{result.Cuts.Count}{(result.CutShort ? FormattableString.Invariant($" of {result.Planned}") : "")} cuts");

    /// <summary>The rule in words.</summary>
    public string Rule()
    {
        var rule = result.Rule;
        var length = double.IsFinite(rule.Length) ? $"{Length(rule.Length)} {LengthUnit} long" : "";
        var mass = double.IsFinite(rule.Mass) ? $"at most {Mass(rule.Mass)} {MassUnit} by the estimate" : "";
        var logs = length.Length > 0 && mass.Length > 0 ? $"{length}, {mass}" : length + mass;
        return (rule.TopLength > 0 ? $"a top of {Length(rule.TopLength)} {LengthUnit} first, then " : "") + $"logs {logs}; lowest cut at {Length(rule.LowestCut)} {LengthUnit} or just above";
    }

    /// <summary>Warnings, each once, with the cuts they hold for; of warnings that differ in their numbers alone the one with the largest.</summary>
    public IReadOnlyList<string> Warnings()
    {
        var all = result.Cuts
            .SelectMany(c => c.Cases.SelectMany(k => k.Case.Remarks.Concat(k.Run.Remarks)).Select(r => (c.Plan.Number, r.Pattern, r.FirstNumber, Words: Format.Remark(r, Units))))
            .GroupBy(w => w.Pattern);
        return [.. all.Select(g =>
        {
            var (number, _, _, text) = g.MaxBy(w => w.FirstNumber);
            var cuts = g.Select(w => w.Number).Distinct().ToArray();
            var differ = g.Select(w => w.Words).Distinct().Count() > 1 ? $", most at cut {number}" : "";
            return cuts.Length == result.Cuts.Count && differ.Length == 0 ? text : $"{Cuts(cuts)}{differ}: {text}";
        })];
    }

    /// <summary>"Cut 3", "Cuts 1 to 4, 8".</summary>
    public static string Cuts(IReadOnlyList<int> numbers)
    {
        var parts = new List<string>();
        for (var i = 0; i < numbers.Count; i++)
        {
            var from = i;
            while (i + 1 < numbers.Count && numbers[i + 1] == numbers[i] + 1)
            {
                i++;
            }

            parts.Add(i > from ? FormattableString.Invariant($"{numbers[from]} to {numbers[i]}") : FormattableString.Invariant($"{numbers[from]}"));
        }

        return (numbers.Count == 1 ? "Cut " : "Cuts ") + string.Join(", ", parts);
    }

    /// <summary>What every picture says at its foot.</summary>
    public IReadOnlyList<string> Footer() =>
    [
        "Every cut is a drop of its own; pale bands: the range over what nobody knows exactly. Hollow dots: the run was cut short, the value is only \"at least\". A drop that hits first has words instead of a dot.",
        Cautions.NotModelledSentence,
        string.Join(" ", Cautions.Reading),
        $"DropSim {options.ProgramVersion}; spar {result.Name}, file hash {result.SourceHash}.",
    ];

    /// <summary>Subtitle of every picture.</summary>
    public string Subtitle() => $"{(result.CutShort ? $"Interrupted, {Count()}. " : "")}{result.Title}. {Plan()}";

    /// <summary>The plan in a sentence.</summary>
    public string Plan()
    {
        var input = result.Cuts[0].Input;
        return $"{Wording.Capital(Rule())}; over a {Point(input.RiggingPoint.Kind)} below each cut; rope {Format.SmallLength(input.Rope.Diameter, Units)}.";
    }
}
