using System.Globalization;
using DropSim.Model;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>Counts and ratios as people say them; never "all" or "none" where it is not.</summary>
internal static class CountWords
{
    /// <summary>"18 of 20", "more than 19 of 20", "1 of 256", "none of 256".</summary>
    /// <param name="count">How many.</param>
    /// <param name="drawn">Of how many.</param>
    public static string Of(int count, int drawn)
    {
        if (drawn == 0)
        {
            return "none drawn";
        }

        var twenty = new OfTwenty(count, drawn);
        return twenty.Kind switch
        {
            TwentyKind.None => Text($"none of {drawn}"),
            TwentyKind.Few => Text($"{count} of {drawn}"),
            TwentyKind.All => "20 of 20",
            TwentyKind.MoreThanNineteen => "more than 19 of 20",
            _ => Text($"{twenty.Twenty} of 20"),
        };
    }

    /// <summary>The same for one of several counts that together make 20: "17 of 20", "more than 19 of 20", "1 of 256", "none of 256".</summary>
    /// <param name="twenty">Its share of 20, so that all shares sum to 20.</param>
    /// <param name="count">How many.</param>
    /// <param name="drawn">Of how many.</param>
    public static string Shared(int twenty, int count, int drawn) =>
        count == 0 ? Text($"none of {drawn}")
        : count == drawn ? "20 of 20"
        : twenty == 0 ? Text($"{count} of {drawn}")
        : twenty == 20 ? "more than 19 of 20"
        : Text($"{twenty} of 20");

    /// <summary>"half", "a third", "0.58 times", "1.3 times".</summary>
    /// <param name="ratio">First over second, positive.</param>
    public static string Ratio(double ratio) => Word(ratio) ?? Format.Number(ratio) + " times";

    /// <summary>The word for a ratio that has one.</summary>
    private static string? Word(double ratio) => ratio switch
    {
        >= 0.475 and < 0.525 => "half",
        >= 0.32 and < 0.35 => "a third",
        >= 0.24 and < 0.26 => "a quarter",
        >= 0.65 and < 0.68 => "two thirds",
        >= 0.74 and < 0.76 => "three quarters",
        >= 1.95 and < 2.05 => "twice",
        _ => null,
    };

    /// <summary>", typically half of hard stop (0.2 to 0.9)"; empty where no ratio can be told.</summary>
    /// <param name="answer">A comparison.</param>
    /// <param name="ofWhat">What the ratio is of ("of hard stop"), or empty.</param>
    public static string Typically(PairAnswer answer, string ofWhat) => !answer.HasRatio ? ""
        : $", {(answer.ByLittle ? "but by little" : "typically")} {Of(answer.Typical, ofWhat)} ({Format.Number(answer.Low)} to {Format.Number(answer.High)})";

    private static string Of(double ratio, string ofWhat) => ofWhat.Length == 0 ? Ratio(ratio) : $"{Word(ratio) ?? Format.Number(ratio)} {ofWhat}";

    /// <summary>How a drop that is not caught ends: "hits the ground at 5 to 8 m/s".</summary>
    /// <param name="missed">The drops.</param>
    /// <param name="obstacles">The site's obstacles.</param>
    /// <param name="units">Units of the text.</param>
    public static string Ends(Missed missed, IReadOnlyList<ObstacleInput> obstacles, UnitSystem units)
    {
        var (slow, fast) = (Format.Quantity(missed.Slowest, "m/s", units), Format.Quantity(missed.Fastest, "m/s", units));
        var speed = slow == fast ? fast : $"{slow.Split(' ')[0]} to {fast}";
        return Ends(missed.Ending, missed.Obstacle, obstacles) + (missed.Ending is DrawEnding.NotComputed or DrawEnding.StillRunning ? "" : $" at {speed}");
    }

    /// <summary>The verb and what it meets.</summary>
    /// <param name="ending">How it ends.</param>
    /// <param name="obstacle">Which obstacle; -1 for none.</param>
    /// <param name="obstacles">The site's obstacles.</param>
    public static string Ends(DrawEnding ending, int obstacle, IReadOnlyList<ObstacleInput> obstacles) => ending switch
    {
        DrawEnding.Caught => "is caught",
        DrawEnding.Ground => "hits the ground",
        DrawEnding.Obstacle => $"hits {(obstacle >= 0 && obstacle < obstacles.Count ? obstacles[obstacle].Name : "an obstacle")}",
        DrawEnding.RopeBroke => "breaks its rope",
        DrawEnding.RopeEnd => "runs out of rope",
        DrawEnding.HitchAtRiggingPoint => "draws the hitch up to the rigging point",
        DrawEnding.StillRunning => "still runs when time is up",
        _ => "cannot be computed",
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
