namespace DropSim.Reporting.Files;

/// <summary>
/// Moves a result that is written whole into its folder, file by file: the old index goes out first, the new one comes in last, so that at every
/// instant the folder holds the old result, the new one, or none. Nothing but files that this program wrote is moved out, and nothing is copied. Killed anywhere,
/// it can be done again from what lies there. To be used by the holder of the lock only.
/// </summary>
internal sealed class ResultExchange
{
    private readonly ResultPlace _place;
    private readonly Action? _beforeMove;
    private readonly Stack<(string From, string To)> _moves = [];
    private readonly List<KeptFile> _kept = [];

    private ResultExchange(ResultPlace place, Action? beforeMove)
    {
        _place = place;
        _beforeMove = beforeMove;
    }

    /// <summary>Puts away what a killed run left: a half written result goes, a whole one is moved to where it belongs.</summary>
    /// <param name="place">Where.</param>
    /// <exception cref="IOException">It cannot be moved; it stays where it lies.</exception>
    internal static void Recover(ResultPlace place)
    {
        Remove(place.New);
        if (Directory.Exists(place.Whole) && place.Obstacle() is null)
        {
            new ResultExchange(place, null).Run();
        }
        else if (!Directory.Exists(place.Whole))
        {
            Remove(place.Old);
        }
    }

    /// <summary>Moves what lies in <see cref="ResultPlace.Whole"/> into the result folder.</summary>
    /// <param name="place">Where.</param>
    /// <param name="beforeMove">Told before every move, for tests; may be null.</param>
    /// <returns>Files of others that had a name which a file of the result needed, and where they are now.</returns>
    /// <exception cref="IOException">A file cannot be moved; the folder is as it was.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    internal static IReadOnlyList<KeptFile> Finish(ResultPlace place, Action? beforeMove)
    {
        var exchange = new ResultExchange(place, beforeMove);
        try
        {
            exchange.Run();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException && exchange._moves.Count == 0)
        {
            Remove(place.Whole);
            Remove(place.Old);
            throw;
        }

        return exchange._kept;
    }

    /// <summary>Removes a folder of ours with what is in it, following no link; what cannot be removed now is left to the next run.</summary>
    /// <param name="folder">The folder; it need not be there.</param>
    internal static void Remove(string folder)
    {
        try
        {
            if (Directory.Exists(folder))
            {
                Directory.Delete(folder, recursive: true);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // It is hidden, and the next run tries again.
        }
    }

    private void Run()
    {
        try
        {
            _beforeMove?.Invoke();
            var waiting = Directory.EnumerateFiles(_place.Whole).Select(f => Path.GetFileName(f)).ToHashSet(StringComparer.Ordinal);
            if (!waiting.Overlaps(ResultIndex.Names))
            {
                // A killed run had come as far as putting away.
            }
            else if (!ResultPlace.IsThere(_place.Target) && !Directory.Exists(_place.Old))
            {
                Directory.Move(_place.Whole, _place.Target);
            }
            else
            {
                FileByFile(waiting);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Undo();
            throw;
        }

        // In this order: while there is a whole result beside the folder, the old files say what is left to do.
        _moves.Clear();
        Remove(_place.Old);
        Remove(_place.Whole);
    }

    private void FileByFile(HashSet<string> waiting)
    {
        Directory.CreateDirectory(_place.Target);
        Directory.CreateDirectory(_place.Old);
        var arrived = ResultIndex.Listed(_place.Whole);
        arrived.ExceptWith(waiting);
        var old = ResultIndex.Listed(_place.Target);
        old.UnionWith(ResultIndex.Listed(_place.Old));
        old.ExceptWith(arrived);
        foreach (var name in InOrder(old).Reverse())
        {
            var (from, to) = (Path.Combine(_place.Target, name), Path.Combine(_place.Old, name));
            if (ResultPlace.IsPlainFile(from) && !ResultPlace.IsThere(to))
            {
                Move(from, to);
            }
        }

        foreach (var name in InOrder(waiting))
        {
            var to = Path.Combine(_place.Target, name);
            if (ResultPlace.IsThere(to))
            {
                var aside = FreeName(name);
                Move(to, Path.Combine(_place.Target, aside));
                _kept.Add(new(name, aside));
            }

            Move(Path.Combine(_place.Whole, name), to);
        }
    }

    /// <summary>The indexes last.</summary>
    private static IEnumerable<string> InOrder(IEnumerable<string> names) =>
        names.OrderBy(n => ResultIndex.Names.Contains(n)).ThenBy(n => n, StringComparer.Ordinal);

    private string FreeName(string name)
    {
        for (var i = 1; ; i++)
        {
            var mark = i == 1 ? "kept" : FormattableString.Invariant($"kept {i}");
            var free = $"{Path.GetFileNameWithoutExtension(name)} ({mark}){Path.GetExtension(name)}";
            if (!ResultPlace.IsThere(Path.Combine(_place.Target, free)))
            {
                return free;
            }
        }
    }

    private void Move(string from, string to)
    {
        _beforeMove?.Invoke();
        Rename(from, to);
        _moves.Push((from, to));
    }

    /// <summary>Renames whatever it is. Nothing has the new name: asked for an overwriting move, the system does it in one step.</summary>
    private static void Rename(string from, string to)
    {
        // A link to a folder counts as a folder.
        if (Directory.Exists(from))
        {
            Directory.Move(from, to);
        }
        else
        {
            File.Move(from, to, overwrite: true);
        }
    }

    private void Undo()
    {
        try
        {
            while (_moves.TryPeek(out var move))
            {
                Rename(move.To, move.From);
                _moves.Pop();
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What has not been moved back lies beside the folder, and the next run goes on from there.
        }
    }
}

/// <summary>Something of somebody else's that had the name of a file of the result.</summary>
/// <param name="Name">The name that it had.</param>
/// <param name="Now">Its name now, in the same folder.</param>
internal sealed record KeptFile(string Name, string Now);
