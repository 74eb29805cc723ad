using DropSim.Model;

namespace DropSim.Session;

/// <summary>
/// The spars of the latest drops with their modes. A page changes the slack far more often than the spar, and finding the modes
/// costs as much as a drop.
/// </summary>
internal sealed class SparCache
{
    /// <summary>Spars remembered: the set-ups of a scenario, before and after a change.</summary>
    private const int Remembered = 12;

    private readonly List<PreparedSpar> _known = [];

    /// <summary>The modes of the drop's spar.</summary>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public PreparedSpar For(DropInput input)
    {
        int at = _known.FindIndex(k => k.Fits(input));
        PreparedSpar spar = at >= 0 ? _known[at] : new PreparedSpar(input);
        if (at >= 0)
        {
            _known.RemoveAt(at);
        }

        _known.Insert(0, spar);
        if (_known.Count > Remembered)
        {
            _known.RemoveAt(Remembered);
        }

        return spar;
    }
}
