using System.Globalization;
using DropSim.Scenarios.Keys;
using DropSim.Scenarios.Units;
using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's section on the standard fall of 99 climbing ropes: how stiff a rope is in a jerk.</summary>
internal static class ClimbingRopeSection
{
    /// <summary>Relaxation time of the program's default, s.</summary>
    public const double DefaultTime = 0.3;

    /// <summary>A ratio is given with one decimal: nearer than this it is the same.</summary>
    public const double SameRatio = 0.05;

    /// <summary>The default of `rope.relaxing-ratio` and the ends of its range.</summary>
    public static (double Value, double Low, double High) Default
    {
        get
        {
            var standard = KeyTable.ByPath["rope.relaxing-ratio"].Default!;
            return (Parsed(standard.Value), Parsed(standard.Low), Parsed(standard.High));
        }
    }

    /// <summary>5, 50 and 95 % points of something of all ropes.</summary>
    public static (double Low, double Middle, double High) Points(double time, Func<FittedRope, double> of)
    {
        double[] all = [.. ClimbingRopes.Fitted(time).Select(of)];
        return (Sample.Quantile(all, 0.05), Sample.Quantile(all, 0.5), Sample.Quantile(all, 0.95));
    }

    /// <summary>Errors of the impact force (computed over declared) when one number serves every rope.</summary>
    public static IReadOnlyList<(string What, double Mean, double Deviation)> Guesses()
    {
        var fitted = ClimbingRopes.Fitted(DefaultTime);
        var ratio = Points(DefaultTime, f => f.Ratio).Middle;
        var stiffness = Sample.GeometricMean(fitted.Select(f => f.InAJerk));
        var share = Points(DefaultTime, f => f.Share).Middle;
        (string What, double Mean, double Deviation) Of(string what, Func<ClimbingRope, double> force)
        {
            double[] off = [.. fitted.AsParallel().AsOrdered().Select(f => force(f.Rope) / f.Rope.ImpactForce)];
            return (what, Sample.GeometricMean(off) - 1, Sample.LogDeviation(off));
        }

        static double Peak(double lasting, double relaxing) => ClimbingRopes.Fall(lasting, relaxing, DefaultTime).Peak.T1;
        return
        [
            Of($"EA from its own static stretch, ratio {N(ratio, 1)} for all", r => Peak(r.Lasting, ratio * r.Lasting)),
            Of($"EA from its own static stretch, EA + E_m = {N(stiffness / 1000, 1)} kN for all", r => Peak(r.Lasting, Math.Max(0, stiffness - r.Lasting))),
            Of($"EA + E_m = {N(stiffness / 1000, 1)} kN and its share for all: one rope", _ => Peak((1 - share) * stiffness, share * stiffness)),
        ];
    }

    public static string Text()
    {
        var fitted = ClimbingRopes.Fitted(DefaultTime);
        var (low, middle, high) = Points(DefaultTime, f => f.Ratio);
        var standard = Default;
        double[] smallest = [.. fitted.Select(f => f.Ratio).Order()];
        var guesses = Guesses();
        var correlation = Sample.LogCorrelation(fitted.Select(f => f.Rope.Lasting), fitted.Select(f => f.Ratio));
        static string Verdict(string what, double has, double found)
        {
            var number = has.ToString("0.0#", CultureInfo.InvariantCulture);
            return Math.Abs(has - found) <= SameRatio ? $"{what} {number} is the one found ({N(found, 2)})" : $"**{what} {number} is not the one found ({N(found, 2)})**";
        }

        static string[] Row(double time)
        {
            var all = ClimbingRopes.Fitted(time);
            var (ratio, share) = (Points(time, f => f.Ratio), Points(time, f => f.Share));
            return
            [
                N(time, 1), N(Sample.GeometricMean(all.Select(f => f.InAJerk)) / 1000, 1), N(Sample.LogDeviation(all.Select(f => f.InAJerk)), 2),
                $"{N(share.Middle, 2)} ({N(share.Low, 2)} to {N(share.High, 2)})", $"{N(ratio.Middle, 2)} ({N(ratio.Low, 2)} to {N(ratio.High, 2)})",
                Change(Sample.GeometricMean(all.Select(f => f.StretchOverDeclared)) - 1), Percent(Sample.LogDeviation(all.Select(f => f.StretchOverDeclared))),
            ];
        }

        return FormattableString.Invariant($"""
            ## How stiff a rope is in a jerk: the standard fall of {fitted.Count} climbing ropes

            Makers declare impact force, static stretch under 80 kg and dynamic stretch of climbing ropes (EN 892: 80 kg fall 4.8 m on 2.8 m of rope, 0.3 m of it behind the edge; ratio 1/0.66 there, secondary).
            The model's own law is run through that fall. EA follows from the static stretch. The relaxing part E_m is what the impact force then asks for. The dynamic stretch is not used: it is predicted.

            {Table(["relaxation time, s", "EA + E_m, kN", "its ln sd", "E_m / (EA + E_m): middle (5 to 95 %)", "ratio E_m / EA: middle (5 to 95 %)", "dynamic stretch against declared", "its sd"], [Row(0.1), Row(0.3), Row(1)])}
            * **The relaxing ratio.** {Verdict("The default", standard.Value, middle)}. {Verdict("Its low end", standard.Low, low)}. {Verdict("Its high end", standard.High, high)}. The forces were fitted, so this is a fit and no test. The tails are thin: the fifth and the sixth smallest ratio of {fitted.Count} are {N(smallest[4], 2)} and {N(smallest[5], 2)}.
            * **The relaxation time.** Impact forces alone cannot tell it. The dynamic stretch is nearest at {N(Nearest(), 1)} s. {(Math.Abs(Nearest() - DefaultTime) < 1e-9 ? "*Reproduced in part* by the default of 0.3 s, a few per cent off" : "*Contradicted*: the default is 0.3 s")}. Makers differ in how they read a stretch.
            * **What ropes have in common.** EA and the ratio move against each other: correlation of their logarithms {N(correlation, 2)}. So the program draws EA + E_m and its share.

            How well one number for every rope serves, by the error of the impact force:

            {Table(["taken", "mean error", "sd"], guesses.Select(g => new[] { g.What, Signed(g.Mean), N(100 * g.Deviation, 1) + " %" }))}
            {(guesses[1].Deviation < guesses[0].Deviation ? "One stiffness in a jerk serves better than one ratio" : "One ratio serves better than one stiffness in a jerk")}. {(guesses[2].Deviation <= guesses[0].Deviation ? "Even one rope for all serves better than a ratio: the static stretch says next to nothing about the impact force" : "The static stretch does help")}.

            Nylon only. Polyester rigging rope is stiffer and gets the same ratio by judgement.

            Source: values declared for 101 climbing ropes of a 2011 catalogue (data set `ropes` of the R package plsdepot; whole table read: P; the fits: D). Two ropes below 9.1 mm are left out. Makers' names are left out.
            """);
    }

    private static double Nearest() => new[] { 0.1, 0.3, 1 }.MinBy(t => Math.Abs(Math.Log(Sample.GeometricMean(ClimbingRopes.Fitted(t).Select(f => f.StretchOverDeclared)))));

    private static string Signed(double share) => Math.Abs(share) < 0.005 ? "0 %" : Change(share);

    private static double Parsed(string text) =>
        QuantityParser.TryParse(text, QuantityKind.Number, out double value, out string problem) ? value : throw new InvalidOperationException(problem);
}
