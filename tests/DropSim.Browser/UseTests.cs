using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>What a trainer does with the page: move, play, pin, open, save.</summary>
[Collection("browser")]
public sealed class UseTests(Chromium chromium)
{
    private const string MediumLog = "medium-log.toml";

    [BrowserFact]
    public async Task A_slider_moved_and_let_go_shows_what_the_command_line_computes_for_the_changed_text()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
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
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        await PageTests.Rested(page);
        var slider = page.GetByLabel("Wraps, slider", new() { Exact = true });
        var before = await page.EvaluateAsync<int>("() => lesson.state.runs.first.run");

        // As a finger does it: the value moves (input) and is let go later (change).
        await slider.EvaluateAsync("s => { s.value = '3.5'; s.dispatchEvent(new Event('input', { bubbles: true })); }");
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'coarse'");
        (await page.EvaluateAsync<int>("() => lesson.state.runs.first.run")).Should().NotBe(before);
        (await page.Locator("#headline .state").InnerTextAsync()).Should().Contain("Coarse");
        (await page.EvaluateAsync<string>("() => lesson.state.text")).Should().Contain("wraps = 2.5", "the text changes when the slider rests");
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
    public async Task Of_drops_that_wait_only_the_latest_is_computed_and_ranges_give_way_to_it()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        await PageTests.Rested(open.Page);

        var answers = await open.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const { text, file, first, runs } = lesson.state;
              const drop = length => lessonEngine.call('simulate', { text, file, cases: [first], quality: 'coarse', units: 'si', until: 2, edits: [{ case: first, key: 'piece.length', value: length }] });
              const waiting = [lessonEngine.call('ranges', { runs: [runs.first.run], units: 'si' }), drop('1.0 m'), drop('1.1 m'), drop('1.2 m')];
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
    public async Task A_change_that_is_refused_leaves_the_drop_before_it_with_its_ranges_to_come()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        var before = await PageTests.Force(page);

        await page.Locator("#in-piece-length").FillAsync("1,5");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await page.Locator("#in-piece-length[aria-invalid=true]").WaitForAsync();

        (await page.Locator("#in-piece-length-error").InnerTextAsync()).Should().Contain("Refused").And.Contain("1,5");
        (await PageTests.Force(page)).Should().Be(before);
        await page.WaitForFunctionAsync("() => lesson.state.range.done > 0", null, new() { Timeout = 60_000 });
        (await page.Locator("#in-piece-length").InputValueAsync()).Should().Be("1,5", "what was typed stands beside what is wrong with it");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task The_drop_plays_stops_and_steps_by_keyboard_alone()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
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
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
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

    [BrowserFact]
    public async Task A_pinned_set_up_stays_to_be_compared_with_and_says_what_changed()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        var pinned = await PageTests.Force(page);

        await page.Locator("#pin").ClickAsync();
        await page.WaitForFunctionAsync("() => lesson.state.second === 'pin:0'");
        await PageTests.Rested(page);
        (await SecondForce(page)).Should().Be(pinned.Shown);

        await page.Locator("#in-piece-length").FillAsync("0.6");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await PageTests.Rested(page);

        (await SecondForce(page)).Should().Be(pinned.Shown);
        var now = await PageTests.Force(page);
        now.Value.Should().BeLessThan(pinned.Value);
        (await page.Locator("#finding").InnerTextAsync()).Replace('\u00a0', ' ').Should().Contain("length 0.60 m instead of 1.25 m");
        (await page.Locator("#pins").InnerTextAsync()).Should().Contain(pinned.Shown);
        open.Complaints.Should().BeEmpty();
    }

    /// <summary>
    /// The catch looked at comes first in words and in the table. A trainer picks the other one: then the words turn round too, and the worst
    /// values belong to the right catch.
    /// </summary>
    [BrowserFact]
    public async Task The_words_hold_the_catch_looked_at_against_the_other_whichever_was_picked_and_so_does_the_worst_of_the_range()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        foreach (var (catchName, other) in new[] { ("let run", "hard stop"), ("hard stop", "let run") })
        {
            await page.Locator("#pair-first").SelectOptionAsync(new SelectOptionValue { Label = char.ToUpperInvariant(catchName[0]) + catchName[1..] });
            await page.WaitForFunctionAsync("c => lesson.state.stage === 'whole' && lesson.state.labels[0].toLowerCase() === c", catchName);
            var shown = await page.EvaluateAsync<string[]>(
                "() => lesson.state.shown.flatMap(r => { const m = lesson.state.measure(r, 'climber_movement'); return [m.central, m.worst]; })");
            var words = (await page.Locator("#movement").InnerTextAsync()).Replace('\u00a0', ' ');

            words.Should().StartWith($"The spar at the climber's feet moves {shown[0]} ({catchName}) instead of {shown[2]} ({other})")
                .And.Contain($"Worst of the range: {shown[1]} instead of {shown[3]}")
                .And.Contain($"{(catchName == "let run" ? "Less" : "More")} as the inputs stand; at their worst that is not certain.");
            words.Contains("The rope runs faster than a hand can hold.", StringComparison.Ordinal).Should().Be(catchName == "let run");
        }

        open.Complaints.Should().BeEmpty();
    }

    /// <summary>
    /// Who changes something before the ranges of the start are known is told the worst of the range all the same, in the end; with three
    /// catches the third, which is computed after the two on show, does not take the start's turn.
    /// </summary>
    [BrowserFact]
    public async Task The_worst_of_the_range_speaks_beside_what_a_quick_change_did()
    {
        foreach (var file in new[] { MediumLog, "snagged-run.toml" })
        {
            await using var open = await chromium.LessonAsync(PageTests.Shipped(file));
            var page = open.Page;
            await page.WaitForFunctionAsync("() => lesson.state.stage === 'exact'");
            var slider = page.GetByLabel("Wraps, slider", new() { Exact = true });
            await slider.FocusAsync();
            await slider.PressAsync("ArrowLeft");
            await page.WaitForFunctionAsync(
                "() => lesson.state.since && lesson.state.stage === 'whole' && [...lesson.state.starts.values()].every(r => r.rangeState === 'whole')",
                null,
                new() { Timeout = 120_000 });
            (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ").And.Contain("Worst of the range: ");
            open.Complaints.Should().BeEmpty();
        }
    }

    /// <summary>The page says what to try; a prediction made after a change is about the change, and what is looked at then is the change.</summary>
    [BrowserFact]
    public async Task A_learner_is_told_what_to_try_and_asked_about_the_change_that_was_made()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        await PageTests.Rested(page);
        var hint = page.Locator("#ask-hint");
        (await hint.InnerTextAsync()).Should().Be("Make the spar move less: change one thing.");
        var hand = (await page.Locator("#headline tr[data-measure=hand_force]").InnerTextAsync()).Replace('\u00a0', ' ');
        hand.Split("an input").Should().HaveCount(2, "let run the hand's pull is given, locked off it is computed");

        await page.Locator("#predict-switch").CheckAsync();
        (await page.Locator("#predict").InnerTextAsync()).Should().Contain("Compared with \u201cLet run\u201d, with \u201cHard stop\u201d:");
        var before = await page.EvaluateAsync<string>("() => lesson.state.measure(lesson.state.runs.first, 'climber_movement').central");
        await page.Locator("#in-piece-length").FillAsync("0.75");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await PageTests.Rested(page);
        (await page.Locator("#predict").InnerTextAsync()).Should().Contain("Compared with the start, with \u201cHard stop\u201d as it is now:");
        (await page.Locator("#movement").IsVisibleAsync()).Should().BeFalse("what the change did is covered");
        (await hint.InnerTextAsync()).Should().Be("One change at a time: Reset before the next.");
        (await page.EvaluateAsync<bool>("() => !lesson.player.playing && lesson.player.now <= 0")).Should().BeTrue("the picture waits at the hinge");
        await page.GetByRole(AriaRole.Button, new() { Name = "Look", Exact = true }).ClickAsync();
        (await page.EvaluateAsync<bool>("() => lesson.player.playing")).Should().BeTrue("what was covered is shown from its beginning");

        var after = await page.EvaluateAsync<string>("() => lesson.state.measure(lesson.state.runs.first, 'climber_movement').central");
        var row = await page.Locator("#predict tbody tr").First.Locator("td").AllInnerTextsAsync();
        after.Should().NotBe(before);
        row[^2].Should().StartWith(after);
        row[^1].Should().StartWith(before);
        (await page.Locator("#predict thead th").AllInnerTextsAsync()).Should().EndWith(["now", "at the start"]);
        (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ").And.Contain("there was less to stop.").And.NotContain("let run");
        (await page.Locator("#finding h3").First.InnerTextAsync()).Should().Be("Since the start");

        // The picture then shows what the sentence tells of, and the sentence stays.
        await page.Locator("#start-beside").ClickAsync();
        await page.WaitForFunctionAsync("() => lesson.state.second === 'start' && lesson.state.labels[1] === 'Hard stop at the start' && lesson.state.stage !== 'asked'");
        (await page.Locator("#movement").InnerTextAsync()).Should().Contain("there was less to stop.");
        (await page.Locator("#start-beside").CountAsync()).Should().Be(0);
        (await page.EvaluateAsync<string>("() => document.activeElement.id")).Should().Be("answers", "the button that had the focus is gone");

        await page.Locator("#reset").ClickAsync();
        await page.WaitForFunctionAsync("() => !lesson.state.changed");
        await PageTests.Rested(page);
        await page.Locator("#pair-first").SelectOptionAsync(new SelectOptionValue { Label = "Let run" });
        await page.Locator("#pair-second").SelectOptionAsync(new SelectOptionValue { Label = "Hard stop" });
        await page.WaitForFunctionAsync("() => lesson.state.labels.join() === 'Let run,Hard stop' && lesson.state.stage !== 'asked'");
        (await hint.InnerTextAsync()).Should().Be("Make the spar move still less: change one thing.", "let run it moves less than with the hard stop beside it");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task A_set_up_that_was_pinned_follows_the_units()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        await PageTests.Rested(page);
        await page.Locator("#pin").ClickAsync();
        await page.WaitForFunctionAsync("() => lesson.state.second === 'pin:0' && lesson.state.stage === 'whole'");
        await page.Locator("#units-pick input[value=us]").CheckAsync();
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole' && lesson.state.runs.first.measures.some(m => m.central.endsWith('lbf'))");

        var central = await page.EvaluateAsync<string[]>("() => lesson.state.shown.map(r => lesson.state.measure(r, 'rigging_point_force').central)");
        central.Should().HaveCount(2);
        central[1].Should().Be(central[0]).And.EndWith("lbf", "the pinned drop is the one looked at");
        (await page.Locator("#pins").InnerTextAsync()).Replace('\u00a0', ' ').Should().Contain(central[0]);
        string[] metric = [" kN", " m/s", " mm"];
        var table = (await page.Locator("#headline").InnerTextAsync()).Replace('\u00a0', ' ');
        metric.Should().OnlyContain(unit => !table.Contains(unit, StringComparison.Ordinal));
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task A_file_that_was_changed_and_saved_opens_as_the_same_drop()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(MediumLog));
        var page = open.Page;
        var mine = chromium.NewFile("my-top.toml", await File.ReadAllTextAsync(PageTests.Shipped("small-top.toml")));
        await page.Locator("#file-input").SetInputFilesAsync(mine);
        await page.WaitForFunctionAsync("() => lesson.state.file === 'my-top.toml'");
        await PageTests.Rested(page);
        await page.Locator("#in-piece-length").FillAsync("5.5");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        var force = await PageTests.Force(page);

        await page.Locator("#file-menu summary").ClickAsync();
        var download = await page.RunAndWaitForDownloadAsync(() => page.Locator("#file-save").ClickAsync());
        download.SuggestedFilename.Should().Be("my-top.toml");
        var saved = await File.ReadAllTextAsync(await download.PathAsync());
        saved.Should().Be(await page.EvaluateAsync<string>("() => lesson.state.text")).And.Contain("length = \"5.5 m\"");
        var first = await page.EvaluateAsync<int>("() => lesson.state.first");
        force.Shown.Should().Be(Format.Value(Computed(saved, first)[MeasureIds.RiggingPointForce], UnitSystem.Si));

        await page.Locator("#file-input").SetInputFilesAsync(chromium.NewFile("again.toml", saved));
        await page.WaitForFunctionAsync("() => lesson.state.file === 'again.toml'");
        (await PageTests.Force(page)).Should().Be(force);
        open.Complaints.Should().BeEmpty();
    }

    private static Task<double> Now(IPage page) => page.EvaluateAsync<double>("() => lesson.player.now");

    private static async Task<string> SecondForce(IPage page) =>
        (await page.Locator("#headline tr[data-measure=rigging_point_force] b[data-central='1']").InnerTextAsync()).Trim();

    private static DropRun Computed(string text, int index) =>
        DropSimulator.Run(ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Scenario!.Cases[index].Input);
}
