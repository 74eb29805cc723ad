using System.Diagnostics;
using System.Globalization;
using DropSim.Cli;
using DropSim.Tests.Scenarios;

namespace DropSim.Tests.Cli;

public sealed class FilesAndOptionsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("--threads: found 'abc'; expected a whole number from 1 to 256.", "simulate", "x.toml", "--threads", "abc")]
    [InlineData("--threads: found '0'; expected a whole number from 1 to 256.", "vary", "x.toml", "--input", "rope.slack=0,1 m", "--threads", "0")]
    [InlineData("--threads: found '99999999999'; expected a whole number from 1 to 256.", "simulate", "x.toml", "--threads", "99999999999")]
    [InlineData("--samples: found '1.5'; expected a whole number from 64 to 131072.", "uncertainty", "x.toml", "--samples", "1.5")]
    [InlineData("--draws: found ''; expected a whole number from 20 to 4096.", "options", "x.toml", "--draws", "")]
    [InlineData("--tolerance: found 'NaN'; expected a number from 1e-9 to 1e-4.", "options", "x.toml", "--tolerance", "NaN")]
    [InlineData("--tolerance: found 'fine'; expected a number from 1e-9 to 1e-4.", "vary", "x.toml", "--input", "rope.slack=0,1 m", "--tolerance", "fine")]
    [InlineData("--port: found 'http'; expected a whole number from 0 to 65535.", "share", "--port", "http")]
    [InlineData("--units: found 'metric'; expected si or us.", "simulate", "x.toml", "--units", "metric")]
    [InlineData("--match: found 'it'; expected wraps or hand.", "compare", "x.toml", "--match", "it")]
    [InlineData("--top: found 'thick'; expected one of sparse, medium, dense.", "mass", "--density", "900 kg/m3", "--butt", "40 cm", "--length", "1 m", "--top", "thick")]
    [InlineData("PART: found 'trees'; expected one of species, ropes, knots, bends, slings, friction.", "catalogue", "trees")]
    [InlineData("Unknown option '--bogus'.", "simulate", "x.toml", "--bogus")]
    [InlineData("Unknown option '--bogus'.", "dismantle", "--bogus")]
    [InlineData("Unknown option '-x'.", "vary", "-x", "--input", "rope.slack=0,1 m")]
    public void What_an_option_wants_is_said_by_its_name_in_one_line(string expected, params string[] args)
    {
        var (code, output, error) = CommandLine.Run(args);

        code.Should().Be(ExitCodes.Usage);
        output.Should().BeEmpty();
        error.Split(Environment.NewLine)[0].Should().Be(expected);
        error.Split(Environment.NewLine, StringSplitOptions.RemoveEmptyEntries).Should().HaveCount(2, "the other line names --help");
    }

    [Theory]
    [InlineData("validate", "--", "-log.toml")]
    [InlineData("simulate", "--", "--units")]
    [InlineData("vary", "--input", "rope.slack=0,1 m", "--", "-log.toml")]
    [InlineData("compare", "--", "-log.toml")]
    [InlineData("dismantle", "--", "-log.toml")]
    public void Two_hyphens_end_the_options(params string[] args)
    {
        var (code, _, error) = CommandLine.Run(args);

        code.Should().Be(ExitCodes.Refused, "the file is looked for, and is not there");
        error.Should().StartWith(args[^1] + ":");
    }

    [Fact]
    public void A_file_whose_name_begins_with_a_hyphen_can_be_read()
    {
        File.Copy(Shipped("medium-log.toml"), Path.Combine(_folder, "-log.toml"));

        var (code, output, error) = CommandLine.Run("validate", "--", Path.Combine(_folder, "-log.toml"));

        code.Should().Be(ExitCodes.Done, error);
        output.Should().Contain("can be read");
    }

    [Fact]
    public void A_line_break_in_a_name_is_spelt_out()
    {
        var name = Path.Combine(_folder, "a\nb\u001b[2J.toml");
        foreach (var args in new[]
        {
            new[] { "validate", name }, ["simulate", name, "--out", _folder], ["dismantle", name], ["vary", name, "--input", "rope.slack=0,1 m"],
            ["lesson", name], ["simulate", "x.toml", "--units", "a\nb"],
        })
        {
            var (_, _, error) = CommandLine.Run(args);

            error.Should().Contain("a\\u000ab", string.Join(' ', args[0]));
            error.Should().NotContain("a\nb");
        }

        File.Copy(Shipped("medium-log.toml"), name);
        var (code, output, _) = CommandLine.Run("validate", name);
        code.Should().Be(ExitCodes.Done);
        output.Should().Contain("a\\u000ab\\u001b[2J.toml: can be read");
    }

    [Theory]
    [InlineData("simulate")]
    [InlineData("vary")]
    public void A_place_for_results_that_is_none_is_refused_before_anything_is_computed(string verb)
    {
        var folder = verb == "simulate" ? "medium-log" : "medium-log-vary";
        string[] input = verb == "vary" ? ["--input", "device.wraps=1..4:20000"] : [];
        Directory.CreateSymbolicLink(Path.Combine(_folder, folder), _folder);
        foreach (var (out_, words) in new[]
        {
            (_folder, "found a link; expected a folder or nothing"),
            (Path.Combine(_folder, new string('x', 300)), "found a path too long for this system; expected a shorter one"),
        })
        {
            var watch = Stopwatch.StartNew();

            var (code, _, error) = CommandLine.Run([verb, Shipped("medium-log.toml"), "--out", out_, .. input]);

            code.Should().Be(ExitCodes.NotCompleted);
            error.Should().Contain(words).And.Contain("Nothing was computed.");
            watch.Elapsed.Should().BeLessThan(TimeSpan.FromSeconds(20), "20,000 drops take a minute and more");
        }
    }

    [Fact]
    public void Somebody_elses_file_with_the_name_of_a_result_is_kept_and_told()
    {
        File.WriteAllText(Path.Combine(Directory.CreateDirectory(Path.Combine(_folder, "medium-log")).FullName, "report.html"), "mine");

        var (code, _, error) = CommandLine.Run("simulate", Shipped("medium-log.toml"), "--out", _folder);

        code.Should().Be(ExitCodes.Done);
        error.Should().Contain("report.html: not written by this program, so it was kept as 'report (kept).html'.");
        File.ReadAllText(Path.Combine(_folder, "medium-log", "report (kept).html")).Should().Be("mine");
    }

    [Fact]
    public void The_lesson_page_takes_the_place_of_files_only()
    {
        var page = Path.Combine(_folder, "page.html");
        File.CreateSymbolicLink(page, "elsewhere.html");
        CommandLine.Run("lesson", "--out", page).Code.Should().Be(ExitCodes.NotCompleted);
        new FileInfo(page).LinkTarget.Should().Be("elsewhere.html");
        File.Delete(page);

        File.WriteAllText(page, "");
        CommandLine.Run("lesson", "--out", page).Code.Should().Be(ExitCodes.Done, "an empty file is one");
        new FileInfo(page).Length.Should().BeGreaterThan(1000);
        Directory.EnumerateFileSystemEntries(_folder).Should().ContainSingle();
        if (!OperatingSystem.IsWindows())
        {
            var (code, _, error) = CommandLine.Run("lesson", "--out", "/dev/null");
            code.Should().Be(ExitCodes.NotCompleted);
            error.Should().Contain("found a link, a device or the like");
        }
    }

    [Theory]
    [InlineData(1_000_000, "vary", "medium-log.toml", "--input", "device.wraps=1..4:1000", "--input", "rope.slack=0..0.5 m:1000", "--catch", "let-run")]
    [InlineData(1_081_344, "options", "studies/choices.toml", "--draws", "4096")]
    [InlineData(270_140, "uncertainty", "medium-log.toml", "--samples", "131072")]
    public async Task A_long_study_says_how_long_it_will_take_and_stops_within_two_seconds_of_Ctrl_C(int drops, string verb, string file, params string[] more)
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        // The program itself and the signal itself; a test runner in the background may have told its children to ignore it, so that is undone.
        using var program = Process.Start(new ProcessStartInfo(
            "env", ["--default-signal=INT", "dotnet", typeof(DropSimApp).Assembly.Location, verb, Shipped(file), .. more, "--out", _folder])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        })!;
        var output = program.StandardOutput.ReadToEndAsync();
        var said = await program.StandardError.ReadLineAsync();
        await Task.Delay(TimeSpan.FromSeconds(4));
        var before = program.TotalProcessorTime;
        using (var signal = Process.Start("kill", ["-INT", $"{program.Id}"]))
        {
            await signal.WaitForExitAsync();
        }

        var busy = TimeSpan.Zero;
        var asked = Stopwatch.StartNew();
        while (!program.HasExited)
        {
            await Task.Delay(10);
            program.Refresh();
            busy = program.HasExited ? busy : program.TotalProcessorTime - before;
            asked.Elapsed.Should().BeLessThan(TimeSpan.FromMinutes(2));
        }

        said.Should().MatchRegex($@"^{drops.ToString("N0", CultureInfo.InvariantCulture)} drops will take about \d+ (min|h) here\. Ctrl\+C stops them and keeps what is finished\.$");
        program.ExitCode.Should().Be(ExitCodes.Interrupted, await program.StandardError.ReadToEndAsync());
        await output;

        // Seconds of a processor: other tests keep the processors busy, and then two seconds of it take longer.
        busy.Should().BeLessThan(TimeSpan.FromSeconds(2));
        Directory.EnumerateFileSystemEntries(_folder).Should().NotContain(e => Path.GetFileName(e).StartsWith('.'));
    }

    [Fact]
    public async Task A_file_that_the_system_takes_no_more_of_leaves_the_old_result_and_a_sentence()
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        CommandLine.Run("simulate", Shipped("medium-log.toml"), "--out", _folder, "--csv-interval", "10 ms").Code.Should().Be(ExitCodes.Done);
        var before = await File.ReadAllTextAsync(Path.Combine(_folder, "medium-log", "summary.json"));

        // 4,500 blocks of 1,024 bytes; a table with a row every millisecond is longer. Unless the signal is ignored it kills.
        var start = new ProcessStartInfo("bash", ["-c", "ulimit -f 4500; trap '' XFSZ; exec dotnet \"$@\"", "bash", typeof(DropSimApp).Assembly.Location, "simulate", Shipped("medium-log.toml"), "--out", _folder])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment["DOTNET_EnableWriteXorExecute"] = "0";
        using var program = Process.Start(start)!;
        var output = program.StandardOutput.ReadToEndAsync();
        var error = await program.StandardError.ReadToEndAsync();
        await output;
        await program.WaitForExitAsync();

        program.ExitCode.Should().Be(ExitCodes.NotCompleted, error);
        error.Should().Contain("the results could not be written").And.NotContain("   at ");
        (await File.ReadAllTextAsync(Path.Combine(_folder, "medium-log", "summary.json"))).Should().Be(before);
        Directory.EnumerateFileSystemEntries(_folder).Should().ContainSingle();
    }

    [Fact]
    public void A_short_study_says_nothing_of_time()
    {
        var (code, _, error) = CommandLine.Run(
            "vary", Shipped("medium-log.toml"), "--input", "device.wraps=2,3", "--catch", "let-run", "--out", _folder);

        code.Should().Be(ExitCodes.Done);
        error.Should().BeEmpty();
    }

    [Theory]
    [InlineData(12, "10 s")]
    [InlineData(84, "80 s")]
    [InlineData(600, "10 min")]
    [InlineData(3 * 3600, "3 h")]
    public void A_span_of_time_is_said_in_one_unit(int seconds, string words) => StudyTime.Words(TimeSpan.FromSeconds(seconds)).Should().Be(words);

    private static string Shipped(string file) => Path.Combine(Repository.Folder("scenarios"), file);
}
