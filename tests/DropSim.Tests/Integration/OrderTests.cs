using DropSim.Integration;

namespace DropSim.Tests.Integration;

/// <summary>
/// Orders measured on y1' = y1 y2, y2' = -y1^2 with y(0) = (1, 0), whose solution is y1 = sech t, y2 = -tanh t.
/// One step from t = 0.3, halved (the lower order with shorter steps, so that its next term is small): the error of a step of order p falls by 2^(p+1).
/// </summary>
public class OrderTests
{
    private const double Start = 0.3;

    [Theory]
    [InlineData(Methods.Verner, 7, 0.4)]
    [InlineData(Methods.DormandPrince, 5, 0.1)]
    public void One_step_has_the_published_order(string name, int order, double h)
    {
        double ratio = Math.Log2(StepError(name, h) / StepError(name, h / 2));
        ratio.Should().BeInRange(order + 0.6, order + 1.8, "the local error falls as h^{0}", order + 1);
    }

    [Theory]
    [InlineData(Methods.Verner, 7)]
    [InlineData(Methods.DormandPrince, 4)]
    public void The_interpolant_has_its_published_order(string name, int order)
    {
        double ratio = Math.Log2(DenseError(name, 0.5) / DenseError(name, 0.25));
        ratio.Should().BeInRange(order + 0.6, order + 1.8, "the local error falls as h^{0}", order + 1);
    }

    private static double StepError(string name, double h)
    {
        (Stepper stepper, _) = OneStep(name, h);
        return Error(stepper.EndState, Start + h);
    }

    private static double DenseError(string name, double h)
    {
        (Stepper stepper, SolverStep step) = OneStep(name, h);
        double[] y = new double[2];
        double worst = 0;
        for (int i = 1; i < 20; i++)
        {
            double time = stepper.Time + (h * i / 20);
            step.Interpolate(time, y);
            worst = Math.Max(worst, Error(y, time));
        }

        return worst;
    }

    private static (Stepper Stepper, SolverStep Step) OneStep(string name, double h)
    {
        var evaluator = new Evaluator(new SmoothSystem(2, (_, y, f) =>
        {
            f[0] = y[0] * y[1];
            f[1] = -y[0] * y[0];
        }));
        var stepper = new Stepper(evaluator, Methods.Named(name), 1e-6);
        stepper.StartState[0] = 1 / Math.Cosh(Start);
        stepper.StartState[1] = -Math.Tanh(Start);
        stepper.Restart(Start);
        stepper.Try(Start + h);
        stepper.CompleteEnd();
        var step = new SolverStep(stepper, 2);
        step.Load();
        return (stepper, step);
    }

    private static double Error(ReadOnlySpan<double> y, double time) =>
        Math.Max(Math.Abs(y[0] - (1 / Math.Cosh(time))), Math.Abs(y[1] + Math.Tanh(time)));
}
