using System.Text.Json;
using System.Text.RegularExpressions;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Studies;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Words;

/// <summary>
/// Code never reads its own sentences. These tests read the sources: a phrase that is looked for in a text, or a text for people that is
/// searched, cut or compared, is a fact that lacks a value of its own.
/// </summary>
public sealed partial class NoProseReadTests
{
    /// <summary>Where a phrase that is looked for was written by somebody else: a file's units, a library's message.</summary>
    private static readonly string[] WrittenByOthers = ["QuantityParser.cs"];

    [Fact]
    public void No_program_code_looks_for_a_phrase_or_searches_a_text_for_people()
    {
        var found = Lines("src", "*.cs")
            .Where(l => !WrittenByOthers.Contains(l.File))
            .Where(l => PhraseLookedFor().IsMatch(l.Text) || PhraseCompared().IsMatch(l.Text) || TextSearched().IsMatch(l.Text));

        found.Select(l => $"{l.File}: {l.Text.Trim()}").Should().BeEmpty();
    }

    [Fact]
    public void No_code_of_the_page_looks_for_a_phrase_or_searches_what_the_engine_says()
    {
        var found = Lines(Path.Combine("src", "DropSim.Lesson", "page"), "*.js")
            .Where(l => ScriptPhraseLookedFor().IsMatch(l.Text) || ScriptPhraseCompared().IsMatch(l.Text) || ScriptTextSearched().IsMatch(l.Text) || ScriptPatternOnText().IsMatch(l.Text));

        found.Select(l => $"{l.File}: {l.Text.Trim()}").Should().BeEmpty();
    }

    [Theory]
    [InlineData("if (run.End.Description.Contains(o.Name, StringComparison.Ordinal))")]
    [InlineData("e => e.Kind == \"load leg taut\"")]
    [InlineData("case \"hinge breaks\" or \"load leg taut\":")]
    [InlineData("r => r.Name == \"block efficiency\"")]
    [InlineData("var at = how.IndexOf(\"unknown: \", StringComparison.Ordinal);")]
    [InlineData("text.StartsWith(\"at least\", StringComparison.Ordinal)")]
    [InlineData("species?.Source.Contains(\"50% MC\", StringComparison.Ordinal)")]
    [InlineData("Finding(c, scale).Split(\", rising\")[0]")]
    [InlineData("note?.Range.Split(\" to \") is [var from, var to]")]
    public void What_used_to_read_prose_would_be_found(string line) =>
        (PhraseLookedFor().IsMatch(line) || PhraseCompared().IsMatch(line) || TextSearched().IsMatch(line)).Should().BeTrue();

    [Theory]
    [InlineData("if (m.worst === \"no range\") return;")]
    [InlineData("run.events.find((e) => e.kind === \"load leg taut\")")]
    [InlineData("!head.includes(\"about the same\")")]
    [InlineData("[a, b].map((m) => m.worst.startsWith(\"at least\"))")]
    [InlineData("/^at (least|most)/.test(a.central)")]
    [InlineData("!m.text.startsWith(\"strike\")")]
    [InlineData("found.movement.split(/x/)")]
    [InlineData("const at = label.indexOf(\" at the cut\");")]
    [InlineData("room.worst === \"none\"")]
    public void What_used_to_read_prose_on_the_page_would_be_found(string line) =>
        (ScriptPhraseLookedFor().IsMatch(line) || ScriptPhraseCompared().IsMatch(line) || ScriptTextSearched().IsMatch(line) || ScriptPatternOnText().IsMatch(line)).Should().BeTrue();

    /// <summary>The page knew "not reached" where the engine sends "not_reached": whatever the page asks a value for must be a value that it can have.</summary>
    [Fact]
    public void The_page_asks_only_for_values_that_the_engine_sends()
    {
        static string[] Values<T>() where T : struct, Enum => [.. Enum.GetNames<T>().Select(JsonNamingPolicy.SnakeCaseLower.ConvertName)];
        (string Member, string[] Known)[] members =
        [
            ("state", [.. Values<MeasureState>(), "none", "partial", "whole"]),
            ("kind", [.. Values<EventKind>(), .. Values<EndKind>(), .. Values<ComparisonPartKind>(), "ring", "block", "natural-union", "quantity", "choice", "flag", "list", "text", "log", "top", "peak"]),
        ];
        var page = Lines(Path.Combine("src", "DropSim.Lesson", "page"), "*.js").ToArray();
        foreach (var (member, known) in members)
        {
            var asked = page.SelectMany(l => Regex.Matches(l.Text, $"""\b{member} (?:===|!==) "([^"]*)["]""").Select(m => (l.File, Value: m.Groups[1].Value))).ToArray();
            asked.Should().NotBeEmpty(member);
            asked.Where(a => !known.Contains(a.Value)).Should().BeEmpty(member);
        }
    }

    private static IEnumerable<(string File, string Text)> Lines(string folder, string pattern) =>
        Directory.EnumerateFiles(Repository.Folder(folder), pattern, SearchOption.AllDirectories)
            .Where(f => !f.Split(Path.DirectorySeparatorChar).Any(p => p is "obj" or "bin"))
            .SelectMany(f => File.ReadLines(f).Select(l => (Path.GetFileName(f), l)))
            .Where(l => !l.l.TrimStart().StartsWith("//", StringComparison.Ordinal) && !l.l.TrimStart().StartsWith("* ", StringComparison.Ordinal));

    // A literal of words with a space among or beside them.
    private const string Phrase = "\"(?:[^\"\\\\]*[A-Za-z%][^\"\\\\]* [^\"\\\\]*|[^\"\\\\]* [^\"\\\\]*[A-Za-z%][^\"\\\\]*)\"";

    [GeneratedRegex("""\.(?:Contains|StartsWith|EndsWith|IndexOf|LastIndexOf|Split|Replace)\(\s*""" + Phrase)]
    private static partial Regex PhraseLookedFor();

    // Units of measure are symbols, not words; a bracket or a brace stands between two literals, not in one that is compared.
    [GeneratedRegex("""(?:==|!=|\bis(?: not)?|\bor|\bcase)\s+(?!"(?:N m|rad/\(N m\)|N m/rad)")(?!"[^"]*[(){}])""" + Phrase)]
    private static partial Regex PhraseCompared();

    // Lines of a label are laid out, not read.
    [GeneratedRegex("""\b(?:Description|HowFound|Detail|Source|Paragraph|Label|Refusal|Warnings?|Words|WorstInputs|Range)\??\.(?:Contains|StartsWith|EndsWith|IndexOf|LastIndexOf|Split|Replace)\((?!'\\n')""")]
    private static partial Regex TextSearched();

    [GeneratedRegex("""\.(?:includes|startsWith|endsWith|indexOf|lastIndexOf|split|replace|match|search)\(\s*""" + Phrase)]
    private static partial Regex ScriptPhraseLookedFor();

    [GeneratedRegex("""(?:===|!==)\s*""" + Phrase)]
    private static partial Regex ScriptPhraseCompared();

    // Words of a caption are laid out, not read.
    [GeneratedRegex("""\b(?:central|thisDrop|likeIt|notCaught|says|stress|worst|howFound|detail|description|title|paragraph|movement|text|heading|label|short|worstInputs|words|head|rest|source|said)(?:\.(?:includes|startsWith|endsWith|indexOf|lastIndexOf|split|match|search)\((?!/\\s\+/\))| (?:===|!==) ["`])""")]
    private static partial Regex ScriptTextSearched();

    [GeneratedRegex("""/\.test\([^)]*\b(?:central|thisDrop|likeIt|notCaught|says|stress|worst|howFound|detail|description|title|paragraph|movement|text|heading|label|words)\b""")]
    private static partial Regex ScriptPatternOnText();
}
