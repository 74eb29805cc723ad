using System.Text.RegularExpressions;
using System.Xml.Linq;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests;

/// <summary>The projects refer to one another as the map in DEVELOPERS.md says, one way only.</summary>
public sealed partial class ProjectMapTests
{
    /// <summary>The page carries the published lesson as a file; it does not refer to it as code.</summary>
    private const string Carried = "$(LessonProject)";

    private static readonly Dictionary<string, string[]> s_references = Directory
        .EnumerateFiles(Repository.Folder("src"), "*.csproj", SearchOption.AllDirectories)
        .ToDictionary(
            file => Path.GetFileNameWithoutExtension(file)!,
            file => XDocument.Load(file).Descendants("ProjectReference").Select(r => r.Attribute("Include")!.Value)
                .Where(path => path != Carried).Select(path => Path.GetFileNameWithoutExtension(path.Replace('\\', '/'))).ToArray(),
            StringComparer.Ordinal);

    [Fact]
    public void Every_project_refers_only_to_what_the_map_allows()
    {
        var map = Allowed();
        map.Keys.Should().BeEquivalentTo(s_references.Keys, "every project stands in the map, and nothing else does");
        foreach (var (project, references) in s_references)
        {
            if (map[project] is { } allowed)
            {
                references.Should().BeSubsetOf(allowed, $"of the row of {project}");
            }
        }
    }

    [Fact]
    public void No_arrow_leads_back()
    {
        var order = new List<string>();
        while (order.Count < s_references.Count)
        {
            // A project that refers to nothing but what is in place already; where there is none, the rest goes round in a circle.
            var next = s_references.Keys.Where(p => !order.Contains(p) && s_references[p].All(order.Contains)).Order(StringComparer.Ordinal).ToArray();
            next.Should().NotBeEmpty($"after {string.Join(", ", order)} something can be built");
            order.AddRange(next);
        }

        order[0].Should().Be("DropSim.Integration", "the engine knows nothing of ours");
        s_references.Values.SelectMany(r => r).Should().NotContain("DropSim.Cli", "nothing is built on the command line");
    }

    /// <summary>For each project of src what its row in the map allows; null for a row that says all.</summary>
    private static Dictionary<string, string[]?> Allowed() => Row().Matches(File.ReadAllText(Repository.Folder("DEVELOPERS.md")))
        .ToDictionary(
            row => row.Groups["project"].Value,
            row => row.Groups["uses"].Value.Trim() switch
            {
                "all" => null,
                var nothing when nothing.StartsWith("nothing of ours", StringComparison.Ordinal) => [],
                var list => list.Split(',').Select(name => $"DropSim.{name.Trim()}").ToArray(),
            },
            StringComparer.Ordinal);

    [GeneratedRegex(@"^\| src/(?<project>DropSim\.\w+) \|.*\|(?<uses>[^|]+)\|\s*$", RegexOptions.Multiline)]
    private static partial Regex Row();
}
