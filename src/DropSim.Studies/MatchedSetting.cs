using DropSim.Model;
using MathNet.Numerics.RootFinding;

namespace DropSim.Studies;

/// <summary>What is set so that two ways of rigging become comparable.</summary>
public enum MatchBy
{
    /// <summary>The wraps on the device, in parts of a turn.</summary>
    Wraps,

    /// <summary>All forces of the hand, by one factor.</summary>
    Hand,
}

/// <summary>A setting at which a drop has a wanted value, or why there is none.</summary>
/// <param name="Setting">Wraps, or the factor on the hand's forces; not a number where there is none.</param>
/// <param name="Run">The drop there; null where there is none.</param>
/// <param name="Note">Why there is none, or what must be known about it; may be empty.</param>
public sealed record Match(double Setting, DropRun? Run, string Note);

/// <summary>
/// Finds the setting at which a drop reaches a value. The whole range of settings is looked at first, because neither rope run nor peak need
/// be monotone in it and both end where the piece is not caught; then Brent's method closes in.
/// </summary>
internal sealed class MatchedSetting
{
    /// <summary>Least and most wraps looked at; more than six turns nobody counts on a bollard (common practice, no source).</summary>
    private const double FewestWraps = 0.5;
    private const double MostWraps = 6;

    /// <summary>Step of the first look: a quarter turn, as crews set it.</summary>
    private const double QuarterTurn = 0.25;

    /// <summary>Least and largest factor on the hand's forces.</summary>
    private const double WeakestHand = 0.1;
    private const double StrongestHand = 8;
    private const int HandPoints = 23;

    /// <summary>A match this near counts, as a share of what was wanted: well below what two digits show.</summary>
    private const double NearEnough = 2e-3;

    private const double SettingAccuracy = 1e-5;
    private const int MostIterations = 60;

    private readonly DropInput _input;
    private readonly MatchBy _by;
    private readonly RunOptions _options;
    private readonly double[] _settings;
    private readonly DropOutcome?[] _look;
    private readonly Action? _progress;
    private readonly CancellationToken _cancellation;

    /// <summary>Looks at the whole range of settings.</summary>
    public MatchedSetting(DropInput input, MatchBy by, int threads, Action? progress, CancellationToken cancellation)
    {
        _input = input;
        _by = by;
        _progress = progress;
        _cancellation = cancellation;
        _options = new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(input) };
        _settings = by == MatchBy.Wraps
            ? [.. Enumerable.Range(0, (int)((MostWraps - FewestWraps) / QuarterTurn) + 1).Select(i => FewestWraps + (QuarterTurn * i))]
            : [.. Enumerable.Range(0, HandPoints).Select(i => WeakestHand * Math.Pow(StrongestHand / WeakestHand, i / (HandPoints - 1.0)))];
        var runs = StudyRuns.Compute(_settings.Length, (i, token) => DropOutcome.Of(With(input, by, _settings[i]), _options, token), threads, progress, cancellation);
        cancellation.ThrowIfCancellationRequested();
        _look = [.. Enumerable.Range(0, _settings.Length).Select(i => runs[i])];
    }

    /// <summary>The drop with another setting.</summary>
    public static DropInput With(DropInput input, MatchBy by, double setting) => by == MatchBy.Wraps
        ? input with { Device = input.Device with { Wraps = setting } }
        : input with
        {
            Catch = input.Catch with
            {
                LightForce = input.Catch.LightForce * setting,
                GripForce = input.Catch.GripForce * setting,
                Brake = [.. input.Catch.Brake.Select(p => p with { Force = p.Force * setting })],
            },
        };

    /// <summary>The setting as the drop has it.</summary>
    public static double Own(DropInput input, MatchBy by) => by == MatchBy.Wraps ? input.Device.Wraps : 1;

    /// <summary>Finds the setting nearest to the drop's own at which a measure has a value.</summary>
    public Match Find(string measure, double wanted)
    {
        double Off(DropOutcome? outcome) => outcome?.Run is { } run && run[measure].State == MeasureState.Exact ? run[measure].Value - wanted : double.NaN;
        var off = _look.Select(Off).ToArray();
        var own = Own(_input, _by);
        var between = Enumerable.Range(0, off.Length - 1)
            .Where(i => double.IsFinite(off[i]) && double.IsFinite(off[i + 1]) && (off[i] == 0 || off[i] < 0 != off[i + 1] < 0))
            .OrderBy(i => Math.Abs(((_settings[i] + _settings[i + 1]) / 2) - own)).ToArray();
        if (between.Length == 0)
        {
            return new(double.NaN, null, Nowhere(measure, off, wanted));
        }

        foreach (var i in between)
        {
            DropRun? last = null;
            double At(double setting)
            {
                var outcome = DropOutcome.Of(With(_input, _by, setting), _options, _cancellation);
                _progress?.Invoke();
                last = outcome.Run ?? last;
                return Off(outcome);
            }

            if (Brent.TryFindRoot(At, _settings[i], _settings[i + 1], SettingAccuracy, MostIterations, out var setting)
                && Math.Abs(At(setting)) <= NearEnough * Math.Abs(wanted) && last is { } found)
            {
                return new(setting, found, between.Length == 1 ? ""
                    : FormattableString.Invariant($"not the only one: {between.Length} settings between {_settings[0]:0.##} and {_settings[^1]:0.##} give it; this is the nearest to {own:0.##}"));
            }
        }

        return new(double.NaN, null, "the value jumps past what is wanted");
    }

    private string Nowhere(string measure, double[] off, double wanted)
    {
        var known = off.Where(double.IsFinite).Select(o => o + wanted).ToArray();
        var what = _by == MatchBy.Wraps ? "wraps" : "times the hand's forces";
        return known.Length == 0
            ? FormattableString.Invariant($"not caught at any setting from {_settings[0]:0.##} to {_settings[^1]:0.##} {what}")
            : FormattableString.Invariant($"not reached: from {_settings[0]:0.##} to {_settings[^1]:0.##} {what} the drops that are caught give {known.Min():0.00} to {known.Max():0.00} ({measure}, SI), wanted {wanted:0.00}");
    }
}
