using System.Reflection;
using System.Text;

namespace DropSim.Page;

/// <summary>The scenarios that ship with the program, for a page that is asked for without any.</summary>
public static class ShippedScenarios
{
    private const string Prefix = "scenarios/";

    /// <summary>The one to open first: the same drop, locked off or let run.</summary>
    private const string FirstShown = "medium-log.toml";

    /// <summary>All of them, the one to open first at the head.</summary>
    public static IReadOnlyList<LessonFile> All { get; } = [.. Names().Select(Read)];

    private static IEnumerable<string> Names() => Assembly.GetExecutingAssembly().GetManifestResourceNames()
        .Where(n => n.StartsWith(Prefix, StringComparison.Ordinal))
        .OrderBy(n => n == Prefix + FirstShown ? 0 : 1).ThenBy(n => n, StringComparer.Ordinal);

    private static LessonFile Read(string resource)
    {
        using var reader = new StreamReader(Assembly.GetExecutingAssembly().GetManifestResourceStream(resource)!, new UTF8Encoding(false), false);
        return new(resource[Prefix.Length..], reader.ReadToEnd());
    }
}
