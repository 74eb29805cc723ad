namespace DropSim.Studies.Draws;

/// <summary>
/// The draws of some cases one drop at a time, for a program that must answer between two drops. Every drop is that of
/// <see cref="DrawStudy.Compute"/>, to the bit.
/// </summary>
public sealed class DrawSlices
{
    private readonly DrawnScenario _scenario;
    private readonly List<DrawnDrop>[] _drops;
    private readonly SparsOfDraws _spars;

    /// <summary>Begins; nothing is computed yet.</summary>
    /// <param name="scenario">What to compute, from <see cref="DrawStudy.Begin"/>; drops that a case has already are kept.</param>
    public DrawSlices(DrawnScenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        _scenario = scenario;
        _drops = [.. scenario.Cases.Select(c => c.Drops.Take(scenario.Plan.Count).ToList())];
        _spars = new(scenario.Plan.Count);
    }

    /// <summary>Draws that are computed in every case.</summary>
    public int Done => _drops.Length == 0 ? Planned : _drops.Min(d => d.Count);

    /// <summary>Draws in all.</summary>
    public int Planned => _scenario.Plan.Count;

    /// <summary>True when nothing is left to compute.</summary>
    public bool IsComplete => Done == Planned;

    /// <summary>The draws so far.</summary>
    public DrawnScenario Result => _scenario with { Cases = [.. _scenario.Cases.Zip(_drops, (c, d) => c with { Drops = [.. d] })] };

    /// <summary>Computes one drop: of the case that is furthest behind, so that all cases of a draw follow each other and share its spar.</summary>
    public void Next()
    {
        if (!IsComplete)
        {
            var which = Enumerable.Range(0, _drops.Length).MinBy(i => _drops[i].Count);
            var drops = _drops[which];
            drops.Add(DrawStudy.One(_scenario, which, drops.Count, _spars, CancellationToken.None));
        }
    }
}
