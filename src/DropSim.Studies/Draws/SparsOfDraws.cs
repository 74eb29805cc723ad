using DropSim.Model;

namespace DropSim.Studies.Draws;

/// <summary>
/// The modes of each draw's spar. What a crew chooses leaves the stem as it is, so most cases share those of a draw; whichever thread made them
/// first, they are the same, and a drop on another spar makes its own.
/// </summary>
/// <param name="count">Number of draws.</param>
internal sealed class SparsOfDraws(int count)
{
    private readonly PreparedSpar?[] _spars = new PreparedSpar?[count];

    /// <summary>The modes for a drop of a draw; null where the stem would fall by itself, which the run then says.</summary>
    /// <param name="input">The drop.</param>
    /// <param name="draw">Number of the draw.</param>
    public PreparedSpar? Of(DropInput input, int draw)
    {
        if (Volatile.Read(ref _spars[draw]) is { } known)
        {
            return known;
        }

        try
        {
            var made = new PreparedSpar(input);
            Volatile.Write(ref _spars[draw], made);
            return made;
        }
        catch (UnstableSparException)
        {
            return null;
        }
    }
}
