using DropSim.Studies.Draws;

namespace DropSim.Session;

/// <summary>What draws of a case depend on: the text it stands in, its place there, and where its inputs lie in a draw.</summary>
/// <param name="Hash">Hash of the text.</param>
/// <param name="Index">Index of the case.</param>
/// <param name="Seed">Seed of the draws.</param>
/// <param name="Coordinates">Coordinate of each uncertain input.</param>
internal sealed record DrawKey(string Hash, int Index, int Seed, string Coordinates);

/// <summary>Draws that were computed before: a person goes back and forth between set-ups and units.</summary>
internal sealed class DrawCache
{
    /// <summary>Cases remembered: those of a large scenario, before and after a change.</summary>
    private const int Remembered = 48;

    private readonly List<(DrawKey Key, IReadOnlyList<DrawnDrop> Drops, IReadOnlyList<StressCase> Stress)> _known = [];

    /// <summary>Drops and stress cases of a case; none where it was not drawn.</summary>
    public (IReadOnlyList<DrawnDrop> Drops, IReadOnlyList<StressCase> Stress) this[DrawKey key] =>
        _known.FindIndex(k => k.Key == key) is var at and >= 0 ? (_known[at].Drops, _known[at].Stress) : ([], []);

    /// <summary>Remembers a case.</summary>
    public void Add(DrawKey key, IReadOnlyList<DrawnDrop> drops, IReadOnlyList<StressCase> stress)
    {
        _known.RemoveAll(k => k.Key == key);
        _known.Insert(0, (key, drops, stress));
        if (_known.Count > Remembered)
        {
            _known.RemoveAt(Remembered);
        }
    }
}
