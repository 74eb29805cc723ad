using System.Net;
using System.Net.Sockets;
using System.Text;
using DropSim.Page;

namespace DropSim.Tests.Cli;

/// <summary>What 'dropsim share' offers, and what it does not.</summary>
public sealed class ShareTests : IAsyncLifetime
{
    private static readonly byte[] Page = Encoding.UTF8.GetBytes("<!DOCTYPE html><title>the page</title>");

    private LessonServer _server = null!;
    private int _port;

    public async Task InitializeAsync()
    {
        _server = await LessonServer.StartAsync(Page, IPAddress.Loopback, 0, CancellationToken.None);
        _port = new Uri(_server.Addresses.Single()).Port;
    }

    public async Task DisposeAsync() => await _server.DisposeAsync();

    [Fact]
    public async Task The_page_is_at_the_root_with_a_policy_that_allows_no_other_place()
    {
        var answer = await Raw("GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");

        answer.Should().StartWith("HTTP/1.1 200").And.EndWith("the page</title>");
        answer.Should().Contain("Content-Security-Policy: default-src 'none'").And.Contain("frame-ancestors 'none'").And.Contain("X-Content-Type-Options: nosniff");
        answer.Should().NotContain("Server:");
    }

    [Fact]
    public async Task Where_the_page_is_offered_to_all_addresses_it_names_those_that_a_tablet_can_open()
    {
        await using var server = await LessonServer.StartAsync(Page, IPAddress.Any, 0, CancellationToken.None);
        using var handler = new SocketsHttpHandler { UseProxy = false };
        using var client = new HttpClient(handler);
        var own = System.Net.NetworkInformation.NetworkInterface.GetAllNetworkInterfaces()
            .SelectMany(n => n.GetIPProperties().UnicastAddresses)
            .Select(a => a.Address).Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a)).ToArray();

        foreach (var address in server.Addresses)
        {
            if (own.Length > 0)
            {
                own.Should().Contain(IPAddress.Parse(new Uri(address).Host));
            }

            (await client.GetStringAsync(new Uri(address))).Should().EndWith("the page</title>");
        }

        server.Addresses.Should().NotBeEmpty();
    }

    [Theory]
    [InlineData("/../../../../etc/passwd")]
    [InlineData("/..%2f..%2f..%2fetc%2fpasswd")]
    [InlineData("/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("//etc/passwd")]
    [InlineData("/..\\..\\windows\\win.ini")]
    [InlineData("/index.html")]
    [InlineData("/scenarios/medium-log.toml")]
    [InlineData("/.git/config")]
    public async Task No_other_path_leads_anywhere(string path)
    {
        var answer = await Raw($"GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");

        answer.Should().MatchRegex("^HTTP/1.1 4[0-9][0-9]");
        answer.Should().NotContain("root:").And.NotContain("the page");
    }

    [Theory]
    [InlineData("POST")]
    [InlineData("PUT")]
    [InlineData("DELETE")]
    [InlineData("PATCH")]
    [InlineData("OPTIONS")]
    [InlineData("TRACE")]
    public async Task Nothing_can_be_written(string method)
    {
        var answer = await Raw($"{method} / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");

        answer.Should().StartWith("HTTP/1.1 405").And.Contain("Allow: GET, HEAD").And.NotContain("the page");
    }

    [Fact]
    public async Task Headers_and_addresses_without_end_are_refused()
    {
        (await Raw($"GET / HTTP/1.1\r\nHost: localhost\r\nX-Long: {new string('a', 100_000)}\r\nConnection: close\r\n\r\n")).Should().StartWith("HTTP/1.1 431");
        (await Raw($"GET /{new string('a', 100_000)} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")).Should().StartWith("HTTP/1.1 414");
        (await Raw("nonsense\r\n\r\n")).Should().StartWith("HTTP/1.1 400");
    }

    [Fact]
    public async Task A_name_of_another_machine_that_leads_to_this_one_gets_nothing()
    {
        var answer = await Raw("GET / HTTP/1.1\r\nHost: elsewhere.example\r\nConnection: close\r\n\r\n");

        answer.Should().StartWith("HTTP/1.1 421").And.NotContain("the page");
    }

    [Fact]
    public void Without_an_address_only_this_machine_is_served() =>
        _server.Addresses.Should().OnlyContain(a => a.StartsWith("http://127.0.0.1:", StringComparison.Ordinal));

    private async Task<string> Raw(string request)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, _port);
        var stream = client.GetStream();
        var answer = new StringBuilder();
        try
        {
            await stream.WriteAsync(Encoding.Latin1.GetBytes(request));
            var buffer = new byte[4096];
            for (int n; (n = await stream.ReadAsync(buffer)) > 0;)
            {
                answer.Append(Encoding.Latin1.GetString(buffer, 0, n));
            }
        }
        catch (IOException)
        {
            // The server may hang up on a request that is refused half way; what it said before counts.
        }

        return answer.ToString();
    }
}
