using DropSim.Model;

namespace DropSim.Studies.Uncertainty;

/// <summary>How an uncertainty study is made.</summary>
public sealed record UncertaintyOptions
{
    /// <summary>Number of drops for bands and quantiles; 16 or more.</summary>
    public int Samples { get; init; } = 1024;

    /// <summary>Number of rows for the indices of influence, each of (number of inputs + 1) drops; 0 for none; at most <see cref="Samples"/>.</summary>
    public int IndexRows { get; init; } = 256;

    /// <summary>How the points are spread.</summary>
    public SamplingMethod Method { get; init; }

    /// <summary>Seed.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Threads, 1 or more; the result does not depend on it.</summary>
    public int Threads { get; init; } = 1;

    /// <summary>Shares for which bands and quantiles are given.</summary>
    public static IReadOnlyList<double> Shares { get; } = [0.05, 0.25, 0.5, 0.75, 0.95];

    /// <summary>Share of the low end of a tornado bar; the high end is one less this.</summary>
    public const double TornadoShare = 0.05;
}

/// <summary>What came of one sampled drop: for each measure the ends between which its true value lies.</summary>
/// <param name="Point">Values of the inputs, SI.</param>
/// <param name="End">How it ended; "" where it could not be computed.</param>
/// <param name="CutsShort">True where it ended before its peaks were over.</param>
/// <param name="Refusal">Why it could not be computed; empty where it was.</param>
/// <param name="Recorded">What was recorded, in the order of <see cref="UncertaintyResult.MeasureIds"/>; not a number for none.</param>
/// <param name="Low">Lower ends.</param>
/// <param name="High">Upper ends.</param>
public sealed record SampledDrop(
    IReadOnlyList<double> Point, string End, bool CutsShort, string Refusal,
    IReadOnlyList<double> Recorded, IReadOnlyList<double> Low, IReadOnlyList<double> High);

/// <summary>Spread of one measure.</summary>
/// <param name="Central">The measure of the central run.</param>
/// <param name="Quantiles">One per share.</param>
/// <param name="Influence">One per input, in the order of the inputs; empty where the measure does not vary or none was asked for.</param>
public sealed record MeasureSpread(Measure Central, IReadOnlyList<QuantileBounds> Quantiles, IReadOnlyList<Influence> Influence);

/// <summary>How much an input has to do with a measure.</summary>
/// <param name="RankCorrelation">Spearman's rank correlation, -1 to 1.</param>
/// <param name="First">Share of the variance that the input brings alone; null where not estimated.</param>
/// <param name="Total">Share of the variance in which it takes part; null where not estimated.</param>
public sealed record Influence(double RankCorrelation, Estimate? First, Estimate? Total);

/// <summary>How many drops go past a limit.</summary>
/// <param name="Words">The limit in words.</param>
/// <param name="Measure">Id of the measure.</param>
/// <param name="Limit">The limit, SI.</param>
/// <param name="Unit">SI unit.</param>
/// <param name="AtOrBelow">True where being at or below it counts.</param>
/// <param name="Share">Share of the drops.</param>
public sealed record LimitShare(string Words, string Measure, double Limit, string Unit, bool AtOrBelow, ShareBounds Share);

/// <summary>Bands of a curve over time.</summary>
/// <param name="Column">Name of the trace column.</param>
/// <param name="Unit">SI unit.</param>
/// <param name="Values">For each share its quantile at each time, over the drops that were not cut short by then; not a number where none is left.</param>
public sealed record TraceBand(string Column, string Unit, IReadOnlyList<double[]> Values);

/// <summary>Bands of all curves on one clock.</summary>
/// <param name="Time">Times, s from hinge break.</param>
/// <param name="Following">Share of the drops still computed at each time: the others were cut short before.</param>
/// <param name="Curves">One per column.</param>
public sealed record TraceBands(IReadOnlyList<double> Time, IReadOnlyList<double> Following, IReadOnlyList<TraceBand> Curves);

/// <summary>One input at the ends of its band with all others at their central values.</summary>
/// <param name="Low">Value at the low end, SI.</param>
/// <param name="High">Value at the high end, SI.</param>
/// <param name="AtLow">What came of the low end.</param>
/// <param name="AtHigh">What came of the high end.</param>
public sealed record TornadoBar(double Low, double High, DropOutcome AtLow, DropOutcome AtHigh);

/// <summary>An estimate after so many drops.</summary>
/// <param name="Count">Number of drops.</param>
/// <param name="Quantiles">One per share.</param>
public sealed record ConvergencePoint(int Count, IReadOnlyList<QuantileBounds> Quantiles);

/// <summary>Indices after so many rows.</summary>
/// <param name="Rows">Number of rows.</param>
/// <param name="Totals">Total index per input.</param>
public sealed record IndexConvergence(int Rows, IReadOnlyList<Estimate> Totals);

/// <summary>What is known about one case when its inputs are spread.</summary>
public sealed record UncertaintyResult
{
    /// <summary>The case.</summary>
    public required DropCase Case { get; init; }

    /// <summary>How the study was made.</summary>
    public required UncertaintyOptions Options { get; init; }

    /// <summary>The central run.</summary>
    public required DropRun Central { get; init; }

    /// <summary>The uncertain inputs.</summary>
    public required IReadOnlyList<UncertainInput> Inputs { get; init; }

    /// <summary>Ids of the measures, in the order of the central run.</summary>
    public required IReadOnlyList<string> MeasureIds { get; init; }

    /// <summary>The sampled drops, in the order of the sequence.</summary>
    public required IReadOnlyList<SampledDrop> Samples { get; init; }

    /// <summary>Spread of each measure.</summary>
    public required IReadOnlyList<MeasureSpread> Measures { get; init; }

    /// <summary>Shares past the limits that are known.</summary>
    public required IReadOnlyList<LimitShare> Limits { get; init; }

    /// <summary>Bands over time.</summary>
    public required TraceBands Bands { get; init; }

    /// <summary>One bar per input.</summary>
    public required IReadOnlyList<TornadoBar> Tornado { get; init; }

    /// <summary>Quantiles of the rigging-point force against the number of drops.</summary>
    public required IReadOnlyList<ConvergencePoint> Convergence { get; init; }

    /// <summary>Total indices of the rigging-point force against the number of rows.</summary>
    public required IReadOnlyList<IndexConvergence> IndexConvergence { get; init; }

    /// <summary>Rows of the indices that were finished.</summary>
    public required int IndexRowsDone { get; init; }

    /// <summary>Rows of the indices left out because a drop of theirs could not be computed.</summary>
    public required int IndexRowsRefused { get; init; }

    /// <summary>Least of (largest load-leg tension / least possible) over the sampled drops that have both: never below 1, a check.</summary>
    public required double LeastForceRatio { get; init; }

    /// <summary>True where the study was cancelled before it was complete.</summary>
    public bool CutShort => Samples.Count < Options.Samples || IndexRowsDone < Options.IndexRows;

    /// <summary>The spread of a measure.</summary>
    /// <param name="id">Its id.</param>
    public MeasureSpread this[string id] => Measures.First(m => m.Central.Id == id);

    /// <summary>Number of sampled drops that could not be computed.</summary>
    public int Refused => Samples.Count(s => s.Refusal.Length > 0);

    /// <summary>Number of sampled drops that were cut short.</summary>
    public int Ended => Samples.Count(s => s.CutsShort);
}
