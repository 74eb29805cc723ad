using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's section on drops on short textile links: the rope law asked for fall factors that it was not fitted to, and take-up.</summary>
internal static class LanyardSection
{
    /// <summary>Every drop beyond fall factor 1 with how far both laws are off it, as shares.</summary>
    public static IReadOnlyList<(LanyardFit Fit, LanyardDrop Drop, double Straight, double Bent)> Beyond { get; } =
    [
        .. LanyardDrops.Fits.SelectMany(f => f.Drops.Where(d => d.FallFactor > 1).Select(d =>
        {
            var (straight, bent) = f.Predict(d);
            return (f, d, (straight / d.Peak) - 1, (bent / d.Peak) - 1);
        })),
    ];

    public static string Text()
    {
        var spanning = LanyardDrops.Fits.Single(f => f.Material == LanyardDrops.Spanning);
        var worst = LanyardDrops.Repeats.Max();
        var (straight, bent) = (Within(b => b.Straight), Within(b => b.Bent));
        int Within(Func<(LanyardFit Fit, LanyardDrop Drop, double Straight, double Bent), double> of) => Beyond.Count(b => Math.Abs(Math.Log(1 + of(b))) <= worst);
        static string Verdict(int within, int of) => within == of ? "**reproduced**" : within * 2 > of ? "**in part**" : "**contradicted**";
        var (rows, length, perSlide, deviation) = LanyardDrops.Knots();
        var secants = spanning.Drops.OrderBy(d => d.FallFactor).Select(d =>
        {
            var predicted = spanning.Predict(d);
            string Kilo(double force) => N(LanyardDrops.Secant(d, force) / 1000, 1);
            return new[] { N(d.FallFactor, 2) + (d.FallFactor > 1 ? ", predicted" : ""), Kilo(d.Peak), Kilo(predicted.Straight), Kilo(predicted.Bent), Change((predicted.Straight / d.Peak) - 1), Change((predicted.Bent / d.Peak) - 1) };
        }).ToArray();
        var lowest = Beyond.MinBy(b => b.Straight);
        var longer = spanning.Drops.Where(d => d.FallFactor > 0.9).Average(d => d.Longer);
        var loop = LanyardDrops.All.Where(d => d.Material.EndsWith("tied", StringComparison.Ordinal) && double.IsFinite(d.Slide)).Average(d => d.Length);
        return $"""
            ## A mass dropped on a short link: fitted up to fall factor 1, asked beyond

            80 and 100 kg were dropped on sewn and tied links of 0.3 to 1.7 m that were fast above (M. Gibbs 2005). Nothing but mass and textile: the rope law alone. EA is fitted to the drops up to fall factor 1, one number a
            material. Ratio, relaxation time and viscous time are the program's defaults. There are two forms. The straight rope is the program's default. The other steepens: S(e) = EA e (1 + e/{N(LanyardDrops.Bend, 2)}), its bend fitted to the first four drops below.

            How sewn nylon stiffens (80 kg on 1.3 m; secant EA by the impact formula):

            {Table(["fall factor", "measured, kN", "straight, kN", "steepening, kN", "straight: force off by", "steepening: force off by"], secants)}
            Beyond fall factor 1, all materials that held; all but the first were fitted at fall factor 1 alone:

            {Table(["material", "mass, kg", "fall factor", "measured, kN", "straight", "steepening"], Beyond.Select(b => new[]
            {
                b.Fit.Material, N(b.Drop.Mass, 0), N(b.Drop.FallFactor, 2), N(b.Drop.Peak / 1000, 1), Change(b.Straight), Change(b.Bent),
            }))}
            Identical drops repeat to {Percent(LanyardDrops.Repeats.Min())} to {Percent(worst)} ({LanyardDrops.Repeats.Count} pairs), so no single drop can be asked for better. The straight rope is inside that in {straight} of {Beyond.Count}: {Verdict(straight, Beyond.Count)}. The steepening one is in {bent} of {Beyond.Count}: {Verdict(bent, Beyond.Count)}.
            On average the straight rope is off by {Change(Beyond.Average(b => b.Straight))}, at worst by {Change(lowest.Straight)}. The steepening one is off by {Change(Beyond.Average(b => b.Bent))}, at worst by {Change(Beyond.Min(b => b.Bent))}. {(Beyond.Average(b => b.Straight) < -0.02 ? "A straight rope that was fitted on small falls flatters a large one" : "A straight rope that was fitted on small falls does not flatter a large one on average")}.

            **Take-up.** Tied loops of 6 and 7 mm cord with a friction hitch ended longer by {N(100 * length, 1)} cm + {N(perSlide, 2)} x slide ({rows} rows, sd {N(100 * deviation, 1)} cm).
            It is the first measured number beside the program's 0.15 m (0 to 0.3 m, from memory): *the same size*. But sewn links without any knot ended {Percent(longer)} longer too. On loops of {N(loop, 1)} m that would be {N(100 * longer * loop, 0)} cm.
            So the knots' own part is {N(100 * (length - (longer * loop)), 0)} to {N(100 * length, 0)} cm: *in part*.

            Source: M. Gibbs (2005), Daisy chains and other lanyards, Rigging for Rescue, as tabled in a public repository: whole table read (P), some rows of the report are not in it; fits: D. Left out: links that parted, and those that tore their stitches (ended a quarter longer). Makers' names are left out.
            """;
    }
}
