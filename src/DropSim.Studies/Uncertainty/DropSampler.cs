using DropSim.Model;

namespace DropSim.Studies.Uncertainty;

/// <summary>From a point of the unit cube to a drop and what came of it.</summary>
internal sealed class DropSampler
{
    private readonly DropPoints _points;
    private readonly PreparedSpar _central;
    private readonly string[] _measures;

    /// <summary>Makes a sampler.</summary>
    /// <param name="dropCase">The case.</param>
    /// <param name="measures">Ids of the measures read off.</param>
    public DropSampler(DropCase dropCase, string[] measures)
    {
        _points = new DropPoints(dropCase.Input, dropCase.Uncertain);
        _central = new PreparedSpar(dropCase.Input);
        _measures = measures;
    }

    /// <inheritdoc cref="DropPoints.Point"/>
    public double[] Point(Func<int, double> share) => _points.Point(share);

    /// <inheritdoc cref="DropPoints.CentralPoint"/>
    public double[] CentralPoint() => _points.CentralPoint();

    /// <inheritdoc cref="DropPoints.Input"/>
    public DropInput Input(double[] point) => _points.Input(point);

    /// <summary>Computes a drop; the spar's modes are taken from the central case, or from another drop, where the spar is the same.</summary>
    public DropOutcome Run(DropInput input, RunDetail detail, PreparedSpar? other, CancellationToken cancellation) =>
        DropOutcome.Of(input, new RunOptions { Detail = detail, Spar = other?.For(input) is null ? _central : other }, cancellation);

    /// <summary>The modes of a drop's spar, for the drops that share it; null where the stem would fall by itself.</summary>
    public PreparedSpar? Prepared(DropInput input)
    {
        if (_central.For(input) is not null)
        {
            return null;
        }

        try
        {
            return new PreparedSpar(input);
        }
        catch (UnstableSparException)
        {
            return null;
        }
    }

    /// <summary>What is kept of a drop.</summary>
    public SampledDrop Read(double[] point, DropOutcome outcome)
    {
        var n = _measures.Length;
        var (recorded, low, high) = (new double[n], new double[n], new double[n]);
        for (var i = 0; i < n; i++)
        {
            var measure = outcome.Run?.Measures.FirstOrDefault(m => m.Id == _measures[i]);
            recorded[i] = measure?.Value ?? double.NaN;
            (low[i], high[i]) = Ends(measure);
        }

        return new(point, outcome.Run?.End.Kind.ToString() ?? "", outcome.Run?.End.CutsShort ?? false, outcome.Refusal, recorded, low, high);
    }

    /// <summary>
    /// From where to where the true value can lie. A drop that could not be computed, or a quantity that was not reached, may be anything;
    /// the peak of a drop that was cut short is at least what was recorded; room that was not used up is at most what was left.
    /// </summary>
    private static (double Low, double High) Ends(Measure? measure) => measure switch
    {
        null => (double.NegativeInfinity, double.PositiveInfinity),
        { Value: double.NaN } => (double.NegativeInfinity, double.PositiveInfinity),
        { State: MeasureState.AtLeast } => (measure.Value, double.PositiveInfinity),
        { State: MeasureState.NotReached, Worse: Worse.Smaller } => (0, measure.Value),
        { State: MeasureState.NotReached } => (double.NegativeInfinity, double.PositiveInfinity),
        _ => (measure.Value, measure.Value),
    };
}
