using System.Globalization;
using System.Text;
using System.Text.Json;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Cli;
using Xunit.Abstractions;

namespace DropSim.Tests.Dismantle;

/// <summary>
/// The command over random stems, obstacles and plans. DROPSIM_RANDOM_STEMS sets how many, DROPSIM_RANDOM_STEMS_FIRST the first seed: to
/// try one again, give its seed and 1.
/// </summary>
public sealed class RandomStems(ITestOutputHelper output)
{
    private static int Setting(string name, int standard) =>
        int.Parse(Environment.GetEnvironmentVariable(name) ?? standard.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    [Fact]
    public void The_command_ends_with_done_or_refused_and_every_cut_that_reaches_something_says_so_in_its_row()
    {
        var (first, count) = (Setting("DROPSIM_RANDOM_STEMS_FIRST", 0), Setting("DROPSIM_RANDOM_STEMS", 20));
        var problems = new List<string>();
        var tally = new SortedDictionary<string, int>(StringComparer.Ordinal);
        void Count(string what) => tally[what] = tally.GetValueOrDefault(what) + 1;
        for (var seed = first; seed < first + count; seed++)
        {
            try
            {
                problems.AddRange(Problems(seed, Count).Select(p => FormattableString.Invariant($"seed {seed}: {p}")));
            }
            catch (Exception crash) when (crash is not OutOfMemoryException)
            {
                problems.Add(FormattableString.Invariant($"seed {seed}: {crash}"));
            }
        }

        var told = string.Join("; ", tally.Select(t => FormattableString.Invariant($"{t.Key}: {t.Value}")));
        output.WriteLine(told);
        problems.Should().BeEmpty("(seeds {0} to {1}; {2})", first, first + count - 1, told);
        tally.GetValueOrDefault("exit 0").Should().BeGreaterThan(count / 3, "most random files are plans that can be computed");
    }

    private static List<string> Problems(int seed, Action<string> count)
    {
        using var folder = new TemporaryFolder();
        var file = Path.Combine(folder.Path, "stem.toml");
        var text = RandomStemText.Of(seed);
        File.WriteAllText(file, text);
        var (code, _, error) = CommandLine.Run("dismantle", file, "--out", folder.Path, "--threads", "2");
        count(FormattableString.Invariant($"exit {code}"));
        if (code is not (0 or 2))
        {
            return [FormattableString.Invariant($"exit {code}: {error}")];
        }

        return code == 2 ? [] : Rows(SparPlanReader.Read(Encoding.UTF8.GetBytes(text), "stem.toml").Plan!, Path.Combine(folder.Path, "stem-dismantle"), count);
    }

    /// <summary>Every drop of the plan computed again by itself, and held against its row on the sheet, on the screen and in the written file.</summary>
    private static List<string> Rows(SparPlan plan, string results, Action<string> count)
    {
        var problems = new List<string>();
        var cuts = plan.Cuts.Select(c => new CutResult(c, [.. c.Cases.Select(k => new CaseResult(k, DropSimulator.Run(k.Input), 0, ""))])).ToArray();
        var result = new DismantleResult(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, cuts, cuts.Length);
        var options = new ReportOptions { ProgramVersion = "test" };
        var sheet = CrewSheetText.Build(result, options);
        var screen = DismantleTable.Reached(new DismantleWords(result, options));
        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(results, "study.json")));
        var written = json.RootElement.GetProperty("dismantle").GetProperty("cuts").EnumerateArray().ToArray();
        foreach (var paper in new[] { PaperSize.A4, PaperSize.Letter })
        {
            count(FormattableString.Invariant($"{paper.Name} pages {CrewSheetPdf.Pages(sheet, paper)}"));
        }

        foreach (var (i, cut) in cuts.Index())
        {
            foreach (var one in cut.Cases)
            {
                var end = one.Run.End;
                count(end.Kind.ToString());
                var where = FormattableString.Invariant($"cut {cut.Plan.Number}, {one.Case.CatchName}");
                var expected = end.Kind switch { EndKind.Ground => "ground", EndKind.Obstacle => "obstacle", _ => null };
                var row = written[i].GetProperty("reach").EnumerateArray().Single(r => r.GetProperty("catch").GetString() == one.Case.CatchName);
                var (reaches, obstacle) = (row.GetProperty("planned").GetString(), row.GetProperty("obstacle").GetString());
                if (expected is null ? reaches is "ground" or "obstacle" : reaches != expected || obstacle != end.Obstacle?.Name)
                {
                    problems.Add($"{where} ended with {end.Kind} and study.json says '{reaches}' '{obstacle}'");
                }

                foreach (var table in sheet.Tables)
                {
                    var told = table.Rows[i].Reach.Catches.Single(c => c.Catch == one.Case.CatchName).AsPlanned;
                    if (table.Rows[i].Reach.Number != cut.Plan.Number || (expected is not null && (told?.Kind != end.Kind || told.Obstacle != end.Obstacle)))
                    {
                        problems.Add($"{where} ended with {end.Kind} and its row of the sheet holds {told}");
                    }
                }

                if (expected is not null && (sheet.Tables.First().Rows[i].Cells[1] == ReachWords.Nothing || screen?.Rows.Any(r => r[0] == ReachWords.Piece(result.Reach[i])) != true))
                {
                    problems.Add($"{where} ended with {end.Kind} and has no words on sheet or screen");
                }
            }
        }

        return problems;
    }
}
