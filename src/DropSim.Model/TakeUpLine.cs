using System.Runtime.CompilerServices;
namespace DropSim.Model;

/// <summary>A take-up as a straight line: the force at which rope is drawn, over the rope drawn so far.</summary>
internal readonly struct TakeUpLine
{
    private readonly double _from;

    /// <param name="takeUp">The take-up; one without length rises nowhere.</param>
    public TakeUpLine(TakeUpInput takeUp)
    {
        _from = takeUp.ForceFrom;
        Slope = takeUp.Length > 0 ? (takeUp.ForceTo - takeUp.ForceFrom) / takeUp.Length : 0;
    }

    /// <summary>Rise of the force per rope drawn, N/m.</summary>
    public double Slope { get; }

    /// <summary>Force at which it gives, N; continued straight past its ends.</summary>
    /// <param name="drawn">Rope drawn so far, m.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double Force(double drawn) => _from + (Slope * drawn);
}
