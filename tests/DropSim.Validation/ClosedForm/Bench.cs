using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>A drop whose laws, guards and events are integrated by the engine from a state set by hand, off its hinge.</summary>
internal sealed class Bench
{
    private readonly Trajectory _trajectory = new();
    private readonly DropRecorder _recorder;
    private readonly double[] _state;

    /// <summary>Integrates.</summary>
    /// <param name="input">The drop.</param>
    /// <param name="set">Changes the initial state of the drop to the one wanted.</param>
    /// <param name="endTime">When to stop, s.</param>
    /// <param name="hinged">True to leave the piece on its hinge.</param>
    /// <param name="tolerance">Relative tolerance.</param>
    public Bench(DropInput input, Action<DropSystem, double[]> set, double endTime, bool hinged = false, double tolerance = 1e-10)
    {
        System = SystemOf(input);
        Gravity = input.Computation.Gravity;
        _state = Begin(System, set, hinged);
        _recorder = new DropRecorder(System, input.Piece.Mass * input.Computation.Gravity, _trajectory, WatchedChannels.All);
        Outcome = new Integrator(System, new IntegrationOptions { RelativeTolerance = tolerance, LargestStep = 0.02 })
            .Run(0, endTime, _state, _recorder);
        _recorder.Finish(_state);
    }

    public DropSystem System { get; }

    /// <summary>m/s2.</summary>
    public double Gravity { get; }

    public RunOutcome Outcome { get; }

    /// <summary>State at the end.</summary>
    public ReadOnlySpan<double> End => _state;

    /// <summary>Largest value of each channel.</summary>
    public double Largest(int channel) => _recorder.Extremes.Largest[channel];

    public IReadOnlyList<Strike> Strikes => _recorder.Strikes;

    /// <summary>Largest imbalance of the books, J.</summary>
    public double Imbalance => _recorder.LargestImbalance;

    /// <summary>State at a time.</summary>
    public double[] At(double time)
    {
        var y = new double[System.StateCount];
        _trajectory.At(time, y);
        return y;
    }

    /// <summary>Everything at a time, with the phase that held then.</summary>
    public Instant See(double time)
    {
        var y = At(time);
        System.Phase = _recorder.Stretches[Math.Max(0, _recorder.Stretches.FindLastIndex(s => s.From <= time))].Phase;
        Instant at = default;
        System.Solve(time, y, ref at, []);
        return at;
    }

    /// <summary>First time at which a place of contact begins to press, and the time at which it ends.</summary>
    public (double From, double To) Touches(int place)
    {
        var first = _recorder.Stretches.FindIndex(s => s.Phase.Contacts[place] == ContactState.Pressing);
        var after = _recorder.Stretches.FindIndex(first, s => s.Phase.Contacts[place] != ContactState.Pressing);
        return (_recorder.Stretches[first].From, _recorder.Stretches[after].From);
    }

    /// <summary>Times at which a quantity passes zero upward, located on the dense solution.</summary>
    public IReadOnlyList<double> Rises(Func<double[], double> quantity)
    {
        List<double> found = [];
        for (var step = 0; step < _trajectory.StepCount; step++)
        {
            var (from, to) = (_trajectory.StepStart(step), _trajectory.StepEnd(step));
            if (quantity(At(from)) < 0 && quantity(At(to)) >= 0)
            {
                found.Add(Bisection.Root(t => quantity(At(t)), from, to));
            }
        }

        return found;
    }

    /// <summary>The system of a drop, not begun.</summary>
    public static DropSystem SystemOf(DropInput drop) => new(
        drop, new ModalSpar(drop.Spar, drop.Computation.Modes, drop.Computation.Elements, drop.Computation.Gravity));

    /// <summary>What holds at the start in a state set by hand.</summary>
    public static Instant Solve(DropSystem system, Action<DropSystem, double[]> set, bool hinged = false)
    {
        var y = Begin(system, set, hinged);
        Instant at = default;
        system.Solve(0, y, ref at, []);
        return at;
    }

    private static double[] Begin(DropSystem system, Action<DropSystem, double[]> set, bool hinged)
    {
        var y = system.InitialState();
        set(system, y);
        system.Phase.Hinged = hinged;
        system.Begin(0, y);
        return y;
    }
}

/// <summary>Roots by halving: slow, and without assumptions.</summary>
internal static class Bisection
{
    public static double Root(Func<double, double> function, double from, double to)
    {
        var rising = function(to) > 0;
        for (var i = 0; i < 200; i++)
        {
            var middle = (from + to) / 2;
            (from, to) = function(middle) > 0 == rising ? (from, middle) : (middle, to);
        }

        return (from + to) / 2;
    }
}
