namespace DropSim.Model;

/// <summary>An event as it is seen while a drop is integrated.</summary>
/// <param name="time">When, s from the start.</param>
/// <param name="kind">What.</param>
/// <param name="detail">More, for people.</param>
internal sealed class SeenEvent(double time, EventKind kind, string detail)
{
    public double Time { get; } = time;

    public EventKind Kind { get; } = kind;

    public string Detail { get; } = detail;

    /// <summary>Energy of what began or ended with it, J; null where it has none of its own.</summary>
    public double? Energy { get; set; }
}

/// <summary>
/// A spell in which energy is lost in one place (rope slips, runs, is drawn out of a knot): the events at its two ends carry what was lost in it.
/// </summary>
/// <param name="place">Place of the loss in the state; null where nothing is lost.</param>
internal sealed class Spell(int? place)
{
    private SeenEvent? _began;
    private double _from;

    /// <summary>The spell that goes on ends, and another may begin.</summary>
    /// <param name="begins">True where one begins.</param>
    /// <param name="said">The event of the change; null where none was told.</param>
    /// <param name="state">The state now.</param>
    public void Turn(bool begins, SeenEvent? said, ReadOnlySpan<double> state)
    {
        if (place is not { } ledger)
        {
            return;
        }

        if (_began is not null)
        {
            var energy = Math.Max(0, state[ledger] - _from);
            _began.Energy = energy;
            if (!begins && said is not null)
            {
                said.Energy = energy;
            }
        }

        _began = begins ? said : null;
        _from = state[ledger];
    }
}
