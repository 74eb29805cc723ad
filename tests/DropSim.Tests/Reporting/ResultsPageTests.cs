using System.Reflection;
using DropSim.Model;

namespace DropSim.Tests.Reporting;

/// <summary>docs/results.md explains every number that a result can hold.</summary>
public sealed class ResultsPageTests
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Root(), "docs", "results.md"));

    private static readonly string[] All =
        [.. typeof(MeasureIds).GetFields(BindingFlags.Public | BindingFlags.Static).Select(f => (string)f.GetRawConstantValue()!)];

    public static TheoryData<string> Ids => [.. All];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_measure_is_explained(string id) => Page.Should().Contain($"`{id}`");

    [Fact]
    public void No_measure_is_explained_that_does_not_exist()
    {
        // The table of measures, to its last row: its first column holds ids and nothing else.
        var table = Page[Page.IndexOf("| id | is | unit |", StringComparison.Ordinal)..];
        var explained = table.Split('\n').Skip(2).TakeWhile(row => row.StartsWith('|'))
            .SelectMany(row => row.Split('|')[1].Split('`').Where((_, i) => i % 2 == 1)).ToArray();

        explained.Should().OnlyHaveUniqueItems();
        explained.Should().BeEquivalentTo(All);
    }

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (at is not null && !File.Exists(Path.Combine(at.FullName, "DropSim.sln")))
        {
            at = at.Parent;
        }

        return at?.FullName ?? throw new DirectoryNotFoundException("DropSim.sln was not found above the tests.");
    }
}
