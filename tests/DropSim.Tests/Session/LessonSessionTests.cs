using System.Text.Json;
using System.Text.Json.Nodes;
using DropSim.Scenarios;
using DropSim.Session;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Session;

/// <summary>The engine behind the lesson page, asked as the page asks it.</summary>
public sealed class LessonSessionTests
{
    private static readonly int[] FirstCase = [0];

    [Fact]
    public void A_text_that_cannot_be_read_answers_with_the_messages_of_the_command_line()
    {
        var answer = Ask(new LessonSession("test"), "simulate", new { text = "[piece]\nkind = \"lgo\"\n", file = "x.toml", cases = FirstCase });

        var expected = ScenarioReader.Read("[piece]\nkind = \"lgo\"\n"u8, "x.toml").Problems.Select(p => p.ToString());
        answer["problems"]!.AsArray().Select(p => p!["message"]!.GetValue<string>()).Should().Equal(expected).And.NotBeEmpty();
    }

    [Fact]
    public void A_text_that_is_opened_names_the_two_cases_to_look_at_first()
    {
        var file = Path.Combine(Repository.Folder("scenarios"), "snagged-run.toml");
        var scenario = Ask(new LessonSession("test"), "open", new { text = File.ReadAllText(file), file = "snagged-run.toml" })["scenario"]!;

        string Catch(string place) => scenario["cases"]![scenario["opening"]![place]!.GetValue<int>()]!["catch"]!.GetValue<string>();
        (Catch("first"), Catch("second")).Should().Be(("snagged", "hard-stop"));
    }

    [Theory]
    [InlineData("medium-log.toml")]
    [InlineData("small-top.toml")]
    [InlineData("near-miss-review.toml")]
    public void A_coarse_drop_reaches_as_far_as_it_is_asked_to_and_is_near_the_exact_one_there(string file)
    {
        var session = new LessonSession("test");
        var text = File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), file));
        var exact = Ask(session, "simulate", new { text, file, cases = FirstCase, quality = "exact", units = "si" })["runs"]![0]!;
        var breaks = -Column(session, exact, "time_s")[0];
        const double Reach = 1.4;

        var coarse = Ask(session, "simulate", new { text, file, cases = FirstCase, quality = "coarse", units = "si", until = breaks + Reach })["runs"]![0]!;

        Column(session, coarse, "time_s")[^1].Should().BeApproximately(Math.Min(Reach, Column(session, exact, "time_s")[^1]), 0.011, "rows are 10 ms apart");
        foreach (var column in new[] { "rigging_point_force_N", "climber_deflection_m", "lowest_point_m" })
        {
            var (near, exactly) = (Largest(session, coarse, column, Reach), Largest(session, exact, column, Reach));

            // Rows 10 ms and 5 ms apart see the top of a pulse of 0.1 s to a few per cent of it.
            near.Should().BeApproximately(exactly, 0.03 * exactly, column);
        }
    }

    [Theory]
    [MemberData(nameof(ShippedFiles))]
    public void Headline_measures_of_a_coarse_drop_are_within_two_hundredths_of_the_exact_ones(string file)
    {
        var session = new LessonSession("test");
        var text = File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), file));
        JsonArray Runs(string quality) => Ask(session, "simulate", new { text, file, cases = AllCases, quality, units = "si" })["runs"]!.AsArray();

        var (coarse, exact) = (Runs("coarse"), Runs("exact"));

        coarse.Should().HaveCount(exact.Count).And.NotBeEmpty();
        foreach (var (near, whole) in coarse.Zip(exact))
        {
            near!["case"]!.GetValue<int>().Should().Be(whole!["case"]!.GetValue<int>());
            near["label"]!.GetValue<string>().Should().Be(whole["label"]!.GetValue<string>());
            foreach (var (m, e) in near["measures"]!.AsArray().Zip(whole["measures"]!.AsArray()).Where(p => p.Second!["headline"]!.GetValue<bool>()))
            {
                m!["id"]!.GetValue<string>().Should().Be(e!["id"]!.GetValue<string>());
                m["state"]!.GetValue<string>().Should().Be(e["state"]!.GetValue<string>());
                if (e["value"] is { } value)
                {
                    // Below a millimetre or a newton nobody sees a difference.
                    var unseen = e["unit"]!.GetValue<string>() == "N" ? 1 : 0.001;
                    m["value"]!.GetValue<double>().Should().BeApproximately(value.GetValue<double>(), (0.02 * Math.Abs(value.GetValue<double>())) + unseen, $"{whole["label"]} {m["id"]}");
                }
            }
        }
    }

    /// <summary>While a slider moves its value is laid over the text that was parsed once; the drop is the one of the text with the value written into it.</summary>
    [Theory]
    [MemberData(nameof(ShippedFiles))]
    public void A_value_laid_over_the_text_gives_the_drop_of_the_text_that_has_it(string file)
    {
        var session = new LessonSession("test");
        var text = File.ReadAllText(Path.Combine(Repository.Folder("scenarios"), file));
        var opened = Ask(session, "open", new { text, file });
        var inputs = opened["inputs"]!.AsArray();
        for (var index = 0; index < Math.Min(2, inputs.Count); index++)
        {
            var moved = 0;
            foreach (var input in inputs[index]!.AsArray().Where(i => i!["slider"] is not null && i["value"] is not null).Take(12))
            {
                var (key, si) = (input!["key"]!.GetValue<string>(), input["units"]!["si"]!);
                var slider = input["slider"]!;
                var to = Math.Min(slider["to"]!.GetValue<double>(), input["value"]!.GetValue<double>() + (2 * slider["step"]!.GetValue<double>()));
                var value = FormattableString.Invariant($"{to * si["factor"]!.GetValue<double>():0.####} {si["unit"]!.GetValue<string>()}").Trim();
                object[] edits = [new { @case = index, key, value }];
                int[] cases = [index];

                var laid = Ask(session, "simulate", new { text, file, edits, cases, quality = "coarse", units = "si", until = 1.5 });
                var written = Ask(session, "change", new { text, file, edits })["text"]!.GetValue<string>();
                var read = Ask(session, "simulate", new { text = written, file, cases, quality = "coarse", units = "si", until = 1.5 });

                JsonNode.DeepEquals(laid["problems"], read["problems"]).Should().BeTrue($"{key} {value}: {laid["problems"]} against {read["problems"]}");
                foreach (var part in laid["runs"]!.AsArray().Count == 0 ? [] : new[] { "model", "measures", "events", "end", "ledger", "strikes" })
                {
                    JsonNode.DeepEquals(laid["runs"]![0]![part], read["runs"]![0]![part]).Should().BeTrue($"{file} {index} {key} {value}: {part}");
                }

                // No text comes back where none was written.
                moved += laid["text"] is null ? 1 : 0;
            }

            (moved > 5).Should().Be(opened["scenario"]!["setups"]!.AsArray().Count == 1, $"{moved} were laid over");
        }
    }

    public static TheoryData<string> ShippedFiles => [.. Directory.GetFiles(Repository.Folder("scenarios"), "*.toml").Select(f => Path.GetFileName(f)!)];

    private static readonly int[] AllCases = [.. Enumerable.Range(0, 12)];

    private static double[] Column(LessonSession session, JsonNode run, string name)
    {
        var names = run["columns"]!.AsArray().Select(c => c!.GetValue<string>()).ToList();
        var numbers = session.Curves(run["run"]!.GetValue<int>());
        var rows = numbers.Length / names.Count;
        return numbers[(names.IndexOf(name) * rows)..((names.IndexOf(name) + 1) * rows)];
    }

    private static double Largest(LessonSession session, JsonNode run, string name, double reach) =>
        Column(session, run, "time_s").Zip(Column(session, run, name)).Where(r => r.First <= reach - 0.01).Max(r => Math.Abs(r.Second));

    private static JsonNode Ask(LessonSession session, string verb, object question) => JsonNode.Parse(session.Answer(verb, JsonSerializer.Serialize(question)))!;
}
