using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using DropSim.Integration;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Tests.Model;
using Xunit.Abstractions;

namespace DropSim.Tests.Scenarios;

/// <summary>
/// Whatever the reader accepts is computed to an end. Scenarios are numbered, so that one that fails can be made again; 500 in an
/// ordinary run of the tests, from DROPSIM_RANDOM_FIRST on if that is set; for more, with the slowest drops and the widest books:
/// DROPSIM_RANDOM_DROPS=20000 dotnet test tests/DropSim.Tests -c Release --filter FullyQualifiedName~RandomScenarios --logger "console;verbosity=detailed"
/// </summary>
public sealed class RandomScenarios(ITestOutputHelper output)
{
    /// <summary>Attempts at one number: one file in two contradicts itself somewhere and is refused.</summary>
    private const int MostAttempts = 200;

    /// <summary>Worst runs told of each kind.</summary>
    private const int Told = 8;

    /// <summary>From this many scenarios on each key of the table must have been used.</summary>
    private const int EnoughForEveryKey = 2_000;

    /// <summary>One in this many is computed with its curves, the others for their measures.</summary>
    private const int WithCurves = 4;

    [Fact]
    public void Every_scenario_that_the_reader_accepts_ends_for_a_reason_with_finite_measures_and_closed_books()
    {
        var count = int.Parse(Environment.GetEnvironmentVariable("DROPSIM_RANDOM_DROPS") ?? "500", CultureInfo.InvariantCulture);
        var problems = new ConcurrentBag<string>();
        var seen = new ConcurrentBag<Computed>();
        var first = int.Parse(Environment.GetEnvironmentVariable("DROPSIM_RANDOM_FIRST") ?? "0", CultureInfo.InvariantCulture);
        Parallel.For(first, first + count, number =>
        {
            try
            {
                var computed = Run(number, out var run);
                seen.Add(computed);
                // The whole permitted range holds viscous times so short that stability alone asks for 200,000 steps: the run's own budget is the limit.
                foreach (var problem in RandomDrops.Problems(run, int.MaxValue))
                {
                    problems.Add(FormattableString.Invariant($"scenario {number}, attempt {computed.Attempt}: {problem}"));
                }
            }
            catch (Exception crash) when (crash is not InvalidOperationException)
            {
                problems.Add(FormattableString.Invariant($"scenario {number}: {crash.GetType().Name} {crash.Message}"));
            }
        });

        Tell(seen);
        problems.Should().BeEmpty();
        if (count >= EnoughForEveryKey)
        {
            // A plan of cuts is for another command; scenarios that hold one are refused here.
            RandomScenarioText.Changeable.Where(k => k.Section != "plan").Select(k => k.Path).Except(seen.SelectMany(s => s.Keys)).Should().BeEmpty("every key was used");
        }
    }

    private void Tell(IReadOnlyCollection<Computed> seen)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{seen.Count} scenarios, {seen.Sum(s => s.Attempt + 1)} files; {seen.Count(s => s.Steps > 20_000)} of more than 20,000 steps"));
        foreach (var one in seen.OrderByDescending(s => s.Steps).Take(Told).Concat(seen.OrderByDescending(s => s.Open).Take(Told)))
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"scenario {one.Number}, attempt {one.Attempt}: {one.Steps} steps, {one.Statistics.Events} events, {one.Statistics.StiffnessSuspected} stiff, books open by {one.Open:0.0e0}, {one.End}"));
        }

        foreach (var group in seen.GroupBy(s => s.End).OrderByDescending(g => g.Count()))
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{group.Key}: {group.Count()}"));
        }
    }

    /// <summary>The first attempt at a number that the reader accepts and whose stem stands.</summary>
    private static Computed Run(int number, out DropRun run)
    {
        for (var attempt = 0; attempt < MostAttempts; attempt++)
        {
            var read = ScenarioReader.Read(Encoding.UTF8.GetBytes(RandomScenarioText.Text(number, attempt, out var keys)), "random.toml");
            if (read.Scenario is not { } scenario)
            {
                continue;
            }

            try
            {
                run = DropSimulator.Run(scenario.Cases[0].Input, new RunOptions { Detail = number % WithCurves == 0 ? RunDetail.Full : RunDetail.MeasuresOnly });
                return new(number, attempt, run.Statistics, run.Ledger.LargestImbalance, run.End.Kind, keys);
            }
            catch (Exception refused) when (refused is UnstableSparException or DropInputException)
            {
                // Refused too, but only once the modes are known.
            }
        }

        throw new InvalidOperationException($"No attempt at scenario {number} was accepted.");
    }

    private sealed record Computed(int Number, int Attempt, RunStatistics Statistics, double Open, EndKind End, IReadOnlyCollection<string> Keys)
    {
        public int Steps => Statistics.AcceptedSteps + Statistics.RejectedSteps;
    }
}
