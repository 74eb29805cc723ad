using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DropSim.Model;

/// <summary>
/// The generalised symmetric eigenproblem B v = mu K v with K positive definite, by Cholesky reduction (docs/theory/spar.md, eq. 7).
/// Only for the banded matrices of a <see cref="SparBeam"/>; B must not be negative.
/// </summary>
/// <remarks>
/// The stiffness is the matrix that is factored: whether it is positive is the question whether the spar stands, and the low
/// modes become the largest mu, which orthogonal iteration finds first (B.N. Parlett, The Symmetric Eigenvalue Problem, 1980,
/// chapter 14: a space of vectors multiplied and made orthogonal again, then the small problem within it).
/// </remarks>
internal sealed class SparEigen
{
    /// <summary>Vectors iterated beyond those asked for: with a beam's frequencies each round then gains two digits.</summary>
    private const int MoreVectors = 5;

    /// <summary>Rounds after which the whole problem is solved instead.</summary>
    private const int MostRounds = 60;

    /// <summary>An eigenpair is found where its residual is below this part of the largest eigenvalue: round-off of the reduction.</summary>
    private const double Converged = 1e-14;

    /// <summary>Rounds between two looks at the residual.</summary>
    private const int RoundsBetween = 4;

    private readonly double[] _lower;
    private readonly int _size;

    private SparEigen(double[] lower, int size)
    {
        _lower = lower;
        _size = size;
    }

    private static int Width => SparBeam.HalfBand + 1;

    /// <summary>Factors the stiffness.</summary>
    /// <param name="stiffness">Symmetric stiffness.</param>
    /// <returns>The factored problem; null where the stiffness is not positive definite.</returns>
    public static SparEigen? Factor(double[,] stiffness)
    {
        int size = stiffness.GetLength(0);
        double[] lower = new double[size * Width];
        for (int i = 0; i < size; i++)
        {
            for (int j = Math.Max(0, i - SparBeam.HalfBand); j <= i; j++)
            {
                double sum = stiffness[i, j];
                for (int k = Math.Max(0, i - SparBeam.HalfBand); k < j; k++)
                {
                    sum -= lower[At(i, k)] * lower[At(j, k)];
                }

                if (j == i && !(sum > 0))
                {
                    return null;
                }

                lower[At(i, j)] = j == i ? Math.Sqrt(sum) : sum / lower[At(j, j)];
            }
        }

        return new SparEigen(lower, size);
    }

    /// <summary>The largest mu, descending, each with its vector normalised to v.K v = 1.</summary>
    /// <param name="other">Symmetric matrix B.</param>
    /// <param name="count">How many, 1 or more; fewer are returned where the problem is smaller.</param>
    public (double Mu, double[] Vector)[] Largest(double[,] other, int count)
    {
        count = Math.Min(count, _size);
        var pairs = Math.Min(count + MoreVectors, _size) is var vectors && vectors < _size ? Iterate(other, count, vectors) : null;
        pairs ??= SolveWhole(other, count);
        foreach (var (_, vector) in pairs)
        {
            BackSubstitute(vector);
        }

        return pairs;
    }

    /// <summary>Solves K x = e for a unit vector e and returns the same component of x: a flexibility.</summary>
    /// <param name="index">Component.</param>
    public double Flexibility(int index)
    {
        // e.K^-1 e = |L^-1 e|^2
        double[] column = new double[_size];
        column[index] = 1;
        ForwardSubstitute(column);
        return Dot(column, column);
    }

    private static int At(int row, int column) => (row * Width) + column - row + SparBeam.HalfBand;

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }

    private (double Mu, double[] Vector)[]? Iterate(double[,] other, int count, int size)
    {
        // Unit vectors spread over the beam: none of the low modes is orthogonal to all of them.
        double[][] space = [.. Enumerable.Range(0, size).Select(Start)];
        MakeOrthonormal(space);
        double[][] image = [.. space.Select(Times)];
        for (int round = 1; round <= MostRounds; round++)
        {
            space = image;
            MakeOrthonormal(space);
            image = [.. space.Select(Times)];
            if (round % RoundsBetween == 0 && Ritz(space, image, count) is { } pairs)
            {
                return pairs;
            }
        }

        return null;

        double[] Times(double[] x) => Reduced(other, x);

        double[] Start(int k)
        {
            double[] x = new double[_size];
            x[(int)((k + 0.5) * _size / size)] = 1;
            return x;
        }
    }

    // The eigenpairs of the problem within the space; null while they are not yet those of the whole.
    private (double Mu, double[] Vector)[]? Ritz(double[][] space, double[][] image, int count)
    {
        Matrix<double> within = Matrix<double>.Build.Dense(space.Length, space.Length, (i, j) => Dot(space[Math.Max(i, j)], image[Math.Min(i, j)]));
        Evd<double> evd = within.Evd(Symmetricity.Symmetric);
        var pairs = new (double, double[])[count];
        for (int k = 0; k < count; k++)
        {
            int column = space.Length - 1 - k;
            double mu = evd.EigenValues[column].Real;
            double[] vector = new double[_size];
            double[] residual = new double[_size];
            for (int j = 0; j < space.Length; j++)
            {
                double part = evd.EigenVectors[j, column];
                for (int i = 0; i < _size; i++)
                {
                    vector[i] += part * space[j][i];
                    residual[i] += part * (image[j][i] - (mu * space[j][i]));
                }
            }

            if (!(Dot(residual, residual) <= Converged * Converged * evd.EigenValues[^1].Real * evd.EigenValues[^1].Real))
            {
                return null;
            }

            pairs[k] = (mu, vector);
        }

        return pairs;
    }

    private (double Mu, double[] Vector)[] SolveWhole(double[,] other, int count)
    {
        Matrix<double> whole = Matrix<double>.Build.Dense(_size, _size);
        for (int j = 0; j < _size; j++)
        {
            double[] unit = new double[_size];
            unit[j] = 1;
            whole.SetColumn(j, Reduced(other, unit));
        }

        Evd<double> evd = ((whole + whole.Transpose()) / 2).Evd(Symmetricity.Symmetric);
        return [.. Enumerable.Range(0, count).Select(k => (evd.EigenValues[_size - 1 - k].Real, evd.EigenVectors.Column(_size - 1 - k).ToArray()))];
    }

    // Gram-Schmidt, twice: once leaves what round-off brings back of nearly parallel vectors.
    private static void MakeOrthonormal(double[][] space)
    {
        for (int k = 0; k < space.Length; k++)
        {
            for (int turn = 0; turn < 2; turn++)
            {
                for (int j = 0; j < k; j++)
                {
                    double part = Dot(space[j], space[k]);
                    for (int i = 0; i < space[k].Length; i++)
                    {
                        space[k][i] -= part * space[j][i];
                    }
                }
            }

            double length = Math.Sqrt(Dot(space[k], space[k]));
            for (int i = 0; i < space[k].Length && length > 0; i++)
            {
                space[k][i] /= length;
            }
        }
    }

    /// <summary>L^-1 B L^-T x.</summary>
    private double[] Reduced(double[,] other, double[] x)
    {
        double[] y = (double[])x.Clone();
        BackSubstitute(y);
        double[] result = new double[_size];
        for (int i = 0; i < _size; i++)
        {
            double sum = 0;
            for (int j = Math.Max(0, i - SparBeam.HalfBand); j <= Math.Min(_size - 1, i + SparBeam.HalfBand); j++)
            {
                sum += other[i, j] * y[j];
            }

            result[i] = sum;
        }

        ForwardSubstitute(result);
        return result;
    }

    private void ForwardSubstitute(double[] right)
    {
        for (int i = 0; i < _size; i++)
        {
            double sum = right[i];
            for (int k = Math.Max(0, i - SparBeam.HalfBand); k < i; k++)
            {
                sum -= _lower[At(i, k)] * right[k];
            }

            right[i] = sum / _lower[At(i, i)];
        }
    }

    private void BackSubstitute(double[] right)
    {
        for (int i = _size - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int k = i + 1; k < _size && k <= i + SparBeam.HalfBand; k++)
            {
                sum -= _lower[At(k, i)] * right[k];
            }

            right[i] = sum / _lower[At(i, i)];
        }
    }
}
