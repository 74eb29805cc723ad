using Microsoft.Playwright;
using UglyToad.PdfPig;
using Sheet = UglyToad.PdfPig.Content.Page;

namespace DropSim.Browser;

/// <summary>What comes out of a printer: the report beside the pictures as a briefing of one sheet, whole, on A4 and on US letter.</summary>
public sealed class PrintTests(Chromium chromium) : IClassFixture<Chromium>
{
    /// <summary>Margin of the sheet (print.css), in points.</summary>
    private const double Margin = 12 * 72 / 25.4;

    /// <summary>What a letter may reach beyond the margin by its own shape, points.</summary>
    private const double Overhang = 1.5;

    [BrowserFact]
    public async Task A_print_before_the_results_stand_says_so_the_pages_own_button_waits_and_then_one_sheet_holds_pictures_measures_set_ups_like_it_and_cautions()
    {
        await using var open = await ReportAsync("medium-log.toml");
        var page = open.Page;
        await page.EvaluateAsync("() => { window.printed = 0; window.print = () => { window.printed++; }; }");
        using (var early = await PdfAsync(page, "A4"))
        {
            Squeezed(Only(early)).Should().Match(t => t.Contains(Squeezed("There is nothing to print yet."), StringComparison.Ordinal) || t.Contains(Squeezed("Printed before it was finished."), StringComparison.Ordinal));
        }

        await PageTests.Rested(page);
        using (var early = await PdfAsync(page, "A4"))
        {
            Squeezed(Only(early)).Should().Contain(Squeezed("Printed before it was finished. Set-ups like it: ")).And.Contain(Squeezed("set-ups like it not computed yet"))
                .And.Contain(Squeezed("This informs and permits nothing"));
        }

        await page.Locator("#file-menu summary").ClickAsync();
        await page.Locator("#file-print").ClickAsync();
        (await page.Locator("#print-why").InnerTextAsync()).Should().Contain("Set-ups like it: ");
        (await page.EvaluateAsync<string>("() => document.activeElement.id")).Should().Be("print-now");
        (await page.EvaluateAsync<int>("() => window.printed")).Should().Be(0);
        await WholeAsync(page);
        await page.WaitForFunctionAsync("() => window.printed === 1");
        (await page.Locator("#print-wait").InnerTextAsync()).Should().BeEmpty();
        await WholeSheetAsync(page);

        await page.Locator("#predict-switch").CheckAsync();
        using (var covered = await PdfAsync(page, "A4"))
        {
            Squeezed(Only(covered)).Should().Contain(Squeezed("The results are covered until you have predicted them.")).And.NotContain("kN");
        }

        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task Of_more_than_two_cases_each_can_be_looked_at_and_the_sheet_lists_them_all()
    {
        await using var open = await ReportAsync("ring-or-block.toml");
        var page = open.Page;
        await PageTests.Rested(page);
        var labels = await page.EvaluateAsync<string[]>("() => lesson.state.scenario.cases.map(c => lesson.capital(c.label))");
        labels.Should().HaveCount(4);

        // Every case can be picked for either place, by mouse and by keyboard.
        (await page.Locator("#pair-first option").AllInnerTextsAsync()).Should().Equal(labels);
        await page.Locator("#cases-step > summary").ClickAsync();
        await page.Locator("#look-at-2").ClickAsync();
        await page.WaitForFunctionAsync("() => lesson.state.first === 2");
        await PageTests.Rested(page);
        await page.Locator("#beside-3").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => lesson.state.second === 'case:3'");
        (await page.EvaluateAsync<string>("() => document.activeElement.getAttribute('aria-label')")).Should().Be("All set-ups and catches", "a button that cannot be pressed any more hands the focus on");
        await PageTests.Rested(page);
        (await page.EvaluateAsync<string[]>("() => lesson.state.labels")).Should().Equal(labels[2], labels[3]);

        await WholeAsync(page);
        await page.WaitForFunctionAsync("() => lesson.cases.whole", null, new() { Timeout = 600_000 });
        foreach (var format in new[] { "A4", "Letter" })
        {
            using var pdf = await PdfAsync(page, format);
            var text = Squeezed(Only(pdf));
            text.Should().Contain(Squeezed($"Drawn here: {labels[2]}, and beside it {labels[3]}. The scenario has 4 set-ups and catches"));
            var rows = await page.EvaluateAsync<string[]>(
                "() => lesson.cases.rows().map(r => r.label + (r.index === lesson.state.first ? ' (shown first)' : lesson.state.second === 'case:' + r.index ? ' (shown beside it)' : '') + lesson.capital(r.run.drawn.notCaught) + r.run.measures.filter(m => m.headline).map(m => lesson.thisDrop(m) + lesson.cases.likeIt(r.run, m.id)).join(''))");
            rows.Should().HaveCount(4);
            rows.Where(r => !text.Contains(Squeezed(r), StringComparison.Ordinal)).Should().BeEmpty(format);
            text.Should().NotContain(Squeezed("not computed yet"));
        }

        open.Complaints.Should().BeEmpty();
    }

    /// <summary>The finished sheet, on both formats.</summary>
    private static async Task WholeSheetAsync(IPage page)
    {
        foreach (var format in new[] { "A4", "Letter" })
        {
            using var pdf = await PdfAsync(page, format);
            var sheet = Only(pdf);
            var text = Squeezed(sheet);
            var expected = await ShownAsync(page);
            expected.Should().HaveCountGreaterThan(25);
            expected.Where(e => !text.Contains(Squeezed(e), StringComparison.Ordinal)).Should().BeEmpty(format);
            text.Should().NotContain(Squeezed("Printed before it was finished"));
        }

        await DrawnAsync(page);
    }

    private async Task<OpenPage> ReportAsync(string scenario)
    {
        var folder = Path.GetDirectoryName(chromium.NewFile("here.txt", ""))!;
        using var output = new StringWriter();
        Cli.DropSimApp.Run(["simulate", PageTests.Shipped(scenario), "--out", folder, "--csv-interval", "10 ms"], output, output, CancellationToken.None).Should().Be(0);
        return await chromium.OpenAsync(Path.Combine(folder, Path.GetFileNameWithoutExtension(scenario), "report.html"));
    }

    private static async Task WholeAsync(IPage page) =>
        await page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'", null, new() { Timeout = 600_000 });

    private static async Task<PdfDocument> PdfAsync(IPage page, string format) => PdfDocument.Open(await page.PdfAsync(new() { Format = format }));

    /// <summary>The one page of a document, with nothing on it beyond its margins: what lies outside would be cut off.</summary>
    private static Sheet Only(PdfDocument pdf)
    {
        pdf.NumberOfPages.Should().Be(1);
        var page = pdf.GetPage(1);
        page.Letters.Should().HaveCountGreaterThan(100);
        page.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value)).Select(l => l.BoundingBox).Concat(page.GetImages().Select(i => i.BoundingBox))
            .Should().OnlyContain(b => b.Left > Margin - Overhang && b.Right < page.Width - Margin + Overhang && b.Bottom > Margin - Overhang && b.Top < page.Height - Margin + Overhang);
        return page;
    }

    /// <summary>What a reader of the page has before him: title, finding, headline measures of this drop and of set-ups like it, why, inputs, warnings, cautions, provenance.</summary>
    private static async Task<string[]> ShownAsync(IPage page) => await page.EvaluateAsync<string[]>(
        """
        () => {
          const { scenario, comparison, shown, words, footer } = lesson.state;
          const put = lesson.state.inputs[lesson.state.first].filter(i => ['piece.length', 'device.wraps'].includes(i.key));
          const measures = shown[0].measures.filter(m => m.headline);
          return [scenario.title, comparison.title, lesson.state.told.sentences.join(' '), ...shown.map((r, i) => lesson.state.labels[i] + lesson.capital(r.drawn.notCaught)),
            ...measures.map(m => m.label + shown.map(r => { const n = lesson.state.measure(r, m.id); return lesson.thisDrop(n) + lesson.cases.likeIt(r, m.id); }).join('')),
            ...comparison.parts.filter(p => p.kind !== 'not_modelled').map(p => p.heading ? p.heading + ': ' + p.text : p.text),
            ...put.map(i => i.label + ': ' + i.shown.si), ...lesson.warnings(), ...shown.map(r => r.end.description), ...words.cautions, words.notModelledSentence, footer, 'Know this', 'Cautions', 'Put in'];
        }
        """);

    /// <summary>Every picture of the briefing has curves on it, not one colour.</summary>
    private static async Task DrawnAsync(IPage page)
    {
        var colours = await page.EvaluateAsync<int[]>(
            "() => [...document.querySelectorAll('#briefing canvas')].map(c => new Set(new Uint32Array(c.getContext('2d').getImageData(0, 0, c.width, c.height).data.buffer)).size)");
        colours.Should().HaveCount(3).And.OnlyContain(n => n > 20);
    }

    private static string Squeezed(Sheet page) => Squeezed(string.Concat(page.Letters.Select(l => l.Value)));

    /// <summary>Without white space, since a sheet breaks its lines where it wants, and without ligatures.</summary>
    private static string Squeezed(string text) => s_ligatures.Aggregate(string.Concat(text.Where(c => !char.IsWhiteSpace(c))), (t, l) => t.Replace(l.Key, l.Value, StringComparison.Ordinal));

    private static readonly Dictionary<string, string> s_ligatures = new() { ["\ufb00"] = "ff", ["\ufb01"] = "fi", ["\ufb02"] = "fl", ["\ufb03"] = "ffi", ["\ufb04"] = "ffl" };
}
