using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>An accessibility engine looks at the page as a phone, a tablet and a laptop show it, light and dark.</summary>
public sealed class AccessibilityTests(MediumLogPage shared) : IClassFixture<MediumLogPage>
{
    [BrowserFact]
    public async Task No_known_fault_and_nothing_wider_than_the_screen()
    {
        var open = await shared.AnewAsync(ReducedMotion.Reduce);
        var page = open.Page;
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { for (const d of document.querySelectorAll('details:not(.menu)')) d.open = true; }");
        foreach (var (width, height, scheme) in new[]
        {
            (390, 844, ColorScheme.Light), (820, 1180, ColorScheme.Dark), (1440, 900, ColorScheme.Light), (1440, 900, ColorScheme.Dark),
        })
        {
            await page.SetViewportSizeAsync(width, height);
            await page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            await page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => setTimeout(done)))");

            var result = await page.RunAxe();

            result.Passes.Length.Should().BeGreaterThan(20, "an engine that looked at nothing finds nothing");
            result.Violations.Select(v => $"{width} {scheme}, {v.Id}: {v.Help} ({string.Join("; ", v.Nodes.Take(3).Select(n => n.Html))})").Should().BeEmpty();
            (await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth")).Should().Be(0, $"{width}");
        }
    }

    [BrowserFact]
    public async Task A_new_answer_is_read_out_once_when_the_slider_rests_and_not_while_it_moves_or_the_drop_plays()
    {
        await using var open = await shared.Browser.LessonAsync(PageTests.Shipped("medium-log.toml"));
        var page = open.Page;
        await PageTests.Rested(page);
        (await page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('output, [role=status], [role=alert], [aria-live]')].filter(e => e.getAttribute('aria-live') !== 'off').map(e => e.id)"))
            .Should().BeEquivalentTo("live", "problems");
        await page.WaitForFunctionAsync("() => document.getElementById('live').textContent.length > 0");
        await page.EvaluateAsync(
            "() => { window.said = []; const live = document.getElementById('live'); live.textContent = ''; new MutationObserver(() => said.push(live.textContent)).observe(live, { childList: true, characterData: true, subtree: true }); lesson.player.play(); }");

        await page.EvaluateAsync(
            """
            async () => {
              const slider = document.querySelector("input[aria-label='Wraps, slider']");
              for (const value of [2.75, 3, 3.25, 3.5]) {
                const before = lesson.state.runs.first;
                slider.value = String(value);
                slider.dispatchEvent(new Event('input', { bubbles: true }));
                while (lesson.state.runs.first === before) await new Promise(done => setTimeout(done, 5));
                await new Promise(done => setTimeout(done, 600));
              }
            }
            """);
        (await page.EvaluateAsync<string[]>("() => said")).Should().BeEmpty("the slider still moves");

        await page.EvaluateAsync("() => document.querySelector(\"input[aria-label='Wraps, slider']\").dispatchEvent(new Event('change', { bubbles: true }))");
        await PageTests.Rested(page);
        await page.WaitForFunctionAsync("() => said.length > 0");
        var answer = (await page.EvaluateAsync<string[]>("() => said")).Should().ContainSingle().Subject;
        answer.Should().Contain("at the start").And.Contain("The spar at the climber's feet moves").And.Contain(await page.EvaluateAsync<string>("() => lesson.state.measure(lesson.state.runs.first, 'climber_movement').thisDrop"));

        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'", null, new() { Timeout = 600_000 });
        await page.WaitForFunctionAsync("() => said.length > 1");
        (await page.EvaluateAsync<string[]>("() => said")).Should().Equal(answer, await page.EvaluateAsync<string>("() => 'Set-ups like it: ' + lesson.state.toldSince.sentences.join(' ')"));

        // A change takes back what has not been told yet: it belongs to the values before.
        await page.EvaluateAsync("() => { said.length = 0; lesson.say('of the values before'); const s = document.querySelector(\"input[aria-label='Wraps, slider']\"); s.value = '3'; s.dispatchEvent(new Event('input', { bubbles: true })); }");
        await page.WaitForTimeoutAsync(800);
        (await page.EvaluateAsync<string[]>("() => said")).Should().BeEmpty();
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task Pictures_have_words_that_follow_the_drop_and_sliders_say_their_unit()
    {
        var open = await shared.AnewAsync(ReducedMotion.Reduce);
        var page = open.Page;
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { for (const d of document.querySelectorAll('details:not(.menu)')) d.open = true; }");

        var before = await PicturesAsync(page);
        before.Should().HaveCountGreaterThan(8).And.OnlyHaveUniqueItems().And.OnlyContain(words => words.Length > 60);
        await page.Locator("#in-piece-length").FillAsync("0.7");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await PageTests.Rested(page);
        var after = await PicturesAsync(page);
        after.Should().HaveSameCount(before);
        after.Intersect(before).Should().BeEmpty("each picture's words belong to the drop on show");
        foreach (var id in new[] { "climber_movement", "rigging_point_force", "load_leg_tension" })
        {
            var thisDrop = await page.EvaluateAsync<string>("id => lesson.state.measure(lesson.state.runs.first, id).thisDrop", id);
            after.Should().Contain(words => words.Contains($"Hard stop: {thisDrop}", StringComparison.Ordinal));
        }

        foreach (var (units, pick) in new[] { ("si", "m, kN"), ("us", "ft, lbf") })
        {
            await page.GetByLabel(pick, new() { Exact = true }).CheckAsync();
            await page.WaitForFunctionAsync("units => lesson.state.units === units", units);
            await PageTests.Rested(page);
            var said = await page.EvaluateAsync<string[]>(
                """
                () => [...document.querySelectorAll('.input input[type=range]:not([hidden])')].map(s => {
                  const unit = s.parentElement.querySelector('.unit').textContent;
                  const number = s.parentElement.querySelector('.number').value;
                  return s.getAttribute('aria-valuetext') === `${number} ${unit}`.trim() ? '' : s.outerHTML;
                })
                """);
            said.Should().HaveCountGreaterThan(8).And.OnlyContain(wrong => wrong.Length == 0);
        }

        (await page.Locator("#player input[type=range]").GetAttributeAsync("aria-valuetext")).Should().MatchRegex(@"^-?\d+\.\d\d s$");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task A_screen_reader_meets_the_five_measures_as_a_table_and_nothing_of_a_covered_result()
    {
        var open = await shared.AnewAsync(ReducedMotion.Reduce);
        var page = open.Page;
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await PageTests.Rested(page);

        var tree = await page.Locator("#answers").AriaSnapshotAsync();
        tree.Should().Contain("region \"What comes of it\"").And.Contain("table \"The five headline measures: this drop, and set-ups like it\"")
            .And.Contain("columnheader \"Let run\"").And.Contain("columnheader \"Hard stop\"");
        foreach (var label in await page.EvaluateAsync<string[]>("() => lesson.state.runs.first.measures.filter(m => m.headline).map(m => m.label)"))
        {
            tree.Should().Contain($"rowheader \"{label}\"");
        }

        (await page.Locator("#look").AriaSnapshotAsync()).Should().Contain("img \"Side view to scale at").And.Contain("slider \"Time from hinge break\"").And.Contain("button \"Play\"");

        await page.Locator("#predict-switch").CheckAsync();
        var covered = await page.Locator("main").AriaSnapshotAsync();
        covered.Should().Contain("group \"The force on the rigging point is\"").And.Contain("the result is covered until you have predicted it").And.NotContain("kN this drop").And.NotContain("table \"The five");
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>The words of all pictures.</summary>
    private static Task<string[]> PicturesAsync(IPage page) => page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('canvas[role=img]')].filter(c => c.checkVisibility()).map(c => c.getAttribute('aria-label'))");
}
