using DropSim.Model;
using DropSim.Validation.Documents;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// What leaving out the rope's mass costs: the hard stop of the medium log on a rigid spar with the rope as chains of masses, over the mass
/// of the rope in both legs. The rope is straight and stiff (2.5 times the secant, what a relaxing rope shows a shock), so that nothing but the mass differs.
/// </summary>
public sealed class RopeMassTests
{
    /// <summary>A light rope lets the chain's waves be seen: the damping time is a seventh of the usual one.</summary>
    private const double ViscousTime = 3e-4;

    private static DropInput Drop { get; } = SecondDrops.MediumLog.On(rigid: true) with
    {
        Rope = SecondDrops.MediumLog.Rope with { Stiffness = 2.5 * 220e3, RelaxingStiffnessRatio = 0, ViscousTime = ViscousTime },
    };

    private static readonly double[] _shares = [0.003, 0.01, 0.03, 0.10];

    /// <summary>Links of the load leg; the ground leg has four times as many, being four times as long.</summary>
    private static readonly int[] _links = [4, 5, 6];

    [Fact]
    public void Leaving_out_the_ropes_mass_costs_about_as_much_as_its_share_of_the_pieces_mass_and_nothing_as_it_goes_to_zero()
    {
        var run = DropSimulator.Run(Drop);
        var window = run[MeasureIds.TimeToPeak].Value + 0.05;
        run.Strikes[0].Time.Should().BeGreaterThan(window, "nothing but the rope acts within the window");
        var light = new SecondDrop(Drop, eps: 0.01, step: 1e-4, chain: null).Follow(window);
        light.LoadLegPeak.Should().BeApproximately(run[MeasureIds.LoadLegTension].Value, 2e-4 * light.LoadLegPeak);

        var found = _shares.SelectMany(s => _links.Select(n => (Share: s, Links: n))).AsParallel().AsOrdered().Select(c =>
        {
            var perMetre = c.Share * Drop.Piece.Mass / (light.Lengths.Load + light.Lengths.Ground);
            var chain = new RopeChainDrop(Drop, perMetre, c.Links, 4 * c.Links, eps: 0.01).Follow(light.Released, light.Lengths, window);
            return (c.Share, PerMetre: perMetre, Load: (chain.LoadLegPeak / run[MeasureIds.LoadLegTension].Value) - 1,
                Ring: (chain.RiggingPointPeak / run[MeasureIds.RiggingPointForce].Value) - 1, Hitch: (chain.HitchPeak / run[MeasureIds.LoadLegTension].Value) - 1);
        }).ToArray();

        // A rope's end that is moved at once at speed v pulls v sqrt(EA x mass per metre): how large the first step is beside the peak.
        var speed = Math.Sqrt(2 * Drop.Computation.Gravity * run[MeasureIds.DropToTaut].Value);
        double Impact(double perMetre) => speed * Math.Sqrt(Drop.Rope.Stiffness * perMetre) / run[MeasureIds.LoadLegTension].Value;
        GeneratedSection.Check("numerics.md", "mass of the rope",
        [
            "| rope mass in both legs / piece mass | kg/m here | rigging-point peak moves by | load-leg peak at the hitch moves by | impact step / peak |",
            "|---|---|---|---|---|",
            .. found.GroupBy(f => f.Share).Select(g => FormattableString.Invariant(
                $"| {100 * g.Key:0.0} % | {g.First().PerMetre:0.00} | {Band(g.Select(f => f.Ring))} | {Band(g.Select(f => f.Hitch))} | {Impact(g.First().PerMetre):0.00} |")),
        ]);

        foreach (var f in found)
        {
            // Measured: up to 2.2 times the share at 3 %, and half a per cent that chance whips of the slack chain add whatever its mass.
            Math.Abs(f.Ring).Should().BeLessThan((2.5 * f.Share) + 0.005);
            Math.Abs(f.Load).Should().BeLessThan((2.5 * f.Share) + 0.005);
        }

        // In the limit of no mass the chain is the rope without mass, to what a handful of links and the whips leave.
        found.Where(f => f.Share == _shares[0]).Should().OnlyContain(f => Math.Abs(f.Ring) < 0.01 && Math.Abs(f.Hitch) < 0.01);
        found.Where(f => f.Share == _shares[^1]).Should().OnlyContain(f => f.Ring > 0.03, "a heavy rope makes the peak larger: leaving it out flatters");
    }

    /// <summary>Smallest and largest over the numbers of links, outward to half a per cent.</summary>
    private static string Band(IEnumerable<double> values)
    {
        var all = values.ToArray();
        return FormattableString.Invariant($"{Math.Floor(200 * all.Min()) / 2:+0.0;-0.0;0} to {Math.Ceiling(200 * all.Max()) / 2:+0.0;-0.0;0} %");
    }
}
