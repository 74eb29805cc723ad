using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// A mass caught by one linear visco-elastic rope, solved exactly: y' = A y + b by the eigenvalues of A. Nothing of it comes from
/// DropSim. States x (stretch), v, z (stretch that the relaxing branch remembers); force F = k x + c v + r (x - z), z' = (x - z) / tau.
/// With r = 0 it is Kelvin and Voigt's rope, with c = 0 the standard linear solid.
/// </summary>
internal sealed class LinearDrop
{
    private readonly Matrix<double> _a;
    private readonly Vector<double> _rest;
    private readonly Vector<double> _start;
    private readonly double _mass;
    private readonly double _gravity;

    public LinearDrop(double mass, double gravity, double stiffness, double damping, double relaxing, double relaxationTime, double speed)
    {
        (_mass, _gravity) = (mass, gravity);
        _a = Matrix<double>.Build.DenseOfArray(new[,]
        {
            { 0, 1, 0 },
            { -(stiffness + relaxing) / mass, -damping / mass, relaxing / mass },
            { 1 / relaxationTime, 0, -1 / relaxationTime },
        });

        // At rest x = z = m g / k.
        var sag = mass * gravity / stiffness;
        _rest = Vector<double>.Build.DenseOfArray([sag, 0, sag]);
        _start = Vector<double>.Build.DenseOfArray([0, speed, 0]) - _rest;
    }

    /// <summary>Peak of the force, N: the first one, or the force at the very start if that is larger.</summary>
    public double Peak()
    {
        var evd = _a.Evd();
        var vectors = evd.EigenVectors;
        var complex = Modes(evd);
        double Derivative(int order, double time)
        {
            // Of v: sum of c s^order exp(s t) over the eigenvalues.
            System.Numerics.Complex sum = 0;
            for (var i = 0; i < 3; i++)
            {
                sum += complex[i] * System.Numerics.Complex.Pow(evd.EigenValues[i], order) * System.Numerics.Complex.Exp(evd.EigenValues[i] * time);
            }

            return sum.Real;
        }

        double Force(double time) => _mass * (_gravity - Derivative(1, time));

        // The force turns where v'' = 0: looked for in small steps over the fastest half swing.
        var step = 1e-3 / evd.EigenValues.Max(s => s.Magnitude);
        double t = step;
        while (Derivative(2, t) < 0 && t < 1e6 * step)
        {
            t += step;
        }

        var peak = Bisection.Root(s => Derivative(2, s), t - step, t);
        return Math.Max(Force(0), Force(peak));
    }

    /// <summary>What each eigenvector brings to the speed v.</summary>
    private System.Numerics.Complex[] Modes(MathNet.Numerics.LinearAlgebra.Factorization.Evd<double> evd)
    {
        // y0 = sum c_i u_i. With distinct eigenvalues s_i the speed's share follows from v(0), v'(0), v''(0) by Vandermonde's matrix.
        var y0 = _start;
        var y1 = _a * y0;
        var y2 = _a * y1;
        var vandermonde = Matrix<System.Numerics.Complex>.Build.Dense(3, 3, (row, column) => System.Numerics.Complex.Pow(evd.EigenValues[column], row));
        var right = Vector<System.Numerics.Complex>.Build.DenseOfArray([y0[1], y1[1], y2[1]]);
        return [.. vandermonde.Solve(right)];
    }
}
