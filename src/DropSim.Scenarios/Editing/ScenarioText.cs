using System.Text;

namespace DropSim.Scenarios.Editing;

/// <summary>
/// A scenario's text in which single keys are set or taken out; everything else, remarks and order among it, stays as it was written.
/// A place that cannot be edited line by line (a table in braces over several lines, say) leaves the text unchanged.
/// </summary>
internal sealed class ScenarioText
{
    private TextPlaces _places;

    private ScenarioText(string text, TextPlaces places)
    {
        Text = text;
        _places = places;
    }

    /// <summary>The text now.</summary>
    public string Text { get; private set; }

    /// <summary>Reads a text; null where it is not TOML.</summary>
    public static ScenarioText? Of(string text) => TextPlaces.Of(text) is { } places ? new ScenarioText(text, places) : null;

    /// <summary>Number of [[name]] in the text.</summary>
    public int Count(string list) => _places.Count(list);

    /// <summary>True where a key stands in the text.</summary>
    public bool Has(string path) => _places.Key(path) is not null;

    /// <summary>Paths below a table.</summary>
    public IReadOnlyList<string> Below(string table) => [.. _places.Keys.Where(k => k.Path.StartsWith(table + ".", StringComparison.Ordinal)).Select(k => k.Path)];

    /// <summary>A value as written; null where the key is not there.</summary>
    public string? Value(string path) => _places.Key(path) is { } key ? Text[key.ValueFrom..key.To] : null;

    /// <summary>Writes a value, in place of the one that is there or at the end of its table.</summary>
    /// <param name="path">Path with lists by number: "setup[0].rope.slack".</param>
    /// <param name="literal">The value as TOML.</param>
    public void Set(string path, string literal)
    {
        if (_places.Key(path) is { } key)
        {
            Replace(key.ValueFrom, key.To, literal);
            return;
        }

        (string table, string name) = Split(path);
        if (_places.Key(table) is { } inline && Text[inline.ValueFrom] == '{')
        {
            bool empty = !_places.Keys.Any(k => k.InlineParent == table);
            int brace = inline.To - 1;
            while (brace > 0 && Text[brace - 1] == ' ')
            {
                brace--;
            }

            Replace(brace, inline.To, $"{(empty ? "" : ",")} {name} = {literal} }}");
            return;
        }

        if (_places.Tables.FirstOrDefault(t => t.Path == table) is { } header)
        {
            Insert(header.End, $"{name} = {literal}");
            return;
        }

        // Written with dots ("rope.diameter = ..."): a header would open the table a second time, so the new key is written so too.
        KeyPlace? sibling = _places.Keys.LastOrDefault(k => k.InlineParent is null && k.Table != table && k.Path.StartsWith(table + ".", StringComparison.Ordinal) && (table.StartsWith(k.Table, StringComparison.Ordinal) || k.Table.Length == 0));
        if (sibling is not null)
        {
            string written = sibling.Table.Length == 0 ? path : path[(sibling.Table.Length + 1)..];
            Insert(_places.LineEnd(sibling.To), $"{written} = {literal}");
            return;
        }

        if (table.Length == 0)
        {
            Insert(_places.Keys.LastOrDefault(k => k.Table.Length == 0 && k.InlineParent is null) is { } top ? _places.LineEnd(top.To) : 0, $"{name} = {literal}");
            return;
        }

        Insert(PlaceOfNewTable(table), $"\n[{Unnumbered(table)}]\n{name} = {literal}");
    }

    /// <summary>Takes a key out, with the remark on its line.</summary>
    public void Remove(string path)
    {
        if (_places.Key(path) is not { } key)
        {
            return;
        }

        if (key.InlineParent is not null)
        {
            int from = key.From;
            int to = key.To;
            int next = to;
            while (next < Text.Length && char.IsWhiteSpace(Text[next]))
            {
                next++;
            }

            if (next < Text.Length && Text[next] == ',')
            {
                to = next + 1;
                while (to < Text.Length && Text[to] == ' ')
                {
                    to++;
                }
            }
            else
            {
                int before = from - 1;
                while (before > 0 && char.IsWhiteSpace(Text[before]))
                {
                    before--;
                }

                from = Text[before] == ',' ? before : from;
            }

            Replace(from, to, "");
            return;
        }

        Replace(_places.LineStart(key.From), _places.LineEnd(key.To), "");
    }

    /// <summary>Writes a table of a list after everything else.</summary>
    public void Append(string list, params (string Name, string Literal)[] keys)
    {
        StringBuilder table = new();
        table.Append('\n').Append("[[").Append(list).Append("]]");
        foreach ((string name, string literal) in keys)
        {
            table.Append('\n').Append(name).Append(" = ").Append(literal);
        }

        Insert(Text.Length, table.ToString());
    }

    /// <summary>A text as a TOML string.</summary>
    public static string Quoted(string text)
    {
        StringBuilder quoted = new("\"");
        foreach (char c in text)
        {
            _ = c switch
            {
                '"' => quoted.Append("\\\""),
                '\\' => quoted.Append("\\\\"),
                _ when char.IsControl(c) => quoted.Append(System.Globalization.CultureInfo.InvariantCulture, $"\\u{(int)c:x4}"),
                _ => quoted.Append(c),
            };
        }

        return quoted.Append('"').ToString();
    }

    /// <summary>The end of the set-up that a new table belongs to, or the place before the first list of tables.</summary>
    private int PlaceOfNewTable(string table)
    {
        int bracket = table.IndexOf(']', StringComparison.Ordinal);
        if (bracket >= 0)
        {
            string owner = table[..(bracket + 1)];
            return _places.Tables.LastOrDefault(t => t.Path == owner || t.Path.StartsWith(owner + ".", StringComparison.Ordinal))?.End ?? Text.Length;
        }

        TablePlace? plain = _places.Tables.LastOrDefault(t => !t.Path.Contains(']', StringComparison.Ordinal));
        return plain?.End ?? Text.Length;
    }

    private static string Unnumbered(string path) =>
        string.Join('.', path.Split('.').Select(part => part.Split('[')[0]));

    private static (string Table, string Name) Split(string path)
    {
        int dot = path.LastIndexOf('.');
        return dot < 0 ? ("", path) : (path[..dot], path[(dot + 1)..]);
    }

    private void Insert(int at, string lines)
    {
        string newLine = Text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        string before = at > 0 && Text[at - 1] != '\n' ? newLine : "";
        Replace(at, at, before + lines.Replace("\n", newLine, StringComparison.Ordinal) + newLine);
    }

    /// <summary>Exchanges a stretch of the text; an exchange after which it could not be read any more is not made.</summary>
    private void Replace(int from, int to, string text)
    {
        string changed = string.Concat(Text.AsSpan(0, from), text, Text.AsSpan(to));
        if (TextPlaces.Of(changed) is { } places)
        {
            (Text, _places) = (changed, places);
        }
    }
}
