using System.Diagnostics;
using System.Numerics;
using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>Small parts of the engine against arithmetic that can be done by hand.</summary>
public sealed class PartsTests
{
    private const double Largest = 2;

    /// <summary>0.9 h error^(-0.9/q) before^(0.2/q), at most five times and at least a fifth of the last step; q = 7 for an error of order 6.</summary>
    [Theory]
    [InlineData(1.0, 0.9)]
    [InlineData(0.5, 0.98389)]
    [InlineData(1e-3, 2.187544)]
    [InlineData(1e-6, 5.0)]
    [InlineData(1e-9, 5.0)]
    [InlineData(0.0, 5.0)]
    public void An_accepted_step_is_followed_by_what_its_error_asks_for_within_limits(double error, double factor)
    {
        // With an error of 1 before: 0.9 x 0.5^(-0.9/7) = 0.98389; 0.9 x 1000^(0.9/7) = 2.187544; 0.9 x (1e6)^(0.9/7) = 5.3: five.
        StepControl control = Control(0.1);
        control.Accepted(0.1, error);
        control.Step.Should().BeApproximately(0.1 * factor, 1e-6);
    }

    [Theory]
    [InlineData(0.5, 0.964596)]
    [InlineData(0.25, 0.945681)]
    [InlineData(1e-9, 0.756242)]
    [InlineData(0.0, 0.756242)]
    public void A_step_whose_error_grew_is_followed_by_a_shorter_one(double before, double factor)
    {
        // 0.98389 x 0.5^(0.2/7) = 0.964596; an error before below 1e-4 counts as that: 0.98389 x (1e-4)^(0.2/7) = 0.756242.
        StepControl control = Control(0.1);
        control.Accepted(0.1, before);
        control.Accepted(0.1, 0.5);
        control.Step.Should().BeApproximately(0.1 * factor, 1e-6);
        control.Event(0.1);
        control.Accepted(0.1, 0.5);
        control.Step.Should().BeApproximately(0.1 * 0.98389, 1e-6, "an event forgets what was before");
        control.Start(0.1);
        control.Accepted(0.1, 0.5);
        control.Step.Should().BeApproximately(0.1 * 0.98389, 1e-6);
    }

    /// <summary>
    /// Near the bound of stability an error grows far more steeply with the step than the order says: here with its 14th power, where the
    /// control counts with the 7th. By the error alone one step of three would be rejected, without end.
    /// </summary>
    [Fact]
    public void Where_an_error_grows_steeply_with_the_step_few_steps_are_rejected()
    {
        StepControl control = Control(0.5);
        int rejected = 0;
        for (int step = 0; step < 300; step++)
        {
            double width = control.Step;
            double error = Math.Pow(width, 14);
            if (error > 1)
            {
                rejected++;
                control.Rejected(width, error);
            }
            else
            {
                control.Accepted(width, error);
            }
        }

        rejected.Should().BeLessThanOrEqualTo(30, "the same arithmetic by hand gives 26, and 100 without the error before");
    }

    [Theory]
    [InlineData(2.0, 0.81515)]
    [InlineData(1e3, 0.33548)]
    [InlineData(1e6, 0.2)]
    public void A_rejected_step_is_shortened_by_its_error_to_a_fifth_at_least(double error, double factor)
    {
        // 0.9 x 2^(-1/7) = 0.815146; 0.9 x 1000^(-1/7) = 0.335483; 0.9 x (1e6)^(-1/7) = 0.125: a fifth.
        StepControl control = Control(1);
        control.Rejected(1, error);
        control.Step.Should().BeApproximately(factor, 2e-5);
    }

    [Fact]
    public void The_step_after_a_rejection_does_not_grow_and_the_one_after_that_may()
    {
        StepControl control = Control(0.1);
        control.Rejected(0.1, 1e6);
        control.Accepted(0.02, 0);
        control.Step.Should().Be(0.02);
        control.Accepted(0.02, 0);
        control.Step.Should().BeApproximately(0.1, 1e-15, "five times");

        control.NotFinite(0.1);
        control.Step.Should().Be(0.025, "nothing is known but that it was too far: a quarter");
        control.Accepted(0.025, 0);
        control.Step.Should().Be(0.025);

        control.Rejected(0.1, 4);
        control.Event(0.1);
        control.Step.Should().BeApproximately(0.07, 1e-15, "seven tenths of the last step after an event");
        control.Accepted(0.05, 0);
        control.Step.Should().BeApproximately(0.25, 1e-15);

        control.Rejected(0.1, 4);
        control.Start(0.1);
        control.Accepted(0.1, 0);
        control.Step.Should().BeApproximately(0.5, 1e-15);
    }

    [Fact]
    public void No_step_is_larger_than_the_largest()
    {
        StepControl control = Control(7);
        control.Step.Should().Be(Largest);
        control.Accepted(1, 0);
        control.Step.Should().Be(Largest);
        control.Event(6);
        control.Step.Should().Be(Largest);
        control.Accepted(0.1, 1e-9);
        control.Step.Should().BeApproximately(0.5, 1e-15);
    }

    [Fact]
    public void Twelve_events_in_an_instant_are_too_many_and_time_that_passes_starts_the_count_anew()
    {
        var counter = new ZeroTimeCounter();
        counter.Begin();
        for (int n = 1; n < ZeroTimeCounter.EventLimit; n++)
        {
            counter.Count(3).Should().BeFalse();
        }

        counter.Count(3).Should().BeTrue();
        counter.Count(3 + 2e-10).Should().BeFalse("2e-10 s is another instant");
        for (int n = 2; n < ZeroTimeCounter.EventLimit; n++)
        {
            counter.Count(3 + 2e-10 + (n * 5e-12)).Should().BeFalse();
        }

        counter.Count(3 + 3e-10).Should().BeTrue("events 5e-12 s apart are one instant");
        counter.Begin();
        counter.Count(3).Should().BeFalse("a new run remembers nothing");
    }

    [Fact]
    public void A_phaseless_form_may_take_over_three_times_in_an_instant()
    {
        var counter = new ZeroTimeCounter();
        counter.Begin();
        counter.Count(1);
        for (int n = 0; n < ZeroTimeCounter.SpellLimit; n++)
        {
            counter.BeginSpell().Should().BeTrue();
        }

        counter.BeginSpell().Should().BeFalse();
        counter.Count(1);
        counter.BeginSpell().Should().BeFalse("no time has passed");
        counter.Count(2);
        counter.BeginSpell().Should().BeTrue();
        counter.Begin();
        counter.Count(2);
        counter.BeginSpell().Should().BeTrue();
        counter.BeginSpell().Should().BeTrue();
        counter.BeginSpell().Should().BeTrue();
        counter.BeginSpell().Should().BeFalse();
    }

    [Fact]
    public void A_spell_begins_the_count_of_events_anew()
    {
        var counter = new ZeroTimeCounter();
        counter.Begin();
        for (int n = 0; n < 11; n++)
        {
            counter.Count(0).Should().BeFalse();
        }

        counter.BeginSpell().Should().BeTrue();
        for (int n = 0; n < 11; n++)
        {
            counter.Count(0).Should().BeFalse();
        }

        counter.Count(0).Should().BeTrue();
    }

    /// <summary>3 (x - 2)^2 - 5 seen at three places.</summary>
    [Theory]
    [InlineData(0.0, 1.0, 5.0)]
    [InlineData(1.5, 1.9, 2.1)]
    [InlineData(-4.0, 3.0, 3.5)]
    public void The_lowest_point_of_a_parabola_is_found_from_any_three_of_its_points(double x0, double x1, double x2)
    {
        static double Value(double x) => (3 * (x - 2) * (x - 2)) - 5;
        Parabola.Lowest(x0, Value(x0), x1, Value(x1), x2, Value(x2), out double at, out double value).Should().BeTrue();
        at.Should().BeApproximately(2, 1e-12);
        value.Should().BeApproximately(-5, 1e-12);
    }

    [Fact]
    public void There_is_no_lowest_point_outside_the_points_nor_on_a_line_nor_of_a_parabola_that_opens_downward()
    {
        Parabola.Lowest(3, 1, 4, 4, 5, 9, out _, out _).Should().BeFalse("(x - 2)^2 beyond its foot");
        Parabola.Lowest(-3, 25, -2, 16, -1, 9, out _, out _).Should().BeFalse("(x - 2)^2 before its foot");
        Parabola.Lowest(2, 0, 3, 1, 4, 4, out _, out _).Should().BeFalse("(x - 2)^2 from its foot on: not strictly between");
        Parabola.Lowest(0, 4, 1, 1, 2, 0, out _, out _).Should().BeFalse("(x - 2)^2 up to its foot");
        Parabola.Lowest(0, 0, 1, 1, 2, 2, out _, out _).Should().BeFalse("a line");
        Parabola.Lowest(1, -1, 2, 0, 3, -1, out _, out _).Should().BeFalse("-(x - 2)^2");
        Parabola.Lowest(0, double.PositiveInfinity, 1, 0, 2, 1, out _, out _).Should().BeFalse("an unused guard");
    }

    [Theory]
    [InlineData(0.5, -1.0, 0.0, 0.5, 1.0)]
    [InlineData(0.5, 0.2, 0.5, 1.0, 2.0)]
    [InlineData(1.5, -1.0, 1.0, 1.5, 2.0)]
    [InlineData(1.5, 0.2, 0.0, 1.0, 1.5)]
    [InlineData(0.5, 0.0, 0.0, 0.5, 1.0)]
    public void A_new_point_narrows_three_points_round_the_lowest(double at, double g, double left, double middle, double right)
    {
        (double x0, double x1, double x2) = (0, 1, 2);
        (double g0, double g1, double g2) = (3, 0, 4);
        var values = new Dictionary<double, double> { [0] = 3, [1] = 0, [2] = 4, [at] = g };
        Parabola.Narrow(at, g, ref x0, ref g0, ref x1, ref g1, ref x2, ref g2);
        (x0, x1, x2).Should().Be((left, middle, right));
        (g0, g1, g2).Should().Be((values[left], values[middle], values[right]));
    }

    /// <summary>Element i of the polynomial sum_p (i + p + 1) theta^p, for lengths that fill the machine's vectors and that do not.</summary>
    [Fact]
    public void A_vector_polynomial_has_the_values_of_its_elements_polynomials()
    {
        const int Degree = 4;
        const double Theta = 0.3;
        for (int length = 1; length <= (2 * Vector<double>.Count) + 1; length++)
        {
            int stride = length + 2;
            double[] coefficients = new double[(Degree + 1) * stride];
            for (int k = 0; k < coefficients.Length; k++)
            {
                coefficients[k] = (k % stride) + (k / stride) + 1;
            }

            double[] result = new double[length];
            StepPolynomial.Evaluate(coefficients, stride, Degree, Theta, result);
            for (int i = 0; i < length; i++)
            {
                result[i].Should().BeApproximately(Enumerable.Range(0, Degree + 1).Sum(p => (i + p + 1) * Math.Pow(Theta, p)), 1e-14);
            }
        }
    }

    [Fact]
    public void A_vector_polynomial_reads_no_farther_than_its_coefficients_go()
    {
        double[] coefficients = new double[15];
        double[] four = new double[4];
        double[] three = new double[3];
        FluentActions.Invoking(() => StepPolynomial.Evaluate(coefficients, 3, 4, 0.5, three)).Should().NotThrow();
        FluentActions.Invoking(() => StepPolynomial.Evaluate(coefficients, 3, 5, 0.5, three)).Should().Throw<ArgumentOutOfRangeException>();
        FluentActions.Invoking(() => StepPolynomial.Evaluate(coefficients, 3, 4, 0.5, four)).Should().Throw<ArgumentOutOfRangeException>();
    }

    /// <summary>origin + h (2 k0 - 3 k2 + 0.5 k3), the stage of weight 0 left out: whole numbers, so exact.</summary>
    [Fact]
    public void A_weighted_sum_is_the_sum_of_its_stages_by_weight()
    {
        var sum = new WeightedSum([2, 0, -3, 0.5]);
        foreach (int blocks in new[] { 1, 2, 3 })
        {
            int stride = blocks * WeightedSum.Block;
            double[] stages = [.. Enumerable.Range(0, 4 * stride).Select(k => (double)((k * 7 % 31) - 11))];
            double[] origin = [.. Enumerable.Range(0, stride).Select(k => 100.0 + k)];
            Array.Fill(stages, double.NaN, stride, stride);
            double[] from = new double[stride];
            double[] times = new double[stride];
            sum.From(origin, stages, 0.25, from);
            sum.Times(0.25, stages, times);
            for (int i = 0; i < stride; i++)
            {
                double expected = 0.25 * ((2 * stages[i]) - (3 * stages[(2 * stride) + i]) + (0.5 * stages[(3 * stride) + i]));
                times[i].Should().Be(expected);
                from[i].Should().Be(origin[i] + expected);
            }
        }
    }

    [Fact]
    public void A_weighted_sum_refuses_vectors_that_it_would_read_beyond()
    {
        var sum = new WeightedSum([1, 0, 1]);
        int block = WeightedSum.Block;
        double[] padded = new double[block];
        FluentActions.Invoking(() => sum.From(padded, new double[3 * block], 1, padded)).Should().NotThrow();
        FluentActions.Invoking(() => sum.From(padded, new double[(3 * block) - 1], 1, padded)).Should().Throw<UnreachableException>();
        FluentActions.Invoking(() => sum.Times(1, new double[(3 * block) - 1], padded)).Should().Throw<UnreachableException>();
        FluentActions.Invoking(() => sum.From(new double[block - 1], new double[3 * block], 1, padded)).Should().Throw<UnreachableException>();
        FluentActions.Invoking(() => sum.Times(1, new double[3 * block], new double[block - 1])).Should().Throw<UnreachableException>();
        FluentActions.Invoking(() => new WeightedSum([0, 0]).Times(1, [], padded)).Should().NotThrow("nothing to read");
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    public void A_length_is_padded_up_to_whole_blocks(int count, int blocks)
    {
        WeightedSum.Padded(count).Should().Be(blocks * WeightedSum.Block);
        WeightedSum.Padded(WeightedSum.Block + count).Should().Be((1 + blocks) * WeightedSum.Block);
        WeightedSum.Padded((2 * WeightedSum.Block) - count).Should().Be(2 * WeightedSum.Block);
    }

    private static StepControl Control(double start)
    {
        var control = new StepControl(Largest, 6);
        control.Start(start);
        return control;
    }
}
