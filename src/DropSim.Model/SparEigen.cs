using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DropSim.Model;

/// <summary>
/// The generalised symmetric eigenproblem B v = mu K v with K positive definite, by Cholesky reduction (docs/theory/spar.md, eq. 7).
/// Only for the banded matrices of a <see cref="SparBeam"/>.
/// </summary>
/// <remarks>
/// The stiffness is the matrix that is factored: whether it is positive is the question whether the spar stands, and the low
/// modes become the largest mu, which are found to full relative accuracy.
/// </remarks>
internal sealed class SparEigen
{
    private readonly double[,] _lower;
    private readonly int _size;

    private SparEigen(double[,] lower)
    {
        _lower = lower;
        _size = lower.GetLength(0);
    }

    /// <summary>Factors the stiffness.</summary>
    /// <param name="stiffness">Symmetric stiffness.</param>
    /// <returns>The factored problem; null where the stiffness is not positive definite.</returns>
    public static SparEigen? Factor(double[,] stiffness)
    {
        try
        {
            return new SparEigen(Matrix<double>.Build.DenseOfArray(stiffness).Cholesky().Factor.ToArray());
        }
        catch (ArgumentException)
        {
            // The library's way to say "not positive definite".
            return null;
        }
    }

    /// <summary>All mu, ascending, with vectors normalised to v.K v = 1 in columns.</summary>
    /// <param name="other">Symmetric matrix B.</param>
    public (Vector<double> Values, Matrix<double> Vectors) Solve(double[,] other)
    {
        Evd<double> evd = Matrix<double>.Build.DenseOfArray(Reduce(other)).Evd(Symmetricity.Symmetric);
        Matrix<double> vectors = evd.EigenVectors.Clone();
        BackSubstitute(vectors);
        return (evd.EigenValues.Map(value => value.Real), vectors);
    }

    /// <summary>The largest mu.</summary>
    /// <param name="other">Symmetric matrix B.</param>
    public double Largest(double[,] other) =>
        Matrix<double>.Build.DenseOfArray(Reduce(other)).Evd(Symmetricity.Symmetric).EigenValues[^1].Real;

    /// <summary>Solves K x = e for a unit vector e and returns the same component of x: a flexibility.</summary>
    /// <param name="index">Component.</param>
    public double Flexibility(int index)
    {
        // e.K^-1 e = |L^-1 e|^2
        double[,] column = new double[_size, 1];
        column[index, 0] = 1;
        ForwardSubstitute(column);
        double sum = 0;
        for (int i = 0; i < _size; i++)
        {
            sum += column[i, 0] * column[i, 0];
        }

        return sum;
    }

    /// <summary>L^-1 B L^-T.</summary>
    private double[,] Reduce(double[,] other)
    {
        double[,] work = (double[,])other.Clone();
        ForwardSubstitute(work);
        Transpose(work);
        ForwardSubstitute(work);
        for (int i = 0; i < _size; i++)
        {
            for (int j = 0; j < i; j++)
            {
                work[i, j] = work[j, i] = 0.5 * (work[i, j] + work[j, i]);
            }
        }

        return work;
    }

    private void ForwardSubstitute(double[,] right)
    {
        int columns = right.GetLength(1);
        for (int i = 0; i < _size; i++)
        {
            for (int k = Math.Max(0, i - SparBeam.HalfBand); k < i; k++)
            {
                double factor = _lower[i, k];
                for (int j = 0; j < columns; j++)
                {
                    right[i, j] -= factor * right[k, j];
                }
            }

            for (int j = 0; j < columns; j++)
            {
                right[i, j] /= _lower[i, i];
            }
        }
    }

    private void BackSubstitute(Matrix<double> vectors)
    {
        for (int column = 0; column < _size; column++)
        {
            for (int i = _size - 1; i >= 0; i--)
            {
                double sum = vectors[i, column];
                for (int k = i + 1; k < _size && k <= i + SparBeam.HalfBand; k++)
                {
                    sum -= _lower[k, i] * vectors[k, column];
                }

                vectors[i, column] = sum / _lower[i, i];
            }
        }
    }

    private void Transpose(double[,] square)
    {
        for (int i = 0; i < _size; i++)
        {
            for (int j = 0; j < i; j++)
            {
                (square[i, j], square[j, i]) = (square[j, i], square[i, j]);
            }
        }
    }
}
