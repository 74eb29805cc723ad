using System.Numerics;
using MathNet.Numerics.Random;

namespace DropSim.Studies.Uncertainty;

/// <summary>
/// A Sobol sequence, scrambled by random lower triangular matrices and a digital shift (J. Matousek, On the L2-discrepancy for anchored
/// boxes, J. Complexity 14 (1998) 527-556; by name). Point k depends on k, the dimension and the seed alone, so any number of threads
/// may ask in any order, and the first n points of a longer sequence are the sequence of n.
/// </summary>
internal sealed class SobolSequence
{
    private readonly uint[][] _directions;
    private readonly uint[] _shift;

    /// <summary>Makes a sequence.</summary>
    /// <param name="dimensions">Dimensions, 1 to 64.</param>
    /// <param name="seed">Seed of the scrambling; null for none.</param>
    public SobolSequence(int dimensions, int? seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(dimensions, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(dimensions, DirectionNumbers.MostDimensions);
        _directions = new uint[dimensions][];
        _shift = new uint[dimensions];
        var random = seed is { } s ? new MersenneTwister(s, false) : null;
        for (var d = 0; d < dimensions; d++)
        {
            var plain = DirectionNumbers.Of(d);
            _directions[d] = random is null ? plain : Scrambled(plain, random);
            _shift[d] = random is null ? 0 : (uint)random.NextFullRangeInt32();
        }
    }

    /// <summary>One coordinate of one point, inside 0 to 1 (never at an end).</summary>
    /// <param name="index">Number of the point, from 0.</param>
    /// <param name="dimension">Dimension.</param>
    public double At(int index, int dimension)
    {
        var gray = (uint)index ^ ((uint)index >> 1);
        var bits = _shift[dimension];
        var v = _directions[dimension];
        for (var i = 0; gray != 0; i++, gray >>= 1)
        {
            if ((gray & 1) != 0)
            {
                bits ^= v[i];
            }
        }

        return (bits + 0.5) / Whole;
    }

    private const double Whole = 4294967296.0;

    /// <summary>Each digit plus a random combination of the digits before it: intervals of any power of two stay filled evenly.</summary>
    private static uint[] Scrambled(uint[] directions, MersenneTwister random)
    {
        var rows = new uint[DirectionNumbers.Bits];
        for (var r = 0; r < rows.Length; r++)
        {
            // Row r keeps digit r and mixes in some of the more significant ones.
            var own = 1u << (DirectionNumbers.Bits - 1 - r);
            var before = r == 0 ? 0 : ~((own << 1) - 1);
            rows[r] = own | ((uint)random.NextFullRangeInt32() & before);
        }

        return [.. directions.Select(v =>
        {
            uint mixed = 0;
            for (var r = 0; r < rows.Length; r++)
            {
                mixed |= (uint)(BitOperations.PopCount(rows[r] & v) & 1) << (DirectionNumbers.Bits - 1 - r);
            }

            return mixed;
        })];
    }
}
