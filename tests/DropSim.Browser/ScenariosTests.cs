using System.Text;
using DropSim.Scenarios;
using DropSim.Studies;
using Microsoft.Playwright;

namespace DropSim.Browser;

/// <summary>What the page shows of each shipped scenario when it is picked.</summary>
[Collection(ShippedPageTests.Name)]
public sealed class ScenariosTests(ShippedPage shipped)
{
    [BrowserFact]
    public async Task Each_opens_on_the_two_that_it_is_about_with_everybody_out_of_the_pieces_way_and_every_field_and_name_to_be_read()
    {
        var page = shipped.Open.Page;
        await PageTests.Rested(page);
        await page.EvaluateAsync("() => { for (const step of ['energy', 'more', 'all']) document.getElementById(`${step}-step`).open = true; }");
        var files = await page.EvaluateAsync<string[]>("() => lesson.state.files.map(f => f.name)");
        files.Should().HaveCountGreaterThan(8);
        for (var i = 0; i < files.Length; i++)
        {
            var file = files[i];
            await page.EvaluateAsync("async i => { await lesson.work.open(lesson.state.files[i].text, lesson.state.files[i].name); }", i);
            await PageTests.Rested(page);

            var text = await page.EvaluateAsync<string>("() => lesson.state.text");
            var cases = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), file).Scenario!.Cases;
            var opening = ScenarioStudy.Opening(cases);
            (await page.EvaluateAsync<string>("() => `${lesson.state.file} ${lesson.state.first} ${lesson.state.second}`"))
                .Should().Be(FormattableString.Invariant($"{file} {opening.First} case:{opening.Second}"));
            (await page.EvaluateAsync<int[]>("() => lesson.state.shown.map(r => r.case)")).Should().Equal(opening.First, opening.Second!.Value);

            (await WorkersAsync(page)).Should().HaveCount(2, file).And.OnlyContain(w => w.Length == 0, file);
            (await UnreadableAsync(page)).Should().BeEmpty(file);
            (await NamesAsync(page)).Should().BeEmpty(file);
        }

        shipped.Open.Complaints.Should().BeEmpty();
    }

    /// <summary>For each drop on show: nothing, or what the ground worker that is drawn stands in.</summary>
    private static Task<string[]> WorkersAsync(IPage page) => page.EvaluateAsync<string[]>(
        """
        () => lesson.state.shown.map(run => {
          const { sceneparts: parts, frames } = lesson;
          const at = parts.workerX(run);
          const body = [at - 0.3, at + 0.3];
          const over = (low, high) => low < body[1] && high > body[0];
          for (const t of run.curves.time_s) {
            const xs = frames.scene(run, t).piece.map(p => p[0]);
            if (over(Math.min(...xs), Math.max(...xs))) return `the piece at ${t} s`;
          }
          const radius = Math.max(...run.model.spar.radius);
          if (over(-radius, radius)) return 'the spar';
          const thing = run.model.obstacles.find(o => o.zFrom < parts.PERSON && over(o.xFrom, o.xTo));
          if (thing) return thing.name;
          const drawn = [];
          const ctx = document.getElementById('scene').getContext('2d');
          const { fillText } = ctx;
          ctx.fillText = (text, ...more) => { drawn.push(text); return fillText.call(ctx, text, ...more); };
          lesson.scene.paint();
          delete ctx.fillText;
          return drawn.some(d => d.includes('place not computed')) ? '' : 'no word that his place is not computed';
        })
        """);

    /// <summary>Fields and texts that hold what no person can read.</summary>
    private static Task<string[]> UnreadableAsync(IPage page) => page.EvaluateAsync<string[]>(
        """
        () => {
          const bad = /\b(NaN|undefined|null|Infinity)\b|\[object/;
          return [
            ...[...document.querySelectorAll('input')].filter(i => bad.test(i.value) || bad.test(i.getAttribute('aria-valuetext') || '')).map(i => `${i.id || i.ariaLabel}: ${i.value}`),
            ...(document.body.innerText.split('\n').filter(line => bad.test(line)))];
        }
        """);

    /// <summary>Names of energies that lie over one another, or pictures without any.</summary>
    private static Task<string[]> NamesAsync(IPage page) => page.EvaluateAsync<string[]>(
        """
        () => [...document.querySelectorAll('#energy canvas')].flatMap(canvas => {
          const ctx = canvas.getContext('2d');
          const { fillText } = ctx;
          const names = [];
          ctx.fillText = (text, x, y) => {
            // Numbers of the axes and their units are no names.
            if (ctx.textAlign === 'center' && /[a-z]{3}/.test(text)) {
              const m = ctx.measureText(text);
              names.push({ text, left: x - m.actualBoundingBoxLeft, right: x + m.actualBoundingBoxRight, top: y - m.actualBoundingBoxAscent, bottom: y + m.actualBoundingBoxDescent });
            }
            return fillText.call(ctx, text, x, y);
          };
          lesson.energy.repaint();
          delete ctx.fillText;
          const found = names.length < 2 ? [`only ${names.length} names`] : [];
          for (const a of names) for (const b of names) if (a.text < b.text && a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom) found.push(`${a.text} over ${b.text}`);
          return found;
        })
        """);
}
