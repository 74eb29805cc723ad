using DropSim.Model;

namespace DropSim.Tests.Model;

/// <summary>A run that is asked for some measures tells these to the last bit, and no others.</summary>
public sealed class OnlyMeasuresTests
{
    public static TheoryData<string> EveryMeasure => [.. All(SampleDrops.MediumLog).Measures.Select(m => m.Id)];

    [Theory]
    [MemberData(nameof(EveryMeasure))]
    public void One_measure_alone_is_what_it_is_among_all(string id)
    {
        foreach (var drop in new[] { SampleDrops.MediumLog, SampleDrops.Top })
        {
            var some = DropSimulator.Run(drop, new RunOptions { Detail = RunDetail.MeasuresOnly, Only = [id] });

            (some[id] with { Unknown = [] }).Should().Be(All(drop)[id] with { Unknown = [] });
            some[id].Unknown.Should().Equal(All(drop)[id].Unknown);
            some.Measures.Where(m => m.Id != id).Should().OnlyContain(m => m.State == MeasureState.Unknown && double.IsNaN(m.Value) && m.Time == null);
        }
    }

    [Fact]
    public void The_drop_itself_does_not_hang_on_what_is_asked()
    {
        var all = All(SampleDrops.MediumLog);

        var some = DropSimulator.Run(SampleDrops.MediumLog, new RunOptions { Detail = RunDetail.MeasuresOnly, Only = [MeasureIds.RopeRun] });

        some.Events.Should().Equal(all.Events);
        some.Statistics.AcceptedSteps.Should().Be(all.Statistics.AcceptedSteps);
        some.Statistics.Evaluations.Should().BeLessThan(all.Statistics.Evaluations);
        some.Ledger.Should().BeEquivalentTo(all.Ledger);
    }

    [Fact]
    public void A_measure_that_needs_curves_comes_with_them()
    {
        var all = DropSimulator.Run(SampleDrops.MediumLog);

        var some = DropSimulator.Run(SampleDrops.MediumLog, new RunOptions { Only = [MeasureIds.ClimberMtvv] });

        some[MeasureIds.ClimberMtvv].Should().Be(all[MeasureIds.ClimberMtvv]);
        some[MeasureIds.ClimberVdv].State.Should().Be(MeasureState.Unknown);
    }

    private static readonly Dictionary<DropInput, DropRun> _runs = [];

    private static DropRun All(DropInput drop)
    {
        lock (_runs)
        {
            if (!_runs.TryGetValue(drop, out var run))
            {
                _runs[drop] = run = DropSimulator.Run(drop, new RunOptions { Detail = RunDetail.MeasuresOnly });
            }

            return run;
        }
    }
}
