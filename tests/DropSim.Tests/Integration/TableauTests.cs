using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>The identities that a Runge-Kutta method's numbers must fulfil; conditions as in HNW I, section II.2.</summary>
public class TableauTests
{
    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void Each_stage_row_sums_to_its_node_and_the_weights_to_one(string name)
    {
        MethodTable t = Methods.Named(name).Table;
        for (int i = 0; i < t.A.Length; i++)
        {
            t.A[i].Sum().Should().BeApproximately(t.C[i], 2e-14, "row {0}; entries reach 187, and 187 x 1e-16 = 2e-14", i + 1);
        }

        for (int i = 0; i < t.X.Length; i++)
        {
            t.X[i].Sum().Should().BeApproximately(t.XC[i], 2e-15);
        }

        t.B.Sum().Should().BeApproximately(1, 1e-15);
        t.E.Sum().Should().BeApproximately(0, 1e-15, "both solutions of the pair integrate a constant exactly");
    }

    [Theory]
    [InlineData(Methods.Verner, 7)]
    [InlineData(Methods.DormandPrince, 5)]
    public void The_step_fulfils_the_bushy_and_tall_tree_conditions_up_to_its_order(string name, int order)
    {
        MethodTable t = Methods.Named(name).Table;
        double[] tall = [.. t.C.Select(_ => 1.0)];
        double factorial = 1;
        for (int q = 1; q <= order; q++)
        {
            factorial *= q;
            double bushy = t.B.Zip(t.C, (b, c) => b * Math.Pow(c, q - 1)).Sum();
            bushy.Should().BeApproximately(1.0 / q, 1e-14, "sum b c^{0} = 1/{1}", q - 1, q);
            double chain = t.B.Zip(tall, (b, v) => b * v).Sum();
            chain.Should().BeApproximately(1 / factorial, 1e-13, "b A^{0} 1 = 1/{1}!", q - 1, q);
            tall = [.. t.A.Select(row => row.Zip(tall, (a, v) => a * v).Sum())];
        }
    }

    [Theory]
    [InlineData(Methods.Verner, 6)]
    [InlineData(Methods.DormandPrince, 4)]
    public void The_error_weights_vanish_on_polynomials_up_to_the_lower_order_and_not_beyond(string name, int order)
    {
        MethodTable t = Methods.Named(name).Table;
        double[] nodes = [.. t.C, 1];
        for (int q = 1; q <= order; q++)
        {
            t.E.Zip(nodes, (e, c) => e * Math.Pow(c, q - 1)).Sum().Should().BeApproximately(0, 1e-14);
        }

        // The principal part must not vanish, or the estimate would see nothing.
        Math.Abs(t.E.Zip(nodes, (e, c) => e * Math.Pow(c, order)).Sum()).Should().BeGreaterThan(1e-7);
    }

    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void The_interpolant_fulfils_the_conditions_of_its_order_at_every_theta_and_meets_the_step_at_the_end(string name)
    {
        MethodTable t = Methods.Named(name).Table;
        double[] nodes = [.. t.C, 1, .. t.XC];
        for (double theta = 0.1; theta <= 1.0001; theta += 0.1)
        {
            double[] weights = [.. t.R.Select(row => row.Select((r, p) => r * Math.Pow(theta, p + 1)).Sum())];
            for (int q = 1; q <= t.InterpolantOrder; q++)
            {
                double sum = weights.Zip(nodes, (b, c) => b * Math.Pow(c, q - 1)).Sum();
                sum.Should().BeApproximately(Math.Pow(theta, q) / q, 2e-12, "entries reach 1200, and 10 of them x 1e-16");
            }
        }

        for (int j = 0; j < t.B.Length; j++)
        {
            t.R[j].Sum().Should().BeApproximately(t.B[j], 1e-12, "theta = 1 is the step itself");
        }
    }

    [Theory]
    [InlineData(Methods.Verner)]
    [InlineData(Methods.DormandPrince)]
    public void The_stability_bound_is_where_the_stability_function_passes_one(string name)
    {
        MethodTable t = Methods.Named(name).Table;
        Math.Abs(StabilityFunction(t, -(t.StabilityBound - 0.01))).Should().BeLessThan(1);
        Math.Abs(StabilityFunction(t, -(t.StabilityBound + 0.01))).Should().BeGreaterThan(1);
    }

    private static double StabilityFunction(MethodTable t, double z)
    {
        double[] k = new double[t.A.Length];
        for (int i = 0; i < k.Length; i++)
        {
            k[i] = z * (1 + t.A[i].Zip(k, (a, v) => a * v).Sum());
        }

        return 1 + t.B.Zip(k, (b, v) => b * v).Sum();
    }
}
