using System.Globalization;
using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Studies;
using DropSim.Studies;

namespace DropSim.Reporting.Options;

/// <summary>Words of the options: what a setting is, what a limit is, what was found. Nothing here advises or permits.</summary>
internal sealed class OptionsWords(OptionsResult result, ReportOptions options)
{
    public OptionsResult Result => result;

    public UnitSystem Units => options.Units;

    /// <summary>What every list of options must say with it.</summary>
    public const string NoTarget =
        "A limit is a place to turn back from, not a target: a setting just inside is worse than one far inside. Nothing in this list is advised or permitted.";

    /// <summary>"2 to 2.5", "2.25"; for a rope locked off "any".</summary>
    public static string Turns(OptionSetting setting) => setting.Case.Input.Catch.Kind == CatchKind.HardStop ? "any"
        : setting.WrapsLow == setting.WrapsHigh ? Number(setting.WrapsLow) : $"{Number(setting.WrapsLow)} to {Number(setting.WrapsHigh)}";

    /// <summary>"let run, brake after 0.5 m".</summary>
    public string Catch(OptionSetting setting)
    {
        var held = setting.Case.Input.Catch;
        return Wording.Plain(setting.Case.CatchName) + (held.BrakeFrom > 0 ? $", brake after {Length(held.BrakeFrom)}" : "");
    }

    public static string Point(OptionSetting setting) => setting.Case.Input.RiggingPoint.Kind switch
    {
        RiggingPointKind.Block => "block",
        RiggingPointKind.NaturalUnion => "union",
        _ => "ring",
    };

    public string Length(double metres) => Format.Quantity(metres, "m", Units);

    /// <summary>A quantity over the draws; "not caught" where too many draws have none.</summary>
    public string Value(string id, double value) => double.IsNaN(value) ? "unknown"
        : double.IsInfinity(value) ? "not caught"
        : Format.IsSmallLength(id) ? Format.SmallLength(value, Units) : Format.Quantity(value, Unit(id), Units);

    public static string Unit(string id) => id switch
    {
        MeasureIds.RiggingPointForce or MeasureIds.HandForce => "N",
        MeasureIds.RopeSpeed => "m/s",
        MeasureIds.RopeHeat => "K",
        _ => "m",
    };

    public string Limit(CrewLimit limit) => limit.Unit.Length == 0 ? Format.Percent(limit.Value)
        : limit.Key == "climber-movement" ? Format.SmallLength(limit.Value, Units) : Format.Quantity(limit.Value, limit.Unit, Units);

    /// <summary>"room left under the piece at least 1.0 m (choice of this model)".</summary>
    public string LimitSentence(CrewLimit limit) => $"{limit.Label} {(limit.Least ? "at least" : "at most")} {Limit(limit)} ({limit.Stated.Source})";

    public IReadOnlyList<string> Findings()
    {
        var needed = OptionsStudy.Needed(result.Draws);
        List<string> findings = [.. result.ByPiece.SelectMany(PieceFindings)];
        findings.Add($"A setting keeps inside where at least {needed} of {result.Draws} draws do.");
        findings.Add("Limits: " + string.Join("; ", result.Limits.Except(result.NotAsked).Select(LimitSentence)) + ".");
        if (result.NotAsked.Count > 0)
        {
            findings.Add($"Not checked: {string.Join("; ", result.NotAsked.Select(l => $"{l.Label}: {WhyNot(l)}"))}.");
        }

        if (result.Kept.Count > 0)
        {
            findings.Add(TradeOff());
            findings.Add($"With all of {result.Draws} draws inside the true share may still be as low as {Share(result.Draws)}; with {needed} inside, {Share(needed)} (95 % confidence).");
        }

        if (LengthFinding() is { } lengths)
        {
            findings.Add(lengths + ".");
        }

        findings.Add(result.Tested
            ? "Turns are counts, because a hold test stands behind them. They hold for the rope, gear and weather of the test."
            : "Turns are bands of half a turn, drawn from one end to the other: without a hold test no count can be named. A hold test turns bands into counts.");
        if (result.Found.Check.Drops > 0)
        {
            findings.Add(Exactness());
        }

        findings.Add(NoTarget);
        return findings;
    }

    /// <summary>How many settings with one piece keep inside, what was not checked, and where none does which limit binds.</summary>
    private IEnumerable<string> PieceFindings(IReadOnlyList<OptionOutcome> outcomes)
    {
        var kept = outcomes.Count(o => o.Kept);
        var piece = result.IsOwnPiece(outcomes[0]) ? $"the piece of the file, {Length(outcomes[0].Setting.Case.Input.Piece.Length)}" : $"a piece of {Length(outcomes[0].Setting.Case.Input.Piece.Length)}";
        yield return $"With {piece}: {(kept == 0 ? "none" : Number(kept))} of {outcomes.Count} {(outcomes.Count == 1 ? "setting" : "settings")} {(kept <= 1 ? "keeps" : "keep")} inside {EveryLimit}.";
        if (kept == 0)
        {
            yield return Binding(outcomes);
        }
    }

    /// <summary>"every limit", or which limits were not checked in the same breath.</summary>
    public string EveryLimit => result.NotAsked.Count == 0 ? "every limit"
        : $"every limit that was checked; {Names(result.NotAsked)} {(result.NotAsked.Count == 1 ? "was" : "were")} not checked";

    private static string Names(IReadOnlyList<CrewLimit> limits) =>
        limits.Count == 1 ? limits[0].Name : $"{string.Join(", ", limits.Take(limits.Count - 1).Select(l => l.Name))} and {limits[^1].Name}";

    private string WhyNot(CrewLimit limit) => limit.Key switch
    {
        "climber-movement" => "no climber stands on the spar",
        "sling" when result.Filed.Input.RiggingPoint.Kind == RiggingPointKind.NaturalUnion => "the rope runs in a fork",
        _ => "nobody has given its strength",
    };

    /// <summary>Force and room at both ends of the front of the first piece that has one.</summary>
    private string TradeOff()
    {
        var front = result.Fronts[0];
        string Of(OptionOutcome o) => $"{Value(MeasureIds.RiggingPointForce, o.Measures[MeasureIds.RiggingPointForce].Worst)} at the rigging point with {Value(MeasureIds.Room, o.Measures[MeasureIds.Room].Worst)} of room ({Setting(o.Setting)})";
        return front.Count == 1
            ? $"With a piece of {Length(front[0].Setting.Case.Input.Piece.Length)} one setting is ahead of the others inside in both force and room, each at its worse end: {Of(front[0])}."
            : $"What less force costs with a piece of {Length(front[0].Setting.Case.Input.Piece.Length)}, each at its worse end: from {Of(front[0])} to {Of(front[^1])}; {front.Count} settings from one to the other are beaten by no other in both.";
    }

    public string Setting(OptionSetting setting) =>
        $"{Catch(setting)}{(setting.Case.Input.Catch.Kind == CatchKind.HardStop ? "" : $", {Turns(setting)} turns")}, {Point(setting)} {Length(setting.Case.Input.RiggingPoint.BelowCut)} below the cut, slack {Length(setting.Case.Input.Rope.Slack)}, piece {Length(setting.Case.Input.Piece.Length)}";

    /// <summary>Which limit stands in the way.</summary>
    public string Binding() => Binding(result.Outcomes);

    private string Binding(IReadOnlyList<OptionOutcome> outcomes)
    {
        if (outcomes.Count == 0)
        {
            return "";
        }

        if (!result.Found.BindingKnown)
        {
            return "Which limit binds was not computed to the end.";
        }

        var needed = OptionsStudy.Needed(result.Draws);
        var freed = result.Limits.Except(result.NotAsked)
            .Select(l => (Limit: l, Count: outcomes.Count(o => o.InsideWithout[l.Key] >= needed)))
            .OrderByDescending(l => l.Count).ToArray();

        // A setting that was given up has at least the draws outside that were computed.
        var broken = outcomes.SelectMany(o => o.Outside.Where(b => b.Value > result.Draws - needed)).GroupBy(b => b.Key)
            .Select(g => (g.Key, Count: g.Count())).OrderByDescending(b => b.Count).ToArray();
        var binds = freed.Length > 0 && freed[0].Count > 0
            ? $"The limit that binds is the {freed[0].Limit.Label}: without it {freed[0].Count} would."
            : $"No single limit binds alone; broken in more draws than are allowed: {string.Join(", ", broken.Take(3).Select(b => $"{Label(b.Key)} (at least {b.Count} of {outcomes.Count} settings)"))}.";
        return outcomes.Where(o => o.Complete).MaxBy(o => o.Inside) is not { } nearest ? binds
            : $"{binds} Of those drawn to the end the nearest keeps {nearest.Inside} of {nearest.Draws} ({Setting(nearest.Setting)}); outside there: "
                + string.Join(", ", nearest.Outside.Where(b => b.Value > 0).OrderByDescending(b => b.Value).Select(b => $"{Label(b.Key)} in {b.Value}")) + ".";
    }

    private string Label(string key) => key == OptionsStudy.Caught ? "piece not caught" : result.Limits.First(l => l.Key == key).Label;

    /// <summary>Settings as the file has them, one a length, for a catch: turns as the file's, or the band they lie in.</summary>
    public IReadOnlyList<OptionOutcome> ByLength(string catchName)
    {
        var turns = result.Filed.Input.Device.Wraps;
        return
        [
            .. result.Outcomes
                .Where(o => o.Setting.AsFiled && o.Setting.Case.CatchName == catchName)
                .GroupBy(o => o.Setting.Case.Input.Piece.Length)
                .Select(g => g.MinBy(o => Math.Abs(((o.Setting.WrapsLow + o.Setting.WrapsHigh) / 2) - turns))!)
                .OrderBy(o => o.Setting.Case.Input.Piece.Length),
        ];
    }

    public IReadOnlyList<string> Catches => [.. result.Outcomes.Select(o => o.Setting.Case.CatchName).Distinct()];

    /// <summary>"Shorter pieces, smaller peaks; hard stop: 21 kN at 1.2 m, 12 kN at 0.5 m"; null where there is one length only.</summary>
    public string? LengthFinding()
    {
        var parts = new List<string>();
        foreach (var name in Catches)
        {
            var line = ByLength(name).Where(o => double.IsFinite(o.Measures[MeasureIds.RiggingPointForce].Median)).ToArray();
            if (line.Length > 1)
            {
                string Peak(OptionOutcome o) => $"{Value(MeasureIds.RiggingPointForce, o.Measures[MeasureIds.RiggingPointForce].Median)} with {Length(o.Setting.Case.Input.Piece.Length)}";
                parts.Add($"{Wording.Plain(name)}: {Peak(line[^1])}, {Peak(line[0])}");
            }
        }

        return parts.Count == 0 ? null : "Peak at the rigging point against length of the piece, median of the draws, else as the file has it: " + string.Join("; ", parts);
    }

    private string Share(int inside) => Format.Percent(OptionsStudy.ShareAtLeast(inside, result.Draws));

    /// <summary>How exact the draws are, and how many were needed.</summary>
    private string Exactness()
    {
        var (check, plan) = (result.Found.Check, result.Found.Plan);
        var (force, room) = (check.Largest[MeasureIds.RiggingPointForce], check.Largest[MeasureIds.Room]);
        var most = check.Largest.MaxBy(m => m.Value);
        return FormattableString.Invariant($"{result.Found.Drops} drops at a relative tolerance of {plan.Tolerance:0e0}: a setting is drawn until its count is certain, {result.Outcomes.Count(o => o.Complete)} of {result.Outcomes.Count} to the end. ")
            + $"Of {check.Drops} draws repeated far more tightly the force on the rigging point moved by at most {VaryWords.Percent(force)}, the room by {VaryWords.Percent(room)}"
            + (check.Unsettled == 0 ? "" : $"; in {check.Unsettled} of them {most.Key} or another cost moved by more than 1 % (at most {Format.Number(100 * most.Value)} %): after repeated strikes against the stem a value hangs on the last digit, and no tolerance settles it")
            + (check.Crossed == 0 ? "; none crossed a limit." : $"; {check.Crossed} crossed a limit.");
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    public IReadOnlyList<string> Footer() =>
    [
        NoTarget,
        Cautions.NotModelledSentence,
        string.Join(" ", Cautions.Reading),
        $"DropSim {options.ProgramVersion}; scenario {result.Name}, file hash {result.SourceHash}.",
    ];
}
