using DropSim.Model;

namespace DropSim.Validation.ClosedForm;

/// <summary>
/// The friction device. A piece that falls straight and draws rope through it at a constant pull F (no friction above) is first
/// caught by the rope's stretch, x_F = F/k with v1^2 = v0^2 + 2 g x_F - k x_F^2/m, and then stops under F - m g over
/// s = m v1^2 / (2 (F - m g)); the rope that passes is stretched by F/EA, so that its own length is s / (1 + F/EA).
/// </summary>
internal static class FrictionDeviceCases
{
    private const string Page = "theory/friction-device.md";

    private static readonly double[] _printed = [1.32, 1.73, 3.00, 9.02, 27.08, 81.31, 244.15, 733.15];
    private static readonly double[] _turns = [0.25, 0.5, 1, 2, 3, 4, 5, 6];

    public static IReadOnlyList<VerificationCase> All { get; } =
    [
        new()
        {
            Id = "V-501", Page = Page, What = "Hold ratio of five turns at a friction of 0.6", Formula = "exp(2 pi N mu)",
            Source = "Euler-Eytelwein; an encyclopaedia's worked value 153 552 935 (read)", Absolute = 0.5, Why = "half a unit of the last printed digit",
            Compute = () => [new("", 153_552_935, Ratio(5, 0.6))],
        },
        new()
        {
            Id = "V-502", Page = Page, What = "Hold ratio by turns at a measured friction of 0.175", Formula = "exp(2 pi N mu), printed for 1/4 to 6 turns",
            Source = "R. Delaney (2022), Physics for Roping Technicians, pp. 82, 88 (read)", Absolute = 0.005, Relative = 0.002, Why = "two decimals are printed, and from a rounded coefficient: 3.00 at one turn is exp(2 pi 0.1749)",
            Compute = () => _turns.Zip(_printed, (n, p) => new VerificationPoint(Say.Number("", n, " turns"), p, Ratio(n, 0.175))),
        },
        new()
        {
            Id = "V-503", Page = Page, What = "Whole program: peak of the load leg while rope runs against a constant hand", Formula = "T1 = rho_r rho_d T3, rho_r = exp(mu pi), rho_d = exp(2 pi N mu_d)",
            Source = "Euler-Eytelwein, twice (by name)", Unit = "N", Relative = 1e-7, Why = "the push leaves the piece some 1e-7 m off the plumb line, and the wrap 1e-7 rad off half a turn",
            Compute = () => new[] { 0, 0.1, 0.2 }.Select(mu => new VerificationPoint(
                Say.Number("ring mu = ", mu), Math.Exp(mu * Math.PI) * Pull(Hand), Run(1e-4, Hand, mu)[MeasureIds.LoadLegTension].Value)),
        },
        new()
        {
            Id = "V-504", Page = Page, What = "Whole program: rope run until a constant pull has stopped the piece, viscous time to zero",
            Formula = "s/(1 + F/EA), s = m v1^2/(2 (F - m g)), v1^2 = v0^2 + 2 g F/k - F^2/(k m)", Source = "Derived here (remark of `FrictionDeviceCases`)", Unit = "m", Relative = 2e-6, Why = "from viscous times 0.2 and 0.1 ms to zero along a straight line",
            Compute = () => new[] { 500.0, Hand, 1000 }.Select(hand => new VerificationPoint(Say.Number("hand ", hand, " N"), Travel(hand), WithoutViscosity(tau => Run(tau, hand, 0)[MeasureIds.RopeRun].Value))),
        },
        new()
        {
            Id = "V-505", Page = Page, What = "Whole program: peak of an undamped hard stop whose wraps first give rope at a constant pull, viscous time to zero", Formula = "as V-308, the wraps in place of the knot", Source = "Derived there: where the rope comes from does not matter without friction", Unit = "N", Relative = 5e-6, Why = "as V-301",
            Compute = () => new[] { 0.1, 0.3, 0.6 }.Select(length => new VerificationPoint(
                Say.Number("s = ", length, Say.Number(" m at ", RopeCases.GivingForce, " N")), RopeCases.PeakAfterGiving(length), RopeCases.Giving(length, hitch: false))),
        },
    ];

    /// <summary>Hand force of the example, N.</summary>
    public const double Hand = 700;

    public static double WithoutViscosity(Func<double, double> read) => (2 * read(1e-4)) - read(2e-4);

    /// <summary>Pull in the ground leg at which rope runs, one turn at 0.175, N.</summary>
    public static double Pull(double hand) => hand * Math.Exp(2 * Math.PI * 0.175);

    public static StraightFall Fall(double viscousTime, double friction) => new()
    {
        ViscousTime = viscousTime,
        Friction = friction,
        Slack = 0.5,
        Above = 2,
        GroundLeg = 8,
        Afterwards = 1.4,
        Wraps = 1,
        DeviceFriction = 0.175,
    };

    public static DropRun Run(double viscousTime, double hand, double friction) => (Fall(viscousTime, friction) with
    {
        Catch = new() { Kind = CatchKind.LetRun, LightForce = hand, GripForce = 1e6, Brake = [new(0, hand)] },
    }).Run();

    private static double Ratio(double turns, double friction) => Bench.Solve(
        Bench.SystemOf(new StraightFall { Wraps = turns, DeviceFriction = friction }.Input()), (_, _) => { }).DeviceRatio;

    private static double Travel(double hand)
    {
        var fall = Fall(0, 0);
        var force = Pull(hand);
        var k = fall.Stiffness / fall.RopeLength;
        var square = (fall.Speed * fall.Speed) + (2 * fall.Gravity * force / k) - (force * force / (k * fall.Mass));
        return fall.Mass * square / (2 * (force - fall.Weight)) / (1 + (force / fall.Stiffness));
    }
}
