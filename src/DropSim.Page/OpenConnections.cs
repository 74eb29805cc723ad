using System.Net;
using System.Net.Sockets;

namespace DropSim.Page;

/// <summary>One connection of a browser.</summary>
/// <param name="origin">Where it comes from.</param>
/// <param name="close">Ends it.</param>
internal sealed class OpenConnection(IPAddress origin, Action close)
{
    /// <summary>Where it comes from: the address, for IPv6 the first half of it, which one household or machine has to itself.</summary>
    public IPAddress Origin { get; } = OriginOf(origin);

    /// <summary>True while the page is being sent; false while nothing is asked for.</summary>
    public bool IsSending { get; internal set; }

    /// <summary>Ends it.</summary>
    public void Close() => close();

    private static IPAddress OriginOf(IPAddress address)
    {
        if (address.IsIPv4MappedToIPv6)
        {
            return address.MapToIPv4();
        }

        if (address.AddressFamily != AddressFamily.InterNetworkV6)
        {
            return address;
        }

        var bytes = address.GetAddressBytes();
        bytes.AsSpan(bytes.Length / 2).Clear();
        return new(bytes);
    }
}

/// <summary>
/// The connections that are open, so many from one address and so many in all. A new one is never turned away: where there are too many an
/// old one gives way, first one that asks for nothing, else the one that has been taking the page for longest. So idle connections keep
/// nobody out, not even from their own address, behind which a whole class may stand.
/// </summary>
/// <param name="mostFromOne">Most from one address.</param>
/// <param name="most">Most in all.</param>
internal sealed class OpenConnections(int mostFromOne, int most)
{
    private readonly Lock _lock = new();

    /// <summary>In the order in which they last began or ended anything.</summary>
    private readonly LinkedList<OpenConnection> _open = [];

    /// <summary>Number open.</summary>
    public int Count
    {
        get
        {
            lock (_lock)
            {
                return _open.Count;
            }
        }
    }

    /// <summary>Takes a connection in, and closes another where there are now too many.</summary>
    /// <param name="connection">The new one.</param>
    public void Add(OpenConnection connection)
    {
        OpenConnection? leaves;
        lock (_lock)
        {
            leaves = WhoGivesWay(connection.Origin);
            if (leaves is not null)
            {
                _open.Remove(leaves);
            }

            _open.AddLast(connection);
        }

        leaves?.Close();
    }

    /// <summary>Forgets a connection that is over.</summary>
    /// <param name="connection">The connection.</param>
    public void Remove(OpenConnection connection)
    {
        lock (_lock)
        {
            _open.Remove(connection);
        }
    }

    /// <summary>The page begins to be sent, or has been sent.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="isSending">True where it begins.</param>
    public void Sends(OpenConnection connection, bool isSending)
    {
        lock (_lock)
        {
            connection.IsSending = isSending;
            if (_open.Remove(connection))
            {
                _open.AddLast(connection);
            }
        }
    }

    private OpenConnection? WhoGivesWay(IPAddress origin)
    {
        if (_open.Count(c => c.Origin.Equals(origin)) >= mostFromOne)
        {
            return FirstToGo(origin);
        }

        return _open.Count < most ? null : FirstToGo(_open.CountBy(c => c.Origin).MaxBy(c => c.Value).Key);
    }

    private OpenConnection? FirstToGo(IPAddress origin)
    {
        OpenConnection? longest = null;
        foreach (var connection in _open)
        {
            if (connection.Origin.Equals(origin))
            {
                if (!connection.IsSending)
                {
                    return connection;
                }

                longest ??= connection;
            }
        }

        return longest;
    }
}
