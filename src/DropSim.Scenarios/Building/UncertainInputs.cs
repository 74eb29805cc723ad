using DropSim.Model;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;

namespace DropSim.Scenarios.Building;

/// <summary>
/// The uncertain inputs of a case with their distributions: those of the file, else one for each stated range, and a few whose range no
/// table of ranges has: the hand's force and reaction, the stem's modulus and damping.
/// </summary>
internal static class UncertainInputs
{
    /// <summary>A range whose ends differ by this factor is spread in the logarithm. Choice of this model.</summary>
    private const double FactorRange = 3;

    /// <summary>One pair of hands against another: 120 to 350 N where 250 N are meant, 10 to 60 N where 30 N are. Common practice, no source.</summary>
    private const double WeakHand = 120.0 / 250, StrongHand = 350.0 / 250, LightestHand = 10.0 / 30, HeaviestHand = 2;

    /// <summary>Even a hand that is set needs some tenths of a second, s. From memory.</summary>
    private const double SetHand = 0.5;

    /// <summary>A reaction time that is given is known to a factor 2. From memory.</summary>
    private const double ReactionFactor = 2;

    /// <summary>Coefficient of variation of the modulus of clear wood. From memory.</summary>
    private const double ModulusVariation = 0.22;

    /// <summary>The 95 % point of the standard normal distribution.</summary>
    private const double NinetyFive = 1.6449;

    /// <summary>Damping that is given or follows from a sway test. Common practice, no source.</summary>
    private const double DampingFactor = 1.5;

    /// <summary>Adds the uncertain inputs to a case.</summary>
    /// <param name="built">The case.</param>
    /// <param name="own">The same case as the file has it, where values were changed; else null.</param>
    /// <param name="entries">What the file says about distributions.</param>
    /// <param name="refuse">Told what is wrong: line, key, found, expected.</param>
    public static DropCase AddTo(DropCase built, DropCase? own, IReadOnlyList<UncertainEntry> entries, Action<int, string, string, string> refuse)
    {
        List<UncertainInput> inputs = [];
        foreach (InputRange range in built.Ranges.Concat(Extra(built)).Concat(Contact(built)))
        {
            if (!entries.Any(e => e.Key.Key == range.Key && e.Key.Applies(built.Input)) && Default(range) is { } distribution)
            {
                inputs.Add(new UncertainInput(range.Key, range, distribution, false));
            }
        }

        foreach (UncertainEntry entry in entries.Where(e => e.Kind is not null && e.Key.Applies(built.Input)))
        {
            if (Given(built, own, entry, refuse) is { } given)
            {
                inputs.Add(given);
            }
        }

        return built with { Uncertain = inputs };
    }

    private static UncertainInput? Given(DropCase built, DropCase? own, UncertainEntry entry, Action<int, string, string, string> refuse)
    {
        double central = entry.Key.Get(built.Input);
        DistributionKind kind = entry.Kind!.Value;
        Func<double, double> move = Moved(entry, kind, own is null ? central : entry.Key.Get(own.Input), central);
        (double low, double high) = (move(entry.Low), move(entry.High));
        double mid = entry.Mid is { } stated ? move(stated) : kind switch
        {
            DistributionKind.Triangular or DistributionKind.LogTriangular => central,
            DistributionKind.LogNormal => Math.Sqrt(low * high),
            _ => (low + high) / 2,
        };
        if (mid < low || mid > high)
        {
            refuse(entry.Line, "uncertain.mid", $"nothing, and {entry.Key.Key} = {CaseValues.Text(central, entry.Key.Unit)} of {built.Name} outside low and high", "mid between low and high");
            return null;
        }

        KeySpec spec = entry.Key.Spec;
        InputDistribution distribution = new(kind, low, mid, high) { Least = spec.Least, Most = spec.Most };
        string name = built.Ranges.FirstOrDefault(r => r.Key == entry.Key.Key && r.Unit == entry.Key.Unit)?.Name ?? entry.Key.Name;
        return new UncertainInput(entry.Key.Key, new InputRange(name, entry.Key.Unit, central, low, high, entry.Source, entry.Key.Set) { Key = entry.Key.Key }, distribution, true);
    }

    /// <summary>
    /// A distribution was stated for the file's own value. Where a study lays another value over it, it goes along: a length by as much
    /// (a tape errs alike), everything else by the same factor. One in the logarithm that cannot go along stays.
    /// </summary>
    private static Func<double, double> Moved(UncertainEntry entry, DistributionKind kind, double before, double now)
    {
        if (now.Equals(before))
        {
            return static v => v;
        }

        bool logarithmic = kind is DistributionKind.LogTriangular or DistributionKind.LogNormal;
        if (before > 0 && now > 0 && double.IsFinite(now / before) && (logarithmic || entry.Key.Spec.Quantity != QuantityKind.Length))
        {
            return v => v * (now / before);
        }

        return logarithmic || !double.IsFinite(now - before) ? static v => v : v => v + (now - before);
    }

    /// <summary>A stated range is taken for the ends of a triangle with its top at the central value: nothing outside, ends rare.</summary>
    private static InputDistribution? Default(InputRange range)
    {
        if (!(range.Low < range.High) || !double.IsFinite(range.High) || !(range.Central >= range.Low && range.Central <= range.High))
        {
            return null;
        }

        DistributionKind kind = range.Low > 0 && range.High / range.Low >= FactorRange ? DistributionKind.LogTriangular : DistributionKind.Triangular;
        return new InputDistribution(kind, range.Low, range.Central, range.High);
    }

    private static IEnumerable<InputRange> Extra(DropCase built)
    {
        DropInput input = built.Input;
        InputRange Of(string key, double low, double high, string source)
        {
            UncertainKey known = UncertainKeys.Of(key);
            return new InputRange(known.Name, known.Unit, known.Get(input), low, high, source, known.Set) { Key = key };
        }

        if (UncertainKeys.Of("catch.grip").Applies(input))
        {
            double grip = input.Catch.GripForce;
            double light = input.Catch.LightForce;
            if (light > 0)
            {
                yield return Of("catch.light", LightestHand * light, Math.Min(HeaviestHand * light, grip), "common practice, no source: 10 to 60 N where 30 N are meant");
            }

            yield return Of("catch.grip", WeakHand * grip, StrongHand * grip, "common practice, no source: two hands 200 to 400 N, tired or single ones less; on running rope a hand held about 180 N");
        }

        if (input.Catch.Kind == CatchKind.LetRun)
        {
            double reaction = input.Catch.ReactionTime;
            yield return reaction > 0
                ? Of("catch.reaction-time", reaction / ReactionFactor, reaction * ReactionFactor, "from memory: known to a factor 2")
                : Of("catch.reaction-time", 0, SetHand, "from memory: a hand that is set needs up to some tenths of a second, a surprised one about 1 s");
        }

        if (UncertainKeys.Of("spar.modulus").Applies(input))
        {
            double factor = Math.Exp(NinetyFive * Math.Sqrt(Math.Log(1 + (ModulusVariation * ModulusVariation))));
            yield return Of("spar.modulus", input.Spar.Modulus / factor, input.Spar.Modulus * factor, "from memory: modulus of clear wood scatters by about 22 % within a species; ends at its 5 % and 95 % points");
        }

        if (UncertainKeys.Of("spar.damping").Applies(input) && input.Spar.DampingRatio > 0)
        {
            KeyDefault standard = KeyTable.ByPath["spar.damping"].Default!;
            bool untested = built.Notes.Any(n => n.Path == "spar.damping" && !n.Given && n.Range.Length > 0);
            double damping = input.Spar.DampingRatio;
            yield return untested
                ? Of("spar.damping", Parsed(standard.Low), Parsed(standard.High), standard.Source)
                : Of("spar.damping", damping / DampingFactor, Math.Min(KeyTable.ByPath["spar.damping"].Most, damping * DampingFactor), "given or tested: a factor 1.5 either way, common practice, no source");
        }
    }

    /// <summary>How piece and stem meet: only drops in which they do depend on it.</summary>
    private static IEnumerable<InputRange> Contact(DropCase built)
    {
        foreach (string path in new[] { "computation.contact-damping", "computation.contact-friction" })
        {
            UncertainKey key = UncertainKeys.Of(path);
            KeyDefault standard = key.Spec.Default!;
            if (built.Notes.FirstOrDefault(n => n.Path == path) is { Given: false })
            {
                yield return new InputRange(key.Name, key.Unit, key.Get(built.Input), Parsed(standard.Low, key.Spec.Quantity), Parsed(standard.High, key.Spec.Quantity), standard.Source, key.Set) { Key = path };
            }
        }
    }

    private static double Parsed(string text, QuantityKind kind = QuantityKind.Fraction) =>
        QuantityParser.TryParse(text, kind, out double value, out string problem) ? value : throw new InvalidOperationException(problem);
}
