namespace DropSim.Integration;

/// <summary>Counts events that follow one another without time passing.</summary>
internal sealed class ZeroTimeCounter
{
    /// <summary>Events in a row without time passing after which the phases no longer describe the motion.</summary>
    /// <remarks>A dozen: more than a system has contacts that can change at one instant, few enough to cost nothing.</remarks>
    internal const int EventLimit = 12;

    /// <summary>Phaseless spells in a row without time passing after which the run is given up.</summary>
    internal const int SpellLimit = 3;

    // Two events nearer than this in time, s, count as one instant: a hundred times the accuracy of an event's time.
    private const double Instant = 1e-10;

    private double _lastTime;
    private int _events;
    private int _spells;

    internal void Begin()
    {
        _lastTime = double.NegativeInfinity;
        _events = 0;
        _spells = 0;
    }

    /// <summary>Counts an event.</summary>
    /// <returns>Whether the limit is reached.</returns>
    internal bool Count(double time)
    {
        if (time - _lastTime > Instant)
        {
            _events = 0;
            _spells = 0;
        }

        _lastTime = time;
        _events++;
        return _events >= EventLimit;
    }

    /// <summary>Notes that a phaseless form takes over.</summary>
    /// <returns>False where that has already happened too often at this instant.</returns>
    internal bool BeginSpell()
    {
        _events = 0;
        _spells++;
        return _spells <= SpellLimit;
    }
}
