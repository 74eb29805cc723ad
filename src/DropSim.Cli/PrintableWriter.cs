using System.Text;
using DropSim.Scenarios;

namespace DropSim.Cli;

/// <summary>
/// Passes text on and spells out what would do something to a terminal: names of files and texts of scenarios come from
/// other people.
/// </summary>
internal sealed class PrintableWriter : TextWriter
{
    private readonly TextWriter _inner;

    private readonly bool _ownLines;

    /// <summary>Passes on to a writer.</summary>
    /// <param name="inner">The writer.</param>
    /// <param name="ownLines">True where a text that is written as a line is one line: a line break in it came with somebody's name of a file.</param>
    public PrintableWriter(TextWriter inner, bool ownLines)
        : base(inner.FormatProvider)
    {
        _inner = inner;
        _ownLines = ownLines;
    }

    /// <inheritdoc/>
    public override Encoding Encoding => _inner.Encoding;

    /// <inheritdoc/>
    public override void Write(char value)
    {
        // Line breaks and the carriage return of the progress line are this program's own.
        if (Printable.IsHostile(value) && value is not ('\n' or '\r' or '\t'))
        {
            _inner.Write(Printable.Of(value.ToString()));
        }
        else
        {
            _inner.Write(value);
        }
    }

    /// <inheritdoc/>
    public override void Write(string? value)
    {
        if (value is null || Printable.FirstHostile(value) is null)
        {
            _inner.Write(value);
            return;
        }

        foreach (var c in value)
        {
            Write(c);
        }
    }

    /// <inheritdoc/>
    public override void WriteLine(string? value)
    {
        Write(_ownLines && value is not null ? Printable.Of(value) : value);
        _inner.WriteLine();
    }

    /// <inheritdoc/>
    public override void WriteLine() => _inner.WriteLine();

    /// <inheritdoc/>
    public override void Flush() => _inner.Flush();

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _inner.Dispose();
        }

        base.Dispose(disposing);
    }
}
