using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>An accessibility engine looks at the page as a phone, a tablet and a laptop show it, light and dark.</summary>
[Collection("browser")]
public sealed class AccessibilityTests(Chromium chromium)
{
    [BrowserTheory]
    [InlineData(390, 844, ColorScheme.Light)]
    [InlineData(820, 1180, ColorScheme.Dark)]
    [InlineData(1440, 900, ColorScheme.Light)]
    [InlineData(1440, 900, ColorScheme.Dark)]
    public async Task No_known_fault_and_nothing_wider_than_the_screen(int width, int height, ColorScheme scheme)
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped("medium-log.toml"));
        var page = open.Page;
        await page.SetViewportSizeAsync(width, height);
        await page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { for (const d of document.querySelectorAll('details:not(.menu)')) d.open = true; }");

        var result = await page.RunAxe();

        result.Passes.Length.Should().BeGreaterThan(20, "an engine that looked at nothing finds nothing");
        result.Violations.Select(v => $"{v.Id}: {v.Help} ({string.Join("; ", v.Nodes.Take(3).Select(n => n.Html))})").Should().BeEmpty();
        (await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth")).Should().Be(0);
    }
}
