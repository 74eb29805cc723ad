using DropSim.Scenarios;

namespace DropSim.Cli;

/// <summary>From paths to scenarios, with everything that is wrong said at once.</summary>
internal static class ScenarioFiles
{
    /// <summary>The scenario files that paths name: a file itself, of a folder its *.toml in order of name.</summary>
    /// <param name="paths">Files and folders.</param>
    /// <param name="error">Where problems are told.</param>
    /// <param name="refused">True where a path could not be used.</param>
    public static List<string> Find(IEnumerable<string> paths, TextWriter error, out bool refused)
    {
        refused = false;
        var files = new List<string>();
        var known = new HashSet<string>(StringComparer.Ordinal);
        foreach (var path in paths)
        {
            if (File.Exists(path))
            {
                Take(path);
                continue;
            }

            if (!Directory.Exists(path))
            {
                error.WriteLine($"{path}: found nothing; expected a scenario file or a folder with scenario files (*.toml).");
                refused = true;
                continue;
            }

            try
            {
                var inside = Directory.EnumerateFiles(path, "*.toml").Order(StringComparer.Ordinal).ToArray();
                if (inside.Length == 0)
                {
                    error.WriteLine($"{path}: found no scenario file; expected files that end in .toml.");
                    refused = true;
                }

                Array.ForEach(inside, Take);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                error.WriteLine($"{path}: cannot be read ({e.Message}).");
                refused = true;
            }
        }

        return files;

        // One file named twice, by itself and by its folder, is one scenario.
        void Take(string file)
        {
            if (known.Add(Path.GetFullPath(file)))
            {
                files.Add(file);
            }
        }
    }

    /// <summary>Reads files; tells every problem of every file.</summary>
    /// <param name="files">Files.</param>
    /// <param name="error">Where problems are told.</param>
    /// <param name="refused">Set where a file was refused.</param>
    public static List<(string File, Scenario Scenario)> Read(IEnumerable<string> files, TextWriter error, ref bool refused)
    {
        var scenarios = new List<(string File, Scenario Scenario)>();
        foreach (var file in files)
        {
            var read = ScenarioReader.Read(file);
            foreach (var problem in read.Problems)
            {
                error.WriteLine(problem with { File = file });
                refused = true;
            }

            if (read.Scenario is not { } scenario)
            {
                continue;
            }

            var twin = scenarios.FindIndex(s => string.Equals(s.Scenario.Name, scenario.Name, StringComparison.OrdinalIgnoreCase));
            if (twin >= 0)
            {
                error.WriteLine($"{file}: found the name '{scenario.Name}' a second time (first in {scenarios[twin].File}); expected different file names, because results go to a folder of that name.");
                refused = true;
                continue;
            }

            scenarios.Add((file, scenario));
        }

        return scenarios;
    }
}
