namespace DropSim.Validation.ClosedForm;

/// <summary>One answer that is known beforehand, at one setting: what it should be and what the code gives.</summary>
/// <param name="Where">The setting ("fall factor 1.5"); empty where there is only one.</param>
/// <param name="Expected">What the formula gives.</param>
/// <param name="Got">What DropSim gives.</param>
internal readonly record struct VerificationPoint(string Where, double Expected, double Got);

/// <summary>
/// One row of docs/verification.md: an answer known in closed form (or by an independent solution), and the code's own answer,
/// worked out when asked for.
/// </summary>
internal sealed record VerificationCase
{
    /// <summary>Number that stays ("V-301"); the hundreds say which component.</summary>
    public required string Id { get; init; }

    /// <summary>Page that holds the equation, from docs/ ("theory/rope.md").</summary>
    public required string Page { get; init; }

    /// <summary>What is checked, in words.</summary>
    public required string What { get; init; }

    /// <summary>The formula that gives the expected value.</summary>
    public required string Formula { get; init; }

    /// <summary>Where the formula comes from, with the grade of docs/references.md, or "derived here" with where the derivation stands.</summary>
    public required string Source { get; init; }

    /// <summary>Unit of expected and got; empty for a plain number.</summary>
    public string Unit { get; init; } = "";

    /// <summary>Difference allowed, in the unit.</summary>
    public double Absolute { get; init; }

    /// <summary>Difference allowed, as a share of the expected value; both add up.</summary>
    public double Relative { get; init; }

    /// <summary>Why this much difference is allowed.</summary>
    public required string Why { get; init; }

    /// <summary>Works both values out.</summary>
    public required Func<IEnumerable<VerificationPoint>> Compute { get; init; }

    /// <summary>Difference allowed at a point.</summary>
    public double Allowed(in VerificationPoint point) => Absolute + (Relative * Math.Abs(point.Expected));

    /// <summary>Difference as a share of what is allowed; above 1 the check fails, and so it does where a value is not a number.</summary>
    public double Share(in VerificationPoint point)
    {
        var share = Math.Abs(point.Got - point.Expected) / Allowed(point);
        return double.IsNaN(share) ? double.PositiveInfinity : share;
    }
}
