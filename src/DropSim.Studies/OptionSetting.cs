using DropSim.Model;

namespace DropSim.Studies;

/// <summary>What a crew can choose: one combination, ready to compute.</summary>
/// <param name="Case">The drop with its uncertain inputs.</param>
/// <param name="WrapsLow">Fewest turns on the device.</param>
/// <param name="WrapsHigh">Most turns; above <paramref name="WrapsLow"/> where only a band can be named.</param>
/// <param name="AsFiled">True where everything but catch and wraps is as the file has it, the length aside.</param>
public sealed record OptionSetting(DropCase Case, double WrapsLow, double WrapsHigh, bool AsFiled)
{
    /// <summary>What is drawn: the uncertain inputs of the case, as in an uncertainty study, and the turns within their band where there is one.</summary>
    public IReadOnlyList<UncertainInput> Uncertain { get; } = WrapsLow == WrapsHigh ? Case.Uncertain : [.. Case.Uncertain, Band(WrapsLow, WrapsHigh)];

    /// <summary>Every place within the band alike: nothing says where in it the device is.</summary>
    private static UncertainInput Band(double low, double high) => new(
        "device.wraps",
        new InputRange("turns within their band", "turns", (low + high) / 2, low, high, "no hold test: a count of turns stands for a band",
            static (d, v) => d with { Device = d.Device with { Wraps = v } }),
        new InputDistribution(DistributionKind.Uniform, low, (low + high) / 2, high),
        false);
}

/// <summary>A quantity over the draws of a setting.</summary>
/// <param name="Median">Half of the draws are worse.</param>
/// <param name="Worst">The share of draws that must stay inside is not worse than this; infinite where too many draws were not caught.</param>
public readonly record struct DrawnMeasure(double Median, double Worst);

/// <summary>What came of a setting.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Asked">Number of draws asked for.</param>
/// <param name="Draws">Number of draws computed: fewer where it was clear before that the setting cannot be listed. Then the hardest draws come first.</param>
/// <param name="Inside">Draws inside all limits.</param>
/// <param name="Outside">For each limit by its key, and "caught", the number of draws outside it.</param>
/// <param name="InsideWithout">For each limit by its key, the number of draws inside all the others.</param>
/// <param name="Measures">What it costs, by measure id; says something only where every draw was computed.</param>
public sealed record OptionOutcome(
    OptionSetting Setting, int Asked, int Draws, int Inside, IReadOnlyDictionary<string, int> Outside, IReadOnlyDictionary<string, int> InsideWithout,
    IReadOnlyDictionary<string, DrawnMeasure> Measures)
{
    /// <summary>True where at least the stated share of the draws is inside every limit.</summary>
    public bool Kept => Inside >= OptionsStudy.Needed(Asked);

    /// <summary>True where every draw was computed.</summary>
    public bool Complete => Draws == Asked;

    /// <summary>The share that may truly be inside, at least, with 95 % confidence (exact binomial bound of Clopper and Pearson, one-sided).</summary>
    public double ShareAtLeast => OptionsStudy.ShareAtLeast(Inside, Draws);
}

/// <summary>How options are computed.</summary>
public sealed record OptionsPlan
{
    /// <summary>Fewest draws a setting: with fewer, one outside is more than the share allows.</summary>
    public const int FewestDraws = 20;

    /// <summary>Draws a setting; powers of two are spread best. With all of 64 inside, the share is above 95 % with 95 % confidence (0.95^59 = 0.048).</summary>
    public int Draws { get; init; } = 64;

    /// <summary>Seed of the draws.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Relative tolerance of the integrator; some draws are repeated far more tightly as a check.</summary>
    public double Tolerance { get; init; } = VaryStudy.DefaultTolerance;

    /// <summary>Threads, 1 or more; the result does not depend on it.</summary>
    public int Threads { get; init; } = 1;
}

/// <summary>How far what is told moves when draws are repeated at a tenth of the scenario's own tolerance.</summary>
/// <param name="Drops">Draws that were repeated.</param>
/// <param name="Largest">For each measure told, by its id, the largest relative change.</param>
/// <param name="Unsettled">Repeated draws in which one of them moved by more than <see cref="Noticeable"/>.</param>
/// <param name="Crossed">Repeated draws that came out on another side of a limit, or caught where they were not.</param>
public sealed record OptionsCheck(int Drops, IReadOnlyDictionary<string, double> Largest, int Unsettled, int Crossed)
{
    /// <summary>A change that shows in two significant digits.</summary>
    public const double Noticeable = 0.01;
}

/// <summary>What came of all settings.</summary>
/// <param name="Plan">How they were computed.</param>
/// <param name="Outcomes">The settings that were finished, in the order in which they were asked for.</param>
/// <param name="Asked">Number of settings asked for.</param>
/// <param name="BindingKnown">True where the draws suffice to tell which limit binds, for each length that has no setting inside; false where somebody cancelled before.</param>
/// <param name="Drops">Drops computed, those of the check not counted.</param>
/// <param name="Check">How exact they are.</param>
public sealed record OptionsFound(OptionsPlan Plan, IReadOnlyList<OptionOutcome> Outcomes, int Asked, bool BindingKnown, long Drops, OptionsCheck Check)
{
    /// <summary>True where somebody cancelled.</summary>
    public bool CutShort => Outcomes.Count < Asked || !BindingKnown;
}
