using System.Net;
using System.Net.NetworkInformation;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.Logging;

namespace DropSim.Page;

/// <summary>
/// Offers one page to browsers on the same machine or network, and nothing else: one path, read only, no file of the disk is ever opened.
/// </summary>
public sealed class LessonServer : IAsyncDisposable
{
    /// <summary>A browser's headers take one or two kB.</summary>
    private const int LargestHeaders = 16 * 1024;

    /// <summary>Longest first line of a request, bytes: the only path has one letter.</summary>
    private const int LongestRequestLine = 4 * 1024;

    /// <summary>A class of tablets, each with a few connections.</summary>
    private const int MostConnections = 200;

    /// <summary>Headers that come slower than this are not waited for.</summary>
    private static readonly TimeSpan HeaderPatience = TimeSpan.FromSeconds(10);

    private readonly WebApplication _app;
    private readonly byte[] _page;
    private readonly bool _loopback;

    private LessonServer(WebApplication app, byte[] page, bool loopback)
    {
        _app = app;
        _page = page;
        _loopback = loopback;
    }

    /// <summary>Where the page is, as a browser can be told; the port is the real one also where any free one was asked for.</summary>
    public IReadOnlyCollection<string> Addresses => [.. _app.Urls.SelectMany(Reachable)];

    /// <summary>Begins to listen.</summary>
    /// <param name="page">The page, UTF-8.</param>
    /// <param name="address">Address to listen on.</param>
    /// <param name="port">Port; 0 for any free one.</param>
    /// <param name="cancellation">Cancels the start.</param>
    /// <exception cref="IOException">The port is taken, or the address is none of this machine.</exception>
    public static async Task<LessonServer> StartAsync(byte[] page, IPAddress address, int port, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(page);
        ArgumentNullException.ThrowIfNull(address);
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [], ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestHeadersTotalSize = LargestHeaders;
            kestrel.Limits.MaxRequestLineSize = LongestRequestLine;
            kestrel.Limits.MaxRequestBodySize = 0;
            kestrel.Limits.MaxConcurrentConnections = MostConnections;
            kestrel.Limits.RequestHeadersTimeout = HeaderPatience;
            kestrel.Listen(address, port, listen => listen.Protocols = HttpProtocols.Http1);
        });
        var app = builder.Build();
        var server = new LessonServer(app, page, IPAddress.IsLoopback(address));
        app.Run(server.AnswerAsync);
        try
        {
            await app.StartAsync(cancellation).ConfigureAwait(false);
        }
        catch
        {
            await server.DisposeAsync().ConfigureAwait(false);
            throw;
        }

        return server;
    }

    /// <summary>Waits until cancelled.</summary>
    /// <param name="cancellation">Ends the wait; the server then stops.</param>
    public async Task WaitAsync(CancellationToken cancellation)
    {
        try
        {
            await Task.Delay(Timeout.Infinite, cancellation).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            await _app.StopAsync(CancellationToken.None).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _app.DisposeAsync();

    private async Task AnswerAsync(HttpContext context)
    {
        var (request, response) = (context.Request, context.Response);
        response.Headers.ContentSecurityPolicy = LessonPage.Policy + "; frame-ancestors 'none'";
        response.Headers.XContentTypeOptions = "nosniff";
        response.Headers["Referrer-Policy"] = "no-referrer";
        response.Headers["Cross-Origin-Resource-Policy"] = "same-origin";
        response.Headers.CacheControl = "no-store";
        if (_loopback && !IsThisMachine(request.Host.Host))
        {
            // A name that leads here from outside (a page elsewhere that has its own name point to this machine) gets nothing.
            response.StatusCode = StatusCodes.Status421MisdirectedRequest;
            return;
        }

        if (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method))
        {
            response.StatusCode = StatusCodes.Status405MethodNotAllowed;
            response.Headers.Allow = "GET, HEAD";
            return;
        }

        if (request.Path != "/")
        {
            response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        response.ContentType = "text/html; charset=utf-8";
        response.ContentLength = _page.Length;
        if (HttpMethods.IsGet(request.Method))
        {
            await response.Body.WriteAsync(_page, context.RequestAborted).ConfigureAwait(false);
        }
    }

    /// <summary>"All addresses" is none that a tablet could open: this machine's own are named instead, where it has any.</summary>
    private static IReadOnlyCollection<string> Reachable(string url)
    {
        var uri = new Uri(url);
        if (!IPAddress.TryParse(uri.Host.Trim('[', ']'), out var asked) || !(asked.Equals(IPAddress.Any) || asked.Equals(IPAddress.IPv6Any)))
        {
            return [url];
        }

        string[] own =
        [
            .. NetworkInterface.GetAllNetworkInterfaces()
                .Where(n => n.OperationalStatus == OperationalStatus.Up && n.NetworkInterfaceType != NetworkInterfaceType.Loopback)
                .SelectMany(n => n.GetIPProperties().UnicastAddresses)
                .Where(a => a.Address.AddressFamily == asked.AddressFamily && !a.Address.IsIPv6LinkLocal)
                .Select(a => new UriBuilder(Uri.UriSchemeHttp, a.Address.ToString(), uri.Port).Uri.GetLeftPart(UriPartial.Authority)),
        ];
        return own.Length > 0 ? own : [url];
    }

    private static bool IsThisMachine(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));
}
