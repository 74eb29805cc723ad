using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>The whole page without a pointer: everything is reached in reading order, seen where it has the focus, and does what it says.</summary>
public sealed class KeyboardTests(Chromium chromium) : IClassFixture<Chromium>
{
    /// <summary>More presses of Tab than the page has places to stop at.</summary>
    private const int TooMany = 400;

    /// <summary>Places where Tab should stop: what can be used and is shown; of a group of radio buttons the chosen one, or the first.</summary>
    private const string Stops =
        """
        () => [...document.querySelectorAll('a[href], button, input, select, summary, [tabindex]')].filter(e => e.tabIndex >= 0 && !e.disabled && e.checkVisibility({ visibilityProperty: true })
          && !(e.type === 'radio' && e !== (document.querySelector(`input[name="${CSS.escape(e.name)}"]:checked`) || document.querySelector(`input[name="${CSS.escape(e.name)}"]`))))
        """;

    [BrowserFact]
    public async Task Tab_stops_at_everything_once_in_reading_order_where_it_can_be_seen_and_goes_back_the_same_way()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped("ring-or-block.toml"), PageTests.Shipped("medium-log.toml"));
        var page = open.Page;
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { for (const d of document.querySelectorAll('details:not(.menu)')) d.open = true; }");
        // What comes in while the keys walk would add and remove places to stop at.
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole' && lesson.cases.whole", null, new() { Timeout = 600_000 });
        await WalkedAsync(page, 1440, 900);
        await WalkedAsync(page, 390, 844);
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>Walks there and back on a screen.</summary>
    private static async Task WalkedAsync(IPage page, int width, int height)
    {
        await page.SetViewportSizeAsync(width, height);
        await page.EvaluateAsync("() => { document.activeElement.blur(); scrollTo(0, 0); return new Promise(done => requestAnimationFrame(() => setTimeout(done))); }");

        var expected = await page.EvaluateAsync<string[]>($"() => {{ window.stops = ({Stops})(); return stops.map(e => e.outerHTML.slice(0, 120)); }}");
        expected.Should().HaveCountGreaterThan(100);
        var forward = await WalkAsync(page, "Tab");
        var back = await WalkAsync(page, "Shift+Tab");

        forward.Select(s => s.Stop).Should().Equal(Enumerable.Range(0, expected.Length), "each place once, in the order of the page: " + Missed(forward, expected));
        back.Select(s => s.Stop).Should().Equal(Enumerable.Range(0, expected.Length).Reverse(), Missed(back, expected));
        forward.Concat(back).Where(s => s.Ring < 2).Select(s => expected[s.Stop]).Should().BeEmpty("the focus is a ring of at least two pixels");
        forward.Concat(back).Where(s => s.Hidden).Select(s => expected[s.Stop]).Should().BeEmpty($"what has the focus is on the screen and nothing lies over it, {width}");
    }

    private static string Missed(List<Step> walk, string[] expected) =>
        string.Join("; ", Enumerable.Range(0, expected.Length).Except(walk.Select(s => s.Stop)).Select(i => expected[i]));

    private sealed record Step(int Stop, double Ring, bool Hidden);

    /// <summary>Presses a key until the focus leaves the page, or comes round to where it began: a browser without a frame has nowhere else to go.</summary>
    private static async Task<List<Step>> WalkAsync(IPage page, string key)
    {
        List<Step> steps = [];
        for (var i = 0; i < TooMany; i++)
        {
            await page.Keyboard.PressAsync(key);
            var step = await page.EvaluateAsync<double[]?>(
                """
                () => {
                  const e = document.activeElement;
                  if (!e || e === document.body) return null;
                  const style = getComputedStyle(e);
                  const box = e.getBoundingClientRect();
                  const x = Math.min(innerWidth - 1, Math.max(0, box.left + Math.min(box.width / 2, 40)));
                  // A table may be taller than the screen: then some of it is seen.
                  const seen = [box.top + Math.min(box.height / 2, 12), box.top + box.height / 2, box.bottom - 12, innerHeight - 20].some(y => {
                    if (y < Math.max(0, box.top) || y > Math.min(innerHeight - 1, box.bottom)) return false;
                    const over = document.elementFromPoint(x, y);
                    return over && (over === e || e.contains(over) || over.contains(e));
                  });
                  return [stops.indexOf(e), style.outlineStyle === 'none' ? 0 : parseFloat(style.outlineWidth), seen ? 0 : 1];
                }
                """);
            if (step is null && i == 0)
            {
                // A walk before this one ended outside the page: the first press only comes back to its edge.
                continue;
            }

            if (step is null || (steps.Count > 0 && (int)step[0] == steps[0].Stop))
            {
                return steps;
            }

            steps.Add(new((int)step[0], step[1], step[2] > 0));
        }

        throw new InvalidOperationException("The focus never leaves the page: " + string.Join(", ", steps.TakeLast(5).Select(s => s.Stop)));
    }

    [BrowserFact]
    public async Task Everything_can_be_done_without_a_pointer()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped("medium-log.toml"), PageTests.Shipped("small-top.toml"));
        var page = open.Page;
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { window.printed = 0; window.print = () => { window.printed++; }; }");

        // The clock.
        await DoAsync(page, "#player button", "Enter", "() => lesson.player.playing");
        await DoAsync(page, "#player button", "Space", "() => !lesson.player.playing");
        await DoAsync(page, "#player input[type=range]", "Home", "() => lesson.player.now === lesson.frames.clock(lesson.state.shown).from");
        await DoAsync(page, "#player-more button[aria-label='One step on']", "Enter", "() => lesson.player.now > lesson.frames.clock(lesson.state.shown).from");
        await DoAsync(page, "#player-more select", "ArrowDown", "() => document.querySelector('#player-more select').value === '0.1'");
        await DoAsync(page, "#views button", "Space", "() => lesson.scene.view.overlaid");
        await DoAsync(page, ".moment", "Enter", "() => Math.abs(lesson.player.now) < 1e-9");

        // What is cut and caught.
        await DoAsync(page, "#in-piece-length ~ *, input[aria-label='Length, slider']", "ArrowRight", "() => lesson.state.text.includes('1.3 m')");
        await DoAsync(page, "#in-rigging-point-kind, input[name='in-rigging-point-kind']", "ArrowRight", "() => lesson.state.text.includes('block')");
        await DoAsync(page, "#pair-first", "ArrowDown", "() => lesson.state.labels[0] === 'Let run' && lesson.state.stage !== 'asked'");
        await DoAsync(page, "#pair-first", "ArrowUp", "() => lesson.state.labels[0] === 'Hard stop' && lesson.state.stage !== 'asked'");
        await PageTests.Rested(page);
        await DoAsync(page, "#pin", "Enter", "() => lesson.state.second === 'pin:0'");
        await PageTests.Rested(page);
        await DoAsync(page, "#pins button[aria-label^=Forget]", "Enter", "() => lesson.state.pins.length === 0");
        await DoAsync(page, "#more-step > summary", "Enter", "() => document.getElementById('more-step').open");
        await DoAsync(page, "#more-inputs .back:not([hidden])", "Enter", "() => lesson.state.stage !== 'asked'");
        await PageTests.Rested(page);

        // Predict, then look.
        await DoAsync(page, "#predict-switch", "Space", "() => lesson.predict.covered");
        await DoAsync(page, "input[name='predict-climber_movement']", "Space", "() => document.querySelector('input[name=predict-climber_movement]').checked");
        await DoAsync(page, "#predict button", "Enter", "() => !lesson.predict.covered");
        await DoAsync(page, "#predict button", "Enter", "() => lesson.predict.covered");
        await DoAsync(page, "#predict-switch", "Space", "() => !lesson.predict.covered");

        // Steps of detail, and a table inside one.
        foreach (var step in new[] { "curves", "energy", "margins", "log" })
        {
            await DoAsync(page, $"#{step}-step > summary", "Enter", $"() => document.getElementById('{step}-step').open");
        }

        // Units, another scenario, back to the file as it was.
        await DoAsync(page, "input[name=units]", "ArrowRight", "() => lesson.state.units === 'us'");
        await PageTests.Rested(page);
        await DoAsync(page, "#reset", "Enter", "() => !lesson.state.changed");
        await PageTests.Rested(page);
        await DoAsync(page, "#scenario-pick", "ArrowDown", "() => lesson.state.file === 'small-top.toml'");
        await PageTests.Rested(page);

        // Files and print.
        await DoAsync(page, "#file-menu summary", "Enter", "() => document.getElementById('file-menu').open");
        foreach (var (button, name) in new[] { ("save", "small-top.toml"), ("csv", ".csv"), ("png", "side-view.png"), ("charts", "charts.png") })
        {
            var download = await page.RunAndWaitForDownloadAsync(
                () => DoAsync(page, $"#file-{button}", "Enter", "() => true"), new() { Predicate = d => d.SuggestedFilename.EndsWith(name, StringComparison.Ordinal) });
            new FileInfo(await download.PathAsync()).Length.Should().BeGreaterThan(500);
        }

        var chooser = await page.RunAndWaitForFileChooserAsync(() => DoAsync(page, "#file-open", "Enter", "() => true"));
        await chooser.SetFilesAsync(PageTests.Shipped("medium-log.toml"));
        await page.WaitForFunctionAsync("() => lesson.state.file === 'medium-log.toml'");
        await PageTests.Rested(page);
        await DoAsync(page, "#file-print", "Enter", "() => window.printed === 1 || document.activeElement.id === 'print-now'");
        if (await page.EvaluateAsync<int>("() => window.printed") == 0)
        {
            await page.Keyboard.PressAsync("Enter");
        }

        (await page.EvaluateAsync<int>("() => window.printed")).Should().Be(1);
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>Tab to a control, press a key, wait for what it does; the focus must not be lost by it.</summary>
    private static async Task DoAsync(IPage page, string control, string key, string until)
    {
        for (var i = 0; ; i++)
        {
            if (await page.EvaluateAsync<bool>("control => document.activeElement.matches(control)", control))
            {
                break;
            }

            i.Should().BeLessThan(TooMany, $"Tab must lead to {control}");
            await page.Keyboard.PressAsync("Tab");
        }

        await page.Keyboard.PressAsync(key);
        try
        {
            await page.WaitForFunctionAsync(until, null, new() { Timeout = 60_000 });
        }
        catch (TimeoutException late)
        {
            throw new InvalidOperationException($"{key} at {control} does not do what it should: {until}", late);
        }

        (await page.EvaluateAsync<string>("() => document.activeElement.tagName")).Should().NotBe("BODY", $"after {key} at {control} the focus is somewhere");
    }
}
