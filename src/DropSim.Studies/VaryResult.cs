using DropSim.Model;

namespace DropSim.Studies;

/// <summary>One input that is varied.</summary>
/// <param name="Path">Key path ("rope.slack").</param>
/// <param name="Unit">Unit in which it was given and is shown; "" for none.</param>
/// <param name="UnitInSi">One of that unit in SI.</param>
/// <param name="SiUnit">Its SI unit; "" for none.</param>
/// <param name="Values">The values, SI; for words their places 0, 1, 2.</param>
/// <param name="Texts">The values as they are shown.</param>
/// <param name="AreWords">True where the values are words (ring, block).</param>
public sealed record VariedAxis(
    string Path, string Unit, double UnitInSi, string SiUnit, IReadOnlyList<double> Values, IReadOnlyList<string> Texts, bool AreWords)
{
    /// <summary>Name in plain words ("rope slack").</summary>
    public string Name => Path.Replace('.', ' ').Replace('-', ' ');

    /// <summary>A value in the unit shown.</summary>
    /// <param name="index">Place of the value.</param>
    public double Shown(int index) => Values[index] / UnitInSi;
}

/// <summary>One set-up with one catch, varied.</summary>
/// <param name="Central">The case as the scenario has it.</param>
/// <param name="Run">What it gives as it is, for its measures' labels and units.</param>
public sealed record VariedCase(DropCase Central, DropRun Run);

/// <summary>Everything that a vary study found.</summary>
/// <param name="ScenarioName">File-name-safe name.</param>
/// <param name="Title">Title of the scenario.</param>
/// <param name="SourceHash">Hash of the scenario file.</param>
/// <param name="Axes">One or two inputs.</param>
/// <param name="Cases">The cases.</param>
/// <param name="Options">How it was computed.</param>
/// <param name="Runs">The drops: case by case, the first input slowest, the second fastest.</param>
/// <param name="Check">How exact they are.</param>
public sealed record VaryResult(
    string ScenarioName, string Title, string SourceHash, IReadOnlyList<VariedAxis> Axes, IReadOnlyList<VariedCase> Cases,
    VaryOptions Options, StudyRuns<VariedDrop> Runs, VaryCheck Check)
{
    /// <summary>Fewest values of the first input that an interrupted study keeps: a picture needs some width.</summary>
    private const int LeastReached = 8;

    /// <summary>
    /// The part that an interrupted study reached: no more of the first input than was begun, where the first case was not finished. What comes of it
    /// then takes time by what was computed, not by what was asked for.
    /// </summary>
    public VaryResult Reached()
    {
        var perCase = FirstCount * SecondCount;
        var last = Runs.CutShort ? Enumerable.Range(0, Runs.Asked).LastOrDefault(Runs.IsFinished, -1) : Runs.Asked - 1;
        var first = Math.Max(LeastReached, (last / SecondCount) + 1);
        if (last >= perCase || first >= FirstCount)
        {
            return this;
        }

        var axis = Axes[0] with { Values = [.. Axes[0].Values.Take(first)], Texts = [.. Axes[0].Texts.Take(first)] };
        return this with { Axes = [axis, .. Axes.Skip(1)], Cases = [Cases[0]] };
    }

    /// <summary>Number of values of the first input.</summary>
    public int FirstCount => Axes[0].Values.Count;

    /// <summary>Number of values of the second input; 1 where there is none.</summary>
    public int SecondCount => Axes.Count > 1 ? Axes[1].Values.Count : 1;

    /// <summary>Place of a drop.</summary>
    /// <param name="inCase">Case.</param>
    /// <param name="first">Value of the first input.</param>
    /// <param name="second">Value of the second input.</param>
    public int Index(int inCase, int first, int second) => (((inCase * FirstCount) + first) * SecondCount) + second;

    /// <summary>The drop at a place; null where it was not finished.</summary>
    /// <param name="inCase">Case.</param>
    /// <param name="first">Value of the first input.</param>
    /// <param name="second">Value of the second input.</param>
    public VariedDrop? At(int inCase, int first, int second)
    {
        var index = Index(inCase, first, second);
        return Runs.IsFinished(index) ? Runs[index] : null;
    }

    /// <summary>A value that is one: not a bound, and finite; else not a number.</summary>
    /// <param name="inCase">Case.</param>
    /// <param name="first">Value of the first input.</param>
    /// <param name="second">Value of the second input.</param>
    /// <param name="measure">Place of the measure.</param>
    public double Exact(int inCase, int first, int second, int measure) =>
        At(inCase, first, second) is { End: not null } drop && drop.States[measure] is MeasureState.Exact or MeasureState.Indicative ? drop.Values[measure] : double.NaN;

    /// <summary>A bound: what was reached until the drop was cut short; else not a number.</summary>
    /// <param name="inCase">Case.</param>
    /// <param name="first">Value of the first input.</param>
    /// <param name="second">Value of the second input.</param>
    /// <param name="measure">Place of the measure.</param>
    public double AtLeast(int inCase, int first, int second, int measure) =>
        At(inCase, first, second) is { End: not null } drop && drop.States[measure] == MeasureState.AtLeast ? drop.Values[measure] : double.NaN;
}
