namespace DropSim.Browser;

/// <summary>The page where there is little room.</summary>
public sealed class SmallScreenTests(Chromium chromium) : IClassFixture<Chromium>
{
    private static readonly (int Width, int Height)[] s_screens = [(390, 844), (820, 1180), (1440, 900)];

    [BrowserFact]
    public async Task The_first_screen_asks_six_things_answers_with_five_shows_the_drop_and_names_one_that_was_not_caught()
    {
        await using var open = await chromium.LessonAsync();
        var page = open.Page;
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'", null, new() { Timeout = 600_000 });
        await SmallPhoneAsync(page);
        foreach (var (width, height) in s_screens)
        {
            await page.SetViewportSizeAsync(width, height);
            var seen = await page.EvaluateAsync<string[]>(
                """
                () => ['#scene', '#first-inputs > .input', '#first-inputs > .field', '#headline tbody tr'].flatMap(s => [...document.querySelectorAll(s)]).filter(e => e.checkVisibility())
                  .filter(e => { const b = e.getBoundingClientRect(); return b.top >= 0 && b.bottom <= innerHeight && b.left >= 0 && b.right <= innerWidth; })
                  .map(e => e.id || e.dataset.measure || e.querySelector('label, legend').textContent.trim())
                """);

            seen.Where(s => s.Contains('_')).Should().Equal(["rigging_point_force", "room_left", "climber_movement", "hand_force", "rope_run"], $"{width}");
            seen.Where(s => !s.Contains('_')).Should().HaveCount(7).And.Contain(["scene", "Species", "Girth at the cut", "Length", "Ring or block", "Wraps"]).And.ContainSingle(s => s.StartsWith("Catch"));
            (await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth")).Should().BeLessThanOrEqualTo(width);
        }

        // Less movement of a log that lies on the ground is no answer to the question.
        await page.Locator("#pair-first").SelectOptionAsync(new Microsoft.Playwright.SelectOptionValue { Label = "Let run" });
        await page.WaitForFunctionAsync("() => lesson.state.labels[0] === 'Let run' && lesson.state.stage !== 'asked'");
        await page.EvaluateAsync("() => { const s = document.querySelector(\"input[aria-label='Wraps, slider']\"); s.value = '1'; for (const e of ['input', 'change']) s.dispatchEvent(new Event(e, { bubbles: true })); }");
        await page.WaitForFunctionAsync("() => ['exact', 'whole'].includes(lesson.state.stage) && lesson.state.shown[0].end.cutsShort");
        foreach (var (width, height) in s_screens)
        {
            await page.SetViewportSizeAsync(width, height);
            var ending = await page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('#headline .ending')].filter(e => { const b = e.getBoundingClientRect(); return b.top >= 0 && b.bottom <= innerHeight; }).map(e => e.textContent)");
            ending.Should().ContainSingle($"{width}").Which.Should().StartWith("Not caught: the piece touches the ground at ");
        }

        (await page.EvaluateAsync<string>("() => document.getElementById('movement').textContent")).Should().StartWith("Since the start: Not caught (now): the piece touches the ground").And.NotContain(" times less");
        await UnitsFromTheMenuAsync(page);
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>What somebody came for, less movement and why, stands on the first screen of a small phone too; scenario and units wait in the menu.</summary>
    private static async Task SmallPhoneAsync(Microsoft.Playwright.IPage page)
    {
        await page.SetViewportSizeAsync(360, 640);
        await page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => setTimeout(done)))");

        var seen = await page.EvaluateAsync<int>(
            "() => ['#scene', '#player', '#ask-hint', '#first-inputs', '#movement'].filter(s => { const b = document.querySelector(s).getBoundingClientRect(); return b.height > 0 && b.top >= 0 && b.bottom <= innerHeight; }).length");
        seen.Should().Be(5);
        (await page.Locator("#movement").InnerTextAsync()).Should().Contain("at the rigging point in ").And.Contain("This drop: ").And.EndWith("rope and spar must take.");
        string[] picks = ["#scenario-pick", "#units-pick"];
        foreach (var pick in picks)
        {
            (await page.Locator(pick).IsVisibleAsync()).Should().BeFalse();
        }

        await page.Locator("#file-menu summary").ClickAsync();
        foreach (var pick in picks)
        {
            (await page.Locator($"#menu-body {pick}").IsVisibleAsync()).Should().BeTrue();
        }

        var outside = await page.EvaluateAsync<string[]>(
            "() => { const m = document.getElementById('menu-body').getBoundingClientRect(); return [...document.querySelectorAll('#menu-body *:not(option)')].filter(e => { const b = e.getBoundingClientRect(); return b.left < m.left || b.right > m.right || b.right > innerWidth; }).map(e => e.outerHTML.slice(0, 60)); }");
        outside.Should().BeEmpty("long names of scenarios do not push the menu off the screen");
        await page.EvaluateAsync("() => { document.getElementById('file-menu').open = false; }");
    }

    /// <summary>Units picked in the menu of a phone stay picked where the screen grows and the choice moves.</summary>
    private static async Task UnitsFromTheMenuAsync(Microsoft.Playwright.IPage page)
    {
        await page.SetViewportSizeAsync(360, 640);
        await page.Locator("#file-menu summary").ClickAsync();
        await page.Locator("#menu-body #units-pick input[value=us]").CheckAsync();
        await page.WaitForFunctionAsync("() => ['exact', 'whole'].includes(lesson.state.stage) && lesson.state.runs.first.measures.some(m => m.thisDrop.endsWith('lbf'))");
        await page.SetViewportSizeAsync(1440, 900);
        await page.WaitForFunctionAsync("() => document.querySelectorAll('.tools > #scenario-field, .tools > #units-pick').length === 2");
        (await page.Locator("#units-pick input[value=us]").IsCheckedAsync()).Should().BeTrue();
    }

    [BrowserFact]
    public async Task Names_in_the_picture_stand_clear_of_the_climber_and_of_one_another()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped("ring-or-block.toml"), PageTests.Shipped("low-cut.toml"));
        var page = open.Page;
        await PageTests.Rested(page);
        foreach (var (width, height) in s_screens)
        {
            await page.SetViewportSizeAsync(width, height);
            (await OverlapsAsync(page)).Should().BeEmpty($"ring or block, {width}");
        }

        await WheelMovesThePageAsync(page);

        // A low spar: the climber's feet are at the ground worker's head.
        await page.EvaluateAsync("() => lesson.work.open(lesson.state.files[1].text, lesson.state.files[1].name)");
        await PageTests.Rested(page);
        foreach (var (width, height) in s_screens)
        {
            await page.SetViewportSizeAsync(width, height);
            (await OverlapsAsync(page)).Should().BeEmpty($"low cut, {width}");
        }

        open.Complaints.Should().BeEmpty();
    }

    /// <summary>A wheel over the picture moves the page, and nothing inside itself; what the picture's column holds can be reached.</summary>
    private static async Task WheelMovesThePageAsync(Microsoft.Playwright.IPage page)
    {
        await page.SetViewportSizeAsync(1000, 620);
        await page.EvaluateAsync("() => { scrollTo(0, 0); document.getElementById('key-step').open = true; return new Promise(done => requestAnimationFrame(() => setTimeout(done))); }");
        (await page.EvaluateAsync<double>("() => document.getElementById('look').offsetHeight - innerHeight")).Should().BePositive("the column is taller than this screen");
        var scene = (await page.Locator("#scene").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(scene.X + (scene.Width / 2), scene.Y + (scene.Height / 2));
        await page.Mouse.WheelAsync(0, 240);

        await page.WaitForFunctionAsync("() => scrollY === 240");
        (await page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('#look, #look *')].filter(e => e.scrollTop > 0).map(e => e.id || e.tagName)")).Should().BeEmpty();
        await page.EvaluateAsync("() => scrollTo(0, document.documentElement.scrollHeight)");
        (await page.EvaluateAsync<double>("() => { const look = document.getElementById('look'); scrollTo(0, look.parentElement.offsetTop + look.parentElement.offsetHeight - innerHeight); return look.getBoundingClientRect().bottom - innerHeight; }")).Should().BeLessThan(1, "its lower end is seen");
        await page.EvaluateAsync("() => { document.getElementById('key-step').open = false; scrollTo(0, 0); }");
    }

    /// <summary>Names that lie over the climber or over one another, at 41 times of the drop.</summary>
    private static async Task<string[]> OverlapsAsync(Microsoft.Playwright.IPage page) =>
        await page.EvaluateAsync<string[]>(
            """
            () => {
              const { sceneparts: parts, plot } = lesson;
              const [climber, halo] = [parts.climber, plot.halo];
              let texts = [], people = [];
              parts.climber = (ctx, ...more) => {
                const box = { left: 1e9, right: -1e9, top: 1e9, bottom: -1e9 };
                const see = (x, y, r = 0) => Object.assign(box, { left: Math.min(box.left, x - r), right: Math.max(box.right, x + r), top: Math.min(box.top, y - r), bottom: Math.max(box.bottom, y + r) });
                for (const name of ['moveTo', 'lineTo', 'arc']) ctx[name] = (...a) => { see(a[0], a[1], name === 'arc' ? a[2] : ctx.lineWidth / 2); return CanvasRenderingContext2D.prototype[name].apply(ctx, a); };
                climber(ctx, ...more);
                for (const name of ['moveTo', 'lineTo', 'arc']) delete ctx[name];
                people.push({ text: 'climber', ...box });
              };
              plot.halo = (ctx, text, x, y, ...more) => {
                const m = ctx.measureText(text);
                texts.push({ text, left: x - m.actualBoundingBoxLeft, right: x + m.actualBoundingBoxRight, top: y - m.actualBoundingBoxAscent, bottom: y + m.actualBoundingBoxDescent });
                return halo(ctx, text, x, y, ...more);
              };
              const found = [];
              const { from, to } = lesson.frames.clock(lesson.state.shown);
              for (let k = 0; k <= 40; k++) {
                lesson.player.seek(from + (to - from) * k / 40, true);
                texts = []; people = [];
                lesson.scene.paint();
                const all = [...texts, ...people];
                for (const a of texts) for (const b of all) if (a !== b && a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom) found.push(`${k}: ${a.text} over ${b.text}`);
                if (people.length !== 2 || !texts.some(t => t.text.startsWith('ring'))) found.push(`${k}: nothing was drawn`);
              }
              [parts.climber, plot.halo] = [climber, halo];
              return found;
            }
            """);
}
