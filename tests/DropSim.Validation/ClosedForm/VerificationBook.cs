using System.Collections.Concurrent;
using System.Globalization;

namespace DropSim.Validation.ClosedForm;

/// <summary>All verification cases in the order of the page, and their results, worked out once in a test run.</summary>
internal static class VerificationBook
{
    private static readonly ConcurrentDictionary<string, Lazy<IReadOnlyList<VerificationPoint>>> _points = new();

    /// <summary>The cases in the order of their numbers.</summary>
    public static IReadOnlyList<VerificationCase> Cases { get; } =
    [
        .. new[]
        {
            PieceCases.All, HingeCases.All, RopeCases.All, RiggingPointCases.All, FrictionDeviceCases.All, HandCases.All, FrictionNetworkCases.All,
            SparCases.All, RootCases.All, ContactCases.All, LedgerCases.All, MeasureCases.All, IntegratorCases.All, ChainCases.All,
        }.SelectMany(cases => cases).OrderBy(c => int.Parse(c.Id.AsSpan(2), CultureInfo.InvariantCulture)),
    ];

    /// <summary>What a case gives.</summary>
    public static IReadOnlyList<VerificationPoint> Points(VerificationCase @case) =>
        _points.GetOrAdd(@case.Id, _ => new(() => [.. @case.Compute()])).Value;

    /// <summary>
    /// The point at which a case comes nearest to what is allowed; of points about as near, and where all are far within it, the first, so
    /// that the last bits of a computation do not choose.
    /// </summary>
    public static VerificationPoint Worst(VerificationCase @case)
    {
        var points = Points(@case);
        var most = points.Max(p => @case.Share(p));
        return points.First(p => @case.Share(p) >= AboutAsNear * most || most < SteadyNumber.Small);
    }

    /// <summary>Shares of what is allowed that differ by less than this factor count as equal. Choice of this page.</summary>
    private const double AboutAsNear = 0.9;
}
