using DropSim.Model;
using DropSim.Reporting.Told;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Charts;

/// <summary>Titles, subtitles, footers and names that the pictures share.</summary>
internal sealed class Wording
{
    /// <summary>Strikes slower than this share of the hardest one are not marked.</summary>
    private const double SlowestNamedStrike = 0.35;

    /// <summary>A hand that reacts within this time of hinge break is not marked beside it, s.</summary>
    private const double AtOnce = 0.03;

    private readonly ScenarioResult _result;
    private readonly ReportOptions _options;

    internal Wording(ScenarioResult result, ReportOptions options)
    {
        _result = result;
        _options = options;
    }

    private UnitSystem Units => _options.Units;

    /// <summary>"Hard stop", "Ring, let run": what tells this case from the others.</summary>
    internal string CaseName(DropCase dropCase) => CaseName(dropCase, _result.HasSeveralSetups);

    /// <summary>The name of a case.</summary>
    /// <param name="dropCase">The case.</param>
    /// <param name="several">True where its scenario has several set-ups.</param>
    internal static string CaseName(DropCase dropCase, bool several) =>
        Capital((several ? Plain(dropCase.Setup) + ", " : "") + Plain(dropCase.CatchName));

    /// <summary>A name from a file in plain words.</summary>
    internal static string Plain(string name) => name.Replace('-', ' ').Replace('_', ' ');

    internal static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>What set-ups like a case say; null where nothing is unknown, or nothing was drawn.</summary>
    internal ToldCase? Told(CaseResult result) => _result.Told?.Cases.FirstOrDefault(c => c.Case.Name == result.Case.Name);

    /// <summary>The draws of a comparison; null where nothing was drawn.</summary>
    internal (ToldScenario Scenario, ToldPair Pair)? Told(Comparison comparison) =>
        _result.Told is { } told && told.Pairs.FirstOrDefault(p => p.First == comparison.First && p.Second == comparison.Second) is { } pair ? (told, pair) : null;

    /// <summary>The first line of a comparison, the one that console and report have too: its first sentence without the full stop, and the rest.</summary>
    internal (string Title, string Others) Finding(Comparison comparison)
    {
        if (Told(comparison) is not { } drawn)
        {
            return ("", "");
        }

        string[] told =
        [
            .. PairWords.Of(_result, drawn.Pair, Units),
            .. ScenarioWords.Stress(_result, [drawn.Scenario.Cases[comparison.First], drawn.Scenario.Cases[comparison.Second]], Units),
        ];
        return (told[0].TrimEnd('.'), string.Join(" ", told[1..]));
    }

    /// <summary>"15 kN at the rigging point (18 of 20 like it: 13 to 24 kN)": this drop, and set-ups like it.</summary>
    /// <param name="result">The case.</param>
    /// <param name="id">Id of the measure.</param>
    /// <param name="where">Words between the value and the spread; may be empty.</param>
    internal string WithSpread(CaseResult result, string id, string where = "")
    {
        var value = Value(result.Run[id]) + (where.Length > 0 ? " " + where : "");
        string[] beside = [.. new[] { Spread(result, id), Uncaught(result) }.Where(t => t.Length > 0)];
        return beside.Length == 0 ? value : $"{value} ({string.Join("; ", beside)})";
    }

    /// <summary>"18 of 20 like it: 13 to 24 kN"; "" where there is none, or this drop itself is not caught.</summary>
    internal string Spread(CaseResult result, string id)
    {
        if (Told(result) is not { Ending: DrawEnding.Caught } told || double.IsNaN(told[id].Low))
        {
            return "";
        }

        ShownQuantity Shown(double value) => Format.Shown(value, result.Run[id].Unit, Format.IsSmallLength(id), Units);
        var (low, high) = (Shown(told[id].Low), Shown(told[id].High));
        return low == high ? "" : $"{OfCaught(told)}18 of 20 like it: {ShownQuantity.Join(low, "to", high)}";
    }

    /// <summary>"of those caught " where that is noticeably not all; "" otherwise.</summary>
    internal static string OfCaught(ToldCase told)
    {
        ArgumentNullException.ThrowIfNull(told);
        return new OfTwenty(told.Drawn - told.CaughtCount, told.Drawn).Twenty > 0 ? "of those caught " : "";
    }

    /// <summary>"3 of 20 not caught"; "" where all are.</summary>
    private string Uncaught(CaseResult result) =>
        Told(result) is { Missed.Count: > 0 } told ? CountWords.Of(told.Drawn - told.CaughtCount, told.Drawn) + " not caught" : "";

    internal static string Lower(string text) => text.Length == 0 ? text : char.ToLowerInvariant(text[0]) + text[1..];

    /// <summary>True where a range was computed and is one.</summary>
    internal static bool HasRange(Measure measure) => measure.Low is { } low && measure.High is { } high && low != high;

    internal string Value(Measure measure) => Format.Value(measure, Units);

    /// <summary>"15 kN at 0.55 s".</summary>
    internal string ValueAndTime(Measure measure) =>
        measure.Time is { } time && double.IsFinite(time) ? $"{Value(measure)} at {Format.Time(time)}" : Value(measure);

    /// <summary>Scenario, catch, piece and rope.</summary>
    internal string Subtitle(DropCase dropCase)
    {
        var input = dropCase.Input;
        return $"{_result.Title}. {CaseName(dropCase)}: {CatchWords(input.Catch)}. Piece {Format.Quantity(input.Piece.Mass, "kg", Units)}, "
            + $"{Format.Quantity(input.Piece.Length, "m", Units)} long; rope {Format.SmallLength(input.Rope.Diameter, Units)}; "
            + $"cut {Format.Quantity(input.Spar.Height, "m", Units)} up.";
    }

    /// <summary>The same, with words about the picture and what must be known of the run.</summary>
    /// <param name="result">The case.</param>
    /// <param name="more">Words about the picture; may be empty.</param>
    internal string Subtitle(CaseResult result, string more = "") =>
        string.Join(" ", new[] { Subtitle(result.Case), more, Known(result) }.Where(t => t.Length > 0));

    /// <summary>Scenario and the two names.</summary>
    internal string Subtitle(DropCase first, DropCase second)
    {
        var (a, b, shared) = Differing(first, second);
        return $"{_result.Title}. {a} (heavy line), {Lower(b)} (dashed line){(shared.Length > 0 ? $", both {shared}" : "")}.";
    }

    /// <summary>The scenario's own title.</summary>
    internal string ScenarioTitle => _result.Title;

    /// <summary>How the run ended where that cuts the story short; "" where it does not.</summary>
    internal string Ending(DropRun run)
    {
        var speed = Format.Quantity(run.End.Speed, "m/s", Units);
        return run.End.Kind switch
        {
            EndKind.Ground => $"touches the ground at {speed}",
            EndKind.Obstacle => $"touches {Obstacle(run)} at {speed}",
            EndKind.RopeEnd => "the rope's end passes the device",
            EndKind.RopeBroke => "the rope's breaking strength is exceeded",
            EndKind.HitchAtRiggingPoint => "the hitch is drawn up to the rigging point",
            EndKind.Failed => "the computation stopped",
            _ => "",
        };
    }

    /// <summary>Name of the obstacle that ended a run.</summary>
    internal static string Obstacle(DropRun run) =>
        run.End.Obstacle?.Name ?? "an obstacle";

    /// <summary>What tells two cases apart, and what they share ("" where nothing).</summary>
    internal (string First, string Second, string Shared) Differing(DropCase first, DropCase second) =>
        first.Setup == second.Setup ? (Capital(Plain(first.CatchName)), Capital(Plain(second.CatchName)), _result.HasSeveralSetups ? Plain(first.Setup) : "")
        : first.CatchName == second.CatchName ? (Capital(Plain(first.Setup)), Capital(Plain(second.Setup)), _result.Cases.Select(c => c.Case.CatchName).Distinct().Count() > 1 ? Plain(first.CatchName) : "")
        : (CaseName(first), CaseName(second), "");

    /// <summary>How a run that was cut short ended, as the end of a sentence (" before the piece touches the ground at 7.0 m/s"); "" otherwise.</summary>
    internal string Before(DropRun run)
    {
        var ending = Ending(run);
        return !run.End.CutsShort || ending.Length == 0 ? "" : " before " + (run.End.Kind is EndKind.Ground or EndKind.Obstacle ? "the piece " : "") + ending;
    }

    /// <summary>What must be known of a run: "Know this: ..."; "" where there is nothing.</summary>
    private string Known(CaseResult result)
    {
        string[] words = [.. Format.Warnings(result.Run, Units).Concat(Format.Warnings(result.Case, Units)).Distinct()];
        return words.Length == 0 ? "" : "Know this: " + string.Join(" ", words);
    }

    /// <summary>What is not modelled, how to read it, version and scenario: two lines.</summary>
    internal IReadOnlyList<string> Footer() =>
    [
        Cautions.NotModelledSentence,
        $"{Cautions.InShort} DropSim {_options.ProgramVersion}; scenario {_result.Name}, file hash {_result.SourceHash}.",
    ];

    /// <summary>Phases as bands; a stretch too short to see is left out.</summary>
    internal static IReadOnlyList<Band> Bands(CaseCurves curves, Clock clock)
    {
        var fell = false;
        var bands = new List<Band>();
        foreach (var span in curves.Phases())
        {
            var (name, brief) = span.Kind switch
            {
                PhaseKind.Hinged => ("hinge", "hinge"),
                PhaseKind.Free => fell ? ("rope slack", "slack") : ("free fall", "fall"),
                PhaseKind.Taut => ("rope taut", "taut"),
                _ => ("rope runs", "runs"),
            };
            fell |= span.Kind is PhaseKind.Taut or PhaseKind.Running;
            if (span.To > clock.From && span.From < clock.To)
            {
                bands.Add(new Band(Math.Max(span.From, clock.From), Math.Min(span.To, clock.To), name, brief, Palette.Phase(span.Kind)));
            }
        }

        if (curves.Traces.EndTime < clock.To)
        {
            bands.Add(new Band(curves.Traces.EndTime, clock.To, "not computed", "", Palette.Phase(null)));
        }

        return bands;
    }

    /// <summary>Events that carry the story, with short names.</summary>
    internal IReadOnlyList<Tick> Ticks(CaseCurves curves, Clock clock)
    {
        var ticks = new List<Tick>();
        var hardest = curves.Run.Strikes.Select(s => s.ClosingSpeed).DefaultIfEmpty(0).Max();
        foreach (var e in curves.Run.Events.Where(e => e.Marked && e.Time >= clock.From && e.Time <= clock.To))
        {
            switch (e.Kind)
            {
                case EventKind.HingeBreaks or EventKind.LoadLegTaut:
                    ticks.Add(new Tick(e.Time, e.Name, true));
                    break;
                case EventKind.End:
                    var ending = Ending(curves.Run);
                    ticks.Add(new Tick(e.Time, ending.Length == 0 ? "end" : ending, true));
                    break;
                case EventKind.Strike:
                    var strike = curves.Run.Strikes.MinBy(s => Math.Abs(s.Time - e.Time));
                    if (strike is null || strike.ClosingSpeed >= SlowestNamedStrike * hardest)
                    {
                        ticks.Add(new Tick(e.Time, strike is null ? "strike" : $"strike {Format.Quantity(strike.ClosingSpeed, "m/s", Units)}"));
                    }

                    break;
                case EventKind.HandSideSnags or EventKind.WrapsChange or EventKind.HandLost:
                    ticks.Add(new Tick(e.Time, e.Name, true));
                    break;
                case EventKind.LoadLegSlack or EventKind.HandReacts when e.Time > AtOnce:
                    ticks.Add(new Tick(e.Time, e.Name));
                    break;
                default:
                    break;
            }
        }

        return ticks;
    }

    private static string CatchWords(CatchInput plan) => plan.Kind switch
    {
        CatchKind.HardStop => "the rope is locked off",
        CatchKind.Held => "the hand holds in full from the start",
        _ => "rope is given, then braked",
    };
}
