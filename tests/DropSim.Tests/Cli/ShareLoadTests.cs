using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using DropSim.Page;

namespace DropSim.Tests.Cli;

/// <summary>Runs alone: it looks at the memory of the process.</summary>
[CollectionDefinition(nameof(ShareLoadTests), DisableParallelization = true)]
public sealed class ShareLoadAlone;

/// <summary>What a crowd can do to 'dropsim share', and what it cannot: keep others out, or fill the memory. All on 127.0.0.1.</summary>
[Collection(nameof(ShareLoadTests))]
public sealed class ShareLoadTests
{
    /// <summary>About as large as the real page.</summary>
    private static readonly byte[] Page = Encoding.ASCII.GetBytes("<!DOCTYPE html>" + new string('x', 6_000_000) + "the end");

    private static readonly byte[] Get = Encoding.ASCII.GetBytes("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n");

    [Fact]
    public async Task Idle_connections_and_slow_readers_keep_nobody_out_and_cost_little_memory()
    {
        await using var server = await Started(new());
        using var crowd = new Crowd();
        (await Read(server)).Should().Be(Page.Length, "the first reader also warms everything up");
        var before = GC.GetTotalMemory(true);

        await crowd.Open(server, 60, Get);
        await crowd.Open(server, 210, []);
        await crowd.Open(server, 30, "GET / HT"u8.ToArray());
        var slowest = TimeSpan.Zero;
        for (var i = 0; i < 3; i++)
        {
            var watch = Stopwatch.StartNew();
            (await Read(server)).Should().Be(Page.Length);
            slowest = watch.Elapsed > slowest ? watch.Elapsed : slowest;
        }

        // 60 slow readers, each with a page of its own, would hold 360 MB. A slice each, and as much again under way, is 8 MB.
        (GC.GetTotalMemory(false) - before).Should().BeLessThan(40_000_000);
        slowest.Should().BeLessThan(TimeSpan.FromSeconds(10));
        server.Connections.Should().BeLessThanOrEqualTo(new ServerLimits().MostFromOneAddress);
    }

    [Fact]
    public async Task A_class_behind_one_router_is_served_at_once()
    {
        await using var server = await Started(new());

        (await Task.WhenAll(Enumerable.Range(0, 40).Select(_ => Read(server)))).Should().OnlyContain(length => length == Page.Length);
    }

    [Fact]
    public async Task Even_where_slow_readers_take_every_place_of_an_address_the_next_reader_is_served()
    {
        await using var server = await Started(new() { MostFromOneAddress = 5 });
        using var crowd = new Crowd();
        await crowd.Open(server, 12, Get);

        (await Read(server)).Should().Be(Page.Length);
        server.Connections.Should().BeLessThanOrEqualTo(5);
    }

    [Fact]
    public async Task A_connection_that_asks_for_nothing_is_closed()
    {
        await using var server = await Started(new() { IdlePatience = TimeSpan.FromSeconds(1), HeaderPatience = TimeSpan.FromSeconds(1) });
        using var crowd = new Crowd();
        await crowd.Open(server, 10, []);
        await crowd.Open(server, 10, "GET / HT"u8.ToArray());
        server.Connections.Should().BeGreaterThan(0);

        await Until(() => server.Connections == 0);
    }

    [Fact]
    public async Task A_reader_that_stands_still_is_given_up()
    {
        await using var server = await Started(new() { PausePatience = TimeSpan.FromSeconds(2), LeastRate = 1e6 });
        using var crowd = new Crowd();
        await crowd.Open(server, 5, Get);
        await Until(() => server.Connections > 0);

        await Until(() => server.Connections == 0);
    }

    [Fact]
    public async Task A_reader_that_never_comes_to_the_end_is_given_up()
    {
        await using var server = await Started(new() { PagePatience = TimeSpan.FromSeconds(1) });
        using var crowd = new Crowd();
        await crowd.Open(server, 5, Get);

        await Until(() => server.Connections == 0);
    }

    [Fact]
    public void A_crowd_from_many_addresses_gives_way_where_it_is_largest()
    {
        var closed = new List<string>();
        var open = new OpenConnections(3, 4);
        OpenConnection From(string address)
        {
            OpenConnection connection = new(IPAddress.Parse(address), () => closed.Add(address));
            open.Add(connection);
            return connection;
        }

        From("10.0.0.2");
        var sending = From("10.0.0.1");
        open.Sends(sending, true);
        From("10.0.0.1");
        From("::ffff:10.0.0.1");
        closed.Should().BeEmpty("three from one address, the same in both ways of writing it, and four in all are allowed");

        From("10.0.0.3");
        closed.Should().Equal(["10.0.0.1"], "the address with most gives way, and of its connections not the one that is being served");
        From("2001:db8::1");
        closed.Should().Equal("10.0.0.1", "::ffff:10.0.0.1");
        sending.IsSending.Should().BeTrue();
        open.Count.Should().Be(4);
    }

    [Fact]
    public void Addresses_of_one_household_count_as_one()
    {
        var closed = 0;
        var open = new OpenConnections(2, 100);
        foreach (var address in new[] { "2001:db8:0:1::1", "2001:db8:0:1::2", "2001:db8:0:1:ffff::3", "2001:db8:0:2::1" })
        {
            open.Add(new OpenConnection(IPAddress.Parse(address), () => closed++));
        }

        closed.Should().Be(1);
        open.Count.Should().Be(3);
    }

    private static Task<LessonServer> Started(ServerLimits limits) => LessonServer.StartAsync(Page, IPAddress.Loopback, 0, limits, CancellationToken.None);

    private static int Port(LessonServer server) => new Uri(server.Addresses.Single()).Port;

    private static async Task<int> Read(LessonServer server)
    {
        using var handler = new SocketsHttpHandler { UseProxy = false };
        using var client = new HttpClient(handler) { Timeout = TimeSpan.FromSeconds(30) };
        await using var page = await client.GetStreamAsync(new Uri(server.Addresses.Single()));
        var buffer = new byte[100_000];
        var length = 0;
        for (int n; (n = await page.ReadAsync(buffer)) > 0;)
        {
            length += n;
        }

        return length;
    }

    private static async Task Until(Func<bool> holds)
    {
        var watch = Stopwatch.StartNew();
        while (!holds())
        {
            watch.Elapsed.Should().BeLessThan(TimeSpan.FromSeconds(30));
            await Task.Delay(50);
        }
    }

    /// <summary>Connections that say something and then neither read nor go away.</summary>
    private sealed class Crowd : IDisposable
    {
        private readonly List<Socket> _sockets = [];

        public async Task Open(LessonServer server, int count, byte[] says)
        {
            for (var i = 0; i < count; i++)
            {
                Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveBufferSize = 4096 };
                _sockets.Add(socket);
                await socket.ConnectAsync(IPAddress.Loopback, Port(server));
                await socket.SendAsync(says);
            }

            await Task.Delay(300);
        }

        public void Dispose() => _sockets.ForEach(s => s.Dispose());
    }
}
