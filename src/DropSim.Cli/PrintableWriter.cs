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

    public PrintableWriter(TextWriter inner)
        : base(inner.FormatProvider) => _inner = inner;

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
        Write(value);
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
