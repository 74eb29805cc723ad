namespace DropSim.Integration;

/// <summary>
/// The numbers of the 5(4) pair of J.R. Dormand and P.J. Prince, "A family of embedded Runge-Kutta formulae",
/// J. Comp. Appl. Math. 6 (1980) 19-26, with the interpolant of order 4 in E. Hairer, S.P. Norsett and G. Wanner,
/// "Solving Ordinary Differential Equations I", 2nd ed., Springer 1993, section II.6.
/// The tests check the row sums, the order conditions (the interpolant's at every theta) and the measured orders.
/// </summary>
internal static class DormandPrinceFiveFour
{
    private static readonly double[] _weights = [35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84];

    private static readonly double[] _denseWeights =
    [
        -12715105075.0 / 11282082432, 0, 87487479700.0 / 32700410799, -10690763975.0 / 1880347072,
        701980252875.0 / 199316789632, -1453857185.0 / 822651844, 69997945.0 / 29380423,
    ];

    internal static MethodTable Table => new(
        Order: 5,
        ErrorOrder: 4,
        InterpolantOrder: 4,
        StabilityBound: 3.306,
        GuardStages: [1, 2, 3, 4],
        A:
        [
            [],
            [1.0 / 5],
            [3.0 / 40, 9.0 / 40],
            [44.0 / 45, -56.0 / 15, 32.0 / 9],
            [19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729],
            [9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656],
        ],
        C: [0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1],
        B: [.. _weights],
        E: [71.0 / 57600, 0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40],
        X: [],
        XC: [],
        R: [.. Enumerable.Range(0, _denseWeights.Length).Select(PolynomialRow)]);

    // y = y0 + theta D + theta (1 - theta) (S + theta (D - h k7 - S + (1 - theta) h sum_j d_j k_j)), with the step's
    // increment D = h sum_j b_j k_j and S = h k1 - D, sorted by powers of theta for one stage j.
    private static double[] PolynomialRow(int stage)
    {
        double first = stage == 0 ? 1 : 0;
        double last = stage == _weights.Length ? 1 : 0;
        double b = stage < _weights.Length ? _weights[stage] : 0;
        double d = _denseWeights[stage];
        double slope = first - b;
        double bend = b - last - slope;
        return [first, bend - slope + d, -bend - (2 * d), d];
    }
}
