using System.Text.Json;
using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Reporting.Studies;
using DropSim.Studies;
using DropSim.Tests.Dismantle;
using DropSim.Tests.Model;

namespace DropSim.Tests.Studies;

/// <summary>Long work that somebody interrupts keeps what was finished, and says that it is not whole.</summary>
public sealed class InterruptedStudyTests : IDisposable
{
    private static readonly ReportOptions Options = new() { ProgramVersion = "1.2.3" };

    private readonly string _folder = Directory.CreateTempSubdirectory("dropsim-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>The straight stem without ranges: one run for each cut and catch.</summary>
    private static PlannedCut[] Cuts => [.. SparFiles.Plan(SparFiles.Straight).Cuts.Select(c => c with { Cases = [.. c.Cases.Select(k => k with { Ranges = [] })] })];

    [Fact]
    public void A_plan_keeps_its_finished_cuts_and_makes_no_crew_sheet()
    {
        using var stop = new CancellationTokenSource();
        var runs = 0;
        var cuts = DismantleStudy.Compute(
            Cuts, 1,
            () =>
            {
                // Two catches a cut: the third run belongs to the second cut.
                if (++runs == 3)
                {
                    stop.Cancel();
                }
            },
            stop.Token).Cuts;
        var plan = SparFiles.Plan(SparFiles.Straight);
        var result = new DismantleResult(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, cuts, plan.Cuts.Count);

        cuts.Select(c => c.Plan.Number).Should().Equal(1);
        result.CutShort.Should().BeTrue();
        var document = DismantleDocument.Build(result, Options, CrewSheets.Of(result, Options));
        document.CutShort.Should().StartWith("1 of 3 cuts were computed, from the tip down.");
        document.OtherFiles.Should().BeEmpty();
        document.Findings.Should().Contain(f => f.StartsWith("1 of 3 cuts", StringComparison.Ordinal));
        document.Figures.Should().OnlyContain(f => f.Subtitle.StartsWith("Interrupted, 1 of 3 cuts.", StringComparison.Ordinal));

        StudyReport.Write(document, _folder, Options);
        Directory.EnumerateFiles(Path.Combine(_folder, document.Folder)).Should().NotContain(f => f.EndsWith(".pdf", StringComparison.Ordinal));
        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(_folder, document.Folder, "study.json")));
        json.RootElement.GetProperty("complete").GetBoolean().Should().BeFalse();
    }

    [Fact]
    public void A_plan_interrupted_in_its_first_cut_keeps_nothing()
    {
        using var stop = new CancellationTokenSource();

        var study = () => DismantleStudy.Compute(Cuts, 1, stop.Cancel, stop.Token);

        study.Should().Throw<OperationCanceledException>();
    }

    [Fact]
    public void A_plan_that_fails_in_its_second_cut_keeps_the_first_and_says_why()
    {
        PlannedCut[] cuts = Cuts;
        cuts[1] = cuts[1] with { Cases = [.. cuts[1].Cases.Select(c => c with { Input = c.Input with { Piece = c.Input.Piece with { Mass = -1 } } })] };
        var plan = SparFiles.Plan(SparFiles.Straight);

        var computed = DismantleStudy.Compute(cuts, 1);

        computed.Cuts.Select(c => c.Plan.Number).Should().Equal(1);
        computed.Fault.Should().BeOfType<DropInputException>();
        var result = new DismantleResult(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, computed.Cuts, plan.Cuts.Count);
        var document = DismantleDocument.Build(result, Options, CrewSheets.Of(result, Options), computed.Fault);
        document.Faults.Should().ContainSingle().Which.Should().StartWith("The plan stops above cut 2 of 3: ");
        document.OtherFiles.Should().BeEmpty();
    }

    [Fact]
    public void A_whole_plan_is_not_marked()
    {
        DismantleDocument.Build(SparFiles.Result, Options, CrewSheets.Of(SparFiles.Result, Options)).CutShort.Should().BeNull();
        SparFiles.Result.CutShort.Should().BeFalse();
    }

    [Fact]
    public void A_comparison_keeps_the_rows_that_were_finished()
    {
        using var stop = new CancellationTokenSource();
        var runs = 0;

        // No ranges: one run for each of two rows with the same settings; the third belongs to the search for the same rope run.
        var result = FairStudy.Compute(
            [Variant("near", 0.3), Variant("far", 0.6)], MatchBy.Wraps, 1,
            () =>
            {
                if (++runs == 3)
                {
                    stop.Cancel();
                }
            },
            stop.Token);

        result.CutShort.Should().BeTrue();
        result.Asked.Should().Be(6);
        result.Rows.Select(r => (r.Way, r.Variant)).Should().Equal((FairWay.SameSetting, 0), (FairWay.SameSetting, 1));
        var document = FairDocument.Of(result, "log", "Log", "0123456789ab", Options);
        document.CutShort.Should().StartWith("2 of 6 comparisons were finished");
        document.Figures.Should().OnlyContain(f => f.Subtitle.StartsWith("Interrupted, 2 of 6 comparisons.", StringComparison.Ordinal));
        document.Findings.Should().NotContain(f => f.Contains("same rope run", StringComparison.OrdinalIgnoreCase) && f.Contains("against", StringComparison.Ordinal), "what was not computed is not compared");
        FigureRenderer.Png(document.Figures[0]).Length.Should().BeGreaterThan(20_000);
    }

    private static FairVariant Variant(string gear, double below) =>
        new(gear, new DropCase(gear, "let-run", SampleDrops.MediumLog.WithRiggingPoint(p => p with { BelowCut = below }), [], [], []));
}
