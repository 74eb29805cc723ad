namespace DropSim.Integration;

/// <summary>An embedded explicit Runge-Kutta pair as data. (Placeholder; the tables follow.)</summary>
public sealed class RungeKuttaMethod
{
    private RungeKuttaMethod()
    {
    }

    /// <summary>Verner's "most efficient" 7(6) pair.</summary>
    public static RungeKuttaMethod Verner76 { get; } = new();

    /// <summary>Dormand and Prince's 5(4) pair.</summary>
    public static RungeKuttaMethod DormandPrince54 { get; } = new();
}
