using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>
/// The pictures of the lesson with the page (docs/lessons/teaching-page.md), taken by doing what the lesson says.
/// DROPSIM_WRITE_PICTURES=1 takes them anew; it waits for the draws and needs some minutes.
/// </summary>
public sealed partial class LessonPicturesTests(Chromium chromium) : IClassFixture<Chromium>
{
    private const int Width = 1180;

    private const int Height = 940;

    private static readonly string s_folder = Path.Combine(Repository.Folder("docs"), "lessons");

    private static bool Renew => Environment.GetEnvironmentVariable("DROPSIM_WRITE_PICTURES") == "1";

    [BrowserFact]
    public async Task The_lesson_shows_pictures_of_this_page()
    {
        if (Renew)
        {
            await TakeAsync();
        }

        var named = Picture().Matches(await File.ReadAllTextAsync(Path.Combine(s_folder, "teaching-page.md"))).Select(m => m.Groups["name"].Value).ToArray();
        named.Should().BeEquivalentTo("teaching-predict.png", "teaching-movement.png", "teaching-wraps.png", "teaching-snag.png", "teaching-shorter.png");
        foreach (var name in named)
        {
            var bytes = await File.ReadAllBytesAsync(Path.Combine(s_folder, name));
            bytes.Should().StartWith([0x89, (byte)'P', (byte)'N', (byte)'G'], name);
            (System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(16)), bytes.Length > 20_000).Should().Be((Width, true), name);
        }
    }

    private async Task TakeAsync()
    {
        await using var open = await chromium.LessonAsync();
        var page = open.Page;
        await page.SetViewportSizeAsync(Width, Height);
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light, ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);

        // 1. The same log, two catches.
        await page.EvaluateAsync("() => lesson.player.seek(0, true)");
        await page.Locator("#predict-switch").CheckAsync();
        await ShootAsync(page, "predict");
        await Whole(page);
        await page.GetByRole(AriaRole.Group, new() { Name = "climber's feet moves" }).GetByLabel("more", new() { Exact = true }).CheckAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "force on the rigging point" }).GetByLabel("about the same").CheckAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "room left" }).GetByLabel("less", new() { Exact = true }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Look", Exact = true }).ClickAsync();
        await page.EvaluateAsync("() => lesson.player.seek(0.8, true)");
        await ShootAsync(page, "movement");
        await page.Locator("#predict-switch").UncheckAsync();

        // 2. One change: a wrap more.
        await page.Locator("#pair-first").SelectOptionAsync(new SelectOptionValue { Label = "Let run" });
        await PageTests.Rested(page);
        await page.Locator("#pair-second").SelectOptionAsync("start");
        await PageTests.Rested(page);
        await TypeAsync(page, "#in-device-wraps", "3.5");
        await ShootAtPeakAsync(page, "wraps");

        // 3. Where let run loses.
        await page.Locator("#scenario-pick").SelectOptionAsync(new SelectOptionValue { Label = "Snagged run" });
        await page.WaitForFunctionAsync("() => lesson.state.file === 'snagged-run.toml'");
        await PageTests.Rested(page);
        await page.Locator("#pair-first").SelectOptionAsync(new SelectOptionValue { Label = "Snagged" });
        await PageTests.Rested(page);
        await page.Locator("#pair-second").SelectOptionAsync(new SelectOptionValue { Label = "Hard stop" });
        await ShootAtPeakAsync(page, "snag");

        // 4. Last step: cut it shorter.
        await page.Locator("#scenario-pick").SelectOptionAsync(new SelectOptionValue { Label = "Medium log" });
        await page.WaitForFunctionAsync("() => lesson.state.file === 'medium-log.toml'");
        await PageTests.Rested(page);
        await page.Locator("#pair-second").SelectOptionAsync("start");
        await PageTests.Rested(page);
        await TypeAsync(page, "#in-piece-length", "0.8");
        await ShootAtPeakAsync(page, "shorter");
        open.Complaints.Should().BeEmpty();
    }

    private static async Task TypeAsync(IPage page, string field, string value)
    {
        await page.Locator(field).FillAsync(value);
        await page.Locator(field).PressAsync("Enter");
        await PageTests.Rested(page);
        await page.Locator(field).BlurAsync();
    }

    private static async Task ShootAtPeakAsync(IPage page, string name)
    {
        await PageTests.Rested(page);
        await Whole(page);
        await page.EvaluateAsync("() => { const peak = lesson.state.runs.first.measures.find(m => m.id === 'rigging_point_force'); lesson.player.seek(peak.time, true); scrollTo(0, 0); }");
        await ShootAsync(page, name);
    }

    private static async Task Whole(IPage page) =>
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'", null, new() { Timeout = 600_000 });

    private static async Task ShootAsync(IPage page, string name)
    {
        await page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => setTimeout(done)))");
        await page.ScreenshotAsync(new() { Path = Path.Combine(s_folder, $"teaching-{name}.png") });
    }

    [GeneratedRegex(@"!\[[^\]]*\]\((?<name>[^)]+\.png)\)")]
    private static partial Regex Picture();
}
