using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Model;

/// <summary>
/// Fits the spar to a sway frequency timed in the yard (docs/theory/spar.md, eqs. 9 and 10): the root spring where one is
/// given and a softer root can explain the test, else the modulus with a rigid root.
/// </summary>
/// <remarks>
/// The test is taken to have been made on the spar as described: cut at its height, climber in place. Both fits are linear
/// problems, solved in one go.
/// </remarks>
internal static class SparSwayFit
{
    /// <summary>Root stiffness and modulus with which mode 1 sways at the measured frequency.</summary>
    /// <param name="taper">The stem.</param>
    /// <param name="input">The spar; its measured frequency is given.</param>
    /// <param name="elements">Number of elements.</param>
    /// <param name="gravity">Gravity, m/s2.</param>
    /// <param name="frequency">Measured frequency, above 0, Hz.</param>
    public static (double RootStiffness, double Modulus) Fit(
        SparTaper taper, SparInput input, int elements, double gravity, double frequency)
    {
        double square = 2 * Math.PI * frequency * 2 * Math.PI * frequency;
        if (double.IsFinite(input.RootStiffness) && FitRoot(new SparBeam(taper, input, elements, gravity, rigidRoot: false), square) is double root)
        {
            return (root, input.Modulus);
        }

        return (double.PositiveInfinity, input.Modulus * FitModulus(new SparBeam(taper, input, elements, gravity, rigidRoot: true), square));
    }

    /// <summary>
    /// det(A + k e e^T) = 0, A = K - w^2 M without the spring, gives k = -1/(e.A^-1 e); null where even a rigid root sways too slowly.
    /// </summary>
    private static double? FitRoot(SparBeam beam, double square)
    {
        double[,] a = beam.Stiffness(0);
        Subtract(a, beam.Mass, square);

        // With the root held, A must still be positive: else the frequency lies above that of a rigid root.
        int inner = beam.Size - 1;
        double[,] held = new double[inner, inner];
        for (int i = 0; i < inner; i++)
        {
            for (int j = 0; j < inner; j++)
            {
                held[i, j] = a[i + 1, j + 1];
            }
        }

        if (SparEigen.Factor(held) is null)
        {
            return null;
        }

        Vector<double> unit = Vector<double>.Build.Dense(beam.Size);
        unit[SparBeam.RootSlope] = 1;
        double root = -1 / Matrix<double>.Build.DenseOfArray(a).LU().Solve(unit)[SparBeam.RootSlope];
        return root > 0 && double.IsFinite(root) ? root : null;
    }

    /// <summary>The scale s with s K_bending - K_weight - w^2 M singular and positive: the largest eigenvalue of one pencil.</summary>
    private static double FitModulus(SparBeam beam, double square)
    {
        double[,] other = (double[,])beam.Weight.Clone();
        Subtract(other, beam.Mass, -square);
        SparEigen bending = SparEigen.Factor(beam.Bending)
            ?? throw new UnstableSparException("The spar has no bending stiffness.");
        return bending.Largest(other, 1)[0].Mu;
    }

    private static void Subtract(double[,] from, double[,] what, double factor)
    {
        for (int i = 0; i < from.GetLength(0); i++)
        {
            for (int j = 0; j < from.GetLength(1); j++)
            {
                from[i, j] -= factor * what[i, j];
            }
        }
    }
}
