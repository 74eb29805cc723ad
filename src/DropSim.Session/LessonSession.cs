using System.Diagnostics;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using DropSim.Integration;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Reporting.Files;
using DropSim.Scenarios;
using DropSim.Scenarios.Editing;
using DropSim.Studies;

namespace DropSim.Session;

/// <summary>
/// The engine behind the lesson page: one question in JSON, one answer in JSON (docs/lesson-page.md). It remembers runs,
/// so that draws, comparisons and curves can be asked for afterwards. Not safe for use from several threads at once.
/// </summary>
/// <param name="version">Version of the program, for words.</param>
public sealed class LessonSession(string version)
{
    /// <summary>
    /// Tolerance of a run while a slider moves, times that of the scenario. With the method of order 5 it takes the fewest evaluations:
    /// at this tolerance steps end at events, not at what order 7 could reach. Headline measures stay within two hundredths (LessonSessionTests).
    /// </summary>
    private const double CoarseTolerance = 30;

    /// <summary>
    /// Modes of the spar kept while a slider moves: in all shipped scenarios headline measures stay within two hundredths without the
    /// others (LessonSessionTests), and steps can be half as long again.
    /// </summary>
    private const int CoarseModes = 2;

    /// <summary>
    /// The rope's viscous time while a slider moves, times its own: where rope slips it limits the steps of the sketch's method, and half as much
    /// again leaves the peaks where they are (LessonSessionTests).
    /// </summary>
    private const double CoarseViscousTime = 1.5;

    /// <summary>Distance of the rows that are sent while a slider moves, s.</summary>
    private const double CoarseInterval = 0.01;

    /// <summary>Distance of the rows that are sent otherwise, s.</summary>
    private const double FineInterval = 0.005;

    private readonly RunStore _runs = new();
    private readonly SparCache _spars = new();
    private readonly MovingText _moving = new();
    private readonly DrawCache _drawn = new();
    private DrawJob? _draws;

    /// <summary>Answers a question.</summary>
    /// <param name="verb">What is asked.</param>
    /// <param name="request">The question, JSON.</param>
    /// <returns>The answer, JSON.</returns>
    /// <exception cref="InvalidOperationException">The verb is unknown, or a run is no longer remembered.</exception>
    /// <exception cref="JsonException">The question is not in the form of its verb.</exception>
    public string Answer(string verb, string request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Messages m = Messages.Default;
        return verb switch
        {
            "open" => Json(Open(Question(request, m.OpenRequest)), m.OpenAnswer),
            "change" => Json(Change(Question(request, m.ChangeRequest)), m.OpenAnswer),
            "simulate" => Json(Simulate(Question(request, m.SimulateRequest)), m.SimulateAnswer),
            "draws" => Json(BeginDraws(Question(request, m.DrawsRequest)), m.DrawsAnswer),
            "more-draws" => Json(MoreDraws(TimeSpan.FromMilliseconds(DrawPiece)), m.DrawsAnswer),
            "retell" => Json(Retell(Question(request, m.RunsRequest)), m.SimulateAnswer),
            "compare" => Json(Compare(Question(request, m.CompareRequest)), m.CompareAnswer),
            "keep" => Json(Kept(Question(request, m.RunsRequest), true), m.Nothing),
            "release" => Json(Kept(Question(request, m.RunsRequest), false), m.Nothing),
            "csv" => Json(Csv(Question(request, m.CsvRequest)), m.CsvAnswer),
            "catalogue" => Json(GeneralAnswers.Catalogue(), m.CatalogueAnswer),
            "words" => Json(GeneralAnswers.Words(version), m.WordsAnswer),
            _ => throw new InvalidOperationException($"'{verb}' is no question of this engine."),
        };
    }

    /// <summary>The curves of a run that <see cref="Answer"/> has told of: its columns one after the other.</summary>
    /// <param name="run">The run's number.</param>
    public double[] Curves(int run) => RunAnswer.Curves(_runs[run]);

    /// <summary>Time spent on draws before the caller may ask something else, ms: a slider must not wait for them.</summary>
    private const double DrawPiece = 40;

    private static T Question<T>(string json, JsonTypeInfo<T> type) =>
        JsonSerializer.Deserialize(json, type) ?? throw new JsonException("The question is null.");

    private static string Json<T>(T answer, JsonTypeInfo<T> type) => JsonSerializer.Serialize(answer, type);

    private static UnitSystem System(string? units) => units == "us" ? UnitSystem.Us : UnitSystem.Si;

    private static OpenAnswer Open(OpenRequest request) => ScenarioAnswer.Of(request.Text, request.File, changed: false);

    private static OpenAnswer Change(ChangeRequest request)
    {
        return ScenarioAnswer.Of(Edited(request.Text, request.File, request.Edits), request.File, changed: true);
    }

    private static string Edited(string text, string file, IReadOnlyList<EditRequest> edits)
    {
        foreach (EditRequest e in edits)
        {
            // What goes with an edit depends on the text as it is then.
            Scenario? scenario = Companions.MayNeed(e.Key) ? ScenarioAnswer.Read(text, file).Scenario : null;
            text = ScenarioEditor.Apply(text, file, Companions.Of(new ScenarioEdit(e.Case, e.Key, e.Value, e.Only == "setup"), scenario));
        }

        return text;
    }

    private SimulateAnswer Simulate(SimulateRequest request)
    {
        bool coarse = request.Quality == "coarse";
        string quality = coarse ? "coarse" : "exact";
        UnitSystem units = System(request.Units);

        // Building a case from its text costs in the browser as much as a tenth of computing it: while a slider moves only those on show.
        List<int> asked = [.. request.Cases.Where(i => i >= 0).Distinct()];
        List<int>? only = coarse ? [.. asked.Order()] : null;
        string text = request.Text;
        string? told = null;
        if (only is null || _moving.Read(request, only) is not { } read)
        {
            text = request.Edits is { Count: > 0 } edits ? Edited(request.Text, request.File, edits) : request.Text;
            told = request.Edits is null ? null : text;
            read = ScenarioAnswer.Read(text, request.File, only);
        }

        if (read.Scenario is not { } scenario)
        {
            return new(ScenarioAnswer.Problems(read), told, quality, 0, [], []);
        }

        Stopwatch watch = Stopwatch.StartNew();
        List<StoredRun> stored = [];
        foreach (int index in asked)
        {
            int place = only?.IndexOf(index) ?? index;
            if (place >= scenario.Cases.Count)
            {
                continue;
            }

            DropCase dropCase = scenario.Cases[place];
            try
            {
                DropInput input = coarse ? Sketched(dropCase.Input, request.Until) : dropCase.Input;
                DropRun run = DropSimulator.Run(input, new RunOptions
                {
                    ToleranceFactor = coarse ? CoarseTolerance : 1,
                    Method = coarse ? RungeKuttaMethod.DormandPrince54 : RungeKuttaMethod.Verner76,
                    Detail = coarse ? RunDetail.Sketch : RunDetail.Full,
                    Spar = _spars.For(input),
                });
                CaseResult result = new(dropCase, run, 0, "");
                stored.Add(new StoredRun(_runs.NextHandle(), scenario, index, result)
                {
                    Table = run.Traces!.SampleMotion(request.Interval is { } interval && interval >= LeastInterval ? interval : coarse ? CoarseInterval : FineInterval),
                    Inputs = coarse ? [] : InputList.Of(scenario, index, text),
                });
            }
            catch (Exception e) when (e is DropInputException or UnstableSparException)
            {
                return new([Refused(request.File, $"{dropCase.Name}: {e.Message}")], told, quality, watch.Elapsed.TotalMilliseconds, [], []);
            }
        }

        stored.ForEach(_runs.Add);
        double milliseconds = watch.Elapsed.TotalMilliseconds;
        ScenarioResult whole = Whole(scenario, stored, units);
        Wording wording = new(whole, new ReportOptions { Units = units, ProgramVersion = version });
        return new([], told, quality, milliseconds,
            [.. stored.Select(s => RunAnswer.Of(s, wording, new CaseCurves(s.Result, s.Table), units))],
            Compared(whole, units));
    }

    /// <summary>Runs that are still remembered, in other units; their curves are in SI and stay as they are.</summary>
    private SimulateAnswer Retell(RunsRequest request)
    {
        UnitSystem units = System(request.Units);
        RunDto Told(StoredRun stored) =>
            RunAnswer.Of(stored, new Wording(Whole(stored.Scenario, [stored], units), new ReportOptions { Units = units, ProgramVersion = version }), new CaseCurves(stored.Result, stored.Table), units);
        return new([], null, "exact", 0, [.. request.Runs.Select(r => Told(_runs[r]))], []);
    }

    /// <summary>The drop to be computed no further than a picture reaches, and without the modes that only acceleration and stress tell of.</summary>
    /// <param name="input">The drop.</param>
    /// <param name="until">Longest time wanted, s from the start of the computation; null for all of it.</param>
    private static DropInput Sketched(DropInput input, double? until)
    {
        ComputationInput c = input.Computation;
        return input with
        {
            Rope = input.Rope with { ViscousTime = CoarseViscousTime * input.Rope.ViscousTime },
            Computation = c with { Modes = Math.Min(c.Modes, CoarseModes), EndTime = until > 0 ? Math.Min(until.Value, c.EndTime) : c.EndTime },
        };
    }

    /// <summary>Finest grid that a page may ask for, s.</summary>
    private const double LeastInterval = 1e-4;

    private static ProblemDto Refused(string file, string message) => new(file, 0, "", "a drop that cannot be computed", message, null, $"{file}: could not be computed: {message}");

    private static ScenarioResult Whole(Scenario scenario, IReadOnlyList<StoredRun> runs, UnitSystem units) =>
        ComparisonText.WithTexts(
            new ScenarioResult(
                scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, [.. runs.Select(r => r.Result)], ScenarioStudy.Pairs([.. runs.Select(r => r.Result.Case)])),
            units);

    private static IReadOnlyList<ComparisonDto> Compared(ScenarioResult whole, UnitSystem units) =>
        [.. whole.Comparisons.Select(c => new ComparisonDto(c.First, c.Second, c.Title, RunAnswer.Movement(MovementText.Between(whole.Cases[c.First], whole.Cases[c.Second], units)), RunAnswer.Parts(c)))];

    private DrawsAnswer BeginDraws(DrawsRequest request)
    {
        if (request.Runs.Count == 0)
        {
            throw new InvalidOperationException("No run was named.");
        }

        _draws = new DrawJob([.. request.Runs.Select(r => _runs[r])], request.Tell ?? [], System(request.Units), _drawn);
        return MoreDraws(TimeSpan.Zero);
    }

    private DrawsAnswer MoreDraws(TimeSpan piece)
    {
        DrawJob job = _draws ?? throw new InvalidOperationException("No draws are being computed.");
        job.Work(piece);
        if (!job.IsComplete)
        {
            return new(job.Done, job.Total, false, [], []);
        }

        foreach (StoredRun run in job.Runs)
        {
            _runs.Replace(run);
        }

        return new(job.Done, job.Total, true, [.. job.Runs.Select(r => new DrawnRunDto(r.Handle, DrawnAnswer.Of(r, job.Units) ?? DrawnAnswer.Nothing))], job.Told);
    }

    private CompareAnswer Compare(CompareRequest request)
    {
        (StoredRun first, StoredRun second) = (_runs[request.First], _runs[request.Second]);
        UnitSystem units = System(request.Units);
        IReadOnlyList<ChangedDto> changed = Companions.Changed(first, second, units);
        string words = changed.Count == 0 ? "nothing that was given" : string.Join("; ", changed.Select(c => $"{c.Label.ToLowerInvariant()} {c.First} instead of {c.Second}"));
        Comparison found = ComparisonText.Between(first.Result, second.Result, request.Names, request.Phrases ?? request.Names, words, units);
        return new(
            found.Title, RunAnswer.Movement(MovementText.Between(first.Result, second.Result, request.Names[0], request.Names[1], units)), RunAnswer.Parts(found), changed);
    }

    private Nothing Kept(RunsRequest request, bool keep)
    {
        foreach (int run in request.Runs)
        {
            if (keep)
            {
                _runs.Keep(run);
            }
            else
            {
                _runs.Release(run);
            }
        }

        return new();
    }

    private CsvAnswer Csv(CsvRequest request)
    {
        StoredRun run = _runs[request.Run];
        using MemoryStream stream = new();
        double interval = request.Interval is { } asked && asked >= LeastInterval ? asked : new ReportOptions().CsvInterval;
        TraceCsv.Write(run.Result.Run.Traces!.Sample(interval), System(request.Units), stream);
        return new($"{FileNames.Clean(run.Scenario.Name)}-{FileNames.Clean(run.Result.Case.Name)}.csv", Encoding.UTF8.GetString(stream.ToArray()));
    }
}
