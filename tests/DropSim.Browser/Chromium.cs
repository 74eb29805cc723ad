using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>One Chromium for all tests; the page is the one that the program writes, opened from the disk as a person would.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private const string Executable = "/usr/bin/chromium";

    /// <summary>How long a page may take before a test gives it up, ms: other tests run beside it on the same two cores.</summary>
    private const float Patience = 120_000;

    /// <summary>Why tests in a browser are skipped here; null where they run.</summary>
    internal static string? WhySkipped { get; } = File.Exists(Executable) || Environment.GetEnvironmentVariable("CI") == "true"
        ? null
        : $"needs a browser at {Executable} (apt-get install chromium)";

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-browser-").FullName;
    private IPlaywright? _playwright;

    public IBrowser Browser { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        if (WhySkipped is not null)
        {
            return;
        }

        _playwright = await Playwright.CreateAsync();
        Browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Executable,
            Headless = true,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    public async Task DisposeAsync()
    {
        if (_playwright is not null)
        {
            await Browser.DisposeAsync();
            _playwright.Dispose();
        }

        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>Writes a page with the program's own command and opens it.</summary>
    /// <param name="scenarios">Scenario files; none for those that ship.</param>
    public async Task<OpenPage> LessonAsync(params string[] scenarios)
    {
        var file = Path.Combine(_folder, $"{Guid.NewGuid():N}.html");
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = Cli.DropSimApp.Run(["lesson", .. scenarios, "--out", file], output, error, CancellationToken.None);
        code.Should().Be(0, error.ToString());
        return await OpenAsync(file);
    }

    /// <summary>Opens a file.</summary>
    public async Task<OpenPage> OpenAsync(string file, int width = 1440, int height = 900)
    {
        var page = await Browser.NewPageAsync(new() { ViewportSize = new() { Width = width, Height = height } });
        page.SetDefaultTimeout(Patience);
        var open = new OpenPage(page);
        await page.GotoAsync(new Uri(file).AbsoluteUri);
        await page.EvaluateAsync("() => lessonEngine.ready");
        return open;
    }

    /// <summary>A place for files of a test.</summary>
    public string NewFile(string name, string text)
    {
        var folder = Directory.CreateDirectory(Path.Combine(_folder, Guid.NewGuid().ToString("N"))).FullName;
        var path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}

/// <summary>An open page with everything that it asked for and complained of.</summary>
public sealed class OpenPage : IAsyncDisposable
{
    private readonly System.Collections.Concurrent.ConcurrentQueue<string> _requests = [];
    private readonly System.Collections.Concurrent.ConcurrentQueue<string> _complaints = [];

    public OpenPage(IPage page)
    {
        Page = page;
        page.Request += (_, request) => _requests.Enqueue(request.Url);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                _complaints.Enqueue($"{message.Type}: {message.Text}");
            }
        };
        page.PageError += (_, error) => _complaints.Enqueue(error);
        page.Dialog += async (_, dialog) =>
        {
            _complaints.Enqueue("dialog: " + dialog.Message);
            await dialog.DismissAsync();
        };
    }

    public IPage Page { get; }

    /// <summary>Every address asked for.</summary>
    public IReadOnlyCollection<string> Requests => _requests;

    /// <summary>Errors and warnings of the console, errors of scripts, dialogs.</summary>
    public IReadOnlyCollection<string> Complaints => _complaints;

    public async ValueTask DisposeAsync() => await Page.CloseAsync();
}
