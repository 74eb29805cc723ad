namespace DropSim.Browser;

/// <summary>Folders of the repository.</summary>
internal static class Repository
{
    public static string Folder(string name)
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "DropSim.sln")))
            {
                return Path.Combine(at.FullName, name);
            }
        }

        throw new DirectoryNotFoundException("The tests run inside the repository.");
    }
}
