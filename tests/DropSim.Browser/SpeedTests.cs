using System.Globalization;
using Xunit.Abstractions;

namespace DropSim.Browser;

/// <summary>
/// The page follows a slider, and opens. How fast is told, not judged, because times belong to a machine and to what else it does:
/// DROPSIM_TIME_PAGE asks for more moves and openings, and names a file for the times (docs/lesson-page.md, "Speed").
/// </summary>
public sealed class SpeedTests(Chromium chromium, ITestOutputHelper output) : IClassFixture<Chromium>
{
    private static string? TimesFile { get; } = Environment.GetEnvironmentVariable("DROPSIM_TIME_PAGE");

    private static int Openings => TimesFile is null ? 1 : 7;

    private static int Moves => TimesFile is null ? 3 : 41;

    public static TheoryData<string, string, bool> Sliders
    {
        get
        {
            var sliders = new TheoryData<string, string, bool> { { "medium-log.toml", "Length, slider", false } };
            if (TimesFile is not null)
            {
                sliders.Add("medium-log.toml", "Length, slider", true);
                sliders.Add("medium-log.toml", "Wraps, slider", true);
                sliders.Add("small-top.toml", "Length, slider", true);
                sliders.Add("ring-or-block.toml", "Wraps, slider", true);
            }

            return sliders;
        }
    }

    [BrowserTheory]
    [MemberData(nameof(Sliders))]
    public async Task Every_move_of_a_slider_is_followed_by_new_curves(string scenario, string slider, bool drawsDone)
    {
        await using var open = await chromium.LessonAsync(PageTests.Shipped(scenario));
        await PageTests.Rested(open.Page);
        if (TimesFile is not null)
        {
            await open.Page.WaitForFunctionAsync("() => navigator.hardwareConcurrency < 2 || lessonEngine.second");
        }

        if (drawsDone)
        {
            await open.Page.WaitForFunctionAsync("() => lesson.state.stage === 'whole'");
        }

        // From the move to the end of the frame in which its curves are drawn; of that, the engine's answer and its computing.
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
              const [least, most, middle, step] = [slider.min, slider.max, slider.value, slider.step].map(Number);
              const moves = [];
              for (let i = 0; i < count; i++) {
                const before = lesson.state.runs.first;
                asked = null;
                const start = performance.now();
                slider.value = String(Math.min(most, Math.max(least, middle + (step * ((i % 11) - 5)))));
                slider.dispatchEvent(new Event('input', { bubbles: true }));
                while (lesson.state.runs.first === before || !asked) await new Promise(done => setTimeout(done, 1));
                await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
                moves.push([performance.now() - start, ...asked, lesson.state.runs.first.model.piece.length]);
                await new Promise(done => setTimeout(done, 30));
              }
              lessonEngine.call = inner;
              return moves;
            }
            """,
            new object[] { slider, Moves });

        moves.Should().HaveCount(Moves);
        if (slider.StartsWith("Length", StringComparison.Ordinal))
        {
            moves.Select(m => Math.Round(m[3], 2)).Distinct().Should().HaveCount(Math.Min(Moves, 11), "each move is drawn, and none twice");
        }

        Tell($"{scenario}, {slider}, {(drawsDone ? "draws done" : "right after the first drop")}: to drawn {Sorted(moves, 0)}; answered {Sorted(moves, 1)}; computing {Sorted(moves, 2)}");
        open.Complaints.Should().BeEmpty();
    }

    [BrowserFact]
    public async Task The_first_drop_is_drawn_when_the_engine_answers()
    {
        List<double[]> openings = [];
        for (var i = 0; i < Openings; i++)
        {
            await using var open = await chromium.LessonAsync();
            await open.Page.WaitForFunctionAsync("() => performance.getEntriesByName('first-drop').length > 0");
            openings.Add(await open.Page.EvaluateAsync<double[]>("() => ['page', 'engine', 'first-drop'].map(n => performance.getEntriesByName(n)[0].startTime)"));
        }

        openings.Should().OnlyContain(o => o[0] < o[1] && o[1] < o[2]);
        Tell($"opening: page stands {Sorted(openings, 0)}; engine answers {Sorted(openings, 1)}; first drop drawn {Sorted(openings, 2)}");
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
        if (TimesFile is { } file)
        {
            File.AppendAllText(file, $"{text}; load {load}\n");
        }
    }
}
