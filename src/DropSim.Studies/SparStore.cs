using DropSim.Model;

namespace DropSim.Studies;

/// <summary>Keeps the modes of a spar for all drops of a study that stand on the same one, however often it was built. Safe for use from several threads.</summary>
internal sealed class SparStore
{
    private readonly DropInput _made;
    private readonly PreparedSpar _spar;

    /// <summary>Solves for the modes of a drop's spar.</summary>
    /// <param name="input">The drop.</param>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public SparStore(DropInput input)
    {
        _made = input;
        _spar = new PreparedSpar(input);
    }

    /// <summary>The drop with the stored spar where it stands on an equal one, and the modes to go with it.</summary>
    /// <param name="input">A drop.</param>
    public (DropInput Input, PreparedSpar? Spar) Take(DropInput input)
    {
        var same = input.Computation == _made.Computation
            && input.Spar.Diameters.SequenceEqual(_made.Spar.Diameters)
            && input.Spar with { Diameters = _made.Spar.Diameters } == _made.Spar;
        return same ? (input with { Spar = _made.Spar, Computation = _made.Computation }, _spar) : (input, null);
    }
}
