namespace DropSim.Reporting.Files;

/// <summary>
/// A folder that appears whole or not at all. Files are written into a hidden folder beside the target; when all are there the
/// target is exchanged for it in two renames. Files that people put into the old folder move along; whatever goes wrong before
/// the exchange leaves the old folder as it was.
/// </summary>
internal sealed class StagedFolder : IDisposable
{
    private readonly string _target;
    private readonly string _stage;
    private readonly string _old;
    private bool _done;

    /// <summary>Makes the hidden folder.</summary>
    /// <param name="parent">Folder of the target; made where missing.</param>
    /// <param name="name">Clean name of the target.</param>
    internal StagedFolder(string parent, string name)
    {
        var mark = Guid.NewGuid().ToString("N")[..8];
        _target = System.IO.Path.Combine(parent, name);
        _stage = System.IO.Path.Combine(parent, $".{name}.{mark}.new");
        _old = System.IO.Path.Combine(parent, $".{name}.{mark}.old");
        Directory.CreateDirectory(_stage);
    }

    /// <summary>Where to write a file for now.</summary>
    /// <param name="fileName">Its name in the folder.</param>
    internal string Path(string fileName) => System.IO.Path.Combine(_stage, fileName);

    /// <summary>Exchanges the target for what was written.</summary>
    /// <param name="ours">Names in the old folder that this program wrote and that need not be kept.</param>
    internal void Commit(IReadOnlySet<string> ours)
    {
        var hadOld = Directory.Exists(_target);
        if (hadOld)
        {
            CarryOver(ours);
            Directory.Move(_target, _old);
        }

        try
        {
            Directory.Move(_stage, _target);
            _done = true;
        }
        catch when (hadOld)
        {
            Directory.Move(_old, _target);
            throw;
        }

        if (hadOld)
        {
            Directory.Delete(_old, recursive: true);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!_done && Directory.Exists(_stage))
        {
            Directory.Delete(_stage, recursive: true);
        }
    }

    /// <summary>Copies what other people put there, so that the old folder stays complete until the exchange.</summary>
    private void CarryOver(IReadOnlySet<string> ours)
    {
        foreach (var path in Directory.EnumerateFiles(_target, "*", SearchOption.AllDirectories))
        {
            var name = System.IO.Path.GetRelativePath(_target, path);
            var copy = Path(name);
            if (ours.Contains(name) || File.Exists(copy))
            {
                continue;
            }

            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(copy)!);
            File.Copy(path, copy);
        }
    }
}
