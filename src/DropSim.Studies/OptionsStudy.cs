using DropSim.Model;
using MathNet.Numerics.Distributions;

namespace DropSim.Studies;

/// <summary>What a crew can choose: one combination, ready to compute.</summary>
/// <param name="Case">The drop with its ranges.</param>
/// <param name="WrapsLow">Fewest turns on the device.</param>
/// <param name="WrapsHigh">Most turns; above <paramref name="WrapsLow"/> where only a band can be named.</param>
/// <param name="AsFiled">True where everything but catch and wraps is as the file has it, the length aside.</param>
public sealed record OptionSetting(DropCase Case, double WrapsLow, double WrapsHigh, bool AsFiled)
{
    /// <summary>Ranges over which the setting is drawn: the case's own, and the band of wraps where there is one.</summary>
    public IReadOnlyList<InputRange> Ranges { get; } = WrapsLow == WrapsHigh ? Case.Ranges
        : [.. Case.Ranges, new InputRange("turns within their band", "turns", (WrapsLow + WrapsHigh) / 2, WrapsLow, WrapsHigh, "no hold test: a count of turns stands for a band",
            static (d, v) => d with { Device = d.Device with { Wraps = v } })];
}

/// <summary>A quantity over the draws of a setting.</summary>
/// <param name="Median">Half of the draws are worse.</param>
/// <param name="Worst">The share of draws that must stay inside is not worse than this; infinite where too many draws were not caught.</param>
public readonly record struct DrawnMeasure(double Median, double Worst);

/// <summary>What came of a setting.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Asked">Number of draws asked for.</param>
/// <param name="Draws">Number of draws computed: fewer where it was clear before that the setting stays outside, whichever limit were dropped.</param>
/// <param name="Inside">Draws inside all limits.</param>
/// <param name="Outside">For each limit by its key, and "caught", the number of draws outside it.</param>
/// <param name="InsideWithout">For each limit by its key, the number of draws inside all the others.</param>
/// <param name="Measures">What it costs, by measure id.</param>
public sealed record OptionOutcome(
    OptionSetting Setting, int Asked, int Draws, int Inside, IReadOnlyDictionary<string, int> Outside, IReadOnlyDictionary<string, int> InsideWithout,
    IReadOnlyDictionary<string, DrawnMeasure> Measures)
{
    /// <summary>True where at least the stated share of the draws is inside every limit.</summary>
    public bool Kept => Inside >= OptionsStudy.Needed(Asked);

    /// <summary>True where every draw was computed.</summary>
    public bool Complete => Draws == Asked;

    /// <summary>The share that may truly be inside, at least, with 95 % confidence (exact binomial bound of Clopper and Pearson, one-sided).</summary>
    public double ShareAtLeast => Inside == 0 ? 0 : Beta.InvCDF(Inside, Draws - Inside + 1, 1 - OptionsStudy.Confidence);
}

/// <summary>
/// Which settings keep the stated share of what is uncertain inside a crew's limits. Every setting meets the same draws: points spread
/// evenly over the ranges, each value within its range counted as equally likely (docs/theory/options.md).
/// </summary>
public static class OptionsStudy
{
    /// <summary>Share of the draws that must stay inside.</summary>
    public const double Share = 0.95;

    /// <summary>Confidence of the bound on the true share.</summary>
    public const double Confidence = 0.95;

    /// <summary>Draws a setting where nothing else is asked: with all of 60 inside, the share is above 95 % with 95 % confidence (0.95^59 = 0.048).</summary>
    public const int DefaultDraws = 60;

    /// <summary>Key under which draws are counted in which the piece was not caught.</summary>
    public const string Caught = "caught";

    /// <summary>What is told of each setting.</summary>
    public static IReadOnlyList<string> MeasureIdsTold { get; } =
    [
        MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun, MeasureIds.RopeSpeed, MeasureIds.RopeHeat,
    ];

    /// <summary>Draws that must be inside.</summary>
    /// <param name="draws">Draws in all.</param>
    public static int Needed(int draws) => (int)Math.Ceiling((Share * draws) - 1e-9);

    /// <summary>Computes settings. The result does not depend on the number of threads; cancelled, settings with all their draws are kept.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="draws">Draws a setting, 20 or more.</param>
    /// <param name="threads">Threads.</param>
    /// <param name="progress">Told after every drop; may be null.</param>
    /// <param name="cancellation">Cancels.</param>
    public static StudyRuns<OptionOutcome> Compute(
        IReadOnlyList<OptionSetting> settings, int draws, int threads, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentOutOfRangeException.ThrowIfLessThan(draws, 20);
        return StudyRuns.Compute(settings.Count, (i, token) => One(settings[i], draws, progress, token), threads, null, cancellation);
    }

    private static OptionOutcome One(OptionSetting setting, int draws, Action? progress, CancellationToken cancellation)
    {
        var options = new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(setting.Case.Input) };
        var runs = new List<DropRun?>(draws);
        var count = new Count(setting);
        for (var k = 0; k < draws; k++)
        {
            var point = RangeStudy.Spread(setting.Ranges, k + 1);
            var input = setting.Case.Input;
            for (var i = 0; i < point.Length; i++)
            {
                input = setting.Ranges[i].Apply(input, point[i]);
            }

            var run = DropOutcome.Of(input, options, cancellation).Run;
            runs.Add(run);
            count.Add(run);
            progress?.Invoke();
            if (!setting.AsFiled && count.CannotBeKept(draws))
            {
                for (var skipped = k + 1; skipped < draws; skipped++)
                {
                    progress?.Invoke();
                }

                break;
            }
        }

        return Judge(setting, runs, draws, count);
    }

    /// <summary>Judges the draws of a setting.</summary>
    internal static OptionOutcome Judge(OptionSetting setting, IReadOnlyList<DropRun?> runs, int asked)
    {
        var count = new Count(setting);
        foreach (var run in runs)
        {
            count.Add(run);
        }

        return Judge(setting, runs, asked, count);
    }

    private static OptionOutcome Judge(OptionSetting setting, IReadOnlyList<DropRun?> runs, int asked, Count count) =>
        new(setting, asked, runs.Count, count.Inside, count.Outside, count.InsideWithout, MeasureIdsTold.ToDictionary(id => id, id => Drawn(runs, id)));

    /// <summary>Counts draws inside and outside; one that could not be computed counts as not caught.</summary>
    private sealed class Count(OptionSetting setting)
    {
        private readonly IReadOnlyList<CrewLimit> _limits = CrewLimit.For(setting.Case);
        private int _draws;

        public int Inside { get; private set; }

        public Dictionary<string, int> Outside { get; } = CrewLimit.For(setting.Case).Select(l => l.Key).Append(Caught).ToDictionary(k => k, _ => 0);

        public Dictionary<string, int> InsideWithout { get; } = CrewLimit.For(setting.Case).ToDictionary(l => l.Key, _ => 0);

        public void Add(DropRun? run)
        {
            _draws++;
            List<string> broken = run is null || run.End.CutsShort ? [Caught] : [];
            broken.AddRange(_limits.Where(l => run is not null && l.Holds(run) == false).Select(l => l.Key));
            foreach (var key in broken)
            {
                Outside[key]++;
            }

            Inside += broken.Count == 0 ? 1 : 0;
            foreach (var limit in _limits.Where(l => broken.All(b => b == l.Key)))
            {
                InsideWithout[limit.Key]++;
            }
        }

        /// <summary>True where not enough draws are left to keep the setting inside, even without the limit that is broken most.</summary>
        public bool CannotBeKept(int draws) => InsideWithout.Values.Append(Inside).Max() + draws - _draws < Needed(draws);
    }

    /// <summary>Median and the value that the needed share of the draws does not pass, by nearest rank. A drop that was not caught is worse than any number.</summary>
    private static DrawnMeasure Drawn(IReadOnlyList<DropRun?> runs, string id)
    {
        var first = runs.FirstOrDefault(r => r is not null)?.Measures.FirstOrDefault(m => m.Id == id);
        if (first is null)
        {
            return new(double.NaN, double.NaN);
        }

        var sign = first.Worse == Worse.Smaller ? -1 : 1;
        var values = runs
            .Select(r => r is null || r.End.CutsShort || double.IsNaN(r[id].Value) ? double.PositiveInfinity : sign * r[id].Value)
            .Order().ToArray();
        return new(sign * values[(values.Length - 1) / 2], sign * values[Needed(values.Length) - 1]);
    }

    /// <summary>
    /// Settings that no other beats in both: smaller force on the rigging point and more room, each at its worse end. In order of the force.
    /// </summary>
    /// <param name="outcomes">Settings to look at.</param>
    public static IReadOnlyList<OptionOutcome> Front(IEnumerable<OptionOutcome> outcomes)
    {
        var front = new List<OptionOutcome>();
        var most = double.NegativeInfinity;
        foreach (var outcome in outcomes
            .Where(o => double.IsFinite(o.Measures[MeasureIds.RiggingPointForce].Worst) && double.IsFinite(o.Measures[MeasureIds.Room].Worst))
            .OrderBy(o => o.Measures[MeasureIds.RiggingPointForce].Worst).ThenByDescending(o => o.Measures[MeasureIds.Room].Worst))
        {
            if (outcome.Measures[MeasureIds.Room].Worst > most)
            {
                front.Add(outcome);
                most = outcome.Measures[MeasureIds.Room].Worst;
            }
        }

        return front;
    }
}
