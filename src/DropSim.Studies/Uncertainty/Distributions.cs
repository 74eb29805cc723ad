using DropSim.Model;
using MathNet.Numerics.Distributions;

namespace DropSim.Studies.Uncertainty;

/// <summary>From a number between 0 and 1 to a value of a distribution.</summary>
internal static class Distributions
{
    /// <summary>The 95 % point of the standard normal distribution.</summary>
    private static readonly double NinetyFive = Normal.InvCDF(0, 1, 0.95);

    /// <summary>Quantile, SI.</summary>
    /// <param name="distribution">The distribution.</param>
    /// <param name="share">Share below it, 0 to 1, ends excluded.</param>
    public static double Quantile(InputDistribution distribution, double share)
    {
        var (low, mid, high) = (distribution.Low, distribution.Mid, distribution.High);
        var value = distribution.Kind switch
        {
            DistributionKind.Uniform => low + (share * (high - low)),
            DistributionKind.Triangular => Triangular.InvCDF(low, high, mid, share),
            DistributionKind.LogTriangular => Math.Exp(Triangular.InvCDF(Math.Log(low), Math.Log(high), Math.Log(mid), share)),
            DistributionKind.Normal => Cut((low + high) / 2, (high - low) / (2 * NinetyFive), distribution.Least, distribution.Most, share),
            _ => Math.Exp(Cut(
                (Math.Log(low) + Math.Log(high)) / 2, Math.Log(high / low) / (2 * NinetyFive),
                distribution.Least > 0 ? Math.Log(distribution.Least) : double.NegativeInfinity, Math.Log(distribution.Most), share)),
        };
        return Math.Clamp(value, distribution.Least, distribution.Most);
    }

    /// <summary>A normal distribution between limits: the share is laid into what lies between them.</summary>
    private static double Cut(double mean, double deviation, double least, double most, double share)
    {
        var below = Normal.CDF(mean, deviation, least);
        var above = Normal.CDF(mean, deviation, most);
        return Normal.InvCDF(mean, deviation, below + (share * (above - below)));
    }
}
