using System.Text;
using DropSim.Model;
using DropSim.Scenarios;
using DropSim.Scenarios.Editing;

namespace DropSim.Tests.Scenarios;

public sealed class ScenarioEditorTests
{
    private const string TwoSetups = """
        # remark at the head
        [piece]
        kind = "log"
        length = "1.25 m"   # as measured
        butt-diameter = "0.40 m"
        density = { value = "900 kg/m3", low = "800 kg/m3", high = "1000 kg/m3" }

        [spar]
        height = "9 m"
        diameters = [ { at = "0 m", diameter = "0.55 m" }, { at = "9 m", diameter = "0.40 m" } ]

        [rigging-point]
        kind = "ring"

        [rope]
        construction = "polyester 16-strand"
        diameter = "14 mm"

        [[setup]]
        name = "near"

        [setup.rope]
        slack = "0 m"

        [[setup]]
        name = "far"
        [setup.rigging-point]
        below-cut = "1.2 m"
        """;

    [Fact]
    public void A_changed_value_takes_the_place_of_the_old_one_and_nothing_else_moves()
    {
        var text = Edited(TwoSetups, new ScenarioEdit(0, "piece.length", "2 m"));

        text.Should().Be(TwoSetups.Replace("\"1.25 m\"", "\"2 m\"", StringComparison.Ordinal));
        Cases(text).Should().OnlyContain(c => c.Input.Piece.Length == 2);
    }

    [Fact]
    public void A_value_that_a_set_up_overrides_is_changed_there_and_a_shared_one_for_all()
    {
        // Cases: near hard stop, near let run, far hard stop, far let run.
        var text = Edited(TwoSetups, new ScenarioEdit(1, "rope.slack", "0.3 m"), new ScenarioEdit(2, "rope.slack", "0.7 m"));

        Cases(text).Select(c => c.Input.Rope.Slack).Should().Equal(0.3, 0.3, 0.7, 0.7);
        text.Should().Contain("diameter = \"14 mm\"\nslack = \"0.7 m\"\n");
    }

    [Fact]
    public void A_change_for_one_set_up_only_opens_its_table_where_there_is_none()
    {
        var text = Edited(TwoSetups, new ScenarioEdit(0, "rigging-point.kind", "block", SetupOnly: true));

        Cases(text).Select(c => c.Input.RiggingPoint.Kind)
            .Should().Equal(RiggingPointKind.Block, RiggingPointKind.Block, RiggingPointKind.Ring, RiggingPointKind.Ring);
    }

    [Fact]
    public void Girth_replaces_diameter_because_both_say_the_same()
    {
        var text = Edited(TwoSetups, new ScenarioEdit(0, "piece.butt-girth", "157.08 cm"));

        text.Should().NotContain("butt-diameter");
        Cases(text)[0].Input.Piece.ButtDiameter.Should().BeApproximately(0.5, 1e-5, "157.08 cm / pi = 50.0 cm");
    }

    [Fact]
    public void A_range_moves_along_with_its_value()
    {
        var text = Edited(TwoSetups, new ScenarioEdit(0, "piece.density", "950 kg/m3"));

        text.Should().Contain("density = { value = \"950 kg/m3\", low = \"850 kg/m3\", high = \"1050 kg/m3\" }");
        Cases(text).Should().NotBeEmpty();
    }

    [Fact]
    public void The_two_usual_catches_are_written_out_when_one_of_them_changes()
    {
        var text = Edited(TwoSetups, new ScenarioEdit(1, "catch.grip", "300 N"));

        Cases(text).Select(c => c.CatchName).Should().Equal("hard-stop", "let-run", "hard-stop", "let-run");
        Cases(text).Where(c => c.CatchName == "let-run").Should().OnlyContain(c => c.Input.Catch.GripForce == 300);
        Cases(text)[0].Input.Catch.GripForce.Should().Be(250, "the default of the other catch");
    }

    [Fact]
    public void The_braking_plan_scales_with_its_last_point_and_the_spar_with_its_girth_at_the_foot()
    {
        // Default plan: 30 N to 0.5 m, 250 N at 2 m.
        var text = Edited(TwoSetups, new ScenarioEdit(1, ScenarioEditor.BrakeRun, "4 m"), new ScenarioEdit(1, ScenarioEditor.BrakeForce, "100 N"), new ScenarioEdit(0, ScenarioEditor.BaseGirth, "0.864 m"));

        Cases(text)[1].Input.Catch.Brake.Should().Equal(new BrakePoint(0, 30), new BrakePoint(1, 30), new BrakePoint(4, 100));

        // 0.864 m / pi = 0.275 m, half of 0.55 m.
        Cases(text)[0].Input.Spar.Diameters[1].Diameter.Should().BeApproximately(0.20, 1e-4);
    }

    [Fact]
    public void A_value_taken_back_leaves_the_default_and_the_text_as_it_was()
    {
        var there = Edited(TwoSetups, new ScenarioEdit(0, "spar.climber-mass", "60 kg"));
        var back = Edited(there, new ScenarioEdit(0, "spar.climber-mass", null));

        Cases(there)[0].Input.Spar.ClimberMass.Should().Be(60);
        back.Should().Be(TwoSetups);
    }

    [Theory]
    [InlineData("</script><script>alert(1)</script>")]
    [InlineData("ash\"\nheight = \"1 m")]
    [InlineData("a\\b")]
    public void What_a_person_types_stays_one_value(string typed)
    {
        var text = Edited(TwoSetups, new ScenarioEdit(0, "piece.species", typed));

        // Both set-ups read the one value of the base table, and nothing else of the text has changed its meaning.
        var problems = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml").Problems;
        problems.Select(p => p.Path).Should().Equal("set-up near: piece.species", "set-up far: piece.species");
        problems.Select(p => p.Line).Distinct().Should().ContainSingle();
    }

    [Fact]
    public void Every_input_of_every_shipped_scenario_can_be_set_to_the_value_it_has_without_a_change_of_the_drop()
    {
        foreach (var file in Directory.EnumerateFiles(Repository.Folder("scenarios"), "*.toml"))
        {
            var text = File.ReadAllText(file);
            var scenario = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), Path.GetFileName(file)).Scenario!;
            for (var i = 0; i < scenario.Cases.Count; i++)
            {
                foreach (var note in scenario.Cases[i].Notes.Where(n => n.Given && n.Path is "rope.slack" or "piece.length" or "device.wraps" or "spar.height" or "rope.diameter" or "catch.grip"))
                {
                    var edited = Edited(text, new ScenarioEdit(i, note.Path, note.Value));
                    var again = ScenarioReader.Read(Encoding.UTF8.GetBytes(edited), Path.GetFileName(file));
                    again.Problems.Should().BeEmpty($"{file} {note.Path} = {note.Value}");
                    again.Scenario!.Cases[i].Notes.Single(n => n.Path == note.Path).Value.Should().Be(note.Value);
                }
            }
        }
    }

    private static string Edited(string text, params ScenarioEdit[] edits) => ScenarioEditor.Apply(text, "x.toml", edits);

    private static IReadOnlyList<DropCase> Cases(string text)
    {
        var read = ScenarioReader.Read(Encoding.UTF8.GetBytes(text), "x.toml");
        read.Problems.Should().BeEmpty();
        return read.Scenario!.Cases;
    }
}
