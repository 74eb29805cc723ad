using DropSim.Integration;
using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>A sketch of a drop, for a picture that is replaced at once, is near the drop and is no more than a sketch.</summary>
public sealed class SketchTests
{
    private static readonly RunOptions Sketch = new() { Detail = RunDetail.Sketch, ToleranceFactor = 30, Method = RungeKuttaMethod.DormandPrince54 };

    /// <summary>What the ends of steps show of a peak: steps are some milliseconds, a catch lasts a tenth of a second.</summary>
    private const double Near = 0.01;

    public static TheoryData<string> Drops => new("light log", "medium log", "medium log, locked off", "heavy log", "top");

    [Theory]
    [MemberData(nameof(Drops))]
    public void Its_headline_measures_are_near_those_of_the_drop(string name)
    {
        var drop = Drop(name);
        var whole = DropSimulator.Run(drop);

        var sketch = DropSimulator.Run(drop, Sketch);

        foreach (var measure in whole.Measures.Where(m => m.Headline || m.Id is MeasureIds.LoadLegTension or MeasureIds.GroundLegTension or MeasureIds.ClimberSpeed))
        {
            var of = sketch[measure.Id];
            of.State.Should().Be(measure.State, measure.Id);
            of.Value.Should().BeApproximately(measure.Value, (Near * Math.Abs(measure.Value)) + 1e-3, measure.Id);
        }

        // Rest is judged at a hundredth of the top's largest speed: on a stout stem a sketch's own errors may keep it awake.
        sketch.End.IsHeld.Should().Be(whole.End.IsHeld);
        if (name != "heavy log")
        {
            sketch.End.Kind.Should().Be(whole.End.Kind);
            sketch.Traces!.EndTime.Should().BeApproximately(whole.Traces!.EndTime, 0.05);
        }
    }

    [Fact]
    public void It_does_not_tell_what_follows_the_fastest_modes()
    {
        var sketch = DropSimulator.Run(SampleDrops.MediumLog, Sketch);

        var whole = DropSimulator.Run(SampleDrops.MediumLog);
        string[] withheld = [MeasureIds.ClimberAcceleration, MeasureIds.BaseMoment, MeasureIds.BaseMomentWithStrikes, MeasureIds.SparStress, MeasureIds.SparStressHeight, MeasureIds.WeakestLink];
        foreach (var measure in sketch.Measures)
        {
            (measure.State == MeasureState.Unknown).Should().Be(withheld.Contains(measure.Id) || whole[measure.Id].State == MeasureState.Unknown, measure.Id);
        }

        withheld.Select(id => sketch[id].Value).Should().OnlyContain(v => double.IsNaN(v));
    }

    [Fact]
    public void It_lacks_the_measures_that_need_the_whole_path_and_costs_less()
    {
        var whole = DropSimulator.Run(SampleDrops.MediumLog);

        var sketch = DropSimulator.Run(SampleDrops.MediumLog, Sketch);

        whole.Measures.Select(m => m.Id).Except(sketch.Measures.Select(m => m.Id)).Should()
            .BeEquivalentTo([MeasureIds.ClimberMtvv, MeasureIds.ClimberVdv, MeasureIds.LeastPossible, MeasureIds.PlanningForce]);
        sketch.Statistics.Evaluations.Should().BeLessThan(whole.Statistics.Evaluations * 3 / 4);
    }

    private static DropInput Drop(string name) => name switch
    {
        "light log" => SampleDrops.LightLog,
        "medium log" => SampleDrops.MediumLog,
        "medium log, locked off" => SampleDrops.MediumLog.HardStop(),
        "heavy log" => SampleDrops.HeavyLog,
        _ => SampleDrops.Top,
    };
}
