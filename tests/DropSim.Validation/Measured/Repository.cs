namespace DropSim.Validation.Measured;

/// <summary>Folders of the source tree, found from where the tests run.</summary>
internal static class Repository
{
    public static string Folder(string name)
    {
        for (DirectoryInfo? at = new(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "DropSim.sln")))
            {
                return Path.Combine(at.FullName, name);
            }
        }

        throw new DirectoryNotFoundException("DropSim.sln was not found above the tests.");
    }
}
