using DropSim.Model;

namespace DropSim.Studies;

/// <summary>How far the measures move, and which events come or go, when a run is repeated with a tenth of the tolerance.</summary>
/// <param name="How">In words.</param>
/// <param name="SameEvents">True where no event worth a word is in one run only (see <see cref="OneSidedEvent.IsSlight"/>), in the same order.</param>
/// <param name="Moved">Relative change of each measure.</param>
public sealed record Verification(string How, bool SameEvents, IReadOnlyList<MovedMeasure> Moved)
{
    /// <summary>Every event that is in one of the two runs only, the slight ones too, in order of time.</summary>
    public IReadOnlyList<OneSidedEvent> OnlyInOne { get; init; } = [];

    /// <summary>Repeats a run at a tenth of its tolerance.</summary>
    /// <param name="run">The run.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    public static Verification Of(DropRun run, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(run);
        var tight = DropSimulator.Run(run.Input, new RunOptions { ToleranceFactor = 0.1 }, cancellation);
        var moved = run.Measures
            .Select(m => new MovedMeasure(m.Id, Relative(m.Value, tight[m.Id].Value)))
            .ToArray();
        var single = EventComparison.OnlyInOne(run.Events, tight.Events, run.Ledger.Fallen);
        return new("repeated at a tenth of the tolerance", single.All(e => e.IsSlight), moved) { OnlyInOne = single };
    }

    private static double Relative(double a, double b) => a.Equals(b) ? 0 : Math.Abs(a - b) / Math.Abs(b);
}

/// <summary>One measure's relative change.</summary>
/// <param name="Id">Id of the measure.</param>
/// <param name="Relative">|change| / |value|; not a number where it has no value.</param>
public sealed record MovedMeasure(string Id, double Relative);

/// <summary>An event that one of two runs has and the other has not.</summary>
/// <param name="Event">The event.</param>
/// <param name="InTighterRun">True where the run with the smaller tolerance has it.</param>
/// <param name="Share">Its energy as a share of the energy that fell; not a number where it has none of its own.</param>
public sealed record OneSidedEvent(RunEvent Event, bool InTighterRun, double Share)
{
    /// <summary>
    /// Less of the energy that fell than this is slight: as much as the energy books of a run may be open (docs/theory/ledger.md). A
    /// piece that hangs on a swaying spar touches it, and rope on a ring creeps, more and more gently without end; whether the last of
    /// these happens, no tolerance settles, and no run claims to know so little energy.
    /// </summary>
    public const double SlightShare = 1e-4;

    /// <summary>True where it carries so little energy that its coming or going says nothing. An event without an energy of its own is never slight.</summary>
    public bool IsSlight => Share < SlightShare;
}
