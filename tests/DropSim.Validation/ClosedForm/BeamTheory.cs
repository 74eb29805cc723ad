namespace DropSim.Validation.ClosedForm;

/// <summary>
/// Cantilevers solved without elements or modes of DropSim: frequency equations of the uniform beam by halving, tapered beams by
/// shooting (fourth-order Runge-Kutta), buckling and beam-column in closed form.
/// </summary>
internal static class BeamTheory
{
    private const int ShootingSteps = 1500;

    /// <summary>Root near a guess of 1 + cos b cosh b + eta b (cos b sinh b - sin b cosh b) = 0: clamped, with a tip mass of eta beam masses.</summary>
    public static double TipMassRoot(double eta, double guess) => Bisection.Root(
        b => 1 + (Math.Cos(b) * Math.Cosh(b)) + (eta * b * ((Math.Cos(b) * Math.Sinh(b)) - (Math.Sin(b) * Math.Cosh(b)))), guess - 0.3, guess + 0.3);

    /// <summary>
    /// Square of omega over sqrt(EI/(rho A L^4)) of a uniform cantilever under a dead load P at its tip; load in units of EI/L^2.
    /// EI w'''' + P w'' = rho A omega^2 w. With a^2 = -P/2 + r, b^2 = P/2 + r, r = sqrt(P^2/4 + omega^2) (all over EI and L):
    /// w = A (cosh ax - cos bx) + B (sinh ax - (a/b) sin bx) clamps the foot; w''(1) = 0 and w'''(1) + P w'(1) = 0 give
    /// A (a^2 C + b^2 c) + B (a^2 S + a b s) = 0 and, divided by a b, A (b S - a s) + B (b C + (a^2/b) c) = 0.
    /// </summary>
    public static double LoadedFrequency(double load, double below)
    {
        double Determinant(double omega)
        {
            var r = Math.Sqrt((load * load / 4) + (omega * omega));
            var (a, b) = (Math.Sqrt(r - (load / 2)), Math.Sqrt(r + (load / 2)));
            var (s, c) = Math.SinCos(b);
            var (sh, ch) = (Math.Sinh(a), Math.Cosh(a));
            return (((a * a * ch) + (b * b * c)) * ((b * ch) + (a * a / b * c))) - (((a * a * sh) + (a * b * s)) * ((b * sh) - (a * s)));
        }

        return Bisection.Root(Determinant, 1e-6, below);
    }

    /// <summary>Stiffness of a weightless cantilever against a sideways force at its tip that carries a dead load P: P beta/(tan beta L - beta L), beta^2 = P/EI.</summary>
    public static double BeamColumnStiffness(double bendingStiffness, double length, double load)
    {
        var beta = Math.Sqrt(load / bendingStiffness);
        return load * beta / (Math.Tan(beta * length) - (beta * length));
    }

    /// <summary>
    /// lambda = omega / sqrt(E I0/(rho A0 L^4)) of the cone clamped at its thick end, tip over base diameter c, near a guess:
    /// (EI w'')'' = rho A omega^2 w from the foot with two free starts, and M = Q = 0 at the tip.
    /// </summary>
    public static double ConeFrequency(double c, double guess)
    {
        double Determinant(double lambda)
        {
            var (m1, q1) = Shoot(c, lambda * lambda, 1, 0);
            var (m2, q2) = Shoot(c, lambda * lambda, 0, 1);
            return (m1 * q2) - (m2 * q1);
        }

        var (from, to) = (0.93 * guess, 1.07 * guess);
        var rising = Determinant(to) > 0;
        for (var i = 0; i < 40; i++)
        {
            var middle = (from + to) / 2;
            (from, to) = Determinant(middle) > 0 == rising ? (from, middle) : (middle, to);
        }

        return (from + to) / 2;
    }

    private static (double M, double Q) Shoot(double c, double square, double moment, double shear)
    {
        double w = 0, slope = 0, m = moment, q = shear;
        const double H = 1.0 / ShootingSteps;
        (double W, double Slope, double M, double Q) Rates(double z, double w0, double slope0, double m0, double q0)
        {
            var d = 1 - ((1 - c) * z);
            return (slope0, m0 / (d * d * d * d), q0, square * d * d * w0);
        }

        for (var i = 0; i < ShootingSteps; i++)
        {
            var z = i * H;
            var a = Rates(z, w, slope, m, q);
            var b = Rates(z + (H / 2), w + (H / 2 * a.W), slope + (H / 2 * a.Slope), m + (H / 2 * a.M), q + (H / 2 * a.Q));
            var d = Rates(z + (H / 2), w + (H / 2 * b.W), slope + (H / 2 * b.Slope), m + (H / 2 * b.M), q + (H / 2 * b.Q));
            var e = Rates(z + H, w + (H * d.W), slope + (H * d.Slope), m + (H * d.M), q + (H * d.Q));
            w += H / 6 * (a.W + (2 * b.W) + (2 * d.W) + e.W);
            slope += H / 6 * (a.Slope + (2 * b.Slope) + (2 * d.Slope) + e.Slope);
            m += H / 6 * (a.M + (2 * b.M) + (2 * d.M) + e.M);
            q += H / 6 * (a.Q + (2 * b.Q) + (2 * d.Q) + e.Q);
        }

        return (m, q);
    }
}
