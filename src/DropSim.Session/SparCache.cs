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

    private readonly List<(DropInput Input, PreparedSpar Spar)> _known = [];

    /// <summary>The drop, with a spar that equals one known before replaced by that very one.</summary>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public DropInput Shared(DropInput input)
    {
        DropInput known = Entry(input).Input;
        return input with { Spar = known.Spar, Computation = known.Computation };
    }

    /// <summary>The modes of the drop's spar.</summary>
    public PreparedSpar For(DropInput input) => Entry(input).Spar;

    private (DropInput Input, PreparedSpar Spar) Entry(DropInput input)
    {
        int at = _known.FindIndex(k => Same(k.Input, input));
        (DropInput, PreparedSpar) entry = at >= 0 ? _known[at] : (input, new PreparedSpar(input));
        if (at >= 0)
        {
            _known.RemoveAt(at);
        }

        _known.Insert(0, entry);
        if (_known.Count > Remembered)
        {
            _known.RemoveAt(Remembered);
        }

        return entry;
    }

    private static bool Same(DropInput a, DropInput b) =>
        a.Spar.Diameters.SequenceEqual(b.Spar.Diameters) && a.Spar == (b.Spar with { Diameters = a.Spar.Diameters }) && a.Computation == b.Computation;
}
