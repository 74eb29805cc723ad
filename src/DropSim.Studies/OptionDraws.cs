using DropSim.Model;
using DropSim.Studies.Draws;
using DropSim.Studies.Uncertainty;

namespace DropSim.Studies;

/// <summary>
/// The drops of options. An input has the same coordinate of the same point in every setting, so that draw k means the same luck for all of
/// them, and two settings differ by what was chosen.
/// </summary>
internal sealed class OptionDraws
{
    private readonly OptionsPlan _plan;
    private readonly SamplePlan _points;
    private readonly Dictionary<string, int> _dimensions = [];
    private readonly SparsOfDraws _spars;

    /// <summary>Makes the draws of some settings.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="plan">How.</param>
    public OptionDraws(IReadOnlyList<OptionSetting> settings, OptionsPlan plan)
    {
        _plan = plan;
        foreach (var name in settings.SelectMany(s => s.Uncertain).Select(Name))
        {
            _dimensions.TryAdd(name, _dimensions.Count);
        }

        _points = SamplePlan.Create(SamplingMethod.Sobol, Math.Max(1, _dimensions.Count), plan.Draws, plan.Seed);
        _spars = new SparsOfDraws(plan.Draws);
    }

    /// <summary>The drop of a setting in one draw.</summary>
    /// <param name="setting">One of the settings.</param>
    /// <param name="draw">Number of the draw, from 0.</param>
    public DropInput Input(OptionSetting setting, int draw)
    {
        var points = new DropPoints(setting.Case.Input, setting.Uncertain);
        return points.Input(points.Point(i => _points.At(draw, _dimensions[Name(setting.Uncertain[i])])));
    }

    /// <summary>Computes one draw of a setting.</summary>
    /// <param name="setting">One of the settings.</param>
    /// <param name="draw">Number of the draw, from 0.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    /// <returns>The run; null where it could not be computed.</returns>
    public DropRun? Run(OptionSetting setting, int draw, CancellationToken cancellation)
    {
        var input = Input(setting, draw);
        input = input with { Computation = input.Computation with { RelativeTolerance = _plan.Tolerance } };
        return DropOutcome.Of(input, new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = _spars.Of(input, draw) }, cancellation).Run;
    }

    /// <summary>Computes a draw again at a tenth of the scenario's own tolerance.</summary>
    /// <param name="setting">One of the settings.</param>
    /// <param name="draw">Number of the draw, from 0.</param>
    /// <param name="cancellation">Cancels between steps.</param>
    public DropRun? Repeat(OptionSetting setting, int draw, CancellationToken cancellation) =>
        DropOutcome.Of(Input(setting, draw), new RunOptions { Detail = RunDetail.MeasuresOnly, ToleranceFactor = VaryStudy.CheckFactor }, cancellation).Run;

    /// <summary>What makes two inputs of two settings the same thing.</summary>
    private static string Name(UncertainInput input) => input.Key.Length > 0 ? input.Key : input.Range.Name;
}
