using System.CommandLine;
using DropSim.Reporting;
using DropSim.Scenarios;

namespace DropSim.Cli;

/// <summary>Options that mean the same in every command that computes.</summary>
internal sealed class CommonOptions
{
    private const int MostThreads = 256;

    private readonly Option<string> _directory;
    private readonly Option<string> _units;
    private readonly Option<int> _threads;

    /// <summary>Makes the options.</summary>
    /// <param name="folders">What is written below the folder ("one folder a scenario").</param>
    public CommonOptions(string folders)
    {
        _directory = new("--out") { Description = $"Folder for results, {folders}.", DefaultValueFactory = _ => "output" };
        _directory.Validators.Add(r =>
        {
            if (r.Tokens.Count > 0 && string.IsNullOrWhiteSpace(r.Tokens[0].Value))
            {
                r.AddError("--out: found an empty name; expected a folder.");
            }
        });
        _units = new("--units") { Description = "Units of text, pictures and CSV: si or us. Default: as the scenario asks." };
        _units.Only("si", "us");
        _threads = TypedOptions.Number("--threads", "Threads; the results do not depend on it.", () => Math.Min(Environment.ProcessorCount, MostThreads), 1, MostThreads);
    }

    /// <summary>The options, to be added to a command.</summary>
    public IEnumerable<Option> All => [_directory, _units, _threads];

    /// <summary>What was asked for.</summary>
    /// <param name="parsed">The command line.</param>
    public CommonSettings Of(ParseResult parsed) => new(
        parsed.GetValue(_directory)!,
        parsed.GetValue(_units) switch { "si" => UnitSystem.Si, "us" => UnitSystem.Us, _ => null },
        parsed.GetValue(_threads),
        parsed.CommandResult.Command.Name);
}

/// <summary>What the common options say.</summary>
/// <param name="Directory">Folder for results.</param>
/// <param name="Units">Units; null where the scenario decides.</param>
/// <param name="Threads">Threads.</param>
/// <param name="Verb">The command.</param>
internal sealed record CommonSettings(string Directory, UnitSystem? Units, int Threads, string Verb)
{
    /// <summary>The units that a file prefers.</summary>
    /// <param name="preferred">What it says.</param>
    public static UnitSystem Preferred(UnitPreference preferred) => preferred == UnitPreference.Us ? UnitSystem.Us : UnitSystem.Si;

    /// <summary>Units of text, pictures and CSV.</summary>
    /// <param name="scenario">The scenario, which decides where nobody asked.</param>
    public UnitSystem UnitsFor(Scenario scenario) => Units ?? Preferred(scenario.Units);

    /// <summary>Options for writing.</summary>
    /// <param name="scenario">The scenario.</param>
    public ReportOptions Report(Scenario scenario) => Report(scenario.Units);

    /// <summary>Options for writing.</summary>
    /// <param name="preferred">Units that the file prefers.</param>
    public ReportOptions Report(UnitPreference preferred) =>
        new() { Units = Units ?? Preferred(preferred), ProgramVersion = DropSimApp.Version, Threads = Threads };
}
