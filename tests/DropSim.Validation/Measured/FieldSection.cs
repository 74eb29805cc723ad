using DropSim.Model;
using DropSim.Reporting.Charts;
using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's section on findings from the field and the trade, each with the drop that reproduces or contradicts it.</summary>
internal static class FieldSection
{
    private const string Reproduced = "**reproduced**";
    private const string Contradicted = "**contradicted**";
    private const string Part = "**in part**";
    private const string Absent = "**not modelled**";

    private static readonly string[] s_catches = ["hard-stop", "let-run"];
    private static readonly string[] s_heads = ["finding", "source", "scenario", "computed", "verdict"];

    private static DropCase Ring(string catchName) => Drops.Shipped("ring-or-block", "ring-" + catchName);

    private static DropCase Block(string catchName) => Drops.Shipped("ring-or-block", "block-" + catchName);

    /// <summary>Force on the block against mass.</summary>
    public static Figure MassFigure()
    {
        var drops = FieldTrees.HardStop;
        var pieces = drops.Where(d => !d.Top).ToArray();
        var tops = drops.Where(d => d.Top).ToArray();
        double Explained(Func<FieldTrees.Drop, double> cause) => FieldTrees.Explains(pieces, cause, d => d.Rigging);
        Curve Fit(FieldTrees.Drop[] of, Stroke stroke, string name)
        {
            var line = FieldTrees.LogLine(of, d => d.Mass, d => d.Rigging);
            double[] x = [.. Enumerable.Range(0, 41).Select(k => of.Min(d => d.Mass) * Math.Pow(of.Max(d => d.Mass) / of.Min(d => d.Mass), k / 40.0))];
            return new Curve(name, x, [.. x.Select(m => Math.Exp(line.Start + (line.Slope * Math.Log(m))) / 1000)], stroke);
        }

        var (pieceLine, topLine) = (Fit(pieces, new(Palette.LoadLeg, 2.4), "pieces"), Fit(tops, new(Palette.GroundLeg, 2.4, Dash.Long), "tops"));
        return new Figure
        {
            FileName = "mass-and-force.png",
            Title = $"Locked off, 52 pieces: mass explains {Percent(Explained(d => d.Mass))} of the force on the block, fall {Percent(Explained(d => d.Fallen))}, face cut {Percent(Explained(d => d.FaceCut))}",
            Subtitle = "13 invented red pines with a top and four pieces each, over a block near the cut, hard stop. Forces and sizes of the published study were not readable: only trends are compared.",
            Footer = Footer,
            Panels =
            [
                new Panel
                {
                    X = NiceScale.Axis("Mass of the piece", "kg", 0, drops.Max(d => d.Mass)),
                    Y = NiceScale.Axis("Largest force on the block", "kN", 0, drops.Max(d => d.Rigging) / 1000),
                    Curves = [pieceLine, topLine],
                    Dots =
                    [
                        .. pieces.Select(d => new Dot("piece", d.Mass, d.Rigging / 1000, Palette.LoadLeg, 6)),
                        .. tops.Select(d => new Dot("top", d.Mass, d.Rigging / 1000, Palette.GroundLeg, 6, true)),
                    ],
                    Labels =
                    [
                        new Label("pieces", pieceLine.X[^1], pieceLine.Y[^1], Palette.LoadLeg, Toward.UpLeft, true),
                        new Label("tops", topLine.X[^1], topLine.Y[^1], Palette.GroundLegText, Toward.DownRight, true),
                    ],
                },
            ],
        };
    }

    public static string Text() => $"""
        ## Findings from the field

        {Picture(MassFigure())}
        Thirteen red pines are invented, each with a top and four pieces over a block near the cut; sizes and settings are spread as a yard would have them, everything else is the program's default. The study's own sizes, settings and forces were
        not readable, so a trend can be met or missed and no number can. "Explains" is the share of the variance of the logarithm of the force on the block.

        {Table(s_heads, [.. Trees(), .. Blocks(), .. Others()])}
        ## Facts of the trade

        Common practice, no source: told here because people rely on them. Not measurements.

        {Table(["what is said", "scenario", "computed", "verdict"], Trade())}
        """;

    private static IEnumerable<string[]> Trees()
    {
        const string Kane = "B. Kane, S. Brena, W. Autio (2009), A";
        (string Name, IReadOnlyList<FieldTrees.Drop> All)[] catches = [("hard stop", FieldTrees.HardStop), ("let run", FieldTrees.LetRun)];
        FieldTrees.Drop[] Of(IReadOnlyList<FieldTrees.Drop> all, bool top) => [.. all.Where(d => d.Top == top)];
        string Shares(Func<FieldTrees.Drop, double> cause) => string.Join("; ", catches.Select(c =>
            $"{c.Name}: pieces {Percent(FieldTrees.Explains(Of(c.All, false), cause, d => d.Rigging))}, tops {Percent(FieldTrees.Explains(Of(c.All, true), cause, d => d.Rigging))}"));
        bool Best(IReadOnlyList<FieldTrees.Drop> all, bool top, Func<FieldTrees.Drop, double> force) =>
            new Func<FieldTrees.Drop, double>[] { d => d.Fallen, d => d.Factor, d => d.FaceCut }
                .All(c => FieldTrees.Explains(Of(all, top), d => d.Mass, force) > FieldTrees.Explains(Of(all, top), c, force));

        var best = catches.SelectMany(c => new[] { Best(c.All, false, d => d.Rigging), Best(c.All, false, d => d.Load), Best(c.All, true, d => d.Rigging), Best(c.All, true, d => d.Load) }).ToArray();
        var loads = string.Join("; ", catches.Select(c => $"{c.Name}: pieces {Percent(FieldTrees.Explains(Of(c.All, false), d => d.Mass, d => d.Load))}, tops {Percent(FieldTrees.Explains(Of(c.All, true), d => d.Mass, d => d.Load))}"));
        yield return ["mass is the best predictor of the forces at the block and in the rope", Kane, "13 invented red pines", $"mass explains at the block: {Shares(d => d.Mass)}; in the load leg: {loads}. Mass is the best of mass, fall, fall ratio and face cut in {best.Count(b => b)} of {best.Length} comparisons", best.All(b => b) ? Reproduced : best.Count(b => b) * 2 > best.Length ? Part : Contradicted];

        var medians = catches.Select(c =>
        {
            var (pieces, tops) = (Of(c.All, false), Of(c.All, true));
            double At(FieldTrees.Drop[] of)
            {
                var line = FieldTrees.LogLine(of, d => d.Mass, d => d.Rigging);
                return Math.Exp(line.Start + (line.Slope * Math.Log(40)));
            }

            var (p, t) = (FieldTrees.LogLine(pieces, d => d.Mass, d => d.Rigging).Slope, FieldTrees.LogLine(tops, d => d.Mass, d => d.Rigging).Slope);
            return (Words: $"{c.Name}: force as mass to the power {N(p, 2)} (pieces) and {N(t, 2)} (tops); a top of 40 kg {Change((At(tops) / At(pieces)) - 1)} against a piece of 40 kg", Differ: Math.Abs((At(tops) / At(pieces)) - 1) > 0.1 || Math.Abs(p - t) > 0.2);
        }).ToArray();
        yield return ["tops and pieces follow different relations", Kane, "the same", string.Join("; ", medians.Select(m => m.Words)), medians.All(m => m.Differ) ? Reproduced : medians.Any(m => m.Differ) ? Part : Contradicted];

        double Adds(IReadOnlyList<FieldTrees.Drop> all, Func<FieldTrees.Drop, double> cause) => FieldTrees.AddsToMass(Of(all, false), cause, d => d.Rigging);
        (string Name, Func<FieldTrees.Drop, double> Of)[] causes = [("fall", d => d.Fallen), ("fall ratio", d => d.Factor), ("face cut", d => d.FaceCut)];
        var added = catches.SelectMany(c => causes.Select(k => Adds(c.All, k.Of))).ToArray();
        yield return ["fall distance, fall ratio and notch matter little", Kane, "the same, pieces",
            string.Join("; ", catches.Select(c => $"{c.Name}: explained alone / beyond mass: " + string.Join(", ", causes.Select(k => $"{k.Name} {Percent(FieldTrees.Explains(Of(c.All, false), k.Of, d => d.Rigging))} / {Percent(Adds(c.All, k.Of))}")))) + ". The fall ratio goes with mass here: lower pieces are heavier and have less rope",
            added.All(a => a < 0.1) ? Reproduced : added.Any(a => a < 0.1) ? Part : Contradicted];

        var stress = catches.Select(c => (c.Name, Ratio: Of(c.All, true).Average(d => d.Stress) / Of(c.All, false).Average(d => d.Stress), Tip: Of(c.All, true).Average(d => d.Tip) / Of(c.All, false).Average(d => d.Tip))).ToArray();
        yield return ["trunk stress differs little between tops and pieces, because the stem deflects more when the top goes", Kane, "the same",
            string.Join("; ", stress.Select(s => $"{s.Name}: mean stress at the foot for tops {N(s.Ratio, 1)} times that for pieces, deflection of the stem {N(s.Tip, 1)} times")) + " (at the foot, not at breast height)",
            stress.All(s => Math.Abs(s.Ratio - 1) < 0.25) ? Reproduced : stress.All(s => s.Tip > 1.5) ? Part + ": the stem deflects more, yet the stress differs" : Contradicted];
    }

    private static IEnumerable<string[]> Blocks()
    {
        const string Kane = "B. Kane (2019), A";
        (double Low, double High) Ratios(DropCase c, string name)
        {
            var range = Drops.Range(c, name);
            var (a, b) = (Drops.RatioAtPeak(Drops.With(c, name, range.Low)), Drops.RatioAtPeak(Drops.With(c, name, range.High)));
            return (Math.Min(a, b), Math.Max(a, b));
        }

        var (hard, run) = (Drops.RatioAtPeak(Ring("hard-stop").Input), Drops.RatioAtPeak(Ring("let-run").Input));
        var lowering = Math.Exp(Math.PI * Ring("hard-stop").Input.RiggingPoint.Friction);
        yield return ["the ratio of lead to fall differs between dropping, raising and lowering, between devices and between ropes", Kane, "ring-or-block, ring",
            $"hard stop {N(hard, 2)}, let run {N(run, 2)}, lowering {N(lowering, 2)}, raising {N(1 / lowering, 2)}: one coefficient for all; only the angle of wrap and the direction tell them apart. Devices differ (ring, block, union), ropes do not", Part + ": direction and device, not speed or rope"];

        var overlaps = s_catches.Select(c =>
        {
            var (ring, block) = (Ratios(Ring(c), "ring friction"), Ratios(Block(c), "block efficiency"));
            return (Words: $"{c.Replace('-', ' ')}: ring {N(ring.Low, 2)} to {N(ring.High, 2)}, block {N(block.Low, 2)} to {N(block.High, 2)}", Overlap: block.High - ring.Low);
        }).ToArray();
        var worn = Drops.RatioAtPeak(Drops.With(Block("let-run"), "block efficiency", 0.6));
        yield return ["in drops, redirects without a turning sheave did not always give more friction than sheaved blocks", Kane, "ring-or-block, over the ranges of ring friction and block efficiency",
            "ratio at the peak, " + string.Join("; ", overlaps.Select(o => o.Words)) + $". With an efficiency of 0.6 the block gives {N(worn, 2)}",
            overlaps.All(o => o.Overlap > 0.1) ? Reproduced : overlaps.Any(o => o.Overlap > 0) ? Part + ": the default ranges hardly meet; a block under shock may rub more than the default range says" : Contradicted + ": the default ranges do not meet"];

        var (ringHard, blockHard) = (Drops.Rigging(Ring("hard-stop").Input), Drops.Rigging(Block("hard-stop").Input));
        var (ringRun, blockRun) = (Drops.Rigging(Ring("let-run").Input), Drops.Rigging(Block("let-run").Input));
        var (halfHard, halfRun) = (Drops.Rigging(Drops.Shorter(Ring("hard-stop").Input, 0.5)), Drops.Rigging(Drops.Shorter(Ring("let-run").Input, 0.5)));
        var fewer = Drops.Shorter(Ring("let-run").Input, 0.5);
        var halfFewer = Drops.Rigging(fewer with { Device = fewer.Device with { Wraps = 2 } });
        var sheave = (Hard: (blockHard / ringHard) - 1, Run: (blockRun / ringRun) - 1);
        yield return ["a lighter piece is the surer way to a lower anchor force", Kane, "ring-or-block; the log cut half as long",
            $"half the log: hard stop {Change((halfHard / ringHard) - 1)}, let run {Change((halfRun / ringRun) - 1)} on the same 2.5 wraps and {Change((halfFewer / ringRun) - 1)} on 2; block for ring: hard stop {Change(sheave.Hard)}, let run {Change(sheave.Run)}",
            halfHard < ringHard && halfRun < ringRun && sheave.Hard * sheave.Run < 0 ? Reproduced + " in direction: the lighter piece lowers it either way, the device goes both ways" : Part];

        (string Name, double Tread, double Shaft)[] blocks = [("A", 27.559, 9.525), ("B", 52.324, 9.525), ("C", 29.21, 9.3898)];
        double Efficiency(double mu, double tread, double shaft) => (tread - (mu * shaft)) / (tread + (mu * shaft));
        var (best, worst) = (blocks.Max(b => Efficiency(0.049, b.Tread, b.Shaft)), blocks.Min(b => Efficiency(0.99, b.Tread, b.Shaft)));
        var range = Drops.Range(Block("hard-stop"), "block efficiency");
        yield return ["static friction coefficient of three blocks 0.049 to 0.99 over all loads, not constant with load", "P.S. Donzelli (1999), A; geometry: Table 1, P", "none: statics of a sheave on a plain shaft, T out / T in = (R - mu r) / (R + mu r)",
            $"if the coefficient is the shaft's: efficiency {N(worst, 2)} to {N(best, 2)}; default range {N(range.Low, 2)} to {N(range.High, 2)}, constant with load", worst >= range.Low ? Reproduced : Part + ": the published spread goes below the default range, and the model's efficiency does not change with load"];

        double Hold(double friction) => Drops.Run(Drops.With(Ring("let-run"), "device friction", friction))[MeasureIds.RopeRun].Value;
        yield return ["used ropes rub more than new ones; roughness is the best predictor", "B. Kane (2007), A", "ring-or-block, ring, let run, device friction 0.12 / 0.175 / 0.25",
            $"rope run {N(Hold(0.12), 1)} / {N(Hold(0.175), 1)} / {N(Hold(0.25), 1)} m: what such a change does. The rope's age is no input; it is inside the ranges of friction", Absent];
    }

    private static IEnumerable<string[]> Others()
    {
        double Force(RopeLaw law, double mass, double factor) => new FallOnRope(new(mass, Math.Sqrt(2 * 9.81 * factor * 5), 5, 0, 1), law).Run(5, true).Peak.T1;
        double Under(RopeLaw law)
        {
            // Fitted where mass and fall are small, asked where they are large.
            var (little, weight) = (Force(law, 50, 0.1), 50 * 9.81);
            var modulus = little * (little - (2 * weight)) / (2 * weight * 0.1);
            return 1 - (StandardFall.Formula(500, modulus, 2) / Force(law, 500, 2));
        }

        var ratio = ClimbingRopeSection.Default.Value;
        var straight = new RopeLaw(220e3, ratio * 220e3, 0.3, 1e-4);
        var steep = straight with { Curve = [new(0.04, 0.04 * 220e3), new(0.08, 0.12 * 220e3), new(0.16, 0.36 * 220e3)] };
        var (under, steepUnder) = (Under(straight), Under(steep));
        yield return ["the linear-spring formula fits rope drops at low mass and fall factor, under-predicts by up to about 30 % at high ones", "C. Weber (2002), A", $"mass on 5 m of rope, EA 220 kN, relaxing ratio {N(ratio, 1)}: formula fitted at 50 kg and fall factor 0.1, asked at 500 kg and 2",
            $"straight rope (the default): formula {(under > 0 ? "under" : "over")}-predicts by {Percent(Math.Abs(under))}; rope whose slope doubles and triples beyond 4 and 8 % (invented): {(steepUnder > 0 ? "under" : "over")}-predicts by {Percent(Math.Abs(steepUnder))}",
            under > 0.1 ? Reproduced : steepUnder > 0.1 ? Part + ": contradicted with the default straight rope, reproduced with a stretch curve that steepens. Large forces on a rope without `rope.stretch-curve` may be low by that much" : Contradicted];

        yield return ["sway frequency of conifers is linear in diameter over height squared; internal damping below 0.05; de-branched stems 1 to 8 %", "J.R. Moore, D.A. Maguire (2004), A", "72 invented stems", "see the section on sway", Reproduced + " in form; damping is an input"];
        yield return ["pruning raises sway frequency and lowers damping; a climber acts as added mass", "B. Kane (2018), A", "medium-log, small-top", "see the section on sway", Part + ": the climber; crowns are not modelled"];
        yield return ["6 kN is the force limit in common use for a person, about 12 kN an upper survival figure", "R. Delaney (2022) p. 30, P", "none", "limits, not measurements: nothing to reproduce. The program computes no force on the climber's body", Absent];

        var (light, heavy) = (Force(straight, 50, 0) / (50 * 9.81), Force(straight, 500, 0) / (500 * 9.81));
        var elastic = Force(new(220e3, 0, 1, 1e-5), 100, 0) / (100 * 9.81);
        yield return ["anchor load in normal rope access at most 150 % of the person's weight, up to 200 % when abrupt", "A. Long, M. Lyon, G. Lyon (2001), p. 28, P", "mass let go on a tight rope without fall, 50 and 500 kg, 5 m",
            $"{Percent(light)} and {Percent(heavy)} of the weight with the default rope, {Percent(elastic)} without a relaxing branch; 100 % when lowered slowly", light <= 2.005 && heavy <= 2.005 ? Reproduced : Contradicted];
    }

    private static IEnumerable<string[]> Trade()
    {
        var (hard, run) = (Drops.Run(Drops.Shipped("medium-log", "base-hard-stop").Input), Drops.Run(Drops.Shipped("medium-log", "base-let-run").Input));
        static double Kilo(DropRun r) => r[MeasureIds.RiggingPointForce].Value;
        yield return ["a rope that runs gives far smaller forces than one that is snubbed", "medium-log", $"rigging point {Kn(Kilo(run))} let run, {Kn(Kilo(hard))} locked off", Kilo(run) < 0.6 * Kilo(hard) ? Reproduced : Part];

        var (ring, block) = (Drops.Run(Ring("let-run").Input), Drops.Run(Block("let-run").Input));
        var rho = Math.Exp(Math.PI * Ring("let-run").Input.RiggingPoint.Friction);
        var eta = Block("let-run").Input.RiggingPoint.Efficiency;
        yield return ["in slow lowering a ring's friction puts less on the spar than a pulley does", "statics with the defaults of ring-or-block; and the same in a let run", $"slow lowering: spar carries {N(1 + (1 / rho), 2)} (ring) and {N(1 + eta, 2)} (block) times the weight; let run with the same hand and wraps: {Kn(Kilo(ring))} and {Kn(Kilo(block))}",
            Kilo(ring) > Kilo(block) ? Reproduced + " in slow lowering; **the other way round** in this let run, where the ring's friction brakes too" : Reproduced];

        var (one, four) = (Drops.Run(Drops.Shipped("light-log-many-wraps", "one-let-run").Input), Drops.Run(Drops.Shipped("light-log-many-wraps", "four-let-run").Input));
        yield return ["too many wraps turn a run into a stop", "light-log-many-wraps", $"1.5 wraps: {N(one[MeasureIds.RopeRun].Value, 1)} m run, {Kn(Kilo(one))}; 4 wraps: {N(four[MeasureIds.RopeRun].Value, 1)} m, {Kn(Kilo(four))}", four[MeasureIds.RopeRun].Value < 0.1 ? Reproduced : Contradicted];

        var input = Drops.Shipped("medium-log", "base-hard-stop").Input;
        var half = input with { Rope = input.Rope with { HitchTakeUp = input.Rope.HitchTakeUp with { Length = 0.10 } } };
        yield return ["a half hitch below a running bowline spreads the load and adds friction", "medium-log, hard stop, take-up of the hitch 0.10 for 0.15 m", $"only its smaller take-up is modelled: rigging point {Kn(Drops.Rigging(half))} for {Kn(Kilo(hard))}", Absent + " but for the take-up, which makes the force larger"];
        yield return ["a running rope under load melts another rope that it rubs on", "medium-log, let run", $"rope on rope is not modelled; rope on the device: at most {N(run[MeasureIds.RopeHeat].Value, 0)} K per pass, all heat into the rope", Absent];
        yield return ["a ring must be threaded before the knot is tied, an opening block need not; a good ground worker keeps some weight on the rope after the piece is down", "none", "handling: nothing to compute", Absent];
    }
}
