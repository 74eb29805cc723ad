namespace DropSim.Validation.Documents;

/// <summary>
/// A part of a document that a test writes: it stands between two marks, and the test fails where the committed text differs from
/// what the code gives. To renew: DROPSIM_WRITE_DOCS=1 dotnet test, then look at the difference.
/// </summary>
internal static class GeneratedSection
{
    private static bool Renew => Environment.GetEnvironmentVariable("DROPSIM_WRITE_DOCS") == "1";

    /// <summary>Compares, or writes where asked to.</summary>
    /// <param name="document">Path below docs.</param>
    /// <param name="name">Name of the part.</param>
    /// <param name="lines">What the code gives.</param>
    public static void Check(string document, string name, IEnumerable<string> lines)
    {
        var path = Path.Combine(Root, "docs", document);
        var begin = $"<!-- generated: {name} -->\n";
        var end = $"<!-- end of {name} -->";
        var text = File.ReadAllText(path);
        var from = text.IndexOf(begin, StringComparison.Ordinal);
        var to = text.IndexOf(end, StringComparison.Ordinal);
        from.Should().BeGreaterThan(0, $"{document} holds the mark of {name}");
        to.Should().BeGreaterThan(from);
        from += begin.Length;
        var content = string.Join('\n', lines) + "\n";
        if (Renew)
        {
            File.WriteAllText(path, text[..from] + content + text[to..]);
        }
        else
        {
            text[from..to].Should().Be(content, $"docs/{document} is kept in step by DROPSIM_WRITE_DOCS=1");
        }
    }

    /// <summary>Top folder of the source tree.</summary>
    public static string Root
    {
        get
        {
            for (DirectoryInfo? at = new(AppContext.BaseDirectory); at is not null; at = at.Parent)
            {
                if (File.Exists(Path.Combine(at.FullName, "DropSim.sln")))
                {
                    return at.FullName;
                }
            }

            throw new DirectoryNotFoundException("DropSim.sln was not found above the tests.");
        }
    }
}
