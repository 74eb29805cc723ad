using DropSim.Integration;

namespace DropSim.Model;

/// <summary>
/// Measures that need the path of the catch: the least possible force with the travel that was used, and the planning form.
/// Identity (docs/theory/measures.md): between first taut and the moment the load leg stops growing, the mean of T1 over its
/// path is (work on the piece less its gain of energy) over that path, so the largest T1 is never below it.
/// </summary>
internal sealed class PathMeasures(
    DropInput input, DropSystem system, DropRecorder recorder, Trajectory trajectory, double zero, RunEnd end)
{
    /// <summary>Sampling of the path, s: 2e-4 resolves a catch of some hundredths of a second.</summary>
    private const double Sampling = 2e-4;

    /// <summary>Longest window that is looked at, s.</summary>
    private const double LongestWindow = 4;

    public void AddTo(MeasureAdder add)
    {
        var weight = input.Piece.Mass * input.Computation.Gravity;
        if (double.IsNaN(recorder.FirstTaut) || recorder.FirstTaut >= trajectory.EndTime)
        {
            add(MeasureIds.LeastPossible, "Least possible peak of the load leg with this travel", "N", double.NaN, null, MeasureState.NotReached, Worse.Neither, "the load leg never came taut");
            add(MeasureIds.PlanningForce, "Planning form m g (1 + h/s)", "N", double.NaN, null, MeasureState.NotReached, Worse.Neither, "the load leg never came taut");
            return;
        }

        var y = new double[system.StateCount];
        double path = 0, pull = 0, previousPath = 0, previousPull = 0;
        var stretch = 0;
        var time = recorder.FirstTaut;
        var last = Math.Min(trajectory.EndTime, time + LongestWindow);
        var stopped = false;
        double startZ = double.NaN, stopZ = double.NaN;
        while (time <= last)
        {
            while (stretch + 1 < recorder.Stretches.Count && recorder.Stretches[stretch + 1].From <= time)
            {
                stretch++;
            }

            system.Phase = recorder.Stretches[stretch].Phase;
            trajectory.At(time, y);
            Instant at = default;
            system.Solve(time, y, ref at, []);
            var hitchSpeed = (at.U1X * at.HitchVx) + (at.U1Z * at.HitchVz);
            var positive = Math.Max(0, hitchSpeed);
            if (double.IsNaN(startZ))
            {
                startZ = y[StateLayout.PieceZ];
            }
            else
            {
                path += (previousPath + positive) * Sampling / 2;
                pull += (previousPull + (at.Flow.T1 * hitchSpeed)) * Sampling / 2;
            }

            previousPath = positive;
            previousPull = at.Flow.T1 * hitchSpeed;
            stopZ = y[StateLayout.PieceZ];
            if (at.D1Rate < 0 && path > 0)
            {
                stopped = true;
                break;
            }

            time += Sampling;
        }

        var state = stopped ? MeasureState.Exact : end.CutsShort ? MeasureState.AtLeast : MeasureState.NotReached;
        var least = path > 0 ? Math.Max(0, pull / path) : double.NaN;
        add(MeasureIds.LeastPossible, "Least possible peak of the load leg with this travel", "N", least, null, double.IsNaN(least) ? MeasureState.NotReached : state, Worse.Neither,
            "mean of the load leg's tension over its path from first taut until the leg stops growing");

        var drop = recorder.Heights.Start - recorder.Heights.Taut;
        var travel = startZ - stopZ;
        var planning = travel > 0 ? weight * (1 + (drop / travel)) : double.NaN;
        add(MeasureIds.PlanningForce, "Planning form m g (1 + h/s)", "N", planning, time - zero, double.IsNaN(planning) ? MeasureState.NotReached : state, Worse.Neither,
            FormattableString.Invariant($"h = {drop:0.00} m drop of the centre of gravity before taut, s = {travel:0.00} m of stopping travel"));
    }
}
