using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>The page with all shipped scenarios, opened once for tests that ask much of the engine and little of the page.</summary>
public sealed class ShippedPage : IAsyncLifetime
{
    private readonly Chromium _chromium = new();

    /// <summary>The page; null where tests in a browser are skipped.</summary>
    public OpenPage Open { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        await _chromium.InitializeAsync();
        if (Chromium.WhySkipped is null)
        {
            Open = await _chromium.LessonAsync();
        }
    }

    public Task DisposeAsync() => _chromium.DisposeAsync();
}

/// <summary>Tests that share the page with all shipped scenarios; they run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class ShippedPageTests : ICollectionFixture<ShippedPage>
{
    public const string Name = "the page with all shipped scenarios";
}

/// <summary>A page with the medium log, opened once for the tests of a class; each begins with the scenario opened anew.</summary>
public sealed class MediumLogPage : IAsyncLifetime
{
    private OpenPage _open = null!;

    /// <summary>The browser, for tests that need a page of their own.</summary>
    public Chromium Browser { get; } = new();

    public async Task InitializeAsync()
    {
        await Browser.InitializeAsync();
        if (Chromium.WhySkipped is null)
        {
            _open = await Browser.LessonAsync(PageTests.Shipped("medium-log.toml"));
        }
    }

    /// <summary>The page as it stands after the scenario was opened: what earlier tests folded out, picked or changed is undone.</summary>
    /// <param name="motion">Whether the reader wants movement: then the drop plays at once.</param>
    public async Task<OpenPage> AnewAsync(ReducedMotion motion = ReducedMotion.NoPreference)
    {
        var page = _open.Page;
        await page.SetViewportSizeAsync(1440, 900);
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light, ReducedMotion = motion });
        await page.WaitForFunctionAsync("() => document.body.dataset.ready === 'yes'");
        await page.EvaluateAsync(
            """
            async () => {
              const { state } = lesson;
              for (let forget; (forget = document.querySelector("#pins button[aria-label^=Forget]"));) forget.click();
              if (lesson.predict.covered || document.getElementById('predict-switch').checked) document.getElementById('predict-switch').click();
              for (const d of document.querySelectorAll('details')) d.open = false;
              lesson.player.pause();
              Object.assign(state, { unitsChosen: false });
              await lesson.work.open(state.files[0].text, state.files[0].name);
              lesson.player.begin();
              document.activeElement.blur();
              scrollTo(0, 0);
            }
            """);
        await PageTests.Rested(page);
        return _open;
    }

    public Task DisposeAsync() => Browser.DisposeAsync();
}
