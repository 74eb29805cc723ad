using DropSim.Studies;

namespace DropSim.Tests.Studies;

public sealed class StudyRunsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    public void Results_stand_in_the_order_asked_for_on_any_number_of_threads(int threads)
    {
        var told = 0;

        // Later runs are quicker, so that they would overtake earlier ones.
        var runs = StudyRuns.Compute(40, (i, _) =>
        {
            Thread.SpinWait(20_000 * (40 - i));
            return i * i;
        }, threads, () => Interlocked.Increment(ref told));

        runs.CutShort.Should().BeFalse();
        runs.Done.Select(d => d.Result).Should().Equal(Enumerable.Range(0, 40).Select(i => i * i));
        told.Should().Be(40);
    }

    [Fact]
    public void A_cancelled_study_keeps_what_was_finished_and_says_that_it_is_cut_short()
    {
        using var cancel = new CancellationTokenSource();

        var runs = StudyRuns.Compute(1000, (i, token) =>
        {
            if (i == 20)
            {
                cancel.Cancel();
            }
            else if (i > 20)
            {
                // However late the thread that cancels gets its turn, the other does not run ahead of it.
                token.WaitHandle.WaitOne();
            }

            token.ThrowIfCancellationRequested();
            return i;
        }, 2, null, cancel.Token);

        // Runs are handed out in order: those before the one that cancelled are done, but for one that the other thread may have had in hand.
        runs.CutShort.Should().BeTrue();
        runs.Asked.Should().Be(1000);
        runs.Finished.Should().BeInRange(19, 20);
        runs.IsFinished(0).Should().BeTrue();
        runs.IsFinished(20).Should().BeFalse();
        runs.Done.Should().OnlyContain(d => d.Index == d.Result);
        FluentActions.Invoking(() => runs[999]).Should().Throw<InvalidOperationException>();
    }

    [Fact]
    public void A_study_that_was_cancelled_before_it_began_has_nothing_finished()
    {
        var runs = StudyRuns.Compute(5, (i, _) => i, 2, null, new CancellationToken(canceled: true));

        runs.Finished.Should().Be(0);
        runs.CutShort.Should().BeTrue();
    }

    [Fact]
    public void A_fault_of_a_run_comes_out_as_it_was_thrown()
    {
        var failing = () => StudyRuns.Compute<int>(5, (i, _) => throw new InvalidDataException("spoilt"), 2);

        // Exactly this type: not one that wraps others.
        Record.Exception(() => { failing(); }).Should().BeOfType<InvalidDataException>();
    }
}
