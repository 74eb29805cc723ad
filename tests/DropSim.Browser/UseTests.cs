using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>What a trainer does with the page: move, play, type.</summary>
public sealed class UseTests(MediumLogPage shared) : IClassFixture<MediumLogPage>
{
    private const string MediumLog = "medium-log.toml";

    [BrowserFact]
    public async Task A_slider_moved_and_let_go_shows_what_the_command_line_computes_for_the_changed_text()
    {
        var open = await shared.AnewAsync();
        var page = open.Page;
        var before = await PageTests.Force(page);

        var slider = page.GetByLabel("Length, slider", new() { Exact = true });
        await slider.FocusAsync();
        for (var i = 0; i < 5; i++)
        {
            await slider.PressAsync("ArrowRight");
        }

        await PageTests.Rested(page);
        var text = await page.EvaluateAsync<string>("() => lesson.state.text");
        text.Should().Contain("length = \"1.5 m\"", "five steps of 5 cm from 1.25 m").And.Contain("# green wood; a species name gives it too", "the file's remarks stay");
        var first = await page.EvaluateAsync<int>("() => lesson.state.first");
        var expected = Computed(text, first)[MeasureIds.RiggingPointForce];
        var now = await PageTests.Force(page);
        now.Value.Should().BeApproximately(expected.Value, 1e-6 * expected.Value);
        now.Shown.Should().Be(Format.Value(expected, UnitSystem.Si));
        now.Value.Should().NotBe(before.Value);
        (await page.Locator("#finding").InnerTextAsync()).Should().Contain("Length: 1.50 m instead of 1.25 m");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task A_slider_that_is_held_shows_coarse_curves_and_says_so_and_the_exact_ones_when_it_is_let_go()
    {
        var open = await shared.AnewAsync();
        var page = open.Page;
        await PageTests.Rested(page);
        var slider = page.GetByLabel("Wraps, slider", new() { Exact = true });
        var before = await page.EvaluateAsync<int>("() => lesson.state.runs.first.run");

        // As a finger does it: the value moves (input) and is let go later (change).
        await slider.EvaluateAsync("s => { s.value = '3.5'; s.dispatchEvent(new Event('input', { bubbles: true })); }");
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'coarse'");
        (await page.EvaluateAsync<int>("() => lesson.state.runs.first.run")).Should().NotBe(before);
        (await page.Locator("#headline .state").InnerTextAsync()).Should().Contain("Coarse");
        (await page.EvaluateAsync<string>("() => lesson.state.text")).Should().Contain("wraps = 2").And.NotContain("3.5", "the text changes when the slider rests");
        var coarse = await page.EvaluateAsync<double>("() => lesson.state.runs.first.measures.find(m => m.id === 'rigging_point_force').value");

        await slider.EvaluateAsync("s => s.dispatchEvent(new Event('change', { bubbles: true }))");
        var exact = await PageTests.Force(page);
        var text = await page.EvaluateAsync<string>("() => lesson.state.text");
        var expected = Computed(text, await page.EvaluateAsync<int>("() => lesson.state.first"))[MeasureIds.RiggingPointForce].Value;
        text.Should().Contain("wraps = \"3.5 turns\"");
        exact.Value.Should().BeApproximately(expected, 1e-6 * expected);
        coarse.Should().BeApproximately(expected, CoarseAccuracy * expected).And.NotBe(expected);

        // What was told of one value is not told beside the curves of the next.
        (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ");
        (await page.Locator("#finding").InnerTextAsync()).Should().StartWith("Since the start");
        await slider.EvaluateAsync("s => { s.value = '3'; s.dispatchEvent(new Event('input', { bubbles: true })); }");
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'coarse'");
        (await page.Locator("#movement").InnerTextAsync()).Should().BeEmpty();
        (await page.Locator("#finding").InnerTextAsync()).Should().BeEmpty();
        await slider.EvaluateAsync("s => s.dispatchEvent(new Event('change', { bubbles: true }))");
        await PageTests.Rested(page);
        (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ");
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>What coarse curves may be off (docs/lesson-page.md, "Coarse").</summary>
    private const double CoarseAccuracy = 0.02;

    [BrowserFact]
    public async Task Of_drops_that_wait_only_the_latest_is_computed_and_draws_give_way_to_it()
    {
        var open = await shared.AnewAsync();
        await PageTests.Rested(open.Page);

        var answers = await open.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const { text, file, first, runs } = lesson.state;
              const drop = length => lessonEngine.call('simulate', { text, file, cases: [first], quality: 'coarse', units: 'si', until: 2, edits: [{ case: first, key: 'piece.length', value: length }] });
              const waiting = [lessonEngine.call('draws', { runs: [runs.first.run], units: 'si' }), drop('1.0 m'), drop('1.1 m'), drop('1.2 m')];
              return (await Promise.all(waiting)).map(a => a.superseded ? 'given up' : String(a.runs[0].model.piece.length));
            }
            """);

        // The first drop may have been under way already when the others came.
        answers[0].Should().Be("given up");
        answers[1].Should().BeOneOf("given up", "1");
        answers[2..].Should().Equal("given up", "1.2");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task A_change_that_is_refused_leaves_the_drop_before_it_with_its_draws_to_come()
    {
        var open = await shared.AnewAsync();
        var page = open.Page;
        var before = await PageTests.Force(page);

        await page.Locator("#in-piece-length").FillAsync("1,5");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await page.Locator("#in-piece-length[aria-invalid=true]").WaitForAsync();

        (await page.Locator("#in-piece-length-error").InnerTextAsync()).Should().Contain("Refused").And.Contain("1,5");
        (await PageTests.Force(page)).Should().Be(before);
        await page.WaitForFunctionAsync("() => lesson.state.draws.done > 0", null, new() { Timeout = 60_000 });
        (await page.Locator("#in-piece-length").InputValueAsync()).Should().Be("1,5", "what was typed stands beside what is wrong with it");

        // The text never had it, and Reset takes it back all the same.
        (await page.EvaluateAsync<bool>("() => lesson.state.changed")).Should().BeFalse();
        await page.Locator("#reset").ClickAsync();
        await page.WaitForFunctionAsync("() => document.getElementById('in-piece-length').value === '1.25'");
        (await page.Locator("#in-piece-length-error").InnerTextAsync()).Should().BeEmpty();
        (await page.Locator("#in-piece-length").GetAttributeAsync("aria-invalid")).Should().BeNull();
        await PageTests.Rested(page);
        (await page.Locator("#reset").IsDisabledAsync()).Should().BeTrue("nothing is left to take back");
        (await PageTests.Force(page)).Should().Be(before);
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task The_drop_plays_stops_and_steps_by_keyboard_alone()
    {
        var open = await shared.AnewAsync();
        var page = open.Page;
        await PageTests.Rested(page);
        if (await page.EvaluateAsync<bool>("() => lesson.player.playing"))
        {
            await page.Locator("#scene").PressAsync(" ");
        }

        await page.Locator("#scene").PressAsync("Home");
        var start = await Now(page);
        start.Should().Be(await page.EvaluateAsync<double>("() => Math.min(...lesson.state.shown.map(r => r.window.from))"));
        (await page.Locator("#player output").InnerTextAsync()).Should().Be(FormattableString.Invariant($"{start:0.00} s"));

        await page.Keyboard.PressAsync(" ");
        await page.WaitForFunctionAsync("t => lesson.player.now > t + 0.1", start);
        await page.Keyboard.PressAsync(" ");
        (await page.EvaluateAsync<bool>("() => lesson.player.playing")).Should().BeFalse();
        var paused = await Now(page);
        await page.Keyboard.PressAsync("ArrowRight");
        (await Now(page)).Should().BeApproximately(paused + 0.02, 1e-9, "one step is a fiftieth of a second");
        await page.Keyboard.PressAsync("ArrowLeft");
        (await Now(page)).Should().BeApproximately(paused, 1e-9);
        await page.Keyboard.PressAsync("End");
        (await Now(page)).Should().Be(await page.EvaluateAsync<double>("() => Math.max(...lesson.state.shown.map(r => r.window.to))"));
        await page.Keyboard.PressAsync("Home");
        (await Now(page)).Should().Be(start);

        // While an answer is awaited the clock goes on, and the drop is drawn seldom: the processor belongs to the engine.
        var drawn = await page.EvaluateAsync<int[]>(
            """
            () => {
              const { requestAnimationFrame } = window;
              const { paint } = lesson.scene;
              const { stage } = lesson.state;
              let frame = null, paints = 0;
              window.requestAnimationFrame = next => { frame = next; };
              lesson.scene.paint = () => { paints++; };
              const counts = ['asked', 'whole'].map(now => {
                lesson.state.stage = now;
                lesson.player.play();
                const from = performance.now();
                paints = 0;
                for (let k = 1; k <= 50; k++) frame(from + 20 * k);
                lesson.player.pause();
                return paints;
              });
              Object.assign(window, { requestAnimationFrame });
              Object.assign(lesson.scene, { paint });
              lesson.state.stage = stage;
              return counts;
            }
            """);
        drawn[0].Should().BeInRange(9, 11, "a second at 50 frames, one drawing every 100 ms");
        drawn[1].Should().Be(50);
        (await Now(page)).Should().BeGreaterThan(start + 0.4, "two seconds at a quarter of the speed");
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>Who cannot wait moves a slider while the first drops are still computed: that is a change like any other.</summary>
    [BrowserFact]
    public async Task A_change_made_while_the_page_opens_is_shown_and_can_be_taken_back_and_a_change_plays_the_drop_again()
    {
        await using var open = await shared.Browser.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        await page.EvaluateAsync(
            """
            async () => {
              const slider = () => document.querySelector("input[aria-label='Length, slider']");
              while (!slider()) await new Promise(done => setTimeout(done, 5));
              for (const value of ['2', '1.5', '1']) {
                slider().value = value;
                slider().dispatchEvent(new Event('input', { bubbles: true }));
                await new Promise(done => setTimeout(done, 30));
              }
              slider().dispatchEvent(new Event('change', { bubbles: true }));
            }
            """);
        await page.WaitForFunctionAsync("() => lesson.state.text.includes('length = \"1 m\"') && document.body.dataset.ready === 'yes' && lesson.state.since && lesson.state.stage !== 'asked'");
        (await page.Locator("#in-piece-length").InputValueAsync()).Should().Be("1");
        (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ");
        await page.Locator("#reset").ClickAsync();
        await page.WaitForFunctionAsync("() => !lesson.state.changed && lesson.state.stage !== 'asked'");
        (await page.Locator("#in-piece-length").InputValueAsync()).Should().Be("1.25");

        await page.EvaluateAsync("() => { const { to } = lesson.frames.clock(lesson.state.shown); lesson.player.seek(to - 0.01, true); lesson.player.play(); }");
        await page.WaitForFunctionAsync("() => !lesson.player.playing");
        await page.Locator("#in-piece-length").FillAsync("1.1");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await page.WaitForFunctionAsync("() => lesson.state.changed && lesson.player.playing && lesson.player.now < 1");
        await page.EvaluateAsync("() => lesson.player.seek(0.5, true)");
        await page.Locator("#in-piece-length").FillAsync("1.2");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await page.WaitForFunctionAsync("() => lesson.state.text.includes('length = \"1.2 m\"') && lesson.state.stage !== 'asked'");
        (await page.EvaluateAsync<bool>("() => lesson.player.playing || lesson.player.now !== 0.5")).Should().BeFalse("who stopped it somewhere looks there");
        open.Complaints.Should().BeEmpty();
    }

    private static Task<double> Now(IPage page) => page.EvaluateAsync<double>("() => lesson.player.now");

    internal static DropRun Computed(string text, int index) =>
        DropSimulator.Run(ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Scenario!.Cases[index].Input);
}
