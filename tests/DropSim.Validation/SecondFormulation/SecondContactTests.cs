using System.Globalization;
using DropSim.Model;
using DropSim.Validation.Documents;

namespace DropSim.Validation.SecondFormulation;

/// <summary>
/// Drops that hit the spar, written twice: corners, the spar's edge on flank and butt, friction, each at its own height and on a spar that gives way; over a
/// face cut and pushed off. The second formulation has no events, no gradients worked out by hand and no phases; both are compared some time after the first hit.
/// </summary>
public sealed class SecondContactTests
{
    /// <summary>Speed over which the second formulation's rope friction turns round, m/s.</summary>
    private const double Eps = 0.001;

    /// <summary>Fixed step of the second formulation, s.</summary>
    private const double Step = 5e-5;

    /// <summary>Followed after the first hit, s: a hit lasts 20 to 40 ms.</summary>
    private const double After = 0.12;

    private sealed record Case(string Name, DropInput Drop);

    private sealed record Found(string Name, string Hits, double Lasts, double Force, double Peak, double Place, double Lean, double Frictionless);

    private static readonly Case[] _cases =
    [
        new("rigid spar, locked off", SecondDrops.MediumLog.On(rigid: true)),
        new("three spar modes, locked off, knot of 150 mm", SecondDrops.MediumLog.On(rigid: false).Knotted()),
        new("rigid spar, locked off, far below the cut, much slack", SecondDrops.MediumLog.On(rigid: true).Far(1.6, 1.2)),
        new("rigid spar, locked off, let go at 40 degrees, much slack", SecondDrops.MediumLog.On(rigid: true).Far(0.8, 1.2, 40)),
        new("pushed off, let go at 25 degrees, rigid spar", SecondDrops.MediumLog.On(rigid: true).Pushed(25)),
        new("pushed off, let go at 80 degrees, three spar modes", SecondDrops.MediumLog.On(rigid: false).Pushed(80)),
    ];

    [Fact]
    public void Drops_that_hit_the_spar_come_out_the_same_in_the_second_formulation()
    {
        var found = _cases.AsParallel().AsOrdered().Select(c => Compare(c.Name, c.Drop)).ToArray();
        GeneratedSection.Check("numerics.md", "second formulation of contact",
        [
            "| drop | what meets, in order | followed after hinge or edge, s | largest contact force | its difference | place at the end | lean at the end | place, had contact no friction |",
            "|---|---|---|---|---|---|---|---|",
            .. found.Select(f => string.Create(
                CultureInfo.InvariantCulture, $"| {f.Name} | {f.Hits} | {f.Lasts:0.00} | {f.Peak / 1000:0.0} kN | {Small(f.Force)} | {1e3 * f.Place:0.0} mm | {1e3 * f.Lean:0.0} mrad | {1e3 * f.Frictionless:0} mm |")),
        ]);
        foreach (var f in found)
        {
            f.Force.Should().BeInRange(-0.01, 0.01, f.Name);
            f.Place.Should().BeLessThan(2e-3, f.Name);
            f.Lean.Should().BeLessThan(5e-3, f.Name);

            // The comparison would see a contact without friction.
            f.Frictionless.Should().BeGreaterThan(5 * f.Place, f.Name);
        }
    }

    private static Found Compare(string name, DropInput drop)
    {
        var exact = drop with { Computation = drop.Computation with { RelativeTolerance = 1e-10, Elements = 60, StopWhenSettled = false } };
        var whole = DropSimulator.Run(exact);
        var window = whole.Strikes[0].Time + After;
        var run = DropSimulator.Run(exact with { Computation = exact.Computation with { EndTime = whole.HingeBreakTime + window } });
        var table = run.Traces!.Sample(1e-4);
        double[] end = [table["piece_x_m"][^1], table["piece_z_m"][^1], table["piece_lean_rad"][^1]];
        var peak = table["contact_force_N"].ToArray().Max();

        var chain = drop.Spar.Rigid ? null : new SparChain(drop.Spar, drop.Computation.Gravity, drop.Computation.Modes, links: 240);
        var second = new SecondDrop(drop, Eps, Step, chain).Follow(window);
        var smooth = new SecondDrop(drop with { Computation = drop.Computation with { ContactFriction = 0 } }, Eps, Step, chain).Follow(window);
        double Off(SecondDrop other) => double.Hypot(other.End[0] - end[0], other.End[1] - end[1]);
        var hits = run.Strikes.Concat(run.Touches).OrderBy(s => s.Time).Select(s => s.Place).Distinct();
        return new(name, string.Join("; ", hits), window, (second.ContactPeak / peak) - 1, peak, Off(second), Math.Abs(second.End[2] - end[2]), Off(smooth));
    }

    private static string Small(double share) => Math.Abs(share) < 1e-4 ? "below 1e-4" : share.ToString("0.0e-0", CultureInfo.InvariantCulture);
}
