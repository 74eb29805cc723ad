namespace DropSim.Validation.ClosedForm;

/// <summary>The documents in the source tree, found from where the tests run.</summary>
internal static class Docs
{
    public static string Folder { get; } = Find();

    private static string Find()
    {
        for (DirectoryInfo? at = new(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "DropSim.sln")))
            {
                return Path.Combine(at.FullName, "docs");
            }
        }

        throw new DirectoryNotFoundException("DropSim.sln was not found above the tests.");
    }
}
