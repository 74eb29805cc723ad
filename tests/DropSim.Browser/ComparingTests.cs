using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>What a trainer holds against one another: catches, pinned set-ups, the start, a file that was saved.</summary>
public sealed class ComparingTests(MediumLogPage shared) : IClassFixture<MediumLogPage>
{
    private const string MediumLog = "medium-log.toml";

    [BrowserFact]
    public async Task A_pinned_set_up_stays_to_be_compared_with_and_says_what_changed()
    {
        var open = await shared.AnewAsync();
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
        var open = await shared.AnewAsync();
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
            await using var open = await shared.Browser.LessonAsync(PageTests.Shipped(file));
            var page = open.Page;
            await page.WaitForFunctionAsync("() => lesson.state.stage === 'exact'");
            var slider = page.GetByLabel("Wraps, slider", new() { Exact = true });
            await slider.FocusAsync();
            await slider.PressAsync("ArrowLeft");
            await page.WaitForFunctionAsync(
                "() => lesson.state.since && lesson.state.stage === 'whole' && [...lesson.state.starts.values()].every(r => r.rangeState === 'whole')",
                null,
                new() { Timeout = 600_000 });
            (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ").And.Contain("Worst of the range: ");
            open.Complaints.Should().BeEmpty();
        }
    }

    /// <summary>The page says what to try; a prediction made after a change is about the change, and what is looked at then is the change.</summary>
    [BrowserFact]
    public async Task A_learner_is_told_what_to_try_and_asked_about_the_change_that_was_made()
    {
        var open = await shared.AnewAsync();
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
        var open = await shared.AnewAsync();
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
        var open = await shared.AnewAsync();
        var page = open.Page;
        var mine = shared.Browser.NewFile("my-top.toml", await File.ReadAllTextAsync(PageTests.Shipped("small-top.toml")));
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
        force.Shown.Should().Be(Format.Value(UseTests.Computed(saved, first)[MeasureIds.RiggingPointForce], UnitSystem.Si));

        await page.Locator("#file-input").SetInputFilesAsync(shared.Browser.NewFile("again.toml", saved));
        await page.WaitForFunctionAsync("() => lesson.state.file === 'again.toml'");
        (await PageTests.Force(page)).Should().Be(force);
        open.Complaints.Should().BeEmpty();
    }

    private static async Task<string> SecondForce(IPage page) =>
        (await page.Locator("#headline tr[data-measure=rigging_point_force] b[data-central='1']").InnerTextAsync()).Trim();
}
