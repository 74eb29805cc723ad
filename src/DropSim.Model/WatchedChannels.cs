namespace DropSim.Model;

/// <summary>Which channels' extremes are looked for between the ends of steps, and hence which measures a run can tell.</summary>
internal sealed class WatchedChannels
{
    private static readonly int[] _every = [.. Enumerable.Range(0, Channel.Count)];

    // Moments, stress and acceleration follow the spar's fastest modes: they are seen in an evaluation of their own.
    private static readonly int[] _ofFastModes = [Channel.ClimberAcceleration, Channel.BaseMoment, Channel.BaseMomentWithStrikes, Channel.Stress];

    /// <summary>The channels that a measure is read from; a measure that is not here needs none.</summary>
    private static readonly Dictionary<string, int[]> _channels = new(StringComparer.Ordinal)
    {
        [MeasureIds.RiggingPointForce] = [Channel.RiggingPoint],
        [MeasureIds.RiggingPointTimesWeight] = [Channel.RiggingPoint],
        [MeasureIds.Room] = [Channel.Room],
        [MeasureIds.ClimberMovement] = [Channel.ClimberDeflection],
        [MeasureIds.ClimberMovementBeforeHit] = [Channel.ClimberDeflection],
        [MeasureIds.FootTurn] = [Channel.FootTurn],
        [MeasureIds.UprootingShare] = [Channel.FootTurn],
        [MeasureIds.HandForce] = [Channel.Hand],
        [MeasureIds.LoadLegTension] = [Channel.LoadLeg],
        [MeasureIds.LoadLegTimesWeight] = [Channel.LoadLeg],
        [MeasureIds.TimeToPeak] = [Channel.LoadLeg],
        [MeasureIds.GroundLegTension] = [Channel.GroundLeg],
        [MeasureIds.ClimberSpeed] = [Channel.ClimberSpeed],
        [MeasureIds.ClimberAcceleration] = [Channel.ClimberAcceleration],
        [MeasureIds.TipDeflection] = [Channel.TipDeflection],
        [MeasureIds.RopeSpeed] = [Channel.RopeSpeed],
        [MeasureIds.RopeHeat] = [Channel.BrakePull],
        [MeasureIds.BaseMoment] = [Channel.BaseMoment],
        [MeasureIds.BaseMomentWithStrikes] = [Channel.BaseMomentWithStrikes],
        [MeasureIds.SparStress] = [Channel.Stress],
        [MeasureIds.SparStressHeight] = [Channel.Stress],
        [MeasureIds.HingeForce] = [Channel.HingeForce],
        [MeasureIds.BucklingFraction] = [Channel.VerticalLoad],
        [MeasureIds.WeakestLink] = [Channel.LoadLeg, Channel.GroundLeg, Channel.RiggingPoint, Channel.Stress],
    };

    private readonly Func<string, bool> _tells;

    private WatchedChannels(int[] searched, bool fastModes, Func<string, bool> tells)
    {
        Searched = searched;
        FastModes = fastModes;
        _tells = tells;
    }

    /// <summary>Everything.</summary>
    public static WatchedChannels All { get; } = new(_every, true, _ => true);

    /// <summary>Nothing is looked for between the ends of steps; what the ends show is told, but for what follows the fastest modes.</summary>
    public static WatchedChannels StepEnds { get; } = new([], false, id => !NeedsFastModes(id));

    /// <summary>Channels to look for, from the lowest.</summary>
    public int[] Searched { get; }

    /// <summary>Whether acceleration, moments and stress are worked out.</summary>
    public bool FastModes { get; }

    /// <summary>What some measures are read from.</summary>
    /// <param name="measures">Ids of the measures.</param>
    public static WatchedChannels For(IReadOnlyCollection<string> measures)
    {
        int[] searched = [.. measures.SelectMany(Of).Distinct().Order()];
        return new(searched, searched.Any(_ofFastModes.Contains), measures.Contains);
    }

    /// <summary>Whether a measure comes out of this run.</summary>
    /// <param name="measure">Its id.</param>
    public bool Tells(string measure) => _tells(measure);

    /// <summary>Whether a measure follows the spar's fastest modes.</summary>
    /// <param name="measure">Its id.</param>
    public static bool NeedsFastModes(string measure) => Of(measure).Any(_ofFastModes.Contains);

    private static int[] Of(string measure) => _channels.GetValueOrDefault(measure, []);
}
