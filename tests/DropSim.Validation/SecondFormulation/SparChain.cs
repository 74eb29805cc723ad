using DropSim.Model;
using MathNet.Numerics.Interpolation;
using MathNet.Numerics.LinearAlgebra;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// The spar as a chain of masses joined by elastic hinges (finite differences, no finite elements): energy sum EI kappa^2 h / 2 with
/// kappa from three neighbours, masses at the nodes, the weight above each link pulling it over. Its lowest modes, mass-normalised.
/// </summary>
internal sealed class SparChain
{
    private readonly CubicSpline[] _shapes;

    public SparChain(SparInput spar, double gravity, int modes, int links)
    {
        double h = spar.Height / links;
        double Diameter(double z)
        {
            var d = spar.Diameters;
            var k = 0;
            while (k + 2 < d.Count && z > d[k + 1].Height)
            {
                k++;
            }

            return d[k].Diameter + ((d[k + 1].Diameter - d[k].Diameter) * (z - d[k].Height) / (d[k + 1].Height - d[k].Height));
        }

        var mass = new double[links + 1];
        for (var k = 0; k <= links; k++)
        {
            mass[k] = spar.Density * Math.PI * Math.Pow(Diameter(k * h), 2) / 4 * h * (k == 0 || k == links ? 0.5 : 1);
        }

        var climber = (spar.Height - spar.ClimberBelowCut) / h;
        var below = (int)climber;
        mass[below] += spar.ClimberMass * (below + 1 - climber);
        mass[below + 1] += spar.ClimberMass * (climber - below);

        var stiffness = Matrix<double>.Build.Dense(links, links);
        void Add(int i, int j, double value)
        {
            // Node 0 stands fast and the axis leaves the ground upright: the node below it mirrors the node above.
            if (i != 0 && j != 0)
            {
                stiffness[Math.Abs(i) - 1, Math.Abs(j) - 1] += value;
            }
        }

        for (var k = 0; k < links; k++)
        {
            var bending = spar.Modulus * Math.PI * Math.Pow(Diameter(k * h), 4) / 64 / (h * h * h) * (k == 0 ? 0.5 : 1);
            (int Node, double Weight)[] curvature = [(k - 1, 1), (k, -2), (k + 1, 1)];
            foreach (var (i, a) in curvature)
            {
                foreach (var (j, b) in curvature)
                {
                    Add(i, j, bending * a * b);
                }
            }
        }

        for (var k = 0; k < links; k++)
        {
            var weight = gravity * Enumerable.Range(k + 1, links - k).Sum(i => mass[i]);
            Add(k, k, -weight / h);
            Add(k, k + 1, weight / h);
            Add(k + 1, k, weight / h);
            Add(k + 1, k + 1, -weight / h);
        }

        var scaled = Matrix<double>.Build.Dense(links, links, (i, j) => stiffness[i, j] / Math.Sqrt(mass[i + 1] * mass[j + 1]));
        var evd = scaled.Evd(Symmetricity.Symmetric);
        Frequencies = new double[modes];
        _shapes = new CubicSpline[modes];
        var z = Enumerable.Range(0, links + 1).Select(k => k * h).ToArray();
        for (var i = 0; i < modes; i++)
        {
            Frequencies[i] = Math.Sqrt(evd.EigenValues[i].Real);
            var w = z.Select((_, k) => k == 0 ? 0 : evd.EigenVectors[k - 1, i] / Math.Sqrt(mass[k])).ToArray();

            // Upright at the ground, no curvature at the free end.
            _shapes[i] = CubicSpline.InterpolateBoundariesSorted(z, w, SplineBoundaryCondition.FirstDerivative, 0, SplineBoundaryCondition.SecondDerivative, 0);
        }
    }

    /// <summary>Angular frequencies, rad/s.</summary>
    public double[] Frequencies { get; }

    public double Shape(int mode, double z) => _shapes[mode].Interpolate(z);

    public double Slope(int mode, double z) => _shapes[mode].Differentiate(z);

    /// <summary>Integral of phi_i' phi_j' from the ground to a height, 1/(kg m).</summary>
    public double[,] Shortening(double height)
    {
        const int Strips = 400;
        var n = Frequencies.Length;
        var g = new double[n, n];
        for (var k = 0; k < Strips; k++)
        {
            var z = height * (k + 0.5) / Strips;
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    g[i, j] += Slope(i, z) * Slope(j, z) * height / Strips;
                }
            }
        }

        return g;
    }
}
