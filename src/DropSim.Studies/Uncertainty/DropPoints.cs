using DropSim.Model;

namespace DropSim.Studies.Uncertainty;

/// <summary>From a point of the unit cube to a drop: every study that draws takes its values here.</summary>
/// <param name="central">The drop with its central values.</param>
/// <param name="inputs">The uncertain inputs.</param>
internal sealed class DropPoints(DropInput central, IReadOnlyList<UncertainInput> inputs)
{
    /// <summary>Values of the inputs at a point, SI.</summary>
    /// <param name="share">Coordinate of each input, 0 to 1.</param>
    public double[] Point(Func<int, double> share) => [.. inputs.Select((input, i) => Distributions.Quantile(input.Distribution, share(i)))];

    /// <summary>The central values, SI.</summary>
    public double[] CentralPoint() => [.. inputs.Select(i => i.Range.Central)];

    /// <summary>The drop at a point.</summary>
    /// <param name="point">Value of each input, SI.</param>
    public DropInput Input(double[] point)
    {
        var input = central;
        for (var i = 0; i < point.Length; i++)
        {
            if (point[i] != inputs[i].Range.Central)
            {
                input = inputs[i].Range.Apply(input, point[i]);
            }
        }

        return input;
    }
}
