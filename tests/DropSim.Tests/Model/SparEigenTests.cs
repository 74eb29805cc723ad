using CsCheck;
using DropSim.Model;
using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Tests.Model;

/// <summary>The banded eigenproblem against a dense one of the library.</summary>
public sealed class SparEigenTests
{
    private const int HalfBand = 3;

    /// <summary>A banded positive definite matrix: a random lower band with a strong diagonal, times its transpose.</summary>
    private static Gen<double[,]> Banded(int size) => Gen.Double[-1, 1].Array[size * (HalfBand + 1)].Select(numbers =>
    {
        var lower = Matrix<double>.Build.Dense(size, size, (i, j) => i == j ? 2 + numbers[i * (HalfBand + 1)] : i > j && i - j <= HalfBand ? numbers[(i * (HalfBand + 1)) + i - j] : 0);
        return (lower * lower.Transpose()).ToArray();
    });

    [Theory]
    [InlineData(4, 3)]
    [InlineData(8, 3)]
    [InlineData(9, 3)]
    [InlineData(40, 1)]
    [InlineData(40, 4)]
    public void The_largest_pairs_are_those_of_the_dense_problem(int size, int count) => Gen.Select(Banded(size), Banded(size)).Sample((stiffness, other) =>
    {
        var pairs = SparEigen.Factor(stiffness)!.Largest(other, count);
        var (k, b) = (Matrix<double>.Build.DenseOfArray(stiffness), Matrix<double>.Build.DenseOfArray(other));

        // K^-1/2 B K^-1/2 has the eigenvalues of B v = mu K v.
        var evd = k.Evd(Symmetricity.Symmetric);
        var root = evd.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(evd.EigenValues.Map(e => 1 / Math.Sqrt(e.Real))) * evd.EigenVectors.Transpose();
        var values = (root * b * root).Evd(Symmetricity.Symmetric).EigenValues.Select(e => e.Real).OrderDescending().ToArray();
        pairs.Should().HaveCount(Math.Min(count, size));
        for (var i = 0; i < pairs.Length; i++)
        {
            pairs[i].Mu.Should().BeApproximately(values[i], 1e-9 * values[0]);
            var v = Vector<double>.Build.DenseOfArray(pairs[i].Vector);
            v.DotProduct(k * v).Should().BeApproximately(1, 1e-9);
            ((b * v) - (pairs[i].Mu * (k * v))).InfinityNorm().Should().BeLessThan(1e-7 * values[0] * k.InfinityNorm() * v.InfinityNorm());
        }
    }, iter: 20, threads: 1);

    [Fact]
    public void A_flexibility_is_the_components_own_displacement_under_a_unit_force() => Gen.Select(Banded(12), Gen.Int[0, 11]).Sample((stiffness, index) =>
    {
        var inverse = Matrix<double>.Build.DenseOfArray(stiffness).Inverse();
        SparEigen.Factor(stiffness)!.Flexibility(index).Should().BeApproximately(inverse[index, index], 1e-9 * inverse[index, index]);
    }, iter: 50, threads: 1);

    [Fact]
    public void What_is_not_positive_definite_is_not_factored()
    {
        SparEigen.Factor(new double[,] { { 1, 0, 0, 0 }, { 0, 1, 0, 0 }, { 0, 0, 1, 0 }, { 0, 0, 0, 0 } }).Should().BeNull("it is singular");
        SparEigen.Factor(new double[,] { { 1, 2, 0, 0 }, { 2, 1, 0, 0 }, { 0, 0, 1, 0 }, { 0, 0, 0, 1 } }).Should().BeNull("1 - 4 is negative");
        SparEigen.Factor(new double[,] { { double.NaN, 0 }, { 0, 1 } }).Should().BeNull();
    }
}
