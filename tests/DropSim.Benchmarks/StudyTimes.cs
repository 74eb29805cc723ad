using System.Diagnostics;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Studies;
using DropSim.Studies.Uncertainty;

namespace DropSim.Benchmarks;

/// <summary>
/// What a drop costs inside a study, and what a second thread brings. Everything is measured within one run and told as ratios, best of several,
/// because a machine that does other work is slow at some minutes and quick at others.
/// </summary>
internal static class StudyTimes
{
    private const int Repeats = 3;
    private const int Side = 12;
    private const int Samples = 128;

    /// <summary>Distance of the times at which an uncertainty study keeps curves, s.</summary>
    private const double BandInterval = 0.005;

    /// <summary>Drops of the first studies that are thrown away: the compiler still works on what they run.</summary>
    private const int Warm = 40;

    /// <summary>Prints the table.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="folder">Folder of the shipped scenarios.</param>
    public static void Print(TextWriter output, string folder)
    {
        var log = ScenarioDraft.Open(Path.Combine(folder, "medium-log.toml"));
        var letRun = log.Build().Scenario!.Cases[1];
        var plain = Plain(output, letRun.Input);
        Vary(output, log, letRun.Input, plain);
        Uncertainty(output, letRun, plain);
        Options(output, ScenarioDraft.Open(Path.Combine(folder, "studies", "choices.toml")));
    }

    /// <summary>One drop alone, at the scenario's tolerance and at that of studies, and its spar.</summary>
    private static double Plain(TextWriter output, DropInput input)
    {
        var loose = input with { Computation = input.Computation with { RelativeTolerance = VaryStudy.DefaultTolerance } };
        var options = new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(input) };
        var looseOptions = options with { Spar = new PreparedSpar(loose) };
        for (var k = 0; k < Warm; k++)
        {
            DropSimulator.Run(input, options);
            DropSimulator.Run(loose, looseOptions);
            _ = new PreparedSpar(input);
        }

        var plain = Best(20, () => DropSimulator.Run(input, options));
        var study = Best(20, () => DropSimulator.Run(loose, looseOptions));
        var spar = Best(20, () => _ = new PreparedSpar(input));
        var full = options with { Detail = RunDetail.Full };
        var kept = DropSimulator.Run(input, full);
        var curves = Best(10, () => DropSimulator.Run(input, full));
        var sampled = Best(10, () => kept.Traces!.Sample(BandInterval));
        output.WriteLine(FormattableString.Invariant(
            $"plain drop (medium log, let run, measures only, spar prepared): {1e3 * plain:0.00} ms; at the studies' tolerance of {VaryStudy.DefaultTolerance:0e0} {study / plain:0.00} of it; preparing a spar {1e3 * spar:0.00} ms, {spar / plain:0.000} of a drop"));
        output.WriteLine(FormattableString.Invariant($"  with its curves kept {curves / plain:0.00} of a plain drop, sampling them every {1e3 * BandInterval:0} ms {sampled / plain:0.00}"));
        return plain;
    }

    private static void Vary(TextWriter output, ScenarioDraft draft, DropInput central, double plain)
    {
        (DropInput?, string) At(int i) => (draft.Build([KeyChange.Of("device.wraps", 2 + (2.0 * (i / Side) / Side)), KeyChange.Of("rope.slack", 0.5 * (i % Side) / Side)]).Scenario?.Cases[1].Input, "");
        var options = new VaryOptions([MeasureIds.RiggingPointForce, MeasureIds.RopeRun], VaryStudy.DefaultTolerance, 1);
        var (one, two) = OneAndTwo(threads => VaryStudy.Compute(Side * Side, At, central, options with { Threads = threads }).Finished);
        Tell(output, $"vary, {Side * Side} drops of the medium log over wraps and slack", one, two, plain);
        var built = Best(20, () => At(Side));
        output.WriteLine(FormattableString.Invariant($"  100,000 drops: {1e5 / one / 60:0.0} min on one thread, {1e5 / two / 60:0.0} min on two; building one from the file: {1e3 * built:0.00} ms, {built / plain:0.000} of a plain drop"));
    }

    private static void Uncertainty(TextWriter output, DropCase dropCase, double plain)
    {
        var options = new UncertaintyOptions { Samples = Samples, IndexRows = 0 };
        var (one, two) = OneAndTwo(threads =>
        {
            var result = UncertaintyStudy.Compute(dropCase, options with { Threads = threads });
            return result.Samples.Count + (2 * result.Inputs.Count) + 1;
        });
        Tell(output, $"uncertainty, {Samples} drops of the medium log with curves, every input spread, another spar each", one, two, plain);
    }

    /// <summary>A part of what the command goes through: two lengths, three catches and bands of turns.</summary>
    private static void Options(TextWriter output, ScenarioDraft draft)
    {
        var settings = new List<OptionSetting>();
        foreach (var (length, filed) in new[] { ("1.2 m", true), ("0.84 m", false) })
        {
            var cases = draft.Build([new("piece.length", length)]).Scenario!.Cases;
            settings.Add(new(cases[0], cases[0].Input.Device.Wraps, cases[0].Input.Device.Wraps, filed));
            settings.AddRange(new[] { 1, 2, 2.5, 3 }.Select(turns => new OptionSetting(cases[1], turns, turns + 0.5, filed)));
        }

        var plan = new OptionsPlan { Draws = 32 };
        var input = settings[1].Case.Input;
        var prepared = new RunOptions { Detail = RunDetail.MeasuresOnly, Spar = new PreparedSpar(input) };
        var plain = Best(10, () => DropSimulator.Run(input, prepared));
        OptionsFound? found = null;
        var (one, two) = OneAndTwo(threads => (int)(found = OptionsStudy.Compute(settings, plan with { Threads = threads })).Drops + found.Check.Drops);
        Tell(output, $"options, {settings.Count} settings of {plan.Draws} draws", one, two, plain);
        output.WriteLine(FormattableString.Invariant(
            $"  {found!.Drops} of {settings.Count * plan.Draws} draws computed, {found.Check.Drops} repeated at a hundredth of the tolerance; plain drop of this scenario {1e3 * plain:0.00} ms"));
    }

    private static void Tell(TextWriter output, string what, double one, double two, double plain) => output.WriteLine(FormattableString.Invariant(
        $"{what}: {one:0} drops a second on one thread, {two:0} on two ({two / one:0.00} times); a drop costs {1 / one / plain:0.00} of a plain one"));

    /// <summary>Drops a second on one thread and on two, in turns, the best of each.</summary>
    private static (double One, double Two) OneAndTwo(Func<int, int> drops)
    {
        drops(2);
        var best = new double[2];
        for (var k = 0; k < 2 * Repeats; k++)
        {
            var watch = Stopwatch.StartNew();
            var count = drops(1 + (k % 2));
            best[k % 2] = Math.Max(best[k % 2], count / watch.Elapsed.TotalSeconds);
        }

        return (best[0], best[1]);
    }

    /// <summary>Shortest of several times, s.</summary>
    private static double Best(int times, Action action)
    {
        var best = double.PositiveInfinity;
        for (var k = 0; k < times; k++)
        {
            var watch = Stopwatch.StartNew();
            action();
            best = Math.Min(best, watch.Elapsed.TotalSeconds);
        }

        return best;
    }
}
