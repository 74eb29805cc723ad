using DropSim.Reporting.Charts;
using static DropSim.Validation.Measured.Words;

namespace DropSim.Validation.Measured;

/// <summary>The page's sections on rope: the measured fall, the standard falls, the bench.</summary>
internal static class RopeSections
{
    private const double Kilo = 1e-3;

    private static readonly RopeTrace s_fall = RopeFall.Run(1, 0.5, false);
    private static readonly RopeTrace s_standard = StandardFall.Run();

    /// <summary>Traces of the measured fall, with the readings of the measured peaks.</summary>
    public static Figure FallFigure()
    {
        var rows = s_fall.Rows.Where(r => r.T1 > 0).ToArray();
        double[] time = [.. rows.Select(r => r.Time)];
        var peak = s_fall.Peak;
        (string Name, Func<(double Time, double T1, double T2, double Travel), double> Of, Reading Read, Stroke Stroke, string Text)[] lines =
        [
            ("deflection point", r => r.T1 + r.T2, RopeFall.AtDeflection, new(Palette.RiggingPoint, 3.4), Palette.Ink),
            ("faller's side", r => r.T1, RopeFall.AtFaller, new(Palette.LoadLeg, 2.8), Palette.LoadLeg),
            ("belayer's side", r => r.T2, RopeFall.AtBelayer, new(Palette.GroundLeg, 2.8, Dash.Long), Palette.GroundLegText),
        ];
        return new Figure
        {
            FileName = "rope-fall.png",
            Title = $"Measured rope fall: {Kn(peak.T1 + peak.T2)} at the deflection point, {Kn(RopeFall.AtDeflection.Low)} to {Kn(RopeFall.AtDeflection.High)} read off the measured curve",
            Subtitle = "82 kg at 9.185 m/s onto 6.95 + 3.40 m of climbing rope over a deflection point (ratio 1.46). Boxes: readings of the measured peaks.",
            Footer = Footer,
            Panels =
            [
                new Panel
                {
                    X = new Axis("Time from the rope's tightening", "s", 0, 0.5, 0.1),
                    Y = new Axis("Force", "kN", 0, 9, 1),
                    Curves = [.. lines.Select(l => new Curve(l.Name, time, [.. rows.Select(r => l.Of(r) * Kilo)], l.Stroke))],
                    Shapes = [.. lines.Select(l => new Shape(l.Name, Box(peak.Time - 0.02, peak.Time + 0.02, l.Read.Low * Kilo, l.Read.High * Kilo), "#55" + l.Stroke.Colour[1..], new Stroke(l.Stroke.Colour, 1.5)))],
                    Labels = [.. lines.Select(l => new Label($"{l.Name}: {N(l.Of(peak) * Kilo, 2)} kN computed, {Band(l.Read)} measured", peak.Time, l.Of(peak) * Kilo, l.Text, Toward.UpRight))],
                },
            ],
        };
    }

    public static string Fall()
    {
        var peak = s_fall.Peak;
        static string[] Row(string what, double got, Reading read) =>
            [what, Band(read), N(got * Kilo, 2), read.Outside(got) == 0 ? "inside" : Change1(read.Outside(got)) + " outside"];
        var low = s_fall.Rows.Where(r => r.T1 > 500).Min(r => r.T1 / r.T2);
        return $"""
            ## A measured rope fall over a deflection point with friction

            {Picture(FallFigure())}
            82 kg met a climbing rope at 9.185 m/s; 3.40 m of it on the faller's side, 6.95 m on the belayer's, over a deflection point (U. Leuthaeusser
            2012, p. 24, measurement of German Alpine Club safety research). The source fits the rope's three constants and the ratio 1.46 to this
            measurement, so the peaks test the *form* of the laws (rope, friction, and the two together), not their constants. Computed with the
            program's own rope law, friction network and engine; the geometry is the experiment's.

            {Table(["peak", "measured, kN", "computed, kN", "computed lies"],
            [
                Row("faller's side", peak.T1, RopeFall.AtFaller), Row("belayer's side", peak.T2, RopeFall.AtBelayer), Row("deflection point, their sum", peak.T1 + peak.T2, RopeFall.AtDeflection),
            ])}
            Each leg is within half a reading (0.05 kN) of its band; their sum is {N(-100 * RopeFall.AtDeflection.Outside(peak.T1 + peak.T2), 1)} % below its band. The difference is finite strain: the source takes strains as small, here rope that slips over at 14 % of strain stretches on; at a thousandth of the
            load the program gives the source's linear forces to 0.2 % (test `At_small_strain_...`).

            After the mass has turned round the ratio of the tensions was seen to flip from 1.46 to 1 / 1.46 = {N(1 / RopeFall.Ratio, 3)}; computed: {N(peak.T1 / peak.T2, 2)} at the peak, {N(low, 3)} at the least after it.

            Source: U. Leuthaeusser (2012), Physics of climbing ropes, part 3: first page read (A); p. 24 through a page-referenced digest (A, secondary). No time trace of the measurement could be
            read, only its peaks. Grade of the comparison: one fall, nylon, laboratory.
            """;
    }

    /// <summary>Force over time of the standard fall, with the limit.</summary>
    public static Figure StandardFigure()
    {
        var rows = s_standard.Rows;
        double[] time = [.. rows.Select(r => r.Time)];
        var peak = s_standard.Peak;
        return new Figure
        {
            FileName = "standard-fall.png",
            Title = $"Standard fall of climbing ropes: {Kn(peak.T1)} and {Percent(s_standard.Travel / StandardFall.Length)} of stretch, with the rope of another experiment",
            Subtitle = "80 kg, 4.6 m of fall on 2.6 m of rope over an edge (ratio 1.52). The rope's constants come from the measured fall above, nothing is fitted here.",
            Footer = Footer,
            Panels =
            [
                new Panel
                {
                    Place = new Place(0, 0, 1, 0.6),
                    X = new Axis("Time from the rope's tightening", "s", 0, 0.16, 0.04, false),
                    Y = new Axis("Force on the mass", "kN", 0, 14, 2),
                    Curves = [new Curve("rope", time, [.. rows.Select(r => r.T1 * Kilo)], new Stroke(Palette.LoadLeg, 3.4))],
                    Levels = [new Level(StandardFall.MostForce * Kilo, "12 kN: largest that EN 892 accepts", new Stroke(Palette.Quiet, 2, Dash.DashDot))],
                    Labels = [new Label($"{Kn(peak.T1)} at {N(peak.Time, 2)} s", peak.Time, peak.T1 * Kilo, Palette.LoadLeg, Toward.Up, true)],
                },
                new Panel
                {
                    Place = new Place(0, 0.6, 1, 0.4),
                    X = new Axis("Time from the rope's tightening", "s", 0, 0.16, 0.04),
                    Y = new Axis("Stretch", "%", 0, 50, 10),
                    Shapes = [new Shape("seen", Box(0, 0.16, 100 * StandardFall.Elongation.Low, 100 * StandardFall.Elongation.High), "#55" + Palette.Piece[1..], new Stroke(Palette.Piece, 1))],
                    Curves = [new Curve("stretch", time, [.. rows.Select(r => 100 * r.Travel / StandardFall.Length)], new Stroke(Palette.Piece, 3.4, Dash.Long))],
                    Levels = [new Level(100 * StandardFall.MostElongation, "40 %: largest that EN 892 accepts", new Stroke(Palette.Quiet, 2, Dash.DashDot))],
                    Texts = [new Text("modern ropes: 28 to 35 %", 0.0055, 31.5, Palette.PieceText, Grip.Left)],
                },
            ],
        };
    }

    public static string Standard()
    {
        var peak = s_standard.Peak;
        var stretch = s_standard.Travel / StandardFall.Length;
        var weight = StandardFall.Mass * 9.81;
        var ratio = ClimbingRopeSection.Default;
        static string Inside(bool inside) => inside ? "inside" : "outside";
        return $"""
            ## The standard fall of climbing ropes

            {Picture(StandardFigure())}
            The standard fall is a negative-rigging drop in the laboratory: a mass above the deflection point, a short rope, fall factor 1.77. The rope's constants are those
            of the measured fall above, so this is a prediction for the kind of rope, not for one rope.

            {Table(["quantity", "published", "computed", "computed lies"],
            [
                ["peak force, kN", "at most 12 (EN 892:2004, summary read: P)", N(peak.T1 * Kilo, 1), Inside(peak.T1 <= StandardFall.MostForce)],
                ["stretch at the peak of travel, %", "at most 40 (the same: P); modern ropes 28 to 35 (secondary)", N(100 * stretch, 0), Inside(StandardFall.Elongation.Outside(stretch) == 0)],
                ["stretch under 80 kg hung still, %", "at most 10 (the same: P)", N(100 * StandardFall.StaticElongation, 1), Inside(StandardFall.StaticElongation <= 0.10)],
                ["peak force over static weight", "about 10 (Leuthaeusser p. 5, digest: A)", N(peak.T1 / weight, 1), "about the same"],
                ["peak stretch over static stretch", "about 4 (the same: A)", N(stretch / StandardFall.StaticElongation, 1), "higher: ratio 1.52 at the edge leaves more to the free leg"],
            ])}
            The two last rows are what a spring without a relaxing branch cannot do: straight springs give equal ratios. For polyester rigging rope nothing published was found.

            Low-stretch ropes (EN 1891 type A: at most 5 % between 50 and 150 kg, at most 6 kN for 100 kg at fall factor 0.3; secondary): by the impact formula a rope that just keeps both has
            a fast stiffness of at most {N(StandardFall.LowStretchDynamicRatio, 1)} times its static one. At once the program's default gives {N(1 + ratio.Value, 1)} times ({N(1 + ratio.Low, 1)} to {N(1 + ratio.High, 1)}), less at the peak:
            {(1 + ratio.Value > StandardFall.LowStretchDynamicRatio ? "for such a rope the default errs toward the larger force" : "for such a rope the default errs toward the smaller force")}.
            """;
    }

    /// <summary>Raising, predicted from lowering, against measured.</summary>
    public static Figure BenchFigure()
    {
        var rows = BenchFriction.Rows;
        var (mean, _) = BenchFriction.Error;
        return new Figure
        {
            FileName = "bench-friction.png",
            Title = $"Friction fitted on lowering predicts raising {Percent(mean)} too high on average: one coefficient does not do both",
            Subtitle = "75 kg over 14 round hosts, pulled up and let down slowly (R. Delaney 2022, pp. 82, 88). On the line the capstan law would be exact.",
            Footer = Footer,
            Panels =
            [
                new Panel
                {
                    X = new Axis("Pull to raise, predicted from lowering", "kgf", 0, 400, 50),
                    Y = new Axis("Pull to raise, measured", "kgf", 0, 250, 50),
                    Curves = [new Curve("exact", [75, 250], [75, 250], new Stroke(Palette.Quiet, 2, Dash.DashDot))],
                    Dots = [.. rows.Select(r => new Dot(r.Host, r.PredictedRaise, r.Raise, r.Metal ? Palette.LoadLeg : Palette.GroundLeg, 7, !r.Metal))],
                    Labels =
                    [
                        .. rows.Where(r => !r.Metal || r.Host is "10 mm steel" or "12 mm steel").Select(r => new Label(r.Host, r.PredictedRaise, r.Raise, r.Metal ? Palette.LoadLeg : Palette.GroundLegText, Toward.Up)),
                        new Label("other metal hosts", 152, 125, Palette.LoadLeg, Toward.DownRight),
                        new Label("as predicted", 225, 225, Palette.Quiet, Toward.UpLeft),
                    ],
                },
            ],
        };
    }

    public static string Bench()
    {
        var (mean, rms) = BenchFriction.Error;
        var metal = BenchFriction.Spread(r => r.Metal);
        double[] lowering = [.. BenchFriction.Rows.Where(r => r.Metal).Select(r => r.FromLowering)];
        var device = Drops.Shipped("medium-log", "base-let-run").Ranges.Single(r => r.Key == "device.friction");
        var above = lowering.Count(m => m > device.High);
        static double Hold(double mu) => Math.Exp(2 * Math.PI * 3 * mu);
        return $"""
            ## Friction on the bench: fitted on lowering, asked for raising

            {Picture(BenchFigure())}
            {Table(["host", "wrap, deg", "raise, kgf", "lower, kgf", "mu, lowering", "mu, raising", "raise predicted from lowering, kgf", "off by"],
            BenchFriction.Rows.Select(r => new[]
            {
                r.Host, N(r.WrapDegrees, 0), N(r.Raise, 0), N(r.Lower, 0), N(r.FromLowering, 2), N(r.FromRaising, 2), N(r.PredictedRaise, 0), Change((r.PredictedRaise / r.Raise) - 1),
            }))}
            Every host rubs more in lowering than in raising. A coefficient fitted on lowering is {Percent(mean)} too high for raising on average, {Percent(rms)} r.m.s. The capstan law serves one host, one
            direction and one angle; it does not carry from one to the other (aluminium both ways: {N(BenchFriction.Rows[0].BothWays, 2)} over a quarter turn, {N(BenchFriction.Rows[1].BothWays, 2)} over a half).

            Metal hosts spread from {N(metal.Low, 2)} to {N(metal.High, 2)}, both ways together: at three turns a hold ratio of {N(Hold(metal.Low), 0)} to {N(Hold(metal.High), 0)} (D). A drop is lowering, and lowering alone gives {N(lowering.Min(), 2)} to {N(lowering.Max(), 2)} on metal, {N(lowering.Average(), 2)} on average.
            The program's default for the device is {N(device.Central, 2)} ({N(device.Low, 2)} to {N(device.High, 2)}): {above} of {lowering.Length} rows lie above that range, {lowering.Count(m => m < device.Low)} below. {(device.Central < lowering.Average() ? "The default rubs less than this bench on average, so a let run is told a little long" : "The default rubs more than this bench on average, so a let run is told a little short")}.
            What the hand must hold and how much rope runs are known to an order of magnitude, not to a digit, until a hold test is done on the very rope, point and device, letting the load creep down.

            Source: R. Delaney (2022), Physics for Roping Technicians, pp. 82, 88: table read (P).
            """;
    }

    private static string Band(Reading read) => N(read.Low * Kilo, 2) + " to " + N(read.High * Kilo, 2);

    private static string Change1(double share) => (share < 0 ? "-" : "+") + N(100 * Math.Abs(share), 1) + " %";

    private static (double X, double Y)[] Box(double left, double right, double bottom, double top) =>
        [(left, bottom), (right, bottom), (right, top), (left, top)];
}
