using DropSim.Model;

namespace DropSim.Studies;

/// <summary>One draw of a setting, as much as is kept of it.</summary>
/// <param name="Draw">Number of the draw.</param>
/// <param name="Broken">Keys of the limits that it broke, and "caught" where the piece was not.</param>
/// <param name="Used">How far it went toward the limit that it came nearest to, or past it: 1 at the limit; infinite where the piece was not caught.</param>
/// <param name="Values">What is told of it, in the order of <see cref="OptionsStudy.MeasureIdsTold"/>, the worse the larger; infinite where the piece was not caught.</param>
internal sealed record OptionDrop(int Draw, IReadOnlyList<string> Broken, double Used, IReadOnlyList<double> Values);

/// <summary>Counts the draws of one setting and knows when they can no longer change what is said of it.</summary>
internal sealed class OptionTally
{
    /// <summary>Which of the measures told are worse where they are smaller.</summary>
    private static readonly int[] Signs = [.. OptionsStudy.MeasureIdsTold.Select(id => id == MeasureIds.Room ? -1 : 1)];

    private readonly OptionSetting _setting;
    private readonly int _asked;
    private readonly IReadOnlyList<CrewLimit> _limits;
    private readonly List<OptionDrop> _drops;
    private readonly Dictionary<string, int> _outside;
    private readonly Dictionary<string, int> _insideWithout;
    private int _inside;

    /// <summary>Begins to count.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="asked">Draws asked for.</param>
    public OptionTally(OptionSetting setting, int asked)
    {
        _setting = setting;
        _asked = asked;
        _limits = CrewLimit.For(setting.Case);
        _drops = new(asked);
        _outside = _limits.Select(l => l.Key).Append(OptionsStudy.Caught).ToDictionary(k => k, _ => 0);
        _insideWithout = _limits.ToDictionary(l => l.Key, _ => 0);
    }

    /// <summary>The draws so far, in the order in which they were computed.</summary>
    public IReadOnlyList<OptionDrop> Drops => _drops;

    private int Left => _asked - _drops.Count;

    /// <summary>True where the setting is not listed, whatever the draws that are left would bring.</summary>
    public bool IsOut => _inside + Left < OptionsStudy.Needed(_asked);

    /// <summary>True where it would not be listed even if any one limit were dropped, whatever the draws that are left would bring.</summary>
    public bool IsOutWithoutAnyOne => _insideWithout.Values.Append(_inside).Max() + Left < OptionsStudy.Needed(_asked);

    /// <summary>Counts a draw; one that could not be computed counts as not caught.</summary>
    /// <param name="draw">Its number.</param>
    /// <param name="run">The run; null where there is none.</param>
    public void Add(int draw, DropRun? run)
    {
        var drop = Read(draw, run);
        _drops.Add(drop);
        foreach (var key in drop.Broken)
        {
            _outside[key]++;
        }

        _inside += drop.Broken.Count == 0 ? 1 : 0;
        foreach (var limit in _limits.Where(l => drop.Broken.All(b => b == l.Key)))
        {
            _insideWithout[limit.Key]++;
        }
    }

    /// <summary>What is kept of a run.</summary>
    /// <param name="draw">Number of the draw.</param>
    /// <param name="run">The run; null where there is none.</param>
    public OptionDrop Read(int draw, DropRun? run)
    {
        var caught = run is not null && !run.End.CutsShort;
        List<string> broken = caught ? [] : [OptionsStudy.Caught];
        broken.AddRange(_limits.Where(l => run is not null && l.Holds(run) == false).Select(l => l.Key));
        var used = caught ? _limits.Select(l => l.Used(run!)).DefaultIfEmpty(0).Max() : double.PositiveInfinity;
        return new(draw, broken, used, [.. OptionsStudy.MeasureIdsTold.Select((id, m) =>
            caught && run!.Measures.FirstOrDefault(x => x.Id == id) is { Value: not double.NaN } measure ? Signs[m] * measure.Value : double.PositiveInfinity)]);
    }

    /// <summary>What came of the draws so far.</summary>
    public OptionOutcome Outcome() => new(
        _setting, _asked, _drops.Count, _inside, new Dictionary<string, int>(_outside), new Dictionary<string, int>(_insideWithout),
        OptionsStudy.MeasureIdsTold.Select((id, m) => (id, Measure: Drawn(m))).ToDictionary(x => x.id, x => x.Measure));

    /// <summary>Median and the value that the needed share of the draws does not pass, by nearest rank. A drop that was not caught is worse than any number.</summary>
    private DrawnMeasure Drawn(int measure)
    {
        if (_drops.Count == 0)
        {
            return new(double.NaN, double.NaN);
        }

        double[] values = [.. _drops.Select(d => d.Values[measure]).Order()];
        return new(Signs[measure] * values[(values.Length - 1) / 2], Signs[measure] * values[OptionsStudy.Needed(values.Length) - 1]);
    }
}
