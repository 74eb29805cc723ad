using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;
using Xunit.Abstractions;

namespace DropSim.Browser;

/// <summary>
/// How fast the page opens and follows a slider: told, not judged, because times belong to a machine and to what else it does. Runs only
/// where it is asked for (docs/lesson-page.md, "Speed").
/// </summary>
[Collection("browser")]
public sealed class SpeedTests(Chromium chromium, ITestOutputHelper output)
{
    /// <summary>Set to take the times.</summary>
    private const string Asked = "DROPSIM_TIME_PAGE";

    private const int Openings = 7;

    private const int Moves = 41;

    public static TheoryData<string, string> Sliders => new()
    {
        { "medium-log.toml", "Length, slider" },
        { "medium-log.toml", "Wraps, slider" },
        { "small-top.toml", "Length, slider" },
    };

    [BrowserTheory]
    [MemberData(nameof(Sliders))]
    public async Task Times_from_a_slider_move_to_drawn_curves(string scenario, string slider)
    {
        if (Environment.GetEnvironmentVariable(Asked) is null)
        {
            return;
        }

        await using var open = await chromium.LessonAsync(PageTests.Shipped(scenario));
        await PageTests.Rested(open.Page);

        // From the move to the end of the frame in which its curves are drawn; of that, the engine's own time and the way there and back.
        var moves = await open.Page.EvaluateAsync<double[][]>(
            """
            async ([name, count]) => {
              const slider = document.querySelector(`input[type=range][aria-label='${name}']`);
              const inner = lessonEngine.call;
              let asked = null;
              lessonEngine.call = async (verb, request, progress) => {
                const from = performance.now();
                const answer = await inner(verb, request, progress);
                if (verb === 'simulate' && request.quality === 'coarse') asked = [performance.now() - from, answer.milliseconds];
                return answer;
              };
              const [least, most] = [Number(slider.min), Number(slider.max)];
              const middle = Number(slider.value);
              const step = Number(slider.step);
              const moves = [];
              for (let i = 0; i < count; i++) {
                const before = lesson.state.runs.first;
                asked = null;
                const start = performance.now();
                slider.value = String(Math.min(most, Math.max(least, middle + (step * ((i % 11) - 5)))));
                slider.dispatchEvent(new Event('input', { bubbles: true }));
                while (lesson.state.runs.first === before || !asked) await new Promise(done => setTimeout(done, 1));
                await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
                moves.push([performance.now() - start, ...asked]);
                await new Promise(done => setTimeout(done, 30));
              }
              return moves;
            }
            """,
            new object[] { slider, Moves });

        Tell($"{scenario}, {slider}: to drawn {Sorted(moves, 0)}; answered {Sorted(moves, 1)}; computing {Sorted(moves, 2)}");
    }

    [BrowserFact]
    public async Task Times_from_opening_to_the_first_drop()
    {
        if (Environment.GetEnvironmentVariable(Asked) is null)
        {
            return;
        }

        List<double[]> openings = [];
        for (var i = 0; i < Openings; i++)
        {
            await using var open = await chromium.LessonAsync();
            await open.Page.WaitForFunctionAsync("() => performance.getEntriesByName('first-drop').length > 0");
            openings.Add(await open.Page.EvaluateAsync<double[]>("() => ['first-drop', 'engine', 'page'].map(n => performance.getEntriesByName(n)[0].startTime)"));
        }

        Tell($"opening: first drop drawn {Sorted(openings, 0)}; engine answers {Sorted(openings, 1)}; page stands {Sorted(openings, 2)}");
    }

    private static string Sorted(IEnumerable<double[]> times, int which)
    {
        var sorted = times.Select(t => t[which]).Order().ToArray();
        return string.Create(CultureInfo.InvariantCulture, $"median {sorted[sorted.Length / 2]:0} ms ({sorted[0]:0} to {sorted[^1]:0})");
    }

    private void Tell(string text)
    {
        var load = File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";
        output.WriteLine($"{text}; load {load}");
        if (Environment.GetEnvironmentVariable(Asked) is { Length: > 1 } file)
        {
            File.AppendAllText(file, $"{text}; load {load}\n", Encoding.UTF8);
        }
    }
}
