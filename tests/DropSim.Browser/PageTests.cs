using System.Text;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Scenarios;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>What a page must withstand: wrong files, hostile text; and the report beside the pictures.</summary>
public sealed class PageTests(Chromium chromium) : IClassFixture<Chromium>
{
    private const string MediumLog = "medium-log.toml";

    [BrowserFact]
    public async Task A_refused_file_shows_the_lines_of_the_command_line_and_leaves_the_drop_before_it()
    {
        await using var open = await chromium.LessonAsync(Shipped(MediumLog));
        const string Text = "[piece]\nkind = \"log\"\nlenght = \"1 m\"\n[rope]\nslack = \"1,5 m\"\n";
        var bad = chromium.NewFile("bad.toml", Text);
        var before = await Force(open.Page);

        await open.Page.Locator("#file-input").SetInputFilesAsync(bad);
        await open.Page.Locator("#problems li").First.WaitForAsync();

        var expected = ScenarioReader.Read(Encoding.UTF8.GetBytes(Text), "bad.toml").Problems.Select(p => p.ToString()).ToArray();
        expected.Should().HaveCountGreaterThan(3);
        (await open.Page.Locator("#problems li").AllInnerTextsAsync()).Should().Equal(expected);
        (await Force(open.Page)).Should().Be(before);
    }

    [BrowserFact]
    public async Task Hostile_text_is_shown_and_never_run()
    {
        const string Attack = "</script><script>window.struck=1</script><img src=x onerror=window.struck=2>";
        var text = (await File.ReadAllTextAsync(Shipped("low-cut.toml")))
            .Replace("title = \"", $"title = \"{Attack} ", StringComparison.Ordinal)
            .Replace("description = \"", $"description = \"<svg onload=window.struck=3> {Attack} ", StringComparison.Ordinal)
            + $"\n[[obstacle]]\nname = \"{Attack}\"\nx-from = \"6 m\"\nx-to = \"7 m\"\nz-to = \"1 m\"\n";
        ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "hostile.toml").Problems.Should().BeEmpty();

        await using var open = await chromium.LessonAsync(chromium.NewFile("hostile.toml", text));
        await Rested(open.Page);
        (await open.Page.Locator("#title").InnerTextAsync()).Should().Contain("<script>window.struck=1</script>");
        foreach (var details in await open.Page.Locator("details").AllAsync())
        {
            await details.EvaluateAsync("d => { d.open = true; }");
        }

        var wrong = chromium.NewFile("worse.toml", $"title = \"x\"\n[piece]\nkind = \"{Attack}\"\n\"{Attack}\" = 1\n");
        await open.Page.Locator("#file-input").SetInputFilesAsync(wrong);
        await open.Page.Locator("#problems li").First.WaitForAsync();

        (await open.Page.EvaluateAsync<bool>("() => 'struck' in window")).Should().BeFalse();
        (await open.Page.Locator("main img, main script, main svg[onload], #problems img").CountAsync()).Should().Be(0);
        open.Complaints.Should().BeEmpty();
        open.Requests.Should().OnlyContain(r => r.StartsWith("file:", StringComparison.Ordinal) || r.StartsWith("blob:", StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal));
    }

    [BrowserFact]
    public async Task The_report_beside_the_pictures_opens_on_its_own_scenario_and_drop()
    {
        var folder = Path.GetDirectoryName(chromium.NewFile("here.txt", ""))!;
        using var output = new StringWriter();
        Cli.DropSimApp.Run(["simulate", Shipped("feet-and-pounds.toml"), "--out", folder, "--csv-interval", "10 ms"], output, output, CancellationToken.None).Should().Be(0);

        await using var open = await chromium.OpenAsync(Path.Combine(folder, "feet-and-pounds", "report.html"));
        await Rested(open.Page);
        (await open.Page.EvaluateAsync<string>("() => [lesson.state.file, lesson.state.mode, lesson.state.units].join()")).Should().Be("feet-and-pounds.toml,report,us");
        var run = Computed(await File.ReadAllTextAsync(Shipped("feet-and-pounds.toml")));
        var first = await open.Page.EvaluateAsync<int>("() => lesson.state.first");
        (await Force(open.Page)).Shown.Should().Be(Format.Value(run[first][MeasureIds.RiggingPointForce], UnitSystem.Us));
        open.Complaints.Should().BeEmpty();
    }

    internal static string Shipped(string name) => Path.Combine(Repository.Folder("scenarios"), name);

    /// <summary>Waits until an exact result stands, its words too.</summary>
    internal static async Task Rested(IPage page)
    {
        await page.WaitForFunctionAsync("() => document.body.dataset.ready === 'yes' && ['exact', 'whole'].includes(lesson.state.stage)");
    }

    internal sealed record ShownForce(double Value, string Shown);

    internal static async Task<ShownForce> Force(IPage page)
    {
        await Rested(page);
        var value = await page.EvaluateAsync<double>("() => lesson.state.runs.first.measures.find(m => m.id === 'rigging_point_force').value");
        var text = await page.Locator("#headline tr[data-measure=rigging_point_force] b[data-this-drop='0']").TextContentAsync();
        return new(value, text!.Trim());
    }

    private static DropRun[] Computed(string text) =>
        [.. ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Scenario!.Cases.Select(c => DropSimulator.Run(c.Input))];
}
