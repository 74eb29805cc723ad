using System.CommandLine;
using DropSim.Reporting;
using DropSim.Scenarios;

namespace DropSim.Cli;

/// <summary>dropsim validate: can a file be read?</summary>
internal static class ValidateCommand
{
    public static Command Create(Terminal terminal)
    {
        var paths = new Argument<string[]>("PATH") { Description = "Scenario files, spar files, or folders of them.", Arity = ArgumentArity.OneOrMore };
        var command = new Command("validate", DropSimApp.WithExamples(
            "Says whether scenario files and spar files can be read. It says nothing about whether a drop is a sound idea.",
            "dropsim validate scenarios",
            "dropsim validate my-log.toml scenarios/spars"))
        {
            paths,
        };
        command.SetAction(parsed =>
        {
            var files = ScenarioFiles.Find(parsed.GetValue(paths)!, terminal.Error, out var refused);
            foreach (var file in files.Where(IsSparFile))
            {
                refused |= !SparFile(terminal, file);
            }

            foreach (var (file, scenario) in ScenarioFiles.Read(files.Where(f => !IsSparFile(f)), terminal.Error, ref refused))
            {
                var setups = scenario.Cases.Select(c => c.Setup).Distinct().Count();
                terminal.Output.WriteLine(FormattableString.Invariant($"{file}: can be read: set-ups {setups}, drops {scenario.Cases.Count}."));
                foreach (var warning in scenario.Cases.SelectMany(c => Format.Warnings(c, CommonSettings.Preferred(scenario.Units))).Distinct())
                {
                    terminal.Paragraph("Note: " + warning);
                }
            }

            terminal.Output.WriteLine("A file that can be read says nothing about the safety of the drop it describes.");
            return refused ? ExitCodes.Refused : ExitCodes.Done;
        });
        return command;
    }

    private static bool IsSparFile(string file) => ScenarioDraft.Open(file).IsSparFile;

    private static bool SparFile(Terminal terminal, string file)
    {
        var read = SparPlanReader.Read(file);
        foreach (var problem in read.Problems)
        {
            terminal.Error.WriteLine(problem with { File = file });
        }

        if (read.Plan is { } plan)
        {
            terminal.Output.WriteLine(FormattableString.Invariant($"{file}: can be read, for dropsim dismantle: cuts {plan.Cuts.Count}."));
        }

        return read.Plan is not null;
    }
}
