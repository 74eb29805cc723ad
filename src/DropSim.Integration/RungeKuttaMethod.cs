namespace DropSim.Integration;

/// <summary>
/// An embedded explicit Runge-Kutta pair with a continuous solution, as data.
/// <para>
/// Stages k_1..k_s: k_i = f(t + c_i h, y + h sum_j a_ij k_j). Step: y1 = y + h sum_j b_j k_j. The rate at the step's
/// end, f(t + h, y1), is kept as stage s + 1: it is the first stage of the next step. Error: h sum_j e_j k_j.
/// Continuous solution: y(t + theta h) = y + h sum_j k_j sum_p r_jp theta^p, over all stages and some extra ones.
/// </para>
/// </summary>
public sealed class RungeKuttaMethod
{
    private RungeKuttaMethod(string name, MethodTable table)
    {
        Name = name;
        Table = table;
        Nodes = [.. table.C];
        Stages = new WeightedSum[table.A.Length];
        for (int i = 0; i < table.A.Length; i++)
        {
            Stages[i] = new WeightedSum(table.A[i]);
        }

        Step = new WeightedSum(table.B);
        Error = new WeightedSum(table.E);
        Extra = new WeightedSum[table.X.Length];
        for (int i = 0; i < table.X.Length; i++)
        {
            Extra[i] = new WeightedSum(table.X[i]);
        }

        ExtraNodes = [.. table.XC];
        Degree = table.R[0].Length;
        Powers = new WeightedSum[Degree];
        for (int p = 0; p < Degree; p++)
        {
            Powers[p] = new WeightedSum([.. table.R.Select(row => row[p])]);
        }

        ErrorNeedsEnd = table.E[^1] != 0;
        GuardStages = [.. table.GuardStages];
    }

    /// <summary>Verner's "most efficient" 7(6) pair, with an interpolant of order 7 (five extra stages).</summary>
    public static RungeKuttaMethod Verner76 { get; } = new("Verner 7(6)", VernerSevenSix.Table);

    /// <summary>Dormand and Prince's 5(4) pair, with an interpolant of order 4 (no extra stages). The checking method.</summary>
    public static RungeKuttaMethod DormandPrince54 { get; } = new("Dormand-Prince 5(4)", DormandPrinceFiveFour.Table);

    /// <summary>Name for reports.</summary>
    public string Name { get; }

    /// <summary>Order of the step: its error after a fixed time falls as h^Order.</summary>
    public int Order => Table.Order;

    /// <summary>Order of the continuous solution.</summary>
    public int InterpolantOrder => Table.InterpolantOrder;

    /// <summary>Stages before the end of the step; an accepted step costs as many evaluations.</summary>
    public int StageCount => Table.A.Length;

    /// <summary>Extra stages that the continuous solution costs.</summary>
    public int ExtraStageCount => Extra.Length;

    /// <summary>Degree of the continuous solution's polynomial.</summary>
    public int Degree { get; }

    /// <summary>The numbers as published.</summary>
    internal MethodTable Table { get; }

    internal double[] Nodes { get; }

    internal WeightedSum[] Stages { get; }

    internal WeightedSum Step { get; }

    internal WeightedSum Error { get; }

    internal WeightedSum[] Extra { get; }

    internal double[] ExtraNodes { get; }

    /// <summary>For each power p = 1..Degree the weights of the stages.</summary>
    internal WeightedSum[] Powers { get; }

    /// <summary>Whether the error estimate uses the rate at the step's end.</summary>
    internal bool ErrorNeedsEnd { get; }

    /// <summary>The stages at which guards are looked at, in order of time: early enough to be accurate, spread over the step.</summary>
    internal int[] GuardStages { get; }

    /// <inheritdoc/>
    public override string ToString() => Name;
}

/// <summary>A method's numbers as published; rows may leave out trailing zeros.</summary>
/// <param name="Order">Order of the step.</param>
/// <param name="ErrorOrder">Order of the embedded second solution; the error estimate falls as h^(ErrorOrder + 1).</param>
/// <param name="InterpolantOrder">Order of the continuous solution.</param>
/// <param name="StabilityBound">Largest h |lambda| on the negative real axis at which errors do not grow.</param>
/// <param name="GuardStages">Not published, ours: stages at which guards are looked at inside a step, in order of C.</param>
/// <param name="A">Stage weights, s rows.</param>
/// <param name="C">Stage times as fractions of the step, s values.</param>
/// <param name="B">Weights of the step, s values.</param>
/// <param name="E">Error weights, s + 1 values, the last for the rate at the step's end.</param>
/// <param name="X">Weights of the extra stages over the s + 1 stages and the earlier extra ones.</param>
/// <param name="XC">Times of the extra stages.</param>
/// <param name="R">Polynomial weights: for each stage, end and extra stage the factors of theta^1, theta^2, ...</param>
internal sealed record MethodTable(
    int Order,
    int ErrorOrder,
    int InterpolantOrder,
    double StabilityBound,
    int[] GuardStages,
    double[][] A,
    double[] C,
    double[] B,
    double[] E,
    double[][] X,
    double[] XC,
    double[][] R);
