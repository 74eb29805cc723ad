using System.Numerics;
using System.Runtime.InteropServices;

namespace DropSim.Integration;

/// <summary>Values of a vector polynomial sum_p c_p theta^p by Horner's rule, element by element.</summary>
internal static class StepPolynomial
{
    /// <summary>Evaluates the polynomial.</summary>
    /// <param name="coefficients">(degree + 1) rows of <paramref name="stride"/> values, the constant first.</param>
    /// <param name="stride">Distance between rows.</param>
    /// <param name="degree">Degree.</param>
    /// <param name="theta">Argument.</param>
    /// <param name="result">Receives as many values as it is long, at most <paramref name="stride"/>.</param>
    internal static void Evaluate(ReadOnlySpan<double> coefficients, int stride, int degree, double theta, Span<double> result)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(result.Length, stride);
        ArgumentOutOfRangeException.ThrowIfLessThan(coefficients.Length, (degree + 1) * stride);
        ref double rows = ref MemoryMarshal.GetReference(coefficients);
        ref double to = ref MemoryMarshal.GetReference(result);
        var at = new Vector<double>(theta);
        int i = 0;
        for (; i + Vector<double>.Count <= result.Length; i += Vector<double>.Count)
        {
            Vector<double> sum = Vector.LoadUnsafe(ref rows, (nuint)((degree * stride) + i));
            for (int p = degree - 1; p >= 0; p--)
            {
                sum = (sum * at) + Vector.LoadUnsafe(ref rows, (nuint)((p * stride) + i));
            }

            sum.StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < result.Length; i++)
        {
            double sum = coefficients[(degree * stride) + i];
            for (int p = degree - 1; p >= 0; p--)
            {
                sum = (sum * theta) + coefficients[(p * stride) + i];
            }

            result[i] = sum;
        }
    }
}
