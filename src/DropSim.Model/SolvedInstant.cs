using System.Runtime.CompilerServices;
namespace DropSim.Model;

/// <summary>
/// The instant evaluated last, so that whoever looks at a step's end finds it solved. Known again by its time and by states that
/// no two instants of a drop share; forgotten whenever the phase or the state may have changed at one time.
/// </summary>
internal struct SolvedInstant
{
    /// <summary>What was found out.</summary>
    public Instant At;

    private double _time;
    private double _height;
    private double _leanRate;
    private double _loadLength;
    private double _last;
    private bool _known;

    /// <summary>Notes that <see cref="At"/> is now that of a time and a state.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Remember(double time, ReadOnlySpan<double> state)
    {
        _time = time;
        _height = state[StateLayout.PieceZ];
        _leanRate = state[StateLayout.LeanRate];
        _loadLength = state[StateLayout.LoadLength];
        _last = state[^1];
        _known = true;
    }

    /// <summary>Whether <see cref="At"/> is that of a time and a state.</summary>
    public readonly bool Is(double time, ReadOnlySpan<double> state) =>
        _known && time.Equals(_time) && state[StateLayout.PieceZ].Equals(_height) && state[StateLayout.LeanRate].Equals(_leanRate)
        && state[StateLayout.LoadLength].Equals(_loadLength) && state[^1].Equals(_last);

    /// <summary>What was found out may no longer hold.</summary>
    public void Forget() => _known = false;
}
