using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Validation.Documents;

namespace DropSim.Validation.Numerics;

/// <summary>
/// How exactly the shipped scenarios are computed at the default tolerance: each case again at a tenth of it, as
/// <c>dropsim simulate --verify</c> does.
/// </summary>
public sealed class ShippedScenarioExactness
{
    /// <summary>What a measure may move by at a tenth of the tolerance: two digits are shown, and this is a tenth of the second one.</summary>
    private const double Allowed = 1e-3;

    [Fact]
    public void At_a_tenth_of_the_tolerance_no_measure_moves_by_a_thousandth_and_no_event_that_counts_comes_or_goes()
    {
        var cases = Cases();
        cases.Should().HaveCountGreaterThan(30);
        var verified = cases.AsParallel().AsOrdered().Select(c =>
        {
            var run = DropSimulator.Run(c.Input);
            return (c.Name, Run: run, Result: Verification.Of(run));
        }).ToArray();

        GeneratedSection.Check("numerics.md", "exactness of the shipped scenarios",
        [
            "| scenario, case | headline measures | any measure | strikes | events that only one run has |",
            "|---|---|---|---|---|",
            .. verified.Select(v => FormattableString.Invariant(
                $"| {v.Name} | {Bound(Largest(v.Run, v.Result, true).Moved)} | {Most(v.Run, v.Result)} | {v.Run.Strikes.Count} | {Single(v.Result)} |")),
        ]);
        foreach (var (name, run, result) in verified)
        {
            var (id, moved) = Largest(run, result, false);
            moved.Should().BeLessThan(Allowed, $"{id} of {name}");
            result.OnlyInOne.Where(e => !e.IsSlight).Select(e => e.Event).Should().BeEmpty($"of {name}");
            result.SameEvents.Should().BeTrue(name);
            run.Statistics.PhaselessSpells.Should().Be(0, $"{name}: phases do not chatter");
        }
    }

    private static (string Name, DropInput Input)[] Cases() =>
    [
        .. Directory.GetFiles(Path.Combine(GeneratedSection.Root, "scenarios"), "*.toml").Order(StringComparer.Ordinal)
            .Select(f => ScenarioReader.Read(f).Scenario!)
            .SelectMany(s => s.Cases.Select(c => ($"{s.Name}, {c.Name}", c.Input))),
    ];

    private static (string Id, double Moved) Largest(DropRun run, Verification result, bool headline)
    {
        // A measure without a value in both runs has not moved.
        var most = result.Moved.Where(m => !double.IsNaN(run[m.Id].Value) && (!headline || run[m.Id].Headline)).MaxBy(m => double.IsNaN(m.Relative) ? double.PositiveInfinity : m.Relative)!;
        return (most.Id, double.IsNaN(most.Relative) ? double.PositiveInfinity : most.Relative);
    }

    private static string Most(DropRun run, Verification result)
    {
        var (id, moved) = Largest(run, result, false);
        return moved < 1e-5 ? Bound(moved) : $"{Bound(moved)} ({id})";
    }

    /// <summary>Rounded up to a power of ten: more digits would differ from machine to machine.</summary>
    private static string Bound(double moved) => moved switch
    {
        < 1e-5 => "below 0.001 %",
        < 1e-4 => "below 0.01 %",
        < 1e-3 => "below 0.1 %",
        < 1e-2 => "below 1 %",
        _ => "1 % or more",
    };

    private static string Single(Verification result) => result.OnlyInOne.Count == 0 ? "none" :
        string.Join(", ", result.OnlyInOne.GroupBy(e => (e.Event.Kind, e.IsSlight)).Select(g => FormattableString.Invariant($"{g.Count()} {(g.Key.IsSlight ? "slight" : "that counts")}: {g.Key.Kind}")));
}
