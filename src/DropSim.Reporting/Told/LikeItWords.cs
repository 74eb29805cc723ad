using DropSim.Model;
using DropSim.Studies.Draws;

namespace DropSim.Reporting.Told;

/// <summary>What set-ups like one say of a single measure, for places that show one measure at a time.</summary>
internal static class LikeItWords
{
    /// <summary>"18 of 20" and "12 to 22 kN"; of the caught ones where not all are. Where too few are caught that stands for the range.</summary>
    /// <param name="told">The case.</param>
    /// <param name="measure">Id of the measure.</param>
    /// <param name="units">Units of the text.</param>
    public static (string Of, string Range) Spread(ToldCase told, string measure, UnitSystem units)
    {
        var caught = told[measure];
        if (double.IsNaN(caught.Low))
        {
            return ("", "too few are caught");
        }

        var (low, high) = (Shown(told, measure, caught.Low, units), Shown(told, measure, caught.High, units));
        return (told.CaughtCount < told.Drawn ? "18 of 20 caught" : "18 of 20", low == high ? low.ToString() : ShownQuantity.Join(low, "to", high));
    }

    /// <summary>"3 of 20 not caught: hits the ground at 5 to 8 m/s"; empty where all are caught.</summary>
    public static string NotCaught(ToldCase told, UnitSystem units)
    {
        if (told.Missed.Count == 0)
        {
            return "";
        }

        string Ends(Missed m) => CountWords.Ends(m, told.Case.Input.Site.Obstacles, units);
        var how = told.Missed.Count == 1 ? Ends(told.Missed[0])
            : string.Join(", ", told.Missed.Take(2).Select(m => $"{Ends(m)} in {CountWords.Of(m.Count, told.Drawn)}"));
        return $"{CountWords.Of(told.Missed.Sum(m => m.Count), told.Drawn)} not caught: {how}";
    }

    /// <summary>What a plot of twenty dots shows, for those who do not see it.</summary>
    public static string Dots(ToldCase told, string measure, UnitSystem units)
    {
        var caught = told[measure];
        var missed = NotCaught(told, units);
        var end = missed.Length == 0 ? "" : $" {missed}.";
        return caught.Dots.Count == 0 ? $"No set-up like it is caught.{end}"
            : $"{caught.Dots.Count} of 20 set-ups like it: {From(Shown(told, measure, caught.Dots[0], units), double.IsNaN(caught.Typical) ? null : Shown(told, measure, caught.Typical, units), Shown(told, measure, caught.Dots[^1], units))}.{end}";
    }

    private static string From(ShownQuantity low, ShownQuantity? middle, ShownQuantity high) => low == high ? low.ToString()
        : $"{ShownQuantity.Join(low, "to", high)}{(middle is null ? "" : $", half of them below {middle}")}";

    /// <summary>Everything bad at once: "49 kN", "hits the ground at 8 m/s"; empty where the measure has no stress case.</summary>
    public static string Stress(ToldCase told, string measure, UnitSystem units) => told.StressOf(measure) switch
    {
        null => "",
        { FromDraws: true, Value: var worst } => double.IsNaN(worst) ? "cannot be computed" : $"{Shown(told, measure, worst, units)}, the worst drawn",
        { Ending: DrawEnding.Caught, Value: var corner } => Shown(told, measure, corner, units).ToString(),
        { Ending: var ending } s => CountWords.Ends(ending, s.Obstacle, told.Case.Input.Site.Obstacles)
            + (ending == DrawEnding.StillRunning ? "" : $" at {Format.Quantity(s.Speed, "m/s", units)}"),
    };

    /// <summary>The inputs of that corner: "slack 1.2 m, release angle 70 deg"; empty where it is not the corner that is told.</summary>
    public static string StressInputs(ToldCase told, string measure, UnitSystem units) => told.StressOf(measure) is not { FromDraws: false } stress ? ""
        : string.Join(", ", stress.Inputs.Select(i =>
        {
            var range = told.Case.Uncertain[i.Input].Range;
            return double.IsPositiveInfinity(i.Value) ? $"{range.Name} rigid" : $"{range.Name} {Format.Quantity(i.Value, range.Unit, units)}";
        }));

    /// <summary>How the first of two compares: "less in 19 of 20, typically half (0.2 to 0.9)".</summary>
    /// <param name="answer">The comparison.</param>
    public static string Compared(PairAnswer answer)
    {
        string Of(int count) => CountWords.Of(count, answer.Both);
        return answer.Verdict switch
        {
            PairVerdict.FirstLower => $"less in {Of(answer.FirstLower)}{CountWords.Typically(answer, "")}",
            PairVerdict.FirstMoreOftenLower => $"more often less: in {Of(answer.FirstLower)}{CountWords.Typically(answer, "")}",
            PairVerdict.SecondLower => $"more in {Of(answer.SecondLower)}{CountWords.Typically(answer, "")}",
            PairVerdict.SecondMoreOftenLower => $"more often more: in {Of(answer.SecondLower)}{CountWords.Typically(answer, "")}",
            PairVerdict.Level => $"alike in {Of(answer.Level)}",
            PairVerdict.Endings => $"both caught in {CountWords.Of(answer.Both, answer.Drawn)}: how they end is the difference",
            _ => $"open: less in {Of(answer.FirstLower)}, more in {Of(answer.SecondLower)}",
        };
    }

    private static ShownQuantity Shown(ToldCase told, string measure, double value, UnitSystem units) =>
        Format.Shown(value, told.Run[measure].Unit, Format.IsSmallLength(measure), units);
}
