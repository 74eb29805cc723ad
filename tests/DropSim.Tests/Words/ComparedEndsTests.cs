using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Charts;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Tests.Model;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Words;

/// <summary>Two drops that ended badly can be compared all the same: who hits, what, how fast; what broke; what was stopped.</summary>
public sealed class ComparedEndsTests
{
    private const int Drops = 90;

    private static readonly Lazy<DropRun[]> Random = new(() =>
        [.. Enumerable.Range(0, Drops).AsParallel().AsOrdered().Select(n => DropSimulator.Run(RandomDrops.Drop(n), new RunOptions { Detail = RunDetail.MeasuresOnly }))]);

    private static CaseResult Case(DropRun run) => new(new DropCase("setup", "catch", run.Input, [], [], []), run, 0, "");

    private static IReadOnlyList<ComparisonPart> Told(DropRun a, DropRun b) =>
        ComparisonText.Between(Case(a), Case(b), ["one", "other"], ["one", "the other"], "something", UnitSystem.Si).Parts;

    private static bool Differ(double a, double b) => Math.Abs(a - b) > 0.05 * Math.Max(a, b) * 1.01;

    [Fact]
    public void Nothing_got_worse_is_never_said_where_landing_speed_landing_breaking_or_being_stopped_differ()
    {
        var runs = Random.Value;
        var (landings, others) = (0, 0);
        var problems = new List<string>();
        for (var i = 0; i < runs.Length; i++)
        {
            for (var j = 0; j < runs.Length; j++)
            {
                var (a, b) = (runs[i].End, runs[j].End);
                var outcome = a.Lands != b.Lands || (a.Kind == EndKind.RopeBroke) != (b.Kind == EndKind.RopeBroke) || a.IsHeld != b.IsHeld;
                var speed = a.Lands && b.Lands && Differ(a.Speed, b.Speed);
                if (!outcome && !speed)
                {
                    continue;
                }

                landings += speed ? 1 : 0;
                others += outcome ? 1 : 0;
                var text = string.Join(" ", Told(runs[i], runs[j]).Where(p => p.Kind == ComparisonPartKind.Worse));
                var told = outcome
                    ? new[] { a, b }.Where(e => !e.IsHeld).All(e => text.Contains(Format.Ending(e, UnitSystem.Si), StringComparison.Ordinal))
                    : text.Contains(Format.Quantity(a.Speed, "m/s", UnitSystem.Si), StringComparison.Ordinal) && text.Contains(Format.Quantity(b.Speed, "m/s", UnitSystem.Si), StringComparison.Ordinal);
                if (!told || text.Contains("none of the measures", StringComparison.Ordinal) || text.Contains("no measure of which", StringComparison.Ordinal))
                {
                    problems.Add($"drops {i} ({a.Description}) and {j} ({b.Description}): {text}");
                }
            }
        }

        problems.Should().BeEmpty();
        landings.Should().BeGreaterThan(100, "or nothing was tried");
        others.Should().BeGreaterThan(100, "or nothing was tried");
    }

    [Fact]
    public void What_is_worse_with_one_is_worse_with_the_other_when_they_change_places()
    {
        var runs = Random.Value;
        foreach (var (a, b) in runs.Zip(runs.Skip(1)))
        {
            var (there, back) = (DropComparison.Of(a, b), DropComparison.Of(b, a));

            (there.EndIsWorseWithFirst, there.EndIsWorseWithSecond).Should().Be((back.EndIsWorseWithSecond, back.EndIsWorseWithFirst));
            there.EndsDiffer.Should().Be(back.EndsDiffer);
            DropComparison.Of(a, a).EndsDiffer.Should().BeFalse();
        }
    }

    [Fact]
    public void Of_two_that_hit_the_same_roof_the_faster_one_is_worse()
    {
        var run = Random.Value.First(r => r.End.Lands);
        DropRun At(double speed, double energy) => run with { End = new(EndKind.Obstacle, 1, speed, true) { Obstacle = new(0, "shed roof"), Energy = energy } };

        var parts = Told(At(15, 24000), At(9.1, 8700));

        parts.Select(p => p.ToString()).Should().Contain("Both hit shed roof: at 15 m/s with 24 kJ with one, at 9.1 m/s with 8.7 kJ with the other.");
        parts.First(p => p.Kind == ComparisonPartKind.Worse).ToString()
            .Should().StartWith("What got worse with one than with the other: the piece hits shed roof at 15 m/s instead of 9.1 m/s, with 24 kJ instead of 8.7 kJ");
        Told(At(9.1, 8700), At(15, 24000)).Last(p => p.Kind == ComparisonPartKind.Worse).ToString()
            .Should().StartWith("What got worse with the other than with one: the piece hits shed roof at 15 m/s instead of 9.1 m/s");
    }

    /// <summary>A rope that breaks high up leaves eight metres below the piece: that is no room that was found.</summary>
    [Fact]
    public void Room_that_was_never_reached_is_neither_better_nor_worse_than_any_other()
    {
        static Measure Room(double value, MeasureState state) => new(MeasureIds.Room, "Room", "m", value, null, state, Worse.Smaller, true, "");

        DropComparison.IsWorse(Room(0.2, MeasureState.Exact), Room(8, MeasureState.NotReached)).Should().BeNull();
        DropComparison.IsWorse(Room(8, MeasureState.NotReached), Room(9, MeasureState.Exact)).Should().BeNull();
        DropComparison.IsWorse(Room(0.2, MeasureState.Exact), Room(8, MeasureState.Exact)).Should().BeTrue();
    }

    [Fact]
    public void The_near_miss_is_answered_from_its_ends()
    {
        var scenario = ScenarioReader.Read(Path.Combine(Repository.Folder("scenarios"), "near-miss-review.toml")).Scenario!;
        var cases = scenario.Cases.Select(c => c with { Ranges = [] }).ToArray();
        var result = ScenarioStudy.Compute(scenario.Name, scenario.Title, scenario.Description, scenario.SourceHash, cases, 2);

        var said = EndOverviewText.Of(result, UnitSystem.Si);

        foreach (var one in result.Cases)
        {
            var line = said.Single(s => s.StartsWith(Wording.CaseName(one.Case, true) + ":", StringComparison.Ordinal));
            (one.Run.End.Lands ? Format.Quantity(one.Run.End.Speed, "m/s", UnitSystem.Si) : "the rope holds it").Should().Match(s => line.Contains(s, StringComparison.Ordinal));
        }

        var landed = result.Cases.Where(c => c.Run.End.Lands).Select(c => c.Case.CatchName).Distinct().ToArray();
        var overview = EndOverview.Of(result);
        (overview.Deciding == Deciding.Catch).Should().Be(landed.Length == 1 && result.Cases.Where(c => c.Case.CatchName == landed[0]).All(c => c.Run.End.Lands));
        overview.Cases.Where(c => c.Run.End.Lands).Select(c => c.Run.End.Speed).Should().BeInDescendingOrder().And.HaveCountGreaterThan(1);
        ComparisonText.WithTexts(result, UnitSystem.Si).Comparisons.Should().OnlyContain(c => c.Parts.Count > 0);
    }
}
