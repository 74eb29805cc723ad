using System.Diagnostics;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace DropSim.Integration;

/// <summary>
/// A sum of stage vectors with fixed weights, zero weights left out: result = origin + h sum_j w_j k_j.
/// Works element by element in a fixed order of j with separate multiply and add, so the bits do not depend on the
/// width of the machine's vectors.
/// </summary>
internal sealed class WeightedSum
{
    private readonly int[] _rows;
    private readonly double[] _weights;

    internal WeightedSum(double[] weights)
    {
        _rows = [.. Enumerable.Range(0, weights.Length).Where(j => weights[j] != 0)];
        _weights = [.. _rows.Select(j => weights[j])];
    }

    /// <summary>Vectors are padded to a multiple of this many doubles, so that no loop has a remainder.</summary>
    internal static int Block => 4 * Vector<double>.Count;

    /// <summary>Length of a padded vector of <paramref name="count"/> doubles.</summary>
    internal static int Padded(int count) => (count + Block - 1) / Block * Block;

    /// <summary>origin + h sum_j w_j k_j.</summary>
    /// <param name="origin">Padded vector.</param>
    /// <param name="stages">All stages, one padded row after another.</param>
    /// <param name="h">Step.</param>
    /// <param name="result">Padded vector; may be <paramref name="origin"/> itself.</param>
    internal void From(ReadOnlySpan<double> origin, ReadOnlySpan<double> stages, double h, Span<double> result)
    {
        int stride = result.Length;
        Check(origin.Length, stages.Length, stride);
        ref double from = ref MemoryMarshal.GetReference(origin);
        ref double rows = ref MemoryMarshal.GetReference(stages);
        ref double to = ref MemoryMarshal.GetReference(result);
        var step = new Vector<double>(h);
        int width = Vector<double>.Count;
        for (int i = 0; i < stride; i += 4 * width)
        {
            Sum(ref rows, stride, i, out Vector<double> s0, out Vector<double> s1, out Vector<double> s2, out Vector<double> s3);
            (Vector.LoadUnsafe(ref from, (nuint)i) + (step * s0)).StoreUnsafe(ref to, (nuint)i);
            (Vector.LoadUnsafe(ref from, (nuint)(i + width)) + (step * s1)).StoreUnsafe(ref to, (nuint)(i + width));
            (Vector.LoadUnsafe(ref from, (nuint)(i + (2 * width))) + (step * s2)).StoreUnsafe(ref to, (nuint)(i + (2 * width)));
            (Vector.LoadUnsafe(ref from, (nuint)(i + (3 * width))) + (step * s3)).StoreUnsafe(ref to, (nuint)(i + (3 * width)));
        }
    }

    /// <summary>h sum_j w_j k_j.</summary>
    internal void Times(double h, ReadOnlySpan<double> stages, Span<double> result)
    {
        int stride = result.Length;
        Check(stride, stages.Length, stride);
        ref double rows = ref MemoryMarshal.GetReference(stages);
        ref double to = ref MemoryMarshal.GetReference(result);
        var step = new Vector<double>(h);
        int width = Vector<double>.Count;
        for (int i = 0; i < stride; i += 4 * width)
        {
            Sum(ref rows, stride, i, out Vector<double> s0, out Vector<double> s1, out Vector<double> s2, out Vector<double> s3);
            (step * s0).StoreUnsafe(ref to, (nuint)i);
            (step * s1).StoreUnsafe(ref to, (nuint)(i + width));
            (step * s2).StoreUnsafe(ref to, (nuint)(i + (2 * width)));
            (step * s3).StoreUnsafe(ref to, (nuint)(i + (3 * width)));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Sum(
        ref double rows, int stride, int column, out Vector<double> s0, out Vector<double> s1, out Vector<double> s2, out Vector<double> s3)
    {
        int width = Vector<double>.Count;
        int[] index = _rows;
        double[] weights = _weights;
        Vector<double> t0 = default;
        Vector<double> t1 = default;
        Vector<double> t2 = default;
        Vector<double> t3 = default;
        for (int j = 0; j < index.Length && j < weights.Length; j++)
        {
            var w = new Vector<double>(weights[j]);
            nuint at = (nuint)((index[j] * stride) + column);
            t0 += w * Vector.LoadUnsafe(ref rows, at);
            t1 += w * Vector.LoadUnsafe(ref rows, at + (nuint)width);
            t2 += w * Vector.LoadUnsafe(ref rows, at + (nuint)(2 * width));
            t3 += w * Vector.LoadUnsafe(ref rows, at + (nuint)(3 * width));
        }

        s0 = t0;
        s1 = t1;
        s2 = t2;
        s3 = t3;
    }

    // The loops above read without bounds checks: these lengths are what makes that right.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Check(int origin, int stages, int stride)
    {
        int rows = _rows.Length == 0 ? 0 : _rows[^1] + 1;
        if (origin != stride || stages < rows * stride || stride % Block != 0)
        {
            throw new UnreachableException("Vectors of a weighted sum must be padded and of one length.");
        }
    }
}
