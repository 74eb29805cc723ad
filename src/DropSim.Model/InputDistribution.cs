namespace DropSim.Model;

/// <summary>How an uncertain input is spread.</summary>
public enum DistributionKind
{
    /// <summary>Every value between low and high alike.</summary>
    Uniform,

    /// <summary>Between low and high, most likely at the middle value.</summary>
    Triangular,

    /// <summary>As triangular, on a logarithmic scale: for quantities known to a factor.</summary>
    LogTriangular,

    /// <summary>Normal; low and high are its 5 % and 95 % points.</summary>
    Normal,

    /// <summary>Lognormal; low and high are its 5 % and 95 % points.</summary>
    LogNormal,
}

/// <summary>The distribution of an uncertain input.</summary>
/// <param name="Kind">Its shape.</param>
/// <param name="Low">Lower end, or 5 % point; SI.</param>
/// <param name="Mid">Most likely value of the triangular shapes, the median of the others; SI.</param>
/// <param name="High">Upper end, or 95 % point; SI.</param>
public sealed record InputDistribution(DistributionKind Kind, double Low, double Mid, double High)
{
    /// <summary>No value below this is drawn: what is below is cut off and the rest scaled up.</summary>
    public double Least { get; init; } = double.NegativeInfinity;

    /// <summary>No value above this is drawn.</summary>
    public double Most { get; init; } = double.PositiveInfinity;
}

/// <summary>An uncertain input of a case with its distribution.</summary>
/// <param name="Key">Key of the scenario file that names it ("rope.slack"); "" where it has none of its own.</param>
/// <param name="Range">Name, unit, central value, stated range, source, and how to set it.</param>
/// <param name="Distribution">How it is spread.</param>
/// <param name="Given">True where the scenario gave the distribution, false where it follows from a stated range.</param>
public sealed record UncertainInput(string Key, InputRange Range, InputDistribution Distribution, bool Given);
