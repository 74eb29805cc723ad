using System.Text;
using DropSim.Cli;
using DropSim.Drawing;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Tests.Dismantle;

namespace DropSim.Tests.Cli;

/// <summary>What nobody foresaw becomes one line and exit code 1; what was finished is kept.</summary>
public sealed class UnforeseenTests
{
    [Fact]
    public void An_exception_that_nobody_foresaw_is_one_line_and_exit_code_1()
    {
        using var output = new BrokenWriter();
        using var error = new StringWriter();

        var code = DropSimApp.Run(["catalogue"], output, error, default);

        code.Should().Be(1);
        error.ToString().Trim().Should().StartWith("Something went wrong that nobody foresaw (InvalidOperationException: first line second line)").And.NotContain("\n").And.NotContain(" at DropSim");
    }

    [Fact]
    public void A_sheet_that_cannot_be_drawn_is_left_out_and_told_and_the_rest_is_written()
    {
        using var folder = new TemporaryFolder();
        var options = new ReportOptions { ProgramVersion = "1.2.3" };
        var faults = new List<string>();
        var document = DismantleDocument.Build(SparFiles.Result, options, [new("crew-sheet-a4.pdf", _ => throw new InvalidOperationException("no room"))]);

        StudyReport.Write(document, folder.Path, options, faults);

        faults.Should().ContainSingle().Which.Should().Contain("crew-sheet-a4.pdf").And.Contain("no room");
        var written = Directory.GetFiles(Path.Combine(folder.Path, "straight-dismantle")).Select(Path.GetFileName).ToArray();
        written.Should().Contain(["cuts.csv", "study.json", "forces-down-the-stem.png"]).And.NotContain("crew-sheet-a4.pdf");
        File.ReadAllText(Path.Combine(folder.Path, "straight-dismantle", "study.json")).Should().Contain("\"complete\": false").And.NotContain("crew-sheet-a4.pdf\"");
    }

    private sealed class BrokenWriter : StringWriter
    {
        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => Fail();

        public override void Write(string? value) => Fail();

        public override void WriteLine() => Fail();

        public override void WriteLine(string? value) => Fail();

        private static void Fail() => throw new InvalidOperationException("first line\nsecond line");
    }
}
