using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>A quantity that had not come about before a run was cut short has no value, whatever number stands in it.</summary>
public sealed class NeverReachedTests(Chromium chromium) : IClassFixture<Chromium>
{
    /// <summary>The rope breaks with eight metres below the piece: no mark at eight metres, and no "more room than the other".</summary>
    [BrowserFact]
    public async Task Room_that_was_never_reached_gets_no_mark_and_no_praise()
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped("medium-log.toml"));
        var page = open.Page;
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'", null, new() { Timeout = 120_000 });
        var ticks = page.Locator("#headline tr[data-measure=room_left] .tick");
        (await ticks.CountAsync()).Should().Be(2);
        await page.Locator("#predict-switch").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Look", Exact = true }).ClickAsync();
        var room = page.Locator("#predict tbody tr").Nth(2).Locator("td").Nth(1);
        (await room.InnerTextAsync()).Should().BeOneOf("less", "more");

        await page.EvaluateAsync(
            """
            () => {
              Object.assign(lesson.state.measure(lesson.state.runs.first, 'room_left'), { value: 8, state: 'not_reached', thisDrop: 'not reached' });
              lesson.state.tell('draws');
            }
            """);

        (await ticks.CountAsync()).Should().Be(1, "the other drop's room is known");
        (await room.InnerTextAsync()).Should().Be("cannot be told");
        open.Complaints.Should().BeEmpty();
    }
}
