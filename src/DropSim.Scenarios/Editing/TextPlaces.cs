using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace DropSim.Scenarios.Editing;

/// <summary>A key of a text and where it stands: places are offsets into the text, ends exclusive.</summary>
/// <param name="Path">Full path; entries of a list of tables by number: "setup[0].rope.slack".</param>
/// <param name="Table">Path of the table it is written in ("setup[0].rope"); the rest of the path is the key as written.</param>
/// <param name="From">Start of the key.</param>
/// <param name="ValueFrom">Start of the value.</param>
/// <param name="To">End of the value.</param>
/// <param name="InlineParent">Path of the table in braces that holds it; null where it has lines of its own.</param>
internal sealed record KeyPlace(string Path, string Table, int From, int ValueFrom, int To, string? InlineParent);

/// <summary>A [table] or [[table]] of a text.</summary>
/// <param name="Path">Path, lists by number.</param>
/// <param name="Header">Start of the line of the header.</param>
/// <param name="End">End of the last key's line, or of the header's where it has none.</param>
/// <param name="OfList">True for [[table]].</param>
internal sealed record TablePlace(string Path, int Header, int End, bool OfList);

/// <summary>Where everything stands in a TOML text.</summary>
internal sealed class TextPlaces
{
    private readonly string _text;
    private readonly List<KeyPlace> _keys = [];
    private readonly List<TablePlace> _tables = [];
    private readonly Dictionary<string, int> _counts = new(StringComparer.Ordinal);

    private TextPlaces(string text, DocumentSyntax document)
    {
        _text = text;
        foreach (KeyValueSyntax pair in document.KeyValues)
        {
            Pair(pair, "", null);
        }

        foreach (TableSyntaxBase table in document.Tables)
        {
            string path = Numbered(Names(table.Name), table is TableArraySyntax);
            int header = LineStart(table.Span.Start.Offset);
            int end = LineEnd(table.Name is { } name ? End(name) : table.Span.Start.Offset);
            foreach (KeyValueSyntax pair in table.Items)
            {
                Pair(pair, path, null);
                end = LineEnd(End(pair.Value ?? (SyntaxNode)pair));
            }

            _tables.Add(new TablePlace(path, header, end, table is TableArraySyntax));
        }
    }

    public IReadOnlyList<KeyPlace> Keys => _keys;

    public IReadOnlyList<TablePlace> Tables => _tables;

    /// <summary>Reads a text; null where it is not TOML.</summary>
    public static TextPlaces? Of(string text)
    {
        try
        {
            DocumentSyntax document = SyntaxParser.Parse(text, "", false);
            return document.HasErrors ? null : new TextPlaces(text, document);
        }
        catch (Tomlyn.TomlException)
        {
            return null;
        }
    }

    public KeyPlace? Key(string path) => _keys.Find(k => k.Path == path);

    /// <summary>Number of [[name]] in the text.</summary>
    public int Count(string name) => _counts.GetValueOrDefault(name);

    /// <summary>Start of the line that holds a place.</summary>
    public int LineStart(int offset)
    {
        int before = offset == 0 ? -1 : _text.LastIndexOf('\n', offset - 1);
        return before + 1;
    }

    /// <summary>End of the line that holds a place, its line break included.</summary>
    public int LineEnd(int offset)
    {
        int end = _text.IndexOf('\n', Math.Min(offset, _text.Length));
        return end < 0 ? _text.Length : end + 1;
    }

    private static int End(SyntaxNode node) => node.Span.End.Offset + 1;

    private void Pair(KeyValueSyntax pair, string table, string? inlineParent)
    {
        if (pair.Key is null || pair.Value is null)
        {
            return;
        }

        string path = Joined(table, Names(pair.Key));
        _keys.Add(new KeyPlace(path, table, pair.Key.Span.Start.Offset, pair.Value.Span.Start.Offset, End(pair.Value), inlineParent));
        if (pair.Value is InlineTableSyntax inline)
        {
            foreach (InlineTableItemSyntax item in inline.Items)
            {
                if (item.KeyValue is { } child)
                {
                    Pair(child, path, path);
                }
            }
        }
    }

    private string Numbered(List<string> names, bool list)
    {
        string path = "";
        for (int i = 0; i < names.Count; i++)
        {
            path = Joined(path, [names[i]]);
            bool last = i == names.Count - 1;
            if (last && list)
            {
                _counts[path] = _counts.GetValueOrDefault(path) + 1;
            }

            if (_counts.TryGetValue(path, out int count))
            {
                path = FormattableString.Invariant($"{path}[{count - 1}]");
            }
        }

        return path;
    }

    private static string Joined(string path, IEnumerable<string> names) => string.Join('.', names.Prepend(path).Where(n => n.Length > 0));

    private static List<string> Names(KeySyntax? key)
    {
        List<string> names = [];
        if (key?.Key is not null)
        {
            names.Add(Name(key.Key));
            foreach (DottedKeyItemSyntax dotted in key.DotKeys)
            {
                if (dotted.Key is not null)
                {
                    names.Add(Name(dotted.Key));
                }
            }
        }

        return names;
    }

    private static string Name(BareKeyOrStringValueSyntax key) => key switch
    {
        BareKeySyntax bare => bare.Key?.Text ?? "",
        StringValueSyntax quoted => quoted.Value ?? "",
        _ => key.ToString().Trim(),
    };
}
