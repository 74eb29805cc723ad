namespace DropSim.Model;

/// <summary>A spar's modes, kept for the many runs of a study that do not change the spar. Safe for use from several threads.</summary>
internal sealed class PreparedSpar
{
    private readonly DropInput _made;
    private readonly ModalSpar _spar;

    /// <summary>Solves for the modes of a drop's spar.</summary>
    /// <param name="input">The drop.</param>
    /// <exception cref="UnstableSparException">The stem would fall by itself.</exception>
    public PreparedSpar(DropInput input)
    {
        _made = input;
        _spar = new ModalSpar(input.Spar, input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity);
    }

    /// <summary>The modes, where a drop stands on an equal spar and is computed alike; null where not.</summary>
    /// <param name="input">A drop.</param>
    public ModalSpar? For(DropInput input) => Fits(input) ? _spar : null;

    /// <summary>Whether a drop stands on an equal spar, however often it was built, whose modes are found alike; how far or how finely the drop is computed does not matter.</summary>
    /// <param name="input">A drop.</param>
    public bool Fits(DropInput input) =>
        (input.Computation.Modes, input.Computation.Elements, input.Computation.Gravity) == (_made.Computation.Modes, _made.Computation.Elements, _made.Computation.Gravity)
        && input.Spar.Diameters.SequenceEqual(_made.Spar.Diameters)
        && input.Spar with { Diameters = _made.Spar.Diameters } == _made.Spar;
}
