using DropSim.Model;
using MathNet.Numerics.Integration;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// The hand. A piece that falls straight, no friction above the device, rope of EA and natural length L0 at the start. While rope runs the pull is
/// T = rho_d T3 whatever moves, the stretch is e = T/EA, and the length between the ends d = (1 + e)(L0 + s), s the rope run.
/// </summary>
internal static class HandCases
{
    private const string Page = "theory/hand.md";
    private const double Light = 100, Rate = 1500;

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-601", Page = Page, What = "Whole program: rope run of a hand whose force rises at a constant rate from the moment the device runs, viscous time to zero",
            Formula = "m x'' = m g - rho_d (light + R t): v(t) = v1 + (g - rho_d light/m) t - rho_d R t^2/(2 m); rope stops where d'(1 + e) = d e'; run = d/(1 + e) - L0",
            Source = "Derived here (remark of `HandCases`)", Unit = "m", Relative = 1e-5, Why = "from viscous times 0.2 and 0.1 ms to zero along a straight line",
            Compute = () => new[] { 800.0, Rate, 3000 }.Select(r => new VerificationPoint(Say.Number("R = ", r, " N/s"), RisingRun(r), FrictionDeviceCases.WithoutViscosity(tau => Rising(tau, r)[MeasureIds.RopeRun].Value))),
        },
        new()
        {
            Id = "V-602", Page = Page, What = "Whole program: rope run of a hand that pulls harder the more rope has run, viscous time to zero",
            Formula = "T(s) = rho_d (a + b s), d(s) = (1 + T/EA)(L0 + s): m v1^2/2 + integral of (m g - T) d'(s) ds = 0 over the run", Source = "Derived here: energy", Unit = "m", Relative = 1e-5, Why = "as V-601",
            Compute = () => new[] { 100.0, 300, 1000 }.Select(b => new VerificationPoint(Say.Number("b = ", b, " N/m"), PlannedRun(b), FrictionDeviceCases.WithoutViscosity(tau => Planned(tau, b)[MeasureIds.RopeRun].Value))),
        },
        new()
        {
            Id = "V-603", Page = Page, What = "Whole program: largest hand force reported in V-602", Formula = "a + b s at the end of the run", Source = "The plan itself", Unit = "N", Relative = 1e-5, Why = "as V-601",
            Compute = () => new[] { 100.0, 300 }.Select(b => new VerificationPoint(Say.Number("b = ", b, " N/m"), Light + (b * PlannedRun(b)), FrictionDeviceCases.WithoutViscosity(tau => Planned(tau, b)[MeasureIds.HandForce].Value))),
        },
        new()
        {
            Id = "V-604", Page = Page, What = "Whole program: what a hand would have had to hold in a hard stop over a ring with friction", Formula = "T1/(rho_r rho_d) at the peak, rho_r = exp(mu pi), rho_d = exp(2 pi N mu_d), T1 as computed", Source = "Euler-Eytelwein, twice (by name)", Unit = "N", Relative = 1e-7, Why = "the push leaves the piece some 1e-7 m off the plumb line, and the wrap 1e-7 rad off half a turn",
            Compute = () => new[] { 0.1, 0.3 }.Select(mu =>
            {
                var run = Fall(1e-4) with { Friction = mu };
                var drop = run.Run();
                return new VerificationPoint(Say.Number("ring mu = ", mu), drop[MeasureIds.LoadLegTension].Value / Math.Exp(mu * Math.PI) / FrictionDeviceCases.Pull(1), drop[MeasureIds.HandForce].Value);
            }),
        },
    ];

    private static StraightFall Fall(double viscousTime) => FrictionDeviceCases.Fall(viscousTime, 0);

    private static DropRun Rising(double viscousTime, double rate) => (Fall(viscousTime) with
    {
        Catch = new() { Kind = CatchKind.LetRun, LightForce = Light, GripForce = 1e6, Brake = [new(0, 1e6)], ForceRate = rate, Cue = Cue.DeviceRuns },
    }).Run();

    private static DropRun Planned(double viscousTime, double slope) => (Fall(viscousTime) with
    {
        Catch = new() { Kind = CatchKind.LetRun, LightForce = Light, GripForce = 1e6, ForceRate = 1e7, Brake = [new(0, Light), new(100, Light + (100 * slope))] },
    }).Run();

    /// <summary>Square of the speed at which the rope, stretched to the light hand's pull, begins to run.</summary>
    private static double SpeedSquared(StraightFall fall)
    {
        var force = FrictionDeviceCases.Pull(Light);
        var k = fall.Stiffness / fall.RopeLength;
        return (fall.Speed * fall.Speed) + (2 * fall.Gravity * force / k) - (force * force / (k * fall.Mass));
    }

    private static double RisingRun(double rate)
    {
        var fall = Fall(0);
        var ratio = FrictionDeviceCases.Pull(1);
        var v1 = Math.Sqrt(SpeedSquared(fall));
        double Strain(double t) => ratio * (Light + (rate * t)) / fall.Stiffness;
        double Speed(double t) => v1 + ((fall.Gravity - (ratio * Light / fall.Mass)) * t) - (ratio * rate * t * t / (2 * fall.Mass));
        double Length(double t) => (fall.RopeLength * (1 + Strain(0))) + (v1 * t)
            + ((fall.Gravity - (ratio * Light / fall.Mass)) * t * t / 2) - (ratio * rate * t * t * t / (6 * fall.Mass));
        var strainRate = ratio * rate / fall.Stiffness;
        var stop = Bisection.Root(t => (Speed(t) * (1 + Strain(t))) - (Length(t) * strainRate), 0, 3);
        return (Length(stop) / (1 + Strain(stop))) - fall.RopeLength;
    }

    private static double PlannedRun(double slope)
    {
        var fall = Fall(0);
        var ratio = FrictionDeviceCases.Pull(1);
        double Pull(double s) => ratio * (Light + (slope * s));
        double LengthPerRun(double s) => 1 + (Pull(s) / fall.Stiffness) + (ratio * slope / fall.Stiffness * (fall.RopeLength + s));
        double Energy(double s) => (fall.Mass * SpeedSquared(fall) / 2)
            + GaussLegendreRule.Integrate(r => (fall.Weight - Pull(r)) * LengthPerRun(r), 0, s, 8);
        return Bisection.Root(Energy, 0.1, 60);
    }
}
