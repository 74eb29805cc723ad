using DropSim.Scenarios;
using Spectre.Console;

namespace DropSim.Cli;

/// <summary>Where a command writes: tables drawn for a terminal, plain text in columns where the output is redirected.</summary>
internal sealed class Terminal
{
    private const int PlainGap = 2;

    /// <summary>Longest line of a paragraph; shorter where the terminal is narrower.</summary>
    private const int WidestLine = 110;

    private readonly int _width = WidestLine;
    private readonly IAnsiConsole? _console;

    public Terminal(TextWriter output, TextWriter error)
    {
        Output = new PrintableWriter(output, true);
        Error = new PrintableWriter(error, true);
        Help = new PrintableWriter(output, false);
        if (ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected)
        {
            _console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output) });
            _width = Math.Min(WidestLine, _console.Profile.Width);
        }

        ShowProgress = ReferenceEquals(error, Console.Error) && !Console.IsErrorRedirected;
    }

    public TextWriter Output { get; }

    public TextWriter Error { get; }

    /// <summary>For what the parser of the command line writes: help is written in lines that hold several.</summary>
    public TextWriter Help { get; }

    /// <summary>True where somebody watches.</summary>
    public bool ShowProgress { get; }

    /// <summary>A table with a heading row.</summary>
    public void Table(IReadOnlyList<string> heading, IEnumerable<IReadOnlyList<string>> rows)
    {
        var all = rows.ToArray();
        if (_console is not null)
        {
            var table = new Table { Border = TableBorder.Simple };
            foreach (var cell in heading)
            {
                table.AddColumn(new TableColumn(Markup.Escape(cell)));
            }

            foreach (var row in all)
            {
                table.AddRow([.. row.Select(c => new Text(Printable.Of(c)))]);
            }

            _console.Write(table);
            return;
        }

        var widths = heading.Select((h, i) => Math.Max(h.Length, all.Length == 0 ? 0 : all.Max(r => r[i].Length))).ToArray();
        Line(heading, widths);
        foreach (var row in all)
        {
            Line(row, widths);
        }
    }

    /// <summary>A paragraph, wrapped and indented.</summary>
    public void Paragraph(string text, int indent = 2)
    {
        var line = new string(' ', indent);
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Trim().Length > 0 && line.Length + 1 + word.Length > _width)
            {
                Output.WriteLine(line.TrimEnd());
                line = new string(' ', indent);
            }

            line += line.Trim().Length == 0 ? word : " " + word;
        }

        Output.WriteLine(line.TrimEnd());
    }

    private void Line(IReadOnlyList<string> cells, int[] widths) =>
        Output.WriteLine(string.Concat(cells.Select((c, i) => c.PadRight(widths[i] + PlainGap))).TrimEnd());
}
