using DropSim.Model;
using DropSim.Studies.Uncertainty;

namespace DropSim.Studies.Draws;

/// <summary>How set-ups like a scenario's are drawn.</summary>
/// <param name="Seed">Seed of the draws; <see cref="DrawStudy.SeedOf"/> for a scenario.</param>
public sealed record DrawPlan(int Seed)
{
    /// <summary>
    /// Number of draws, a power of two. With 256 the 5, 50 and 95 % points of the headline measures lay within 5 % of those of 4,096 in 96 of 100
    /// trials of a prototype (docs/theory/draws.md).
    /// </summary>
    public int Count { get; init; } = 256;

    /// <summary>Threads, 1 or more.</summary>
    public int Threads { get; init; } = 1;

    /// <summary>Relative tolerance of the drawn drops: coarser than the drop that is shown, by less than a thousandth of any peak.</summary>
    public double Tolerance { get; init; } = 1e-5;

    /// <summary>The measures kept of every drop, SI.</summary>
    public IReadOnlyList<string> Measures { get; init; } = DrawStudy.Told;
}

/// <summary>The drops of one case, on the same draws as those of every other case of its scenario.</summary>
/// <param name="Case">The case.</param>
/// <param name="Drops">One per draw.</param>
/// <param name="Coordinates">Coordinate of each uncertain input in a draw.</param>
public sealed record DrawnCase(DropCase Case, IReadOnlyList<DrawnDrop> Drops, IReadOnlyList<int> Coordinates);

/// <summary>All cases of a scenario on the same draws.</summary>
/// <param name="Plan">How they were drawn.</param>
/// <param name="Cases">The cases, in their order.</param>
public sealed record DrawnScenario(DrawPlan Plan, IReadOnlyList<DrawnCase> Cases)
{
    private readonly SamplePlan _points = SamplePlan.Create(SamplingMethod.Sobol, DirectionNumbers.MostDimensions, Plan.Count, Plan.Seed);

    /// <summary>Number of draws that were computed in every case: fewer than planned where somebody cancelled.</summary>
    public int Count => Cases.Count == 0 ? 0 : Cases.Min(c => c.Drops.Count);

    /// <summary>Where a draw lies in an input's distribution, 0 to 1.</summary>
    /// <param name="which">Index of the case.</param>
    /// <param name="input">Index of the uncertain input.</param>
    /// <param name="draw">Number of the draw, from 0.</param>
    public double Share(int which, int input, int draw) => _points.At(draw, Cases[which].Coordinates[input]);

    /// <summary>Some of the cases; their draws stay those that they have among all.</summary>
    /// <param name="cases">Indices of the cases.</param>
    public DrawnScenario Only(IEnumerable<int> cases) => this with { Cases = [.. cases.Select(i => Cases[i])] };

    /// <summary>The drop of a case in one draw, to be computed again with its curves.</summary>
    /// <param name="which">Index of the case.</param>
    /// <param name="draw">Number of the draw, from 0.</param>
    public DropInput Input(int which, int draw)
    {
        var c = Cases[which];
        var points = new DropPoints(c.Case.Input, c.Case.Uncertain);
        return points.Input(points.Point(i => Share(which, i, draw)));
    }

    /// <summary>Place of a measure among the values of a drop.</summary>
    /// <param name="measure">Its id.</param>
    /// <exception cref="ArgumentException">It was not kept.</exception>
    public int PlaceOf(string measure)
    {
        for (var i = 0; i < Plan.Measures.Count; i++)
        {
            if (Plan.Measures[i] == measure)
            {
                return i;
            }
        }

        throw new ArgumentException($"The measure '{measure}' was not kept.", nameof(measure));
    }
}

/// <summary>
/// Set-ups like this one (docs/theory/draws.md): the unknown inputs drawn over their stated ranges, every case of a scenario on the same draws.
/// The result depends on cases, seed and count alone, not on the number of threads.
/// </summary>
public static class DrawStudy
{
    /// <summary>The measures that are told of draws.</summary>
    public static IReadOnlyList<string> Told { get; } =
    [
        MeasureIds.RiggingPointForce, MeasureIds.Room, MeasureIds.ClimberMovement, MeasureIds.HandForce, MeasureIds.RopeRun,
        MeasureIds.LoadLegTension, MeasureIds.GroundLegTension, MeasureIds.ClimberMovementBeforeHit, MeasureIds.FootTurn, MeasureIds.RopeSpeed,
    ];

    /// <summary>The seed of a scenario, by its name: the same while its numbers are changed.</summary>
    /// <param name="name">The scenario's file-name-safe name.</param>
    public static int SeedOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);

        // The public domain hash of Fowler, Noll and Vo, 32 bits.
        var hash = 2166136261u;
        foreach (var c in name)
        {
            hash = unchecked((hash ^ c) * 16777619u);
        }

        return (int)(hash & 0x7fffffff);
    }

    /// <summary>A scenario of which nothing is computed yet: <see cref="DrawSlices"/> goes on from it.</summary>
    /// <param name="cases">All its cases: which are computed later does not move the draws of any.</param>
    /// <param name="plan">How.</param>
    public static DrawnScenario Begin(IReadOnlyList<DropCase> cases, DrawPlan plan)
    {
        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentOutOfRangeException.ThrowIfLessThan(plan.Count, 1, nameof(plan));
        return new(plan, [.. cases.Zip(DrawDimensions.Of(cases), (c, d) => new DrawnCase(c, [], d))]);
    }

    /// <summary>Computes all cases of a scenario on the same draws.</summary>
    /// <param name="cases">The cases.</param>
    /// <param name="plan">How.</param>
    /// <param name="progress">Told after every drop, from several threads; may be null.</param>
    /// <param name="cancellation">Cancels between steps: the draws up to the first unfinished one are kept.</param>
    public static DrawnScenario Compute(IReadOnlyList<DropCase> cases, DrawPlan plan, Action? progress = null, CancellationToken cancellation = default)
    {
        var empty = Begin(cases, plan);
        var spars = new SparsOfDraws(plan.Count);

        // Draw by draw, all cases of one after each other: they mostly share its spar, and a study that is cut short has whole draws.
        var runs = StudyRuns.Compute(plan.Count * cases.Count, (k, token) =>
        {
            var (draw, which) = (k / cases.Count, k % cases.Count);
            return One(empty, which, draw, spars, token);
        }, plan.Threads, progress, cancellation);
        var whole = Enumerable.Range(0, plan.Count).TakeWhile(d => Enumerable.Range(0, cases.Count).All(c => runs.IsFinished((d * cases.Count) + c))).Count();
        return empty with
        {
            Cases = [.. empty.Cases.Select((c, which) => c with { Drops = [.. Enumerable.Range(0, whole).Select(d => runs[(d * cases.Count) + which])] })],
        };
    }

    /// <summary>One drop of one case.</summary>
    internal static DrawnDrop One(DrawnScenario scenario, int which, int draw, SparsOfDraws spars, CancellationToken cancellation)
    {
        var input = scenario.Input(which, draw);
        input = input with { Computation = input.Computation with { RelativeTolerance = Math.Max(input.Computation.RelativeTolerance, scenario.Plan.Tolerance) } };
        var options = new RunOptions { Detail = RunDetail.MeasuresOnly, Only = [.. scenario.Plan.Measures], Spar = spars.Of(input, draw) };
        return DrawnDrop.Of(DropOutcome.Of(input, options, cancellation), scenario.Plan.Measures);
    }
}
