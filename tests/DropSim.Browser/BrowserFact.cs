namespace DropSim.Browser;

/// <summary>
/// A test that needs a browser: skipped, with the reason, on a machine without one, so that the SDK alone passes the tests. Where CI is
/// set a browser must be there, and its absence is a failure.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute() => Skip = Chromium.WhySkipped!;
}

/// <summary>The same for a test over several examples.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserTheoryAttribute : TheoryAttribute
{
    public BrowserTheoryAttribute() => Skip = Chromium.WhySkipped!;
}
