using DropSim.Model;
using DropSim.Reporting.Charts;
using DropSim.Studies;

namespace DropSim.Reporting;

/// <summary>What the spar's movement in one drop is beside that in another.</summary>
/// <param name="Head">The finding, one sentence; "" where nothing can be told.</param>
/// <param name="Rest">Why, or what goes with it; may be empty.</param>
/// <param name="Alike">True where both move about the same.</param>
internal sealed record MovementFinding(string Head, string Rest, bool Alike)
{
    /// <summary>Nothing can be told.</summary>
    public static MovementFinding None { get; } = new("", "", false);

    /// <summary>All of it.</summary>
    public string Text => Rest.Length == 0 ? Head : $"{Head} {Rest}";
}

/// <summary>
/// How much more or less the spar moves in one of two drops, and why, in two or three sentences for somebody who has not seen such numbers before.
/// Why is said only where the two runs bear it out: energy that friction took while rope ran is energy that nothing else had to take, and
/// a piece stopped over a shorter way is stopped harder.
/// </summary>
internal static class MovementText
{
    /// <summary>A difference smaller than this part of the larger value, or of the energy that fell, counts as none.</summary>
    private const double Noticeable = 0.05;

    /// <summary>The sentences, for two cases of one scenario.</summary>
    /// <param name="a">The case looked at.</param>
    /// <param name="b">The case it is held against.</param>
    /// <param name="units">Units of the text.</param>
    public static MovementFinding Between(CaseResult a, CaseResult b, UnitSystem units) => Between(a, b, ComparisonText.Name(a, b), ComparisonText.Name(b, a), units);

    /// <summary>The sentences, for drops with names of their own.</summary>
    /// <param name="a">The drop looked at.</param>
    /// <param name="b">The drop it is held against.</param>
    /// <param name="nameA">What the first is called.</param>
    /// <param name="nameB">What the second is called.</param>
    /// <param name="units">Units of the text.</param>
    public static MovementFinding Between(CaseResult a, CaseResult b, string nameA, string nameB, UnitSystem units)
    {
        var (x, y) = (a.Run[MeasureIds.ClimberMovement], b.Run[MeasureIds.ClimberMovement]);
        if (!double.IsFinite(x.Value) || !double.IsFinite(y.Value))
        {
            return MovementFinding.None;
        }

        // First what is worse than any shaking: less movement of a drop that nobody caught is nothing gained.
        string[] uncaught = [.. new[] { Uncaught(a.Run.End, nameA, units), Uncaught(b.Run.End, nameB, units) }.OfType<string>()];
        if (uncaught.Length > 0)
        {
            var found = DropComparison.Of(a.Run, b.Run);
            string[] rest =
            [
                .. uncaught.Skip(1),
                found.BothLand ? EndComparisonText.Landings(found, nameA, nameB, units) : "",
                $"By then the spar at the climber's feet has moved {Format.Value(x, units)} ({nameA}) and {Format.Value(y, units)} ({nameB}). Less movement of a drop that was not caught is nothing gained.",
            ];
            return new(uncaught[0], string.Join(" ", rest.Where(r => r.Length > 0)), false);
        }

        var moves = $"The spar at the climber's feet moves {Format.Value(x, units)} ({nameA}) instead of {Format.Value(y, units)} ({nameB})";
        if (x.State != MeasureState.Exact || y.State != MeasureState.Exact)
        {
            return new(moves + ".", "", false);
        }

        if (Alike(x.Value, y.Value))
        {
            var idle = a.Run.Input.Catch.Kind == CatchKind.HardStop && b.Run.Input.Catch.Kind == CatchKind.HardStop && a.Run.Input.Device.Wraps != b.Run.Input.Device.Wraps;
            return new($"{moves}: about the same.", idle ? "Locked off, no rope runs: turns on the device change little." : "", true);
        }

        var less = x.Value < y.Value;
        var ratio = Math.Max(x.Value, y.Value) / Math.Min(x.Value, y.Value);
        var times = double.IsFinite(ratio) ? $", {Format.Number(ratio)} times {(less ? "less" : "more")}" : "";
        var (runX, runY) = (a.Run[MeasureIds.RopeRun], b.Run[MeasureIds.RopeRun]);
        var (tookX, tookY) = (Friction(a.Run), Friction(b.Run));
        string[] differs =
        [
            Alike(runX.Value, runY.Value) ? "" : $"rope run {Format.Value(runX, units)} instead of {Format.Value(runY, units)}",
            Math.Abs(tookX - tookY) <= Noticeable ? "" : $"rope friction took {Format.Percent(tookX)} of the energy that fell instead of {Format.Percent(tookY)}",
        ];
        var told = Wording.Capital(string.Join("; ", differs.Where(d => d.Length > 0)));
        return new($"{moves}{times}{Harder(a.Run, b.Run, less, units)}.", (told.Length > 0 ? $"{told}. " : "")
            + (Way(less, runX.Value, runY.Value, tookX - tookY) ?? Fallen(less, a.Run.Ledger.Fallen, b.Run.Ledger.Fallen, units) ?? Taken(less, tookX - tookY) ?? Open(AfterStrike(a.Run, x) || AfterStrike(b.Run, y)))
            + Lighter(a.Run, b.Run), false);
    }

    private static bool Alike(double x, double y) => Math.Abs(x - y) <= Noticeable * Math.Max(x, y);

    /// <summary>How a drop ended that was not caught, or not over; null for one that hangs.</summary>
    private static string? Uncaught(RunEnd end, string name, UnitSystem units) =>
        Format.Unfinished(end) is { } word ? $"{word} ({name}): {Format.Ending(end, units)}." : null;

    /// <summary>Share of the energy that fell which friction of the rope took at device, hand and rigging point.</summary>
    private static double Friction(DropRun run) =>
        run.Ledger.Places.Where(p => p.Column is "lost_device_J" or "lost_rigging_point_J").Sum(p => p.Energy) / run.Ledger.Fallen;

    /// <summary>Less movement may be paid for with force: then that is said in the same breath.</summary>
    private static string Harder(DropRun a, DropRun b, bool less, UnitSystem units)
    {
        var (x, y) = (a[MeasureIds.RiggingPointForce], b[MeasureIds.RiggingPointForce]);
        return less && x.Value > y.Value * (1 + Noticeable) ? $", but the force on the rigging point is {Format.Value(x, units)} instead of {Format.Value(y, units)}" : "";
    }

    private static bool AfterStrike(DropRun run, Measure largest) => run.Strikes.Count > 0 && largest.Time > run.Strikes[0].Time;

    /// <summary>
    /// The surprise of a first lesson: a lighter piece on the same wraps, let run, is stopped sooner, because what device and hand hold does not
    /// depend on the piece. Said only where the runs show it.
    /// </summary>
    private static string Lighter(DropRun a, DropRun b)
    {
        var (massA, massB) = (a.Input.Piece.Mass, b.Input.Piece.Mass);
        var (runA, runB) = (a[MeasureIds.RopeRun].Value, b[MeasureIds.RopeRun].Value);
        var same = a.Input.Device.Wraps == b.Input.Device.Wraps && a.Input.Catch.Kind == CatchKind.LetRun && b.Input.Catch.Kind == CatchKind.LetRun;
        if (!same || Alike(massA, massB) || Alike(runA, runB) || massA < massB != runA < runB)
        {
            return "";
        }

        return massA < massB ? " The same wraps and hand stop a lighter piece sooner." : " The same wraps and hand let a heavier piece run further.";
    }

    /// <summary>Why, where it is what friction took, or the way over which the piece was stopped; null where the runs do not bear that out.</summary>
    private static string? Way(bool less, double runX, double runY, double tookMore)
    {
        if (Alike(runX, runY) || less != runX > runY)
        {
            return null;
        }

        if (Math.Abs(tookMore) > Noticeable && less == tookMore > 0)
        {
            return less ? "What friction takes while rope runs, the spar need not take." : "What friction does not take, rope and spar must take.";
        }

        return less ? "More rope ran: the piece was stopped over a longer way." : "Less rope ran: the piece was stopped over a shorter way.";
    }

    /// <summary>Why, where less or more energy fell; null otherwise.</summary>
    private static string? Fallen(bool less, double fallenX, double fallenY, UnitSystem units) =>
        Alike(fallenX, fallenY) || less != fallenX < fallenY ? null
            : $"{(less ? "Less" : "More")} energy fell, {Format.Quantity(fallenX, "J", units)} instead of {Format.Quantity(fallenY, "J", units)}: there was {(less ? "less" : "more")} to stop.";

    /// <summary>Why, where no more rope ran and yet friction took more or less: over a ring instead of a block, say. Null otherwise.</summary>
    private static string? Taken(bool less, double tookMore) =>
        Math.Abs(tookMore) <= Noticeable || less != tookMore > 0 ? null
            : less ? "What friction takes, rope and spar need not take." : "What friction does not take, rope and spar must take.";

    /// <summary>What is left to say where neither explains it: after a strike small things decide.</summary>
    private static string Open(bool struck) =>
        struck ? "Friction and rope run do not explain the difference: the piece struck the spar before, and how it strikes turns on small things. A small change may go either way."
            : "Friction and rope run do not explain the difference: look at the curves.";
}
