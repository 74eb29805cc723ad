namespace DropSim.Cli;

/// <summary>One line on the error stream that counts runs while somebody watches; nothing where nobody does.</summary>
internal sealed class ProgressLine : IDisposable
{
    /// <summary>Longest title shown: the line must not wrap, or it cannot be written over.</summary>
    private const int LongestTitle = 60;

    private readonly Terminal _terminal;
    private readonly string _title;
    private readonly int _total;
    private readonly Lock _gate = new();
    private int _done;
    private int _shown = -1;

    public ProgressLine(Terminal terminal, string title, int total)
    {
        _terminal = terminal;
        _title = title.Length > LongestTitle ? title[..LongestTitle] + "..." : title;
        _total = Math.Max(1, total);
    }

    /// <summary>One more run is done. Called from several threads.</summary>
    public void Advance()
    {
        if (!_terminal.ShowProgress)
        {
            return;
        }

        lock (_gate)
        {
            _done++;
            var percent = Math.Min(99, 100 * _done / _total);
            if (percent != _shown)
            {
                _shown = percent;
                _terminal.Error.Write(FormattableString.Invariant($"\r{_title}: {percent} % "));
            }
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_shown >= 0)
        {
            _terminal.Error.Write("\r" + new string(' ', _title.Length + 8) + "\r");
        }
    }
}
