using System.Diagnostics;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Session;

/// <summary>Set-ups like some runs, all on the same draws, worked on in short pieces of time.</summary>
internal sealed class DrawJob
{
    /// <summary>
    /// Draws on the page: the first ones of the command line. So many take a browser about the time that the ranges took, which they replace
    /// (docs/lesson-page.md).
    /// </summary>
    public const int Draws = 64;

    private readonly StoredRun[] _runs;
    private readonly IReadOnlyList<TellRequest> _tell;
    private readonly DrawCache _cache;

    /// <summary>Place of each run among what is drawn: two runs of one case are drawn once.</summary>
    private readonly int[] _places;

    private readonly DrawKey[] _keys;
    private readonly List<StressCase>[] _stress;
    private readonly DrawSlices _slices;
    private DrawnScenario? _drawn;

    /// <summary>Begins; what was drawn before costs nothing.</summary>
    /// <param name="runs">The runs, at least one; a draw is one of the first one's scenario.</param>
    /// <param name="tell">What is told at the end.</param>
    /// <param name="units">Units of the words.</param>
    /// <param name="cache">What was drawn before.</param>
    public DrawJob(IReadOnlyList<StoredRun> runs, IReadOnlyList<TellRequest> tell, UnitSystem units, DrawCache cache)
    {
        (_runs, _tell, Units, _cache) = ([.. runs], tell, units, cache);

        // What an input is, and with it its place in a draw, is decided by all cases of the scenario, as on the command line. The start and
        // what was pinned come after them.
        Scenarios.Scenario own = runs[0].Scenario;
        List<DropCase> cases = [.. own.Cases];
        List<(string Hash, int Index)> names = [.. own.Cases.Select((_, i) => (own.SourceHash, i))];
        List<int> places = [];
        foreach (StoredRun run in runs)
        {
            (string, int) name = (run.Scenario.SourceHash, run.Index);
            if (!names.Contains(name))
            {
                cases.Add(run.Result.Case);
                names.Add(name);
            }

            places.Add(names.IndexOf(name));
        }

        int[] wanted = [.. places.Distinct()];
        _places = [.. places.Select(p => Array.IndexOf(wanted, p))];
        DrawPlan plan = new(DrawStudy.SeedOf(own.Name)) { Count = Draws };
        DrawnScenario begun = DrawStudy.Begin(cases, plan).Only(wanted);
        _keys = [.. wanted.Select((w, i) => new DrawKey(names[w].Hash, names[w].Index, plan.Seed, string.Join(' ', begun.Cases[i].Coordinates)))];
        _stress = [.. _keys.Select(k => cache[k].Stress.ToList())];
        _slices = new(begun with { Cases = [.. begun.Cases.Select((c, i) => c with { Drops = cache[_keys[i]].Drops })] });
        NothingUnknown = begun.Cases.All(c => c.Case.Uncertain.Count == 0);
        Finish();
    }

    public UnitSystem Units { get; }

    /// <summary>True where no input of any of the cases is unknown: then there is nothing to draw.</summary>
    public bool NothingUnknown { get; }

    /// <summary>Draws computed in every case.</summary>
    public int Done => NothingUnknown ? 0 : _slices.Done;

    /// <summary>Draws in all.</summary>
    public int Total => NothingUnknown ? 0 : _slices.Planned;

    public bool IsComplete { get; private set; }

    /// <summary>The runs, with what set-ups like them say once all is drawn.</summary>
    public IReadOnlyList<StoredRun> Runs => _runs;

    /// <summary>Computes until the time is over or nothing is left; at least one drop where there is any time.</summary>
    public void Work(TimeSpan piece)
    {
        Stopwatch watch = Stopwatch.StartNew();
        while (!IsComplete && watch.Elapsed < piece)
        {
            if (!_slices.IsComplete)
            {
                _slices.Next();
            }
            else
            {
                _drawn ??= _slices.Result;
                int which = Array.FindIndex(_stress, s => s.Count < StressCase.Judged.Count);
                _stress[which].Add(StressCase.Of(_drawn, which, _stress[which].Count, CancellationToken.None));
            }

            Finish();
        }
    }

    /// <summary>What is told of the runs asked for; empty until all is drawn.</summary>
    public IReadOnlyList<ToldDto> Told => !IsComplete || NothingUnknown ? [] : [.. _tell.Select(t => DrawnAnswer.Told(t, this))];

    /// <summary>A run by its number.</summary>
    public StoredRun Run(int handle) => _runs.First(r => r.Handle == handle);

    /// <summary>Two runs compared draw by draw.</summary>
    public ToldPair Pair(StoredRun first, StoredRun second) => ToldScenario.Pair(_drawn!, PlaceOf(first), PlaceOf(second));

    private int PlaceOf(StoredRun run) => _places[Array.FindIndex(_runs, r => r.Handle == run.Handle)];

    private void Finish()
    {
        if (NothingUnknown)
        {
            IsComplete = true;
        }
        else if (!IsComplete && _slices.IsComplete && _stress.All(s => s.Count == StressCase.Judged.Count))
        {
            _drawn ??= _slices.Result;
            for (int i = 0; i < _keys.Length; i++)
            {
                _cache.Add(_keys[i], _drawn.Cases[i].Drops, _stress[i]);
            }

            for (int i = 0; i < _runs.Length; i++)
            {
                _runs[i] = _runs[i] with { Told = ToldCase.Of(_drawn, _places[i], _runs[i].Result.Run, _stress[_places[i]]) };
            }

            IsComplete = true;
        }
    }
}
