using MathNet.Numerics;
using MathNet.Numerics.Random;

namespace DropSim.Studies.Uncertainty;

/// <summary>How the points are spread.</summary>
public enum SamplingMethod
{
    /// <summary>Scrambled Sobol sequence.</summary>
    Sobol,

    /// <summary>Latin hypercube.</summary>
    LatinHypercube,
}

/// <summary>Points inside the unit cube, the same for the same seed.</summary>
internal sealed class SamplePlan
{
    private readonly SobolSequence? _sobol;
    private readonly double[][]? _columns;

    private SamplePlan(SobolSequence? sobol, double[][]? columns) => (_sobol, _columns) = (sobol, columns);

    /// <summary>Makes a plan.</summary>
    /// <param name="method">How the points are spread.</param>
    /// <param name="dimensions">Dimensions; 1 to 64.</param>
    /// <param name="count">Number of points.</param>
    /// <param name="seed">Seed.</param>
    public static SamplePlan Create(SamplingMethod method, int dimensions, int count, int seed) => method == SamplingMethod.Sobol
        ? new(new SobolSequence(dimensions, seed), null)
        : new(null, LatinHypercube(dimensions, count, seed));

    /// <summary>One coordinate of one point, inside 0 to 1.</summary>
    /// <param name="index">Number of the point.</param>
    /// <param name="dimension">Dimension.</param>
    public double At(int index, int dimension) => _sobol?.At(index, dimension) ?? _columns![dimension][index];

    /// <summary>Each of n equal intervals of each coordinate holds one point, at a random place in it (M.D. McKay, R.J. Beckman, W.J. Conover, Technometrics 21 (1979) 239-245; by name).</summary>
    private static double[][] LatinHypercube(int dimensions, int count, int seed)
    {
        var random = new MersenneTwister(seed, false);
        var columns = new double[dimensions][];
        for (var d = 0; d < dimensions; d++)
        {
            var order = Combinatorics.GeneratePermutation(count, random);
            columns[d] = [.. order.Select(k => (k + Inside(random)) / count)];
        }

        return columns;
    }

    /// <summary>A random number that is neither 0 nor 1.</summary>
    private static double Inside(MersenneTwister random) => ((uint)random.NextFullRangeInt32() + 0.5) / 4294967296.0;
}
