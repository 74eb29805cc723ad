using DropSim.Drawing;
using DropSim.Model;
using DropSim.Reporting;
using DropSim.Reporting.Dismantle;
using DropSim.Studies;

namespace DropSim.Tests.Dismantle;

/// <summary>What is hit is a fact of the run and comes first; no force of such a drop is a number that looks small.</summary>
public sealed class PlanReachTests
{
    private static readonly ReportOptions Options = new() { ProgramVersion = "1.2.3" };

    /// <summary>The straight stem beside a roof so near and high that its lowest pieces meet it, and a second thing whose name holds the first's.</summary>
    private static readonly Lazy<DismantleResult> Roof = new(() => Central(SparFiles.Straight + """
        [[obstacle]]
        name = "shed"
        x-from = "30 m"
        x-to = "33 m"
        z-to = "2 m"

        [[obstacle]]
        name = "shed roof"
        x-from = "0.7 m"
        x-to = "4 m"
        z-to = "4.4 m"
        """));

    /// <summary>The planned drops alone: ranges add nothing here but time.</summary>
    private static DismantleResult Central(string text)
    {
        var plan = SparFiles.Plan(text);
        var cuts = plan.Cuts.Select(c => c with { Cases = [.. c.Cases.Select(k => k with { Ranges = [] })] }).ToArray();
        return new(plan.Name, plan.Title, plan.Description, plan.SourceHash, plan.Rule, plan.Profile, DismantleStudy.Compute(cuts, 2).Cuts, cuts.Length);
    }

    private static RunEnd End(EndKind kind, double speed = 5, bool cutsShort = true, TouchedObstacle? obstacle = null) => new(kind, 1, speed, cutsShort) { Obstacle = obstacle };

    [Fact]
    public void A_piece_that_meets_the_roof_is_told_with_the_thing_it_met_not_with_one_of_a_like_name()
    {
        var reach = Roof.Value.Reach;

        var hits = reach.SelectMany(c => c.Catches).Where(c => c.AsPlanned?.Kind == EndKind.Obstacle).ToArray();
        hits.Should().NotBeEmpty();
        hits.Should().OnlyContain(h => h.AsPlanned!.Obstacle!.Index == 1 && h.AsPlanned.Obstacle.Name == "shed roof");
        ReachWords.Headline(reach)[0].Should().StartWith("Cut").And.Contain("the shed roof");
    }

    [Fact]
    public void A_hit_comes_first_on_sheet_screen_table_and_pictures()
    {
        var words = new DismantleWords(Roof.Value, Options);
        var document = DismantleDocument.Build(Roof.Value, Options, []);

        document.Findings[0].Should().Contain("the shed roof");
        document.Screens[0].Rows.Should().Contain(r => r[1].Contains("hits the shed roof at ", StringComparison.Ordinal));
        document.Figures.Should().OnlyContain(f => f.Title.StartsWith("Cut", StringComparison.Ordinal) && f.Title.Contains("the shed roof", StringComparison.Ordinal));
        document.Figures.Should().OnlyContain(f => f.Panels[1].Texts.Any(t => t.Words.Contains("hits the shed roof", StringComparison.Ordinal)));
        CrewSheetText.Build(Roof.Value, Options).Headline[0].Should().Contain("the shed roof");
        var columns = document.Tables[0].Columns.Select(c => c.Name).ToList();
        columns.IndexOf("reaches").Should().Be(3);
        document.Tables[0].Rows.Should().Contain(r => r[3].Word == "obstacle" && r[4].Word == "shed roof");
        words.Sweep.Farthest.Should().BeGreaterThan(0.5);
        document.Figures.Should().OnlyContain(f => FigureRenderer.Png(f).Length > 20_000);
    }

    [Fact]
    public void No_force_of_a_drop_that_hit_too_soon_is_a_number()
    {
        var result = Roof.Value;
        var words = new DismantleWords(result, Options);
        var sheet = CrewSheetText.Build(result, Options);
        var document = DismantleDocument.Build(result, Options, []);
        var force = document.Tables[0].Columns.ToList().FindIndex(c => c.Name == "rigging_point_force_N");
        var seen = 0;
        foreach (var (i, cut) in result.Cuts.Index())
        {
            for (var k = 0; k < cut.Cases.Count; k++)
            {
                if (!cut.Cases[k].Run.End.CutsShort)
                {
                    continue;
                }

                seen++;
                sheet.Tables.Last().Rows[i].Cells[3 + k].Should().Be(ReachWords.ForceUnknown);
                DismantleTable.Catch(words, k).Rows[i].Skip(1).Should().NotContain(c => c.StartsWith("at least", StringComparison.Ordinal));
                double.IsNaN(document.Tables[0].Rows[(i * cut.Cases.Count) + k][force].Number).Should().BeTrue();
            }
        }

        seen.Should().BePositive();
    }

    [Fact]
    public void Words_come_from_facts_whatever_computed_them()
    {
        var (roof, pond) = (new TouchedObstacle(0, "shed roof"), new TouchedObstacle(1, "the pond"));
        var both = new CutReach(8, PieceKind.Log, [PlanReach.Of("hard-stop", End(EndKind.Obstacle, 9.1, true, roof), []), PlanReach.Of("let-run", End(EndKind.Obstacle, 15, true, roof), [])]);
        var one = new CutReach(9, PieceKind.Log,
        [
            PlanReach.Of("hard-stop", End(EndKind.Settled, 0, false), [End(EndKind.RopeBroke), End(EndKind.Settled, 0, false)]),
            PlanReach.Of("let-run", End(EndKind.Ground, 0.4, false), [End(EndKind.Ground, 7), End(EndKind.Obstacle, 3, true, pond), End(EndKind.Obstacle, 4, true, pond)]),
        ]);
        var held = new CutReach(1, PieceKind.Top, [PlanReach.Of("hard-stop", End(EndKind.EndTime, 0.1, false), [End(EndKind.Settled, 0, false)])]);

        ReachWords.Lines([held, both, one], UnitSystem.Si).Should().Equal(
            "log 8: hits the shed roof at up to 15 m/s, both catches",
            "log 9: touches the ground at 0.40 m/s (let run); can break the rope (hard stop); can reach the pond at up to 4.0 m/s (let run)");
        ReachWords.Cut(held, UnitSystem.Si).Should().Be(ReachWords.Nothing);
        ReachWords.Headline([held, both, one]).Should().Equal(
            "Cut 8 reaches the shed roof.", "Cut 9 reaches the ground.", "Cut 9 can reach the pond, with other values than planned.", "Cut 9 can break the rope, with other values than planned.");
        ReachWords.Headline([both, both with { Number = 9 }])[0].Should().Be("Cuts 8 and 9 reach the shed roof.");
        one.Catches[1].ForcesUnknown.Should().BeFalse("it was set down gently after the rope had borne it");
        ReachWords.Cuts([1, 3, 4, 5, 9]).Should().Be("Cuts 1, 3 to 5 and 9");
    }

    [Fact]
    public void In_feet_and_pounds_the_sheet_has_no_metre_and_no_kilogram()
    {
        var sheet = CrewSheetText.Build(Roof.Value, Options with { Units = UnitSystem.Us });

        var words = string.Join("\n", [.. sheet.Headline, .. sheet.Tables.SelectMany(t => t.Columns.Select(c => c.Heading).Concat(t.Rows.SelectMany(r => r.Cells))), .. sheet.Parts.OfType<SheetSketch>().SelectMany(s => s.Words.Select(w => w.Words))]);
        words.Should().Contain("ft").And.Contain("lb").And.Contain("ft/s");
        words.Should().NotMatchRegex(@"\b(m|kg|kN|mm|m/s)\b");
    }

    [Fact]
    public void Where_a_piece_goes_is_read_off_its_outline()
    {
        var sweep = new PieceSweep();
        var run = Roof.Value.Cuts[0].Cases[0].Run;
        sweep.Add(run);

        var scene = run.Traces!.SceneAt(run.End.Time);
        sweep.Farthest.Should().BeGreaterThanOrEqualTo(scene.Piece.Max(p => p.X) - 0.05);
        sweep.Layers.Min(l => l.Height).Should().BeLessThanOrEqualTo(scene.Piece.Min(p => p.Z) + PieceSweep.Layer);
    }
}
