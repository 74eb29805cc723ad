namespace DropSim.Model;

/// <summary>The words of a run's end, made from its facts.</summary>
public static class EndWords
{
    /// <summary>How a run ended, its quantities apart from the words.</summary>
    /// <param name="end">The end.</param>
    public static Remark Of(RunEnd end)
    {
        ArgumentNullException.ThrowIfNull(end);
        var speed = new Amount(end.Speed, "m/s");
        return new(end.Kind switch
        {
            EndKind.Settled => $"the piece hangs still",
            EndKind.EndTime => $"still moving when the computation ended after {end.Computed:0.#} s",
            EndKind.Ground => $"the piece touches the ground at {speed}",
            EndKind.Obstacle => $"the piece touches {end.Obstacle?.Name ?? "an obstacle"} at {speed}",
            EndKind.RopeEnd => $"the end of the rope passes the device, the piece at {speed}",
            EndKind.RopeBroke => $"the rope's breaking strength is exceeded, the piece at {speed}",
            EndKind.HitchAtRiggingPoint => $"the hitch is drawn up to the rigging point",
            _ => $"the computation stopped at {end.Computed:0.####} s ({end.Failure?.Stop}, guard {end.Failure?.Guard}, state {end.Failure?.Component}, phase: {end.Failure?.Phase})",
        });
    }
}
