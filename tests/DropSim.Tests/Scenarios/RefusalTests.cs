using System.Text;
using DropSim.Scenarios;

namespace DropSim.Tests.Scenarios;

/// <summary>What is wrong in a file is said with line, key, advice and nearest name; never a silent default.</summary>
public sealed class RefusalTests
{
    public static TheoryData<string, string, string, string> Wrong => new()
    {
        // Replace, by, key path in the problem, word in the message.
        { "diameter = \"14 mm\"", "diametr = \"14 mm\"", "rope.diametr", "Nearest known name: diameter" },
        { "[rope]", "[rop]", "rop", "Nearest known name: rope" },
        { "length = \"1.2 m\"", "length = 1.2", "piece.length", "unit after the number" },
        { "length = \"1.2 m\"", "length = \"1,2 m\"", "piece.length", "decimal point" },
        { "length = \"1.2 m\"", "length = \"1.2 kg\"", "piece.length", "unit of mass" },
        { "length = \"1.2 m\"", "length = \"99 m\"", "piece.length", "0.2 to 30 m" },
        { "length = \"1.2 m\"", "length = nan", "piece.length", "number" },
        { "length = \"1.2 m\"", "length = 1979-05-27", "piece.length", "quantity" },
        { "length = \"1.2 m\"", "", "piece.length", "Length along the stem" },
        { "length = \"1.2 m\"", "length = \"1.2 m\"\nlength = \"1.3 m\"", "piece.length", "second time" },
        { "[spar]", "[piece]", "piece", "second time" },
        { "butt-girth = \"126 cm\"", "", "piece.butt-girth", "neither" },
        { "butt-girth = \"126 cm\"", "butt-girth = \"126 cm\"\nbutt-diameter = \"40 cm\"", "piece.butt-girth", "the same thing" },
        { "butt-girth = \"126 cm\"", "butt-girth = \"126 cm\"\nmass = \"150 kg\"\nweighed = \"150 kg\"", "piece.weighed", "the same thing" },
        { "European oak (living tree)", "Eropean oak (living tree)", "piece.species", "Nearest known name: European oak (living tree)" },
        { "kind = \"log\"", "kind = \"lgo\"", "piece.kind", "Nearest known name: log" },
        { "kind = \"ring\"", "kind = \"ring\"\nefficiency = 0.9", "rigging-point.efficiency", "only a block" },
        { "kind = \"ring\"", "kind = \"natural-union\"", "rigging-point.below-cut", "fork really stands" },
        { "kind = \"ring\"", "kind = \"ring\"\nbelow-cut = \"9.5 m\"", "rigging-point.below-cut", "below the ground" },
        { "polyester 16-strand", "polyester 16 strnd", "rope.construction", "Nearest known name: polyester 16-strand" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nlength = \"8 m\"", "rope.length", "shorter than the path" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nlength = \"40 m\"\nleft-at-device = \"9 m\"", "rope.length", "the same thing" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nslack = { value = \"0.2 m\", low = \"0.3 m\", high = \"0.4 m\" }", "rope.slack", "low <= value <= high" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nslack = { value = \"0.2 m\", low = \"0 m\" }", "rope.slack.high", "all three" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nviscous-time = { value = \"2 ms\", low = \"1 ms\", high = \"3 ms\" }", "rope.viscous-time", "no range" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nknot = \"bowlin\"", "rope.knot", "Nearest known name: bowline" },
        { "wraps = 2.5", "wraps = 2.5\nheight = \"9 m\"", "device.height", "not below the rigging point" },
        { "wraps = 2.5", "wraps = 2.5\non-spar = false", "device.x", "not on the spar" },
        { "wraps = 2.5", "wraps = 2.5\noff-face = \"-0.2 m\"", "device.off-face", "inside the spar" },
        { "wraps = 2.5", "wraps = 2.5\n[start]\nface-cut-depth = 0.6", "start.face-cut-depth", "0 to 0.5" },
        { "wraps = 2.5", "wraps = 2.5\n[start]\nrelease-angle = \"9 deg\"", "start.release-angle", "past balance" },
        { "wraps = 2.5", "wraps = 2.5\n[start]\nkind = \"pushed-off\"\nface-cut-depth = 0.25", "start.face-cut-depth", "pushed off" },
        { "wraps = 2.5", "wraps = 2.5\n[computation]\nmodes = 2.5", "computation.modes", "whole number" },
        { "wraps = 2.5", "wraps = 2.5\n[computation]\nend-time = \"0.1 s\"", "computation.end-time", "0.5 to 60 s" },
        { "wraps = 2.5", "wraps = 2.5\n[hold-test]\nmass = \"80 kg\"", "hold-test", "together" },
        { "wraps = 2.5", "wraps = 2.5\n[hold-test]\nmass = \"80 kg\"\nwraps = 2\nhand = \"700 N\"", "hold-test.hand", "check mass" },
        { "wraps = 2.5", "wraps = 2.5\nfriction = 0.2\n[hold-test]\nmass = \"80 kg\"\nwraps = 2\nhand = \"50 N\"", "hold-test.hand", "the same thing" },
        { "wraps = 2.5", "wraps = 2.5\n[stretch-test]\nlength = \"10 m\"\nmass = \"4000 kg\"\nstretch = \"1 mm\"", "stretch-test.stretch", "check length, mass and stretch" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nstretch-curve = [ { strain = \"1 %\", tension = \"1 kN\" }, { strain = \"2 %\", tension = \"5 kN\" } ]", "", "start flat" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nstretch-curve = [ { strain = \"0.02 %\", tension = \"40 kN\" } ]\nviscous-time = \"0.1 ms\"", "", "typing error in the stretch" },
        { "wraps = 2.5", "wraps = 2.5\n[[catch]]\nname = \"a\"", "catch.kind", "Hard stop" },
        { "wraps = 2.5", "wraps = 2.5\n[[catch]]\nkind = \"hard-stop\"\nsnag-after = \"1 m\"", "catch.snag-after", "hard stop" },
        { "wraps = 2.5", "wraps = 2.5\n[[catch]]\nkind = \"let-run\"\nbrake = [ { run = \"1 m\", force = \"9 N\" }, { run = \"1 m\", force = \"9 N\" } ]", "catch.brake", "growing runs" },
        { "wraps = 2.5", "wraps = 2.5\n[catch]\nkind = \"let-run\"", "catch", "[[catch]]" },
        { "wraps = 2.5", "wraps = 2.5\n[[setup]]\nname = \"a\"\n[[setup]]\nname = \"A\"", "setup.name", "second time" },
        { "wraps = 2.5", "wraps = 2.5\n[[setup]]\nname = \"a\"\nrope.slak = \"1 m\"", "setup 1: rope.slak", "Nearest known name: slack" },
        { "wraps = 2.5", "wraps = 2.5\n[[obstacle]]\nname = \"shed\"\nx-from = \"3 m\"\nx-to = \"1 m\"\nz-to = \"2 m\"", "obstacle", "x-from < x-to" },
        { "kind = \"ring\"", "kind = \"ring\"\nbelow-cut = \"0 m\"", "rigging-point.below-cut", "more than 0 m" },
        { "tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nsideways-offset = \"0.41 m\"\n[start]\nrelease-angle = \"150 deg\"", "piece.sideways-offset", "less than the diameter" },
        { "height = \"9 m\"", "height = \"9 m\"\ndamping = 0.5", "spar.damping", "less than 0.5" },
        { "diameter = \"14 mm\"", "diameter = \"14 mm\"\nhitch-take-up.force-from = \"0 N\"", "rope.hitch-take-up.force-from", "more than 0 N" },
        { "wraps = 2.5", "wraps = 2.5\n[[obstacle]]\nname = \"cloud\"\nx-from = \"-1 m\"\nx-to = \"1 m\"\nz-from = \"10 m\"\nz-to = \"12 m\"", "obstacle", "beside or below" },
        { "girth = \"165 cm\" }", "girth = \"165 cm\" }, { at = \"1 m\", girth = \"160 cm\" }", "spar.girths", "growing heights" },
        { "at = \"1.3 m\"", "at = \"12 m\"", "spar.girths", "above the cut" },
        { "at = \"1.3 m\"", "at = \"4 m\"", "spar.girths", "within 2 m of the ground" },
        { "at = \"1.3 m\"", "high = \"1.3 m\"", "spar.girths[1].high", "at, girth" },
        { "tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nhitch-height = \"1.5 m\"", "piece.hitch-height", "above the piece" },
        { "tip-girth = \"120 cm\"", "tip-girth = \"120 cm\"\nbalance-point = \"1.3 m\"", "piece.balance-point", "beyond the piece" },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void A_wrong_entry_is_refused_with_place_and_advice(string replace, string by, string path, string word)
    {
        MinimalFileTests.Minimal.Should().Contain(replace);
        int at = MinimalFileTests.Minimal.IndexOf(replace, StringComparison.Ordinal);
        string text = MinimalFileTests.Minimal[..at] + by + MinimalFileTests.Minimal[(at + replace.Length)..];

        ScenarioReadResult result = MinimalFileTests.Read(text);

        result.Scenario.Should().BeNull();
        result.Problems.Should().Contain(p => p.Path.EndsWith(path, StringComparison.Ordinal) && p.ToString().Contains(word),
            string.Join("\n", result.Problems.Select(p => p.ToString())));
    }

    [Fact]
    public void Mistyped_names_are_told_together_with_what_keeps_a_case_from_being_built()
    {
        var known = Catalogue.Load().Species[0].Name;
        var mistyped = known[..^1];
        var text = System.Text.RegularExpressions.Regex.Replace(MinimalFileTests.Minimal, "(?m)^species = .*\n", "").Replace("[piece]", $"[piece]\nspecies = \"{mistyped}\"", StringComparison.Ordinal);
        text = System.Text.RegularExpressions.Regex.Replace(text, "(?m)^length = .*$", "length = \"1,25 m\"");

        var problems = MinimalFileTests.Read(text).Problems;

        problems.Select(p => p.Path).Should().Contain(["piece.species", "piece.length"]).And.OnlyHaveUniqueItems();
        problems.Single(p => p.Path == "piece.species").Should().Match<ScenarioProblem>(p => p.Line > 0 && p.Nearest == known && p.Found.Contains(mistyped));
    }

    [Fact]
    public void Everything_wrong_is_reported_at_once_with_its_line()
    {
        string text = MinimalFileTests.Minimal
            .Replace("length = \"1.2 m\"", "length = 1.2", StringComparison.Ordinal)
            .Replace("diameter = \"14 mm\"", "diametr = \"14 mm\"", StringComparison.Ordinal)
            .Replace("wraps = 2.5", "wraps = \"many\"", StringComparison.Ordinal);

        IReadOnlyList<ScenarioProblem> problems = MinimalFileTests.Read(text).Problems;

        problems.Where(p => p.Line > 0).Select(p => (p.Line, p.Path)).Should().Contain([(4, "piece.length"), (17, "rope.diametr"), (20, "device.wraps")]);
    }

    [Theory]
    [InlineData("title", "\\u001b[2J")]
    [InlineData("description", "\\u001b]0;other window title\\u0007")]
    [InlineData("title", "\\u0000")]
    [InlineData("title", "\\u009b31m")]
    [InlineData("title", "\\u202e mirrored")]
    public void A_text_that_would_act_on_a_terminal_is_refused_and_shown_harmless(string key, string text)
    {
        ScenarioReadResult result = MinimalFileTests.Read($"{key} = \"{text}\"\n{MinimalFileTests.Minimal}");

        result.Problems.Should().ContainSingle().Which.ToString().Should().Contain("test.toml:1").And.Contain("does not print").And.NotMatchRegex("[\\x00-\\x1f\\x7f-\\x9f\u202e]");
    }

    [Fact]
    public void Names_from_the_file_are_spelt_out_in_messages()
    {
        string key = MinimalFileTests.Minimal.Replace("tip-girth =", "\"\\u001b[2J\" =", StringComparison.Ordinal);

        MinimalFileTests.Read(key).Problems.Select(p => p.ToString()).Should().Contain(p => p.Contains("\\u001b[2J"))
            .And.NotContain(p => p.Contains('\u001b'));
    }

    [Fact]
    public void Text_over_several_lines_becomes_one()
    {
        MinimalFileTests.Read("title = \"\"\"\nTwo\n  lines\"\"\"\n" + MinimalFileTests.Minimal).Scenario!.Title.Should().Be("Two lines");
    }

    [Fact]
    public void A_message_about_a_long_key_is_short()
    {
        MinimalFileTests.Read(new string('k', 200_000) + " = 1\n" + MinimalFileTests.Minimal).Problems.Should().NotBeEmpty()
            .And.OnlyContain(p => p.ToString().Length < 2000);
    }

    [Fact]
    public void A_thick_piece_on_a_thinner_spar_balances_over_its_own_butt()
    {
        // Face cut of a quarter: the hinge is 0.4 m / 2 x (1 - 2 x 0.25) = 0.1 m before the axis of a piece with a butt of
        // 0.4 m, whatever the spar measures. Balance point 0.6 m: atan(0.1 / 0.6) = 9.46 deg, and 0.05 rad = 2.86 deg past it: 12.3 deg.
        string text = """
            [piece]
            kind = "log"
            density = "900 kg/m3"
            length = "1.2 m"
            butt-diameter = "0.4 m"
            tip-diameter = "0.4 m"
            [start]
            release-angle = "12 deg"
            [spar]
            height = "9 m"
            diameters = [ { at = "0 m", diameter = "0.3 m" }, { at = "9 m", diameter = "0.2 m" } ]
            [rigging-point]
            kind = "ring"
            [rope]
            construction = "polyester 16-strand"
            diameter = "14 mm"
            """;

        MinimalFileTests.Read(text).Problems.Select(p => p.ToString()).Should().ContainSingle().Which.Should().Contain("start.release-angle").And.Contain("12.3 deg");
    }

    [Fact]
    public void A_pipe_that_nobody_writes_to_is_refused_and_does_not_hang()
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".toml");
        using (System.Diagnostics.Process made = System.Diagnostics.Process.Start("mkfifo", path))
        {
            made.WaitForExit();
            made.ExitCode.Should().Be(0);
        }

        try
        {
            ScenarioReader.Read(path).Problems.Should().ContainSingle().Which.Found.Should().Contain("gives nothing");
        }
        finally
        {
            // The reader's thread still waits for a writer: let it go.
            using (new FileStream(path, FileMode.Open, FileAccess.ReadWrite))
            {
            }

            File.Delete(path);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("   \n\n")]
    [InlineData("this is no toml")]
    [InlineData("a = [[[[[[[[[[[[1]]]]]]]]]]]]")]
    [InlineData("a.b.c.d.e.f.g.h.i.j = 1")]
    [InlineData("[a.b.c.d.e.f.g.h]\nx = 1")]
    [InlineData("piece = 3")]
    [InlineData("[piece]\nkind = { a = { b = { c = { d = { e = { f = 1 } } } } } }")]
    [InlineData("[piece]\nlength = 1e400")]
    [InlineData("[piece]\nlength = 99999999999999999999999999")]
    [InlineData("[piece]\nlength = \"1e400 m\"")]
    [InlineData("setup = 1\ncatch = []\nobstacle = \"x\"")]
    [InlineData("[[piece]]\nkind = \"log\"")]
    public void A_hostile_text_is_refused_with_a_message(string text)
    {
        ScenarioReadResult result = MinimalFileTests.Read(text);

        result.Scenario.Should().BeNull();
        result.Problems.Should().NotBeEmpty();
        result.Problems.Should().OnlyContain(p => p.Found.Length > 0 && p.Expected.Length > 0);
    }

    [Fact]
    public void A_deep_nest_is_refused_and_does_not_overflow_the_stack()
    {
        MinimalFileTests.Read("a = " + new string('[', 100_000)).Scenario.Should().BeNull();
        MinimalFileTests.Read("a = " + string.Concat(Enumerable.Repeat("{a=", 50_000))).Scenario.Should().BeNull();
        MinimalFileTests.Read(string.Join(".", Enumerable.Repeat("a", 100_000)) + " = 1").Scenario.Should().BeNull();
    }

    [Fact]
    public void Bytes_that_are_not_text_a_huge_file_a_folder_and_a_missing_file_are_refused()
    {
        ScenarioReader.Read([0x7f, 0x45, 0x4c, 0x46, 0, 0], "x.toml").Problems.Should().ContainSingle().Which.Found.Should().Contain("not UTF-8");
        ScenarioReader.Read([0xff, 0xfe, 0x41], "x.toml").Problems.Should().ContainSingle().Which.Found.Should().Contain("not UTF-8");
        ScenarioReader.Read(new byte[ScenarioReader.LargestFile + 1], "x.toml").Problems.Should().ContainSingle().Which.Found.Should().Contain("256 kB");
        ScenarioReader.Read(Path.GetTempPath()).Problems.Should().ContainSingle().Which.Found.Should().Be("a folder");
        ScenarioReader.Read("no-such-file.toml").Problems.Should().ContainSingle().Which.Found.Should().Contain("cannot be opened");
    }

    [Fact]
    public void A_file_of_a_gigabyte_is_refused_without_being_read()
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".toml");
        try
        {
            using (FileStream stream = File.Create(path))
            {
                stream.SetLength(1L << 30);
            }

            long before = GC.GetAllocatedBytesForCurrentThread();
            ScenarioReader.Read(path).Problems.Should().ContainSingle().Which.Found.Should().Contain("256 kB");
            (GC.GetAllocatedBytesForCurrentThread() - before).Should().BeLessThan(2_000_000);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Thousands_of_wrong_keys_give_a_limited_list()
    {
        StringBuilder text = new("[rope]\n");
        for (int i = 0; i < 4000; i++)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"k{i} = 1\n");
        }

        MinimalFileTests.Read(text.ToString()).Problems.Count.Should().BeInRange(1, 200);
    }

    [Fact]
    public void Too_many_values_are_said_once()
    {
        string text = "[rope]\n" + string.Concat(Enumerable.Range(0, 9000).Select(i => FormattableString.Invariant($"k{i}=1\n")));

        MinimalFileTests.Read(text).Problems.Should().ContainSingle().Which.Found.Should().Contain("more than 5000");
    }

    [Fact]
    public void A_decimal_comma_without_quotes_is_one_slip_and_one_message()
    {
        var text = MinimalFileTests.Minimal.Replace("wraps = 2.5", "wraps = 2,5", StringComparison.Ordinal);
        text.Should().NotBe(MinimalFileTests.Minimal);

        var problem = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Problems.Should().ContainSingle().Subject;

        problem.Line.Should().Be(text.Split('\n').ToList().FindIndex(l => l.StartsWith("wraps", StringComparison.Ordinal)) + 1);
        problem.Found.Should().Be("2,5");
        problem.Expected.Should().Contain("decimal point");
    }

    [Fact]
    public void Lines_that_are_not_toml_are_told_once_each()
    {
        var text = MinimalFileTests.Minimal + "\n[site]\nthis is, no line\nnor, is this\n";

        ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Problems.Select(p => p.Line).Should().HaveCountGreaterThan(1).And.OnlyHaveUniqueItems();
    }
}
