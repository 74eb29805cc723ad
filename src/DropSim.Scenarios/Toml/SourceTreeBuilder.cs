using System.Text.RegularExpressions;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace DropSim.Scenarios.Toml;

/// <summary>
/// Builds the tree of a TOML text with line numbers. A key or a table given twice is left to this builder, because its
/// message names both lines; both are
/// problems. Depth and size are limited so that a hostile file is refused, not followed.
/// </summary>
internal sealed partial class SourceTreeBuilder(string file, List<ScenarioProblem> problems)
{
    private const int MaximumDepth = 6;
    private const int MaximumNodes = 5000;
    private const int MaximumSyntaxProblems = 20;
    private int _nodes;

    public SourceTable? Build(string text)
    {
        DocumentSyntax document;
        try
        {
            document = SyntaxParser.Parse(text, file, false);
        }
        catch (TomlException e)
        {
            bool deep = e.Message.Contains("depth", StringComparison.OrdinalIgnoreCase);
            Problem(0, "", deep ? "lists or tables nested too deep" : "text that cannot be read as TOML",
                "key = \"value\" lines under [table] headers" + (deep ? ", at most a few levels" : ": " + FirstLine(e.Message)));
            return null;
        }

        // One slip in a line sets the parser stumbling over the rest of it: its first word is enough.
        string[] lines = text.Split('\n');
        foreach (DiagnosticMessage message in document.Diagnostics.DistinctBy(m => m.Span.Start.Line).Take(MaximumSyntaxProblems))
        {
            int line = message.Span.Start.Line;
            Match comma = line < lines.Length ? DecimalComma().Match(lines[line]) : Match.Empty;
            Problem(line + 1, "", comma.Success ? Short(comma.Groups["number"].Value) : "a line that is not TOML",
                comma.Success ? "a decimal point and no thousands separator, for example 1.5 (a comma means different things in different countries)" : "key = \"value\": " + FirstLine(message.Message));
        }

        if (problems.Count > 0)
        {
            return null;
        }

        SourceTable root = new(1);
        foreach (KeyValueSyntax pair in document.KeyValues)
        {
            AddPair(root, pair, "", 0);
        }

        foreach (TableSyntaxBase table in document.Tables)
        {
            AddTable(root, table);
        }

        return root;
    }

    private void AddTable(SourceTable root, TableSyntaxBase syntax)
    {
        List<string> keys = Keys(syntax.Name);
        int line = syntax.Span.Start.Line + 1;
        string path = string.Join(".", keys);
        if (!Count(line))
        {
            return;
        }

        if (keys.Count is 0 or > MaximumDepth)
        {
            Problem(line, Short(path), "a table nested too deep", "at most a few levels");
            return;
        }

        SourceTable? parent = Descend(root, keys, path, line);
        if (parent is null)
        {
            return;
        }

        string last = keys[^1];
        SourceNode? existing = parent.Find(last);
        SourceTable target = new(line) { Closed = true };
        if (syntax is TableArraySyntax)
        {
            if (existing is null)
            {
                existing = new SourceList(line, true);
                parent.Add(last, existing);
            }

            if (existing is not SourceList { OfTables: true } list)
            {
                Problem(line, Short(path), $"[[{Short(path)}]] after another use of the name", "one use of a name");
                return;
            }

            list.Items.Add(target);
        }
        else if (existing is SourceTable { Closed: false } open)
        {
            open.Closed = true;
            target = open;
        }
        else if (existing is not null)
        {
            Problem(line, Short(path), $"[{Short(path)}] a second time (first in line {existing.Line})", "each table once");
            return;
        }
        else
        {
            parent.Add(last, target);
        }

        foreach (KeyValueSyntax pair in syntax.Items)
        {
            AddPair(target, pair, path, keys.Count);
        }
    }

    /// <summary>The table that holds the last key; the last element of a list of tables on the way.</summary>
    private SourceTable? Descend(SourceTable from, List<string> keys, string path, int line)
    {
        SourceTable at = from;
        foreach (string key in keys.Take(keys.Count - 1))
        {
            SourceNode? next = at.Find(key);
            if (next is null)
            {
                SourceTable opened = new(line);
                at.Add(key, opened);
                at = opened;
                continue;
            }

            SourceNode step = next is SourceList { OfTables: true } list ? list.Items[^1] : next;
            if (step is not SourceTable table)
            {
                Problem(line, Short(path), $"'{Short(key)}' as a table, but it has a value in line {next.Line}", "either a value or a table");
                return null;
            }

            at = table;
        }

        return at;
    }

    private void AddPair(SourceTable table, KeyValueSyntax pair, string prefix, int depth)
    {
        List<string> keys = Keys(pair.Key);
        int line = pair.Span.Start.Line + 1;
        string path = (prefix.Length > 0 ? prefix + "." : "") + string.Join(".", keys);
        if (keys.Count is 0 or > MaximumDepth || depth + keys.Count > MaximumDepth || pair.Value is null)
        {
            Problem(line, Short(path), "a value nested too deep", "at most a few levels");
            return;
        }

        SourceTable? parent = Descend(table, keys, path, line);
        if (parent is null)
        {
            return;
        }

        if (parent.Find(keys[^1]) is { } first)
        {
            Problem(line, Short(path), $"the key a second time (first in line {first.Line})", "each key once");
            return;
        }

        if (Value(pair.Value, path, depth + keys.Count, line) is { } node)
        {
            parent.Add(keys[^1], node);
        }
    }

    private SourceNode? Value(ValueSyntax value, string path, int depth, int line)
    {
        if (!Count(line))
        {
            return null;
        }

        if (depth > MaximumDepth)
        {
            Problem(line, Short(path), "a value nested too deep", "at most a few levels");
            return null;
        }

        line = value.Span.Start.Line + 1;
        switch (value)
        {
            case StringValueSyntax text:
                if (Printable.FirstHostile(text.Value ?? "") is { } hostile)
                {
                    Problem(line, Short(path), FormattableString.Invariant($"a character that does not print (U+{(int)hostile:X4})"), "text that can be read");
                }

                return new SourceScalar(line, ScalarKind.Text, text.Value ?? "");
            case IntegerValueSyntax whole:
                return new SourceScalar(line, ScalarKind.Number, whole.Token?.Text ?? "");
            case FloatValueSyntax number:
                return new SourceScalar(line, ScalarKind.Number, number.Token?.Text ?? "");
            case BooleanValueSyntax flag:
                return new SourceScalar(line, ScalarKind.Flag, flag.Value ? "true" : "false");
            case ArraySyntax array:
                SourceList list = new(line, false);
                foreach (ArrayItemSyntax item in array.Items)
                {
                    if (item.Value is not null && Value(item.Value, path, depth + 1, line) is { } child)
                    {
                        list.Items.Add(child);
                    }
                }

                return list;
            case InlineTableSyntax inline:
                SourceTable table = new(line) { Closed = true };
                foreach (InlineTableItemSyntax item in inline.Items)
                {
                    if (item.KeyValue is not null)
                    {
                        AddPair(table, item.KeyValue, path, depth);
                    }
                }

                return table;
            default:
                return new SourceScalar(line, ScalarKind.Other, value.ToString().Trim());
        }
    }

    private static List<string> Keys(KeySyntax? key)
    {
        List<string> keys = [];
        if (key?.Key is null)
        {
            return keys;
        }

        keys.Add(Text(key.Key));
        foreach (DottedKeyItemSyntax dotted in key.DotKeys)
        {
            if (dotted.Key is not null)
            {
                keys.Add(Text(dotted.Key));
            }

            if (keys.Count > MaximumDepth)
            {
                break;
            }
        }

        return keys;
    }

    private static string Text(BareKeyOrStringValueSyntax key) => key switch
    {
        BareKeySyntax bare => bare.Key?.Text ?? "",
        StringValueSyntax quoted => quoted.Value ?? "",
        _ => key.ToString().Trim(),
    };

    private bool Count(int line)
    {
        if (++_nodes == MaximumNodes)
        {
            Problem(line, "", "more than 5000 values", "a scenario written by a person");
        }

        return _nodes < MaximumNodes;
    }

    private static string Short(string text) => text.Length > 80 ? text[..80] + "..." : text;

    private static string FirstLine(string text) => Short(text.Split('\n')[0].Trim());

    private void Problem(int line, string path, string found, string expected)
    {
        if (problems.Count < 100)
        {
            problems.Add(new ScenarioProblem(file, line, path, found, expected));
        }
    }

    /// <summary>A number with a comma in it after "=", without quotes.</summary>
    [GeneratedRegex(@"=\s*(?<number>[-+]?[0-9]+(?:,[0-9]+)+)")]
    private static partial Regex DecimalComma();
}
