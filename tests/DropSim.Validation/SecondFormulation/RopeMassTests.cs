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
    private static readonly int[] _links = [6, 9];

    [Fact]
    public void Leaving_out_the_ropes_mass_costs_at_most_twice_its_share_of_the_pieces_mass_and_nothing_as_it_goes_to_zero()
    {
        // From first taut on, both legs straight, for as long as the first pull lasts: 50 ms to the peak.
        const double Window = 0.1;
        var (run, light) = WithoutMass();
        var found = _shares.SelectMany(s => _links.Select(n => (Share: s, Links: n))).AsParallel().AsOrdered().Select(c =>
        {
            var chain = new RopeChainDrop(Drop, PerMetre(c.Share, light), c.Links, 4 * c.Links, eps: 0.01).Follow(light.FirstTaut, light.Lengths, Window);
            return (c.Share, c.Links, Load: (chain.LoadLegPeak / light.LoadLegPeak) - 1, Ring: (chain.RiggingPointPeak / light.RiggingPointPeak) - 1,
                Hitch: (chain.HitchPeak / light.LoadLegPeak) - 1);
        }).ToArray();

        // A rope's end that is moved at once at speed v pulls v sqrt(EA x mass per metre): how large the first step is beside the peak.
        var speed = Math.Sqrt(2 * Drop.Computation.Gravity * run[MeasureIds.DropToTaut].Value);
        double Impact(double share) => speed * Math.Sqrt(Drop.Rope.Stiffness * PerMetre(share, light)) / light.LoadLegPeak;
        var fine = found.Where(f => f.Links == _links[^1]).ToArray();
        GeneratedSection.Check("numerics.md", "mass of the rope",
        [
            "| rope mass in both legs / piece mass | kg/m here | peak at the rigging point | load leg at the rigging point | load leg at the hitch | first step by (7) / peak |",
            "|---|---|---|---|---|---|",
            .. fine.Select(f => FormattableString.Invariant(
                $"| {100 * f.Share:0.0} % | {PerMetre(f.Share, light):0.00} | {Percent(f.Ring)} | {Percent(f.Load)} | {Percent(f.Hitch)} | {Impact(f.Share):0.00} |")),
        ]);

        foreach (var f in found)
        {
            f.Ring.Should().BeInRange(-(MostPerShare * f.Share) - 0.003, (MostPerShare * f.Share) + 0.003);
            f.Hitch.Should().BeInRange(-(MostPerShare * f.Share) - 0.003, (MostPerShare * f.Share) + 0.003);
        }

        // As the mass goes to zero the chain becomes the rope without mass; a rope that is heavy makes the peak larger: leaving it out flatters.
        fine[0].Ring.Should().BeApproximately(0, 0.004);
        fine[^1].Ring.Should().BeGreaterThan(0.03);

        // More links move it by little against what is found.
        foreach (var share in _shares)
        {
            var of = found.Where(f => f.Share == share).Select(f => f.Ring).ToArray();
            (of.Max() - of.Min()).Should().BeLessThan(0.003 + (0.2 * share));
        }
    }

    /// <summary>
    /// The same from hinge break on, the slack rope falling and whipping: when a bight comes straight is a matter of chance, and so are some per
    /// cent of the peak. Bounds only: the last bit of an input changes the digits.
    /// </summary>
    [Fact]
    public void Slack_rope_that_whips_adds_no_more_than_some_per_cent_by_chance()
    {
        var (_, light) = WithoutMass();
        foreach (var (share, most) in ((double, double)[])[(0.003, 0.02), (0.03, 0.10)])
        {
            var chain = new RopeChainDrop(Drop, PerMetre(share, light), 4, 16, eps: 0.01).Follow(light.Released, light.Lengths, after: 0.57);
            ((chain.RiggingPointPeak / light.RiggingPointPeak) - 1).Should().BeInRange(-0.02, most, $"{share}");
        }
    }

    /// <summary>Change of a peak over the rope's share of the piece's mass. Measured on straight rope: 0.7 at most; the rest is for slack rope that whips.</summary>
    private const double MostPerShare = 2;

    private static (DropRun Run, SecondDrop Light) WithoutMass()
    {
        var run = DropSimulator.Run(Drop);
        var light = new SecondDrop(Drop, eps: 0.01, step: 2e-5, chain: null).Follow(0.57);
        run.Strikes[0].Time.Should().BeGreaterThan(0.57, "nothing but the rope acts within the window");
        light.LoadLegPeak.Should().BeApproximately(run[MeasureIds.LoadLegTension].Value, 1e-4 * light.LoadLegPeak, "both formulations without mass agree");
        return (run, light);
    }

    private static double PerMetre(double share, SecondDrop light) => share * Drop.Piece.Mass / (light.Lengths.Load + light.Lengths.Ground);

    private static string Percent(double x) => FormattableString.Invariant($"{100 * x:+0.0;-0.0;0.0} %");
}
