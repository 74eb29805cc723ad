using System.Net;
using System.Net.NetworkInformation;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Connections.Features;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
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

    /// <summary>The page goes out in slices of this size, bytes, each when the one before has left: so a slow reader costs a slice and not a page.</summary>
    private const int Slice = 64 * 1024;

    /// <summary>Readers that are under way when the server ends are waited for so long.</summary>
    private static readonly TimeSpan PartingPatience = TimeSpan.FromSeconds(1);

    /// <summary>Under this name a connection knows its entry in the list of those that are open.</summary>
    private static readonly object Entry = new();

    private readonly WebApplication _app;
    private readonly byte[] _page;
    private readonly bool _loopback;
    private readonly ServerLimits _limits;
    private readonly OpenConnections _open;

    private LessonServer(WebApplication app, byte[] page, bool loopback, ServerLimits limits, OpenConnections open)
    {
        _app = app;
        _page = page;
        _loopback = loopback;
        _limits = limits;
        _open = open;
    }

    /// <summary>Number of connections that are open.</summary>
    internal int Connections => _open.Count;

    /// <summary>Where the page is, as a browser can be told; the port is the real one also where any free one was asked for.</summary>
    public IReadOnlyCollection<string> Addresses => [.. _app.Urls.SelectMany(Reachable)];

    /// <summary>Begins to listen.</summary>
    /// <param name="page">The page, UTF-8.</param>
    /// <param name="address">Address to listen on.</param>
    /// <param name="port">Port; 0 for any free one.</param>
    /// <param name="cancellation">Cancels the start.</param>
    /// <exception cref="IOException">The port is taken, or the address is none of this machine.</exception>
    public static Task<LessonServer> StartAsync(byte[] page, IPAddress address, int port, CancellationToken cancellation) =>
        StartAsync(page, address, port, new(), cancellation);

    /// <summary>Begins to listen, with limits of the caller's.</summary>
    internal static async Task<LessonServer> StartAsync(byte[] page, IPAddress address, int port, ServerLimits limits, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(page);
        ArgumentNullException.ThrowIfNull(address);
        var open = new OpenConnections(limits.MostFromOneAddress, limits.Most);
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [], ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestHeadersTotalSize = LargestHeaders;
            kestrel.Limits.MaxRequestLineSize = LongestRequestLine;
            kestrel.Limits.MaxRequestBodySize = 0;
            kestrel.Limits.KeepAliveTimeout = limits.IdlePatience;
            kestrel.Limits.RequestHeadersTimeout = limits.HeaderPatience;
            kestrel.Limits.MinResponseDataRate = new(limits.LeastRate, limits.PausePatience);
            kestrel.Limits.MaxResponseBufferSize = Slice;
            kestrel.Listen(address, port, listen =>
            {
                listen.Protocols = HttpProtocols.Http1;
                listen.Use(next => connection => CountedAsync(open, connection, next));
            });
        });
        var app = builder.Build();
        var server = new LessonServer(app, page, IPAddress.IsLoopback(address), limits, open);
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
            // Readers that are under way are given a moment; one that stands still does not hold the program up.
            using var parting = new CancellationTokenSource(PartingPatience);
            await _app.StopAsync(parting.Token).ConfigureAwait(false);
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
            await SendAsync(context).ConfigureAwait(false);
        }
    }

    /// <summary>Sends the page from the one buffer that all readers share.</summary>
    private async Task SendAsync(HttpContext context)
    {
        var connection = (OpenConnection)context.Features.GetRequiredFeature<IConnectionItemsFeature>().Items[Entry]!;
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted);
        patience.CancelAfter(_limits.PagePatience);
        _open.Sends(connection, true);
        try
        {
            for (var at = 0; at < _page.Length; at += Slice)
            {
                await context.Response.Body.WriteAsync(_page.AsMemory(at, Math.Min(Slice, _page.Length - at)), patience.Token).ConfigureAwait(false);
                await context.Response.Body.FlushAsync(patience.Token).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException)
        {
            // Gone, too slow, or made room for somebody else.
            context.Abort();
        }
        finally
        {
            _open.Sends(connection, false);
        }
    }

    private static async Task CountedAsync(OpenConnections open, ConnectionContext connection, ConnectionDelegate next)
    {
        var entry = new OpenConnection((connection.RemoteEndPoint as IPEndPoint)?.Address ?? IPAddress.None, connection.Abort);
        connection.Items[Entry] = entry;
        open.Add(entry);
        try
        {
            await next(connection).ConfigureAwait(false);
        }
        finally
        {
            open.Remove(entry);
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
