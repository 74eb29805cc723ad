namespace DropSim.Page;

/// <summary>How much of the server one visitor may take, and for how long (docs/command-line.md, share).</summary>
internal sealed record ServerLimits
{
    /// <summary>
    /// Most connections from one address. A class of forty behind one router has one or two each; those that ask for nothing give way, so
    /// that a larger class is served too. Choice of this program.
    /// </summary>
    public int MostFromOneAddress { get; init; } = 120;

    /// <summary>Most connections in all: each takes about 0.1 MB while the page is sent. Choice of this program.</summary>
    public int Most { get; init; } = 300;

    /// <summary>A connection on which nothing is asked for is closed after this. The page is one file: nothing more is to come.</summary>
    public TimeSpan IdlePatience { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Headers that come slower than this are not waited for.</summary>
    public TimeSpan HeaderPatience { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Least speed of a reader, bytes a second: a tablet on a bad network with a whole class beside it is many times as fast.</summary>
    public double LeastRate { get; init; } = 8 * 1024;

    /// <summary>A reader may pause for this long.</summary>
    public TimeSpan PausePatience { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>The whole page must be taken within this.</summary>
    public TimeSpan PagePatience { get; init; } = TimeSpan.FromMinutes(10);
}
