using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Told;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Studies.Draws;
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
    /// What set-ups like these say comes first, the same whichever of the two is looked at, and the line of <c>dropsim simulate</c> on as many
    /// draws; then this drop, in which the catch looked at comes first.
    /// </summary>
    [BrowserFact]
    public async Task Set_ups_like_these_speak_first_in_the_words_of_the_command_line_then_this_drop_the_catch_looked_at_first()
    {
        var open = await shared.AnewAsync();
        var page = open.Page;
        var expected = Line(MediumLog);
        foreach (var catchName in new[] { "let run", "hard stop" })
        {
            await page.Locator("#pair-first").SelectOptionAsync(new SelectOptionValue { Label = char.ToUpperInvariant(catchName[0]) + catchName[1..] });
            await page.WaitForFunctionAsync("c => lesson.state.stage === 'whole' && lesson.state.labels[0].toLowerCase() === c", catchName, new() { Timeout = 600_000 });
            var shown = await page.EvaluateAsync<string[]>("() => lesson.state.shown.map(r => lesson.state.measure(r, 'climber_movement').thisDrop)");
            var words = (await page.Locator("#movement").InnerTextAsync()).Replace('\u00a0', ' ');

            var why = await page.EvaluateAsync<string>("() => lesson.small(lesson.state.comparison.movement.rest)");
            words.Should().Be($"{expected}\n\nThis drop: {why}");
            (await page.Locator("#headline tr[data-measure=climber_movement] b[data-this-drop]").AllInnerTextsAsync()).Should().Equal(shown);
            var table = (await page.Locator("#headline").InnerTextAsync()).Replace('\u00a0', ' ');
            foreach (var likeIt in await page.EvaluateAsync<string[]>("() => lesson.state.shown.flatMap(r => r.measures.filter(m => m.headline).map(m => lesson.state.likeIt(r, m.id).likeIt))"))
            {
                table.Should().Contain(likeIt.Replace('\u00a0', ' '));
            }

            var dots = await page.EvaluateAsync<int[]>("() => [...document.querySelectorAll('#headline svg.dots')].map(d => d.querySelectorAll('circle, .missed').length)");
            dots.Should().HaveCount(10).And.OnlyContain(n => n == 20, "every set-up has its dot or its cross");
        }

        open.Complaints.Should().BeEmpty();
    }

    /// <summary>What <c>dropsim simulate</c> says of the two cases of a scenario, on as many draws as the page computes.</summary>
    private static string Line(string file)
    {
        var scenario = ScenarioReader.Read(PageTests.Shipped(file)).Scenario!;
        CaseResult[] results = [.. scenario.Cases.Select(c => new CaseResult(c, DropSimulator.Run(c.Input), 0, ""))];
        var pairs = ScenarioStudy.Pairs(scenario.Cases);
        var drawn = DrawStudy.Compute(scenario.Cases, new DrawPlan(DrawStudy.SeedOf(scenario.Name)) { Count = Session.DrawJob.Draws });
        var told = ToldScenario.Of(drawn, [.. results.Select(r => r.Run)], pairs.Select(p => (p.First, p.Second)));
        return ScenarioWords.Of(new(scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, results, pairs) { Told = told }, UnitSystem.Si).Findings[0];
    }

    /// <summary>
    /// Who changes something before set-ups like the start are drawn is told of them all the same, in the end; with three
    /// catches the third, which is computed after the two on show, does not take the start's turn.
    /// </summary>
    [BrowserFact]
    public async Task Set_ups_like_it_speak_of_what_a_quick_change_did()
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
                "() => lesson.state.since && lesson.state.stage === 'whole' && [...lesson.state.starts.values()].every(r => r.drawn)",
                null,
                new() { Timeout = 600_000 });
            var said = await page.EvaluateAsync<string>("() => lesson.unbroken(lesson.state.toldSince.sentences.join(' '))");
            said.Should().Contain("the drop at the start");
            (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ").And.Contain(said);
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
        var before = await page.EvaluateAsync<string>("() => lesson.state.measure(lesson.state.runs.first, 'climber_movement').thisDrop");
        await page.Locator("#in-piece-length").FillAsync("0.75");
        await page.Locator("#in-piece-length").PressAsync("Enter");
        await PageTests.Rested(page);
        (await page.Locator("#predict").InnerTextAsync()).Should().Contain("Compared with the start, with \u201cHard stop\u201d as it is now:");
        (await page.Locator("#movement").IsVisibleAsync()).Should().BeFalse("what the change did is covered");
        (await hint.InnerTextAsync()).Should().Be("One change at a time: Reset before the next.");
        (await page.EvaluateAsync<bool>("() => !lesson.player.playing && lesson.player.now <= 0")).Should().BeTrue("the picture waits at the hinge");
        await page.GetByRole(AriaRole.Button, new() { Name = "Look", Exact = true }).ClickAsync();
        (await page.EvaluateAsync<bool>("() => lesson.player.playing")).Should().BeTrue("what was covered is shown from its beginning");

        var after = await page.EvaluateAsync<string>("() => lesson.state.measure(lesson.state.runs.first, 'climber_movement').thisDrop");
        var row = await page.Locator("#predict tbody tr").First.Locator("td").AllInnerTextsAsync();
        after.Should().NotBe(before);
        row[^2].Should().StartWith(after);
        row[^1].Should().StartWith(before);
        (await page.Locator("#predict thead th").AllInnerTextsAsync()).Should().EndWith(["now", "at the start"]);
        (await page.Locator("#movement").InnerTextAsync()).Should().StartWith("Since the start: ").And.Contain("there was less to stop.").And.NotContain("let run");
        (await page.Locator("#finding h3").First.InnerTextAsync()).Should().Be("Since the start, in this drop");

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
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole' && lesson.state.runs.first.measures.some(m => m.thisDrop.endsWith('lbf'))");

        var thisDrop = await page.EvaluateAsync<string[]>("() => lesson.state.shown.map(r => lesson.state.measure(r, 'rigging_point_force').thisDrop)");
        thisDrop.Should().HaveCount(2);
        thisDrop[1].Should().Be(thisDrop[0]).And.EndWith("lbf", "the pinned drop is the one looked at");
        (await page.Locator("#pins").InnerTextAsync()).Replace('\u00a0', ' ').Should().Contain(thisDrop[0]);
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
        (await page.Locator("#headline tr[data-measure=rigging_point_force] b[data-this-drop='1']").InnerTextAsync()).Trim();
}
