namespace DropSim.Studies.Uncertainty;

/// <summary>
/// Primitive polynomials and initial direction numbers of the Sobol sequence by S. Joe and F.Y. Kuo, Constructing Sobol sequences with
/// better two-dimensional projections, SIAM J. Sci. Comput. 30 (2008) 2635-2654 (file new-joe-kuo-6.21201, distributed freely under a
/// BSD-style licence), as numbers carried by SciPy 1.10.1. A test compares the sequence with points that SciPy gives.
/// </summary>
internal static class DirectionNumbers
{
    /// <summary>Largest number of dimensions: two sets of inputs of at most 32 each.</summary>
    public const int MostDimensions = 64;

    /// <summary>Bits of a coordinate.</summary>
    public const int Bits = 32;

    /// <summary>One dimension: the polynomial's coefficients as bits (the leading one included) and the first odd numbers m.</summary>
    private readonly record struct Start(int Polynomial, int[] Odd);

    // The first dimension (van der Corput) needs no polynomial; these are dimensions 2 to 64.
    private static readonly Start[] Table =
    [
        new(3, [1]), new(7, [1, 3]), new(11, [1, 3, 1]), new(13, [1, 1, 1]), new(19, [1, 1, 3, 3]), new(25, [1, 3, 5, 13]),
        new(37, [1, 1, 5, 5, 17]), new(41, [1, 1, 5, 5, 5]), new(47, [1, 1, 7, 11, 19]), new(55, [1, 1, 5, 1, 1]),
        new(59, [1, 1, 1, 3, 11]), new(61, [1, 3, 5, 5, 31]), new(67, [1, 3, 3, 9, 7, 49]), new(91, [1, 1, 1, 15, 21, 21]),
        new(97, [1, 3, 1, 13, 27, 49]), new(103, [1, 1, 1, 15, 7, 5]), new(109, [1, 3, 1, 15, 13, 25]),
        new(115, [1, 1, 5, 5, 19, 61]), new(131, [1, 3, 7, 11, 23, 15, 103]), new(137, [1, 3, 7, 13, 13, 15, 69]),
        new(143, [1, 1, 3, 13, 7, 35, 63]), new(145, [1, 3, 5, 9, 1, 25, 53]), new(157, [1, 3, 1, 13, 9, 35, 107]),
        new(167, [1, 3, 1, 5, 27, 61, 31]), new(171, [1, 1, 5, 11, 19, 41, 61]), new(185, [1, 3, 5, 3, 3, 13, 69]),
        new(191, [1, 1, 7, 13, 1, 19, 1]), new(193, [1, 3, 7, 5, 13, 19, 59]), new(203, [1, 1, 3, 9, 25, 29, 41]),
        new(211, [1, 3, 5, 13, 23, 1, 55]), new(213, [1, 3, 7, 3, 13, 59, 17]), new(229, [1, 3, 1, 3, 5, 53, 69]),
        new(239, [1, 1, 5, 5, 23, 33, 13]), new(241, [1, 1, 7, 7, 1, 61, 123]), new(247, [1, 1, 7, 9, 13, 61, 49]),
        new(253, [1, 3, 3, 5, 3, 55, 33]), new(285, [1, 3, 1, 15, 31, 13, 49, 245]), new(299, [1, 3, 5, 15, 31, 59, 63, 97]),
        new(301, [1, 3, 1, 11, 11, 11, 77, 249]), new(333, [1, 3, 1, 11, 27, 43, 71, 9]),
        new(351, [1, 1, 7, 15, 21, 11, 81, 45]), new(355, [1, 3, 7, 3, 25, 31, 65, 79]), new(357, [1, 3, 1, 1, 19, 11, 3, 205]),
        new(361, [1, 1, 5, 9, 19, 21, 29, 157]), new(369, [1, 3, 7, 11, 1, 33, 89, 185]), new(391, [1, 3, 3, 3, 15, 9, 79, 71]),
        new(397, [1, 3, 7, 11, 15, 39, 119, 27]), new(425, [1, 1, 3, 1, 11, 31, 97, 225]),
        new(451, [1, 1, 1, 3, 23, 43, 57, 177]), new(463, [1, 3, 7, 7, 17, 17, 37, 71]),
        new(487, [1, 3, 1, 5, 27, 63, 123, 213]), new(501, [1, 1, 3, 5, 11, 43, 53, 133]),
        new(529, [1, 3, 5, 5, 29, 17, 47, 173, 479]), new(539, [1, 3, 3, 11, 3, 1, 109, 9, 69]),
        new(545, [1, 1, 1, 5, 17, 39, 23, 5, 343]), new(557, [1, 3, 1, 5, 25, 15, 31, 103, 499]),
        new(563, [1, 1, 1, 11, 11, 17, 63, 105, 183]), new(601, [1, 1, 5, 11, 9, 29, 97, 231, 363]),
        new(607, [1, 1, 5, 15, 19, 45, 41, 7, 383]), new(617, [1, 3, 7, 7, 31, 19, 83, 137, 221]),
        new(623, [1, 1, 1, 3, 23, 15, 111, 223, 83]), new(631, [1, 1, 5, 13, 31, 15, 55, 25, 161]),
        new(637, [1, 1, 3, 13, 25, 47, 39, 87, 257]),
    ];

    /// <summary>Direction numbers of a dimension: bit 31 is a half.</summary>
    /// <param name="dimension">Dimension, 0 to 63.</param>
    public static uint[] Of(int dimension)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(dimension);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(dimension, MostDimensions);
        var v = new uint[Bits];
        if (dimension == 0)
        {
            for (var i = 0; i < Bits; i++)
            {
                v[i] = 1u << (Bits - 1 - i);
            }

            return v;
        }

        var (polynomial, odd) = Table[dimension - 1];
        var degree = odd.Length;
        for (var i = 0; i < degree; i++)
        {
            v[i] = (uint)odd[i] << (Bits - 1 - i);
        }

        for (var i = degree; i < Bits; i++)
        {
            // v_i = a_1 v_(i-1) + ... + a_(s-1) v_(i-s+1) + v_(i-s) + v_(i-s) / 2^s, sums without carry.
            v[i] = v[i - degree] ^ (v[i - degree] >> degree);
            for (var k = 1; k < degree; k++)
            {
                if (((polynomial >> (degree - k)) & 1) != 0)
                {
                    v[i] ^= v[i - k];
                }
            }
        }

        return v;
    }
}
