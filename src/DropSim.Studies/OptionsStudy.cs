using DropSim.Model;
using MathNet.Numerics.Distributions;

namespace DropSim.Studies;

/// <summary>
/// Which settings keep the stated share of what is uncertain inside a crew's limits. Every setting meets the same draws, from the
/// distributions of an uncertainty study; none is given up before its count is certain (docs/theory/options.md).
/// </summary>
public static class OptionsStudy
{
    /// <summary>Share of the draws that must stay inside.</summary>
    public const double Share = 0.95;

    /// <summary>Confidence of the bound on the true share.</summary>
    public const double Confidence = 0.95;

    /// <summary>Key under which draws are counted in which the piece was not caught.</summary>
    public const string Caught = "caught";

    /// <summary>Draws repeated as a check.</summary>
    private const int MostChecked = 24;

    /// <summary>What is told of each setting.</summary>
    public static IReadOnlyList<string> MeasureIdsTold { get; } =
    [
        MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun, MeasureIds.RopeSpeed, MeasureIds.RopeHeat,
    ];

    /// <summary>Draws that must be inside.</summary>
    /// <param name="draws">Draws in all.</param>
    public static int Needed(int draws) => (int)Math.Ceiling((Share * draws) - 1e-9);

    /// <summary>The share that may truly be inside, at least, with 95 % confidence.</summary>
    /// <param name="inside">Draws inside.</param>
    /// <param name="draws">Draws in all.</param>
    public static double ShareAtLeast(int inside, int draws) => inside == 0 ? 0 : Beta.InvCDF(inside, draws - inside + 1, 1 - Confidence);

    /// <summary>Computes settings. The result does not depend on the number of threads; cancelled, settings whose count was certain are kept.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="plan">How.</param>
    /// <param name="progress">Told after every draw, computed or given up; may be null.</param>
    /// <param name="cancellation">Cancels.</param>
    public static OptionsFound Compute(
        IReadOnlyList<OptionSetting> settings, OptionsPlan plan, Action? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentOutOfRangeException.ThrowIfLessThan(plan.Draws, OptionsPlan.FewestDraws, nameof(plan));
        var draws = new OptionDraws(settings, plan);
        OptionTally[] tallies = [.. settings.Select(s => new OptionTally(s, plan.Draws))];
        var outcomes = new OptionOutcome?[settings.Count];

        // As filed: every draw, for the curve against length, and to learn which draws are hard.
        var all = Enumerable.Range(0, settings.Count).ToArray();
        Draw([.. all.Where(i => settings[i].AsFiled)], static _ => false);

        // The others: hardest draws first, until too few are left to be listed.
        Draw([.. all.Where(i => !settings[i].AsFiled)], static t => t.IsOut);

        // Where no setting with a piece of some length is listed, on until it is certain which limit alone keeps a setting out.
        var lengths = all.Where(i => outcomes[i]?.Kept != false).Select(i => Length(i)).ToHashSet();
        int[] open = [.. all.Where(i => !lengths.Contains(Length(i)))];
        var known = Draw(open, static t => t.IsOutWithoutAnyOne) && outcomes.All(o => o is not null);
        for (var skipped = outcomes.Sum(o => o is null ? 0 : o.Asked - o.Draws); skipped > 0; skipped--)
        {
            progress?.Invoke();
        }

        return new(plan, [.. outcomes.OfType<OptionOutcome>()], settings.Count, known, tallies.Sum(t => (long)t.Drops.Count), Check(settings, tallies, outcomes, draws, plan, cancellation));

        double Length(int i) => settings[i].Case.Input.Piece.Length;

        bool Draw(int[] places, Func<OptionTally, bool> isCertain)
        {
            var runs = StudyRuns.Compute(places.Length, (k, token) =>
            {
                var tally = tallies[places[k]];
                foreach (var draw in Order(settings, tallies, places[k], plan.Draws).Skip(tally.Drops.Count))
                {
                    if (isCertain(tally))
                    {
                        break;
                    }

                    tally.Add(draw, draws.Run(settings[places[k]], draw, token));
                    progress?.Invoke();
                }

                return tally.Outcome();
            }, plan.Threads, null, cancellation);
            foreach (var (k, outcome) in runs.Done)
            {
                outcomes[places[k]] = outcome;
            }

            return !runs.CutShort;
        }
    }

    /// <summary>Order of the draws of a setting: as numbered where it is as filed; else the hardest first, as they were for its like as filed (same length, catch and turns).</summary>
    private static IEnumerable<int> Order(IReadOnlyList<OptionSetting> settings, OptionTally[] tallies, int place, int draws)
    {
        var setting = settings[place];
        var like = setting.AsFiled ? -1 : Enumerable.Range(0, settings.Count).FirstOrDefault(
            i => settings[i].AsFiled && settings[i].Case.Input.Piece.Length == setting.Case.Input.Piece.Length
                && settings[i].Case.CatchName == setting.Case.CatchName && settings[i].WrapsLow == setting.WrapsLow,
            -1);
        return like < 0 || tallies[like].Drops.Count < draws
            ? Enumerable.Range(0, draws)
            : tallies[like].Drops.OrderByDescending(d => d.Used).ThenBy(d => d.Draw).Select(d => d.Draw);
    }

    /// <summary>Repeats some draws, spread over all that were computed.</summary>
    private static OptionsCheck Check(
        IReadOnlyList<OptionSetting> settings, OptionTally[] tallies, OptionOutcome?[] outcomes, OptionDraws draws, OptionsPlan plan, CancellationToken cancellation)
    {
        var done = Enumerable.Range(0, settings.Count).Where(i => outcomes[i] is { Complete: true }).SelectMany(i => tallies[i].Drops.Select(d => (Place: i, Drop: d))).ToArray();
        var count = Math.Min(MostChecked, done.Length);
        var repeated = StudyRuns.Compute(count, (k, token) =>
        {
            var (place, drop) = done[(int)((k + 0.5) * done.Length / count)];
            return (First: drop, Exact: tallies[place].Read(drop.Draw, draws.Repeat(settings[place], drop.Draw, token)));
        }, plan.Threads, null, cancellation);
        static double Moved(double first, double exact) =>
            first.Equals(exact) || !double.IsFinite(first) || !double.IsFinite(exact) ? 0 : Math.Abs(first - exact) / Math.Max(Math.Abs(exact), double.Epsilon);
        return new(
            repeated.Finished,
            MeasureIdsTold.Select((id, m) => (id, Largest: repeated.Done.Select(d => Moved(d.Result.First.Values[m], d.Result.Exact.Values[m])).DefaultIfEmpty(0).Max())).ToDictionary(x => x.id, x => x.Largest),
            repeated.Done.Count(d => d.Result.First.Values.Zip(d.Result.Exact.Values, Moved).Any(m => m > OptionsCheck.Noticeable)),
            repeated.Done.Count(d => !d.Result.First.Broken.SequenceEqual(d.Result.Exact.Broken)));
    }

    /// <summary>Judges the draws of a setting.</summary>
    internal static OptionOutcome Judge(OptionSetting setting, IReadOnlyList<DropRun?> runs, int asked)
    {
        var tally = new OptionTally(setting, asked);
        for (var k = 0; k < runs.Count; k++)
        {
            tally.Add(k, runs[k]);
        }

        return tally.Outcome();
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
