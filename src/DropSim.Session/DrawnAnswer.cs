using DropSim.Reporting;
using DropSim.Reporting.Told;
using DropSim.Studies;
using DropSim.Studies.Draws;

namespace DropSim.Session;

/// <summary>What set-ups like a run say, as the page gets it. The sentences are those of <c>dropsim simulate</c>.</summary>
internal static class DrawnAnswer
{
    /// <summary>Where no input is unknown there is nothing to draw.</summary>
    public static DrawnDto Nothing { get; } = new(0, 0, "", [], null);

    /// <summary>Set-ups like one run.</summary>
    /// <param name="stored">The run.</param>
    /// <param name="units">Units of the words.</param>
    /// <returns>Null until they are drawn.</returns>
    public static DrawnDto? Of(StoredRun stored, UnitSystem units)
    {
        if (stored.Told is not { } told)
        {
            return null;
        }

        return new(
            told.Drawn,
            told.CaughtCount,
            LikeItWords.NotCaught(told, units),
            [.. told.Caught.Select(c => Spread(told, c, units))],
            ScenarioWords.Foot([(told, Name(stored))]));
    }

    private static SpreadDto Spread(ToldCase told, Caught caught, UnitSystem units)
    {
        (string of, string range) = LikeItWords.Spread(told, caught.Measure, units);
        return new(
            caught.Measure, of.Length == 0 ? range : $"{of}: {range}", of, range, caught.Dots, 20 - caught.Dots.Count, LikeItWords.Dots(told, caught.Measure, units),
            LikeItWords.Stress(told, caught.Measure, units), LikeItWords.StressInputs(told, caught.Measure, units));
    }

    /// <summary>What is told of one run, or of two held against each other.</summary>
    /// <param name="asked">What was asked.</param>
    /// <param name="job">The draws, whole.</param>
    public static ToldDto Told(TellRequest asked, DrawJob job)
    {
        StoredRun first = job.Run(asked.First);
        if (asked.Second is not { } other)
        {
            return new(asked.First, null, [.. ScenarioWords.Alone(first.Told!, Name(first), job.Units), .. ScenarioWords.Stress([(first.Told!, Name(first))], job.Units)], [], ScenarioWords.Moving([first.Told!]));
        }

        StoredRun second = job.Run(other);
        IReadOnlyList<VerdictDto> verdicts = [.. job.Pair(first, second).Answers.Select(a => new VerdictDto(a.Measure, LikeItWords.Compared(a)))];

        // The scenario's own pairs are told one way round everywhere, whichever of the two is looked at.
        bool turned = asked.Names is null && first.Scenario.SourceHash == second.Scenario.SourceHash
            && ScenarioStudy.Pairs(first.Scenario.Cases).Any(p => (p.First, p.Second) == (second.Index, first.Index));
        (StoredRun a, StoredRun b) = turned ? (second, first) : (first, second);
        IReadOnlyList<string> names = asked.Names ?? [ComparisonText.Name(a.Result, b.Result), ComparisonText.Name(b.Result, a.Result)];
        IReadOnlyList<string> whole = asked.Names ?? [Name(a), Name(b)];
        return new(
            asked.First,
            other,
            [
                .. PairWords.Of(a.Told!, b.Told!, job.Pair(a, b), names[0], names[1], job.Units),
                .. ScenarioWords.Stress([(a.Told!, whole[0]), (b.Told!, whole[1])], job.Units),
            ],
            verdicts,
            ScenarioWords.Moving([a.Told!, b.Told!]));
    }

    private static string Name(StoredRun stored) => ToldTable.Name(stored.Result.Case, stored.Scenario.Setups.Count > 1);
}
